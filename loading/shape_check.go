package loading

import (
	"fmt"
	"math"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func (s Shape) check() error {
	if err := s.Metal.Check(); err != nil {
		return err
	}
	if err := s.Water.Check(); err != nil {
		return err
	}
	const leastWater, mostWater = 0.95, 1.3 // g/cm3: hot fresh water, a salt lake
	switch {
	case !(s.density() >= leastWater && s.density() <= mostWater):
		return fault.Inputf("give the density of the water in g/cm3, as in 1.000", "%v g/cm3 is no water", s.WaterDensity)
	case len(s.Parts) == 0 || len(s.Parts) > maxParts:
		return fault.Inputf("give the profile and the material of each part, 100 at most", "a float of %d parts is none", len(s.Parts))
	case !(s.Mass >= 0 && s.Mass <= maxMass):
		return fault.Inputf("give the bare float's own mass, up to 500 g, or none", "a mass of %s is none", text(s.Mass))
	case !(s.Scale > 0 && s.Scale <= maxMass) || !(s.DiameterWithin > 0 && s.DiameterWithin <= body.MaxDiameter) ||
		!(s.LengthWithin > 0 && s.LengthWithin <= body.MaxHeight) || !(s.WaterlineWithin > 0 && s.WaterlineWithin <= body.MaxHeight):
		return fault.Inputf("give how well diameter, length, waterline and mass were measured, each above 0", "one of the tolerances is none")
	case !(math.Abs(float64(s.Waterline)) <= float64(everywhere)):
		return fault.Inputf("measure it upwards from the base end, in mm", "the waterline has no height")
	}
	for i, p := range s.Parts {
		from, to := p.stretch()
		m := p.Material
		switch {
		case !(from < to) || !(from >= p.Profile.Base() && to <= p.Profile.Top()) || !(math.Abs(float64(p.At)) <= float64(body.MaxHeight)):
			return fault.New(fault.Input, partName(i, p), "its stretch is not on its profile", "give from and to as heights of its profile, in mm")
		case s.Mass == 0 && !(m.Density > 0 && m.Density <= maxSolid && m.Within >= 0 && m.Within <= m.Density):
			return fault.New(fault.Input, partName(i, p), fmt.Sprintf("a density of %v plus or minus %v g/cm3 is none", m.Density, m.Within), "give it in g/cm3, as in 0.15, or weigh the bare float")
		}
	}
	for _, c := range s.Coats {
		if !(c.Thickness >= 0 && c.Thickness <= maxCoat) || !(c.Density > 0 && c.Density <= maxSolid) || !(c.From <= c.To) {
			return fault.New(fault.Input, c.Name, "a coat of "+c.Thickness.Text(0.001, unit.Style{})+fmt.Sprintf(" and %v g/cm3 is none", c.Density), "give its dry thickness in mm, as in 0.05, and its density, as in 1.1")
		}
	}
	if s.Weight != nil {
		if !sensible(s.Weight.Mass) {
			return fault.Inputf("give a built-in weight above 0 and up to 500 g", "a built-in weight of %s is none", text(s.Weight.Mass))
		}
		return fault.At("built-in weight", s.Weight.Metal.Check())
	}
	return nil
}

// maxCoat is thicker than any coat of paint. Estimate.
const maxCoat unit.Millimetre = 2

func partName(i int, p Part) string {
	if p.Name != "" {
		return p.Name
	}
	return fmt.Sprintf("part %d", i+1)
}
