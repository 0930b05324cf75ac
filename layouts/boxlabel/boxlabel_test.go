package boxlabel

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

func spec(t fataler, n int) Spec {
	t.Helper()
	f, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	on, ok := stock.ByKey("a4-sticker")
	if !ok {
		t.Fatal("no A4 stickers among the stocks")
	}
	s := Spec{Stock: on, Fonts: f, Words: w}
	for i := range n {
		l := Label{Rating: "8 g", Count: "7 floats", Pattern: "Sedge waggler", Batch: "batch 26-11", Numbers: "1–7", Maker: "Withy Sluice Floats", Date: "2026-11-20", Bands: []draw.Ink{{R: 150, G: 60}}}
		if i%2 == 0 {
			l.Rating, l.Pattern, l.Count, l.Numbers = "2.5–10 g", "5 patterns", "26 floats", "1–26"
			l.Bands = []draw.Ink{{B: 150}, {R: 200, G: 120}, {R: 150, B: 240}}
		}
		s.Labels = append(s.Labels, l)
	}
	return s
}

// dieCut is a sheet of labels: size, pitch, corners.
func dieCut(s stock.Stock, rows, columns int, cell geom.Size, corner float64) stock.Stock {
	s.Grid = &stock.Grid{Rows: rows, Columns: columns, First: geom.Point{X: 7, Y: 12}, Cell: cell, Pitch: geom.Size{W: cell.W + 2, H: cell.H + 1}, Corner: corner}
	return s
}

// sound reports what is wrong with sheets: a text or a band off its label, on a
// round corner, in the blank margin or on another text.
func sound(s Spec, sheets []*draw.Sheet) error {
	cells := s.cells()
	left := len(s.Labels)
	for i, sh := range sheets {
		n := min(left, len(cells))
		left -= n
		var texts []geom.Rect
		var names []string
		on := make([]int, len(cells))
		page := geom.XYWH(0, 0, s.Stock.Size.W, s.Stock.Size.H).Inset(s.Stock.Margin - 0.01)
		var bad error
		draw.Walk(sh.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
			box := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{o}}})
			what := "a band"
			if g, ok := o.(*draw.Glyphs); ok {
				what = g.Text
				texts, names = append(texts, box), append(names, what)
			}
			held := false
			for c, cell := range cells {
				grid := stock.Grid{}
				if s.Stock.Grid != nil {
					grid = *s.Stock.Grid
				}
				if cell.Contains(box) && grid.Holds(cell, geom.Rectangle(box)) {
					held = true
					on[c]++
				}
			}
			if !held || !page.Contains(box) {
				bad = fmt.Errorf("sheet %d: %q at %v is on no label", i+1, what, box)
			}
		})
		if bad != nil {
			return bad
		}
		for a := range texts {
			for b := range texts[:a] {
				if texts[a].Inset(0.01).Overlaps(texts[b]) {
					return fmt.Errorf("sheet %d: %q meets %q", i+1, names[a], names[b])
				}
			}
		}
		for c := range cells {
			if (on[c] >= 5) != (c < n) {
				return fmt.Errorf("sheet %d: label %d bears %d things", i+1, c+1, on[c])
			}
		}
	}
	if left != 0 {
		return fmt.Errorf("%d labels are on no sheet", left)
	}
	return nil
}

// Labels fill sheets in their order, on stickers that are cut and on die-cut ones of
// many sizes, each thing on its label.
func TestLabels(t *testing.T) {
	for _, c := range []struct {
		name    string
		rows, n int
		columns int
		cell    geom.Size
		corner  float64
		sheets  int
	}{
		{name: "cut", n: 10, sheets: 1}, {name: "cut, many", n: 30, sheets: 2}, {name: "none", n: 0, sheets: 0},
		{"64 by 34", 8, 10, 3, geom.Size{W: 63, H: 33}, 2, 1},
		{"large", 2, 5, 2, geom.Size{W: 95, H: 130}, 3, 2},
		{"small", 12, 40, 4, geom.Size{W: 46, H: 21.2}, 2, 1},
		{"very round", 4, 3, 2, geom.Size{W: 90, H: 60}, 20, 1},
	} {
		s := spec(t, c.n)
		if c.rows > 0 {
			s.Stock = dieCut(s.Stock, c.rows, c.columns, c.cell, c.corner)
		}
		sheets, err := Lay(s)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(sheets) != c.sheets {
			t.Errorf("%s: %d sheets, want %d", c.name, len(sheets), c.sheets)
		}
		if err := sound(s, sheets); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		for i, sh := range sheets {
			picture(t, fmt.Sprintf("%s-%d", c.name, i+1), sh)
			if lines := len(sh.Layers[draw.Cut]); (lines == 0) != (c.rows > 0) {
				t.Errorf("%s: %d cut lines", c.name, lines)
			}
		}
	}
}

