package tank

import (
	"math"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Allowance is the weight still to come after a test: colour coats, eye, glue,
// decal and varnish take some of the load.
type Allowance struct {
	Pull unit.Gram // what the finished float takes less, grams of pull under water
	U    unit.Gram // its expanded uncertainty, k = 2
	From string    // where it is from: "common practice, no source", "4 retests", "the batch file"
}

// maxAllowance is the most that is taken for meant, grams of pull: twenty times
// a full paint scheme. Estimate.
const maxAllowance unit.Gram = 1

// VarnishAndDecal returns the allowance for decal and varnish on a painted
// float: about 0.01 g. Common practice, no source; anything from none to twice
// that.
func VarnishAndDecal() Allowance { return Allowance{0.01, 0.01, "common practice, no source"} }

// FullPaint returns the allowance for a whole paint scheme after the test:
// about 0.05 g and more. Common practice, no source; anything from none to
// twice that.
func FullPaint() Allowance { return Allowance{0.05, 0.05, "common practice, no source"} }

// Stated returns the allowance a maker states: he knows it no better than that
// it may be anything from none to twice as much (estimate), until retests tell.
func Stated(pull unit.Gram, from string) Allowance { return Allowance{pull, pull, from} }

func (a Allowance) sound() bool {
	return a.Pull >= 0 && a.Pull <= maxAllowance && a.U >= 0 && a.U <= maxAllowance
}

// Retest is one float tested before the last work on it and after.
type Retest struct{ Before, After Load }

// Learn returns the allowance that retests of floats of one pattern show: the
// mean of what they lost, and what the next float may lose, which is one draw
// from their spread and not the mean itself (Student's factor for few retests).
// A single retest shows no spread: its own loss stands in for it (estimate). A
// mean below zero is taken as none. Input error without a retest, when a float
// was tested after at an earlier stage than before, and when floats gained more
// than the tests' own uncertainty.
func Learn(retests []Retest) (Allowance, error) {
	const do = "test a finished float again that has a reading from before"
	if len(retests) == 0 {
		return Allowance{}, fault.Inputf(do, "there is no retest to learn from")
	}
	var losses []float64
	worst := 0.0
	for _, r := range retests {
		if r.After.Stage < r.Before.Stage {
			return Allowance{}, fault.Inputf(do, "a float tested %s and then %s is no retest", r.Before.Stage, r.After.Stage)
		}
		losses = append(losses, float64(r.Before.Pull-r.After.Pull))
		worst = max(worst, math.Hypot(float64(r.Before.U), float64(r.After.U)))
	}
	mean, s := meanOf(losses)
	n := float64(len(losses))
	a := Allowance{Pull: unit.Gram(max(0, mean)), From: retestsText(len(losses))}
	switch {
	case !(math.Abs(mean) <= float64(maxAllowance)):
		return Allowance{}, fault.Inputf("check both readings of each float", "retests tell of a loss of %s, more than coats weigh", unit.Gram(mean).Text(0.01, unit.Style{}))
	case mean < -worst:
		return Allowance{}, fault.Inputf("check both readings of each float: coats make it heavier", "retests tell that floats take %s more than before", unit.Gram(-mean).Text(0.01, unit.Style{}))
	case len(losses) == 1:
		a.U = unit.Gram(math.Abs(mean))
	default:
		a.U = min(maxAllowance, unit.Gram(student(n-1)*s*math.Sqrt(1+1/n)))
	}
	return a, nil
}

func retestsText(n int) string {
	if n == 1 {
		return "1 retest"
	}
	return unit.Number(float64(n), 1, unit.Style{}) + " retests"
}

// Less returns the load once the allowance is used up. Both uncertainties stand.
func (l Load) Less(a Allowance) Load {
	l.Pull -= a.Pull
	l.U = unit.Gram(math.Hypot(float64(l.U), float64(a.U)))
	return l
}

// Finished returns the load of the float as it will be when all is on it: the
// reading's own load less ToCome. A varnished float has nothing to come.
func (r Reading) Finished() (Load, error) {
	l, err := r.Load()
	if err != nil || r.ToCome == nil || r.Stage == Varnished {
		return l, err
	}
	return l.Less(*r.ToCome), nil
}
