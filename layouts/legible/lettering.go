package legible

import "math"

// CapFloor is the least height of capitals, mm, that is set without being asked
// for. The figure is borrowed: 1.2 mm is the height of small letters that
// Regulation (EU) No 1169/2011, article 13, wants on food labels (from memory;
// laws change). No rule is known for floats, and none is claimed to be met.
const CapFloor = 1.2

// ReadableDegrees is the arc of a body that is read without turning it: at its
// ends, 60 degrees off the middle, letters look half as wide as they are.
const ReadableDegrees = 120

// Half-way proportions of a narrow bold face, in ems, for a first estimate
// before the words are set.
const (
	advance = 0.60 // mean advance of a character
	capital = 0.70 // height of a capital
)

// lengthwiseArc is the arc within which the height of capitals set along the
// body must lie: 45 degrees to either side, where they look 0.7 as high.
const lengthwiseArc = 90 // degrees

// ReadableArc returns the length in mm along the girth of the given degrees of
// a body: at ReadableDegrees 1.047 of the diameter.
func ReadableArc(diameter, degrees float64) float64 {
	return diameter / 2 * degrees * math.Pi / 180
}

// HoopCap returns the largest capitals, in mm, with which n characters go round
// the body within ReadableDegrees; n below 1 counts as 1. An estimate by mean
// advance: set words measure it truly.
func HoopCap(n int, diameter float64) float64 {
	return runCap(n, ReadableArc(diameter, ReadableDegrees))
}

// LengthwiseCap returns the largest capitals, in mm, with which n characters go
// along a stretch of the body of the given length in mm, not higher than the
// body shows without turning: 0.785 of the diameter.
func LengthwiseCap(n int, diameter, length float64) float64 {
	return math.Min(runCap(n, length), ReadableArc(diameter, lengthwiseArc))
}

// TurnLengthwise reports whether n characters round the body would fall below
// CapFloor, so that they are set along it.
func TurnLengthwise(n int, diameter float64) bool { return HoopCap(n, diameter) < CapFloor }

func runCap(n int, length float64) float64 {
	return length * capital / (advance * float64(max(n, 1)))
}
