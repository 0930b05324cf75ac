package nest

import (
	"math"
	"slices"
	"strconv"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// proofFlatness flattens outlines for the proof, mm: a hundredth of a dot, and
// finer than flatness, so that the proof sees what that may hide.
const proofFlatness = 0.0005

// solid is a piece on its sheet, measured without any raster.
type solid struct {
	name  string
	piece int
	rings [][]geom.Point
	box   geom.Rect
}

// verify proves a layout, apart from how it was found: every piece once, in a
// turn it allows, inside the margins, the gap away from every other and from
// what is taken.
func (p *problem) verify(placed []Placed) error {
	bySheet := map[int][]solid{} // looked up only, never ranged over
	most := 0
	for i, at := range placed {
		piece := p.pieces[i]
		wrong := func(what string) error {
			return fault.New(fault.Ours, "sheet "+strconv.Itoa(at.Sheet+1)+", "+piece.Name, what, "")
		}
		if at.Piece != i || at.At == (geom.Affine{}) || at.Sheet < 0 {
			return wrong("the piece was not placed")
		}
		if !p.allowed(i, at.At) {
			return wrong("the piece lies in a turn that it does not allow")
		}
		area := p.area(at.Sheet)
		s := solid{name: piece.Name, piece: i, rings: turnRings(piece.rings(proofFlatness), at.At), box: geom.Rectangle(piece.extent()).Transform(at.At).Bounds()}
		if !geom.XYWH(0, 0, area.Size.W, area.Size.H).Inset(area.Margin - slack).Contains(s.box) {
			return wrong("the piece leaves the sheet")
		}
		for _, t := range area.Taken {
			if nearer(s.rings, t.Flatten(proofFlatness), p.gap-slack) {
				return wrong("the piece lies on what is taken of the sheet, or too near to it")
			}
		}
		bySheet[at.Sheet] = append(bySheet[at.Sheet], s)
		most = max(most, at.Sheet)
	}
	for sheet := range most + 1 {
		all := bySheet[sheet]
		slices.SortStableFunc(all, func(a, b solid) int {
			switch {
			case a.box.Min.Y < b.box.Min.Y:
				return -1
			case a.box.Min.Y > b.box.Min.Y:
				return 1
			}
			return 0
		})
		for i, a := range all {
			for _, b := range all[i+1:] {
				if b.box.Min.Y > a.box.Max.Y+p.gap {
					break
				}
				if a.box.Inset(-p.gap).Overlaps(b.box) && nearer(a.rings, b.rings, p.gap-slack) {
					return fault.New(fault.Ours, "sheet "+strconv.Itoa(sheet+1)+", "+a.name, "the piece lies too near to "+b.name, "")
				}
			}
		}
	}
	return nil
}

// allowed reports whether a map is a turn that a piece allows.
func (p *problem) allowed(piece int, m geom.Affine) bool {
	for _, t := range p.kinds[p.kindOf[piece]].turns {
		if r := turnAffine(t); r.A == m.A && r.B == m.B && r.C == m.C && r.D == m.D {
			return true
		}
	}
	return false
}

// nearer reports whether two sets of solid rings are less than d apart, or one
// lies in the other.
func nearer(a, b [][]geom.Point, d float64) bool {
	for _, r := range a {
		for _, s := range b {
			if holds(r, s[0]) || holds(s, r[0]) {
				return true
			}
			// Only edges near the other ring's box can be near the other ring.
			some := edgesNear(s, boxOf(r).Inset(-d))
			for _, e := range edgesNear(r, boxOf(s).Inset(-d)) {
				for _, f := range some {
					if edgeDistance(e[0], e[1], f[0], f[1], d) < d {
						return true
					}
				}
			}
		}
	}
	return false
}

// edgesNear returns the edges of a ring whose box meets another.
func edgesNear(ring []geom.Point, box geom.Rect) [][2]geom.Point {
	var out [][2]geom.Point
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if max(p.X, q.X) >= box.Min.X && min(p.X, q.X) <= box.Max.X && max(p.Y, q.Y) >= box.Min.Y && min(p.Y, q.Y) <= box.Max.Y {
			out = append(out, [2]geom.Point{p, q})
		}
	}
	return out
}

// boxOf returns the box of a ring, which has points.
func boxOf(ring []geom.Point) geom.Rect {
	b := geom.Rect{Min: ring[0], Max: ring[0]}
	for _, p := range ring {
		b.Min = geom.Point{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y)}
		b.Max = geom.Point{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y)}
	}
	return b
}

// edgeDistance returns the distance of two edges, or some value not below
// enough if their boxes are that far apart.
func edgeDistance(a, b, c, d geom.Point, enough float64) float64 {
	if min(a.X, b.X)-max(c.X, d.X) >= enough || min(c.X, d.X)-max(a.X, b.X) >= enough ||
		min(a.Y, b.Y)-max(c.Y, d.Y) >= enough || min(c.Y, d.Y)-max(a.Y, b.Y) >= enough {
		return enough
	}
	side := func(p, q, r geom.Point) float64 {
		u, v := q.Sub(p), r.Sub(p)
		return float64(u.X*v.Y) - float64(u.Y*v.X)
	}
	if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
		return 0
	}
	return min(pointDistance(a, c, d), pointDistance(b, c, d), pointDistance(c, a, b), pointDistance(d, a, b))
}

// pointDistance returns the distance of p from the edge from a to b.
func pointDistance(p, a, b geom.Point) float64 {
	e, v := b.Sub(a), p.Sub(a)
	t := 0.0
	if n := float64(e.X*e.X) + float64(e.Y*e.Y); n > 0 {
		t = max(0, min(1, (float64(v.X*e.X)+float64(v.Y*e.Y))/n))
	}
	return math.Hypot(v.X-float64(t*e.X), v.Y-float64(t*e.Y))
}

// holds reports whether p lies in a ring, whichever way and how often it turns
// around p.
func holds(ring []geom.Point, p geom.Point) bool {
	winding := 0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		if x := a.X + float64((p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X)); x > p.X {
			if b.Y > a.Y {
				winding++
			} else {
				winding--
			}
		}
	}
	return winding != 0
}
