package testsheet

import (
	"cmp"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/loading/unit"
)

// There is a strip for each dowel and size that can be, and none other: at 600
// dpi squares of 7 and 8 dots cannot be widened for 6 mm, since 21 of them would
// reach 75 degrees round it and more. Sizes are the whole dots at or below 8, 7
// and 6 of 600.
func TestSizes(t *testing.T) {
	for dpi, want := range map[float64]string{600: "8 7 6 8f 7f 6f", 300: "4 3 4f 3f", 1200: "16 14 12 16f 14f 12f", 0: ""} {
		var names, on6 []string
		for _, z := range Sizes(dpi) {
			names = append(names, z.Name())
			if z.On(6, unit.MillimetresPerInch/dpi) {
				on6 = append(on6, z.Name())
			}
			if !z.On(8, unit.MillimetresPerInch/dpi) {
				t.Errorf("%v dpi: no %s on 8 mm", dpi, z.Name())
			}
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("%v dpi: %s, want %s", dpi, got, want)
		}
		if got := strings.Join(on6, " "); dpi == 600 && got != "8 7 6 6f" {
			t.Errorf("on 6 mm: %s", got)
		}
	}
}

// found is a strip as it lies on a page.
type found struct {
	box  geom.Rect // of the strip
	code geom.Path
}

// strips pairs the cut lines of pages with the codes within them, and holds that
// every corner of a code lies on the printer's dots.
func strips(t *testing.T, s Spec, sheets []*draw.Sheet) (out []found) {
	t.Helper()
	for _, one := range sheets {
		first := len(out)
		draw.Walk(one.Layers[draw.Cut], func(o draw.Op, at geom.Affine, _ bool) {
			out = append(out, found{box: o.(*draw.Stroke).Path.Transform(at).Bounds()})
		})
		draw.Walk(one.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
			path := o.(*draw.Fill).Path.Transform(at)
			for _, seg := range path {
				q := seg.P[0]
				if x, y := q.X/s.Printer.Dot(), q.Y/s.Printer.Dot(); seg.Verb != geom.Close && (!rigid || math.Abs(x-math.Round(x)) > 1e-6 || math.Abs(y-math.Round(y)) > 1e-6) {
					t.Fatalf("a corner lies at dots %v, %v", x, y)
				}
			}
			n := 0
			for i := first; i < len(out); i++ {
				if out[i].box.Contains(path.Bounds()) {
					out[i].code = path
					n++
				}
			}
			if n != 1 {
				t.Errorf("a code in %v lies on %d strips", path.Bounds(), n)
			}
		})
	}
	return out
}

// picture is a code as a phone sees it that looks straight at its dowel of
// diameter d, or flat where d is infinite. Ink spreads take dots of dot mm over
// both edges of what is dark, the odd one where Reduce takes it.
func picture(p geom.Path, d, dot float64, take int) image.Image {
	const points, air = 14.0, 2.0 // 3.6 points of a mm to the finest square
	b := p.Bounds()
	mid, r := (b.Min.X+b.Max.X)/2, d/2
	half := b.W() / 2
	if !math.IsInf(d, 1) {
		half = r * math.Sin(math.Min(half/r, math.Pi/2))
	}
	near, far := float64(take-take/2)*dot, float64(take/2)*dot
	out := image.NewGray(image.Rect(0, 0, int(points*2*(half+air)), int(points*(b.H()+2*air))))
	size := out.Bounds().Size()
	for y := range size.Y {
		at := b.Min.Y - air + (float64(y)+0.5)/points
		dark := darkRuns(p, at)
		if take > 0 {
			dark = append(append(dark, darkRuns(p, at+near)...), darkRuns(p, at-far)...)
		}
		for x := range size.X {
			u := (float64(x)+0.5)/points - half - air
			c := color.Gray{Y: 255}
			if !math.IsInf(d, 1) {
				if math.Abs(u) >= r {
					out.SetGray(x, y, color.Gray{Y: 30})
					continue
				}
				u = r * math.Asin(u/r)
			}
			for _, run := range dark {
				if u += mid; u >= run[0]-near && u < run[1]+far {
					c.Y = 0
				}
				u -= mid
			}
			out.SetGray(x, y, c)
		}
	}
	return out
}

