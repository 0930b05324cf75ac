package backer

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
)

// looks are cards to be looked at, each arrangement and kind with short and long
// content; goldens of them say when one changes.
func looks(t fataler) map[string]Spec {
	all := map[string]Spec{}
	for i, name := range ArrangementNames() {
		for _, sides := range []int{1, 2} {
			s := spec(t, sedge(t))
			s.Style = Style{Arrangement: Arrangement(i), Sides: sides}
			key := name + "-" + string(rune('0'+sides))
			s.Card.Shotting = []label.Shotting{{Place: label.AtFloat, Shots: 2, Each: 0.25, Text: "1 No.1 on each side of the float"}, {Place: label.Downline, Shots: 2, Each: 0.1, Text: "1 No.3 + 1 No.6 as droppers"}}
			all[key] = s
			if sides == 2 {
				long := s
				p := *s.Card.Pattern
				p.Name = "Sedge waggler with an exchangeable tip, large"
				long.Card.Pattern = &p
				long.Card.Rating, long.Card.Add, long.Card.BuiltIn = "about 12.55 g", "about 0.78 g", "11.77 g"
				long.Card.EAN = "6291041500213"
				also := long.Card
				also.Language, also.Kind, also.Length = "Deutsch", "vorbeschwert", "174 mm lang"
				long.Also, long.Second = &also, s.Words
				long.Card.Maker.Name = "Withy Sluice Floats and Tackle Makers"
				all[key+"-long"] = long
			}
		}
	}
	own := all["pennant-2"]
	own.Emblem = geom.Circle(geom.Point{X: 50, Y: 50}, 40)
	own.Emblem = append(own.Emblem, geom.Polygon(geom.Point{X: 100, Y: 20}, geom.Point{X: 160, Y: 50}, geom.Point{X: 100, Y: 80})...)
	own.Style.Corner, own.Style.Ground, own.Style.Ink = 4, &draw.Ink{R: 243, G: 239, B: 228}, &draw.Ink{R: 29, G: 43, B: 58}
	own.Style.Accent = &draw.Ink{R: 29, G: 78, B: 73}
	all["own-colours"] = own
	shallow := spec(t, bobber(t))
	shallow.Style.Arrangement = Stream
	all["shallow-stream"] = shallow
	fold := all["bank-2"]
	fold.Style.Kind = Fold
	all["fold"] = fold
	header := all["bank-2"]
	header.Style.Kind, header.Size, header.Style.Hang = Header, geom.Size{W: 99, H: 85}, EuroSlot
	header.Card.Rows, header.Card.Shotting = header.Card.Rows[:1], nil
	all["header"] = header
	set := all["bank-2"]
	second, third := sedge(t), bobber(t)
	second.ID, second.Code, third.ID, third.Code = "JPPHHE", "HTTPS://F.EXAMPLE/JPPHHE", "TP8MDS", "HTTPS://F.EXAMPLE/TP8MDS"
	set.Set = []Member{{Card: set.Card}, {Card: second}, {Card: third}}
	set.Card = label.SetOf([]label.Card{set.Card, second, third}, set.Words)
	set.Card.Price, set.Card.EAN = "£17.00", "6291041500213"
	set.Size = geom.Size{W: 148, H: 210}
	all["set"] = set
	set.Style.Arrangement = Pennant
	all["set-pennant"] = set
	set.Style.Arrangement, set.Style.Sides = Stream, 1
	all["set-stream"] = set
	tube := all["bank-1"]
	tube.Style.Kind, tube.Size = Insert, geom.Size{W: 62, H: 200}
	all["insert"] = tube
	return all
}

