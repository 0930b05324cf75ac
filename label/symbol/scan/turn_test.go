package scan

import (
	"context"
	"image"
	"math"
	"testing"

	"floatmark/label/symbol"
)

// drawn is a clean code of k points to a square, turned so many quarters.
func drawn(m symbol.Matrix, k, quarters int) *image.Gray {
	const quiet = 4
	n := (m.N + 2*quiet) * k
	g := image.NewGray(image.Rect(0, 0, n, n))
	for i := range g.Pix {
		g.Pix[i] = 0xff
	}
	for y := range m.N * k {
		for x := range m.N * k {
			if m.Dark(x/k, y/k) {
				at := image.Pt(x+quiet*k, y+quiet*k)
				for range quarters {
					at = image.Pt(n-1-at.Y, at.X)
				}
				g.Pix[at.Y*g.Stride+at.X] = 0
			}
		}
	}
	return g
}

// A clean code is read in a photograph whichever side is up, at any size. The first
// ids are those whose codes the search for the corner squares goes astray on when
// they lie on their side, at 6, 8 and 11 points to a square.
func TestFourTurns(t *testing.T) {
	missed := 0
	for _, id := range []string{"KEEY5K", "0J2EBZ", "5AMVTN", "9KYA3C", "JPPHHE"} {
		m, err := symbol.QR("HTTPS://F.EXAMPLE/" + id)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range []int{2, 3, 4, 6, 8, 11, 16} {
			for quarters := range 4 {
				g := drawn(m, k, quarters)
				if _, err := QR(g); err != nil {
					missed++
				}
				if texts, err := find(context.Background(), g); err != nil || len(texts) != 1 || texts[0] != m.Text {
					t.Errorf("%s, %d points to a square, turned %d quarters: %q %v", id, k, quarters, texts, err)
				}
			}
		}
	}
	t.Logf("at one glance %d of %d are missed", missed, 5*7*4)
}

// A code that is found in the picture on its side has its corners where they are in
// the picture as it is.
func TestTurnedCorners(t *testing.T) {
	m, err := symbol.QR("HTTPS://F.EXAMPLE/9KYA3C")
	if err != nil {
		t.Fatal(err)
	}
	code := drawn(m, 4, 0)
	g := image.NewGray(image.Rect(0, 0, 3*code.Rect.Dx(), 2*code.Rect.Dy()))
	for i := range g.Pix {
		g.Pix[i] = 0xff
	}
	for y := range code.Rect.Dy() {
		copy(g.Pix[(y+30)*g.Stride+50:], code.Pix[y*code.Stride:(y+1)*code.Stride])
	}
	l := level{halved(doubled(g)), 2}
	as, ok, err := l.read(context.Background(), l.grey.Rect)
	side, ok2, err2 := l.readTurned(context.Background())
	if !ok || !ok2 || err != nil || err2 != nil || as.text != m.Text || side.text != m.Text || len(as.corners) != 3 || len(side.corners) != 3 {
		t.Fatalf("%+v %v, turned %+v %v", as, err, side, err2)
	}
	for _, c := range side.corners {
		const near = 4.0 // points of the whole: half a square
		ok := false
		for _, d := range as.corners {
			ok = ok || math.Hypot(c.x-d.x, c.y-d.y) < near
		}
		if !ok {
			t.Errorf("a corner at %g, %g, not at one of %+v", c.x, c.y, as.corners)
		}
	}
}
