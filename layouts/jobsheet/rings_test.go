package jobsheet

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

func ring(i int) Ring {
	return Ring{Pattern: "Sedge waggler", From: fmt.Sprintf("%d mm", 27+i), To: "54 mm", Colour: draw.Ink{R: 0xf4, G: 0xee, B: uint8(0xe0 - i)},
		Why: "black words on clear film over #26262b reach a contrast of 1.4, and need 4.5"}
}

// said joins all texts of a sheet, each in bars.
func said(sheets []*draw.Sheet) string {
	var b strings.Builder
	for _, s := range sheets {
		for _, l := range draw.Layers() {
			draw.Walk(s.Layers[l], func(o draw.Op, _ geom.Affine, _ bool) {
				if g, ok := o.(*draw.Glyphs); ok {
					b.WriteString("|" + g.Text)
				}
			})
		}
	}
	return b.String()
}

// Each ring has its swatch, its places and its reason; without rings there is no
// table.
func TestRings(t *testing.T) {
	for _, c := range []struct{ floats, rings int }{{3, 1}, {12, 4}, {25, 3}, {2, 70}} {
		s := batch(t, c.floats)
		for i := range c.rings {
			s.Rings = append(s.Rings, ring(i))
		}
		sheets, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := sound(sheets, c.floats); err != nil {
			t.Errorf("%d floats, %d rings: %v", c.floats, c.rings, err)
		}
		swatches := map[draw.Ink]int{}
		for _, sh := range sheets {
			draw.Walk(sh.Layers[draw.Colour], func(o draw.Op, _ geom.Affine, _ bool) {
				if f, ok := o.(*draw.Fill); ok {
					swatches[f.Ink]++
				}
			})
		}
		text := said(sheets)
		for _, r := range s.Rings {
			if swatches[r.Colour] != 1 {
				t.Errorf("%d swatches of %v", swatches[r.Colour], r.Colour)
			}
			if !strings.Contains(text, "|"+r.From+" and 54 mm from base") {
				t.Errorf("no word of the ring from %s", r.From)
			}
		}
		at, day := strings.Index(text, "|GROUND RINGS"), strings.Index(text, "|ORDER OF THE DAY")
		if at < 0 || day < 0 {
			t.Errorf("rings at %d, order of the day at %d", at, day)
		}
	}
	plain, err := Lay(batch(t, 3))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(said(plain), "GROUND RINGS") {
		t.Error("a table of rings where there are none")
	}
	s := batch(t, 3)
	s.Rings = []Ring{{Pattern: strings.Repeat("sedge", 20)}}
	if _, err := Lay(s); fault.ClassOf(err) != fault.NoFit || err == nil {
		t.Errorf("a name too long: %v", err)
	}
}

// Every medium has an order of the day of its own that fits the sheet and is
// marked as common practice.
func TestSteps(t *testing.T) {
	words := map[stock.Medium][]string{ // what no maker may miss
		stock.Waterslide:   {"shiny side", "Soak", "laser"},
		stock.Vinyl:        {"gap", "edges"},
		stock.Tissue:       {"Tape the tissue", "clear"},
		stock.RubOn:        {"do not mirror it again", "rub it down"},
		stock.SkinTransfer: {"do not mirror it again", "sponge"},
		stock.ByHand:       {"jig", "letter the words"},
	}
	seen := map[string]stock.Medium{}
	for _, m := range stock.Media() {
		s := batch(t, 8)
		steps := Steps(m, s.Words)
		all := strings.Join(steps, "\n")
		if other, ok := seen[all]; ok {
			t.Errorf("%v has the steps of %v", m, other)
		}
		seen[all] = m
		if len(words[m]) == 0 {
			t.Errorf("nothing is known of %v", m)
		}
		for _, w := range words[m] {
			if !strings.Contains(strings.ToLower(all), strings.ToLower(w)) {
				t.Errorf("%v: no word of %q", m, w)
			}
		}
		if steps[0] != s.Words.Steps.Test || steps[len(steps)-1] != s.Words.Steps.Retest || !strings.Contains(all, "Try the varnish") {
			t.Errorf("%v: %q", m, all)
		}
		if m.Mirrored() != strings.Contains(all, "laid out mirrored") {
			t.Errorf("%v: the word on mirroring", m)
		}
		s.Steps = steps
		s.Rings = []Ring{ring(0)}
		sheets, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := sound(sheets, 8); err != nil {
			t.Errorf("%v: %v", m, err)
		}
		for i, sh := range sheets {
			picture(t, fmt.Sprintf("%v-%d", m, i+1), sh)
		}
		if !strings.Contains(said(sheets), "|"+s.Words.CommonPractice) {
			t.Errorf("%v: not marked as common practice", m)
		}
	}
	if Steps(stock.NoMedium, batch(t, 1).Words) != nil {
		t.Error("steps for card")
	}
}

func plot(name string, w, h float64) *draw.Sheet {
	s := &draw.Sheet{Name: name, Size: geom.Size{W: w, H: h}}
	s.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, w, h)), Ink: draw.Ink{R: 1}})
	return s
}

// Small plots stand beside each other, none on another, none off the sheet.
func TestPlots(t *testing.T) {
	s := batch(t, 4)
	s.Plot = plot("spread", PlotWidth(s.Stock), 60)
	for range 9 {
		s.Plots = append(s.Plots, plot("strain", 58, 45))
	}
	s.Plots = append(s.Plots, nil, plot("high", 40, 900))
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	if err := sound(sheets, 4); err != nil {
		t.Error(err)
	}
	found := 0
	rows := map[string]int{}
	for i, sh := range sheets {
		var boxes []geom.Rect
		draw.Walk(sh.Layers[draw.Ground], func(o draw.Op, at geom.Affine, _ bool) {
			if f, ok := o.(*draw.Fill); ok && f.Ink == (draw.Ink{R: 1}) {
				b := f.Path.Transform(at).Bounds()
				for _, other := range boxes {
					if b.Overlaps(other) {
						t.Errorf("sheet %d: plots at %v and %v meet", i+1, b, other)
					}
				}
				boxes = append(boxes, b)
				rows[fmt.Sprintf("%d %.3f", i, b.Min.Y)]++
			}
		})
		found += len(boxes)
	}
	if found != 11 {
		t.Errorf("%d plots, want 11", found)
	}
	beside := 0
	for _, n := range rows {
		beside = max(beside, n)
	}
	if beside != 3 { // 3 x 58 mm and 2 gaps of 6 mm in 186 mm
		t.Errorf("%d plots beside each other, want 3", beside)
	}
}

func TestGoldenRings(t *testing.T) {
	s := batch(t, 5)
	s.Steps = Steps(stock.RubOn, s.Words)
	s.Rings = []Ring{ring(0), ring(1)}
	s.Plots = []*draw.Sheet{plot("strain", 58, 30), plot("strain", 58, 30)}
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for i, sh := range sheets {
		b.WriteString(sh.Dump())
		picture(t, fmt.Sprintf("rings-%d", i+1), sh)
	}
	golden.Check(t, "rings.txt", b.String(), os.ReadFile, os.WriteFile)
}
