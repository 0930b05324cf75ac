package jobsheet

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/png"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

type fataler interface {
	Helper()
	Fatal(...any)
}

func batch(t fataler, n int) Spec {
	t.Helper()
	f, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	paper, ok := stock.ByKey("a4-paper")
	if !ok {
		t.Fatal("no A4 paper among the stocks")
	}
	s := Spec{Maker: "Withy Sluice Floats", Batch: "26-11", Date: "2026-11-20", Fonts: f, Words: w, Stock: paper}
	for i := range n {
		r := Row{Number: i + 1, ID: "9KYA3C", Pattern: "Sedge waggler", Tank: "7.99 g", U: "0.03 g", Rating: "8 g", Band: draw.Ink{R: 150, G: 60},
			Decals: []string{"1 B3"}, Edges: []Edge{{"30 mm", w.FromBase}}, Code: w.CodeHeldSquare}
		if i%3 == 1 {
			r.Pattern, r.Rating, r.Tank, r.U = "Reed stick", "2.5 g", "", ""
			r.Decals, r.Code = []string{"1 A2", "2 D6"}, words.BenchSheetFor(w.Language).OnCard
			r.Edges = []Edge{{"41.5 mm", w.FromBase}, {"60 mm", w.FromTip + ", " + w.UpperEdge}}
		}
		if i == 4 {
			r.Note, r.Trim = "small dent under the tip, sand and recoat", "take off 0.12 g"
		}
		s.Rows = append(s.Rows, r)
		s.Board.Numbers, s.Board.Bands = append(s.Board.Numbers, r.Number), append(s.Board.Bands, r.Band)
	}
	s.Board.Pitch = PitchFor(16)
	return s
}

// smallX is the least height of a small letter, mm.
const smallX = 1.2

// TestSheets: every row has its four boxes, no text meets another or a box, and
// nothing leaves the page's margin.
func TestSheets(t *testing.T) {
	for _, n := range []int{0, 1, 12, 25, 80} {
		sheets, err := Lay(batch(t, n))
		if err != nil {
			t.Fatal(err)
		}
		if err := sound(sheets, n); err != nil {
			t.Errorf("%d floats: %v", n, err)
		}
	}
}

func sound(sheets []*draw.Sheet, rows int) error {
	return soundIn(words.Words{Sheet: "sheet", Of: "of"}, sheets, rows)
}

func soundIn(w words.Words, sheets []*draw.Sheet, rows int) error {
	boxes, lines := 0, 0
	for i, s := range sheets {
		page := geom.XYWH(0, 0, s.Size.W, s.Size.H).Inset(5)
		if b := s.Bounds(draw.Layers()...); !page.Contains(b) {
			return fmt.Errorf("sheet %d prints on %v, outside %v", i+1, b, page)
		}
		var texts []geom.Rect
		var names []string
		low := ""
		for _, l := range draw.Layers() {
			draw.Walk(s.Layers[l], func(o draw.Op, m geom.Affine, _ bool) {
				switch o := o.(type) {
				case *draw.Stroke:
					b := o.Path.Bounds()
					if b.W() > box-1e-9 && b.W() < box+1e-9 && len(o.Path) == 5 {
						boxes++
						texts, names = append(texts, b), append(names, "box")
					}
				case *draw.Fill:
					b := o.Path.Bounds()
					if d := max(b.W(), b.H()) - stock.CheckLength; l == draw.Guide && d < 1e-9 && d > -1e-9 {
						lines++
					}
				case *draw.Glyphs:
					b := draw.Bounds([]draw.Op{&draw.Group{At: m, Ops: []draw.Op{o}}})
					texts, names = append(texts, b), append(names, o.Text)
					if up := o.Run[0].At.Then(m); up.B == 0 && up.A*o.Face.XHeight() < smallX {
						low = o.Text
					}
				}
			})
		}
		if low != "" {
			return fmt.Errorf("sheet %d: %q is set with small letters under %v mm", i+1, low, smallX)
		}
		for a := range texts {
			for b := range texts[:a] {
				if texts[a].Inset(1e-6).Overlaps(texts[b]) {
					return fmt.Errorf("sheet %d: %q %v meets %q %v", i+1, names[a], texts[a], names[b], texts[b])
				}
			}
		}
		if want := fmt.Sprintf("%s %d %s %d", w.Sheet, i+1, w.Of, len(sheets)); !strings.Contains(s.Dump(), want) {
			return fmt.Errorf("no %q", want)
		}
	}
	if boxes != 4*rows {
		return fmt.Errorf("%d boxes, want %d", boxes, 4*rows)
	}
	if lines != 2 {
		return fmt.Errorf("%d check lines of 100 mm, want one in each direction", lines)
	}
	return nil
}

