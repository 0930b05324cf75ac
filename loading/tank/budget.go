package tank

import (
	"math"

	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// Part is one line of the uncertainty budget of a reading.
type Part struct {
	Name string    // "shot AAA", "scale", "meniscus" and so on
	U    unit.Gram // standard uncertainty it leaves in the pull, |c|u
}

// The half-widths of what is not known exactly. Each is taken as rectangular,
// standard uncertainty a/sqrt(3) (JCGM 100:2008, 4.3.7).
const (
	// coverage makes a standard uncertainty an expanded one, k = 2.
	coverage = 2
	// shotTolerance is how far a shot may be off its printed mass. Estimate: no
	// tolerance was found in print; two tables of one size differ by 5 % and more.
	shotTolerance = 0.05
	// looseTolerance is the same for a mass that was not found in print. Estimate.
	looseTolerance = 0.10
	// fineRounding is half the last printed digit, which for fine shot is more
	// than shotTolerance.
	fineRounding = 0.005
	// scaleSteps is how many steps a scale may be off: half a step of reading,
	// half of calibration and zero. Estimate.
	scaleSteps = 1.0
	// densityTolerance covers alloys: lead shot with 3 % of antimony is 11.11
	// by mixtures, pure lead 11.34 g/cm3. Estimate.
	densityTolerance = 0.15
	// tempTolerance is how well the water's temperature is known, in degrees. Estimate.
	tempTolerance = 1.0
	// tipTolerance is how well a calliper takes a painted tip, in mm. Estimate.
	tipTolerance = 0.05
)

// Surface tension in mN/m, and the share of the full meniscus pi d gamma that
// stays unknown. The full meniscus of a 3 mm tip is 0.07 g: the largest single
// effect of all, larger than any reading error.
const (
	cleanWater  = 72.8 // at 20 degrees C, general physics pages
	washedWater = 30.0 // with washing-up liquid; handbook value from memory
	gravity     = 9.80665

	unknownWetting = 0.5  // anywhere between a dry waxed tip and a fully wetted one
	knownWetting   = 0.25 // wet or dry was noted, the contact angle was not. Estimate
	washedWetting  = 0.05 // washing-up liquid wets everything alike. Estimate
)

// Budget returns what each source of doubt leaves in the pull, in the order
// shot or scale, meniscus, waterline, metal, temperature, tip, fittings. The
// reading must be one Load accepts.
func (r Reading) Budget() []Part {
	r = r.withDefaults()
	rho, rhoW := r.Metal.Density, r.Water.Density()
	k := 1 - rhoW/rho
	mass := float64(r.Hung)
	var parts []Part
	if len(r.Counted) > 0 {
		mass = float64(shot.Total(r.Counted))
		for _, c := range r.Counted {
			// Shot of one size comes out of one mould or bag: all are off the same
			// way, so the doubt grows with N and not with its root (JCGM
			// 100:2008, 5.2.2 note 1).
			parts = append(parts, part("shot "+c.Size.Name, k*float64(c.N)*shotHalfWidth(c.Size)))
		}
	} else {
		parts = append(parts, part(partScale, k*scaleSteps*float64(r.ScaleStep)))
	}
	d := float64(r.TipDiameter)
	gamma, share := r.Tip.meniscus()
	full := math.Pi * d * gamma / gravity / 1000 // mN/m times mm is uN; over g, mg
	rhoW1 := r.Water
	rhoW1.TempC = math.Min(r.Water.TempC+tempTolerance, 40)
	if rhoW1.TempC == r.Water.TempC {
		rhoW1.TempC -= tempTolerance
	}
	volume := mass / rho // of all that hung, cm3
	for _, f := range r.With {
		volume += float64(f.Mass) / f.Metal.Density
	}
	parts = append(parts,
		part(partMeniscus, share*full),
		part(partWaterline, r.waterPerMillimetre()*float64(r.ReadTo)),
		part("density of the metal", mass*rhoW/(rho*rho)*densityTolerance),
		part("density of the water", volume*math.Abs(rhoW1.Density()-rhoW)),
		part("diameter of the tip", math.Abs(float64(r.Above))*r.waterPerMillimetre()*2/d*tipTolerance),
	)
	for _, f := range r.With {
		rho := f.Metal.Density
		weighed := (1 - rhoW/rho) * scaleSteps * float64(r.ScaleStep)
		// Weighing and density are independent: their half-widths, both
		// rectangular, add as squares.
		parts = append(parts, part("fitting "+f.Name, math.Hypot(weighed, float64(f.Mass)*rhoW/(rho*rho)*densityTolerance)))
	}
	return parts
}

// The parts of the budget that may differ from one reading to the next.
const (
	partScale     = "scale"
	partMeniscus  = "meniscus"
	partWaterline = "waterline"
)

func part(name string, halfWidth float64) Part {
	return Part{name, unit.Gram(halfWidth / math.Sqrt(3))}
}

func shotHalfWidth(s shot.Size) float64 {
	m := float64(s.Mass)
	switch {
	case s.Weighed.N > 0 && s.Weighed.U > 0:
		// The maker weighed them: his own standard uncertainty, as the half-width
		// that part turns back into it.
		return math.Sqrt(3) * float64(s.Weighed.U)
	case !s.Verified:
		return looseTolerance * m
	case s.Mass <= shot.FineShot:
		return math.Max(fineRounding, float64(s.Rounding))
	default:
		return math.Max(shotTolerance*m, float64(s.Rounding))
	}
}

// combined returns the combined standard uncertainty of the pull.
func (r Reading) combined() float64 {
	var us []float64
	for _, p := range r.Budget() {
		us = append(us, float64(p.U))
	}
	return rootSum(us...)
}

// rootSum returns the root of the sum of squares of independent standard
// uncertainties (JCGM 100:2008, 5.1.2).
func rootSum(us ...float64) float64 {
	sum := 0.0
	for _, u := range us {
		sum += float64(u * u)
	}
	return math.Sqrt(sum)
}
