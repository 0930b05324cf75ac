package wrap

import (
	"math"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// MinPartGap, mm, is the least bare strip a part wrap leaves at half its slant.
// It is wider than any joint's uncertainty (Meeting gives 0.9 mm at the worst),
// so that the edges never meet on one float and gape on the next.
const MinPartGap = 1.0

const fullTurn = 360 // degrees

// partStep rounds angles in messages, degrees.
const partStep = 1

// DevelopPart makes the flat piece that covers arc degrees of the body, half to
// each side of the centre meridian, with no seam: Left and Right are -arc/2 and
// arc/2, Overlap is 0 and Gap tells what stays bare. It is the piece for a body
// whose diameter is not known well enough for edges to meet, and for thick
// films, whose overlap is a ridge.
//
// Strain is that of the full hoop's cone; on a narrow piece PatchStrain is
// nearer to the truth. Errors are those of Develop, and Input for an arc that is
// not above 0 or leaves less than MinPartGap bare.
func DevelopPart(p body.Profile, from, to unit.Millimetre, film Film, arc float64) (Flat, error) {
	if !(arc > 0 && arc < fullTurn) { // written so that NaN fails
		return Flat{}, fault.Inputf("give the arc in degrees, between 0 and 360", "a part wrap cannot cover %s degrees", unit.Number(arc, partStep, unit.Style{}))
	}
	f, err := Develop(p, from, to, film, Seam{})
	if err != nil {
		return Flat{}, err
	}
	f.part = arc / 2 * math.Pi / (fullTurn / 2)
	if gap := f.Gap(); gap < MinPartGap {
		return Flat{}, fault.Inputf("cover less of the body, or make a full wrap with an overlap",
			"a part wrap of %s degrees leaves only %s bare, less than %s", unit.Number(arc, partStep, unit.Style{}), length(gap), length(MinPartGap))
	}
	return f, nil
}

// DevelopPatch makes a lengthwise patch: the part wrap that is width mm wide at
// half its slant. Errors are those of DevelopPart, and Input for a width that is
// not above 0 or too wide for the body.
func DevelopPatch(p body.Profile, from, to unit.Millimetre, film Film, width float64) (Flat, error) {
	f, err := Develop(p, from, to, film, Seam{})
	if err != nil {
		return Flat{}, err
	}
	hoop := f.Hoop(f.Slant / 2)
	if !(width > 0 && hoop-width >= MinPartGap) {
		return Flat{}, fault.Inputf("make it narrower than "+length(max(0, hoop-MinPartGap)),
			"a patch %s wide does not suit a hoop of %s", length(width), length(hoop))
	}
	f.part = f.Angle(width, f.Slant/2) / 2
	return f, nil
}

// Gap returns the width of the bare strip between the edges at half the slant,
// mm; 0 where the edges meet or overlap.
func (f Flat) Gap() float64 {
	if f.part > 0 {
		return f.Hoop(f.Slant/2) * (1 - f.part/math.Pi)
	}
	return max(0, -f.Overlap)
}

// MeanCurvature returns the mean Gaussian curvature of the body's side between
// two heights, 1/mm²: the turn of the side over its surface, which by the
// theorem of Gauss and Bonnet is exact. It is 0 on a cone, positive on a belly,
// negative on a waist; 0 where there is no surface.
func MeanCurvature(p body.Profile, from, to unit.Millimetre) float64 {
	area := p.Surface(from, to)
	if !(area > 0) {
		return 0
	}
	below, above := p.HalfAngle(from), p.HalfAngle(to)
	return 2 * math.Pi * (math.Sin(below) - math.Sin(above)) / area
}

// PatchStrain returns the least strain of a small piece, width mm round the body
// and set between two heights: K·w²/16 with K the mean curvature and w the
// SMALLER of its two sides, since a strip follows the body along its length and
// is strained across. Good to some per cent up to 4 % strain; worked out, not
// published.
func PatchStrain(p body.Profile, from, to unit.Millimetre, width float64) float64 {
	const law = 16 // of the balanced fit
	side := min(width, p.Meridian(from, to))
	return math.Abs(MeanCurvature(p, from, to)) * side * side / law
}
