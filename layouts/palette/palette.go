// Package palette gives the colours of rating bands, and tells which colours
// are hard to tell apart, for usual eyes and for those that lack a kind of cone.
//
// Colours are sRGB inks on white; differences are CIEDE2000, without a unit. It
// knows nothing of ratings: which colour stands for what is decided above, by
// rank alone, and no colour means a number of grams.
package palette

import "floatmark/layouts/draw"

// Named is a colour and what to call it.
type Named struct {
	Name string
	Ink  draw.Ink
}
