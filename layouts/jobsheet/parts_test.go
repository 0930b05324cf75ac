package jobsheet

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
)

// near is a ten-thousandth of a millimetre.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-4 }

// strokes returns the strokes of a layer, as if each sheet lay far under the one
// before.
func strokes(sheets []*draw.Sheet, l draw.Layer, keep func(*draw.Stroke) bool) []geom.Path {
	var all []geom.Path
	for i, s := range sheets {
		draw.Walk(s.Layers[l], func(o draw.Op, at geom.Affine, _ bool) {
			if k, ok := o.(*draw.Stroke); ok && keep(k) {
				all = append(all, k.Path.Transform(at.Then(geom.Translate(0, float64(1000*i)))))
			}
		})
	}
	return all
}

// The numbers stand in the board's order, their middles one pitch apart on every
// strip, between cut lines that are whole pitches apart: a rule laid on the sheet
// reads what the board measures.
func TestStripPitch(t *testing.T) {
	for _, c := range []struct {
		n     int
		pitch float64
		per   int
	}{{26, 22, 8}, {3, 60, 3}, {7, 100, 1}, {200, 9, 20}} {
		s := batch(t, c.n)
		s.Board.Pitch = c.pitch
		sheets, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		var mids []geom.Point
		want := 1
		for _, sh := range sheets {
			draw.Walk(sh.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
				g, ok := o.(*draw.Glyphs)
				if !ok || g.Text != strconv.Itoa(want) || capOf(g, at) < 3.25 {
					return
				}
				box := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{g}}})
				mids = append(mids, geom.Point{X: (box.Min.X + box.Max.X) / 2, Y: box.Max.Y})
				want++
			})
		}
		if len(mids) != c.n {
			t.Fatalf("%d numbers of %d", len(mids), c.n)
		}
		for i := 1; i < c.n; i++ {
			if i%c.per == 0 {
				continue
			}
			// A figure's ink is not in the middle of its advance: half a millimetre
			// and less; wider numbers are set smaller, in the middle too.
			if d := mids[i].X - mids[i-1].X; math.Abs(d-c.pitch) > 0.5 || math.Abs(mids[i].Y-mids[i-1].Y) > 0.4 {
				t.Errorf("%d and %d are %v apart, want %v", i, i+1, d, c.pitch)
			}
		}
		long := 0
		for _, p := range strokes(sheets, draw.Cut, func(k *draw.Stroke) bool { return k.Width == cutWide }) {
			b := p.Bounds()
			if b.H() > 0 {
				continue
			}
			long++
			if n := b.W() / c.pitch; !near(n, math.Round(n)) || n > float64(c.per)+1e-6 {
				t.Errorf("a strip of %v mm is no whole number of %v", b.W(), c.pitch)
			}
		}
		if rows := (c.n + c.per - 1) / c.per; long != 2*rows {
			t.Errorf("%d cut lines along %d strips", long, rows)
		}
	}
}

func capOf(g *draw.Glyphs, at geom.Affine) float64 {
	m := g.Run[0].At.Then(at)
	return math.Hypot(m.A, m.B) * g.Face.CapHeight()
}

func TestPitchFor(t *testing.T) {
	for _, c := range []struct{ fattest, want float64 }{{16, 22}, {15.2, 22}, {2, 9}, {25, 31}} {
		if got := PitchFor(c.fattest); got != c.want {
			t.Errorf("%v mm bodies: %v, want %v", c.fattest, got, c.want)
		}
	}
}

