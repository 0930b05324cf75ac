package legible

import (
	"math"

	"floatmark/layouts/draw"
)

// TextContrast is the least Contrast for lettering: WCAG 2, success criterion
// 1.4.3, level AA. Made for screens; used for print as a plain floor.
const TextContrast = 4.5

// Reflectance returns the share of light, 0 to 1, that an sRGB colour gives
// back as the eye weighs it: the relative luminance of WCAG 2, with the
// transfer curve of IEC 61966-2-1 and the weights of ITU-R BT.709. White is 1,
// while real film gives back about 0.8; black ink about 0.05.
func Reflectance(i draw.Ink) float64 {
	return float64(0.2126*linear(i.R)) + float64(0.7152*linear(i.G)) + float64(0.0722*linear(i.B))
}

// linear is the transfer curve of IEC 61966-2-1. WCAG 2 printed 0.03928 for
// its knee; no 8-bit value lies between the two.
func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// Contrast returns the contrast ratio of two colours by WCAG 2, 1 to 21, in
// either order. Compare with TextContrast.
func Contrast(a, b draw.Ink) float64 {
	const flare = 0.05 // stray light, in shares of white
	p, q := Reflectance(a), Reflectance(b)
	return (math.Max(p, q) + flare) / (math.Min(p, q) + flare)
}
