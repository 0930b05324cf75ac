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

// Choice is how a code is to be printed.
type Choice struct {
	Dots     int      // printer dots to a square
	Module   float64  // mm to a square
	Tilt     float64  // rated tilt, degrees
	Grade    string   // Casual or Aim
	Quiet    int      // width of the pale edge, in squares, MinQuiet to FullQuiet
	Reasons  []string // what was chosen and why, plain sentences, in order
	Warnings []string // what the user should know before printing; may be empty
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

// Choose picks the size of a plain square code of n squares to a side on a body
// of the given diameter in mm: the largest square of the printer's Ladder that
// reads up to AimTilt. room is the smaller side, in mm, of the place it may
// take with its pale edge; ground is the colour it is printed on in black.
//
// When nothing fits the error is of class NoFit; it says what is in the way and
// what would do: the room, or the diameter from which it fits. A side that no
// code has is an error of class Ours, other senseless measures are of class Input.
func Choose(n int, level symbol.Level, diameter, dpi, room float64, ground draw.Ink) (Choice, error) {
	if err := sensible(n, diameter, dpi, room); err != nil {
		return Choice{}, err
	}
	light := Reflectance(ground)
	if light < darkGround {
		return Choice{}, fault.New(fault.NoFit, "", "the ground under the code is too dark for black print: it gives back "+percent(light)+" of the light",
			"put white under the code, or choose a ground that gives back "+percent(darkGround)+" or more")
	}
	rungs := Ladder(dpi)
	if len(rungs) == 0 {
		return Choice{}, fault.New(fault.NoFit, "", "the printer's dots do not make up a code's squares", "use a printer of 300 or 600 dots an inch")
	}
	pale := light >= paleGround
	for _, f := range fallbacks {
		for _, r := range rungs {
			quiet := min(FullQuiet, int(math.Floor((room/r.Module-float64(n))/2+1e-9)))
			if (r.Module < fine) != f.fine || f.fine && !pale || quiet < f.quiet || !reads(n, level, r.Module, diameter) {
				continue
			}
			return explain(n, level, diameter, room, light, r, quiet, rungs), nil
		}
	}
	return Choice{}, noFit(n, level, diameter, room, rungs, pale)
}

func sensible(n int, diameter, dpi, room float64) error {
	const least, most, step = 21, 177, 4 // versions 1 to 40 of ISO/IEC 18004
	switch {
	case n < least || n > most || (n-least)%step != 0:
		return fault.New(fault.Ours, "", "a code cannot have "+unit.Number(float64(n), 1, unit.Style{})+" squares to a side", "")
	case !(diameter > 0):
		return fault.Inputf("give the body's diameter where the code goes", "the diameter under the code is not more than 0 mm")
	case !(dpi > 0) || math.IsInf(dpi, 1):
		return fault.Inputf("give the printer's dots an inch, such as 600", "the printer's dots an inch are not a number above 0")
	case math.IsNaN(room):
		return fault.Inputf("give the room for the code", "the room for the code is not a number")
	}
	return nil
}

// reads reports whether a code may be printed at all on that body.
func reads(n int, level symbol.Level, module, diameter float64) bool {
	return diameter >= smallestBody(n, level, module)
}

// smallestBody is the diameter from which reads says yes.
func smallestBody(n int, level symbol.Level, module float64) float64 {
	d := MinDiameter(n, level, module, AimTilt)
	if n >= largeCode {
		d = math.Max(d, largeCodeBody)
	}
	return d
}
