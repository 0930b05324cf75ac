package view

import (
	"bytes"
	"image"
	"math"
	"math/rand/v2"
	"testing"
)

// The picture is, byte for byte, the one that comes from its rows drawn one after
// another, whichever way the float lies and is tipped.
func TestRenderRows(t *testing.T) {
	s := marked(t)
	for _, c := range []Camera{{Width: 301, Height: 97}, {Width: 97, Height: 301, Upright: true, Tip: 0.3}, {Width: 200, Height: 90, From: 70, To: 112}} {
		p, err := s.Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, turn := range []float64{0, 1, 2.5, -3} {
			got := p.Render(turn)
			want := image.NewRGBA(got.Rect)
			row := make([]seen, p.across)
			var buf []span
			for i := range p.along {
				buf = p.row(want, i, math.Remainder(turn, 2*math.Pi), row, buf)
			}
			if !bytes.Equal(got.Pix, want.Pix) {
				t.Errorf("%+v turned by %g: the picture depends on how its rows are drawn", c, turn)
			}
		}
	}
}

// The quick remainder is the general one.
func TestAround(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	for range 100000 {
		a := (2*r.Float64() - 1) * 2 * math.Pi
		if got, want := around(a), math.Remainder(a, 2*math.Pi); math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%v comes to %v, not %v", a, got, want)
		}
	}
	for _, a := range []float64{0, math.Pi, -math.Pi, math.Nextafter(math.Pi, 4), -math.Nextafter(math.Pi, 4), 2 * math.Pi, -2 * math.Pi, 3 * math.Pi / 2} {
		if got, want := around(a), math.Remainder(a, 2*math.Pi); got != want {
			t.Errorf("%v comes to %v, not %v", a, got, want)
		}
	}
}
