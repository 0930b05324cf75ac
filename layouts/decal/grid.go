package decal

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// onGrid places the pieces on the labels of die-cut sheets, one to a label, in
// the middle, part-used sheets first; a label that reaches into the blank margin
// is passed over by a piece that would be cut off there. A label is cut already:
// captions and cut lines are left out, and which label is whose stands on the job
// sheet by the order of the floats. A piece that goes on no label is a NoFit error.
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
	bySheet := map[int]*Laid{}
	for i, p := range pieces {
		onto := func(at place) bool { _, ok := o.onLabel(p, cells[at.cell]); return ok }
		at := slices.IndexFunc(free, onto)
		if at < 0 { // none of what is left: a fresh sheet
			at = len(free)
			for c := range cells {
				free = append(free, place{len(o.Open) + report.Fresh, c})
			}
			next := slices.IndexFunc(free[at:], onto)
			if next < 0 {
				return nil, nest.Report{}, o.onNoLabel(p)
			}
			at += next
			report.Fresh++
		}
		on := free[at]
		free = slices.Delete(free, at, at+1)
		l := bySheet[on.sheet]
		if l == nil {
			one := o.fresh(on.sheet)
			l, bySheet[on.sheet] = &one, &one
		}
		bare := &draw.Sheet{Name: p.Drawing.Name}
		for _, layer := range []draw.Layer{draw.Ground, draw.Colour} {
			bare.Layers[layer] = p.Drawing.Layers[layer]
		}
		move, _ := o.onLabel(p, cells[on.cell])
		l.Sheet.Place(bare, move)
		l.Pieces = append(l.Pieces, i)
		l.Spent = append(l.Spent, geom.Rectangle(cells[on.cell]))
		report.Pieces += math.Abs(p.Outline.Area(0.01))
	}
	var laid []Laid
	for _, sheet := range slices.Sorted(maps.Keys(bySheet)) {
		laid = append(laid, *bySheet[sheet])
		if sheet < len(o.Open) {
			report.Used++
		}
	}
	return laid, report, nil
}

// onNoLabel is the error of a piece that no label of a fresh sheet takes.
func (o Order) onNoLabel(p nest.Piece) error {
	b, cell := p.Outline.Bounds(), o.Stock.Grid.Cell
	mm := func(v float64) string { return o.Words.Millimetre(unit.Millimetre(v), 0.1) }
	why := fmt.Sprintf("the piece of %s by %s does not fit on a label of %s by %s", mm(b.W()), mm(b.H()), mm(cell.W), mm(cell.H))
	if o.Stock.Grid.Corner > 0 {
		why += " with corners of " + mm(o.Stock.Grid.Corner)
	}
	do := "use larger labels, or make the mark smaller: fit = \"patch\" with a width"
	if o.Stock.Grain.Binds() {
		why += ", lying along its grain"
		do += "; or let its grain be free"
	}
	return fault.New(fault.NoFit, p.Name, why+fmt.Sprintf("; the outer %s of the sheet stay blank", mm(o.Stock.Margin)), do)
}

// onLabel returns where a piece lies in the middle of a label in the turn it likes
// best of those that keep it on the label, off the blank margin and along the grain.
func (o Order) onLabel(p nest.Piece, cell geom.Rect) (geom.Affine, bool) {
	const slack = 1e-6
	room := geom.XYWH(0, 0, o.Stock.Size.W, o.Stock.Size.H).Inset(o.Stock.Margin - slack)
	turns := p.Turns
	if len(turns) == 0 {
		turns = []int{0}
	}
	for _, t := range turns {
		if !o.Stock.Grain.Allows(t) {
			continue
		}
		turned := geom.Rotate(float64(t) * math.Pi / 2)
		b := p.Outline.Transform(turned).Bounds()
		if b.W() > cell.W()+slack || b.H() > cell.H()+slack {
			continue
		}
		at := turned.Then(geom.Translate((cell.Min.X+cell.Max.X-b.Min.X-b.Max.X)/2, (cell.Min.Y+cell.Max.Y-b.Min.Y-b.Max.Y)/2))
		if lies := p.Outline.Transform(at); room.Contains(lies.Bounds()) && o.Stock.Grid.Holds(cell, lies) {
			return at, true
		}
	}
	return geom.Affine{}, false
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
