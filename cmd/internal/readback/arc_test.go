package readback

import (
	"fmt"
	"math"
	"testing"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/requests"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// letters returns the map of each letter's em square (y up) to the page in mm,
// y down, as PDFium sees the text objects. The characters of its text page do
// not tell: their words have a text of their own (ActualText), which PDFium
// spreads over the first letter.
func (f *pdfFile) letters(page int) []geom.Affine {
	f.t.Helper()
	toPage := geom.Scale(mmPerPoint, -mmPerPoint).Then(geom.Translate(0, f.size(page).H))
	var out []geom.Affine
	for _, o := range f.objects(page) {
		if o.kind != enums.FPDF_PAGEOBJ_TEXT {
			continue
		}
		size, err := pdfiumInstance.FPDFTextObj_GetFontSize(&requests.FPDFTextObj_GetFontSize{PageObject: o.ref})
		if err != nil {
			f.t.Fatal(err)
		}
		em := geom.Scale(float64(size.FontSize), float64(size.FontSize))
		out = append(out, em.Then(f.matrix(o.ref)).Then(o.at).Then(toPage))
	}
	return out
}

// A line round a cone, printed and read back: each letter stands on its parallel
// at the angle of the closed form, upright on the body, and all ink lies within
// the line's own zone, bottom to top and side to side, with the apex above and
// with it below.
func TestTextOnAnArc(t *testing.T) {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	const cap, s, long, text = 2.5, 3.0, 8.0, "8 AVON 12" // no descender, so that the zone is the capitals'
	const trueTo, degree = 0.02, math.Pi / 180            // mm; half a dot of 600 dpi
	line, err := typeset.Shape(text, typeset.Bold(set, cap))
	if err != nil {
		t.Fatal(err)
	}
	for _, half := range []float64{3, 10, 20} {
		for _, up := range []bool{true, false} {
			t.Run(fmt.Sprintf("%v degrees, apex up %v", half, up), func(t *testing.T) {
				sin, cos := math.Sincos(half * degree)
				side, r0, r1 := 1.0, 9.0, 9-long*sin // side: of the apex above the line
				if !up {
					side, r0, r1 = -1, 6, 6+long*sin
				}
				top := unit.Millimetre(long * cos)
				p, err := body.New([]body.Station{{Z: 0, D: unit.Millimetre(2 * r0)}, {Z: top, D: unit.Millimetre(2 * r1)}})
				if err != nil {
					t.Fatal(err)
				}
				flat, err := wrap.Develop(p, 0, top, wrap.Film{}, wrap.Seam{})
				if err != nil {
					t.Fatal(err)
				}
				frame := func(x float64) geom.Affine { return flat.Frame(flat.Angle(x, s+cap/2), s) }
				foot := geom.Point{X: 50, Y: 40} // where the centre meridian begins on the page
				sheet := &draw.Sheet{Name: "arc", Size: geom.Size{W: 100, H: 60}}
				sheet.Add(draw.Colour, &draw.Group{At: geom.Translate(foot.X, foot.Y), Ops: line.Along(frame, typeset.Centre, draw.Black)})
				f := writeAndOpen(t, sheet)
				if n := f.find(0, text); n != 1 {
					t.Errorf("%q is found %d times", text, n)
				}

				apex := foot.Add(geom.Point{Y: -side * r0 / sin})
				rhoB := r0/sin - side*s
				rhoM := rhoB - side*cap/2
				got := f.letters(0)
				if len(got) != len(text) {
					t.Fatalf("%d letters, want %d", len(got), len(text))
				}
				em := cap / set.Bold.CapHeight()
				x, prev := 0.0, fonts.GlyphID(0)
				for i, r := range text {
					id, _ := set.Bold.Glyph(r)
					if i > 0 {
						x += em * set.Bold.Kern(prev, id)
					}
					w := em * set.Bold.Advance(id)
					alpha := (x + w/2 - line.Width/2) / rhoM
					want := apex.Add(geom.Point{X: rhoB * math.Sin(alpha), Y: side * rhoB * math.Cos(alpha)})
					at := got[i].Apply(geom.Point{X: w / em / 2})
					if at.Sub(want).Len() > trueTo {
						t.Errorf("the middle of %q reads back at %v, want %v", r, at, want)
					}
					up := got[i].Apply(geom.Point{Y: 1}).Sub(got[i].Apply(geom.Point{}))
					// Towards the tip: to the apex above, away from it below.
					tip := apex.Sub(want).Scale(side)
					off := math.Atan2(up.X*tip.Y-up.Y*tip.X, up.X*tip.X+up.Y*tip.Y)
					if math.Abs(off) > 0.5*degree || math.Abs(up.Len()-em) > trueTo {
						t.Errorf("%q leans %.2f degrees off its meridian, %.3f mm per em, want %.3f", r, off/degree, up.Len(), em)
					}
					x, prev = x+w, id
				}

				// Letters are not bent: the ends of a wide one leave the arc by w²/8rho.
				const slack = 0.12 // mm, with 1.5 % of overshoot of round letters and a dot
				img := f.render(0, 600)
				low, high, left, right := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
				for py := range img.Bounds().Dy() {
					for px := range img.Bounds().Dx() {
						if img.RGBAAt(px, py).G > 128 {
							continue
						}
						q := geom.Point{X: (float64(px) + 0.5) / img.kx, Y: (float64(py) + 0.5) / img.ky}
						// The place by polar coordinates about the apex.
						d := q.Sub(apex)
						slant := side * (r0/sin - d.Len())
						along := math.Atan2(d.X, side*d.Y) * rhoM
						low, high = math.Min(low, slant), math.Max(high, slant)
						left, right = math.Min(left, along), math.Max(right, along)
					}
				}
				near := func(what string, got, least, most float64) {
					if !(got >= least && got <= most) {
						t.Errorf("the ink's %s is at %.3f mm, want %.3f to %.3f", what, got, least, most)
					}
				}
				near("foot", low, s-slack, s+slack)
				near("top", high, s+cap-slack, s+cap+slack)
				const bearing = 0.35 // mm of white beside a figure
				near("left end", left, -line.Width/2-slack, -line.Width/2+bearing)
				near("right end", right, line.Width/2-bearing, line.Width/2+slack)
			})
		}
	}
}
