package nest

import (
	"context"
	"errors"
	"math"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Area is one sheet, or what is left of it.
type Area struct {
	Size   geom.Size   // of the whole sheet, mm
	Margin float64     // nothing is laid nearer to the edge, mm, 0 or more
	Taken  []geom.Path // what is spent, in the sheet's coordinates; pieces stay the gap away from it
}

// Edge is an edge of a sheet as it is drawn.
type Edge int

// The edges.
const (
	Top Edge = iota
	Right
	Bottom
	Left
)

// Opposite returns the edge on the other side.
func (e Edge) Opposite() Edge { return (e + 2) % 4 }

// quarter is how often a sheet is turned clockwise so that the edge is on top.
func (e Edge) quarter() int { return int(4-e) % 4 }

// Options say how to pack.
type Options struct {
	Gap   float64 // least distance between pieces and to what is taken, mm, above 0: scissors need it
	Quick bool    // a few coarse rules, for a preview

	// Strip fills each sheet from one edge so that the rest is a rectangle; it
	// is for film that is sealed after printing, of which the strip is cut off.
	// The strip begins at the edge opposite to Feed. So the edge that the
	// printer grips and measures from stays the straight, unsealed one of the
	// factory until the sheet is used up, and what is left lies at the same
	// distance from it as before; a strip at the feed edge would have the next
	// print begin on a cut by hand. The price is the margin at the trailing
	// edge, which many printers have larger (common practice, no source): give
	// it as Margin.
	Strip bool
	Feed  Edge // the edge that goes into the printer first; looked at for Strip only

	Together bool // pieces of one Keep share a sheet, if one can hold them
	Grain    bool // the stock's grain binds: of the turns of a piece only 0 and 2 are allowed
	Across   bool // that grain runs across the sheet: 1 and 3 instead; looked at for Grain only
}

// Pack lays the pieces on sheets by their true outlines, each with a turn it
// allows, inside the margins, the gap apart and the gap away from what is
// taken. The part-used sheets are filled first, in their order, then as many
// fresh ones as it takes; a fresh Area without a size means that there are none.
// Placed.Sheet counts the part-used sheets from 0 and the fresh ones after them.
// The result is in the order of the pieces.
//
// A fixed portfolio of rules is run, two or more at a time where there are
// cores, and the layout is taken that opens the fewest fresh sheets and then
// spends least of the last one, equals by the order of the portfolio. Rows is
// part of it: no layout is worse than that of Rows with the same pieces, as far
// as they went on fresh sheets. No rule looks at a clock or at chance, so that
// the same pieces come to lie on the same places on every machine.
//
// Every layout is measured before it is returned: the outlines, flattened to
// 0.0005 mm, are at least the gap apart and inside, within 1e-7 mm for rounding.
// If not, it is a fault of class Ours and nothing is returned.
//
// progress, if there is one, is told how many of the portfolio's runs are done,
// from one goroutine at a time. A gap that is not above 0, a size, margin or
// taken region that is no number, turns that leave none over with the grain are
// Input faults; a piece larger than any sheet, or without a free region on any,
// is a NoFit fault (one for each, joined). The error of ctx is returned as it is.
func Pack(ctx context.Context, pieces []Piece, used []Area, fresh Area, o Options, progress func(done, total int)) ([]Placed, Report, error) {
	if err := admit(pieces, used, fresh, o); err != nil {
		return nil, Report{}, err
	}
	if len(pieces) == 0 {
		return nil, Report{}, nil
	}
	p := newProblem(pieces, used, fresh, o)
	best, err := p.bestOf(ctx, p.portfolio(o), progress)
	if err != nil {
		return nil, Report{}, err
	}
	if len(best.left) > 0 {
		return nil, Report{}, p.noRegion(best.left)
	}
	if best, err = p.settle(ctx, best, o); err != nil {
		return nil, Report{}, err
	}
	if err := p.verify(best.placed); err != nil {
		return nil, Report{}, err
	}
	return best.placed, p.report(best), nil
}

// admit refuses what cannot be packed at all.
func admit(pieces []Piece, used []Area, fresh Area, o Options) error {
	if !(o.Gap > 0) || math.IsInf(o.Gap, 1) {
		return fault.Inputf("give a gap above 0 mm, such as 2 mm for scissors", "the gap between pieces is no length above 0")
	}
	all := used
	if fresh.Size != (geom.Size{}) {
		all = append(all[:len(all):len(all)], fresh)
	}
	if len(all) == 0 {
		return fault.Inputf("name a stock or a part-used sheet", "there is no sheet to lay pieces on")
	}
	for _, a := range all {
		if err := a.admit(); err != nil {
			return err
		}
	}
	var errs []error
	for _, p := range pieces {
		ext := p.extent()
		switch {
		case !(ext.W() > 0 && ext.H() > 0 && finite(p.Outline) && finite(p.Beside)) || !finite(geom.Rectangle(p.Box)):
			return fault.New(fault.Ours, p.Name, "its outline or its box has no size", "")
		case !p.Box.Inset(-slack).Contains(ext):
			return fault.New(fault.Ours, p.Name, "its outline leaves its box", "")
		}
		turns := turnsOf(p, o)
		if len(turns) == 0 {
			only, bound := "across", "lengthwise"
			if o.Across {
				only, bound = bound, only
			}
			errs = append(errs, fault.New(fault.Input, p.Name, "its turns contradict each other: the piece lies "+only+" only, the grain of the stock binds it "+bound,
				"allow the piece to lie the other way, or use a stock whose grain does not bind"))
			continue
		}
		if !fitsAny(geom.Size{W: ext.W(), H: ext.H()}, turns, all) {
			errs = append(errs, fault.New(fault.NoFit, p.Name, "the piece of "+measures(geom.Size{W: ext.W(), H: ext.H()})+
				" does not fit into the "+measures(all[len(all)-1].room(0))+" that a sheet leaves", "use a larger stock, or make the mark smaller"))
		}
	}
	return errors.Join(errs...)
}

func (a Area) admit() error {
	const most = 1e5 // mm: a hundred metres is no sheet
	room := a.room(0)
	switch {
	case !(a.Size.W > 0 && a.Size.H > 0 && a.Size.W < most && a.Size.H < most) || !(a.Margin >= 0):
		return fault.Inputf("give the sheet's width, height and margin in mm", "a sheet or its margin has no size")
	case !(room.W > 0 && room.H > 0):
		return fault.Inputf("use a larger stock or a smaller margin", "margins of %s leave nothing of a sheet of %s", mm(a.Margin), measures(a.Size))
	}
	for _, t := range a.Taken {
		if !finite(t) {
			return fault.Inputf("give the used region anew", "a used region of a sheet has no size")
		}
	}
	return nil
}

// finite reports whether every coordinate is a number.
func finite(p geom.Path) bool {
	for _, s := range p {
		for _, q := range s.P {
			if v := q.X + q.Y; math.IsNaN(v) || math.IsInf(v, 0) {
				return false
			}
		}
	}
	return true
}

// fitsAny reports whether a piece fits an empty sheet in one of its turns.
func fitsAny(s geom.Size, turns []int, areas []Area) bool {
	for _, a := range areas {
		room := a.room(0)
		for _, t := range turns {
			k := kind{size: s}
			if w := k.turned(t); w.W <= room.W+slack && w.H <= room.H+slack {
				return true
			}
		}
	}
	return false
}

// noRegion tells which pieces found no place.
func (p *problem) noRegion(left []int) error {
	var errs []error
	for _, i := range left {
		e := p.pieces[i].extent()
		errs = append(errs, fault.New(fault.NoFit, p.pieces[i].Name, "no free region of any sheet holds the piece of "+
			measures(geom.Size{W: e.W(), H: e.H()})+" and its gap", "use a fresh sheet or a larger stock, or free a region that is not spent"))
	}
	return errors.Join(errs...)
}
