// Package tank turns what was hung on a float in the test tank into the load
// it takes, with the uncertainty of that load.
//
// Masses and pulls are grams, lengths millimetres. The package knows nothing
// of ratings, printing steps or built-in weights: what a load means is worked
// out in loading.
package tank

import (
	"math"

	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Reading is one test in the tank: what hung on the float when its tip stood
// at its mark.
type Reading struct {
	Hung    unit.Gram    // weighed together, in air; 0 with Counted
	Counted []shot.Count // not weighed: counted shot of printed masses; nil when weighed together
	Metal   water.Metal  // of what was hung
	// With is what hung with the shot for the test alone: it pulled too, so it is
	// part of the load. Leave out what stays on the float when it is fished, such
	// as its adapter: shot is then still to be added as read.
	With  []Fitting
	Water water.Water
	Stage Stage
	Tip   Tip
	// TipDiameter is the tip's at its mark; 0 is taken as AssumedTip.
	TipDiameter unit.Millimetre
	// Above is how far the tip stood above its mark when read, negative below
	// it; the load is corrected for it.
	Above     unit.Millimetre
	ReadTo    unit.Millimetre // the tip's height was read to plus or minus this; 0 is 0.5 mm
	ScaleStep unit.Gram       // last digit of the scale; 0 is 0.01 g
	// ToCome is what coats and parts that come after this test will take; nil
	// when none do. Load leaves it out of account, Finished does not.
	ToCome *Allowance
}

// Fitting is a swivel, an adapter or a link that hung with the shot.
type Fitting struct {
	Name  string    // "swivel"; for the budget
	Mass  unit.Gram // weighed in air, on the scale of the reading
	Metal water.Metal
}

// Load is what a float takes, free of the metal it was tested with.
type Load struct {
	Pull unit.Gram // under water, at the mark
	// U is the expanded uncertainty of Pull, k = 2: in 95 of 100 tests the
	// float's own load lies within plus or minus U.
	U     unit.Gram
	Metal water.Metal // what was hung
	Water water.Water // what it was hung in
	Stage Stage
	Tip   Tip
}

// In returns the load as a mass of metal weighed in air, and its expanded
// uncertainty. w is the water the mass is to pull in. The pull is kept: a
// float carries more in denser water, by its immersed volume, which a tank
// test does not know.
func (l Load) In(metal water.Metal, w water.Water) (mass, u unit.Gram) {
	return water.Mass(l.Pull, metal, w), water.Mass(l.U, metal, w)
}

// Defaults and assumptions.
const (
	// AssumedTip stands in for a tip nobody measured. Estimate: the thick end
	// of the common run, so that the uncertainty is not made too small.
	AssumedTip unit.Millimetre = 4
	// DefaultReadTo is how well an eye sets a tip to its mark. Estimate.
	DefaultReadTo unit.Millimetre = 0.5
	// DefaultScaleStep is the last digit of a usual pocket scale. Estimate.
	DefaultScaleStep unit.Gram = 0.01

	maxHung  unit.Gram       = 500 // no float on a line takes this. Estimate
	maxTip   unit.Millimetre = 60  // nor has this tip. Estimate
	maxAbove unit.Millimetre = 100 // a tip further off its mark was not tested. Estimate
	maxStep  unit.Gram       = 5   // kitchen scales at their coarsest. Estimate
)

// Load returns the load of a reading. Input error when a figure is missing,
// negative or absurd (above 500 g), and when both a weighed total and counted
// shot are given and disagree.
func (r Reading) Load() (Load, error) {
	r = r.withDefaults()
	if err := r.check(); err != nil {
		return Load{}, err
	}
	mass := r.Hung
	if len(r.Counted) > 0 {
		mass = shot.Total(r.Counted)
	}
	// A tip that stands high needs as much more as the water its raised length
	// would displace.
	pull := float64(water.Pull(mass, r.Metal, r.Water)) + float64(float64(r.Above)*r.waterPerMillimetre())
	for _, f := range r.With {
		pull += float64(water.Pull(f.Mass, f.Metal, r.Water))
	}
	return Load{
		Pull: unit.Gram(pull), U: unit.Gram(coverage * r.combined()),
		Metal: r.Metal, Water: r.Water, Stage: r.Stage, Tip: r.Tip,
	}, nil
}

func (r Reading) withDefaults() Reading {
	if r.TipDiameter == 0 {
		r.TipDiameter = AssumedTip
	}
	if r.ReadTo == 0 {
		r.ReadTo = DefaultReadTo
	}
	if r.ScaleStep == 0 {
		r.ScaleStep = DefaultScaleStep
	}
	return r
}

func (r Reading) check() error {
	if err := r.Metal.Check(); err != nil {
		return err
	}
	if err := r.Water.Check(); err != nil {
		return err
	}
	for _, c := range r.Counted {
		if c.N < 0 || !(c.Size.Mass > 0) {
			return fault.Inputf("count each size from 1 up", "%d of shot %s was counted, %s each", c.N, c.Size.Name, c.Size.Mass.Text(0.001, unit.Style{}))
		}
	}
	for _, f := range r.With {
		if err := f.Metal.Check(); err != nil {
			return fault.At(f.Name, err)
		}
		if !(f.Mass > 0 && f.Mass <= maxHung) {
			return fault.Inputf("weigh it, or leave it out", "a %s of %s is none", f.Name, f.Mass.Text(0.01, unit.Style{}))
		}
	}
	counted := shot.Total(r.Counted)
	st := unit.Style{}
	const same = 0.0005 // grams: what is left when one total is written to the milligram
	switch {
	case !(r.Hung >= 0 && r.Hung <= maxHung) || !(counted <= maxHung):
		return fault.Inputf("give what hung on the float, from 0 to 500 g", "%s is no load of a float", max(r.Hung, counted).Text(0.01, st))
	case len(r.Counted) > 0 && r.Hung > 0 && math.Abs(float64(r.Hung-counted)) > same:
		return fault.Inputf("give the weighed total or the counted shot, not both; the weighed total is the better figure",
			"the reading has %s weighed and %s counted", r.Hung.Text(0.01, st), counted.Text(0.01, st))
	case !(r.TipDiameter > 0 && r.TipDiameter <= maxTip):
		return fault.Inputf("give the tip's diameter at its mark, as in \"3 mm\"", "a tip of %s is none", r.TipDiameter.Text(0.1, st))
	case !(math.Abs(float64(r.Above)) <= float64(maxAbove)):
		return fault.Inputf("add or take off shot until the tip is near its mark", "the tip stood %s off its mark", r.Above.Text(0.1, st))
	case !(r.ReadTo > 0 && r.ReadTo <= maxAbove):
		return fault.Inputf("give how well the tip was read, as in \"0.5 mm\"", "the tip cannot be read to %s", r.ReadTo.Text(0.1, st))
	case r.ToCome != nil && !r.ToCome.sound():
		return fault.Inputf("give what varnish and decal take, as in \"0.01 g\"", "an allowance of %s for what is still to come is none", r.ToCome.Pull.Text(0.01, st))
	case !(r.ScaleStep > 0 && r.ScaleStep <= maxStep):
		return fault.Inputf("give the scale's last digit, as in \"0.01 g\"", "a scale cannot read to %s", r.ScaleStep.Text(0.001, st))
	}
	return nil
}

// waterPerMillimetre returns the grams of water a millimetre of tip displaces.
func (r Reading) waterPerMillimetre() float64 {
	d := float64(r.TipDiameter)
	return r.Water.Density() * math.Pi / 4 * d * d / cubicMillimetres
}

const cubicMillimetres = 1000 // in one cm3
