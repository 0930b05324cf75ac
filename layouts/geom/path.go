package geom

import "math"

// Verb is what a Segment does.
type Verb uint8

// The verbs. Arcs become cubics at birth, so no writer needs a fifth.
const (
	Move  Verb = iota // start a ring at P[0]
	Line              // to P[0]
	Cubic             // by P[0] and P[1] to P[2]
	Close             // back to the start of the ring
)

// Segment is one step of a Path; points its Verb does not name are zero.
type Segment struct {
	Verb Verb
	P    [3]Point
}

// Path is a run of rings and open lines, filled by the non-zero rule.
type Path []Segment

// MoveTo starts a new ring.
func (p *Path) MoveTo(q Point) { *p = append(*p, Segment{Verb: Move, P: [3]Point{q}}) }

// LineTo draws a straight line.
func (p *Path) LineTo(q Point) { *p = append(*p, Segment{Verb: Line, P: [3]Point{q}}) }

// CubicTo draws a Bézier curve with control points a and b.
func (p *Path) CubicTo(a, b, q Point) {
	*p = append(*p, Segment{Verb: Cubic, P: [3]Point{a, b, q}})
}

// Close ends the ring.
func (p *Path) Close() { *p = append(*p, Segment{Verb: Close}) }

// Arc draws the part of a circle from angle a to angle b (radians, 0 along +x,
// growing clockwise on the page), starting with a line to its first point, or a
// move if the path is empty or closed. Pieces span 15 degrees at most: the
// cubic then departs from the circle by less than 1e-8 of the radius.
func (p *Path) Arc(c Point, r, a, b float64) {
	at := func(t float64) Point { s, k := math.Sincos(t); return Point{c.X + float64(r*k), c.Y + float64(r*s)} }
	first := at(a)
	if n := len(*p); n == 0 || (*p)[n-1].Verb == Close {
		p.MoveTo(first)
	} else if p.end().Sub(first).Len() > 1e-9 {
		p.LineTo(first)
	}
	n := int(math.Ceil(math.Abs(b-a)/(math.Pi/12) - 1e-9))
	for i := 0; i < n; i++ {
		t0 := a + float64((b-a)*float64(i)/float64(n))
		t1 := a + float64((b-a)*float64(i+1)/float64(n))
		k := 4.0 / 3 * math.Tan((t1-t0)/4) * r
		s0, c0 := math.Sincos(t0)
		s1, c1 := math.Sincos(t1)
		q0, q1 := at(t0), at(t1)
		p.CubicTo(Point{q0.X - float64(k*s0), q0.Y + float64(k*c0)}, Point{q1.X + float64(k*s1), q1.Y - float64(k*c1)}, q1)
	}
}

func (p Path) end() Point {
	s := p[len(p)-1]
	if s.Verb == Cubic {
		return s.P[2]
	}
	return s.P[0]
}

// Rectangle returns r as a closed ring.
func Rectangle(r Rect) Path {
	return Polygon(r.Min, Point{r.Max.X, r.Min.Y}, r.Max, Point{r.Min.X, r.Max.Y})
}

// Polygon returns the points as a closed ring.
func Polygon(pts ...Point) Path {
	var p Path
	for i, q := range pts {
		if i == 0 {
			p.MoveTo(q)
		} else {
			p.LineTo(q)
		}
	}
	p.Close()
	return p
}

// LineBetween returns an open straight line.
func LineBetween(a, b Point) Path {
	var p Path
	p.MoveTo(a)
	p.LineTo(b)
	return p
}

// Circle returns a closed circle.
func Circle(c Point, r float64) Path {
	var p Path
	p.Arc(c, r, 0, 2*math.Pi)
	p.Close()
	return p
}

// Transform returns the path mapped by m.
func (p Path) Transform(m Affine) Path { return p.into(make(Path, len(p)), m) }

// TransformInPlace moves the path itself.
func (p Path) TransformInPlace(m Affine) { p.into(p, m) }

func (p Path) into(out Path, m Affine) Path {
	for i, s := range p {
		t := Segment{Verb: s.Verb}
		for j := 0; j < points(s.Verb); j++ {
			t.P[j] = m.Apply(s.P[j])
		}
		out[i] = t
	}
	return out
}

func points(v Verb) int {
	switch v {
	case Close:
		return 0
	case Cubic:
		return 3
	default:
		return 1
	}
}

