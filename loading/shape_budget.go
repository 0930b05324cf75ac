package loading

import (
	"math"

	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// budget returns what each source of doubt leaves in the pull: sensitivity times
// standard uncertainty, the half-widths rectangular (JCGM 100:2008, 5.1.3 and
// 4.3.7; the sensitivity to diameter by a small change, note 2 there).
func (s Shape) budget(rho, pull float64) []tank.Part {
	var parts []tank.Part
	add := func(name string, halfWidth float64) {
		parts = append(parts, tank.Part{Name: name, U: unit.Gram(math.Abs(halfWidth) / math.Sqrt(3))})
	}
	under, mass := s.solid()
	if thin, ok := s.thinner(nudge); ok {
		// The mass by densities shrinks with the volume, so it is in here too.
		add("diameter", (pull-thin.pull(rho))/nudge*float64(s.DiameterWithin))
	}
	byLength := float64(rho * under)
	if s.Mass > 0 {
		add("scale", float64(s.Scale))
	} else {
		byLength -= mass
	}
	add("length", byLength/s.length()*float64(s.LengthWithin))
	if s.Mass == 0 {
		for _, p := range s.Parts {
			add("density of "+p.Material.Name, p.volume(-everywhere, everywhere)*p.Material.Within)
		}
	}
	area := 0.0
	for _, p := range s.Parts {
		if from, to := p.stretch(); s.Waterline-p.At >= from && s.Waterline-p.At <= to {
			d := float64(p.Profile.Diameter(s.Waterline - p.At))
			area = math.Max(area, math.Pi/4*d*d)
		}
	}
	add("waterline", rho*area/cubicMillimetresPerCC*float64(s.WaterlineWithin))
	for _, c := range s.Coats {
		m, u := s.coat(c)
		add("thickness of "+c.Name, (float64(rho*u)-m)*coatThickness)
		add("density of "+c.Name, m*coatDensity)
	}
	if s.Weight != nil {
		add("built-in weight", float64(s.Scale))
	}
	if s.WaterDensity == 0 {
		near := s.Water
		if near.TempC += shapeTemp; near.Check() != nil {
			near.TempC -= 2 * shapeTemp
		}
		add("density of the water", under*(near.Density()-rho))
	}
	return parts
}

// length returns the float's length from its lowest part to its highest, mm.
func (s Shape) length() float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range s.Parts {
		from, to := p.stretch()
		lo, hi = math.Min(lo, float64(p.At+from)), math.Max(hi, float64(p.At+to))
	}
	return hi - lo
}
