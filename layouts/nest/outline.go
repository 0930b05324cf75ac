package nest

import (
	"math"
	"slices"

	"floatmark/layouts/geom"
)

// flatness is how far a flattened outline may stray from the true one, mm: an
// eighth of a dot at 600 dpi. Masks are grown by it as well, so that the true
// arcs keep the gap and not only their chords.
const flatness = 0.005

// rings returns all that a piece needs, as closed rings in its own coordinates,
// each of them solid: nothing is laid into a hole, since scissors do not get
// there. What Box holds beyond the outline's bounds belongs to it unless Beside
// tells what it is. Arcs are flattened to tol mm.
func (p Piece) rings(tol float64) [][]geom.Point {
	if len(p.Outline) == 0 {
		return geom.Rectangle(p.Box).Flatten(tol)
	}
	all := p.Outline.Flatten(tol)
	if len(p.Beside) > 0 {
		return append(all, p.Beside.Flatten(tol)...)
	}
	b, o := p.Box, p.Outline.Bounds()
	for _, r := range []geom.Rect{
		{Min: b.Min, Max: geom.Point{X: b.Max.X, Y: o.Min.Y}},
		{Min: geom.Point{X: b.Min.X, Y: o.Max.Y}, Max: b.Max},
		{Min: geom.Point{X: b.Min.X, Y: o.Min.Y}, Max: geom.Point{X: o.Min.X, Y: o.Max.Y}},
		{Min: geom.Point{X: o.Max.X, Y: o.Min.Y}, Max: geom.Point{X: b.Max.X, Y: o.Max.Y}},
	} {
		if r.W() > slack && r.H() > slack {
			all = append(all, geom.Rectangle(r).Flatten(tol)...)
		}
	}
	return all
}

// extent returns the box of all that a piece needs, with true arcs.
func (p Piece) extent() geom.Rect {
	switch {
	case len(p.Outline) == 0:
		return p.Box
	case len(p.Beside) > 0:
		return p.Outline.Bounds().Union(p.Beside.Bounds())
	}
	return p.Box.Union(p.Outline.Bounds())
}

// net returns the area that ends up on the float, mm².
func (p Piece) net() float64 {
	if len(p.Outline) > 0 {
		return math.Abs(p.Outline.Area(areaTolerance))
	}
	return float64(p.Box.W() * p.Box.H())
}

// turnRings maps rings by a quarter turn and a move.
func turnRings(rings [][]geom.Point, m geom.Affine) [][]geom.Point {
	out := make([][]geom.Point, len(rings))
	for i, r := range rings {
		out[i] = make([]geom.Point, len(r))
		for j, p := range r {
			out[i][j] = m.Apply(p)
		}
	}
	return out
}

// stretch is a closed interval of x on one line, mm.
type stretch struct{ a, b float64 }

// grown returns, for n lines at y0, y0+step …, the stretches that lie within
// delta mm of the filled rings, in order and apart: the set itself, not a sample
// of it, so that a mask can neither miss a spike nor a sliver.
func grown(rings [][]geom.Point, delta, y0, step float64, n int) [][]stretch {
	lines := make([][]stretch, n)
	for _, ring := range rings {
		type crossing struct {
			x   float64
			way int
		}
		cross := make([][]crossing, n)
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			lo := max(0, int(math.Floor((min(p.Y, q.Y)-delta-y0)/step)))
			hi := min(n-1, int(math.Ceil((max(p.Y, q.Y)+delta-y0)/step)))
			for k := lo; k <= hi; k++ {
				y := y0 + float64(float64(k)*step)
				if s, ok := nearEdge(p, q, delta, y); ok {
					lines[k] = append(lines[k], s)
				}
				if (p.Y > y) != (q.Y > y) {
					way := 1
					if p.Y > q.Y {
						way = -1
					}
					cross[k] = append(cross[k], crossing{p.X + float64((y-p.Y)/(q.Y-p.Y)*(q.X-p.X)), way})
				}
			}
		}
		for k, c := range cross {
			slices.SortFunc(c, func(a, b crossing) int {
				if a.x < b.x {
					return -1
				} else if a.x > b.x {
					return 1
				}
				return a.way - b.way
			})
			winding := 0
			for i := range c {
				if winding != 0 {
					lines[k] = append(lines[k], stretch{c[i-1].x, c[i].x})
				}
				winding += c[i].way
			}
		}
	}
	for k := range lines {
		lines[k] = joined(lines[k])
	}
	return lines
}

// nearEdge returns the x on line y that are within delta of the edge from p to
// q: a stadium is convex, so that they are one stretch.
func nearEdge(p, q geom.Point, delta, y float64) (stretch, bool) {
	s, ok := stretch{math.Inf(1), math.Inf(-1)}, false
	add := func(x float64) { s.a, s.b, ok = min(s.a, x), max(s.b, x), true }
	for _, c := range [2]geom.Point{p, q} {
		if d := y - c.Y; math.Abs(d) <= delta {
			half := math.Sqrt(float64(delta*delta) - float64(d*d))
			add(c.X - half)
			add(c.X + half)
		}
	}
	d := q.Sub(p)
	length := d.Len()
	if length == 0 {
		return s, ok
	}
	normal := geom.Point{X: -d.Y, Y: d.X}.Scale(delta / length)
	corners := [4]geom.Point{p.Add(normal), q.Add(normal), q.Sub(normal), p.Sub(normal)}
	for i, a := range corners {
		b := corners[(i+1)%4]
		if (a.Y > y) != (b.Y > y) {
			add(a.X + float64((y-a.Y)/(b.Y-a.Y)*(b.X-a.X)))
		}
	}
	return s, ok
}

// joined sorts stretches and joins those that meet.
func joined(all []stretch) []stretch {
	slices.SortFunc(all, func(s, t stretch) int {
		switch {
		case s.a < t.a:
			return -1
		case s.a > t.a:
			return 1
		}
		return 0
	})
	var out []stretch
	for _, s := range all {
		if n := len(out); n > 0 && s.a <= out[n-1].b {
			out[n-1].b = max(out[n-1].b, s.b)
		} else {
			out = append(out, s)
		}
	}
	return out
}
