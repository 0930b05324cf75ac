// Package legible tells what can still be read on a round body: by a phone, of
// a code wrapped round it, and by the eye, of lettering.
//
// It holds closed forms only, fast enough for every step of a layout. Lengths
// are millimetres, angles degrees, diameters those over the last coat at the
// middle of what is printed. It lays nothing out and reads no picture: the
// forms propose, and a picture of the marked float decides.
//
// The figures for codes come from a ray-traced model of a printed film on a
// body before a phone's camera, read by four independent readers; no real
// phone took part. They are as good as that model, about 1 mm of diameter.
package legible

import (
	"math"

	"floatmark/label/symbol"
)

// The two terms of a code's bow.
const (
	// sagittaShare: a row of half-width N·m/2 on a cylinder of diameter D,
	// tipped by T, sinks at its ends by (N·m/2)²/D·sin T = N²·m²/(4·D)·sin T.
	sagittaShare = 1.0 / 4
	// residueShare is the cubic part of x = R·sin(phi) that the best flat view
	// of a plain square cannot take up; fitted to the model's pictures. A code
	// widened so as to look square from the front has no such part.
	residueShare = 0.032
)

// How far the rows of a code at M may bow, in squares, before readers fail: set
// on 5,392 pictures of the model by bisection of the smallest diameter.
const (
	plainBow = 0.85
	frontBow = 0.70
)

// What the other levels may bow more or less than M; rougher than the two above.
const (
	// lessAtL is the mean of four: the smallest bodies on which three readers
	// pass, version 1 in squares of 6, 7 and 8 dots of 600 an inch at both
	// grades, let rows bow by 0.82 at L and 0.93 at M if plain, 0.71 and 0.76 if
	// widened; and of 1,881 random pictures the best reader gets less than four in
	// five from 0.75 at L and 0.90 at M if plain, from 0.60 and 0.70 if widened.
	// (Pictures of layouts/proof. In the model of the two above it was about 0.15.)
	lessAtL = 0.10
	// moreAtQH is from the share read in bands of bow over 2,500 random pictures
	// of the model.
	moreAtQH = 0.10
)

// Limits is how far the rows of a code at level M may bow, in squares of the
// code, and still read: of one printed as a plain square, and of one widened so
// as to look square from the front. A workshop has its own when it has read the
// test sheet with its own phones. A field that is not above 0 stands for that of
// ModelLimits, so the zero value is the model's.
type Limits struct{ Plain, Front float64 }

// ModelLimits returns the limits found with the model.
func ModelLimits() Limits { return Limits{Plain: plainBow, Front: frontBow} }

// Form is a code of which the closed forms tell where it reads.
type Form struct {
	N      int          // squares to a side
	Level  symbol.Level // a value that is no level counts as L, the strictest
	Module float64      // side of a square, mm
	Front  bool         // widened so as to look square from the front, by FrontColumns
	Limits Limits       // the zero value is the model's
}

// Bow returns how far, in squares, the rows of the code depart from the flat
// grid that a reader lays over them when it is seen tilt degrees off square on a
// body of the given diameter in mm. An infinite diameter is a flat card.
func (f Form) Bow(diameter, tilt float64) float64 {
	side := float64(f.N)
	sagitta := float64(sagittaShare * side * side * f.Module / diameter * math.Sin(tilt*math.Pi/180))
	if f.Front {
		return sagitta
	}
	return sagitta + float64(residueShare*side*side*side*f.Module*f.Module/(diameter*diameter))
}

// Limit returns the largest Bow, in squares, at which the code is counted as
// readable. It is never below 0.
func (f Form) Limit() float64 {
	m, model := f.Limits.Plain, plainBow
	if f.Front {
		m, model = f.Limits.Front, frontBow
	}
	if !(m > 0) {
		m = model
	}
	switch f.Level {
	case symbol.M:
		return m
	case symbol.Q, symbol.H:
		return m + moreAtQH
	default:
		return math.Max(0, m-lessAtL)
	}
}

// SteepestTilt caps RatedTilt, in degrees: beyond it the slant of the view
// itself stops readers, whatever the body.
const SteepestTilt = 25

