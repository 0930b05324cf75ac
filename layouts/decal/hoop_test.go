package decal

import (
	"math"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// A line round a cone against the closed form: the middle of glyph i stands at
// the angle (x_i + w_i/2 - W/2)/rho_m on the baseline's arc rho_b, where rho_m is
// the arc at mid cap height, rho_b - h/2 with the apex above and rho_b + h/2 with
// it below; tops lean together with the apex above and apart with it below. So
// two letters stand just as far apart at mid cap height as they would on a
// straight line, whatever the cone.
func TestHoopTextIsSpacedAtMidCapHeight(t *testing.T) {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	const cap, s, text = 2.5, 3.0, "12,5 g AVON"
	font := typeset.Bold(set, cap)
	line, err := typeset.Shape(text, font)
	if err != nil {
		t.Fatal(err)
	}
	for _, degrees := range []float64{3, 10, 20, 35} {
		for _, up := range []bool{true, false} {
			// From a radius of 9 mm at the foot with the apex above, or 6 below.
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			const long = 8.0 // of slant
			r0, r1 := 9.0, 9-long*sin
			if !up {
				r0, r1 = 6, 6+long*sin
			}
			p, err := body.New([]body.Station{{Z: 0, D: unit.Millimetre(2 * r0)}, {Z: unit.Millimetre(long * cos), D: unit.Millimetre(2 * r1)}})
			if err != nil {
				t.Fatal(err)
			}
			f, err := wrap.Develop(p, 0, unit.Millimetre(long*cos), wrap.Film{}, wrap.Seam{})
			if err != nil {
				t.Fatal(err)
			}
			if f.ApexUp != up || f.Rect {
				t.Fatalf("%v degrees: apex up %v, rectangle %v", degrees, f.ApexUp, f.Rect)
			}
			side := 1.0 // of the apex above the baseline
			if !up {
				side = -1
			}
			rhoB := r0/sin - side*s
			rhoM := rhoB - side*cap/2
			apex := geom.Point{Y: -side * r0 / sin} // the origin is at the foot
			l := &layout{flat: f}
			em := cap / set.Bold.CapHeight()
			x, i, prev := 0.0, 0, fonts.GlyphID(0)
			for _, op := range line.Along(l.hoopFrame(0, s, cap), centre, ink) {
				for _, g := range op.(*draw.Glyphs).Run {
					if i++; i > 1 {
						x += em * set.Bold.Kern(prev, g.ID)
					}
					w := em * set.Bold.Advance(g.ID)
					alpha := (x + w/2 - line.Width/2) / rhoM
					want := apex.Add(geom.Point{X: rhoB * math.Sin(alpha), Y: side * rhoB * math.Cos(alpha)})
					if got := g.At.Apply(geom.Point{X: w / em / 2}); got.Sub(want).Len() > 1e-9 {
						t.Errorf("%v degrees, apex up %v: glyph %d at %v, want %v", degrees, up, i, got, want)
					}
					turn := math.Atan2(g.At.B, g.At.A) // clockwise on the page
					if want := -side * alpha; math.Abs(turn-want) > 1e-9 {
						t.Errorf("%v degrees, apex up %v: glyph %d is turned by %v, want %v", degrees, up, i, turn, want)
					}
					x, prev = x+w, g.ID
				}
			}
			if i != len([]rune(text)) {
				t.Fatalf("%d glyphs of %q", i, text)
			}
		}
	}
}
