package view

import (
	"bytes"
	"image"
	"math"
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
