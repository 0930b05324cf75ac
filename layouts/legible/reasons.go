package legible

import (
	"math"

	"floatmark/label/symbol"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// farFocus is the nearest focus, in mm, of the phones that fail on fine squares:
// the second of the model's two cameras (from memory, no maker's figure).
const farFocus = 150

// side is the width of a code with its pale edge, mm.
func side(n, quiet int, module float64) float64 { return float64(n+2*quiet) * module }

// explain fills a Choice with the sentences that go with it.
func explain(n int, level symbol.Level, diameter, room, light float64, r Rung, quiet int, rungs []Rung) Choice {
	tilt := RatedTilt(n, level, r.Module, diameter)
	c := Choice{Dots: r.Dots, Module: r.Module, Tilt: tilt, Grade: Aim, Quiet: quiet}
	hold := "when the phone is held with care"
	if tilt >= CasualTilt {
		c.Grade, hold = Casual, "however the phone is held in the hand"
	}
	say := func(s string) { c.Reasons = append(c.Reasons, s) }
	warn := func(s string) { c.Warnings = append(c.Warnings, s) }

	say("The code is " + tenth(side(n, 0, r.Module)) + " wide, " + tenth(side(n, quiet, r.Module)) + " with its pale edge; its small squares are " + hundredth(r.Module) + ", " + count(r.Dots) + " printer dots.")
	if math.IsInf(diameter, 1) {
		say("Laid flat it reads up to " + degrees(tilt) + " off square: " + hold + ".")
	} else {
		say("On a body of " + tenth(diameter) + " it reads up to " + degrees(tilt) + " off square: " + hold + ".")
	}
	if c.Grade == Aim {
		say("To read however the phone is held, it wants a body of " + upHalf(MinDiameter(n, level, r.Module, CasualTilt)) + ".")
	}
	for _, larger := range rungs {
		if larger.Module <= r.Module {
			break
		}
		why := "do not leave room for the pale edge: with it they take " + tenth(side(n, FullQuiet, larger.Module)) + " of " + tenth(room)
		if !reads(n, level, larger.Module, diameter) {
			why = "bend too far round: they want a body of " + upHalf(smallestBody(n, level, larger.Module))
		}
		say("Squares of " + hundredth(larger.Module) + " " + why + ".")
	}
	if quiet < FullQuiet {
		s := "The pale edge round the code is " + tenth(float64(quiet)*r.Module) + " wide; the standard asks for " + tenth(FullQuiet*r.Module)
		if quiet < shortQuiet {
			s += ". Some readers will not take it: try it before printing many"
		}
		warn(s + ".")
	}
	if r.Module < fine {
		warn("Squares of " + hundredth(r.Module) + " are fine work: print on a pale ground under a satin varnish; phones that focus no nearer than " + tenth(farFocus) + " will not read them.")
	}
	if r.Dots <= minDots {
		warn("A square is only " + count(r.Dots) + " printer dots wide: the spread of the ink may fill the gaps, so try one first.")
	}
	if light < paleGround {
		warn("The ground gives back " + percent(light) + " of the light; " + percent(paleGround) + " or more reads better.")
	}
	return c
}

// noFit says why no size did, and what would: more room if a size reads on the
// body, else the diameter from which the smallest size reads.
func noFit(n int, level symbol.Level, diameter, room float64, rungs []Rung, pale bool) error {
	allowed := make([]Rung, 0, len(rungs))
	for _, r := range rungs {
		if pale || r.Module >= fine {
			allowed = append(allowed, r)
		}
	}
	if len(allowed) == 0 {
		return fault.New(fault.NoFit, "", "this printer makes the squares of a code only so fine ("+hundredth(rungs[0].Module)+") that they want a pale ground",
			"put white under the code")
	}
	smallest := allowed[len(allowed)-1]
	least := upTenth(side(n, MinQuiet, smallest.Module))
	from := smallestBody(n, level, smallest.Module)
	more := ""
	if smallest.Module >= fine && len(allowed) < len(rungs) {
		more = "; on white or another pale ground finer squares may do"
	}
	if diameter >= from {
		return fault.New(fault.NoFit, "", "the code has "+tenth(math.Max(room, 0))+" of room and needs "+least+" with its pale edge",
			"give it "+least+" or more each way"+more)
	}
	do := "it fits from a diameter of " + upHalf(from)
	if room < side(n, MinQuiet, smallest.Module) {
		do += " and with " + least + " of room each way"
	}
	return fault.New(fault.NoFit, "", "the code, "+tenth(side(n, 0, smallest.Module))+" wide at its smallest, bends too far round a body of "+tenth(diameter)+" to be read",
		do+more+"; or shorten the link, or put the code on the card")
}

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
