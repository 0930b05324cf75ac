package batch

import (
	"strings"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
)

const a6 = `[[own_stock]]
key = "a6-film"
name = "yellowish film, A6"
like = "a5-film-white"
size_mm = [148, 105]
margin_mm = 4
thickness_mm = 0.03
colour = "#fffbe8"
`

func TestOwnStocks(t *testing.T) {
	src := strings.Replace(small, `film = "a4-film-white"`, `film = "a6-film"`, 1)
	for _, c := range []struct{ name, batch, workshop string }{
		{"in the batch file", strings.Replace(src, "[tank]", a6+"[tank]", 1), ""},
		{"in the workshop's", src, "format = 1\n" + a6},
	} {
		var w *Workshop
		var err error
		if c.workshop != "" {
			if w, err = ParseWorkshop("w", []byte(c.workshop)); err != nil {
				t.Fatal(list(err))
			}
		}
		f, err := Parse("b.toml", []byte(c.batch), nil, w)
		if err != nil {
			t.Fatalf("%s: %s", c.name, list(err))
		}
		s, ok := f.Stock(f.Film)
		// ISO 216: A6 is 105 x 148 mm; a sheet lies upright.
		if s.Grain != stock.FreeGrain || s.Grid != nil {
			t.Errorf("%s: grain %v, grid %v", c.name, s.Grain, s.Grid)
		}
		if !ok || s.Size != (geom.Size{W: 105, H: 148}) || s.Margin != 4 || s.Thickness != 0.03 || s.Colour != (draw.Ink{R: 0xff, G: 0xfb, B: 0xe8}) || s.Clear || !s.ForMarks() {
			t.Errorf("%s: %+v", c.name, s)
		}
	}
}

func TestBadOwnStocks(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`key = "a6-film"`, `key = "a4-film-white"`, "w:3:7: [[own_stock]] key: there is a built-in stock \"a4-film-white\" -> give it another key\n"},
		{`like = "a5-film-white"`, `like = "a5-film-whit"`, "w:5:8: [[own_stock]] like: there is no stock \"a5-film-whit\" -> write \"a5-film-white\"\n"},
		{`like = "a5-film-white"`, `lik = "a5-film-white"`, "w:2:3: [[own_stock]] like is missing -> add like = \"a5-film-white\"\nw:5:1: unknown key [[own_stock]] lik -> write like\n"},
		{`[148, 105]`, `[14.8, 10.5]`, "w:6:12: [[own_stock]] size_mm: 14.8 is out of range -> give a number from 30 to 1500 mm\n"},
		{`[148, 105]`, `148`, "w:6:11: [[own_stock]] size_mm is no size -> write width and height as in size_mm = [105, 148]\n"},
		{`margin_mm = 4`, `margin_mm = 50`, "w:3:7: [[own_stock]]: the margins leave 5 mm of a sheet 105 mm wide -> give smaller margins or a larger size\n"},
	} {
		_, err := ParseWorkshop("w", []byte("format = 1\n"+strings.Replace(a6, c.old, c.new, 1)))
		if got := list(err); got != c.want {
			t.Errorf("%s\ngot  %swant %s", c.new, got, c.want)
		}
	}
}

func TestMediumOfAnOwnStock(t *testing.T) {
	own := func(more string) string { return "format = 1\n[[own_stock]]\nkey = \"mine\"\n" + more }
	w, err := ParseWorkshop("w", []byte(own("like = \"b5-film-clear\"\nmedium = \"rub-on\"\ngrain = \"short\"\n")))
	if err != nil {
		t.Fatal(list(err))
	}
	// ISO 216: B5 is 176 x 250 mm.
	if s, ok := w.Stock("mine"); !ok || s.Medium != stock.RubOn || s.Bears != "rub-on" || s.Grain != stock.ShortGrain || s.Size != (geom.Size{W: 176, H: 250}) {
		t.Errorf("%+v", s)
	}
	if s, ok := w.Stock("a4-card"); !ok || s.Key != "a4-card" {
		t.Errorf("a built-in stock is found as %+v", s)
	}
	for more, want := range map[string]string{
		"like = \"a4-card\"\nmedium = \"sticker\"\n":       "w:5:10: [[own_stock]] medium: nothing of card goes on a float -> remove it, or let the stock be like film or a sticker: like = \"a4-film-white\"\n",
		"like = \"a4-film-white\"\nmedium = \"rubon\"\n":   "w:5:10: [[own_stock]] medium: \"rubon\" is none of the words for it -> write \"rub-on\"\n",
		"like = \"a4-film-white\"\nmedium = \"by-hand\"\n": "w:5:10: [[own_stock]] medium: \"by-hand\" is none of the words for it -> use one of: \"waterslide\", \"sticker\", \"tissue\", \"rub-on\", \"skin-transfer\"\n",
		"like = \"a4-film-white\"\ngrain = \"across\"\n":   "w:5:9: [[own_stock]] grain: \"across\" is none of the words for it -> use one of: \"free\", \"long\", \"short\"\n",
	} {
		_, err := ParseWorkshop("w", []byte(own(more)))
		if got := list(err); got != want {
			t.Errorf("%s\ngot  %swant %s", more, got, want)
		}
	}
}

const labels = `format = 1
[[own_stock]]
key = "labels"
like = "a4-sticker"
grain = "long"
grid = { rows = 8, columns = 3, first_mm = [7, 15], cell_mm = [63, 33], pitch_mm = [66, 34] }
`

func TestGridOfAnOwnStock(t *testing.T) {
	w, err := ParseWorkshop("w", []byte(labels))
	if err != nil {
		t.Fatal(list(err))
	}
	if s := w.Stocks[0]; s.Grain != stock.LongGrain || s.Grid == nil || s.Grid.Rows != 8 || s.Grid.Pitch.H != 34 || s.Grid.First.Y != 15 {
		t.Errorf("%+v, %+v", s, s.Grid)
	}
	for _, c := range []struct{ old, new, want string }{
		{`columns = 3`, `columns = 4`, "w:6:8: [[own_stock]] grid: the labels reach 268 mm by 286 mm on a sheet of 210 mm by 297 mm -> measure the first label's corner, and the pitch over several labels\n"},
		{`rows = 8`, `rows = 8.5`, "w:6:17: [[own_stock]] grid rows: 8.5 is no count -> give a whole number\n"},
		{`rows`, `row`, "w:6:8: [[own_stock]] grid rows is missing -> add rows = 8\nw:6:10: unknown key [[own_stock]] grid row -> write rows\n"},
		{`cell_mm = [63, 33]`, `cell_mm = 63`, "w:6:63: [[own_stock]] grid cell_mm is no pair -> write two numbers, across and down, as in cell_mm = [63, 33]\n"},
	} {
		_, err := ParseWorkshop("w", []byte(strings.Replace(labels, c.old, c.new, 1)))
		if got := list(err); got != c.want {
			t.Errorf("%s\ngot  %swant %s", c.new, got, c.want)
		}
	}
}