// Every piece of a map is the one of the sheet, moved and scaled: all corners, in
// the frame of the sheet's edge. Pieces and their names keep to the map.
func TestMapIsTheSheetSmall(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := batch(r, 2)
		size := rapid.SampledFrom([]geom.Size{{W: 210, H: 297}, {W: 105, H: 148}, {W: 297, H: 420}}).Draw(r, "sheet")
		m := Map{Title: "page 1", Size: size, Spent: []geom.Path{square(0, 0, size.W, 20)}}
		for i := range rapid.IntRange(1, 12).Draw(r, "pieces") {
			x, y := rapid.Float64Range(0, size.W-50).Draw(r, "x"), rapid.Float64Range(0, size.H-50).Draw(r, "y")
			turned := geom.Rotate(rapid.Float64Range(0, 0.3).Draw(r, "turn")).Then(geom.Translate(x+10, y))
			m.Pieces = append(m.Pieces, MapPiece{square(0, 0, 30, 20).Transform(turned), strconv.Itoa(i + 1)})
		}
		s.Maps = []Map{m}
		sheets, err := Lay(s)
		if err != nil {
			r.Fatal(err)
		}
		frames := strokes(sheets, draw.Colour, func(k *draw.Stroke) bool {
			b := k.Path.Bounds()
			return k.Ink == draw.Black && near(b.W(), MapScale(size)*size.W) && near(b.H(), MapScale(size)*size.H)
		})
		if len(frames) != 1 {
			r.Fatalf("%d frames", len(frames))
		}
		frame := frames[0].Bounds()
		k := frame.W() / size.W
		drawn := strokes(sheets, draw.Colour, func(k *draw.Stroke) bool { return k.Width == mapLine })
		if len(drawn) != len(m.Pieces) {
			r.Fatalf("%d pieces on the map, %d on the sheet", len(drawn), len(m.Pieces))
		}
		for i, p := range drawn {
			for j, seg := range m.Pieces[i].Outline {
				want := geom.Point{X: frame.Min.X + k*seg.P[0].X, Y: frame.Min.Y + k*seg.P[0].Y}
				if p[j].Verb != seg.Verb || seg.Verb != geom.Close && p[j].P[0].Sub(want).Len() > 1e-4 {
					r.Fatalf("piece %d: %v, want %v", i+1, p[j], want)
				}
			}
		}
	})
}

// A4 has fields A to D across and 1 to 6 down; the edges belong to a field, and
// every field is found.
func TestFields(t *testing.T) {
	a4 := geom.Size{W: 210, H: 297}
	for _, c := range []struct {
		x, y float64
		want string
	}{{0, 0, "A1"}, {210, 297, "D6"}, {53, 49, "B1"}, {104, 50, "B2"}, {106, 148, "C3"}, {-1, 300, "A6"}} {
		if got := Field(a4, geom.Point{X: c.x, Y: c.y}); got != c.want {
			t.Errorf("(%v, %v) lies in %s, want %s", c.x, c.y, got, c.want)
		}
	}
	seen := map[string]bool{}
	for x := 1.0; x < 210; x += 4 {
		for y := 1.0; y < 297; y += 4 {
			seen[Field(a4, geom.Point{X: x, Y: y})] = true
		}
	}
	if len(seen) != 24 {
		t.Errorf("%d fields", len(seen))
	}
}

// The guide is life size: a piece of 51.5 by 26 mm measures that on the sheet, its
// cut as far outside as asked; a narrow upright strip lies on its side, and none is
// on another.
func TestGuideLifeSize(t *testing.T) {
	s := batch(t, 3)
	sizes := []geom.Size{{W: 51.5, H: 26}, {W: 6, H: 46}, {W: 30, H: 33}, {W: 49, H: 25}, {W: 240, H: 20}, {W: 300, H: 300}}
	for i, z := range sizes {
		s.Guides = append(s.Guides, Guide{Title: fmt.Sprint("piece ", i), Where: "18 mm from base", Mark: square(-z.W/2, -z.H, z.W, z.H), Cut: square(-z.W/2, -z.H-0.75, z.W, z.H+1.5),
			Seams: []geom.Path{geom.LineBetween(geom.Point{X: -z.W / 2, Y: -z.H - 0.75}, geom.Point{X: -z.W / 2, Y: 0.75})}})
	}
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	if err := sound(sheets, 3); err != nil {
		t.Error(err)
	}
	cuts := strokes(sheets, draw.Cut, func(k *draw.Stroke) bool { return k.Width == guideCut && k.Dash != nil && k.Ink == draw.Black })
	for i, z := range sizes {
		found := 0
		for _, c := range cuts {
			b := c.Bounds()
			if near(b.W(), z.W) && near(b.H(), z.H+1.5) || i == 1 && near(b.H(), z.W) && near(b.W(), z.H+1.5) || i == 4 && near(b.H(), z.W) && near(b.W(), z.H+1.5) {
				found++
			}
		}
		want := 1
		if i == 5 { // on no sheet at life size
			want = 0
		}
		if found != want {
			t.Errorf("%v is drawn %d times at life size, want %d", z, found, want)
		}
	}
	for i, a := range cuts {
		for _, b := range cuts[:i] {
			if a.Bounds().Overlaps(b.Bounds()) {
				t.Errorf("%v lies on %v", a.Bounds(), b.Bounds())
			}
		}
	}
	if n := len(strokes(sheets, draw.Cut, func(k *draw.Stroke) bool { return k.Width == guideSeam })); n != 5 {
		t.Errorf("%d seams", n)
	}
}

