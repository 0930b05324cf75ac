package backer

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

// A ground that bleeds stays in the printable area, goes at most 3 mm beyond its
// trim and never onto a neighbour's card; crop marks keep off it; where there is
// room, it goes the whole 3 mm.
func TestBleedOnSheets(t *testing.T) {
	o := imposition(t)
	whole, two := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		o := o
		o.Stock.Size = rapid.SampledFrom([]geom.Size{{W: 210, H: 297}, {W: 297, H: 420}, {W: 148, H: 210}, {W: 215.9, H: 279.4}}).Draw(r, "sheet")
		o.Stock.Margin = rapid.Float64Range(0, 15).Draw(r, "margin")
		size := geom.Size{W: rapid.SampledFrom([]float64{60, 65, 74, 99, 105}).Draw(r, "w"), H: rapid.SampledFrom([]float64{85, 105, 148, 180, 210}).Draw(r, "h")}
		area := geom.XYWH(0, 0, size.W, size.H)
		if rapid.Bool().Draw(r, "flag") {
			area = geom.XYWH(Safe, 0, 40, 60)
		}
		blank := Laid{Front: &draw.Sheet{Name: "card", Size: size}, FrontAreas: []Area{{area, draw.Ink{G: 90}}}}
		per, err := PerSheet(size, o.Stock)
		if err != nil {
			return
		}
		cards := make([]Laid, per)
		for i := range cards {
			cards[i] = blank
		}
		sheets, err := Impose(cards, o)
		if err != nil {
			r.Fatal(err)
		}
		s := sheets[0].Front
		printable := geom.XYWH(0, 0, o.Stock.Size.W, o.Stock.Size.H).Inset(o.Stock.Margin)
		var trims, inks []geom.Rect
		for _, op := range s.Layers[draw.Ground] {
			g := op.(*draw.Group)
			trims = append(trims, area.Move(geom.Point{X: g.At.E, Y: g.At.F}))
			inks = append(inks, draw.Bounds([]draw.Op{op}))
		}
		for i, ink := range inks {
			// What a printer leaves blank inside a card's own trim is its safe zone.
			if over := ink; !printable.Inset(-Safe).Contains(over) {
				r.Fatalf("ground %v leaves the printable area %v", ink, printable)
			}
			if !trims[i].Inset(-Bleed).Contains(ink) || !ink.Inset(-1e-9).Contains(trims[i]) {
				r.Fatalf("ground %v of %v bleeds more than 3 mm, or less than nothing", ink, trims[i])
			}
			for k, card := range trims {
				if k != i && ink.Inset(1e-6).Overlaps(card) {
					r.Fatalf("ground %v runs onto card %v", ink, card)
				}
			}
			for _, op := range s.Layers[draw.Cut] {
				if b := draw.Bounds([]draw.Op{op}); b.Inset(-1e-7).Overlaps(ink.Inset(1e-6)) {
					r.Fatalf("mark %v runs into ground %v", b, ink)
				}
			}
			if math.Abs(trims[i].Min.Y-ink.Min.Y-Bleed) < 1e-9 {
				whole++
			}
		}
		if len(inks) > 1 {
			two++
		}
	})
	if whole == 0 || two == 0 {
		t.Errorf("%d whole bleeds, %d sheets of several: the test proves nothing", whole, two)
	}
}

// A fold along the grain is as it should be; across it is told, once the grain
// binds. Flat cards have none.
func TestGrainOfFolds(t *testing.T) {
	s := spec(t, sedge(t))
	s.Style.Kind = Fold
	side, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	s = looks(t)["header"]
	over, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	flat, err := Lay(spec(t, sedge(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		laid  Laid
		grain stock.Grain
		told  bool
	}{
		{"side fold, grain up the sheet", side, stock.LongGrain, false}, {"side fold, grain across", side, stock.ShortGrain, true}, {"side fold, unknown", side, stock.FreeGrain, false},
		{"header, grain up the sheet", over, stock.LongGrain, true}, {"header, grain across", over, stock.ShortGrain, false}, {"flat", flat, stock.ShortGrain, false},
	} {
		st := a4(t)
		st.Grain = c.grain
		if _, told := GrainOf(c.laid, st); told != c.told {
			t.Errorf("%s: told %v", c.name, told)
		}
	}
	// 300 g/m² of about 0.4 mm and a rule of 0.7 mm: about 1.3 mm.
	if w := Channel(0.4, Rule); math.Abs(w-1.3) > 1e-9 {
		t.Errorf("a channel of %v mm", w)
	}
}

// Round corners are quarter circles that touch both edges; a radius that would
// eat the card is refused.
func TestCorners(t *testing.T) {
	s := spec(t, sedge(t))
	s.Style.Corner = 4
	l, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, op := range l.Front.Layers[draw.Cut] {
		if _, ok := op.(*draw.Stroke); !ok {
			continue
		}
		b := draw.Bounds([]draw.Op{op})
		if math.Abs(b.W()-4) > 1e-6 || math.Abs(b.H()-4) > 1e-6 || math.Min(b.Min.X, ThirdA4.W-b.Max.X) > 1e-6 || math.Min(b.Min.Y, ThirdA4.H-b.Max.Y) > 1e-6 {
			t.Errorf("a corner at %v", b)
		}
		n++
	}
	if n != 4 {
		t.Errorf("%d corners", n)
	}
	s.Style.Corner = 30
	if _, err := Lay(s); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("a radius of 30 mm was taken: %v", err)
	}
}

// The hole of a back lies behind that of its front, and a folded card's back has
// the larger one.
func TestHolesMeet(t *testing.T) {
	s := spec(t, sedge(t))
	s.Style.Kind = Fold
	l, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	var holes []geom.Rect
	for _, op := range l.Front.Layers[draw.Guide] {
		if g, ok := op.(*draw.Group); ok && g.Name == "hang hole" {
			holes = append(holes, draw.Bounds([]draw.Op{g}))
		}
	}
	if len(holes) != 2 {
		t.Fatalf("%d holes", len(holes))
	}
	fold := l.Folds[0].From.X
	back, front := holes[0], holes[1]
	a, b := fold-(back.Min.X+back.Max.X)/2, (front.Min.X+front.Max.X)/2-fold
	if math.Abs(a-b) > 1e-9 || math.Abs(front.W()-Hole) > 1e-6 || back.W() <= front.W() {
		t.Errorf("holes of %v and %v mm, %v and %v from the fold", back.W(), front.W(), a, b)
	}
}
