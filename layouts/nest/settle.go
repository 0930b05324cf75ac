package nest

import (
	"context"

	"floatmark/layouts/geom"
)

// settle tries to better the fresh sheets of a layout: the last of them packed
// again for itself, which pays since single rules serve all sheets alike, then
// the last or all of them in plain rows. Rows win where they are as good: they
// are easier to cut and keep the order of the pieces.
func (p *problem) settle(ctx context.Context, best *result, o Options) (*result, error) {
	first, last := len(p.used), len(best.feet)-1
	if last > first && !o.Quick {
		again, err := p.repack(ctx, best, last, o)
		if err != nil {
			return nil, err
		}
		if again != nil && again.better(best) {
			best = again
		}
	}
	for _, from := range []int{last, first} {
		if rows := p.inRows(best, from, o); rows != nil && !best.better(rows) {
			best = rows
		}
	}
	return best, nil
}

// repack runs the portfolio on the pieces of one sheet; nil if they then need
// more than one.
func (p *problem) repack(ctx context.Context, best *result, sheet int, o Options) (*result, error) {
	some, at := p.on(best, func(s int) bool { return s == sheet })
	o.Strip, o.Feed = true, best.edge.Opposite()
	sub := newProblem(some, nil, p.fresh, o)
	r, err := sub.bestOf(ctx, sub.portfolio(o), nil)
	if err != nil || len(r.left) > 0 || len(r.feet) != 1 {
		return nil, err
	}
	return p.merge(best, r, at, sheet, "; last sheet: "+r.rule), nil
}

// inRows lays all pieces of the fresh sheets from a sheet on by Rows; nil if that
// cannot be.
func (p *problem) inRows(best *result, from int, o Options) *result {
	if from < len(p.used) || p.fresh.Size == (geom.Size{}) || len(p.fresh.Taken) > 0 {
		return nil
	}
	some, at := p.on(best, func(s int) bool { return s >= from })
	if len(some) == 0 {
		return nil
	}
	// Rows fill from the top: another edge is the sheet turned.
	q := 0
	if o.Strip || from > len(p.used) {
		q = best.edge.quarter()
	}
	size := p.fresh.Size
	if q%2 == 1 {
		size.W, size.H = size.H, size.W
	}
	for i := range some {
		var turns []int
		for _, t := range turnsOf(some[i], o) {
			turns = append(turns, t+q)
		}
		some[i].Turns = turns
		if !o.Together {
			some[i].Keep = ""
		}
	}
	placed, _, err := Rows(some, size, p.fresh.Margin, o.Gap)
	if err != nil {
		return nil
	}
	back, _ := corner(geom.Rect{Max: geom.Point{X: p.fresh.Size.W, Y: p.fresh.Size.H}}, q).Inverse()
	r := &result{placed: placed, edge: Edge(4-q) % 4}
	for i := range placed {
		placed[i].At = placed[i].At.Then(back)
	}
	rule := "rows of boxes"
	switch {
	case from > len(p.used):
		rule = best.rule + "; last sheet: " + rule
	case len(some) < len(p.pieces):
		rule = best.rule + "; fresh sheets: " + rule
	}
	out := p.merge(best, r, at, from, "")
	out.rule, out.edge = rule, r.edge
	p.judge(out)
	return out
}

// on returns the pieces on some sheets and their indices.
func (p *problem) on(r *result, want func(sheet int) bool) ([]Piece, []int) {
	var some []Piece
	var at []int
	for i, q := range r.placed {
		if want(q.Sheet) {
			some, at = append(some, p.pieces[i]), append(at, i)
		}
	}
	return some, at
}

// merge puts the layout of some pieces, whose sheets count from 0, into that of
// all, from sheet on.
func (p *problem) merge(all, some *result, at []int, sheet int, rule string) *result {
	out := &result{placed: append([]Placed(nil), all.placed...), rule: all.rule + rule, edge: all.edge}
	for i, q := range some.placed {
		out.placed[at[i]] = Placed{Piece: at[i], Sheet: sheet + q.Sheet, At: q.At}
	}
	p.judge(out)
	return out
}
