package wrap

import (
	"math"

	"floatmark/layouts/geom"
)

// Place is the inverse of At: it returns the place (theta, s) that lies at q on
// the flat piece. Points beyond the edges are carried on as At does, up to where
// a sector closes to a full disc; at the centre of the arcs, the apex, theta is 0.
func (f Flat) Place(q geom.Point) (theta, s float64) {
	if f.Rect {
		return q.X / f.foot, -q.Y
	}
	k := math.Abs(f.grow)
	// Seen from the centre of the arcs, in mm along the centre meridian.
	along := f.RhoFrom - math.Copysign(1, f.grow)*q.Y
	a, rho := math.Atan2(q.X, along), math.Hypot(q.X, along)
	// A blunt piece with an overlap may reach past half a disc on its right.
	if turn := 2 * math.Pi; a < f.Left()*k && a+turn <= f.Right()*k {
		a += turn
	}
	// As in At, and for its reason, not by the difference of two radii.
	h := math.Sin(a / 2)
	return a / k, math.Copysign(2*rho, f.grow)*h*h - q.Y
}
