package proof

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"math"

	"floatmark/layouts/view"
	"floatmark/loading/unit"
)

// Model names what the pictures are made with. It is part of every Key and
// changes with anything that could change a verdict, so that what was stored
// under another model is proved anew.
const Model = "phone pictures 2"

// Steps to which a design is rounded in its Key. Bodies that differ by less than
// a tenth of what the verdict scatters by share a proof: floats of one pattern,
// each of its own measured girth, are a handful of designs and not a thousand.
const (
	bodyStep   = 0.05 // mm of radius
	printStep  = 1e-4 // mm: a thousandth of a dot and less
	shareStep  = 1e-3 // of reflectance and gloss
	columnStep = 0.1  // mm
	growthStep = 0.01 // mm of hoop radius a mm of slant
)

// Key names a design by its content, for a cache of verdicts: designs that
// differ only in what their codes say, in where they stand or by less than 0.1
// mm of diameter have the same. It is a hash in hexadecimals. A design that
// Prove refuses has the empty Key.
func Key(d Design) string {
	if d.check() != nil {
		return ""
	}
	h := sha256.New()
	m := d.Codes[0]
	fmt.Fprintf(h, "%s %d %s %d %v\n", Model, m.N, m.Level, d.Quiet, d.Clear)
	put(h, printStep, d.Module, d.Printer.Dot(), gain(d.Printer), float64(d.Printer.Reduction()))
	// The columns of a widened code follow from the girth, which is put below;
	// how wide they are as a whole and half way tells the rule they follow.
	x := d.columns()
	put(h, columnStep, x[m.N], x[m.N]-x[m.N*3/4], x[m.N/4]-x[0])
	put(h, shareStep, d.ground(), d.Gloss)

	// The skin about the code: its girth there, and how it runs from there.
	patch := (float64(m.N)/2 + float64(d.Quiet)) * d.Module
	z := view.NewSkin(d.Profile, d.Flat.From, d.Flat.To).Height(d.S)
	r := float64(d.Profile.Diameter(z)) / 2
	put(h, bodyStep, r)
	for _, at := range [...]float64{-1, -0.5, 0.5, 1} {
		put(h, bodyStep, float64(d.Profile.Diameter(z+unit.Millimetre(at*patch)))/2-r)
	}
	// Where an end of the body cuts the skin short.
	put(h, bodyStep, math.Min(patch, float64(z-d.Profile.Base())), math.Min(patch, float64(d.Profile.Top()-z)))
	// How the piece is bent.
	hoop := func(s float64) float64 { return d.Flat.Hoop(s) / (2 * math.Pi) }
	put(h, growthStep, (hoop(d.Flat.Slant)-hoop(0))/d.Flat.Slant)
	return hex.EncodeToString(h.Sum(nil))
}

// put adds figures, each rounded to a step.
func put(h hash.Hash, step float64, figures ...float64) {
	for _, f := range figures {
		fmt.Fprintf(h, "%d ", int64(math.Round(f/step)))
	}
}
