// Package loading works out a float's rating: what is built in, what is still
// to be added, and the figure printed for both.
//
// Masses are grams in air of a named metal, pulls grams under water. What is
// printed adds up as printed. The package knows no marks, no paper and no
// files.
package loading

import (
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Kind is how much of its load a float carries itself.
type Kind int

// The kinds.
const (
	Unloaded     Kind = iota // no weight built in: the rating is the add
	Loaded                   // part of the load built in
	SelfCocking              // all of it built in, but for a trim
	Exchangeable             // tips, inserts or weights are changed: figures per set-up
)

// String returns the word used in files: unloaded, loaded, self-cocking,
// exchangeable.
func (k Kind) String() string {
	switch k {
	case Unloaded:
		return "unloaded"
	case Loaded:
		return "loaded"
	case SelfCocking:
		return "self-cocking"
	case Exchangeable:
		return "exchangeable"
	default:
		return "?"
	}
}

// ParseKind reads the word of a kind, in any case of letters; Input error for
// any other.
func ParseKind(s string) (Kind, error) {
	for k := Unloaded; k <= Exchangeable; k++ {
		if strings.EqualFold(strings.TrimSpace(s), k.String()) {
			return k, nil
		}
	}
	return 0, fault.Inputf("write one of unloaded, loaded, self-cocking, exchangeable", "%q is no kind of float", s)
}

// Weight is what is built into a float.
type Weight struct {
	Mass    unit.Gram // weighed in air
	Metal   water.Metal
	Outside bool // under water outside the hull, where it displaces water of its own
}

// Input is what is known of one float.
type Input struct {
	Kind    Kind
	Nominal unit.Gram   // the rating the maker declared
	Others  []unit.Gram // the batch's other ratings, to which the float may be regraded
	Weight  *Weight     // nil for an unloaded float
	// Reading is the add, measured with the weight fitted, or the load of an
	// unloaded float; nil when this float was not tested.
	Reading *tank.Load
	// Bare is the capacity of the bare float, if it was taken: for the
	// prediction and to tell a weight that sinks it. An unloaded float without
	// Reading is rated by it.
	Bare *tank.Load
	// Fellows are the adds, in the print metal, of tested floats of the same
	// pattern, rating and weight; used when there is no Reading.
	Fellows  []unit.Gram
	FellowsU unit.Gram   // the expanded uncertainty of one of them, k = 2
	Metal    water.Metal // the metal the add is printed in
	Water    water.Water // the water it is printed for
	Step     unit.Gram   // the maker's own printing step; 0 is from the uncertainty
}

// Rating is one float's figures. Printed = BuiltIn + Add exactly, at Step.
type Rating struct {
	Kind      Kind
	Nominal   unit.Gram // as declared
	Printed   unit.Gram // the rating as printed
	BuiltIn   unit.Gram // as printed; 0 when unloaded
	Add       unit.Gram // as printed, of Metal
	Weighed   unit.Gram // the built-in weight, unrounded
	Weight    *Weight
	Measured  unit.Gram // the add as measured, unrounded, of Metal
	U         unit.Gram // its expanded uncertainty, k = 2
	Step      unit.Gram // the printing step of all printed figures
	AddPull   unit.Gram // what the printed add pulls under water
	Metal     water.Metal
	Water     water.Water
	About     bool       // from tested fellows, not from the float itself
	Regraded  bool       // Printed is another rating of the batch
	Predicted *unit.Gram // bare capacity less the weight's share, in Metal; never printed
}

// The codes of notices.
const (
	NoticeStepRaised   = "step-raised"    // the maker's step is finer than the test, or the nominal is not on it
	NoticeRegraded     = "regraded"       // printed as another rating of the batch
	NoticeOffNominal   = "off-nominal"    // printed with its measured sum
	NoticePrediction   = "prediction"     // bare capacity and add do not agree
	NoticeNothingToAdd = "nothing-to-add" // a loaded float that takes no shot
	NoticeTrim         = "trim"           // a self-cocking float that takes some
	NoticeOneFellow    = "one-fellow"     // the spread is not known
	NoticeWater        = "water"          // tested in other water than printed for
)

// Notice is a warning: a stable code and one line of text.
type Notice struct{ Code, Text string }

// In returns the printed add as a mass of a convention's metal that pulls as
// much under water.
func (r Rating) In(c shot.Convention) unit.Gram {
	return water.Equal(r.Add, r.Metal, c.Metal, r.Water)
}

// Equivalents returns the shot of a convention that makes the printed add,
// judged in the rating's water. Where neither a tip nor a tolerance is given
// the total may miss by the printing step.
func (r Rating) Equivalents(c shot.Convention, lim shot.Limits) []shot.Equivalent {
	lim.Water = r.Water
	if lim.Tolerance == 0 {
		lim.Tolerance = r.Step
	}
	return shot.Equivalents(r.In(c), c, lim)
}

// SinkLimit returns the largest mass of metal a float of that bare capacity
// still carries, inside the hull or outside under water. Inside it is the pull
// of the capacity itself: a float that takes 8.00 g of lead on the line sinks
// from 7.295 g of anything inside.
func SinkLimit(capacity tank.Load, metal water.Metal, outside bool) unit.Gram {
	if outside {
		return water.Mass(capacity.Pull, metal, capacity.Water)
	}
	return capacity.Pull
}

// Predict returns the add, as a mass of print metal, that a bare capacity less
// a weight's share leaves; negative when the weight sinks the float. It is
// advice for trimming before the weight is fitted, and never printed.
func Predict(capacity tank.Load, w Weight, metal water.Metal, in water.Water) unit.Gram {
	return water.Mass(capacity.Pull-water.Share(w.Mass, w.Metal, w.Outside, capacity.Water), metal, in)
}
