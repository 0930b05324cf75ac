package legible

import (
	"math"

	"floatmark/label/symbol"
)

// TestSide is the squares to a side of the codes on the test sheet: the least
// that there are. They are of level M, like the model's.
const TestSide = 21

// Seen is what one size of code on the test sheet came to.
type Seen struct {
	Dots     int     // printer dots to a square
	Module   float64 // side of a square, mm
	Front    bool    // widened so as to look square from the front
	Smallest float64 // the thinnest dowel on which it read, mm; 0 when on none
}

// What a workshop's own limit may be, in squares. Estimates: half of the limit of
// the level that bears least and nearly twice the model's. What lies beyond comes
// from a wrong reading, a phone out of focus or ink, not from the bend.
const (
	leastOwn = 0.30
	mostOwn  = 1.50
)

// bow is how far the rows bowed where the code was last read, held with care.
func (s Seen) bow() float64 {
	return Form{N: TestSide, Module: s.Module, Front: s.Front}.Bow(s.Smallest, AimTilt)
}

func (s Seen) read() bool { return s.Smallest > 0 && s.Module > 0 && !math.IsInf(s.Smallest, 1) }

// bowOf is the least bow among the sizes of one kind, and whether any was read:
// where sizes disagree, the one that bears least counts.
func bowOf(seen []Seen, front bool) (bow float64, any bool) {
	for _, s := range seen {
		if s.Front == front && s.read() && (!any || s.bow() < bow) {
			bow, any = s.bow(), true
		}
	}
	return bow, any
}

// LimitsOf returns the limits of a workshop's own, from what its phones read on
// the test sheet: the bow of the rows on the thinnest dowel that was read, at
// AimTilt, from which the sheet has them read too; of several sizes the least.
// They lie within 0.3 and 1.5. A kind of code of which nothing was read keeps a
// field of 0, the model's.
func LimitsOf(seen []Seen) Limits {
	one := func(front bool) float64 {
		bow, any := bowOf(seen, front)
		if !any {
			return 0
		}
		return math.Min(math.Max(bow, leastOwn), mostOwn)
	}
	return Limits{Plain: one(false), Front: one(true)}
}

// Follows says what LimitsOf makes of what was seen, in plain sentences: the
// limits, what was not believed, and from which body each size then reads.
func Follows(seen []Seen) []string {
	limits, model := LimitsOf(seen), ModelLimits()
	var all []string
	for _, kind := range [...]struct {
		name       string
		front      bool
		own, model float64
	}{{"Plain codes", false, limits.Plain, model.Plain}, {"Codes made square from the front", true, limits.Front, model.Front}} {
		bow, any := bowOf(seen, kind.front)
		if !any {
			all = append(all, kind.name+": nothing was read, so the limit stays the model's; it lets their rows bow by "+squares(kind.model)+".")
			continue
		}
		t := kind.name + ": your phones bear rows that bow by " + squares(kind.own) + "; the model says " + downHundredthOf(kind.model) + "."
		if bow > mostOwn {
			t += " What was read would make it " + squares(bow) + "; more than " + downHundredthOf(mostOwn) + " is not believed."
		} else if bow < leastOwn {
			t += " What was read would make it " + squares(bow) + "; less than " + downHundredthOf(leastOwn) + " is not the bend: ink that closes the squares or a phone that does not focus is in the way."
		}
		all = append(all, t)
	}
	for _, s := range seen {
		what := "Squares of " + count(s.Dots) + " dots (" + hundredth(s.Module) + "), "
		if s.Front {
			what += "made square from the front, "
		} else {
			what += "plain, "
		}
		if !s.read() {
			all = append(all, what+"read on no dowel: ink that closes the squares or a phone that does not focus so near is in the way, not the bend.")
			continue
		}
		f := Form{N: TestSide, Level: symbol.M, Module: s.Module, Front: s.Front, Limits: limits}
		all = append(all, what+"then read on bodies of "+upHalf(f.MinDiameter(AimTilt))+" when the phone is held with care, of "+upHalf(f.MinDiameter(CasualTilt))+" however it is held.")
	}
	return all
}

// squares tells a bow; the model's limits have two places.
func squares(bow float64) string { return downHundredthOf(bow) + " of a square" }