// TestAnyBatch varies texts and papers: laid out without a collision, however long
// a maker's words are.
func TestAnyBatch(t *testing.T) {
	laid := 0
	rapid.Check(t, func(r *rapid.T) {
		s := batch(r, rapid.IntRange(0, 30).Draw(r, "rows"))
		text := func(name string, most int) string {
			return rapid.StringOfN(rapid.SampledFrom([]rune("aegilmopqty   ÄÉ")), 0, most, -1).Draw(r, name)
		}
		for i := range s.Rows {
			if i%5 == 0 {
				s.Rows[i].Note, s.Rows[i].Pattern = text("note", 200), text("pattern", 60)
			}
		}
		s.Stock.Size = rapid.SampledFrom([]geom.Size{{W: 210, H: 297}, {W: 297, H: 420}, {W: 215.9, H: 279.4}}).Draw(r, "paper")
		sheets, err := Lay(s)
		if err != nil {
			r.Fatal(err)
		}
		laid++
		if err := sound(sheets, len(s.Rows)); err != nil {
			r.Fatal(err)
		}
	})
	if laid < 10 {
		t.Errorf("only %d batches laid out", laid)
	}
}

func TestRefused(t *testing.T) {
	s := batch(t, 3)
	s.Rows[1].Note = strings.Repeat("dented ", 2000)
	if _, err := Lay(s); fault.ClassOf(err) != fault.NoFit || err == nil || !strings.HasPrefix(err.Error(), "job sheet: float 2: ") {
		t.Errorf("got %v, want the float", err)
	}
	s = batch(t, 3)
	s.Stock.Size = geom.Size{W: 148, H: 210}
	if _, err := Lay(s); fault.ClassOf(err) != fault.NoFit || err == nil || !strings.Contains(err.Error(), "148 mm by 210 mm") {
		t.Errorf("got %v, want both measures", err)
	}
}

func TestGolden(t *testing.T) {
	sheets, err := Lay(batch(t, 12))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for i, s := range sheets {
		b.WriteString(s.Dump())
		picture(t, fmt.Sprintf("12-%d", i+1), s)
	}
	golden.Check(t, "twelve.txt", b.String(), os.ReadFile, os.WriteFile)
}

// picture renders a page into the test's own folder, or into the folder that
// LOOK names, to be looked at.
func picture(t *testing.T, name string, s *draw.Sheet) {
	t.Helper()
	dir := os.Getenv("LOOK")
	if dir == "" {
		dir = t.TempDir()
	}
	var b bytes.Buffer
	if err := png.Write(&b, s, 150); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "jobsheet-"+name+".png"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A plot stands where it has room, on a sheet of its own if it has none, and shrunk
// if no sheet has; nothing else stands on it.
func TestPlot(t *testing.T) {
	plain, err := Lay(batch(t, 12))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		high, scale float64
		more        int
	}{{10, 1, 0}, {220, 1, 1}, {800, 0, 1}} {
		s := batch(t, 12)
		s.Plot = &draw.Sheet{Name: "plot", Size: geom.Size{W: PlotWidth(s.Stock), H: c.high}}
		s.Plot.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, s.Plot.Size.W, c.high)), Ink: draw.Ink{R: 1}})
		sheets, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := sound(sheets, 12); err != nil {
			t.Error(err)
		}
		if len(sheets) != len(plain)+c.more {
			t.Errorf("plot of %v mm: %d sheets, without it %d", c.high, len(sheets), len(plain))
		}
		found := false
		for _, last := range sheets {
			draw.Walk(last.Layers[draw.Ground], func(o draw.Op, at geom.Affine, _ bool) {
				f, ok := o.(*draw.Fill)
				if !ok || f.Ink != (draw.Ink{R: 1}) {
					return
				}
				found = true
				b := f.Path.Transform(at).Bounds()
				if c.scale > 0 && (b.H() < c.high-1e-9 || b.W() < s.Plot.Size.W-1e-9) {
					t.Errorf("plot of %v mm is set %v mm high", c.high, b.H())
				}
				draw.Walk(last.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
					if other := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{o}}}); other.Inset(0.01).Overlaps(b) {
						t.Errorf("%v stands on the plot %v", other, b)
					}
				})
			})
		}
		if !found {
			t.Errorf("plot of %v mm is on no sheet", c.high)
		}
	}
}
