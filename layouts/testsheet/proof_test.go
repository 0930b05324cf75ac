package testsheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

// marked is a sheet with a mark, a box and its cut line, on each rectangle.
func marked(s Spec, at ...geom.Rect) *draw.Sheet {
	sheet := &draw.Sheet{Name: "sheet 1", Size: s.Stock.Size}
	for i, b := range at {
		mark := &draw.Sheet{Name: fmt.Sprint("float ", i+1)}
		mark.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(b.Inset(0.5)), Ink: draw.Black})
		mark.Add(draw.Cut, &draw.Stroke{Path: geom.Rectangle(b), Width: 0.1})
		sheet.Place(mark, geom.Identity)
	}
	return sheet
}

func proofOf(t rapid.TB, s Spec, marks ...*draw.Sheet) []*draw.Sheet {
	t.Helper()
	all, err := Proof(s, marks)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// barsOf returns the boxes of the sheet's bars so long, across and down.
func barsOf(s *draw.Sheet, long float64) (across, down []geom.Rect) {
	draw.Walk(s.Layers[draw.Guide], func(o draw.Op, at geom.Affine, _ bool) {
		f, ok := o.(*draw.Fill)
		if !ok {
			return
		}
		switch b := f.Path.Transform(at).Bounds(); {
		case math.Abs(b.W()-long) < 1e-6 && b.H() < 1:
			across = append(across, b)
		case math.Abs(b.H()-long) < 1e-6 && b.W() < 1:
			down = append(down, b)
		}
	})
	return across, down
}

// A sheet with room carries it all itself: no page is spent on rules alone.
func TestProofOnOnePage(t *testing.T) {
	s := spec(t, "a4-film-white")
	marks := marked(s, geom.XYWH(6, 200, 60, 80), geom.XYWH(70, 200, 130, 80))
	before := marks.Dump()
	all := proofOf(t, s, marks)
	if len(all) != 1 || all[0].Size != s.Stock.Size {
		t.Fatalf("%d pages", len(all))
	}
	if marks.Dump() != before {
		t.Error("the sheet that was given is changed")
	}
	for _, l := range draw.Layers() {
		if l != draw.Guide && fmt.Sprint(dumped(all[0], l)) != fmt.Sprint(dumped(marks, l)) {
			t.Errorf("layer %v is not as it will be on film", l)
		}
	}
	if across, down := barsOf(all[0], 100); len(across) != 1 || len(down) != 1 {
		t.Errorf("%d lines of 100 mm across and %d down", len(across), len(down))
	}
	words := said(all)
	for _, want := range []string{"this line is 100 mm", "hold it round its float", "floatmark testsheet ruler"} {
		if !strings.Contains(words, want) {
			t.Errorf("it does not say %q: %q", want, words)
		}
	}
}

func dumped(s *draw.Sheet, l draw.Layer) string {
	one := &draw.Sheet{Size: s.Size}
	one.Layers[l] = s.Layers[l]
	return one.Dump()
}

// A full sheet has its rules broken and the rest on a page before it, which comes
// once for all sheets.
func TestProofOfFullSheets(t *testing.T) {
	s := spec(t, "a4-film-white")
	full := marked(s, geom.XYWH(5, 5, 200, 140), geom.XYWH(5, 147, 190, 140))
	all := proofOf(t, s, full, full)
	if len(all) != 3 {
		t.Fatalf("%d pages, want rules and two sheets", len(all))
	}
	if across, down := barsOf(all[0], 100); len(across) != 1 || len(down) != 1 || len(all[0].Layers[draw.Colour]) != 0 {
		t.Errorf("%d and %d check lines on the page of rules", len(across), len(down))
	}
	if across, down := barsOf(all[1], 100); len(across) != 0 || len(down) != 0 {
		t.Errorf("check lines on marks: %v %v", across, down)
	}
}

// Whatever lies on a sheet: what a proof adds lies on none of it, and where a
// printer prints.
func TestProofKeepsOffMarks(t *testing.T) {
	s := spec(t, "a4-film-white")
	room := geom.XYWH(0, 0, 210, 297).Inset(s.Stock.Margin)
	rapid.Check(t, func(t *rapid.T) {
		var boxes []geom.Rect
		for range rapid.IntRange(0, 25).Draw(t, "n") {
			f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
			boxes = append(boxes, geom.XYWH(f("x", 5, 160), f("y", 5, 250), f("w", 3, 45), f("h", 3, 42)))
		}
		marks := marked(s, boxes...)
		all := proofOf(t, s, marks)
		sheet := all[len(all)-1]
		added := sheet.Layers[draw.Guide]
		draw.Walk(added, func(o draw.Op, at geom.Affine, _ bool) {
			each := []draw.Op{&draw.Group{At: at, Ops: []draw.Op{o}}}
			if f, ok := o.(*draw.Fill); ok { // the ticks are one path
				each = nil
				for ring := range rings(f.Path) {
					each = append(each, &draw.Group{At: at, Ops: []draw.Op{&draw.Fill{Path: ring}}})
				}
			}
			for _, one := range each {
				b := draw.Bounds([]draw.Op{one})
				if !room.Inset(-1e-9).Contains(b) {
					t.Fatalf("%v leaves what is printed", b)
				}
				for _, m := range boxes {
					if m.Overlaps(b) {
						t.Fatalf("%v lies on the mark at %v", b, m)
					}
				}
			}
		})
	})
}

// A rule does not come up to what is written beside the leftmost piece: there its
// ticks are left out, and a clear distance before and behind it.
func TestRulesKeepTheirDistance(t *testing.T) {
	s := spec(t, "a4-film-white")
	mark := geom.XYWH(7.8, 100, 60, 31.3)
	one := proofOf(t, s, marked(s, mark, geom.XYWH(150, 100, 53, 120)))[0] // at the right edge a rule would show less
	above, below, n := math.Inf(-1), math.Inf(1), 0
	for _, o := range one.Layers[draw.Guide] {
		f, ok := o.(*draw.Fill)
		if !ok || len(f.Path) < 500 {
			continue
		}
		for ring := range rings(f.Path) {
			b := ring.Bounds()
			if b.W() < b.H() || math.Abs(b.Min.X-s.Stock.Margin) > 1e-9 {
				continue
			}
			n++
			if b.Overlaps(mark.Inset(-1.5)) {
				t.Errorf("the tick at %v comes up to the mark at %v", b, mark)
			}
			if y := (b.Min.Y + b.Max.Y) / 2; y < mark.Min.Y {
				above = max(above, y)
			} else if y > mark.Max.Y {
				below = min(below, y)
			}
		}
	}
	// No more is left out than needs be: the room is kept in whole millimetres.
	if n == 0 || mark.Min.Y-above > 3.5 || below-mark.Max.Y > 3.5 {
		t.Errorf("%d ticks, the last above at %v and the first below at %v", n, above, below)
	}
}

// On an empty sheet the rules are whole: from 0 to what the margins leave, a
// millimetre apart, both ways.
func TestProofRules(t *testing.T) {
	s := spec(t, "a4-film-white")
	one := proofOf(t, s, marked(s))[0]
	var across, down []float64
	for _, o := range one.Layers[draw.Guide] {
		f, ok := o.(*draw.Fill)
		if !ok || len(f.Path) < 500 { // the rules are one long path
			continue
		}
		for ring := range rings(f.Path) {
			switch b := ring.Bounds(); {
			case b.H() > b.W() && math.Abs(b.Min.Y-s.Stock.Margin) < 1e-9:
				across = append(across, (b.Min.X+b.Max.X)/2)
			case b.W() > b.H() && math.Abs(b.Min.X-s.Stock.Margin) < 1e-9:
				down = append(down, (b.Min.Y+b.Max.Y)/2)
			}
		}
	}
	if len(across) != 199 || len(down) != 283 { // 210 - 2·6, 297 - 5 - 4 - 6
		t.Fatalf("%d ticks across and %d down", len(across), len(down))
	}
	for i := 1; i < len(across); i++ {
		if math.Abs(across[i]-across[0]-float64(i)) > 1e-9 {
			t.Fatalf("tick %d across stands at %v", i, across[i]-across[0])
		}
	}
	for i := 1; i < len(down); i++ {
		if math.Abs(down[i]-down[0]-float64(i)) > 1e-9 {
			t.Fatalf("tick %d down stands at %v", i, down[i]-down[0])
		}
	}
}

func rings(p geom.Path) func(func(geom.Path) bool) {
	return func(yield func(geom.Path) bool) {
		start := 0
		for i, s := range p {
			if s.Verb == geom.Close {
				if !yield(p[start : i+1]) {
					return
				}
				start = i + 1
			}
		}
	}
}

// On a calibrated printer the proof is corrected as the film is: what is drawn
// as 100/k comes out as 100.
func TestProofIsCalibrated(t *testing.T) {
	s := spec(t, "a4-film-white")
	s.Printer = stock.Printer{Name: "office", DPI: 600, ScaleX: 1.006, ScaleY: 0.994, Margin: 5}
	s.Profile = 2
	marks := marked(s, geom.XYWH(6, 200, 60, 80))
	got := proofOf(t, s, marks)[0]
	across, _ := barsOf(got, 100/1.006)
	_, down := barsOf(got, 100/0.994)
	if len(across) != 1 || len(down) != 1 {
		t.Errorf("%d lines across and %d down come out as 100 mm", len(across), len(down))
	}
	want, err := stock.Calibrate(marks, s.Printer)
	if err != nil {
		t.Fatal(err)
	}
	if dumped(got, draw.Colour) != dumped(want, draw.Colour) || dumped(got, draw.Cut) != dumped(want, draw.Cut) {
		t.Error("the marks do not lie where they will on film")
	}
}

// A proof of labels shows where they are, to be held against a sheet of them.
func TestProofOfLabels(t *testing.T) {
	s := spec(t, "a4-sticker")
	s.Stock.Grid = &stock.Grid{Rows: 8, Columns: 3, First: geom.Point{X: 7, Y: 15}, Cell: geom.Size{W: 63, H: 33}, Pitch: geom.Size{W: 66, H: 34}, Corner: 2}
	all := proofOf(t, s, marked(s, geom.XYWH(10, 18, 40, 20)))
	last := all[len(all)-1]
	n := 0
	for _, o := range last.Layers[draw.Guide] {
		if k, ok := o.(*draw.Stroke); ok {
			b := k.Path.Bounds()
			if math.Abs(b.W()-63) > 1e-9 || math.Abs(b.H()-33) > 1e-9 || math.Abs(k.Path.Area(1e-4)) > 63*33-3.4 { // (4 - π)·2² = 3.43 mm² of corners
				t.Errorf("a label of %v by %v, %v mm²", b.W(), b.H(), k.Path.Area(1e-4))
			}
			n++
		}
	}
	if n != 24 || len(all) != 2 {
		t.Errorf("%d labels on %d pages", n, len(all))
	}
	if !strings.Contains(said(all), "against the light") {
		t.Error("it does not say what the labels are for")
	}
}

func TestProofRefuses(t *testing.T) {
	s := spec(t, "a4-film-white")
	s.Stock, _ = stock.ByKey("by-hand")
	if _, err := Proof(s, nil); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("no sheet: %v", err)
	}
	s = spec(t, "a4-film-white")
	s.Printer.ScaleX = 2
	if _, err := Proof(s, []*draw.Sheet{marked(s)}); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("an impossible printer: %v", err)
	}
}

// A sheet too small for 100 mm gets 50 mm; one too small for words still shows
// its marks.
func TestProofOfSmallSheets(t *testing.T) {
	s := spec(t, "a6-film-white")
	all := proofOf(t, s, marked(s, geom.XYWH(6, 90, 60, 40)))
	if across, _ := barsOf(all[0], 50); len(across) != 1 {
		t.Errorf("A6: %d lines of 50 mm", len(across))
	}
	s.Stock.Size = geom.Size{W: 40, H: 40}
	if all := proofOf(t, s, marked(s, geom.XYWH(10, 10, 20, 20))); len(all[len(all)-1].Layers[draw.Colour]) != 1 {
		t.Errorf("the mark of a small sheet is missing")
	}
}

// Fifty full sheets, as of two thousand floats.
func BenchmarkProof(b *testing.B) {
	s := spec(b, "a4-film-white")
	full := marked(s, geom.XYWH(5, 5, 200, 140), geom.XYWH(5, 147, 190, 140))
	marks := make([]*draw.Sheet, 50)
	for i := range marks {
		marks[i] = full
	}
	for b.Loop() {
		if _, err := Proof(s, marks); err != nil {
			b.Fatal(err)
		}
	}
}
