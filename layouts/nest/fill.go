package nest

import (
	"cmp"
	"context"
	"math"
	"slices"

	"floatmark/layouts/geom"
)

// put is a piece on a sheet as a rule sees it: the sheet turned so that it fills
// from the top.
type put struct {
	piece, sheet int
	turn         int     // of the piece, as the rule sees it
	x, y         float64 // top left corner of its box in the usable part, mm
	foot         float64 // bottom of its box, mm
}

// member is one piece of a row, from the row's corner, in pixels.
type member struct{ turn, u, v int }

// form is something that is placed as one: a piece in one turn, or a row of
// equal pieces.
type form struct {
	mask    *mask
	members []member
	memo    int // where a sheet remembers the first place not ruled out
}

// load is what is placed as one, in any of its forms.
type load struct {
	kind   int
	pieces []int // as many as the forms have members
	forms  []form
}

// leaf is a sheet being filled.
type leaf struct {
	grid *grid
	room geom.Size
	next []spot // by memo: sheets only fill up, so that no place is tried twice
	foot float64
}

// fill is one run of a rule.
type fill struct {
	*problem
	rule   rule
	forms  [][]form // by kind
	leaves []*leaf
	blank  *leaf // an empty fresh sheet; nil if there is none
	memos  int
	puts   []put
	left   []int // pieces that found no place
}

// fillBy runs a rule over the problem. The error is the context's.
func (p *problem) fillBy(ctx context.Context, r rule, masks *maskSet) (*fill, error) {
	f := &fill{problem: p, rule: r}
	for i := range p.kinds {
		var forms []form
		for _, t := range r.lying(p.kinds[i].turns) {
			turn := (t + r.quarter) % 4
			forms = append(forms, form{mask: masks.of(i, turn), members: []member{{turn: turn}}, memo: f.memos})
			f.memos++
		}
		f.forms = append(f.forms, forms)
	}
	var units [][]load
	if r.row > 1 && len(p.groups) == len(p.pieces) {
		units = f.rows()
	} else {
		units = f.units(p.groups)
	}
	for _, a := range p.used {
		f.leaves = append(f.leaves, f.leaf(a))
	}
	if f.fresh.Size != (geom.Size{}) {
		f.blank = f.leaf(f.fresh)
	}
	for _, u := range units {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		f.add(u)
	}
	return f, nil
}

func (f *fill) leaf(a Area) *leaf {
	return &leaf{grid: a.raster(f.rule.quarter, f.gap, f.rule.res), room: a.room(f.rule.quarter), next: make([]spot, f.memos)}
}

// another returns a copy to fill.
func (l *leaf) another() *leaf {
	return &leaf{grid: l.grid.clone(), room: l.room, next: slices.Clone(l.next), foot: l.foot}
}

// units puts groups of pieces into the rule's order; within a group likewise.
func (f *fill) units(groups [][]int) [][]load {
	units := make([][]load, len(groups))
	for i, g := range groups {
		for _, piece := range g {
			k := f.kindOf[piece]
			units[i] = append(units[i], load{kind: k, pieces: []int{piece}, forms: f.forms[k]})
		}
		slices.SortStableFunc(units[i], func(a, b load) int { return f.compare(a.kind, b.kind) })
	}
	slices.SortStableFunc(units, func(a, b []load) int {
		return cmp.Or(f.compare(a[0].kind, b[0].kind), cmp.Compare(a[0].kind, b[0].kind))
	})
	return units
}

// compare orders kinds by the rule's measure, the greater first.
func (f *fill) compare(a, b int) int {
	m := func(kind int) float64 {
		s := f.kinds[kind].size
		switch f.rule.order {
		case byLength:
			return max(s.W, s.H)
		case byWidth:
			return min(s.W, s.H)
		}
		return f.forms[kind][0].mask.area
	}
	return cmp.Compare(m(b), m(a))
}

// add places a unit on the first sheet that takes all of it, if need be on a new
// one; a unit too large for any sheet load by load, a row that fits nowhere
// piece by piece.
func (f *fill) add(unit []load) {
	for i := range f.leaves {
		if f.try(unit, i) {
			return
		}
	}
	if f.blank != nil {
		f.leaves = append(f.leaves, f.blank.another())
		if f.try(unit, len(f.leaves)-1) {
			return
		}
		f.leaves = f.leaves[:len(f.leaves)-1]
	}
	switch {
	case len(unit) > 1:
		for _, l := range unit {
			f.add([]load{l})
		}
	case len(unit[0].pieces) > 1:
		for _, piece := range unit[0].pieces {
			f.add([]load{{kind: unit[0].kind, pieces: []int{piece}, forms: f.forms[unit[0].kind]}})
		}
	default:
		f.left = append(f.left, unit[0].pieces...)
	}
}

// try places all of a unit on a sheet or changes nothing.
func (f *fill) try(unit []load, sheet int) bool {
	n, before := len(f.puts), (*leaf)(nil)
	if len(unit) > 1 {
		before = f.leaves[sheet].another()
	}
	for _, l := range unit {
		if !f.place(l, sheet) {
			if before != nil {
				f.leaves[sheet] = before
			}
			f.puts = f.puts[:n]
			return false
		}
	}
	return true
}

// place puts a load where the rule likes it best on one sheet.
func (f *fill) place(l load, sheet int) bool {
	leaf, res := f.leaves[sheet], f.rule.res
	var best *form
	var at spot
	least := math.Inf(1)
	for i := range l.forms {
		form := &l.forms[i]
		from := leaf.next[form.memo]
		most := spot{int(math.Floor((leaf.room.W - form.mask.w + slack) / res)), int(math.Floor((leaf.room.H - form.mask.h + slack) / res))}
		found, ok := spot{v: math.MaxInt}, false
		if most.u >= 0 && from.v <= most.v {
			found, ok = leaf.grid.find(form.mask, from, most)
			if !ok {
				found = spot{v: math.MaxInt}
			}
			leaf.next[form.memo] = found
		}
		if !ok {
			continue
		}
		if m := f.rule.measure(form.mask, found); m < least-slack || m < least+slack && found.u < at.u {
			best, at, least = form, found, m
		}
	}
	if best == nil {
		return false
	}
	leaf.grid.spend(best.mask, at.u, at.v)
	for i, m := range best.members {
		y := float64(at.v+m.v) * res
		p := put{piece: l.pieces[i], sheet: sheet, turn: m.turn, x: float64(at.u+m.u) * res, y: y,
			foot: y + f.kinds[l.kind].turned(m.turn).H}
		leaf.foot = max(leaf.foot, p.foot)
		f.puts = append(f.puts, p)
	}
	return true
}

// measure is what a rule wants least of, in mm.
func (r rule) measure(m *mask, at spot) float64 {
	y := float64(at.v) * r.res
	switch r.pick {
	case lowFoot:
		return y + m.h
	case lowCentre:
		return y + m.sink
	}
	return y
}

// lying returns those of the allowed turns that the rule's way of lying has,
// all if it has none of them.
func (r rule) lying(turns []int) []int {
	var out []int
	for _, t := range turns {
		if r.lie != anyWay && (t+r.quarter)%2 == int(r.lie-asIs) {
			out = append(out, t)
		}
	}
	if len(out) == 0 {
		return turns
	}
	return out
}
