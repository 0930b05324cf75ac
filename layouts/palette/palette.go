// Package palette gives the colours of rating bands, and tells which colours
// are hard to tell apart, for usual eyes and for those that lack a kind of cone.
//
// Colours are sRGB inks on white; differences are CIEDE2000, without a unit. It
// knows nothing of ratings: which colour stands for what is decided above, by
// rank alone, and no colour means a number of grams.
package palette

import (
	"slices"

	"floatmark/layouts/draw"
)

// Named is a colour and what to call it.
type Named struct {
	Name string
	Ink  draw.Ink
}

// Default returns the band palette. White letters knocked out of any of them
// show: its contrast with white is 3 or more. Any two, also beside Spare, are at
// least 12.9 apart for every Sight, and any two of the first five at least 20.6:
// use them from the front. Found by a search for the widest spread; printers
// shift colours, so look at a printed sheet.
func Default() []Named {
	return []Named{
		{"blue", draw.Ink{R: 0x18, G: 0x60, B: 0x8e}},
		{"amber", draw.Ink{R: 0xcb, G: 0x78, B: 0x18}},
		{"violet", draw.Ink{R: 0xab, G: 0x79, B: 0xf4}},
		{"rust", draw.Ink{R: 0x96, G: 0x39, B: 0x00}},
		{"teal", draw.Ink{R: 0x26, G: 0xa3, B: 0x8b}},
		{"plum", draw.Ink{R: 0x55, G: 0x1f, B: 0x52}},
		{"tan", draw.Ink{R: 0x92, G: 0x6e, B: 0x52}},
		{"slate", draw.Ink{R: 0x74, G: 0x7e, B: 0xa5}},
	}
}

// Spare returns the dark grey of bands for which no colour is left.
func Spare() draw.Ink { return draw.Ink{R: 0x40, G: 0x40, B: 0x40} }

// Least is the difference under which two bands count as hard to tell apart
// when seen alone, on two floats, outdoors. Colours side by side are told apart
// at 1 or 2; ten times that is an estimate, no source.
const Least = 10.0

// Clash is a pair of colours that are hard to tell apart: their places in the
// list, and the sight for which they are nearest, with the difference.
type Clash struct {
	I, J   int // I < J
	Sight  Sight
	DeltaE float64
}

// Clashes returns the pairs that are less than Least apart for some sight, in
// the order of the list, each once.
func Clashes(colours []draw.Ink) []Clash {
	var all []Clash
	for i, a := range colours {
		for j := i + 1; j < len(colours); j++ {
			if s, d := Nearest(a, colours[j]); d < Least {
				all = append(all, Clash{i, j, s, d})
			}
		}
	}
	return all
}

// Nearest returns the sight to which two colours look most alike, and how far
// apart they are for it. Of equals, the first of Sights counts.
func Nearest(a, b draw.Ink) (Sight, float64) {
	worst, least := Normal, DeltaE(a, b)
	for _, s := range Sights()[1:] {
		if d := DeltaE(Seen(a, s), Seen(b, s)); d < least {
			worst, least = s, d
		}
	}
	return worst, least
}

// Pick returns up to n colours of from, in its order, leaving out those that are
// less than Least from a taken one for some sight. Fewer come when no more are
// left. Colours of from may be near each other: they are their owner's choice.
func Pick(n int, from, taken []draw.Ink) []draw.Ink {
	var picked []draw.Ink
	for _, c := range from {
		if len(picked) >= n {
			break
		}
		if !slices.ContainsFunc(taken, func(t draw.Ink) bool { _, d := Nearest(c, t); return d < Least }) {
			picked = append(picked, c)
		}
	}
	return picked
}
