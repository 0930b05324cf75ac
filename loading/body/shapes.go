package body

import (
	"math"

	"floatmark/loading/unit"
)

// arcSteps is how many intervals a quarter of a curved shape is given. With
// sixteen the fitted volumes come within 0.01 % of the closed forms (a blunt
// ogive's within 0.05 %), less than a calliper's reading does to them; the tests
// hold them to it.
const arcSteps = 16

// Cone returns a straight run of the given length, mm, from one diameter to
// another: a cone where either is 0, a frustum where neither is.
//
// Like every shape here it starts at height 0 and checks nothing: measures that
// make no body are found by New, which says what is wrong with them.
func Cone(from, to, length unit.Millimetre) []Station {
	return []Station{{Z: 0, D: from}, {Z: length, D: to}}
}

// Parallel returns a run of one diameter, mm.
func Parallel(d, length unit.Millimetre) []Station { return Cone(d, d, length) }

// Stem returns a stem or an antenna, from its diameter at the body to the one
// at its far end. Both ends are corners: no body flows into its stem, however
// near their slopes come.
func Stem(from, to, length unit.Millimetre) []Station {
	st := Cone(from, to, length)
	st[0].Corner, st[1].Corner = true, true
	return st
}

// Ogive returns a tangent ogive, point up: an arc that leaves the shoulder
// parallel to the axis and meets the diameter point at the end. With point 0
// the arc's radius is p = (R²+L²)/2R. An arc of a length below R - point/2
// would run past the parallel to the hoop and fold back, so the half of an
// ellipsoid with the same measures stands in for it.
func Ogive(shoulder, point, length unit.Millimetre) []Station {
	fall, l := float64(shoulder-point)/2, float64(length)
	switch {
	case !(fall > 0):
		return Cone(shoulder, point, length)
	case l <= fall:
		return dome(shoulder, point, length)
	}
	p := (float64(fall*fall) + float64(l*l)) / (2 * fall)
	r := func(z float64) float64 { return float64(shoulder)/2 - p + math.Sqrt(max(0, float64(p*p)-float64(z*z))) }
	whole := math.Asin(min(1, l/p))
	st := []Station{{D: shoulder, Kind: Curved}}
	for i := 1; i < arcSteps; i++ { // even along the arc: steep ends get the short steps
		z := p * math.Sin(whole*float64(i)/arcSteps)
		if z-float64(st[len(st)-1].Z) >= float64(MinStep) && l-z >= float64(MinStep) {
			st = append(st, Station{Z: unit.Millimetre(z), D: unit.Millimetre(2 * r(z)), Kind: Curved})
		}
	}
	return append(st, Station{Z: length, D: point, Kind: Curved})
}

// dome is the part of an ellipsoid from its equator up to the diameter end.
func dome(d, end, length unit.Millimetre) []Station { return upper(Olive(d, end, 2*length)) }

// upper is the upper half of a symmetric shape, moved down to height 0.
func upper(st []Station) []Station {
	half := st[len(st)/2:]
	z := half[0].Z
	for i := range half {
		half[i].Z -= z
	}
	return half
}

// Olive returns an ellipsoid of the given largest diameter and length, mm, cut
// off square at both ends where its diameter is ends; with ends 0 it is whole.
// A sphere is the olive as long as it is wide.
func Olive(d, ends, length unit.Millimetre) []Station {
	if !(ends < d) {
		return Parallel(d, length)
	}
	cut := float64(ends / d)
	a2 := float64(length*length) / 4 / (1 - float64(cut*cut)) // of the half axis
	st := make([]Station, 2*arcSteps+1)
	for i := range st {
		z := float64(length) * (float64(i)/(2*arcSteps) - 0.5)
		r := math.Sqrt(max(0, 1-float64(z*z)/a2))
		st[i] = Station{Z: length * unit.Millimetre(i) / (2 * arcSteps), D: d * unit.Millimetre(r), Kind: Round}
	}
	st[0].D, st[2*arcSteps].D = ends, ends // not what rounding left of it
	return st
}

// Drop returns a drop, point up: a sphere of diameter d that goes over, without
// an edge, into the cone that touches it and ends with the diameter point. It
// needs a length above d, with room for a cone; else the whole olive of that
// width and length stands in.
func Drop(d, point, length unit.Millimetre) []Station {
	r, up, end := float64(d)/2, float64(length-d/2), float64(point)/2
	if !(length > d) || !(point < d) {
		return Olive(d, 0, length)
	}
	a := math.Asin(min(1, r/math.Hypot(up, end))) - math.Atan2(end, up) // the cone's half-angle
	touch := r * math.Sin(a)                                            // above the centre

	if up-touch < float64(2*MinStep) { // no room for a cone
		return Olive(d, 0, length)
	}
	var st []Station
	add := func(z float64) {
		st = append(st, Station{Z: unit.Millimetre(r + z), D: unit.Millimetre(2 * math.Sqrt(max(0, float64(r*r)-float64(z*z)))), Kind: Round})
	}
	for i := 0; i <= arcSteps; i++ {
		add(r * (float64(i)/arcSteps - 1))
	}
	for i := 1; i <= arcSteps/2 && touch > 0; i++ {
		z := touch * float64(i) / (arcSteps / 2)
		if r+z-float64(st[len(st)-1].Z) >= float64(MinStep) {
			add(z)
		}
	}
	st[len(st)-1].Kind = Straight
	return append(st, Station{Z: length, D: point})
}

// Flip returns stations upside down, their lowest at height 0.
func Flip(stations []Station) []Station {
	n := len(stations)
	st := make([]Station, n)
	for i, s := range stations {
		to := n - 1 - i
		st[to].Z, st[to].D, st[to].Corner = stations[n-1].Z-s.Z, s.D, s.Corner
		if i < n-1 {
			st[to-1].Kind = s.Kind // of the interval, which now begins at its other end
		}
	}
	return st
}
