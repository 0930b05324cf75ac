package nest

import (
	"floatmark/layouts/geom"
	"floatmark/loading/unit"
)

// Report tells what a layout spends.
type Report struct {
	Used   int     // part-used sheets that took a piece
	Fresh  int     // fresh sheets opened
	Pieces float64 // net area of all outlines, mm²
	OnUsed float64 // of it on part-used sheets, mm²
	Spent  float64 // area inside the margins of the full fresh sheets and of the strip on the last, mm²

	// How many fresh sheets all pieces would fill, with a fraction: by their
	// area alone, and by their area with half the gap around it, which may
	// overhang a sheet's edges by as much. No layout opens fewer; a strip, which
	// has an edge more to overhang, may come out a little below. 0 without
	// fresh sheets.
	AreaBound, GapBound float64

	Strips []Strip // every sheet that took a piece, in order
	Rule   string  // what in the portfolio won, in words
}

// Strip is the part of a sheet that is spent: over its whole width from one edge.
type Strip struct {
	Sheet int       // as in Placed
	Edge  Edge      // where it begins
	Depth float64   // how far from the margin pieces reach, mm
	Part  geom.Rect // the same on the sheet, margin included, mm
}

// Net returns the share of the spent stock of fresh sheets that ends up on
// floats, 0 to 1; 0 if no fresh sheet was opened.
func (r Report) Net() float64 {
	if r.Spent <= 0 {
		return 0
	}
	return (r.Pieces - r.OnUsed) / r.Spent
}

// Sheets returns the fresh sheets spent, the last one by its strip.
func (r Report) Sheets(fresh Area) float64 {
	room := fresh.room(0)
	return r.Spent / float64(room.W*room.H)
}

func (p *problem) report(r *result) Report {
	out := Report{Rule: r.rule}
	touched := make([]bool, len(r.feet))
	for i, at := range r.placed {
		a := p.pieces[i].net()
		out.Pieces += a
		if at.Sheet < len(p.used) {
			out.OnUsed += a
		}
		touched[at.Sheet] = true
	}
	q := r.edge.quarter()
	for i, foot := range r.feet {
		if !touched[i] {
			continue
		}
		area := p.area(i)
		if i < len(p.used) {
			out.Used++
		} else {
			out.Fresh++
			room := area.room(q)
			if i < len(r.feet)-1 {
				out.Spent += float64(room.W * room.H)
			} else {
				out.Spent += float64(room.W * foot)
			}
		}
		// The strip in the turned sheet, margins included, and back.
		size := area.Size
		if q%2 == 1 {
			size.W, size.H = size.H, size.W
		}
		back, _ := area.view(q).Inverse()
		part := geom.Rectangle(geom.XYWH(-area.Margin, -area.Margin, size.W, area.Margin+foot)).Transform(back).Bounds()
		out.Strips = append(out.Strips, Strip{Sheet: i, Edge: r.edge, Depth: foot, Part: part})
	}
	if p.fresh.Size != (geom.Size{}) {
		out.AreaBound, out.GapBound = p.bounds(out.Pieces)
	}
	return out
}

// boundRes is the step in which grown areas are summed, mm.
const boundRes = 0.1

func (p *problem) bounds(net float64) (area, gap float64) {
	room, half := p.fresh.room(0), p.gap/2
	free := p.fresh.free(boundRes)
	taken := float64(room.W*room.H) - free
	sum := 0.0
	for i := range p.kinds {
		k := &p.kinds[i]
		n := int((k.size.H+p.gap)/boundRes) + 1
		one := 0.0
		for _, line := range grown(k.rings, half, -half+boundRes/2, boundRes, n) {
			for _, s := range line {
				one += float64((s.b - s.a) * boundRes)
			}
		}
		sum += float64(one * float64(k.count))
	}
	return net / free, sum / (float64((room.W+p.gap)*(room.H+p.gap)) - taken)
}

// pixelText writes a pixel's size; the finest is a sixteenth of a millimetre.
func pixelText(v float64) string { return unit.Millimetre(v).Text(0.0001, unit.Style{}) }
