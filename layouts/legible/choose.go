package legible

import (
	"math"
	"slices"

	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Tilts a code must bear, in degrees. At AimTilt it reads for somebody who
// takes care to hold the phone square; at CasualTilt for anybody.
const (
	AimTilt    = 10
	CasualTilt = 20
)

// The grades of a Choice.
const (
	Casual = "casual" // reads up to CasualTilt at least
	Aim    = "aim"    // reads up to AimTilt at least
)

// Rung is one size of the small squares of a code on a given printer.
type Rung struct {
	Dots   int     // printer dots to a square, at least minDots
	Module float64 // mm, Dots whole dots
}

// Ask is what a code is to be printed on.
type Ask struct {
	N          int // squares to a side
	Level      symbol.Level
	Diameter   float64  // of the body under it, mm; infinite for a flat card
	DPI        float64  // of the printer
	High, Wide float64  // the place that it may take with its pale edge, mm; Wide goes round the body
	Ground     draw.Ink // what it is printed on, in black
	Limits     Limits   // what this workshop's phones bear; zero for the model's
}

// Choice is how a code is to be printed.
type Choice struct {
	Dots   int     // printer dots to a square
	Module float64 // mm to a square
	// Columns are the edges of the columns of a code that is widened so as to look
	// square from the front, as FrontColumns gives them; nil for a plain square.
	Columns  []float64
	Tilt     float64  // rated tilt by the closed form, degrees
	Grade    string   // Casual or Aim; "" where the closed form alone would not print it
	Quiet    int      // width of the pale edge, in squares, MinQuiet to FullQuiet
	Reasons  []string // what was chosen and why, plain sentences, in order
	Warnings []string // what the user should know before printing; may be empty
}

// Front reports whether the code's columns are widened towards its sides.
func (c Choice) Front() bool { return c.Columns != nil }

// Hopeful reports whether the closed form leaves hope that the code reads however
// the phone is held: it is off by up to a fifth in diameter, which is a quarter in
// tilt, so that less is not worth the pictures.
func (c Choice) Hopeful() bool { return c.Tilt >= 0.7*CasualTilt }

// Fine reports whether the squares are so small that phones which do not focus
// near cannot read them.
func (c Choice) Fine() bool { return c.Module < fine }

// Wide is the length of n squares to a side round the body, mm.
func (c Choice) Wide(n int) float64 {
	if c.Front() {
		return c.Columns[n] - c.Columns[0]
	}
	return float64(n) * c.Module
}

// The sizes that are tried, in dots of a 600-dpi printer. Larger squares bow
// more on a thin body, smaller ones need a better camera.
const (
	ladderDPI = 600
	minDots   = 3 // fewer lose their shape by the spread of the ink; maker of the symbology asks 4, the model reads from 3
)

var ladderDots = [...]float64{8, 7, 6} // 0.339, 0.296 and 0.254 mm

// Bounds of a square, in mm.
const (
	// finest: 0.25 mm is the least that a 1080-line picture resolves at 120 mm;
	// half a hundredth is left for printers whose dots just miss it.
	finest = 0.245
	// fine: half-way between the 7- and the 6-dot square. Smaller ones ask for
	// a pale ground and a phone that focuses near.
	fine = 0.275
)

// The pale edge of a code, in squares.
const (
	FullQuiet  = 4 // what ISO/IEC 18004 asks
	shortQuiet = 2 // told to the user; the model's readers need 1
	MinQuiet   = 1
)

// Reflectances of the ground under black print, 0 to 1.
const (
	// paleGround gives ink of 0.05 a symbol contrast of 55 %, grade B of
	// ISO/IEC 15415 as a verifier's manual restates it.
	paleGround = 0.60
	// darkGround: below it the model's readers begin to fail on black ink.
	darkGround = 0.25
)

// On thin bodies the sizes from version 3 up are not printed, though the closed
// form may let them pass: their finest rows are too many for a hand-held view.
const (
	largeCode     = 29 // squares to a side
	largeCodeBody = 17 // mm
)

// Ladder returns the square sizes for a printer of that many dots an inch, the
// largest first: the whole dots at or below each size that is tried, at least
// three, without doubles. It is empty if the dots are coarser or finer than
// any size can be made of, or dpi is no positive number.
func Ladder(dpi float64) []Rung {
	if !(dpi > 0) || math.IsInf(dpi, 1) {
		return nil
	}
	var rungs []Rung
	for _, d := range ladderDots {
		// The nudge keeps 8 of 600 from becoming 15.999 of 1200.
		dots := max(minDots, int(math.Floor(d*dpi/ladderDPI+1e-9)))
		r := Rung{dots, float64(dots) * unit.MillimetresPerInch / dpi}
		if r.Module >= finest && !slices.Contains(rungs, r) {
			rungs = append(rungs, r)
		}
	}
	return rungs
}

// fallbacks is the order in which the pale edge gives way: first a size with
// the full edge, then with a short one, then with the least.
var fallbacks = [...]struct {
	fine  bool // the squares under fine
	quiet int  // the narrowest edge taken
}{{false, FullQuiet}, {false, shortQuiet}, {true, shortQuiet}, {false, MinQuiet}, {true, MinQuiet}}

// proposeTilt is the rated tilt, degrees, from which a code is proposed at all.
// Pictures read within AimTilt on bodies where the closed form rates 9.0 to 9.7,
// and the form is off by up to a fifth in diameter.
const proposeTilt = 7

// Propose lists the ways in which a code may be printed, the ones liked best
// first: the largest plain squares of the printer's Ladder, then smaller ones,
// then squares widened so as to look square from the front, then fine work. The
// closed form only proposes: those up to a few degrees short of AimTilt are
// listed too, and pictures decide.
//
// When nothing can be proposed the error is of class NoFit; it says what is in
// the way and what would do: the room, or the diameter from which it fits. A
// side that no code has is an error of class Ours, other senseless measures are
// of class Input.
func Propose(a Ask) ([]Choice, error) {
	if err := a.sensible(); err != nil {
		return nil, err
	}
	light := Reflectance(a.Ground)
	if light < darkGround {
		return nil, fault.New(fault.NoFit, "", "the ground under the code is too dark for black print: it gives back "+percent(light)+" of the light",
			"put white under the code, or choose a ground that gives back "+percent(darkGround)+" or more")
	}
	rungs := Ladder(a.DPI)
	if len(rungs) == 0 {
		return nil, fault.New(fault.NoFit, "", "the printer's dots do not make up a code's squares", "use a printer of 300 or 600 dots an inch")
	}
	pale := light >= paleGround
	var all []Choice
	for _, f := range fallbacks {
		for _, c := range a.ways(rungs, f.fine) {
			quiet := min(FullQuiet, a.quiet(c))
			same := func(o Choice) bool { return o.Dots == c.Dots && o.Front() == c.Front() && o.Quiet == quiet }
			if f.fine && !pale || quiet < f.quiet || !a.proposes(c) || slices.ContainsFunc(all, same) {
				continue
			}
			c.Quiet = quiet
			a.explain(&c, light, rungs)
			all = append(all, c)
		}
	}
	if len(all) == 0 {
		return nil, a.noFit(rungs, pale)
	}
	return all, nil
}

// ways are the sizes of one kind, the fine or the others: each plain, the
// largest first, then the smallest widened. Widening gains most there.
func (a Ask) ways(rungs []Rung, isFine bool) []Choice {
	var all []Choice
	for _, r := range rungs {
		if (r.Module < fine) == isFine {
			all = append(all, Choice{Dots: r.Dots, Module: r.Module})
		}
	}
	if len(all) == 0 || math.IsInf(a.Diameter, 1) {
		return all
	}
	last := all[len(all)-1]
	if x := FrontColumns(a.N, last.Module, a.Diameter, unit.MillimetresPerInch/a.DPI); x != nil {
		last.Columns = x
		all = append(all, last)
	}
	return all
}

// quiet is how many squares of pale edge there is room for.
func (a Ask) quiet(c Choice) int {
	const nudge = 1e-9
	high := (a.High - float64(a.N)*c.Module) / (2 * c.Module)
	wide := (a.Wide - c.Wide(a.N)) / (2 * c.Module)
	return int(math.Floor(math.Min(high, wide) + nudge))
}

func (a Ask) form(c Choice) Form {
	return Form{N: a.N, Level: a.Level, Module: c.Module, Front: c.Front(), Limits: a.Limits}
}

// proposes reports whether pictures of such a code are worth making.
func (a Ask) proposes(c Choice) bool { return a.Diameter >= a.smallestBody(c, proposeTilt) }

// smallestBody is the diameter from which the closed form says yes up to a tilt.
func (a Ask) smallestBody(c Choice, tilt float64) float64 {
	d := a.form(c).MinDiameter(tilt)
	if a.N >= largeCode {
		d = math.Max(d, largeCodeBody)
	}
	return d
}

func (a Ask) sensible() error {
	const least, most, step = 21, 177, 4 // versions 1 to 40 of ISO/IEC 18004
	switch {
	case a.N < least || a.N > most || (a.N-least)%step != 0:
		return fault.New(fault.Ours, "", "a code cannot have "+unit.Number(float64(a.N), 1, unit.Style{})+" squares to a side", "")
	case !(a.Diameter > 0):
		return fault.Inputf("give the body's diameter where the code goes", "the diameter under the code is not more than 0 mm")
	case !(a.DPI > 0) || math.IsInf(a.DPI, 1):
		return fault.Inputf("give the printer's dots an inch, such as 600", "the printer's dots an inch are not a number above 0")
	case math.IsNaN(a.High) || math.IsNaN(a.Wide):
		return fault.Inputf("give the room for the code", "the room for the code is not a number")
	}
	return nil
}
