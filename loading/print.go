package loading

import (
	"math"

	"floatmark/loading/unit"
)

// print settles the figures as printed: built in as weighed, for it is the
// best known of the three; then the nominal if the float keeps it; then the
// rating of the batch it comes to; else its measured sum.
func (r *Rating) print(in Input) []Notice {
	r.BuiltIn = r.round(r.Weighed)
	if r.Kind == SelfCocking && math.Abs(float64(r.Measured)) <= float64(r.Step)+tiny {
		// Less than the step is not shot anybody could add.
		r.settle(0)
		return r.tellOff()
	}
	sum := r.Weighed + r.Measured
	miss := math.Abs(float64(r.Nominal - sum))
	if miss <= math.Min(float64(r.Step), float64(r.U))+tiny && r.holds(r.Nominal) {
		r.settle(r.Nominal - r.BuiltIn)
		return r.tellNothing()
	}
	add := r.round(r.Measured)
	if add < 0 {
		add = 0 // it takes nothing; a figure below zero is the test's uncertainty
	}
	r.settle(add)
	if r.Printed == r.round(r.Nominal) && onStep(r.Nominal, r.Step) {
		return r.tellNothing()
	}
	if other, ok := r.other(in.Others); ok {
		r.settle(other - r.BuiltIn)
		r.Regraded = true
		return append(r.tellNothing(), Notice{NoticeRegraded, "regraded from " + r.text(r.Nominal) + " to " + r.text(r.Printed) + ": that is what it takes in all"})
	}
	return append(r.tellNothing(), r.tellOff()...)
}

// settle prints an add beside the built-in weight, and their sum. All three
// lie on the step, and the sum is rounded once more so that it is the number a
// reader gets by adding the two.
func (r *Rating) settle(add unit.Gram) {
	r.Add = r.round(add)
	r.Printed = r.round(r.BuiltIn + r.Add)
}

func (r *Rating) round(m unit.Gram) unit.Gram {
	return unit.Gram(unit.Round(float64(m), float64(r.Step)))
}

func (r *Rating) text(m unit.Gram) string { return m.Text(r.Step, unit.Style{}) }

// holds reports whether a rating can be printed: it stands on the step, and
// the add it leaves lies within the measurement's own uncertainty, also after
// the built-in weight was rounded.
func (r *Rating) holds(rating unit.Gram) bool {
	add := rating - r.BuiltIn
	return onStep(rating, r.Step) && add >= -tiny && math.Abs(float64(add-r.Measured)) <= float64(r.U)+tiny
}

// other returns the batch's rating nearest to the printed sum, within a step
// of it; of two as near the smaller. Its own nominal is none of them: it missed
// that.
func (r *Rating) other(others []unit.Gram) (unit.Gram, bool) {
	best, found := unit.Gram(0), false
	for _, o := range others {
		d := math.Abs(float64(o - r.Printed))
		exact := d < tiny
		if !(d <= float64(r.Step)+tiny) || !(o > 0) || !onStep(o, r.Step) || !exact && !r.holds(o) || o == r.Nominal {
			continue
		}
		was := math.Abs(float64(best - r.Printed))
		if !found || d < was-tiny || d < was+tiny && o < best {
			best, found = o, true
		}
	}
	return best, found
}

// tellNothing tells of a loaded float that takes nothing and of a self-cocking
// one that takes something.
func (r *Rating) tellNothing() []Notice {
	switch {
	case r.Kind == Loaded && r.Add == 0:
		return []Notice{{NoticeNothingToAdd, "a loaded float that takes no shot: it is self-cocking"}}
	case r.Kind == SelfCocking && r.Add > 0:
		return []Notice{{NoticeTrim, "a self-cocking float that still takes " + r.text(r.Add) + " to its mark"}}
	}
	return nil
}

// tellOff tells that the float is printed with another figure than declared.
func (r *Rating) tellOff() []Notice {
	if math.Abs(float64(r.Printed-r.Nominal)) < tiny {
		return nil
	}
	return []Notice{{NoticeOffNominal, "printed with its measured sum of " + r.text(r.Printed) + "; declared was " + text(r.Nominal)}}
}
