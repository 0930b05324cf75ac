package batch

import (
	"math"
	"strings"
	"testing"

	"floatmark/layouts/backer"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// carded is the small batch file with a table of cards, and lines more in [maker].
func carded(card, maker string) string {
	src := strings.Replace(small, "host = \"f.example\"\n", "host = \"f.example\"\n"+maker, 1)
	return strings.Replace(src, "[tank]\n", "[card]\n"+card+"\n[tank]\n", 1)
}

const answering = "address = [\"1 Weir Lane\", \"Exampleton EX1 1EX\"]\ncontact = \"bench@withysluice.example\"\n"

func TestCardTable(t *testing.T) {
	f, err := Parse("b.toml", []byte(carded(`kind = "fold"
arrangement = "pennant"
sides = 2
size = "a5"
hang = "slot"
holds = "none"
picture = "outline"
overhang_mm = 40
corner_mm = 3.5
second_language = "de-AT"
ground = "#f3efe4"
accent = "#18608e"
board_g_m2 = 250
own_mark = false`, answering)), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	got := f.Cards
	want := backer.Style{Kind: backer.Fold, Arrangement: backer.Pennant, Sides: 2, Hang: backer.EuroSlot, NoHolds: true, NoPicture: true, Overhang: 40, Corner: 3.5, Grammage: 250}
	ground, accent := got.Style.Ground, got.Style.Accent
	got.Style.Ground, got.Style.Accent = nil, nil
	if got.Style != want || got.Size != (geom.Size{W: 148, H: 210}) || got.Language != "de-AT" || !got.NoEmblem || !got.ForSale || got.Unanswered != nil {
		t.Errorf("%+v", got)
	}
	if ground == nil || *ground != (draw.Ink{R: 0xf3, G: 0xef, B: 0xe4}) || accent == nil || *accent != (draw.Ink{R: 0x18, G: 0x60, B: 0x8e}) {
		t.Errorf("ground %v, accent %v", ground, accent)
	}
	// Two thirds of the girth of a tube of 32 mm less a millimetre, in half millimetres.
	f, err = Parse("b.toml", []byte(carded("kind = \"insert\"\ntube_mm = 32", answering)), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	if w := f.Cards.Size.W; w != 64.5 || math.Abs(w-2.0/3*math.Pi*31) > 0.5 || f.Cards.Size.H != 210 {
		t.Errorf("a tube's insert is %v", f.Cards.Size)
	}
	f, err = Parse("b.toml", []byte(small), nil, nil)
	if err != nil || f.Cards.Style.Sides != 1 || f.Cards.Size != (geom.Size{}) || f.Cards.Style.Kind != backer.Flat {
		t.Errorf("a file without [card]: %+v, %v", f.Cards, err)
	}
}

func TestBadCards(t *testing.T) {
	for _, c := range []struct{ name, card, want string }{
		{"kind", `kind = "blister"`, "[card] kind"},
		{"arrangement", `arrangement = "banks"`, `write "bank"`},
		{"sides", `sides = 3`, "give a number from 1 to 2"},
		{"half a side", `sides = 1.5`, "is no count"},
		{"size", `size = "a44"`, `there is no size "a44"`},
		{"tube without insert", `tube_mm = 30`, "is for a tube's insert"},
		{"language", `second_language = "xx"`, "no words for the language"},
		{"colour", `ground = "cream"`, "is no colour"},
		{"flag", `for_sale = "yes"`, "neither true nor false"},
		{"unknown", `side = 2`, "write sides"},
		{"no whole sets", `set = 2`, "1 floats make no whole sets of 2"},
		{"seven on a card", `set = 7`, "give a number from 1 to 6"},
		{"price of no set", `price = "9.50"`, "there is one float on a card"},
		{"number of a set", "set = 1\nean = \"6291041500212\"", "the last one is 3"},
	} {
		_, err := Parse("b.toml", []byte(carded(c.card, answering)), nil, nil)
		if fault.ClassOf(err) != fault.Input || !strings.Contains(list(err), c.want) || !strings.Contains(list(err), "b.toml:") {
			t.Errorf("%s: %s, want %q", c.name, list(err), c.want)
		}
	}
}

// Cards for sale without who answers for the floats: the rule of the market is
// named, none where no rule was found, nothing where they are not sold.
func TestAddressForSale(t *testing.T) {
	for _, c := range []struct {
		card, maker string
		want, not   []string
	}{
		{"", "", []string{"no postal address", "no electronic address", "(EU) 2023/988, Article 9", "SI 2005/1803", "rules change", "for_sale = false"}, nil},
		{"", "market = \"EU\"\n", []string{"postal", "electronic", "2023/988"}, []string{"2005/1803"}},
		{"", "market = \"GB\"\n", []string{"postal", "2005/1803"}, []string{"2023/988", "electronic address:"}},
		{"", "market = \"US\"\n", nil, []string{"address"}},
		{"for_sale = false", "", nil, []string{"address"}},
		{"", answering, nil, []string{"address"}},
		{"", "contact = \"bench@withysluice.example\"\n", []string{"no postal address"}, []string{"no electronic"}},
	} {
		f, err := Parse("b.toml", []byte(carded(c.card, c.maker)), nil, nil)
		if err != nil {
			t.Fatal(list(err))
		}
		got := ""
		if f.Cards.Unanswered != nil {
			got = list(f.Cards.Unanswered)
			if fault.ClassOf(f.Cards.Unanswered) != fault.Input || !strings.Contains(got, "b.toml:4:") {
				t.Errorf("%q %q: %s", c.card, c.maker, got)
			}
		}
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%q %q: %q does not say %q", c.card, c.maker, got, w)
			}
		}
		for _, w := range c.not {
			if strings.Contains(got, w) {
				t.Errorf("%q %q: %q says %q", c.card, c.maker, got, w)
			}
		}
	}
}

// A trade item number is checked where it stands, and belongs to one article.
func TestEANOfArticles(t *testing.T) {
	with := func(rating, pattern string) string {
		src := strings.Replace(carded("", answering), "price = \"6.50\"\n", "price = \"6.50\"\n"+rating, 1)
		return strings.Replace(src, "name = \"Sedge\"\n", "name = \"Sedge\"\n"+pattern, 1)
	}
	f, err := Parse("b.toml", []byte(with("ean = \"6291041500213\"\n", "ean = \"7300011000017\"\n")), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	if got := f.Batch.EANOf(&f.Batch.Floats[0]); got != "6291041500213" {
		t.Errorf("the float's number is %q, want its rating's", got)
	}
	for _, c := range []struct{ rating, pattern, want string }{
		{"ean = \"6291041500212\"\n", "", "after 629104150021 the last one is 3"},
		{"", "ean = \"629104150021\"\n", "is no EAN-13"},
		{"ean = 6291041500213\n", "", "write it in quotation marks"},
	} {
		if _, err := Parse("b.toml", []byte(with(c.rating, c.pattern)), nil, nil); fault.ClassOf(err) != fault.Input || !strings.Contains(list(err), c.want) {
			t.Errorf("%s%s: %s, want %q", c.rating, c.pattern, list(err), c.want)
		}
	}
	two := with("ean = \"6291041500213\"\n", "") + `[[pattern]]
key = "rush"
name = "Rush"
kind = "loaded"
weight = "inside"
stations_mm = [[0, 3.4], [30, 16], [54, 13.4], [174, 3]]
waterline_mm = 158
tip_from_mm = 161
body = "#26262b"
tip = "#e4572e"
mark_from_mm = 30
mark_height_mm = 22
[[float]]
number = 2
pattern = "rush"
rating = "8 g"
built_in = "7.2 g"
metal = "brass"
reading = "0.83 g"
`
	if _, err := Parse("b.toml", []byte(two), nil, nil); !strings.Contains(list(err), "would stand on two articles, Sedge and Rush") {
		t.Errorf("one number on two patterns: %s", list(err))
	}
}

// A picture of 50 MB as a maker's own mark is refused by its size.
func TestHugePictureRefused(t *testing.T) {
	huge := make([]byte, 50<<20)
	src := strings.Replace(small, "[tank]\n", "own_mark = \"mark.png\"\n[tank]\n", 1)
	_, err := Parse("b.toml", []byte(src), func(string) ([]byte, error) { return huge, nil }, nil)
	if fault.ClassOf(err) != fault.Input || !strings.Contains(list(err), "at most 4 MiB") {
		t.Errorf("50 MB: %s", list(err))
	}
}
