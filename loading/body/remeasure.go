package body

import (
	"math"
	"slices"
	"strconv"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Measured is a diameter taken on one float over its last colour coat.
type Measured struct {
	Z unit.Millimetre // height above the base end
	D unit.Millimetre // diameter
}

// Ratios of a float's diameter to its pattern's that are taken for what they
// are. Estimates: two hulls of one pattern, sanded by hand, differ by a tenth;
// beyond this a digit has slipped or the height belongs to another place.
const (
	leastRatio = 0.7
	mostRatio  = 1.4
)

const (
	// onStation is the distance from a station within which a measured height
	// is that station's: a new one nearer than MinStep would make no body, and
	// no hand finds a height to 0.015 mm.
	onStation = 1.5 * MinStep
	// leastApart is the least distance of two measured heights: nearer than
	// 0.05 mm they are one place with two readings.
	leastApart = 5 * MinStep
)

// Remeasured returns the profile made to pass through diameters that were
// measured on one float, in any order of their heights: the pattern's shape with
// this float's girth. At each measured height the ratio of measured to pattern is
// taken; between two of them it runs linearly in z, beyond the lowest and the
// highest it stays. Every station is scaled by the ratio at its height and keeps
// its kind and its corner. Without measures the profile is returned unchanged.
//
// Each measured height becomes a station of the kind of the interval it falls
// in, also on curved and round runs. A station there does not spoil the curve, as
// a lone reading between calliper stations would: its neighbours are scaled by
// nearly its own ratio, so the secants beside it are the pattern's, not the
// difference of two readings. Where the pattern is one cone between two measured
// heights, so is the float.
//
// A height off the body or within 0.05 mm of another, a diameter of 0 or less,
// one at a place where the pattern runs out to nothing, and one that is not
// between 0.7 and 1.4 times the pattern's are Input errors that name the measure,
// counted from 1.
func (p Profile) Remeasured(m []Measured) (Profile, error) {
	if len(m) == 0 {
		return p, nil
	}
	for i := range m {
		if err := p.checkMeasured(m, i); err != nil {
			return Profile{}, err
		}
	}
	g := growth{pattern: p}
	for _, one := range m {
		g.at = append(g.at, ratioAt{one.Z, float64(one.D / p.Diameter(one.Z))})
	}
	slices.SortFunc(g.at, func(a, b ratioAt) int { return int(math.Copysign(1, float64(a.z-b.z))) })
	st := make([]Station, 0, len(p.stations)+len(g.at))
	next := 0 // of the measured heights
	for i, s := range p.stations {
		for ; next < len(g.at) && g.at[next].z <= s.Z-onStation; next++ {
			z := g.at[next].z
			st = append(st, Station{Z: z, D: p.Diameter(z) * unit.Millimetre(g.at[next].ratio), Kind: p.stations[i-1].Kind})
		}
		if next < len(g.at) && g.at[next].z < s.Z+onStation {
			s.D *= unit.Millimetre(g.at[next].ratio)
			next++
		} else {
			s.D = g.diameter(s.Z)
		}
		st = append(st, s)
	}
	q, err := New(st)
	return q, fault.At("the float as measured", err)
}

func (p Profile) checkMeasured(m []Measured, i int) error {
	one, where := m[i], "measure "+strconv.Itoa(i+1)
	text := func(v unit.Millimetre) string { return v.Text(printStep, unit.Style{}) }
	input := func(what, do string) error { return fault.New(fault.Input, where, what, do) }
	pattern := p.Diameter(one.Z)
	switch {
	case !(one.Z >= p.Base() && one.Z <= p.Top()): // written so that NaN fails
		return input("height "+text(one.Z)+" is off the body, which runs from "+text(p.Base())+" to "+text(p.Top()), "measure heights upwards from the base end, in mm")
	case !(one.D > 0 && one.D <= MaxDiameter):
		return input("diameter "+text(one.D)+" is not between 0 and "+text(MaxDiameter), "give the diameter over the last colour coat, in mm")
	case pattern == 0:
		return input("the pattern runs out to nothing at "+text(one.Z), "measure where the body has thickness")
	}
	if r := one.D / pattern; !(r >= leastRatio && r <= mostRatio) {
		return input("diameter "+text(one.D)+" at "+text(one.Z)+", where the pattern has "+text(pattern),
			"measure again, a few mm away from a step; a body of another shape is another pattern")
	}
	for _, other := range m[:i] {
		if d := one.Z - other.Z; d < leastApart && d > -leastApart {
			return input("height "+text(one.Z)+" is measured twice, with "+text(other.D)+" and "+text(one.D), "keep one of them, or their mean")
		}
	}
	return nil
}

// ratioAt is the ratio of a float to its pattern at one height.
type ratioAt struct {
	z     unit.Millimetre
	ratio float64
}

// growth is how one float differs from its pattern, in rising order of height.
type growth struct {
	pattern Profile
	at      []ratioAt
}

// diameter returns the float's diameter at a height that was not measured.
func (g growth) diameter(z unit.Millimetre) unit.Millimetre {
	d := g.pattern.Diameter(z)
	n := slices.IndexFunc(g.at, func(r ratioAt) bool { return r.z > z })
	switch n {
	case 0:
		return d * unit.Millimetre(g.at[0].ratio)
	case -1:
		return d * unit.Millimetre(g.at[len(g.at)-1].ratio)
	}
	lo, hi := g.at[n-1], g.at[n]
	t := float64((z - lo.z) / (hi.z - lo.z))
	if g.pattern.IsCone(lo.z, hi.z) { // a ratio that varies would bend it
		a := float64(g.pattern.Diameter(lo.z)) * lo.ratio
		b := float64(g.pattern.Diameter(hi.z)) * hi.ratio
		return unit.Millimetre(a + float64((b-a)*t))
	}
	return d * unit.Millimetre(lo.ratio+float64((hi.ratio-lo.ratio)*t))
}

// PaperStrip is the thickness of a strip of office paper of 80 g/m2, mm: an
// estimate, from memory.
const PaperStrip unit.Millimetre = 0.1

// DiameterOfGirth returns the diameter, mm, of the hoop round which a paper strip
// of thickness paper, mm, reaches girth, mm, from its end to where it meets
// itself. The strip bends about its own middle, which lies half its thickness
// off the body: girth = pi (d + paper). A girth of a unit's slip gives a diameter
// that is nothing or less; Remeasured refuses it.
//
// An oval section goes by its girth, not by a diameter across it: a flat piece is
// as long as the way round, whatever the section's shape, and the hoop of the
// same girth is the one it fits.
func DiameterOfGirth(girth, paper unit.Millimetre) unit.Millimetre {
	return girth/math.Pi - paper
}