// darkRuns is where a path of level and upright edges is dark at height y, by
// counting windings.
func darkRuns(p geom.Path, y float64) (runs [][2]float64) {
	type crossing struct {
		x    float64
		turn int
	}
	var all []crossing
	var start, here geom.Point
	for _, s := range p {
		to := s.P[0]
		switch s.Verb {
		case geom.Move:
			start, here = to, to
			continue
		case geom.Close:
			to = start
		}
		if (here.Y <= y) != (to.Y <= y) {
			turn := 1
			if to.Y < here.Y {
				turn = -1
			}
			all = append(all, crossing{here.X, turn})
		}
		here = to
	}
	slices.SortFunc(all, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
	n := 0
	for i, c := range all {
		if n != 0 {
			runs = append(runs, [2]float64{all[i-1].x, c.x})
		}
		n += c.turn
	}
	return runs
}

// Every strip is long enough for the dowel it names and its code, read as it
// looks from the front of that dowel, says the very size, dowel and kind that are
// printed beside it. Plain codes on the thinnest dowels may be unreadable, which
// is what the sheet is for; they are read flat.
func TestStripsSayWhatTheyAre(t *testing.T) {
	dpis := []float64{300, 600, 1200}
	if testing.Short() {
		dpis = dpis[1:2]
	}
	for _, dpi := range dpis {
		for i, s := range []Spec{spec(t, "a4-paper"), office(spec(t, "a4-paper"))} {
			s.Printer.DPI = dpi
			s.Printer.Gain = float64(i) * 0.75 * s.Printer.Dot() // two dots off, or none
			sheets, err := CodeSize(s)
			if err != nil || len(sheets) != 1+i {
				t.Fatalf("%d sheets, %v", len(sheets), err)
			}
			takes := []int{s.Printer.Reduction(), 0}[:1+i]
			all := strips(t, s, sheets)
			for page, take := range takes {
				for _, d := range Dowels() {
					for _, z := range Sizes(dpi) {
						if !z.On(d, s.Printer.Dot()) {
							continue
						}
						if len(all) == 0 {
							t.Fatal("too few strips")
						}
						one := all[0]
						all = all[1:]
						if one.box.W() < math.Pi*float64(d)+stripLap-1e-9 {
							t.Errorf("a strip of %v mm does not go round %v mm", one.box.W(), d)
						}
						seen := math.Inf(1)
						if z.Front {
							seen = float64(d)
						}
						if dpi == 1200 && d != 10 || page == 1 { // the same codes, finer or of another printer
							continue
						}
						got, err := scan.QR(picture(one.code, seen, s.Printer.Dot(), take))
						if want := stripText(d, z, take); err != nil || got != want {
							t.Errorf("%v dpi: %q %v, want %q", dpi, got, err, want)
						}
					}
				}
			}
			if len(all) != 0 {
				t.Errorf("%d strips too many", len(all))
			}
		}
	}
}

// The text of every strip makes a code of the least size at level M, whatever
// the printer.
func TestStripTextsFit(t *testing.T) {
	for _, dpi := range []float64{300, 360, 600, 720, 1200, 2400, 9600} {
		for _, z := range Sizes(dpi) {
			for _, d := range append(Dowels(), unit.Millimetre(16)) {
				for _, take := range []int{0, 1, 2, 9, 10} {
					text := stripText(d, z, take)
					m, err := symbol.AtLevel(text, symbol.M)
					if err != nil || m.N != legible.TestSide {
						t.Errorf("%q: %d squares, %v", text, m.N, err)
					}
					if want := fmt.Sprint(" ", d, "MM"); !strings.Contains(text, strings.ReplaceAll(want, " MM", "MM")) {
						t.Errorf("%q does not name %v mm", text, d)
					}
				}
			}
		}
	}
}