// Where sheets are cut apart, the lines run along the labels' edges.
func TestCutLinesAreTheLabelsEdges(t *testing.T) {
	s := spec(t, 5) // two rows, the second not full
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	xs, ys := map[string]bool{}, map[string]bool{}
	for _, o := range sheets[0].Layers[draw.Cut] {
		b := o.(*draw.Stroke).Path.Bounds()
		if b.W() == 0 {
			xs[fmt.Sprintf("%.3f", b.Min.X)] = true
		} else {
			ys[fmt.Sprintf("%.3f", b.Min.Y)] = true
		}
	}
	if len(xs) != 4 || len(ys) != 3 {
		t.Errorf("lines at %v and %v", xs, ys)
	}
	for _, c := range s.cells()[:5] {
		for _, x := range []float64{c.Min.X, c.Max.X} {
			if !xs[fmt.Sprintf("%.3f", x)] {
				t.Errorf("no line at x %v", x)
			}
		}
		for _, y := range []float64{c.Min.Y, c.Max.Y} {
			if !ys[fmt.Sprintf("%.3f", y)] {
				t.Errorf("no line at y %v", y)
			}
		}
	}
}

// Whatever is on a label and however large it is: laid out, or refused as too small
// with the measure.
func TestAnyLabel(t *testing.T) {
	laid, refused := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		s := spec(r, 3)
		cell := geom.Size{W: rapid.Float64Range(15, 95).Draw(r, "w"), H: rapid.Float64Range(8, 60).Draw(r, "h")}
		s.Stock = dieCut(s.Stock, 2, 2, cell, rapid.Float64Range(0, 4).Draw(r, "corner"))
		text := func(name string, most int) string {
			return rapid.StringOfN(rapid.SampledFrom([]rune("aegilmopqtyÄÉłW ")), 1, most, -1).Draw(r, name) + "x"
		}
		l := &s.Labels[1]
		l.Pattern, l.Maker, l.Numbers = text("pattern", 30), text("maker", 40), strings.Repeat("1, 3, ", rapid.IntRange(0, 30).Draw(r, "numbers"))+"5"
		sheets, err := Lay(s)
		if err != nil {
			if fault.ClassOf(err) != fault.NoFit || !strings.Contains(err.Error(), " mm") {
				r.Fatal(err)
			}
			refused++
			return
		}
		laid++
		if err := sound(s, sheets); err != nil {
			r.Fatal(err)
		}
	})
	if laid < 5 || refused < 5 {
		t.Errorf("%d laid out, %d refused", laid, refused)
	}
}

func TestRefused(t *testing.T) {
	s := spec(t, 1)
	s.Stock = dieCut(s.Stock, 10, 4, geom.Size{W: 40, H: 12}, 0)
	if _, err := Lay(s); fault.ClassOf(err) != fault.NoFit || err == nil || !strings.Contains(err.Error(), "to print on and has") {
		t.Errorf("labels of 12 mm: %v", err)
	}
	s.Stock, _ = stock.ByKey("by-hand")
	if _, err := Lay(s); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("no sheet: %v", err)
	}
}

func TestGolden(t *testing.T) {
	sheets, err := Lay(spec(t, 4))
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "four.txt", sheets[0].Dump(), os.ReadFile, os.WriteFile)
}

// picture renders a page into the test's own folder, or into the folder that LOOK
// names, to be looked at.
func picture(t *testing.T, name string, s *draw.Sheet) {
	t.Helper()
	dir := os.Getenv("LOOK")
	if dir == "" {
		return
	}
	var b bytes.Buffer
	if err := png.Write(&b, s, 110); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "boxlabel-"+name+".png"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