// TestLook keeps every look as a golden of its drawing lists, front and back, and
// draws them where LOOK names a folder.
func TestLook(t *testing.T) {
	for name, s := range looks(t) {
		if err := sound(s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		laid, err := Lay(s)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		dump := laid.Front.Dump()
		if laid.Back != nil {
			dump += laid.Back.Dump()
		}
		golden.Check(t, "look-"+name+".txt", dump, os.ReadFile, os.WriteFile)
		if os.Getenv("LOOK") == "" {
			continue
		}
		for i, page := range laid.Single() {
			picture(t, name+strings.Repeat("-back", i), page)
		}
	}
}

// A maker's own mark and colours are on the card: the mark in its own shape, the
// words in his ink, the flag in his accent, the ground to the bleed.
func TestOwnMarkAndColours(t *testing.T) {
	s := looks(t)["own-colours"]
	m, err := compose(s)
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, b := range m.front.blocks {
		if b.name == "emblem" {
			found = true
			box := draw.Bounds(b.ops)
			if r := box.W() / box.H(); r < 150.0/80-1e-6 || r > 150.0/80+1e-6 { // as it was drawn: 10 to 160 by 10 to 90
				t.Errorf("the mark is %v, %.3f as wide as high", box, r)
			}
		}
	}
	if !found || len(m.front.areas) != 2 || m.front.areas[0].Ink != *s.Style.Ground || m.front.areas[1].Ink != *s.Style.Accent {
		t.Errorf("mark %v, areas %+v", found, m.front.areas)
	}
}

// The fullest card and the barest one in every language and arrangement, printed
// on both sides with a second language: all of it fits the default card, and
// nothing meets.
func TestEveryArrangementInEveryLanguage(t *testing.T) {
	tags := words.Tags()
	for i, tag := range tags {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		other, err := words.For(tags[(i+1)%len(tags)])
		if err != nil {
			t.Fatal(err)
		}
		page := words.PageFor(tag)
		for a, name := range ArrangementNames() {
			full := spec(t, inWords(t, w, w.Loaded, w.BuiltInWeight+w.Colon+w.Name("hard lead")+", "+w.ContainsLead+", "+w.WashHands))
			full.Words, full.Second = w, other
			full.Style = Style{Arrangement: Arrangement(a), Sides: 2}
			full.Card.EAN = "6291041500213"
			full.Card.Shotting = []label.Shotting{{Place: label.AtFloat, Shots: 2, Each: 0.25, Text: fmt.Sprintf(page.EachSide, "1 No.1")}, {Place: label.Downline, Shots: 2, Each: 0.1, Text: fmt.Sprintf(page.Dropper, "1 No.3 + 1 No.6")}}
			also := inWords(t, other, other.Loaded, other.BuiltInWeight+other.Colon+other.Name("hard lead")+", "+other.ContainsLead+", "+other.WashHands)
			also.Language = words.CardFor(other.Language).Own
			full.Also = &also
			bare := spec(t, inWords(t, w, w.Unloaded, w.BuiltInWeight+w.Colon+w.Nothing+", "+w.NoLead))
			bare.Words, bare.Style = w, full.Style
			p := *bare.Card.Pattern
			p.Name = "Bob"
			bare.Card.Pattern, bare.Card.Rows, bare.Card.BuiltIn, bare.Card.Price, bare.Card.Code = &p, nil, "", "", ""
			bare.Card.Rating, bare.Card.Add, bare.Style.NoPicture = w.Gram(2, 1), w.Gram(2, 1), true
			for kind, s := range map[string]Spec{"full": full, "bare": bare} {
				if err := sound(s); err != nil {
					t.Errorf("%s, %s, %s: %v", tag, name, kind, err)
					continue
				}
				if os.Getenv("LOOK") == "" {
					continue
				}
				laid, err := Lay(s)
				if err != nil {
					t.Fatal(err)
				}
				for i, page := range laid.Single() {
					picture(t, kind+"-"+name+"-"+tag+strings.Repeat("-back", i), page)
				}
			}
		}
	}
}

func BenchmarkTwoSided(b *testing.B) {
	s := spec(b, sedge(b))
	s.Style.Sides = 2
	s.Card.EAN = "6291041500213"
	b.ReportAllocs()
	for b.Loop() {
		for i := range 100 {
			s.Card.Number = i
			if _, err := Lay(s); err != nil {
				b.Fatal(err)
			}
		}
	}
}
