package job

import (
	"bytes"
	"context"
	"runtime"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"

	"floatmark/label"
	"floatmark/layouts/backer"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/pdf"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
)

// TestCardsOfABatch plans the demonstration with cards on both sides in two
// languages: front and back by turns, as many as the sheets; what stands on the
// back is not on the front; cards of a pattern share a size; where the shot goes
// is told for the way the line is fixed.
func TestCardsOfABatch(t *testing.T) {
	p, err := demoWith(t, "[tank]\n", "[card]\nsides = 2\nsecond_language = \"de\"\n[tank]\n")
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Backers) != 2*p.CardSheets() || p.CardSheets() != 13 {
		t.Fatalf("%d pages of %d sheets, want 13 sheets of two cards", len(p.Backers), p.CardSheets())
	}
	if !noticed(p, "card-duplex") {
		t.Error("nothing is said of a printer whose back was never measured")
	}
	texts := func(s *draw.Sheet) string {
		var all []string
		for _, l := range draw.Layers() {
			draw.Walk(s.Layers[l], func(op draw.Op, _ geom.Affine, _ bool) {
				if g, ok := op.(*draw.Glyphs); ok {
					all = append(all, g.Text)
				}
			})
		}
		return strings.Join(all, "\n")
	}
	front, back := texts(p.Backers[0]), texts(p.Backers[1])
	for _, one := range []struct {
		text  string
		front bool
	}{{"£6.50", true}, {"8", true}, {"bench@withysluice.example", false}, {"JPPHHE", false}, {"DEUTSCH", false}, {"HOW TO SHOT IT", false}} {
		if has := strings.Contains("\n"+front+"\n", "\n"+one.text+"\n"); has != one.front {
			t.Errorf("%q stands on the front: %v", one.text, has)
		}
		if has := strings.Contains("\n"+back+"\n", "\n"+one.text+"\n"); has == one.front {
			t.Errorf("%q stands on the back: %v", one.text, has)
		}
	}
	step := map[*label.Pattern]int{}
	for i, l := range p.laidCards {
		pat := p.Floats[i].Float.Pattern
		if was, ok := step[pat]; ok && was != l.Step {
			t.Errorf("cards of %s are set in two sizes, %d and %d", pat.Name, was, l.Step)
		}
		step[pat] = l.Step
		if l.Tilt > 0.02 || l.Tilt < -0.02 {
			t.Errorf("card %d leans by %v", i+1, l.Tilt)
		}
	}
	for _, fp := range p.Floats {
		parts := fp.Card.Shotting
		if fp.Rating.Add > 0.3 && len(parts) == 0 {
			t.Errorf("float %d: nothing is said of where its shot goes", fp.Float.Number)
		}
		for _, part := range parts {
			if part.Text == "" || part.Place != label.StopAbove && !(part.Each > 0 && part.Shots > 0) {
				t.Errorf("float %d: %+v", fp.Float.Number, part)
			}
		}
		if fp.Card.Mass < fp.Card.Ballast {
			t.Errorf("float %d weighs %v with %v in it", fp.Float.Number, fp.Card.Mass, fp.Card.Ballast)
		}
	}
}

// A set of two on each card, with a price and a number of its own: half as many
// cards, each float's id, rating and code on it.
func TestCardsOfSets(t *testing.T) {
	_, err := demoWith(t, "[tank]\n", "[card]\nset = 2\nprice = \"11.00\"\nean = \"6291041500213\"\nsides = 2\nsize = \"a5\"\n[tank]\n")
	if fault.ClassOf(err) != fault.Input { // beside card_size_mm
		t.Fatalf("two sizes: %v", err)
	}
	p, err := demoWith(t, "[tank]\n", "[card]\nset = 2\nprice = \"11.00\"\nean = \"6291041500213\"\nsides = 2\n[tank]\n")
	if err != nil {
		t.Fatal(err)
	}
	if len(p.laidCards) != 13 || p.CardSheets() != 7 {
		t.Fatalf("%d cards on %d sheets", len(p.laidCards), p.CardSheets())
	}
	front, back := p.laidCards[0].Front.Dump(), p.laidCards[0].Back.Dump()
	for _, text := range []string{`"JPPHHE"`, `"TP8MDS"`, `"£11.00"`, `"set"`} {
		if !strings.Contains(front, text) {
			t.Errorf("the front of a set does not say %s", text)
		}
	}
	for _, text := range []string{"code HTTPS://F.EXAMPLE/JPPHHE", "code HTTPS://F.EXAMPLE/TP8MDS", "EAN-13 6291041500213"} {
		if !strings.Contains(back, text) {
			t.Errorf("the back of a set has no %s", text)
		}
	}
}

// Cards with a price and nobody who answers for them are refused at the maker's
// table, with the rule.
func TestCardsForSaleNeedAnAddress(t *testing.T) {
	_, err := demoWith(t, "address = [\"1 Weir Lane\", \"Exampleton EX1 1EX\"]\n", "")
	if fault.ClassOf(err) != fault.Input || err == nil || !strings.Contains(err.Error(), "2023/988, Article 9") {
		t.Errorf("got %v", err)
	}
}

func noticed(p *Plan, code string) bool {
	for _, n := range p.Notices {
		if n.Code == code {
			return true
		}
	}
	return false
}

// cardPages turns a back by the printer's own figures, and leaves a front.
func TestCardPagesKeepTheFront(t *testing.T) {
	p := stock.Plain()
	p.Duplex.X = 1
	s := &draw.Sheet{Size: geom.Size{W: 210, H: 297}}
	s.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(10, 10, 5, 5))})
	pages, err := cardPages([]backer.Sheet{{Front: s, Back: s}}, p)
	if err != nil || len(pages) != 2 {
		t.Fatal(len(pages), err)
	}
	front, back := pages[0].Bounds(draw.Colour), pages[1].Bounds(draw.Colour)
	if front.Min.X != 10 || back.Min.X != 11 { // one to the right as seen from the front is made up for
		t.Errorf("front at %v, back at %v", front.Min, back.Min)
	}
}

// BenchmarkHundredCards lays out, imposes and writes 100 cards printed on both
// sides, their marks drawn. It asks for less than 2 s and 200 MB; MB is what the
// whole program has taken from the system.
func BenchmarkHundredCards(b *testing.B) {
	shop, path, err := preview(Demo(b.TempDir()))
	if err != nil {
		b.Fatal(err)
	}
	src := strings.Replace(string(batch.Demo()), "[tank]\n", "[card]\nsides = 2\nsecond_language = \"de\"\n[tank]\n", 1)
	p, err := shop.PlanSource(context.Background(), path, []byte(src), nil)
	if err != nil {
		b.Fatal(err)
	}
	const cards = 100
	floats := p.Floats
	for len(p.Floats) < cards {
		p.Floats = append(p.Floats, floats...)
	}
	p.Floats = p.Floats[:cards]
	runtime.GC()
	for b.Loop() {
		p.Notices = nil
		if err := p.backers(); err != nil {
			b.Fatal(err)
		}
		var buf bytes.Buffer
		if err := pdf.Write(&buf, draw.Document{Title: "cards", Sheets: p.Backers}); err != nil {
			b.Fatal(err)
		}
		if len(p.Backers) != cards {
			b.Fatal(len(p.Backers))
		}
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/1e6, "MB")
}
