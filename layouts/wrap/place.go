package wrap

import (
	"math"

	"floatmark/layouts/geom"
	"floatmark/loading/unit"
)

// hoopRadius is the hoop's length over 2 pi, mm.
func (f Flat) hoopRadius(s float64) float64 { return f.foot + float64(f.grow*s) }

// Hoop returns the length of the full hoop at s on the flat piece, mm, without
// overlap.
func (f Flat) Hoop(s float64) float64 { return 2 * math.Pi * f.hoopRadius(s) }

// Angle returns the body angle that an arc of x mm along the hoop at s spans.
// It is 0 at a point of no hoop.
func (f Flat) Angle(x, s float64) float64 {
	r := f.hoopRadius(s)
	if r <= 0 {
		return 0
	}
	return x / r
}

// SlantAt returns the slant distance s of the height z above the base end, mm,
// held within the piece.
func (f Flat) SlantAt(z unit.Millimetre) float64 {
	z = min(max(z, f.From), f.To)
	return min(f.profile.Meridian(f.From, z), f.Slant)
}

// Left returns the body angle of the left edge: -pi at a seam, minus half the
// arc on a part wrap.
func (f Flat) Left() float64 {
	if f.part > 0 {
		return -f.part
	}
	return -math.Pi
}

// Right returns the body angle of the right edge: pi and the overlap beyond it
// at a seam, half the arc on a part wrap.
func (f Flat) Right() float64 {
	if f.part > 0 {
		return f.part
	}
	return math.Pi + f.Angle(f.Overlap, f.Slant/2)
}

// rho is the radius of the arc at s.
func (f Flat) rho(s float64) float64 { return max(0, f.hoopRadius(s)/math.Abs(f.grow)) }

// turn is how far the flat piece turns by theta, clockwise on the page: to the
// right of the centre tops lean in with the apex above, out with it below.
func (f Flat) turn(theta float64) float64 { return theta * f.grow }

// At returns the place (theta, s) on the flat piece. Values beyond the edges
// are carried on, for what is printed past a cut.
func (f Flat) At(theta, s float64) geom.Point {
	if f.Rect {
		return geom.Point{X: theta * f.foot, Y: -s}
	}
	rho, a := f.rho(s), theta*math.Abs(f.grow)
	// 1-cos a = 2 sin²(a/2): no loss of digits when the centre is far away.
	q := math.Sin(a / 2)
	return geom.Point{X: rho * math.Sin(a), Y: -s + float64(math.Copysign(2*rho, f.grow)*q*q)}
}

// Frame returns the map that sets a drawing at (theta, s): its origin goes
// there, its x along the hoop to the right, its y down the meridian towards the
// base. A letter set in it stands upright on the body, to scale and unbent.
func (f Flat) Frame(theta, s float64) geom.Affine {
	at := f.At(theta, s)
	return geom.Rotate(f.turn(theta)).Then(geom.Translate(at.X, at.Y))
}

// Outline returns the closed cut path, clockwise on the page, arcs as cubics.
func (f Flat) Outline() geom.Path { return f.Band(0, f.Slant, f.Left(), f.Right()) }

// Bounds returns the bounding rectangle of the outline.
func (f Flat) Bounds() geom.Rect { return f.Outline().Bounds() }

// Band returns the closed strip between the parallels s0 and s1 from theta0 to
// theta1, clockwise on the page when s0 < s1 and theta0 < theta1: a ring round
// the body when theta spans Left to Right, overlap included. It is not cut to
// the piece, so that a ring may bleed past an edge.
func (f Flat) Band(s0, s1, theta0, theta1 float64) geom.Path {
	var p geom.Path
	p.MoveTo(f.At(theta0, s1))
	f.parallel(&p, s1, theta0, theta1)
	p.LineTo(f.At(theta1, s0))
	f.parallel(&p, s0, theta1, theta0)
	p.Close()
	return p
}

// parallel draws on from (theta0, s), where the path is, to (theta1, s).
func (f Flat) parallel(p *geom.Path, s, theta0, theta1 float64) {
	const point = 1e-9 // mm: an arc smaller than this is the point of a cone
	switch {
	case f.Rect:
		p.LineTo(f.At(theta1, s))
	case f.rho(s) > point:
		c := geom.Point{Y: math.Copysign(f.RhoFrom, f.grow)}
		// On the page, the centre meridian leaves an apex above downwards (a
		// quarter turn) and an apex below upwards.
		from := math.Copysign(math.Pi/2, -f.grow)
		p.Arc(c, f.rho(s), from+f.turn(theta0), from+f.turn(theta1))
	}
}
