package batch

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
)

const stockTab = "[[own_stock]]"

// stockKeys are the keys of a maker's own stock.
var stockKeys = []string{"key", "name", "like", "size_mm", "margin_mm", "thickness_mm", "colour", "clear", "medium", "grain", "grid"}

// gridKeys are those of a die-cut sheet's grid.
var gridKeys = []string{"rows", "columns", "first_mm", "cell_mm", "pitch_mm", "corner_mm"}

// The ranges catch a slip of the unit: estimates.
const (
	leastSheet, mostSheet = 30, 1500 // mm
	mostMargin            = 60       // mm
	mostThick             = 1        // mm
)

// ownStocks reads the tables [[own_stock]]: each is like a built-in stock but
// for what it says. A key of its own is needed, so that none is shadowed unseen.
func (r *reader) ownStocks(root *table) []stock.Stock {
	var all []stock.Stock
	for _, t := range r.subs(root, "own_stock", stockKeys) {
		c := r.cell(t, stockTab, "key", needed, false)
		like := r.cell(t, stockTab, "like", needed, false)
		if !c.ok() || !like.ok() {
			continue
		}
		if strings.ContainsFunc(c.text, notKey) {
			r.add(c.at, "use small letters, digits and hyphens", "%s: %q is no key", in(stockTab, "key"), c.text)
		}
		if _, built := stock.ByKey(c.text); built {
			r.add(c.at, "give it another key", "%s: there is a built-in stock %q", in(stockTab, "key"), c.text)
			continue
		}
		if _, twice := stockByKey(append(all, r.ownStock...), c.text); twice {
			r.add(c.at, "give each stock a key of its own", "%s: %q stands twice", in(stockTab, "key"), c.text)
			continue
		}
		var keys []string
		for _, s := range stock.Stocks() {
			if !s.Sheetless() {
				keys = append(keys, s.Key)
			}
		}
		s, ok := stock.ByKey(like.text)
		if !ok || s.Sheetless() {
			r.add(like.at, instead(like.text, keys), "%s: there is no stock %q", in(stockTab, "like"), like.text)
			continue
		}
		s.Key, s.Source = c.text, "the maker's own, like "+like.text
		if name := r.text(t, stockTab, "name", optional); name != "" {
			s.Name = name
		}
		s.Size = r.sheetSize(t, s.Size)
		s.Margin, _ = r.number(t, stockTab, "margin_mm", optional, 0, mostMargin, s.Margin)
		s.Thickness, _ = r.number(t, stockTab, "thickness_mm", optional, 0, mostThick, s.Thickness)
		s.Colour = draw.Ink(r.colour(t, stockTab, "colour", optional, label.Colour(s.Colour)))
		if e := t.get("clear"); e != nil {
			if e.val.kind != unstable.Bool {
				r.add(e.val.at, "write clear = true or clear = false", "%s is neither true nor false", in(stockTab, "clear"))
			}
			s.Clear = e.val.text == "true"
		}
		s = r.medium(t, s)
		s.Grain = r.grain(t)
		s.Grid = r.grid(t, s.Size)
		if room := min(s.Size.W, s.Size.H) - 2*s.Margin; room < leastSheet/2 {
			r.add(c.at, "give smaller margins or a larger size", "%s: the margins leave %s of a sheet %s wide", stockTab,
				fmt.Sprintf("%.0f mm", max(0, room)), fmt.Sprintf("%.0f mm", min(s.Size.W, s.Size.H)))
		}
		all = append(all, s)
	}
	return all
}

// medium reads how the stock goes on a body, if not as what it is like does.
func (r *reader) medium(t *table, s stock.Stock) stock.Stock {
	if t.get("medium") == nil {
		return s
	}
	var media []stock.Medium
	var words []string
	for _, m := range stock.Media() {
		if m != stock.ByHand {
			media, words = append(media, m), append(words, m.String())
		}
	}
	i, ok := r.choice(t, stockTab, "medium", needed, words...)
	if !ok {
		return s
	}
	other, ok := s.By(media[i])
	if !ok {
		r.add(t.get("medium").val.at, `remove it, or let the stock be like film or a sticker: like = "a4-film-white"`, "%s: nothing of %s goes on a float", in(stockTab, "medium"), s.Kind)
		return s
	}
	return other
}

