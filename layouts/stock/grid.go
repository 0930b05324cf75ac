package stock

import (
	"math"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Grid is how the labels of a die-cut sheet lie: even rows and columns. Lengths
// are mm.
type Grid struct {
	Rows, Columns int
	First         geom.Point // upper left corner of the first label
	Cell          geom.Size  // of a label
	Pitch         geom.Size  // from one label to the next, both ways
	Corner        float64    // radius of a label's corners
}

// mostCells bounds a grid: more labels than a sheet of A3 has square
// centimetres are a slip. Estimate.
const mostCells = 1300

// Sound tells what is wrong with a grid on a sheet of that size: an Input error.
func (g Grid) Sound(sheet geom.Size) error {
	mm := func(v float64) string { return unit.Millimetre(v).Text(0.1, unit.Style{}) }
	right := g.First.X + float64(g.Columns-1)*g.Pitch.W + g.Cell.W
	foot := g.First.Y + float64(g.Rows-1)*g.Pitch.H + g.Cell.H
	switch {
	case g.Rows < 1 || g.Columns < 1 || g.Rows*g.Columns > mostCells:
		return fault.Inputf("count the labels of one sheet", "a grid of %d rows and %d columns is none", g.Rows, g.Columns)
	case !(g.Cell.W > 0 && g.Cell.H > 0):
		return fault.Inputf("measure one label", "a label of %s by %s has no size", mm(g.Cell.W), mm(g.Cell.H))
	case g.Columns > 1 && !(g.Pitch.W >= g.Cell.W) || g.Rows > 1 && !(g.Pitch.H >= g.Cell.H):
		return fault.Inputf("measure from the edge of one label to the same edge of the next", "labels lie on each other: the pitch is less than a label")
	case !(g.First.X >= 0 && g.First.Y >= 0 && right <= sheet.W+1e-6 && foot <= sheet.H+1e-6):
		return fault.Inputf("measure the first label's corner, and the pitch over several labels", "the labels reach %s by %s on a sheet of %s by %s",
			mm(right), mm(foot), mm(sheet.W), mm(sheet.H))
	case !(g.Corner >= 0 && 2*g.Corner <= min(g.Cell.W, g.Cell.H)):
		return fault.Inputf("give a radius of at most half a label", "corners of %s do not suit labels of %s by %s", mm(g.Corner), mm(g.Cell.W), mm(g.Cell.H))
	}
	return nil
}

// Cells returns the labels, row by row from the top.
func (g Grid) Cells() []geom.Rect {
	var all []geom.Rect
	for r := range g.Rows {
		for c := range g.Columns {
			all = append(all, geom.XYWH(g.First.X+float64(float64(c)*g.Pitch.W), g.First.Y+float64(float64(r)*g.Pitch.H), g.Cell.W, g.Cell.H))
		}
	}
	return all
}

// Outlines returns the edges of the labels, in the order of Cells, with their
// round corners.
func (g Grid) Outlines() []geom.Path {
	var all []geom.Path
	for _, c := range g.Cells() {
		if g.Corner == 0 {
			all = append(all, geom.Rectangle(c))
			continue
		}
		var p geom.Path
		r := g.Corner
		in := c.Inset(r)
		for i, at := range [...]geom.Point{{X: in.Max.X, Y: in.Min.Y}, in.Max, {X: in.Min.X, Y: in.Max.Y}, in.Min} {
			a := float64(i-1) * math.Pi / 2
			p.Arc(at, r, a, a+math.Pi/2)
		}
		p.Close()
		all = append(all, p)
	}
	return all
}

// Holds reports whether an outline, mm on the sheet, lies on that label, clear of
// its round corners.
func (g Grid) Holds(label geom.Rect, outline geom.Path) bool {
	const flat, slack = 0.001, 1e-6
	core := label.Inset(g.Corner) // a label is all that is within a corner's radius of it
	for _, ring := range outline.Flatten(flat) {
		for _, q := range ring {
			off := geom.Point{X: max(core.Min.X-q.X, 0, q.X-core.Max.X), Y: max(core.Min.Y-q.Y, 0, q.Y-core.Max.Y)}
			far := off.Len()
			if g.Corner == 0 {
				far = max(off.X, off.Y)
			}
			if !(far <= g.Corner+slack) {
				return false
			}
		}
	}
	return true
}
