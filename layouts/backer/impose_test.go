package backer

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

func a4(t fataler) stock.Stock {
	t.Helper()
	s, ok := stock.ByKey("a4-card")
	if !ok {
		t.Fatal("no A4 card among the stocks")
	}
	return s
}

func imposition(t fataler) Imposition {
	f, w := set0(t)
	return Imposition{Stock: a4(t), Fonts: f, Words: w, Batch: "26-11"}
}

func TestImposeA4(t *testing.T) {
	var cards []Laid
	for i := range 3 {
		c := sedge(t)
		c.Number = i + 1
		s, err := Lay(spec(t, c))
		if err != nil {
			t.Fatal(err)
		}
		cards = append(cards, s)
	}
	sheets, err := Impose(cards, imposition(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) != 2 {
		t.Fatalf("3 cards take %d sheets, want 2: two of 99 mm stand beside each other on 210 mm", len(sheets))
	}
	if n, err := PerSheet(ThirdA4, a4(t)); n != 2 || err != nil {
		t.Errorf("%d to a sheet (%v), want 2", n, err)
	}
	for i, want := range []string{"sheet 1 of 2", "sheet 2 of 2"} {
		if !strings.Contains(sheets[i].Front.Dump(), "batch 26-11 · "+want) {
			t.Errorf("sheet %d does not say %q", i+1, want)
		}
	}
	if !hasLine(sheets[0].Front, 100) {
		t.Error("no check line of 100 mm")
	}
	golden.Check(t, "sheet.txt", sheets[1].Front.Dump(), os.ReadFile, os.WriteFile)
	picture(t, "sheet", sheets[0].Front)
}

// hasLine looks for a straight guide line of a length.
func hasLine(s *draw.Sheet, long float64) bool {
	found := false
	draw.Walk(s.Layers[draw.Guide], func(o draw.Op, m geom.Affine, _ bool) {
		if f, ok := o.(*draw.Fill); ok {
			d := f.Path.Bounds().W() - long
			found = found || d < 1e-9 && d > -1e-9
		}
	})
	return found
}

// TestMarksKeepOff: over card and sheet sizes and margins, crop marks stay in
// the printable area and off every card, are at least 1 mm long, every inner
// cut has one, notes stay clear of marks and cards, and safe zones are printable.
func TestMarksKeepOff(t *testing.T) {
	laid := 0
	o := imposition(t)
	rapid.Check(t, func(r *rapid.T) {
		o := o
		o.Stock.Size = rapid.SampledFrom([]geom.Size{{W: 210, H: 297}, {W: 297, H: 420}, {W: 148, H: 210}, {W: 215.9, H: 279.4}, {W: 99, H: 210}, {W: 103, H: 214}}).Draw(r, "sheet")
		o.Stock.Margin = rapid.Float64Range(0, 15).Draw(r, "margin")
		size := geom.Size{W: rapid.SampledFrom([]float64{60, 70, 99, 105, 148}).Draw(r, "w"), H: rapid.SampledFrom([]float64{150, 180, 197, 210}).Draw(r, "h")}
		blank := &draw.Sheet{Name: "card", Size: size}
		// What a card may print on: its safe zone.
		blank.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, size.W, size.H).Inset(Safe))})
		per, err := PerSheet(size, o.Stock)
		if err != nil {
			if fault.ClassOf(err) != fault.NoFit {
				r.Fatal(err)
			}
			return
		}
		laid++
		cards := make([]Laid, per)
		for i := range cards {
			cards[i] = Laid{Front: blank}
		}
		sheets, err := Impose(cards, o)
		if err != nil || len(sheets) != 1 {
			r.Fatalf("%d sheets, %v", len(sheets), err)
		}
		checkSheet(r, sheets[0].Front, size, o.Stock)
	})
	if laid < 10 {
		t.Errorf("only %d impositions laid out", laid)
	}
}

func checkSheet(r *rapid.T, s *draw.Sheet, size geom.Size, st stock.Stock) {
	printable := geom.XYWH(0, 0, st.Size.W, st.Size.H).Inset(st.Margin)
	var cards []geom.Rect
	draw.Walk(s.Layers[draw.Colour], func(o draw.Op, m geom.Affine, _ bool) {
		safe := o.(*draw.Fill).Path.Transform(m).Bounds()
		if !printable.Contains(safe) {
			r.Fatalf("safe zone %v leaves the printable area %v", safe, printable)
		}
		cards = append(cards, safe.Inset(-Safe))
	})
	for i, c := range cards {
		if !geom.XYWH(0, 0, st.Size.W, st.Size.H).Contains(c) {
			r.Fatalf("card %v leaves the sheet", c)
		}
		for _, d := range cards[:i] {
			if c.Inset(1e-6).Overlaps(d) {
				r.Fatalf("cards %v and %v overlap", c, d)
			}
		}
	}
	cuts := map[string]bool{}
	var marks []geom.Rect
	for _, op := range s.Layers[draw.Cut] {
		b := op.(*draw.Stroke).Path.Bounds()
		if b.W()+b.H() < leastMark-1e-9 {
			r.Fatalf("mark %v is too short", b)
		}
		if !printable.Contains(b) {
			r.Fatalf("mark %v leaves the printable area %v", b, printable)
		}
		for _, c := range cards {
			if c.Inset(-leastGap + 1e-6).Overlaps(b.Inset(-1e-7)) {
				r.Fatalf("mark %v touches card %v", b, c)
			}
		}
		marks = append(marks, b)
		if b.W() < b.H() {
			cuts[fmt.Sprintf("x %.3f", b.Min.X)] = true
		} else {
			cuts[fmt.Sprintf("y %.3f", b.Min.Y)] = true
		}
	}
	for _, c := range cards {
		for name, edge := range map[string][3]float64{"x": {c.Min.X, c.Max.X, st.Size.W}, "y": {c.Min.Y, c.Max.Y, st.Size.H}} {
			for _, v := range edge[:2] {
				// A cut is needless where it is the sheet's own edge.
				if v > 0.02 && v < edge[2]-0.02 && !cuts[fmt.Sprintf("%s %.3f", name, v)] {
					r.Fatalf("no mark for the cut at %s %v", name, v)
				}
			}
		}
	}
	for _, op := range s.Layers[draw.Guide] {
		b := draw.Bounds([]draw.Op{op})
		if !printable.Contains(b) {
			r.Fatalf("note %v leaves the printable area %v", b, printable)
		}
		for _, c := range append(cards, marks...) {
			if c.Inset(-1e-3).Overlaps(b.Inset(-1e-7)) {
				r.Fatalf("note %v meets %v", b, c)
			}
		}
	}
}

func TestImposeRefuses(t *testing.T) {
	big := Laid{Front: &draw.Sheet{Size: geom.Size{W: 220, H: 210}}}
	if _, err := Impose([]Laid{big}, imposition(t)); fault.ClassOf(err) != fault.NoFit || err == nil || !strings.Contains(err.Error(), "220 mm by 210 mm") {
		t.Errorf("got %v, want a NoFit error with the measures", err)
	}
	if _, err := Impose([]Laid{{Front: &draw.Sheet{Size: ThirdA4}}, big}, imposition(t)); err == nil {
		t.Error("two sizes on one sheet were taken")
	}
}
