package stock

import (
	"math"
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Reduction returns the whole dots that come off every dark run of a code to
// make up for the printer's gain: the nearest to twice the gain, halves down.
// What remains is half a dot an edge at most.
func (p Printer) Reduction() int {
	if !(p.Gain > 0) {
		return 0
	}
	const hair = 1e-9 // so that an exact half goes down
	return int(math.Ceil(2*p.Gain/p.Dot() - 0.5 - hair))
}

// reduced returns ops with the reduction taken off their fills, inside groups
// too. What is white is no ink that could spread.
func reduced(ops []draw.Op, take int, dot float64) []draw.Op {
	if take == 0 {
		return ops
	}
	out := make([]draw.Op, len(ops))
	for i, o := range ops {
		switch o := o.(type) {
		case *draw.Group:
			out[i] = &draw.Group{Name: o.Name, At: o.At, Rigid: o.Rigid, Ops: reduced(o.Ops, take, dot)}
		case *draw.Fill:
			out[i] = o
			if o.Ink != draw.White {
				out[i] = &draw.Fill{Path: Reduce(o.Path, take, dot), Ink: o.Ink}
			}
		default:
			out[i] = o
		}
	}
	return out
}

// Reduce returns the dark squares of a code with take dots of dot mm off every
// dark run, both across and down: what trade calls bar-width reduction. Half
// comes off each side, the odd dot at the left and the top, so that edges stay
// on dots. A dark run keeps one dot at least.
//
// The path is one of closed rings of axis-parallel edges, filled by the non-zero
// rule, in which two dark squares that meet at a corner have each their own
// corner there; any other path is returned as it is.
func Reduce(p geom.Path, take int, dot float64) geom.Path {
	rings, ok := corners(p)
	if !ok {
		return p
	}
	most := int(math.Floor(pitch(rings)/dot+0.01)) - 1 // a hundredth is rounding
	take = min(take, most)
	if take <= 0 {
		return p
	}
	side := 1.0 // dark lies to the right of an edge, or to the left on a mirrored path
	if p.Area(dot) < 0 {
		side = -1
	}
	near := float64(take-take/2) * dot
	far := float64(take/2) * dot
	// in is how far an edge moves that has dark on the side of growing (to > 0)
	// or of falling coordinates.
	in := func(to float64) float64 {
		if to > 0 {
			return near
		}
		return -far
	}
	var out geom.Path
	for _, ring := range rings {
		for i, q := range ring {
			before, after := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
			for _, e := range [...]geom.Point{q.Sub(before), after.Sub(q)} {
				// Running right, the dark is below; running down, at the left.
				if e.Y == 0 {
					q.Y = ring[i].Y + in(side*e.X)
				} else {
					q.X = ring[i].X + in(-side*e.Y)
				}
			}
			if i == 0 {
				out.MoveTo(q)
			} else {
				out.LineTo(q)
			}
		}
		out.Close()
	}
	return out
}

// corners returns the rings of a path and whether all their edges are
// axis-parallel.
func corners(p geom.Path) (rings [][]geom.Point, ok bool) {
	var ring []geom.Point
	for _, s := range p {
		switch s.Verb {
		case geom.Move:
			if ring != nil {
				return nil, false // an open one
			}
			ring = []geom.Point{s.P[0]}
		case geom.Line:
			ring = append(ring, s.P[0])
		case geom.Cubic:
			return nil, false
		case geom.Close:
			for i, q := range ring {
				if d := ring[(i+1)%len(ring)].Sub(q); (d.X == 0) == (d.Y == 0) {
					return nil, false
				}
			}
			if len(ring) < 4 {
				return nil, false
			}
			rings, ring = append(rings, ring), nil
		}
	}
	return rings, ring == nil && rings != nil
}

// pitch returns the least distance of two edges that run alike, wherever they
// lie: no dark run is narrower.
func pitch(rings [][]geom.Point) float64 {
	var xs, ys []float64
	for _, r := range rings {
		for _, q := range r {
			xs, ys = append(xs, q.X), append(ys, q.Y)
		}
	}
	least := math.Inf(1)
	for _, v := range [...][]float64{xs, ys} {
		slices.Sort(v)
		for i := 1; i < len(v); i++ {
			const same = 1e-6 // mm: far below a dot, far above rounding
			if d := v[i] - v[i-1]; d > same {
				least = min(least, d)
			}
		}
	}
	return least
}
