package body

import (
	"math"

	"floatmark/loading/unit"
)

// edgeAngle is the turn of the outline, radians, above which two runs meet in
// an edge: 2 degrees. An estimate, no source: it lies above what the slopes of a
// fitted ogive's shoulder miss, and below an edge that a finger finds.
const edgeAngle = 2 * math.Pi / 180

// stepHeight is the height of a shoulder, mm: twice the least, so that no
// rounding brings it below.
const stepHeight = 2 * MinStep

// Join stacks parts up the axis, the first at its own height and each later one
// on the one below. Where the slopes of two parts differ by more than 2 degrees
// the joint is a corner, elsewhere the body goes smoothly through, unless a part
// brings a corner of its own there. Where their diameters differ the body has a
// step: a shoulder 0.02 mm high, taken from the upper part's length.
func Join(parts ...[]Station) []Station {
	var out []Station
	var below []Station
	for _, part := range parts {
		if len(part) == 0 {
			continue
		}
		if below == nil {
			out, below = append(out, part...), part
			continue
		}
		top := len(out) - 1
		lift := out[top].Z - part[0].Z
		out[top].Corner = out[top].Corner || part[0].Corner || edge(below, part)
		first := 0
		if out[top].D == part[0].D {
			out[top].Kind, first = part[0].Kind, 1
		} else {
			out[top].Kind, out[top].Corner = Straight, true
		}
		for i, s := range part[first:] {
			s.Z += lift
			if first == 0 && i == 0 {
				s.Z, s.Corner = s.Z+stepHeight, true
			}
			out = append(out, s)
		}
		below = part
	}
	return out
}

// edge says whether the outline turns where part stands on below.
func edge(below, part []Station) bool {
	lo, err := New(below)
	hi, err2 := New(part)
	if err != nil || err2 != nil {
		return true // New will say of the whole what is wrong
	}
	q := lo.pieces[len(lo.pieces)-1]
	return turns(q.slope(q.z0+q.h), hi.pieces[0].slope(hi.pieces[0].z0))
}

func turns(below, above float64) bool {
	return !(math.Abs(math.Atan(below)-math.Atan(above)) <= edgeAngle)
}

// HalfAngle returns the angle between the body's side and its axis at height z,
// radians: positive where the body widens towards the tip, ±π/2 at a round pole.
// It is the half-angle of the cone that touches the body there. At an edge it
// is that just above, as Slope is; beyond an end, that of the end.
func (p Profile) HalfAngle(z unit.Millimetre) float64 { return math.Atan(p.Slope(z)) }
