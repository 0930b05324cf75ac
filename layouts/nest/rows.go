package nest

import (
	"cmp"
	"math"
	"slices"

	"floatmark/layouts/geom"
)

// place is where an item lies inside the margins: its top left corner.
type place struct {
	item, sheet, turn int
	x, y              float64
}

// row is a shelf: pieces stand in it side by side from the left.
type row struct{ y, h, x float64 } // top, height, right end of the last piece

// layout is a set of sheets being filled.
type layout struct {
	room   geom.Size
	gap    float64
	rows   [][]row // by sheet
	places []place
}

// strategy is one way of filling rows. None looks at a clock or at chance.
type strategy struct {
	tallest bool // tallest first, equals in their order; otherwise in the order given
	lie     lie  // how a piece lies that opens a row
	tight   bool // the row that wastes least height; otherwise the first with room
	single  bool // one piece in a row, never going back to an earlier sheet
}

// lie says which of its allowed turns a piece opens a row with.
type lie int

const (
	liked   lie = iota // the first it allows
	flat               // lowest
	upright            // highest
)

// strategies, those that keep the order first: a later one must be better to
// be taken. The last is the floor that no layout may be worse than.
func strategies() []strategy {
	var all []strategy
	for _, tallest := range [...]bool{false, true} {
		for _, tight := range [...]bool{false, true} {
			for _, l := range [...]lie{liked, flat, upright} {
				all = append(all, strategy{tallest: tallest, lie: l, tight: tight})
			}
		}
	}
	return append(all, strategy{lie: liked, single: true}, strategy{lie: flat, single: true})
}

// fewest runs every strategy and returns the layout with the fewest sheets,
// then the shortest strip on the last.
func fewest(items []item, room geom.Size, gap float64) *layout {
	var best *layout
	for _, s := range strategies() {
		l := &layout{room: room, gap: gap}
		for _, g := range groups(items, s) {
			l.add(g, s)
		}
		if best == nil || l.better(best) {
			best = l
		}
	}
	return best
}

func (l *layout) better(m *layout) bool {
	if len(l.rows) != len(m.rows) {
		return len(l.rows) < len(m.rows)
	}
	return l.foot() < m.foot()-slack
}

// foot returns the height of the strip on the last sheet.
func (l *layout) foot() float64 {
	r := l.rows[len(l.rows)-1]
	last := r[len(r)-1]
	return last.y + last.h
}

// groups puts the items in the strategy's order, those that belong on one sheet
// together at the place of the first of them.
func groups(items []item, s strategy) [][]item {
	order := slices.Clone(items)
	if s.tallest {
		slices.SortStableFunc(order, func(a, b item) int { return cmp.Compare(s.lay(b).h, s.lay(a).h) })
	}
	var out [][]item
	at := map[string]int{} // looked up only
	for _, it := range order {
		if i, ok := at[it.keep]; ok && it.keep != "" {
			out[i] = append(out[i], it)
			continue
		}
		at[it.keep] = len(out)
		out = append(out, []item{it})
	}
	return out
}

// lay returns the way a piece opens a row.
func (s strategy) lay(it item) way {
	v := it.ways[0]
	for _, w := range it.ways[1:] {
		if s.lie == flat && w.h < v.h || s.lie == upright && w.h > v.h {
			v = w
		}
	}
	return v
}

// add places a group on the first sheet that takes all of it, if need be a new
// one; a group too large for any sheet piece by piece.
func (l *layout) add(group []item, s strategy) {
	first := 0
	if s.single {
		first = max(0, len(l.rows)-1)
	}
	for sheet := first; sheet < len(l.rows); sheet++ {
		if l.try(group, sheet, s) {
			return
		}
	}
	l.rows = append(l.rows, nil)
	if l.try(group, len(l.rows)-1, s) {
		return
	}
	// Only a group of several can fail on an empty sheet: every way fits one.
	l.rows = l.rows[:len(l.rows)-1]
	for _, it := range group {
		l.add([]item{it}, s)
	}
}

// try places all of a group on a sheet or changes nothing.
func (l *layout) try(group []item, sheet int, s strategy) bool {
	rows, n := l.rows[sheet], len(l.places)
	if len(group) > 1 {
		rows = slices.Clone(rows)
	}
	for _, it := range group {
		var p place
		var ok bool
		if p, rows, ok = l.put(it, rows, s); !ok {
			l.places = l.places[:n]
			return false
		}
		p.sheet = sheet
		l.places = append(l.places, p)
	}
	l.rows[sheet] = rows
	return true
}

// put finds a piece's place in the rows of one sheet, in any turn it allows, or
// opens a row below them.
func (l *layout) put(it item, rows []row, s strategy) (place, []row, bool) {
	at, how, waste := -1, way{}, math.Inf(1)
	if !s.single {
		for i, r := range rows {
			for _, w := range it.ways {
				if w.h > r.h+slack || r.x+l.gap+w.w > l.room.W+slack {
					continue
				}
				if d := r.h - w.h; d < waste-slack {
					at, how, waste = i, w, d
				}
			}
			if at >= 0 && !s.tight {
				break
			}
		}
	}
	if at >= 0 {
		r := &rows[at]
		p := place{item: it.index, turn: how.turn, x: r.x + l.gap, y: r.y}
		r.x = p.x + how.w
		return p, rows, true
	}
	w, y := s.lay(it), 0.0
	if n := len(rows); n > 0 {
		y = rows[n-1].y + rows[n-1].h + l.gap
	}
	for _, other := range it.ways {
		// What is left of a sheet may still take the piece lying the other way.
		if y+w.h > l.room.H+slack && !s.single {
			w = other
		}
	}
	if y+w.h > l.room.H+slack {
		return place{}, rows, false
	}
	return place{item: it.index, turn: w.turn, y: y}, append(rows, row{y: y, h: w.h, x: w.w}), true
}
