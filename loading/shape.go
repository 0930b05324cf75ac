package loading

import (
	"floatmark/loading/body"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Part is a stretch of a float made of one material: a body, a tip, a stem.
// Parts may come from one profile or each have its own.
type Part struct {
	Name     string
	Profile  body.Profile
	At       unit.Millimetre // height of the profile's z = 0 over the float's base end
	From, To unit.Millimetre // the stretch, in heights of the profile; both 0 is all of it
	Material Material
}

// Coat is a coat still to come over the measured diameters. Its volume counts
// as well as its mass.
type Coat struct {
	Name      string
	From, To  unit.Millimetre // heights over the float's base end; both 0 is all of it
	Thickness unit.Millimetre // dry
	Density   float64         // g/cm3, dry
}

// Shape is a float before any test: what it measures and what it is made of.
type Shape struct {
	Parts     []Part
	Waterline unit.Millimetre // height of the target waterline over the base end
	Coats     []Coat
	// Mass is the bare float weighed, without coats and weight still to come;
	// 0 takes it from the parts' densities, which is far less certain.
	Mass   unit.Gram
	Weight *Weight // nil for the bare float

	Metal water.Metal // the metal the load is told in
	Water water.Water
	// WaterDensity, g/cm3, stands in for that of Water when it is not 0.
	WaterDensity float64

	// How well it was measured, plus or minus; 0 is the default named below.
	DiameterWithin, LengthWithin, WaterlineWithin unit.Millimetre
	Scale                                         unit.Gram
}

// The defaults and half-widths of a prediction. Estimates but where said.
const (
	// DefaultDiameterWithin is what a calliper on paint is good for. It counts as
	// one bias along the whole body: a calliper that reads high does so everywhere.
	DefaultDiameterWithin unit.Millimetre = 0.05
	// DefaultLengthWithin is a steel rule's.
	DefaultLengthWithin unit.Millimetre = 0.1
	// coatThickness and coatDensity are shares of what a coat is said to be: no
	// brush lays it evenly.
	coatThickness = 0.3
	coatDensity   = 0.1
	// shapeTemp is how well the water's temperature is known, degrees C.
	shapeTemp = 1.0

	maxParts              = 100
	maxSolid              = 22.7 // g/cm3, as water.Metal.Check
	cubicMillimetresPerCC = 1000
	// nudge is the change of a diameter, mm, by which its effect is measured:
	// small against any, large against rounding.
	nudge = 0.001
)

// Prediction is what a shape promises. It is no load: nothing turns it into a
// rating, a mark or a card, for a float is rated by a test. It shows as a range.
type Prediction struct {
	pull    float64 // at the waterline, g
	parts   []tank.Part
	k       float64 // of the metal, in that water
	metal   water.Metal
	density float64 // of the water, g/cm3
}

// PredictShape works out what a float takes from its shape alone. It is an
// Input error when a figure is missing or absurd.
func PredictShape(s Shape) (Prediction, error) {
	s = s.withDefaults()
	if err := s.check(); err != nil {
		return Prediction{}, err
	}
	rho := s.density()
	p := Prediction{metal: s.Metal, density: rho, k: 1 - rho/s.Metal.Density}
	p.pull = s.pull(rho)
	p.parts = s.budget(rho, p.pull)
	return p, nil
}

func (s Shape) withDefaults() Shape {
	set := func(v *unit.Millimetre, d unit.Millimetre) {
		if *v == 0 {
			*v = d
		}
	}
	set(&s.DiameterWithin, DefaultDiameterWithin)
	set(&s.LengthWithin, DefaultLengthWithin)
	set(&s.WaterlineWithin, tank.DefaultReadTo)
	if s.Scale == 0 {
		s.Scale = tank.DefaultScaleStep
	}
	return s
}

func (s Shape) density() float64 {
	if s.WaterDensity != 0 {
		return s.WaterDensity
	}
	return s.Water.Density()
}

// stretch returns the ends of a part in heights of its profile.
func (p Part) stretch() (from, to unit.Millimetre) {
	if p.From == 0 && p.To == 0 {
		return p.Profile.Base(), p.Profile.Top()
	}
	return p.From, p.To
}

// between returns the part's stretch cut to heights over the float's base.
func (p Part) between(lo, hi unit.Millimetre) (from, to unit.Millimetre, any bool) {
	from, to = p.stretch()
	from, to = max(from, lo-p.At), min(to, hi-p.At)
	return from, to, from < to
}

// volume returns the part's volume between two heights over the float's base, cm3.
func (p Part) volume(lo, hi unit.Millimetre) float64 {
	from, to, any := p.between(lo, hi)
	if !any {
		return 0
	}
	return p.Profile.Volume(from, to) / cubicMillimetresPerCC
}

// surface returns the part's outer surface between two heights, mm2. End faces
// and what one part covers of another are left out.
func (p Part) surface(lo, hi unit.Millimetre) float64 {
	from, to, any := p.between(lo, hi)
	if !any {
		return 0
	}
	return p.Profile.Surface(from, to)
}

// everywhere is beyond both ends of any float, mm.
const everywhere unit.Millimetre = 1e6

// solid returns the volume under water, cm3, and the mass of the bare float by
// its densities, g.
func (s Shape) solid() (under, mass float64) {
	for _, p := range s.Parts {
		under += p.volume(-everywhere, s.Waterline)
		mass += float64(p.volume(-everywhere, everywhere) * p.Material.Density)
	}
	return under, mass
}

// coat returns the mass of a coat, g, and its volume under water, cm3.
func (s Shape) coat(c Coat) (mass, under float64) {
	from, to := c.From, c.To
	if from == 0 && to == 0 {
		from, to = -everywhere, everywhere
	}
	all, wet := 0.0, 0.0
	for _, p := range s.Parts {
		all += p.surface(from, to)
		wet += p.surface(from, min(to, s.Waterline))
	}
	t := float64(c.Thickness) / cubicMillimetresPerCC
	return t * all * c.Density, t * wet
}

// pull returns the grams under water that the float carries at its waterline:
// the water it displaces less all it weighs (Archimedes).
func (s Shape) pull(rho float64) float64 {
	under, mass := s.solid()
	if s.Mass > 0 {
		mass = float64(s.Mass)
	}
	pull := float64(rho*under) - mass
	for _, c := range s.Coats {
		m, u := s.coat(c)
		pull += float64(rho*u) - m
	}
	if s.Weight != nil {
		used := float64(s.Weight.Mass)
		if s.Weight.Outside {
			used *= 1 - rho/s.Weight.Metal.Density
		}
		pull -= used
	}
	return pull
}

// thinner returns the shape with every diameter less by d mm.
func (s Shape) thinner(d unit.Millimetre) (Shape, bool) {
	out := s
	out.Parts = make([]Part, len(s.Parts))
	for i, p := range s.Parts {
		stations := p.Profile.Stations()
		for j := range stations {
			if stations[j].D > d {
				stations[j].D -= d
			}
		}
		profile, err := body.New(stations)
		if err != nil {
			return s, false
		}
		p.Profile = profile
		out.Parts[i] = p
	}
	return out, true
}