// Flatten returns the path as polylines that depart from it by tol mm at most.
// Closed rings end without repeating their first point.
func (p Path) Flatten(tol float64) [][]Point {
	var out [][]Point
	var ring []Point
	flush := func() {
		if len(ring) > 0 {
			out = append(out, ring)
		}
		ring = nil
	}
	for _, s := range p {
		switch s.Verb {
		case Move:
			flush()
			ring = []Point{s.P[0]}
		case Line:
			ring = append(ring, s.P[0])
		case Cubic:
			ring = append(ring, flattenCubic(ring[len(ring)-1], s.P, tol)...)
		case Close:
			if n := len(ring); n > 1 && ring[0].Sub(ring[n-1]).Len() < 1e-9 {
				ring = ring[:n-1]
			}
			flush()
		}
	}
	flush()
	return out
}

// flattenCubic cuts evenly in the parameter; the count follows from the largest
// second difference, which bounds the departure of a chord.
func flattenCubic(a Point, c [3]Point, tol float64) []Point {
	d1 := a.Sub(c[0].Scale(2)).Add(c[1]).Len()
	d2 := c[0].Sub(c[1].Scale(2)).Add(c[2]).Len()
	n := int(math.Ceil(math.Sqrt(0.75 * math.Max(d1, d2) / math.Max(tol, 1e-6))))
	n = max(1, min(n, 500))
	out := make([]Point, n)
	for i := range out {
		t := float64(i+1) / float64(n)
		out[i] = cubicAt(a, c, t)
	}
	out[n-1] = c[2]
	return out
}

func cubicAt(a Point, c [3]Point, t float64) Point {
	u := 1 - t
	return a.Scale(u * u * u).Add(c[0].Scale(3 * u * u * t)).Add(c[1].Scale(3 * u * t * t)).Add(c[2].Scale(t * t * t))
}

// Bounds returns the exact bounding rectangle (curves by their extremes, not
// by their control points); the zero Rect for an empty path.
func (p Path) Bounds() Rect {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	seen := false
	add := func(q Point) {
		seen = true
		lo.X, lo.Y = math.Min(lo.X, q.X), math.Min(lo.Y, q.Y)
		hi.X, hi.Y = math.Max(hi.X, q.X), math.Max(hi.Y, q.Y)
	}
	var at Point
	var room [4]float64 // two turns of each coordinate: nothing is put on the heap for them
	for _, s := range p {
		switch s.Verb {
		case Move, Line:
			at = s.P[0]
			add(at)
		case Cubic:
			turns := extremes(room[:0], at.X, s.P[0].X, s.P[1].X, s.P[2].X)
			for _, t := range extremes(turns, at.Y, s.P[0].Y, s.P[1].Y, s.P[2].Y) {
				add(cubicAt(at, s.P, t))
			}
			at = s.P[2]
			add(at)
		}
	}
	if !seen {
		return Rect{}
	}
	return Rect{lo, hi}
}

// extremes adds to out the parameters in (0, 1) where one coordinate of a cubic
// turns round.
func extremes(out []float64, p0, p1, p2, p3 float64) []float64 {
	a := -p0 + 3*p1 - 3*p2 + p3
	b := 2 * (p0 - 2*p1 + p2)
	c := p1 - p0
	keep := func(t float64) {
		if t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	if math.Abs(a) < 1e-12 {
		if b != 0 {
			keep(-c / b)
		}
		return out
	}
	d := b*b - 4*a*c
	if d < 0 {
		return out
	}
	// By the larger root first: where a is small against b, subtracting would lose
	// the other one's digits.
	q := -(b + math.Copysign(math.Sqrt(d), b)) / 2
	keep(q / a)
	if q != 0 {
		keep(c / q)
	}
	return out
}

// Area returns the signed area of the path's rings, each closed, flattened to
// tol mm; clockwise on the page is positive.
func (p Path) Area(tol float64) float64 {
	sum := 0.0
	for _, ring := range p.Flatten(tol) {
		for i, q := range ring {
			r := ring[(i+1)%len(ring)]
			sum += q.X*r.Y - r.X*q.Y
		}
	}
	return sum / 2
}

// Reverse returns the path with every ring run the other way, which by the
// non-zero rule turns a ring inside another into a hole. Rings keep their order.
func (p Path) Reverse() Path {
	var out Path
	for from := 0; from < len(p); {
		to := from + 1
		for to < len(p) && p[to].Verb != Move {
			to++
		}
		out = append(out, reverseRing(p[from:to])...)
		from = to
	}
	return out
}

func reverseRing(ring Path) Path {
	closed := ring[len(ring)-1].Verb == Close
	if closed {
		ring = ring[:len(ring)-1]
	}
	var out Path
	out.MoveTo(ring.end())
	for i := len(ring) - 1; i > 0; i-- {
		to := ring[:i].end()
		if s := ring[i]; s.Verb == Cubic {
			out.CubicTo(s.P[1], s.P[0], to)
		} else {
			out.LineTo(to)
		}
	}
	if closed {
		out.Close()
	}
	return out
}
