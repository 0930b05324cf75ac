package nest

import (
	"cmp"
	"math"
	"slices"

	"floatmark/layouts/geom"
)

// manyKinds is from how many kinds on nearly equal ones are laid by a cover:
// floats measured one by one differ by tenths of a millimetre, and a thousand
// kinds would take minutes. Fewer are laid as they are, which spends 1 % less
// (measured on floats that differ by 5 %).
const manyKinds = 150

// Kinds with a common cover differ in width and height from the first of them
// by likeness at most, mm, and in area by likeArea of it. Larger covers waste
// more; smaller ones make more kinds (both chosen by trial on floats that
// differ by 5 %).
const (
	likeness = 0.4
	likeArea = 0.05
)

// covered returns the problem with a cover for all kinds that are nearly equal:
// all their shapes on one another, middle on middle.
func (p *problem) covered() *problem {
	out := *p
	out.kinds, out.kindOf = nil, make([]int, len(p.kindOf))
	order := make([]int, len(p.kinds))
	areas := make([]float64, len(p.kinds))
	for i := range order {
		order[i] = i
		for _, r := range p.kinds[i].rings {
			areas[i] += math.Abs(geom.Polygon(r...).Area(flatness))
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(areas[a], areas[b]) })
	var first []int // of each cover
	to := make([]int, len(p.kinds))
	for _, i := range order {
		k := &p.kinds[i]
		at := slices.IndexFunc(first, func(j int) bool {
			f := &p.kinds[j]
			return math.Abs(f.size.W-k.size.W) <= likeness && math.Abs(f.size.H-k.size.H) <= likeness &&
				areas[i]-areas[j] <= likeArea*areas[j] && slices.Equal(f.turns, k.turns)
		})
		if at < 0 {
			at = len(first)
			first = append(first, i)
			out.kinds = append(out.kinds, kind{turns: k.turns})
		}
		c := &out.kinds[at]
		c.count += k.count
		c.size = geom.Size{W: max(c.size.W, k.size.W), H: max(c.size.H, k.size.H)}
		to[i] = at
	}
	for _, i := range order {
		k, c := &p.kinds[i], &out.kinds[to[i]]
		c.rings = append(c.rings, turnRings(k.rings, geom.Translate((c.size.W-k.size.W)/2, (c.size.H-k.size.H)/2))...)
	}
	for i, k := range p.kindOf {
		out.kindOf[i] = to[k]
	}
	return &out
}
