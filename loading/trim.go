package loading

import (
	"math"

	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Cylinder is a weight cut from rod or tube.
type Cylinder struct {
	Diameter unit.Millimetre // outer
	Bore     unit.Millimetre // 0 for solid
}

// Trimming is a float whose weight is to be brought to an add.
type Trimming struct {
	Weight Weight    // as it is now
	Form   *Cylinder // nil: trimmed by mass alone
	// Scale is how well the weight and what comes off it are weighed, plus or
	// minus; 0 is the last digit of a usual pocket scale.
	Scale unit.Gram

	// Fitted is the add as measured with the weight fitted or, for a weight
	// outside, hung beneath. When nil the add is predicted from Bare, the
	// capacity of the bare float. One of the two is needed.
	Fitted, Bare *tank.Load

	Want  unit.Gram   // the add wanted, of Metal; 0 for a self-cocking float
	Metal water.Metal // the metal the add is hung in
	Water water.Water // the water it is hung in
}

// TrimState says where a float stands on the way to its add.
type TrimState int

// The states.
const (
	TrimTake TrimState = iota // take Take off, then hang again
	TrimStop                  // as near as the readings can tell
	TrimPast                  // too much is off already: fit More
)

// String returns the state as a stable word: take, stop, past.
func (s TrimState) String() string { return [...]string{"take", "stop", "past"}[s] }

// Advice is the next step of trimming. Masses of the weight are grams of its
// own metal, adds grams of the metal on the line.
type Advice struct {
	State TrimState
	// Sinks says that the weight as it is uses up the capacity: nothing is left
	// to add and the float sinks. Limit is what it would just carry, known
	// when the bare capacity is.
	Sinks bool
	Limit unit.Gram

	Now, NowU unit.Gram // the add as it is, and how far it may be off (both uncertainties in full)
	Want      unit.Gram
	Take      unit.Gram       // safe to take off: stops short of the wanted add by all that is not known
	Length    unit.Millimetre // the same along a cylinder; 0 when the form is not known
	Whole     unit.Gram       // would be the whole way, were the readings exact
	Leaves    unit.Gram       // the weight after Take
	Expect    unit.Gram       // the add after Take
	More      unit.Gram       // for TrimPast, the weight to fit

	weight Weight
	form   *Cylinder
	metal  water.Metal
}

const (
	// trimStep and cutStep are the steps a mass and a length are told in,
	// always downwards. A pocket scale shows 0.01 g, a file or saw is led to
	// 0.1 mm. Estimates.
	trimStep = 0.01
	cutStep  = 0.1
	// rodTolerance is how far a rod or its bore may be off its diameter, mm, and
	// rodDensity how far its metal, as a share: brass alone runs from 8.43 to
	// 8.73 g/cm3 (the sources of water.Metals). Estimates.
	rodTolerance = 0.05
	rodDensity   = 0.03
)

// addPerGram returns by how much the add rises for each gram taken off a
// weight: tank is the water in which the weight sits, on the water the shot
// hangs in. Inside the hull it is 1/k of the shot's metal, outside k of the
// weight's over it.
func addPerGram(w Weight, metal water.Metal, tank, on water.Water) unit.Gram {
	return water.Mass(water.Share(1, w.Metal, w.Outside, tank), metal, on)
}

// AdviseTrim says how much to take off a weight so that the float comes to the
// wanted add and never beyond it: whatever the true figures are within their
// uncertainties, the add after the cut is not above the wanted one. It is an
// Input error when a figure is missing or absurd, and when the float could not
// take that much without any weight.
func AdviseTrim(t Trimming) (Advice, error) {
	if t.Scale == 0 {
		t.Scale = tank.DefaultScaleStep
	}
	if err := t.check(); err != nil {
		return Advice{}, err
	}
	a := Advice{Want: t.Want, weight: t.Weight, form: t.Form, metal: t.Metal}
	rise := t.now(&a)
	gap := t.Want - a.Now
	a.Whole = gap / rise
	if a.Whole > t.Weight.Mass+t.Scale+a.NowU/rise {
		return Advice{}, fault.Inputf("ask for a smaller add, or make a bigger float", "without any weight the float takes about %s of %s, and %s are wanted",
			text(a.Now+unit.Gram(float64(rise)*float64(t.Weight.Mass))), t.Metal.Name, text(t.Want))
	}
	// What is taken off is weighed too, and may be off by the scale.
	safe := float64((gap-a.NowU)/rise - t.Scale)
	a.Take = min(unit.Gram(down(safe, trimStep)), t.Weight.Mass)
	switch {
	case a.Take > 0:
		a.State = TrimTake
		if t.Form != nil {
			a.Length = unit.Millimetre(down(float64(a.Take)/t.Form.mostPerMillimetre(t.Weight.Metal), cutStep))
		}
	case gap < -a.NowU:
		a.State, a.Take = TrimPast, 0
		a.More = -gap / rise
	default:
		a.State, a.Take = TrimStop, 0
	}
	a.Leaves, a.Expect = t.Weight.Mass-a.Take, a.Now+unit.Gram(float64(a.Take)*float64(rise))
	return a, nil
}

// now sets the add as it is and returns how far it rises per gram taken off.
func (t Trimming) now(a *Advice) (rise unit.Gram) {
	if t.Fitted != nil {
		a.Now, a.NowU = t.Fitted.In(t.Metal, t.Water)
		a.Sinks = a.Now < -a.NowU
		rise = addPerGram(t.Weight, t.Metal, t.Fitted.Water, t.Water)
	} else {
		rise = addPerGram(t.Weight, t.Metal, t.Bare.Water, t.Water)
		a.Now = Predict(*t.Bare, t.Weight, t.Metal, t.Water)
		// Added in full, not by squares: short of the mark also when both are at
		// their worst.
		_, u := t.Bare.In(t.Metal, t.Water)
		a.NowU = u + unit.Gram(float64(rise)*float64(t.Scale))
		// A self-cocking float is meant to have nothing left.
		a.Sinks = a.Now <= 0 && (t.Want > 0 || a.Now < -a.NowU)
	}
	if t.Bare != nil {
		a.Limit = SinkLimit(*t.Bare, t.Weight.Metal, t.Weight.Outside)
	}
	return rise
}

func (t Trimming) check() error {
	for _, m := range []water.Metal{t.Metal, t.Weight.Metal} {
		if err := m.Check(); err != nil {
			return err
		}
	}
	if err := t.Water.Check(); err != nil {
		return err
	}
	switch {
	case !sensible(t.Weight.Mass):
		return fault.Inputf("give the weight as it is now, above 0 and up to 500 g", "a built-in weight of %s is none", text(t.Weight.Mass))
	case !(t.Want >= 0 && t.Want <= maxMass):
		return fault.Inputf("give the add that is wanted, from 0 to 500 g", "an add of %s is none", text(t.Want))
	case !(t.Scale > 0 && t.Scale <= t.Weight.Mass):
		return fault.Inputf("give the scale's last digit, as in \"0.01 g\"", "a scale that reads to %s cannot weigh it", text(t.Scale))
	case t.Fitted == nil && t.Bare == nil:
		return fault.Inputf("hang shot on the float with its weight fitted, or before it is", "neither the add nor the bare capacity is known")
	case t.Fitted != nil && t.Fitted.Stage == tank.Bare:
		return fault.Inputf("give it as the bare capacity", "the reading was taken without the weight")
	case t.Fitted != nil && t.Fitted.Stage == tank.Beneath && !t.Weight.Outside:
		return fault.Inputf("measure the add with the weight fitted", "the reading was taken with the weight hung beneath, and it goes inside")
	}
	for _, l := range []*tank.Load{t.Fitted, t.Bare} {
		if l == nil {
			continue
		}
		if err := l.Water.Check(); err != nil {
			return fault.At("reading", err)
		}
		if !(l.U >= 0 && l.U <= maxMass) || !(math.Abs(float64(l.Pull)) <= float64(maxMass)) {
			return fault.Inputf("check the reading", "a load of %s is none", text(l.Pull))
		}
	}
	if c := t.Form; c != nil && !(c.Diameter > 0 && c.Bore >= 0 && c.Bore < c.Diameter && c.Diameter <= maxRod) {
		return fault.Inputf("give the outer diameter and the bore in mm, the bore 0 for solid rod", "a rod of %s with a bore of %s is none",
			c.Diameter.Text(0.01, unit.Style{}), c.Bore.Text(0.01, unit.Style{}))
	}
	return nil
}

// maxRod is thicker than any float's loading. Estimate.
const maxRod unit.Millimetre = 60

// mostPerMillimetre returns the most that a millimetre of the rod can weigh,
// in grams: as thick, as tight in the bore and as dense as it may be.
func (c Cylinder) mostPerMillimetre(m water.Metal) float64 {
	d, b := float64(c.Diameter)+rodTolerance, math.Max(0, float64(c.Bore)-rodTolerance)
	const cubicMillimetres = 1000 // in one cm3
	return math.Pi / 4 * (float64(d*d) - float64(b*b)) * m.Density * (1 + rodDensity) / cubicMillimetres
}

// down rounds towards zero to a step, never below 0.
func down(v, step float64) float64 {
	if !(v > 0) {
		return 0
	}
	// Rounded once more so that the figure is the decimal it is printed as.
	return unit.Round(math.Floor(v/step+tiny)*step, step)
}

// Text returns the advice in one line: "take 0.12 g off, 0.4 mm of the 6 mm
// brass, then hang again; expect 0.68 g of tin".
func (a Advice) Text() string {
	st := unit.Style{}
	line := ""
	if a.Sinks {
		line = "as it is the float sinks, its weight leaves nothing to add"
		if a.Limit > 0 {
			line += ": it carries at most " + unit.Gram(down(float64(a.Limit), trimStep)).Text(trimStep, st) + " of " + a.weight.Metal.Name
		}
		line += "; "
	}
	switch a.State {
	case TrimTake:
		line += "take " + text(a.Take) + " off"
		if a.Length > 0 {
			line += ", " + a.Length.Text(cutStep, st) + " of the " + a.form.Diameter.Text(0.01, st) + " " + a.weight.Metal.Name
		}
		if a.Expect < -trimStep/2 {
			return line + ", then hang again; expect it still below its mark, by " + text(-a.Expect) + " of " + a.metal.Name
		}
		return line + ", then hang again; expect " + text(a.Expect) + " of " + a.metal.Name
	case TrimPast:
		return line + "already past it: it takes " + text(a.Now) + " of " + a.metal.Name + " where " + text(a.Want) +
			" are wanted; fit " + text(a.More) + " more " + a.weight.Metal.Name + ", then hang again"
	default:
		return line + "stop: it takes " + text(a.Now) + " of " + a.metal.Name + ", as near to " + text(a.Want) + " as the readings can tell"
	}
}