// grain reads which way the fibres run.
func (r *reader) grain(t *table) stock.Grain {
	var words []string
	for _, g := range stock.Grains() {
		words = append(words, g.String())
	}
	i, _ := r.choice(t, stockTab, "grain", optional, words...)
	return stock.Grains()[i]
}

// grid reads the labels of a die-cut sheet: grid = { rows = 8, columns = 3,
// first_mm = [7, 15], cell_mm = [63, 33], pitch_mm = [66, 34] }.
func (r *reader) grid(t *table, sheet geom.Size) *stock.Grid {
	e := t.get("grid")
	if e == nil {
		return nil
	}
	tab := stockTab + " grid"
	if e.val.tab == nil {
		r.add(e.val.at, "write grid = { rows = 8, columns = 3, first_mm = [7, 15], cell_mm = [63, 33], pitch_mm = [66, 34] }", "%s is no grid", tab)
		return nil
	}
	g := e.val.tab
	r.known(g, tab, gridKeys)
	count := func(key string) int {
		v, ok := r.number(g, tab, key, needed, 1, 200, 0)
		if ok && v != float64(int(v)) {
			r.add(g.get(key).val.at, "give a whole number", "%s: %v is no count", in(tab, key), v)
		}
		return int(v)
	}
	pair := func(key string, n need) (a, b float64) {
		p := g.get(key)
		switch {
		case p == nil && n == needed:
			r.missing(g, tab, key)
		case p == nil:
		case p.val.kind != unstable.Array || len(p.val.list) != 2:
			r.add(p.val.at, "write two numbers, across and down, as in "+key+" = [63, 33]", "%s is no pair", in(tab, key))
		default:
			a, _ = r.plain(p.val.list[0], in(tab, key))
			b, _ = r.plain(p.val.list[1], in(tab, key))
		}
		return a, b
	}
	told := len(r.findings)
	var out stock.Grid
	out.Rows, out.Columns = count("rows"), count("columns")
	out.First.X, out.First.Y = pair("first_mm", needed)
	out.Cell.W, out.Cell.H = pair("cell_mm", needed)
	out.Pitch.W, out.Pitch.H = pair("pitch_mm", optional)
	out.Corner, _ = r.number(g, tab, "corner_mm", optional, 0, 100, 0)
	if out.Pitch == (geom.Size{}) {
		out.Pitch = out.Cell // labels that share their edges
	}
	if len(r.findings) == told {
		if err := out.Sound(sheet); err != nil {
			r.addErr(e.val.at, tab, err)
			return nil
		}
	}
	return &out
}

// sheetSize reads width and height; a sheet lies upright, so that the longer one
// is the height.
func (r *reader) sheetSize(t *table, size geom.Size) geom.Size {
	e := t.get("size_mm")
	if e == nil {
		return size
	}
	if e.val.kind != unstable.Array || len(e.val.list) != 2 {
		r.add(e.val.at, "write width and height as in size_mm = [105, 148]", "%s is no size", in(stockTab, "size_mm"))
		return size
	}
	var v [2]float64
	for i, n := range e.val.list {
		one, ok := r.plain(n, in(stockTab, "size_mm"))
		if ok && !(one >= leastSheet && one <= mostSheet) {
			r.add(n.at, fmt.Sprintf("give a number from %d to %d mm", leastSheet, mostSheet), "%s: %s is out of range", in(stockTab, "size_mm"), n.text)
			ok = false
		}
		if !ok {
			return size
		}
		v[i] = one
	}
	return geom.Size{W: min(v[0], v[1]), H: max(v[0], v[1])}
}

func stockByKey(all []stock.Stock, key string) (stock.Stock, bool) {
	for _, s := range all {
		if s.Key == key {
			return s, true
		}
	}
	return stock.Stock{}, false
}

// Stock finds a stock that the file can name: the maker's own, or a built-in one.
func (f *File) Stock(key string) (stock.Stock, bool) {
	if s, ok := stockByKey(f.Stocks, key); ok {
		return s, true
	}
	return stock.ByKey(key)
}
