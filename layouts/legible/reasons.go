package legible

import (
	"math"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// farFocus is the nearest focus, in mm, of the phones that fail on fine squares:
// the second of the model's two cameras (from memory, no maker's figure).
const farFocus = 150

// side is the width of a code with its pale edge, mm.
func side(n, quiet int, module float64) float64 { return float64(n+2*quiet) * module }

// explain fills a Choice with what the closed form says of it.
func (a Ask) explain(c *Choice, light float64, rungs []Rung) {
	form := a.form(*c)
	c.Tilt = form.RatedTilt(a.Diameter)
	switch {
	case c.Tilt >= CasualTilt:
		c.Grade = Casual
	case c.Tilt >= AimTilt:
		c.Grade = Aim
	}
	say := func(s string) { c.Reasons = append(c.Reasons, s) }
	say("The code is " + tenth(c.Wide(a.N)) + " wide, " + tenth(c.Wide(a.N)+float64(2*c.Quiet)*c.Module) + " with its pale edge; its small squares are " + hundredth(c.Module) + ", " + count(c.Dots) + " printer dots.")
	if c.Front() {
		say("Its columns widen towards the sides, so that it looks square from the front.")
	}
	if math.IsInf(a.Diameter, 1) {
		say("By the closed form it reads up to " + degrees(c.Tilt) + " off square, laid flat.")
	} else {
		say("By the closed form it reads up to " + degrees(c.Tilt) + " off square on a body of " + tenth(a.Diameter) + ", and up to " + count(CasualTilt) + " from a body of " + upHalf(form.MinDiameter(CasualTilt)) + ".")
	}
	for _, larger := range rungs {
		if larger.Module <= c.Module {
			break
		}
		why := "do not leave room for the pale edge: with it they take " + tenth(side(a.N, FullQuiet, larger.Module)) + " of " + tenth(a.room())
		plain := Choice{Module: larger.Module}
		if want := a.smallestBody(plain, AimTilt); a.Diameter < want {
			why = "bend too far round: they want a body of " + upHalf(want)
		} else if a.quiet(plain) >= FullQuiet {
			continue // it was proposed before this one
		}
		say("Squares of " + hundredth(larger.Module) + " " + why + ".")
	}
	a.warn(c, light)
}

// warn says what the user should know before printing such a code.
func (a Ask) warn(c *Choice, light float64) {
	warn := func(s string) { c.Warnings = append(c.Warnings, s) }
	if c.Quiet < FullQuiet {
		s := "The pale edge round the code is " + tenth(float64(c.Quiet)*c.Module) + " wide; the standard asks for " + tenth(FullQuiet*c.Module)
		if c.Quiet < shortQuiet {
			s += ". Some readers will not take it: try it before printing many"
		}
		warn(s + ".")
	}
	if c.Module < fine {
		warn("Squares of " + hundredth(c.Module) + " are fine work: print on a pale ground under a satin varnish; phones that focus no nearer than " + tenth(farFocus) + " will not read them.")
	}
	if c.Dots <= minDots {
		warn("A square is only " + count(c.Dots) + " printer dots wide: the spread of the ink may fill the gaps, so try one first.")
	}
	if light < paleGround {
		warn("The ground gives back " + percent(light) + " of the light; " + percent(paleGround) + " or more reads better.")
	}
}

// room is the smaller side of the place, mm.
func (a Ask) room() float64 { return math.Max(0, math.Min(a.High, a.Wide)) }

// noFit says why nothing was proposed, and what would do: more room if something
// reads on the body, else the diameter from which the first does.
func (a Ask) noFit(rungs []Rung, pale bool) error {
	allowed := a.ways(rungs, false)
	more := ""
	if fine := a.ways(rungs, true); pale || len(allowed) == 0 {
		allowed = append(allowed, fine...)
	} else if len(fine) > 0 {
		more = "; on white or another pale ground finer squares may do"
	}
	if !pale && allowed[0].Module < fine {
		return fault.New(fault.NoFit, "", "this printer makes the squares of a code only so fine ("+hundredth(rungs[0].Module)+") that they want a pale ground",
			"put white under the code")
	}
	least := math.Inf(1) // of room, for what the body takes
	for _, c := range allowed {
		if a.proposes(c) {
			least = math.Min(least, a.needs(c))
		}
	}
	if !math.IsInf(least, 1) {
		return fault.New(fault.NoFit, "", "the code has "+tenth(a.room())+" of room and needs "+upTenth(least)+" with its pale edge",
			"give it "+upTenth(least)+" or more each way"+more)
	}
	from, smallest, ok := a.thinnest(allowed)
	if !ok {
		return fault.New(fault.NoFit, "", "no float is thick enough for a code of "+count(a.N)+" small squares to a side", "shorten the link, or put the code on the card"+more)
	}
	do := "it may fit from a diameter of " + upHalf(from.Diameter)
	if needs := from.needs(smallest); a.room() < needs {
		do += " and with " + upTenth(needs) + " of room each way"
	}
	return fault.New(fault.NoFit, "", "the code, "+tenth(side(a.N, 0, smallest.Module))+" wide at its smallest, bends too far round a body of "+tenth(a.Diameter)+" to be read",
		do+more+"; or shorten the link, or put the code on the card")
}

// thinnest finds the thinnest body, to half a millimetre, that takes a code in one
// of these sizes, and that code; ok is false if no float is so thick.
func (a Ask) thinnest(sizes []Choice) (on Ask, c Choice, ok bool) {
	const half = 0.5
	for a.Diameter = half * math.Ceil(a.Diameter/half); a.Diameter <= thickest; a.Diameter += half {
		for i := range sizes {
			plain := Choice{Dots: sizes[len(sizes)-1-i].Dots, Module: sizes[len(sizes)-1-i].Module} // the smallest first
			front := plain
			front.Columns = FrontColumns(a.N, plain.Module, a.Diameter, unit.MillimetresPerInch/a.DPI)
			for _, c := range []Choice{plain, front} {
				if a.proposes(c) {
					return a, c, true
				}
			}
		}
	}
	return a, Choice{}, false
}

// thickest is a diameter, mm, far beyond any float's.
const thickest = 1000

// needs is the room each way that a code takes at the least, mm.
func (a Ask) needs(c Choice) float64 { return c.Wide(a.N) + 2*MinQuiet*c.Module }

func tenth(mm float64) string     { return unit.Millimetre(mm).Text(0.1, unit.Style{}) }
func hundredth(mm float64) string { return unit.Millimetre(mm).Text(0.01, unit.Style{}) }
func degrees(a float64) string    { return count(int(math.Floor(a+1e-9))) + " degrees" }
func percent(share float64) string {
	return count(int(math.Floor(100*share+1e-9))) + " %" // down, so that 24.9 is never shown as the 25 it lacks
}
func count(n int) string { return unit.Number(float64(n), 1, unit.Style{}) }

// upHalf and upTenth round up, so that who follows the advice is let through.
func upHalf(mm float64) string  { return tenth(math.Ceil(mm/0.5-1e-9) * 0.5) }
func upTenth(mm float64) string { return tenth(math.Ceil(mm/0.1-1e-9) * 0.1) }
