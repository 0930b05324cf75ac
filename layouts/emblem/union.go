package emblem

import (
	"math"
	"slices"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// shape is one filled element of a drawing: its path and its own rule.
type shape struct {
	path    geom.Path
	evenOdd bool
}

// scans is how many lines across a mark it is checked on: on a mark 20 mm high
// they are a dot of 1200 dpi apart, so what slips between them is not printed.
const scans = 1021

// maxWork is how many crossings of lines and outlines are looked at: some seconds
// of work. No source: a mark of a hundred shapes has a hundredth.
const maxWork = 8_000_000

// flatness is how far the lines may leave the curves when a mark is checked or
// its rings sorted, as a share of its larger side.
const flatness = 1.0 / 4000

// union joins shapes into one path that the non-zero rule fills where any of
// them is filled by its own rule. Rings are turned round for that, none is cut:
// shapes whose own lines cross so that turning does not do are an Input error.
func union(shapes []shape) (geom.Path, error) {
	var out geom.Path
	for _, s := range shapes {
		p := s.path
		if s.evenOdd {
			p = alternate(p)
		}
		// All shapes run the same way, so that one does not cut another out.
		if p.Area(tolerance(p)) < 0 {
			p = p.Reverse()
		}
		out = append(out, p...)
	}
	if err := check(out); err != nil {
		return nil, err
	}
	if len(shapes) == 1 && !shapes[0].evenOdd {
		return out, nil // it is itself
	}
	return out, same(out, shapes)
}

func tolerance(p geom.Path) float64 {
	b := extent(p)
	return max(b.W(), b.H()) * flatness
}

// alternate turns the rings of a path so that each runs against the one it lies
// in, which makes the non-zero rule give what the even-odd rule gave, unless
// rings cross.
func alternate(p geom.Path) geom.Path {
	var rings []geom.Path
	for i, s := range p {
		if s.Verb == geom.Move {
			end := i + 1
			for end < len(p) && p[end].Verb != geom.Move {
				end++
			}
			rings = append(rings, p[i:end])
		}
	}
	tol := tolerance(p)
	flat, box := make([][]geom.Point, len(rings)), make([]geom.Rect, len(rings))
	for i, r := range rings {
		flat[i], box[i] = r.Flatten(tol)[0], extent(r).Inset(-tol)
	}
	var out geom.Path
	for i, r := range rings {
		depth := 0
		q := inner(flat[i])
		for j := range rings {
			if i != j && box[j].Contains(geom.Rect{Min: q, Max: q}) && inside(q, flat[j]) {
				depth++
			}
		}
		if (r.Area(tol) < 0) != (depth%2 == 1) {
			r = r.Reverse()
		}
		out = append(out, r...)
	}
	return out
}

// inner is a point just within a ring's outline: beside the middle of its
// longest side, so that rings which touch at a corner are told apart.
func inner(ring []geom.Point) geom.Point {
	var at geom.Point
	most := -1.0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		d := b.Sub(a)
		if l := d.Len(); l > most {
			const beside = 1e-6 // of the side's length
			n := geom.Point{X: -d.Y, Y: d.X}.Scale(beside)
			at, most = a.Add(b).Scale(0.5).Add(n), l
			if !inside(at, ring) {
				at = at.Sub(n.Scale(2))
			}
		}
	}
	return at
}

// inside reports whether q lies in a ring, by the even-odd rule.
func inside(q geom.Point, ring []geom.Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y <= q.Y) != (b.Y <= q.Y) && a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) < q.X {
			in = !in
		}
	}
	return in
}

// An edge is one straight piece of a shape's outline, the upper end first.
type edge struct {
	a, b  geom.Point
	turns int // 1 downwards, -1 upwards
	of    int // which shape; the joined path comes last
}

// same checks on lines across the mark that the joined path is filled just where
// a shape is.
func same(joined geom.Path, shapes []shape) error {
	tol := tolerance(joined)
	var edges []edge
	for i, s := range append(slices.Clone(shapes), shape{path: joined}) {
		for _, ring := range s.path.Flatten(tol) {
			for k, a := range ring {
				e := edge{a, ring[(k+1)%len(ring)], 1, i}
				if e.a.Y > e.b.Y {
					e.a, e.b, e.turns = e.b, e.a, -1
				}
				edges = append(edges, e)
			}
			if len(edges) > maxWork/8 {
				return tooMuch()
			}
		}
	}
	slices.SortStableFunc(edges, func(e, f edge) int {
		switch {
		case e.a.Y < f.a.Y:
			return -1
		case e.a.Y > f.a.Y:
			return 1
		}
		return 0
	})
	box := extent(joined)
	var active []edge
	work := len(edges)
	for i, next := 0, 0; i < scans; i++ {
		y := box.Min.Y + float64(box.H()*(float64(i)+0.5)/scans)
		for ; next < len(edges) && edges[next].a.Y <= y; next++ {
			active = append(active, edges[next])
		}
		active = slices.DeleteFunc(active, func(e edge) bool { return e.b.Y <= y })
		if work += len(active); work > maxWork {
			return fault.Inputf("unite the shapes in the drawing program (\"Path > Union\") and simplify them", "the mark has too many shapes that overlap")
		}
		if !sameOn(y, active, shapes, tol) {
			return fault.Inputf("unite the shapes in the drawing program (\"Path > Union\")",
				"the mark has shapes that cross each other, and which parts are filled cannot be told in one path")
		}
	}
	return nil
}

// sameOn checks one line. What is narrower than the tolerance is rounding.
func sameOn(y float64, active []edge, shapes []shape, tol float64) bool {
	type crossing struct {
		x float64
		e edge
	}
	cs := make([]crossing, len(active))
	for i, e := range active {
		cs[i] = crossing{e.a.X + float64((y-e.a.Y)/(e.b.Y-e.a.Y)*(e.b.X-e.a.X)), e}
	}
	slices.SortStableFunc(cs, func(a, b crossing) int {
		if a.x < b.x {
			return -1
		} else if a.x > b.x {
			return 1
		}
		return 0
	})
	winding := make([]int, len(shapes)+1)
	from, wrong := math.Inf(1), false // where the two began to differ
	filled := 0                       // shapes that are, here
	for _, c := range cs {
		if wrong && c.x-from > 2*tol {
			return false
		}
		before := fills(winding, shapes, c.e.of)
		winding[c.e.of] += c.e.turns
		after := fills(winding, shapes, c.e.of)
		if c.e.of < len(shapes) && before != after {
			if after {
				filled++
			} else {
				filled--
			}
		}
		differs := (filled > 0) != (winding[len(shapes)] != 0)
		if differs && !wrong {
			from = c.x
		}
		wrong = differs
	}
	return true
}

func fills(winding []int, shapes []shape, i int) bool {
	if i < len(shapes) && shapes[i].evenOdd {
		return winding[i]%2 != 0
	}
	return winding[i] != 0
}
