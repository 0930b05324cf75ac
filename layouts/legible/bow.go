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

// The two terms of Bow.
const (
	// sagittaShare: a row of half-width N·m/2 on a cylinder of diameter D,
	// tipped by T, sinks at its ends by (N·m/2)²/D·sin T = N²·m²/(4·D)·sin T.
	sagittaShare = 1.0 / 4
	// residueShare is the cubic part of x = R·sin(phi) that the best flat view
	// of a plain square cannot take up; fitted to the model's pictures.
	residueShare = 0.032
)

// Bow returns how far, in widths of one of its small squares, the rows of a
// code depart from the flat grid that a reader lays over them: the code has n
// squares of module mm to a side, printed as a true square of the film, and is
// seen tilt degrees off square on a body of the given diameter. An infinite
// diameter is a flat card.
func Bow(n int, module, diameter, tilt float64) float64 {
	side := float64(n)
	turn := math.Sin(tilt * math.Pi / 180)
	return float64(sagittaShare*side*side*module/diameter*turn) + float64(residueShare*side*side*side*module*module/(diameter*diameter))
}

// How far the rows may bow, in squares, before readers fail. M was set on 5,392
// pictures of the model by bisection of the smallest diameter; L, Q and H come
// from the share read in bands of bow over 2,500 random pictures and are
// rougher.
const (
	bowM  = 0.85
	bowL  = 0.70
	bowQH = bowM + 0.10
)

// Limit returns the largest bow, in squares, at which a code of that level is
// counted as readable. A value that is no level counts as L, the strictest.
func Limit(level symbol.Level) float64 {
	switch level {
	case symbol.M:
		return bowM
	case symbol.Q, symbol.H:
		return bowQH
	default:
		return bowL
	}
}

// SteepestTilt caps RatedTilt, in degrees: beyond it the slant of the view
// itself stops readers, whatever the body.
const SteepestTilt = 25

// RatedTilt returns the tilt in degrees, 0 to SteepestTilt, up to which a code
// still reads; 0 where it is not to be relied on even when held square.
func RatedTilt(n int, level symbol.Level, module, diameter float64) float64 {
	flat := Bow(n, module, diameter, 0)
	perTurn := Bow(n, module, diameter, 90) - flat
	spare := Limit(level) - flat
	switch {
	case !(spare > 0): // also when a measure is no number
		return 0
	case spare >= perTurn*math.Sin(SteepestTilt*math.Pi/180):
		return SteepestTilt
	}
	return math.Asin(spare/perTurn) * 180 / math.Pi
}

// MinDiameter returns the smallest body, in mm, on which a code reads up to a
// tilt of 0 to SteepestTilt degrees: the diameter at which Bow meets Limit.
func MinDiameter(n int, level symbol.Level, module, tilt float64) float64 {
	// With u = 1/D the bow is a·u² + b·u; its one positive root, written so
	// that nothing cancels.
	a := Bow(n, module, 1, 0)
	b := Bow(n, module, 1, tilt) - a
	limit := Limit(level)
	return (b + math.Sqrt(float64(b*b)+float64(4*a*limit))) / (2 * limit)
}

// The camera of the model: a main camera of 67 degrees across in a picture
// 1920 points wide (from memory, no maker's figure).
const focalLength = 1440 // picture points

// MinPixels is the picture points a square must have at the code's far edge
// for strong and weak readers alike; the model's readers need 2.0 to 3.0 in
// the middle of the code.
const MinPixels = 2.25

// Pixels returns the picture points that one square of a code gets near the
// code's edge, at a distance in mm from a usual phone camera and tilted round
// the body by tilt degrees. Compare with MinPixels.
func Pixels(n int, module, diameter, tilt, distance float64) float64 {
	// 0.8 of the half angle: the outermost rows may be lost, correction mends them.
	const edge = 0.8
	half := float64(n) * module / diameter // radians: half of N·m/(D/2)
	slant := math.Min(edge*half+tilt*math.Pi/180, math.Pi/2)
	return module * focalLength / distance * math.Cos(slant)
}
