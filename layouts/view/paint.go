package view

import (
	"math"
	"slices"

	"floatmark/loading/unit"
)

// paint is the colour of the body by height, without film: a table of averages,
// so that the edge of a coat is soft over a pixel and never lets what is below
// it show.
type paint struct {
	base, step float64 // mm
	colours    []rgb
}

const (
	paintPerPixel = 4
	maxPaint      = 1 << 16 // places of the table; a nearer camera sees edges soft
)

// coats makes the table for k pixels per mm.
func (s Scene) coats(k float64) paint {
	base, length := float64(s.Profile.Base()), float64(s.Profile.Length())
	n := int(min(maxPaint, math.Ceil(length*k*paintPerPixel)) + 1)
	p := paint{base: base, step: length / float64(n), colours: make([]rgb, n)}

	// Between two neighbouring edges the colour is one.
	edges := []float64{base, base + length}
	for _, c := range s.Coats {
		for _, z := range []float64{float64(c.From), float64(c.To)} {
			if z > base && z < base+length {
				edges = append(edges, z)
			}
		}
	}
	slices.Sort(edges)
	soft := max(p.step, 0.5/k)
	for e := 1; e < len(edges); e++ {
		lo, hi := edges[e-1], edges[e]
		if lo == base {
			lo -= soft // the ends of the body are no edges of paint
		}
		if hi == base+length {
			hi += soft
		}
		colour := s.coat((edges[e-1] + edges[e]) / 2)
		// Each place looks at half a pixel about its middle.
		first, last := int((lo-soft-base)/p.step), int((hi+soft-base)/p.step)
		for i := max(0, first); i <= min(n-1, last); i++ {
			mid := base + (float64(i)+0.5)*p.step
			share := max(0, min(mid+soft/2, hi)-max(mid-soft/2, lo)) / soft
			for c := range colour {
				p.colours[i][c] += colour[c] * float32(share)
			}
		}
	}
	return p
}

// coat returns the colour of the topmost coat at a height.
func (s Scene) coat(z float64) rgb {
	for _, c := range slices.Backward(s.Coats) {
		if unit.Millimetre(z) >= c.From && unit.Millimetre(z) <= c.To {
			return ink(c.Colour)
		}
	}
	return ink(bare)
}

func (p paint) at(z float64) rgb {
	return p.colours[min(max(int((z-p.base)/p.step), 0), len(p.colours)-1)]
}
