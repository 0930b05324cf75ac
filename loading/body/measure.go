package body

import (
	"math"

	"floatmark/loading/unit"
)

// gauss5 is the 5-point Gauss-Legendre rule on -1..1: nodes sqrt(5 ± 2 sqrt(10/7))/3,
// weights (322 ± 13 sqrt 70)/900 and 128/225 (closed forms, standard tables).
// It is exact to degree 9; the square of a cubic radius has degree 6.
var gauss5 = [5][2]float64{
	{0, 128.0 / 225},
	{-0.53846931010568309104, 0.47862867049936646804}, {0.53846931010568309104, 0.47862867049936646804},
	{-0.90617984593866399280, 0.23692688505618908751}, {0.90617984593866399280, 0.23692688505618908751},
}

// panels cuts an interval for integrands that are no polynomials. Sixteen bring
// a hemisphere's slant length within 1e-9 of its closed form.
const panels = 16

func gauss(a, b float64, n int, f func(float64) float64) float64 {
	sum, half := 0.0, (b-a)/float64(2*n)
	for i := 0; i < n; i++ {
		mid := a + float64(float64(2*i+1)*half)
		for _, g := range gauss5 {
			sum += float64(g[1] * f(mid+float64(g[0]*half)))
		}
	}
	return sum * half
}

// each sums f over the pieces between z0 and z1, which may come in either
// order; what lies outside the body adds nothing.
func (p Profile) each(z0, z1 unit.Millimetre, f func(q piece, a, b float64) float64) float64 {
	lo, hi := float64(min(z0, z1)), float64(max(z0, z1))
	sum := 0.0
	for _, q := range p.pieces {
		if a, b := max(lo, q.z0), min(hi, q.z0+q.h); a < b {
			sum += f(q, a, b)
		}
	}
	return sum
}

// Volume returns the volume between the heights z0 and z1, mm3. It is exact for
// the fitted body.
func (p Profile) Volume(z0, z1 unit.Millimetre) float64 {
	return p.each(z0, z1, func(q piece, a, b float64) float64 {
		return math.Pi * gauss(a, b, 1, func(z float64) float64 {
			y, _ := q.value(z)
			if q.kind == Round {
				return y
			}
			return y * y
		})
	})
}

// Surface returns the outer surface between the heights z0 and z1 without the
// end faces, mm2.
func (p Profile) Surface(z0, z1 unit.Millimetre) float64 {
	return p.each(z0, z1, func(q piece, a, b float64) float64 {
		return 2 * math.Pi * gauss(a, b, panels, func(z float64) float64 {
			y, dy := q.value(z)
			if q.kind == Round { // r·sqrt(1+r'²), written so that it stays finite at a pole
				return math.Sqrt(y + float64(dy*dy)/4)
			}
			return y * math.Hypot(1, dy)
		})
	})
}

// Meridian returns the slant length along the body between the heights z0 and
// z1, mm.
func (p Profile) Meridian(z0, z1 unit.Millimetre) float64 {
	return p.each(z0, z1, func(q piece, a, b float64) float64 {
		if q.kind == Straight {
			return (b - a) * math.Hypot(1, q.slope(a))
		}
		return q.slant(a, b)
	})
}

// slant integrates sqrt(1+r'²). At a round pole r' is infinite, and near a thin
// end of a round piece it is steep; measuring the way from that end as h·u²
// takes the infinity out.
func (p piece) slant(a, b float64) float64 {
	speed := func(z float64) float64 { return math.Hypot(1, p.slope(z)) }
	if p.kind != Round {
		return gauss(a, b, panels, speed)
	}
	from, sign := p.z0, 1.0
	if p.y0 > p.y1 {
		from, sign = p.z0+p.h, -1
		a, b = b, a
	}
	u := func(z float64) float64 { return math.Sqrt(max(0, sign*(z-from)/p.h)) }
	return gauss(u(a), u(b), panels, func(u float64) float64 {
		return 2 * p.h * u * speed(from+float64(sign*p.h*u*u))
	})
}

// coneTolerance is the departure from one straight line, mm, up to which a
// stretch counts as a cone: far below any reading, far above rounding.
const coneTolerance = 1e-6

// IsCone reports whether the body has one straight generator from z0 to z1, as
// a cone, a frustum or a parallel has, within 1e-6 mm of radius.
func (p Profile) IsCone(z0, z1 unit.Millimetre) bool {
	const looks = 8 // a cubic that meets a line in five places is the line
	lo, hi := float64(min(z0, z1)), float64(max(z0, z1))
	lo, hi = max(lo, float64(p.Base())), min(hi, float64(p.Top()))
	if len(p.pieces) == 0 || lo >= hi {
		return false
	}
	r0, r1 := p.at(lo).radius(lo), p.at(hi).radius(hi)
	for _, q := range p.pieces {
		a, b := max(lo, q.z0), min(hi, q.z0+q.h)
		for i := 0; a < b && i <= looks; i++ {
			z := a + (b-a)*float64(i)/looks
			if math.Abs(q.radius(z)-r0-(r1-r0)*(z-lo)/(hi-lo)) > coneTolerance {
				return false
			}
		}
	}
	return true
}