// Figures are read at arm's length: no number, id, rating or length of the table
// has capitals under 2.5 mm, and no word of it under 1.9 mm.
func TestArmsLength(t *testing.T) {
	s := batch(t, 12)
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	figures := map[string]bool{"9KYA3C": true, "8 g": true, "30 mm": true, "1 B3": true, "7.99 g": true, "± 0.03 g": true, "7.99 g ± 0.03 g": true, "12": true}
	seen := 0
	draw.Walk(sheets[0].Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
		g, ok := o.(*draw.Glyphs)
		if !ok {
			return
		}
		cap := capOf(g, at)
		if cap < bodyCap-1e-6 {
			t.Errorf("%q has capitals of %v mm", g.Text, cap)
		}
		if figures[g.Text] {
			seen++
			if cap < figureCap-1e-6 {
				t.Errorf("%q has capitals of %v mm", g.Text, cap)
			}
		}
	})
	if seen < 5*8 {
		t.Errorf("only %d figures seen", seen)
	}
}

// A batch as the demonstration's fits two sheets, its table and strip one.
func TestFewestSheets(t *testing.T) {
	s := batch(t, 26)
	s.Maps = []Map{{Title: "page 1", Size: s.Stock.Size}}
	s.Plot = plot("spread", PlotWidth(s.Stock), 105)
	for range 5 {
		s.Guides = append(s.Guides, Guide{Title: "Sedge waggler", Where: "lower edge 28 mm from base", Mark: square(0, 0, 51, 26), Cut: square(0, 0, 51, 26)})
	}
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) != 2 || !strings.Contains(sheets[0].Dump(), "NUMBERS FOR THE DRYING BOARD") {
		t.Errorf("%d sheets", len(sheets))
	}
}

func TestGoldenParts(t *testing.T) {
	s := batch(t, 9)
	s.Maps = []Map{{Title: "page 1, sheet no. 3", Size: geom.Size{W: 210, H: 297}, Spent: []geom.Path{square(0, 240, 210, 57)},
		Pieces: []MapPiece{{square(20, 30, 50, 25), "1"}, {square(100, 30, 6, 46), "2"}}}}
	s.Guides = []Guide{{Title: "Sedge waggler", Where: "lower edge 28 mm from base", Mark: square(0, 0, 50, 25), Cut: square(0, -0.75, 50, 26.5),
		Seams: []geom.Path{geom.LineBetween(geom.Point{Y: -0.75}, geom.Point{Y: 25.75})}}}
	s.GuideNotes = []string{"thick line: seam, cut on the line"}
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for i, sh := range sheets {
		b.WriteString(sh.Dump())
		picture(t, fmt.Sprintf("parts-%d", i+1), sh)
	}
	golden.Check(t, "parts.txt", b.String(), os.ReadFile, os.WriteFile)
}

// BenchmarkLay lays out a batch of a hundred floats with its map.
func BenchmarkLay(b *testing.B) {
	s := batch(b, 100)
	s.Maps = []Map{{Title: "page 1", Size: s.Stock.Size}}
	for b.Loop() {
		if _, err := Lay(s); err != nil {
			b.Fatal(err)
		}
	}
}