// RatedTilt returns the tilt in degrees, 0 to SteepestTilt, up to which the code
// still reads on a body of the given diameter in mm; 0 where it is not to be
// relied on even when held square, or cannot be widened for so thin a body.
func (f Form) RatedTilt(diameter float64) float64 {
	if !(diameter > f.narrowest()) { // also when a measure is no number
		return 0
	}
	flat := f.Bow(diameter, 0)
	perTurn := f.Bow(diameter, 90) - flat
	spare := f.Limit() - flat
	switch {
	case !(spare > 0):
		return 0
	case spare >= perTurn*math.Sin(SteepestTilt*math.Pi/180):
		return SteepestTilt
	}
	return math.Asin(spare/perTurn) * 180 / math.Pi
}

// narrowest returns the diameter in mm that a body must exceed to carry the code
// at all: a widened one must not reach so far round that nothing is seen of its
// sides.
func (f Form) narrowest() float64 {
	if !f.Front {
		return 0
	}
	return float64(f.N) * f.Module / math.Sin(steepestSide)
}

// MinDiameter returns the smallest body, in mm, on which the code reads up to a
// tilt of 0 to SteepestTilt degrees: the diameter at which Bow meets Limit, or
// for a widened code the one at which it can just be widened, if that is more.
// It is infinite where Limit is 0.
func (f Form) MinDiameter(tilt float64) float64 {
	// With u = 1/D the bow is a·u² + b·u; its one positive root, written so
	// that nothing cancels.
	a := f.Bow(1, 0)
	b := f.Bow(1, tilt) - a
	limit := f.Limit()
	if limit == 0 {
		return math.Inf(1)
	}
	return math.Max(f.narrowest(), (b+math.Sqrt(float64(b*b)+float64(4*a*limit)))/(2*limit))
}

// The camera of the model: a main camera of 67 degrees across in a picture
// 1920 points wide (from memory, no maker's figure).
const focalLength = 1440 // picture points

// MinPixels is the picture points a square must have at the code's far edge
// for strong and weak readers alike; the model's readers need 2.0 to 3.0 in
// the middle of the code.
const MinPixels = 2.25

// Pixels returns the picture points that one square of the code gets near the
// code's edge, at a distance in mm from a usual phone camera and tilted round
// the body by tilt degrees. Compare with MinPixels.
func (f Form) Pixels(diameter, tilt, distance float64) float64 {
	// 0.8 of the half side: the outermost rows may be lost, correction mends them.
	const edge = 0.8
	at := edge * float64(f.N) * f.Module / diameter // radians: of N·m/2 over D/2
	wide := f.Module
	if f.Front { // it lies where its sine says, and is as much wider as it is slanted
		at = math.Asin(math.Min(at, 1))
		wide /= math.Max(math.Cos(at), math.Cos(steepestSide))
	}
	slant := math.Min(at+tilt*math.Pi/180, math.Pi/2)
	return wide * focalLength / distance * math.Cos(slant)
}

// Bow is Form.Bow of a plain code of n squares of module mm to a side.
func Bow(n int, module, diameter, tilt float64) float64 {
	return Form{N: n, Module: module}.Bow(diameter, tilt)
}

// Limit is Form.Limit of a plain code of that level by the model's limits.
func Limit(level symbol.Level) float64 { return Form{Level: level}.Limit() }

// RatedTilt is Form.RatedTilt of a plain code by the model's limits.
func RatedTilt(n int, level symbol.Level, module, diameter float64) float64 {
	return Form{N: n, Level: level, Module: module}.RatedTilt(diameter)
}

// MinDiameter is Form.MinDiameter of a plain code by the model's limits.
func MinDiameter(n int, level symbol.Level, module, tilt float64) float64 {
	return Form{N: n, Level: level, Module: module}.MinDiameter(tilt)
}

// Pixels is Form.Pixels of a plain code.
func Pixels(n int, module, diameter, tilt, distance float64) float64 {
	return Form{N: n, Module: module}.Pixels(diameter, tilt, distance)
}
