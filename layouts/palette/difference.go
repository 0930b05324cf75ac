package palette

import (
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
)

// Lab is a colour in CIELAB: L from 0 (black) to 100 (white), A from green to
// red, B from blue to yellow.
type Lab struct{ L, A, B float64 }

// toXYZ maps linear sRGB to CIE XYZ with the white of D65 (IEC 61966-2-1).
var toXYZ = [3]legible.Light{
	{0.4124564, 0.3575761, 0.1804375},
	{0.2126729, 0.7151522, 0.0721750},
	{0.0193339, 0.1191920, 0.9503041},
}

// LabOf returns an sRGB colour in CIELAB, as seen by D65.
func LabOf(i draw.Ink) Lab {
	light := legible.LightOf(i)
	var f [3]float64
	for n, row := range toXYZ {
		white := row[0] + row[1] + row[2] // sRGB's own white, so that greys have no colour
		f[n] = labCurve(dot(row, light) / white)
	}
	return Lab{L: float64(116*f[1]) - 16, A: 500 * (f[0] - f[1]), B: 200 * (f[1] - f[2])}
}

func dot(a, b legible.Light) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}

// labCurve is the cube root with the straight foot of CIE 15.
func labCurve(t float64) float64 {
	const delta = 6.0 / 29
	if t > delta*delta*delta {
		return math.Cbrt(t)
	}
	return t/(3*delta*delta) + 4.0/29
}

// DeltaE returns the difference CIEDE2000 of two sRGB colours: 0 for the same,
// about 1 where a trained eye begins to see it side by side, 100 from black to
// white.
func DeltaE(a, b draw.Ink) float64 { return LabOf(a).DeltaE(LabOf(b)) }

// pow25 is 25 to the power of 7, where CIEDE2000 turns from grey to coloured.
const pow25 = 6103515625.0

// DeltaE returns the difference CIEDE2000 of two colours of CIELAB, all three
// weights 1. The formula and its traps (hues either side of 0, greys without a
// hue) are those of Sharma, Wu and Dalal 2005, Color Research and Application
// 30(1), 21-30; the numbers are theirs.
func (p Lab) DeltaE(q Lab) float64 {
	mean7 := math.Pow((math.Hypot(p.A, p.B)+math.Hypot(q.A, q.B))/2, 7)
	stretch := 1 + float64(0.5*(1-math.Sqrt(mean7/(mean7+pow25)))) // reds and greens of greyish colours count more
	c1, h1 := polar(stretch*p.A, p.B)
	c2, h2 := polar(stretch*q.A, q.B)

	dh := h2 - h1
	hue := (h1 + h2) / 2
	switch {
	case c1 == 0 || c2 == 0:
		dh, hue = 0, h1+h2 // a grey has no hue: the other's counts
	case math.Abs(dh) > 180:
		dh -= math.Copysign(360, dh)
		hue = math.Mod(hue+180, 360)
	}
	dL, dC := q.L-p.L, c2-c1
	dH := 2 * math.Sqrt(c1*c2) * sin(dh/2)

	light, chroma := (p.L+q.L)/2, (c1+c2)/2
	t := 1 - float64(0.17*cos(hue-30)) + float64(0.24*cos(2*hue)) + float64(0.32*cos(float64(3*hue)+6)) - float64(0.20*cos(float64(4*hue)-63))
	off := (light - 50) * (light - 50)
	dL /= 1 + 0.015*off/math.Sqrt(20+off)
	dC /= 1 + float64(0.045*chroma)
	dH /= 1 + float64(0.015*chroma*t)

	chroma7 := math.Pow(chroma, 7)
	away := (hue - 275) / 25 // blue, where hue and chroma pull together
	turn := 30 * math.Exp(-away*away)
	bent := -2 * math.Sqrt(chroma7/(chroma7+pow25)) * sin(2*turn)
	return math.Sqrt(float64(dL*dL) + float64(dC*dC) + float64(dH*dH) + float64(bent*dC*dH))
}

// polar returns chroma and hue, 0 to 360 degrees; the hue of a grey is 0.
func polar(a, b float64) (chroma, hue float64) {
	chroma = math.Hypot(a, b)
	if chroma == 0 {
		return 0, 0
	}
	hue = math.Atan2(b, a) * 180 / math.Pi
	if hue < 0 {
		hue += 360
	}
	return chroma, hue
}

func sin(degrees float64) float64 { return math.Sin(degrees * math.Pi / 180) }
func cos(degrees float64) float64 { return math.Cos(degrees * math.Pi / 180) }
