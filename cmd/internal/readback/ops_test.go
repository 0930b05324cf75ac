package readback

import (
	"math"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/png"
	"floatmark/layouts/typeset"
)

// opSheet is 3 x 4 inches, opDPI four pixels to a point: whole pixels, so that
// PDFium has nothing to stretch.
var opSheet = geom.Size{W: 76.2, H: 101.6}

const opDPI = 288

// writers are the ways from a sheet to a picture; a new writer gets a line here.
var writers = []struct {
	name string
	draw func(testing.TB, *draw.Sheet, int) picture
}{
	{"pdf", func(t testing.TB, s *draw.Sheet, dpi int) picture { return writeAndOpen(t, s).render(0, dpi) }},
	{"png", func(t testing.TB, s *draw.Sheet, dpi int) picture {
		img, err := png.Render(s, float64(dpi))
		if err != nil {
			t.Fatal(err)
		}
		return scaled(img, s.Size)
	}},
}

var red = draw.Ink{R: 200, G: 16, B: 32}

// probe is a place in mm and the ink that must be there.
type probe struct {
	x, y float64
	ink  draw.Ink
}

// opCases has every op; a fifth op gets a line here.
func opCases(t testing.TB) []struct {
	name   string
	ops    []draw.Op
	probes []probe
} {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	line := func(text string, cap float64) typeset.Line {
		l, err := typeset.Shape(text, typeset.Bold(set, cap))
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	hole := geom.Rectangle(geom.XYWH(10, 10, 20, 20))
	// The other way round: the non-zero rule leaves it open.
	hole = append(hole, geom.Polygon(geom.Point{X: 15, Y: 15}, geom.Point{X: 15, Y: 25}, geom.Point{X: 25, Y: 25}, geom.Point{X: 25, Y: 15})...)
	same := append(geom.Rectangle(geom.XYWH(10, 10, 20, 20)), geom.Rectangle(geom.XYWH(15, 15, 10, 10))...)
	corner := geom.Path{}
	corner.MoveTo(geom.Point{X: 10, Y: 40})
	corner.LineTo(geom.Point{X: 10, Y: 10})
	corner.LineTo(geom.Point{X: 40, Y: 10})
	// A capital I is a bar: its middle is ink, its cap height is known.
	bar := line("I", 20)
	arc := line("II", 10)
	centre := geom.Point{X: 38.1, Y: 50}
	round := func(x float64) geom.Affine { // baseline on a circle of 30 mm, tops outwards
		return geom.Translate(0, -30).Then(geom.Rotate(x / 30)).Then(geom.Translate(centre.X, centre.Y))
	}
	quarter := geom.Rotate(math.Pi / 2)
	square := []draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, 5, 10)), Ink: red}}
	return []struct {
		name   string
		ops    []draw.Op
		probes []probe
	}{
		{"fill with a hole", []draw.Op{&draw.Fill{Path: hole, Ink: red}},
			[]probe{{12, 12, red}, {28, 28, red}, {10.2, 29.8, red}, {16, 16, draw.White}, {24, 24, draw.White}, {31, 20, draw.White}}},
		{"fill of one direction has none", []draw.Op{&draw.Fill{Path: same, Ink: red}},
			[]probe{{12, 12, red}, {20, 20, red}}},
		{"curve", []draw.Op{&draw.Fill{Path: geom.Circle(geom.Point{X: 30, Y: 30}, 10), Ink: draw.Black}},
			[]probe{{30, 30, draw.Black}, {36.9, 36.9, draw.Black}, {37.3, 37.3, draw.White}, {20.2, 30, draw.Black}, {19.8, 30, draw.White}}},
		{"stroke, butt end and mitre", []draw.Op{&draw.Stroke{Path: corner, Ink: red, Width: 2}},
			[]probe{{9.2, 9.2, red}, {10.8, 30, red}, {9.2, 30, red}, {11.3, 30, draw.White}, {10, 39.8, red}, {10, 40.3, draw.White}, {39.8, 10, red}, {40.3, 10, draw.White}}},
		// The limit is ten widths, reached at 11.5 degrees: the mitre of 14 degrees
		// reaches 8.2 mm beyond the corner, 9 degrees are cut off.
		{"mitre under the limit", []draw.Op{&draw.Stroke{Path: spike(14), Ink: draw.Black, Width: 2}},
			[]probe{{22.5, 50, draw.Black}, {21, 50, draw.White}}},
		{"bevel over the limit", []draw.Op{&draw.Stroke{Path: spike(9), Ink: draw.Black, Width: 2}},
			[]probe{{29.5, 50, draw.White}, {31, 50, draw.Black}}},
		{"closed stroke", []draw.Op{&draw.Stroke{Path: geom.Rectangle(geom.XYWH(10, 10, 20, 20)), Ink: red, Width: 2}},
			[]probe{{9.2, 9.2, red}, {30.8, 9.2, red}, {9.2, 30.8, red}, {10, 20, red}, {20, 20, draw.White}}},
		{"dashes", []draw.Op{&draw.Stroke{Path: geom.LineBetween(geom.Point{X: 10, Y: 20}, geom.Point{X: 40, Y: 20}), Ink: draw.Black, Width: 1, Dash: []float64{4, 2}}},
			[]probe{{10.2, 20, draw.Black}, {13.8, 20, draw.Black}, {14.2, 20, draw.White}, {15.8, 20, draw.White}, {16.2, 20, draw.Black}, {39.7, 20, draw.White}}},
		{"odd dashes", []draw.Op{&draw.Stroke{Path: geom.LineBetween(geom.Point{X: 10, Y: 20}, geom.Point{X: 40, Y: 20}), Ink: draw.Black, Width: 1, Dash: []float64{3}}},
			[]probe{{11, 20, draw.Black}, {14, 20, draw.White}, {17, 20, draw.Black}, {20, 20, draw.White}}},
		{"dashes round a corner", []draw.Op{&draw.Stroke{Path: corner, Ink: draw.Black, Width: 1, Dash: []float64{28, 1, 5, 10}}},
			[]probe{{10, 13, draw.Black}, {10, 11.5, draw.White}, {9.7, 9.7, draw.Black}, {13.8, 10, draw.Black}, {14.2, 10, draw.White}}},
		{"glyphs, straight", bar.Straight(geom.Translate(38.1, 50), typeset.Centre, draw.Black),
			[]probe{{38.1, 49.8, draw.Black}, {38.1, 30.2, draw.Black}, {38.1, 50.3, draw.White}, {38.1, 29.7, draw.White}, {33, 40, draw.White}}},
		{"glyphs on an arc", arc.Along(round, typeset.Left, draw.Black),
			arcProbes(round, arc.Width)},
		// Accents, a fraction and letters with counters; the pictures are compared
		// as a whole below.
		{"words", line("Żół½ 8g Ax", 6).Straight(geom.Translate(10, 50), typeset.Left, red),
			[]probe{{10.2, 38, draw.White}, {9.8, 47, draw.White}}},
		{"group, nested, turned and scaled", []draw.Op{&draw.Group{At: geom.Translate(40, 20), Ops: []draw.Op{&draw.Group{At: geom.Scale(2, 2).Then(quarter), Ops: square}}}},
			// 5 x 10 becomes 10 x 20 and lies to the left of (40, 20).
			[]probe{{39.7, 20.3, red}, {20.3, 29.7, red}, {40.3, 20.3, draw.White}, {19.7, 29.7, draw.White}, {30, 30.3, draw.White}}},
		{"stroke and dash in a scaled group", []draw.Op{&draw.Group{At: geom.Scale(2, 2), Ops: []draw.Op{&draw.Stroke{Path: geom.LineBetween(geom.Point{X: 5, Y: 10}, geom.Point{X: 20, Y: 10}), Ink: draw.Black, Width: 1, Dash: []float64{2, 1}}}}},
			[]probe{{10.2, 19.2, draw.Black}, {13.8, 20.8, draw.Black}, {12, 21.2, draw.White}, {14.2, 20, draw.White}}},
		{"rigid group", []draw.Op{&draw.Group{Rigid: true, At: geom.Translate(10, 10), Ops: square}},
			[]probe{{10.2, 10.2, red}, {14.8, 19.8, red}, {15.3, 15, draw.White}}},
		{"off the sheet", []draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(-500, 90, 1000, 500)), Ink: red}},
			[]probe{{0.1, 90.2, red}, {76.1, 101.5, red}, {38, 89.8, draw.White}}},
	}
}

