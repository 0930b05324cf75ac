package legible

import (
	"math"

	"floatmark/layouts/draw"
)

// Light is a colour as shares of the light of a screen's red, green and blue,
// 0 to 1 each (linear sRGB, IEC 61966-2-1). Light adds and multiplies; the
// numbers of an Ink do not.
type Light [3]float64

// LightOf returns the light an sRGB colour gives back.
func LightOf(i draw.Ink) Light { return Light{linear(i.R), linear(i.G), linear(i.B)} }

// Ink returns the nearest sRGB colour; shares outside 0 to 1 are cut off.
func (l Light) Ink() draw.Ink { return draw.Ink{R: coded(l[0]), G: coded(l[1]), B: coded(l[2])} }

// Under returns the light that comes back through a film laid over l: each
// share is taken once more.
func (l Light) Under(film Light) Light {
	return Light{l[0] * film[0], l[1] * film[1], l[2] * film[2]}
}

// coded is the inverse of linear, to the nearest of the 256 steps.
func coded(v float64) uint8 {
	const knee = 0.0031308 // IEC 61966-2-1
	if !(v > 0) {
		return 0
	}
	v = math.Min(v, 1)
	s := 12.92 * v
	if v > knee {
		s = float64(1.055*math.Pow(v, 1/2.4)) - 0.055
	}
	return uint8(math.Round(255 * s))
}
