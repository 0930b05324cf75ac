package wrap

import (
	"math"
	"testing"

	"floatmark/layouts/geom"
	"pgregory.net/rapid"
)

// There and back, both ways, on straight and curved bands, whole and part.
func TestPlaceUndoesAt(t *testing.T) {
	og, ball := ogive(t), ellipsoid(t, 8, 8)
	rapid.Check(t, func(t *rapid.T) {
		var f Flat
		switch rapid.IntRange(0, 3).Draw(t, "body") {
		case 0:
			f, _, _, _ = genFrustum(t)
		case 1:
			f = develop(t, og, rapid.Float64Range(5, 12).Draw(t, "from"), 25, Film{0.02}, Seam{1})
		case 2:
			f = develop(t, ball, rapid.Float64Range(1, 6).Draw(t, "from"), 7, Film{}, Seam{0.5}) // apex below, blunt
		case 3:
			var err error
			if f, err = DevelopPart(og, 10, 20, Film{}, 100); err != nil {
				t.Fatal(err)
			}
		}
		theta := rapid.Float64Range(f.Left(), f.Right()).Draw(t, "theta")
		s := rapid.Float64Range(0, 1).Draw(t, "s") * f.Slant
		q := f.At(theta, s)
		gotTheta, gotS := f.Place(q)
		if math.Abs(gotTheta-theta) > 1e-9 || math.Abs(gotS-s) > 1e-9 {
			t.Fatalf("(%v, %v) lies at %v and came back as (%v, %v)", theta, s, q, gotTheta, gotS)
		}
		if back := f.At(gotTheta, gotS); back.Sub(q).Len() > 1e-9 {
			t.Fatalf("%v came back as %v", q, back)
		}
	})
}

func TestPlaceAtTheFoot(t *testing.T) {
	for _, f := range []Flat{
		develop(t, frustum(t, 8, 8, 15), 0, 15, Film{}, Seam{}),
		develop(t, frustum(t, 12, 8, 15), 0, 15, Film{}, Seam{}),
		develop(t, frustum(t, 8, 12, 15), 0, 15, Film{}, Seam{}),
	} {
		theta, s := f.Place(geom.Point{})
		near(t, "theta", theta, 0, 0)
		near(t, "s", s, 0, 0)
	}
	// The apex of a whole cone belongs to every meridian.
	f := develop(t, frustum(t, 8, 0, 15), 0, 15, Film{}, Seam{})
	theta, s := f.Place(geom.Point{Y: -f.RhoFrom})
	near(t, "theta of the apex", theta, 0, 0)
	near(t, "slant to the apex", s, f.Slant, 1e-9)
}