// spike is a corner of so many degrees at (30, 50), pointing left.
func spike(degrees float64) geom.Path {
	sin, cos := math.Sincos(degrees * math.Pi / 360)
	var p geom.Path
	p.MoveTo(geom.Point{X: 30 + 40*cos, Y: 50 + 40*sin})
	p.LineTo(geom.Point{X: 30, Y: 50})
	p.LineTo(geom.Point{X: 30 + 40*cos, Y: 50 - 40*sin})
	return p
}

// arcProbes looks at the middles of the two stems of "II".
func arcProbes(frame func(float64) geom.Affine, width float64) []probe {
	at := func(x, y float64, ink draw.Ink) probe {
		p := frame(x).Apply(geom.Point{Y: y})
		return probe{p.X, p.Y, ink}
	}
	return []probe{
		at(width/4, -5, draw.Black), at(3*width/4, -5, draw.Black), at(width/2, -5, draw.White),
		at(width/4, -9.7, draw.Black), at(width/4, -10.4, draw.White), at(width/4, 0.4, draw.White),
	}
}

// TestEveryOpInEveryWriter holds each writer to the same places of the same ops.
func TestEveryOpInEveryWriter(t *testing.T) {
	for _, c := range opCases(t) {
		for _, w := range writers {
			t.Run(c.name+"/"+w.name, func(t *testing.T) {
				s := &draw.Sheet{Name: c.name, Size: opSheet}
				s.Add(draw.Colour, c.ops...)
				got := w.draw(t, s, opDPI)
				for _, p := range c.probes {
					if ink := got.at(p.x, p.y); ink != p.ink {
						t.Errorf("at (%g, %g) mm: %s, want %s", p.x, p.y, ink, p.ink)
					}
				}
			})
		}
	}
}

