package wrap

import (
	"math"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// hoop is one hoop of the band: the slant distance of it and the radius of the
// film's mid-surface there, mm.
type hoop struct{ s, r float64 }

// looks is the number of steps between two stations, or two ends, at which a
// band is looked at: the peak of a parabola is met within 1/looks² of itself.
const looks = 64

// measure walks up the band. It stops at every station inside, so that no edge
// of the body falls between two looks.
func measure(p body.Profile, from, to unit.Millimetre, film Film) []hoop {
	stops := []unit.Millimetre{from}
	for _, st := range p.Stations() {
		if st.Z > from && st.Z < to {
			stops = append(stops, st.Z)
		}
	}
	stops = append(stops, to)
	out := []hoop{{0, midRadius(p, from, film)}}
	s := 0.0
	for i := 1; i < len(stops); i++ {
		lo, step := stops[i-1], (stops[i]-stops[i-1])/looks
		for j := 1; j <= looks; j++ {
			a, b := lo+unit.Millimetre(j-1)*step, lo+unit.Millimetre(j)*step
			if j == looks {
				b = stops[i]
			}
			s += p.Meridian(a, b)
			out = append(out, hoop{s, midRadius(p, b, film)})
		}
	}
	return out
}

// midRadius is r + t/2·cos a; at a round pole the wall is flat and cos a is 0.
func midRadius(p body.Profile, z unit.Millimetre, film Film) float64 {
	return float64(p.Diameter(z))/2 + film.Thickness/2/math.Hypot(1, p.Slope(z))
}

// fit returns the cone r = foot + grow·s whose largest hoop strain on the band,
// taken without sign, is least, and that strain.
//
// A cone is written by its share of the upper edge, 0 to 1. For any two hoops
// the quotient of their strains rises or falls with the share throughout, so the
// largest quotient has one valley and a golden section finds it; the size of the
// cone then balances the largest stretch against the largest slack.
func fit(hoops []hoop) (foot, grow, worst float64) {
	slant := hoops[len(hoops)-1].s
	spread := func(share float64) (lo, hi float64) {
		lo, hi = math.Inf(1), 0
		for _, h := range hoops {
			x := h.s / slant
			q := h.r / (float64((1-share)*(1-x)) + float64(share*x))
			lo, hi = min(lo, q), max(hi, q)
		}
		return lo, hi
	}
	cost := func(share float64) float64 { lo, hi := spread(share); return (hi - lo) / (hi + lo) }

	const golden = 0.6180339887498949 // (sqrt 5 - 1)/2
	const rounds = 60                 // golden^60 is 3e-13 of the range
	const rim = 1e-9                  // keeps both edges of the cone longer than nothing
	a, b := rim, 1-rim
	c, d := b-float64(golden*(b-a)), a+float64(golden*(b-a))
	fc, fd := cost(c), cost(d)
	for i := 0; i < rounds; i++ {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - float64(golden*(b-a))
			fc = cost(c)
		} else {
			a, c, fc = c, d, fd
			d = a + float64(golden*(b-a))
			fd = cost(d)
		}
	}
	share := (a + b) / 2
	lo, hi := spread(share)
	size := (lo + hi) / 2
	foot = size * (1 - share)
	grow = size * (2*share - 1) / slant
	return foot, grow, strain(hoops, foot, grow)
}

// strain is the largest |r/r_flat - 1| over the band.
func strain(hoops []hoop, foot, grow float64) float64 {
	worst := 0.0
	for _, h := range hoops {
		worst = max(worst, math.Abs(h.r/(foot+float64(grow*h.s))-1))
	}
	return worst
}
