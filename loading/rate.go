package loading

import (
	"math"

	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

const (
	// maxMass is the largest mass taken for meant. Estimate.
	maxMass unit.Gram = 500
	// grossShare and grossSteps: a sum further from the nominal than 15 % of it
	// and than five steps is a slip of the pen, not a float. Estimates.
	grossShare = 0.15
	grossSteps = 5
	// finestStep is the finest step printed, whatever U claims: the last digit
	// of a jeweller's scale.
	finestStep unit.Gram = 0.001
	// waterDiffers is the difference in density, g/cm3, from which a float's
	// own buoyancy matters: 10 degrees of temperature is under 0.002, sea water
	// 0.026.
	waterDiffers = 0.005
	// tiny absorbs the last binary digit when decimal figures are compared.
	tiny = 1e-9
)

// Rate works out the figures of one float and what to warn of. It is an Input
// error when a figure is missing, absurd or contradicts another, when the
// weight sinks the float, when a loaded float has no reading with its weight
// fitted, and when neither the float nor a fellow was tested.
func Rate(in Input) (Rating, []Notice, error) {
	if err := in.check(); err != nil {
		return Rating{}, nil, err
	}
	r := Rating{Kind: in.Kind, Nominal: in.Nominal, Weight: in.Weight, Metal: in.Metal, Water: in.Water}
	if in.Weight != nil {
		r.Weighed = in.Weight.Mass
	}
	if err := r.predict(in); err != nil {
		return Rating{}, nil, err
	}
	notices, err := r.measure(in)
	if err != nil {
		return Rating{}, nil, err
	}
	notices = append(notices, r.setStep(in)...)
	if err := r.checkGross(); err != nil {
		return Rating{}, nil, err
	}
	notices = append(notices, r.print(in)...)
	if r.Printed <= 0 {
		return Rating{}, nil, fault.Inputf("weigh the shot together and note how the tip is wetted: the reading gets finer", "%s to add comes to nothing in printing steps of %s", text(r.Measured), r.text(r.Step))
	}
	r.AddPull = water.Pull(r.Add, r.Metal, r.Water)
	return r, append(notices, r.compare(in)...), nil
}

func (in Input) check() error {
	if err := in.Metal.Check(); err != nil {
		return err
	}
	if err := in.Water.Check(); err != nil {
		return err
	}
	if in.Kind == Exchangeable {
		return fault.New(fault.Ours, "", "an exchangeable float is rated set-up by set-up, each as what it then is", "")
	}
	if in.Kind < Unloaded || in.Kind > SelfCocking {
		return fault.Inputf("use unloaded, loaded or self-cocking", "the float's kind is unknown")
	}
	if !sensible(in.Nominal) {
		return fault.Inputf("give a rating above 0 and up to 500 g", "a rating of %s is none", text(in.Nominal))
	}
	for _, m := range in.Fellows {
		if !(m >= 0 && m <= maxMass) {
			return fault.Inputf("check the readings of the other floats of this pattern", "a fellow's add of %s is none", text(m))
		}
	}
	if !(in.Step >= 0 && in.Step <= maxMass) || !(in.FellowsU >= 0 && in.FellowsU <= maxMass) {
		return fault.Inputf("give a printing step such as 0.05 g, or none", "the printing step or the uncertainty of the fellows is no mass")
	}
	switch {
	case in.Kind == Unloaded && in.Weight != nil:
		return fault.Inputf("make the float loaded or self-cocking, or take the weight out", "an unloaded float has a built-in weight of %s", text(in.Weight.Mass))
	case in.Kind != Unloaded && in.Weight == nil:
		return fault.Inputf("give the mass and metal of its weight, or make it unloaded", "a %s float has no built-in weight", in.Kind)
	}
	if in.Weight != nil {
		if !sensible(in.Weight.Mass) {
			return fault.Inputf("give a built-in weight above 0 and up to 500 g", "a built-in weight of %s is none", text(in.Weight.Mass))
		}
		if err := in.Weight.Metal.Check(); err != nil {
			return fault.At("built-in weight", err)
		}
	}
	for _, l := range []*tank.Load{in.Reading, in.Bare} {
		if l == nil {
			continue
		}
		if !(l.U >= 0 && l.U <= maxMass) || !(math.Abs(float64(l.Pull)) <= float64(maxMass)) {
			return fault.Inputf("check the reading", "a load of %s is none", text(l.Pull))
		}
		if err := l.Water.Check(); err != nil {
			return fault.At("reading", err)
		}
	}
	return nil
}

func sensible(m unit.Gram) bool { return m > 0 && m <= maxMass }

// text writes a mass for a message.
func text(m unit.Gram) string { return m.Text(0.01, unit.Style{}) }

// predict works out what the bare capacity leaves and refuses a weight that
// sinks the float. A weight does not use up its own mass of the capacity: that
// is lead on the line, pulled up by the water it displaces, while a weight
// inside the hull displaces none.
func (r *Rating) predict(in Input) error {
	if in.Bare == nil || in.Weight == nil {
		return nil
	}
	w := *in.Weight
	if water.Share(w.Mass, w.Metal, w.Outside, in.Bare.Water) >= in.Bare.Pull {
		where, capacity := "inside", unit.Gram(0)
		if w.Outside {
			where = "outside"
		}
		capacity, _ = in.Bare.In(in.Bare.Metal, in.Bare.Water)
		limit := SinkLimit(*in.Bare, w.Metal, w.Outside)
		// Rounded down: a figure rounded up would sink.
		limit = unit.Gram(unit.Round(math.Floor(math.Max(0, float64(limit))*100)/100, 0.01))
		return fault.Inputf("fit a lighter weight or check both figures", "%s %s sinks it: its bare capacity of %s of %s carries at most %s of %s",
			text(w.Mass), where, text(capacity), in.Bare.Metal.Name, text(limit), w.Metal.Name)
	}
	p := Predict(*in.Bare, w, in.Metal, in.Water)
	r.Predicted = &p
	return nil
}

// measure takes the add from the float's own reading or from its fellows.
func (r *Rating) measure(in Input) ([]Notice, error) {
	reading := in.Reading
	if reading == nil && in.Kind == Unloaded {
		reading = in.Bare
	}
	switch {
	case reading != nil:
		return r.fromReading(in, *reading)
	case len(in.Fellows) > 0:
		return r.fromFellows(in), nil
	case in.Bare != nil:
		return nil, fault.Inputf("measure the add with the weight fitted", "a %s float has only its bare capacity; the weight as it is would leave about %s of %s to add", in.Kind, text(*r.Predicted), in.Metal.Name)
	default:
		return nil, fault.Inputf("test this float, or one of the same pattern, rating and weight", "a rating nobody tested is not printed")
	}
}

func (r *Rating) fromReading(in Input, l tank.Load) ([]Notice, error) {
	r.Measured, r.U = l.In(in.Metal, in.Water)
	if in.Weight != nil {
		switch {
		case l.Stage == tank.Bare:
			return nil, fault.Inputf("measure the add with the weight fitted, and give the bare load as the capacity", "the reading of a %s float was taken bare", in.Kind)
		case l.Stage == tank.Beneath && !in.Weight.Outside:
			// Hung beneath, the weight is lifted by the water it displaces;
			// inside it is not, so the add is another.
			inside := l.Pull - (in.Weight.Mass - water.Pull(in.Weight.Mass, in.Weight.Metal, l.Water))
			return nil, fault.Inputf("measure the add with the weight fitted", "the reading was taken with the weight hung beneath, and it goes inside; fitted it would leave about %s of %s to add",
				text(water.Mass(inside, in.Metal, in.Water)), in.Metal.Name)
		}
	}
	// A little below zero is the test's uncertainty; more is a float that lies
	// under its mark with nothing hung on it.
	if r.Measured < -r.U {
		return nil, fault.Inputf("lighten its weight or check the reading", "the float stands below its mark with nothing added: it is %s of %s too heavy", text(-r.Measured), in.Metal.Name)
	}
	var notices []Notice
	if d := l.Water.Density() - in.Water.Density(); math.Abs(d) > waterDiffers {
		notices = append(notices, Notice{NoticeWater, "tested in water of another density than printed for: the float itself carries more or less there, test it in that water"})
	}
	return notices, nil
}

// fromFellows takes the mean of the tested fellows. The float may be anywhere
// in their spread, and each of them was measured with its own uncertainty.
func (r *Rating) fromFellows(in Input) []Notice {
	n := float64(len(in.Fellows))
	sum := 0.0
	for _, m := range in.Fellows {
		sum += float64(m)
	}
	mean := sum / n
	squares := 0.0
	for _, m := range in.Fellows {
		d := float64(m) - mean
		squares += float64(d * d)
	}
	standard := float64(in.FellowsU) / 2
	r.About, r.Measured = true, unit.Gram(mean)
	if len(in.Fellows) == 1 {
		// One fellow shows no spread; its own uncertainty stands in for it, once
		// more. Estimate.
		r.U = unit.Gram(2 * math.Hypot(float64(in.FellowsU), standard))
		return []Notice{{NoticeOneFellow, "rated by one tested float of the same pattern: how far they spread is not known, test another"}}
	}
	r.U = unit.Gram(2 * math.Sqrt(squares/(n-1)+float64(standard*standard)))
	return nil
}

// setStep chooses the printing step: not finer than half the uncertainty, for
// a finer digit would claim what was not measured.
func (r *Rating) setStep(in Input) []Notice {
	least := max(unit.Gram(unit.Step125(float64(r.U)/2)), finestStep)
	r.Step = least
	wanted := in.Step
	if wanted > least-tiny {
		r.Step = wanted
	}
	why := "the add is known to " + r.U.Text(0.001, unit.Style{}) + " only"
	// A rating of 2.5 g cannot be printed in steps of 0.2 g; the next step it
	// stands on may serve. A nominal on none of them is printed as measured.
	if !onStep(r.Nominal, r.Step) {
		for next, i := r.Step, 0; i < 2; i++ {
			next = unit.Gram(unit.Step125(float64(next) * 1.01))
			if onStep(r.Nominal, next) {
				if r.Step == wanted {
					why = "the rating of " + text(r.Nominal) + " is none of its steps"
				}
				r.Step = next
				break
			}
		}
	}
	if wanted > 0 && r.Step > wanted+tiny {
		return []Notice{{NoticeStepRaised, "the printing step is raised from " + wanted.Text(0.001, unit.Style{}) + " to " + r.Step.Text(0.001, unit.Style{}) + ": " + why}}
	}
	return nil
}

func onStep(m, step unit.Gram) bool {
	return math.Abs(unit.Round(float64(m), float64(step))-float64(m)) < tiny
}

// checkGross refuses figures that contradict each other.
func (r *Rating) checkGross() error {
	sum := r.Weighed + r.Measured
	if math.Abs(float64(sum-r.Nominal)) <= math.Max(grossShare*float64(r.Nominal), grossSteps*float64(r.Step)) {
		return nil
	}
	if r.Weight == nil {
		return fault.Inputf("check the reading and the rating: one of them is mistyped", "the float took %s of %s, but its rating is %s",
			text(r.Measured), r.Metal.Name, text(r.Nominal))
	}
	return fault.Inputf("check the reading, the built-in weight and the rating: one of them is mistyped", "built in %s and measured %s to add make %s, but the rating is %s",
		text(r.Weighed), text(r.Measured), text(sum), text(r.Nominal))
}

// compare tells when the bare capacity and the measured add contradict each
// other by more than both uncertainties.
func (r *Rating) compare(in Input) []Notice {
	if r.Predicted == nil || in.Reading == nil {
		return nil
	}
	_, u := in.Bare.In(in.Metal, in.Water)
	if math.Abs(float64(*r.Predicted-r.Measured)) <= math.Hypot(float64(u), float64(r.U)) {
		return nil
	}
	return []Notice{{NoticePrediction, "the bare capacity less the weight's share leaves " + text(*r.Predicted) + ", measured were " + text(r.Measured) +
		": check the weight, whether it is inside or outside, and both readings"}}
}