// TestLayersInPaintingOrder adds the layers in the wrong order and expects the
// upper one on top.
func TestLayersInPaintingOrder(t *testing.T) {
	s := &draw.Sheet{Size: opSheet}
	s.Add(draw.Guide, &draw.Fill{Path: geom.Rectangle(geom.XYWH(10, 10, 5, 5)), Ink: draw.Black})
	s.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(10, 10, 20, 5)), Ink: red})
	s.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(10, 10, 40, 5)), Ink: draw.Ink{R: 255, G: 255}})
	for _, w := range writers {
		got := w.draw(t, s, opDPI)
		for _, p := range []probe{{12, 12, draw.Black}, {20, 12, red}, {40, 12, draw.Ink{R: 255, G: 255}}} {
			if ink := got.at(p.x, p.y); ink != p.ink {
				t.Errorf("%s: at (%g, %g) mm: %s, want %s", w.name, p.x, p.y, ink, p.ink)
			}
		}
	}
}

// TestWritersAgree compares each op's picture with the first writer's pixel by
// pixel. Edges may differ by a few greys, shapes may not: the differences are
// held against the ink there is.
func TestWritersAgree(t *testing.T) {
	const limit = 0.03 // of the ink; measured at most 0.014, on an upright rectangle: PDFium lays it on whole pixels
	for _, c := range opCases(t) {
		s := &draw.Sheet{Name: c.name, Size: opSheet}
		s.Add(draw.Colour, c.ops...)
		want := writers[0].draw(t, s, opDPI)
		for _, w := range writers[1:] {
			got := w.draw(t, s, opDPI)
			if got.Bounds() != want.Bounds() {
				t.Fatalf("%s: %v pixels, %s %v", w.name, got.Bounds(), writers[0].name, want.Bounds())
			}
			off, ink := 0.0, 0.0
			for i := range want.Pix {
				off += math.Abs(float64(want.Pix[i]) - float64(got.Pix[i]))
				ink += 255 - float64(want.Pix[i])
			}
			if ink == 0 || off > limit*ink {
				t.Errorf("%s: %s differs from %s by %.4f of the ink", c.name, w.name, writers[0].name, off/ink)
			}
		}
	}
}
