package decal

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// onGrid places the pieces on the labels of die-cut sheets, one to a label, in
// the middle, part-used sheets first. A label is cut already: captions and cut
// lines are left out, and which label is whose stands on the job sheet by the
// order of the floats. A piece that goes on no label is a NoFit error.
func (o Order) onGrid(pieces []nest.Piece) ([]Laid, nest.Report, error) {
	cells := o.Stock.Grid.Cells()
	type place struct{ sheet, cell int }
	var free []place
	for i, s := range o.Open {
		for c, cell := range cells {
			if !touched(s.Taken, cell) {
				free = append(free, place{i, c})
			}
		}
	}
	report := nest.Report{Rule: "one to a label"}
	next := len(o.Open)
	byIndex := map[int]int{}
	var laid []Laid
	for i, p := range pieces {
		turn, ok := fitting(p, o.Stock.Grid.Cell)
		if !ok {
			b := p.Outline.Bounds()
			mm := func(v float64) string { return o.Words.Millimetre(unit.Millimetre(v), 0.1) }
			return nil, nest.Report{}, fault.New(fault.NoFit, p.Name, fmt.Sprintf("the piece of %s by %s does not fit on a label of %s by %s", mm(b.W()), mm(b.H()),
				mm(o.Stock.Grid.Cell.W), mm(o.Stock.Grid.Cell.H)), "use larger labels, or make the mark smaller: fit = \"patch\" with a width")
		}
		if len(free) == 0 {
			for c := range cells {
				free = append(free, place{next, c})
			}
			next++
			report.Fresh++
		}
		at := free[0]
		free = free[1:]
		n, seen := byIndex[at.sheet]
		if !seen {
			n = len(laid)
			byIndex[at.sheet] = n
			laid = append(laid, o.fresh(at.sheet))
		}
		cell := cells[at.cell]
		turned := geom.Rotate(float64(turn) * math.Pi / 2)
		b := p.Outline.Transform(turned).Bounds()
		move := turned.Then(geom.Translate((cell.Min.X+cell.Max.X-b.Min.X-b.Max.X)/2, (cell.Min.Y+cell.Max.Y-b.Min.Y-b.Max.Y)/2))
		bare := &draw.Sheet{Name: p.Drawing.Name}
		for _, l := range []draw.Layer{draw.Ground, draw.Colour} {
			bare.Layers[l] = p.Drawing.Layers[l]
		}
		laid[n].Sheet.Place(bare, move)
		laid[n].Pieces = append(laid[n].Pieces, i)
		laid[n].Spent = append(laid[n].Spent, geom.Rectangle(cell))
		report.Pieces += math.Abs(p.Outline.Area(0.01))
	}
	for _, l := range laid {
		if l.Open >= 0 {
			report.Used++
		}
	}
	return laid, report, nil
}

// fresh is a sheet before anything lies on it, by its place in the order of
// part-used and fresh ones.
func (o Order) fresh(i int) Laid {
	l := Laid{Sheet: &draw.Sheet{Size: o.Stock.Size}, Open: -1, Feed: o.Feed}
	if i < len(o.Open) {
		l.Open, l.Number, l.Feed = i, o.Open[i].Number, o.Open[i].Feed
	} else if o.Next > 0 {
		l.Number = o.Next + i - len(o.Open)
	}
	l.Sheet.Name = fmt.Sprintf("%s %d", o.Words.Sheet, max(l.Number, i+1-len(o.Open)))
	return l
}

func touched(taken []geom.Path, cell geom.Rect) bool {
	const edges = 0.01 // mm: labels that share an edge are two
	for _, t := range taken {
		if t.Bounds().Overlaps(cell.Inset(edges)) {
			return true
		}
	}
	return false
}

// fitting returns the liked turn by which the piece goes on the label.
func fitting(p nest.Piece, cell geom.Size) (turn int, ok bool) {
	const slack = 1e-6
	turns := p.Turns
	if len(turns) == 0 {
		turns = []int{0}
	}
	for _, t := range turns {
		b := p.Outline.Transform(geom.Rotate(float64(t) * math.Pi / 2)).Bounds()
		if b.W() <= cell.W+slack && b.H() <= cell.H+slack {
			return t, true
		}
	}
	return 0, false
}
