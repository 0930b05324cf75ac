// Package geom is the plane geometry of the drawing list: points, affine maps
// and paths in millimetres, origin top left, y down.
//
// It knows no colours and no paper. Angles are radians; with y down a positive
// angle turns clockwise as seen on the page.
package geom

import "math"

// Point is a place in millimetres.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns p times k.
func (p Point) Scale(k float64) Point { return Point{float64(p.X * k), float64(p.Y * k)} }

// Len returns the distance of p from the origin.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Size is a width and a height in millimetres.
type Size struct{ W, H float64 }

// Rect is an axis-parallel rectangle; Min is its top left corner.
type Rect struct{ Min, Max Point }

// XYWH makes a Rect from its top left corner and its size.
func XYWH(x, y, w, h float64) Rect { return Rect{Point{x, y}, Point{x + w, y + h}} }

// W returns the width.
func (r Rect) W() float64 { return r.Max.X - r.Min.X }

// H returns the height.
func (r Rect) H() float64 { return r.Max.Y - r.Min.Y }

// Inset returns r with every side moved inwards by d; outwards if d is negative.
func (r Rect) Inset(d float64) Rect {
	return Rect{Point{r.Min.X + d, r.Min.Y + d}, Point{r.Max.X - d, r.Max.Y - d}}
}

// Move returns r moved by d.
func (r Rect) Move(d Point) Rect { return Rect{r.Min.Add(d), r.Max.Add(d)} }

// Union returns the smallest rectangle that holds both. An empty (zero) Rect
// counts as nothing.
func (r Rect) Union(s Rect) Rect {
	if r == (Rect{}) {
		return s
	}
	if s == (Rect{}) {
		return r
	}
	return Rect{Point{math.Min(r.Min.X, s.Min.X), math.Min(r.Min.Y, s.Min.Y)},
		Point{math.Max(r.Max.X, s.Max.X), math.Max(r.Max.Y, s.Max.Y)}}
}

// Contains reports whether s lies in r, touching allowed within 1e-9 mm.
func (r Rect) Contains(s Rect) bool {
	const slack = 1e-9
	return s.Min.X >= r.Min.X-slack && s.Min.Y >= r.Min.Y-slack && s.Max.X <= r.Max.X+slack && s.Max.Y <= r.Max.Y+slack
}

// Overlaps reports whether the insides of r and s meet.
func (r Rect) Overlaps(s Rect) bool {
	return r.Min.X < s.Max.X && s.Min.X < r.Max.X && r.Min.Y < s.Max.Y && s.Min.Y < r.Max.Y
}

// Affine maps (x, y) to (A·x + C·y + E, B·x + D·y + F): the order of PDF.
type Affine struct{ A, B, C, D, E, F float64 }

// Identity is the map that changes nothing.
var Identity = Affine{A: 1, D: 1}

// Translate moves by (x, y).
func Translate(x, y float64) Affine { return Affine{A: 1, D: 1, E: x, F: y} }

// Scale stretches about the origin.
func Scale(x, y float64) Affine { return Affine{A: x, D: y} }

// Rotate turns about the origin by a radians, clockwise on the page. Quarter
// turns are exact, so that a turned code stays on the dot grid.
func Rotate(a float64) Affine {
	s, c := math.Sincos(a)
	if q := math.Round(a / (math.Pi / 2)); math.Abs(a-q*math.Pi/2) < 1e-12 {
		s, c = math.Round(s), math.Round(c)
	}
	return Affine{A: c, B: s, C: -s, D: c}
}

// Then returns the map that applies m first and n after it.
func (m Affine) Then(n Affine) Affine {
	return Affine{
		A: float64(n.A*m.A) + float64(n.C*m.B), B: float64(n.B*m.A) + float64(n.D*m.B),
		C: float64(n.A*m.C) + float64(n.C*m.D), D: float64(n.B*m.C) + float64(n.D*m.D),
		E: float64(n.A*m.E) + float64(n.C*m.F) + n.E, F: float64(n.B*m.E) + float64(n.D*m.F) + n.F,
	}
}

// Apply maps p.
func (m Affine) Apply(p Point) Point {
	return Point{float64(m.A*p.X) + float64(m.C*p.Y) + m.E, float64(m.B*p.X) + float64(m.D*p.Y) + m.F}
}

// Det returns the determinant: the factor on areas, negative for a mirror.
func (m Affine) Det() float64 { return m.A*m.D - m.B*m.C }

// Inverse returns the map that undoes m. It reports false if m flattens the plane.
func (m Affine) Inverse() (Affine, bool) {
	d := m.Det()
	if math.Abs(d) < 1e-300 || math.IsNaN(d) {
		return Affine{}, false
	}
	return Affine{A: m.D / d, B: -m.B / d, C: -m.C / d, D: m.A / d,
		E: (m.C*m.F - m.D*m.E) / d, F: (m.B*m.E - m.A*m.F) / d}, true
}
