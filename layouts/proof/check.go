package proof

import (
	"math"

	"floatmark/loading/fault"
)

// check finds what no picture can be made of.
func (d Design) check() error {
	if len(d.Codes) == 0 || d.Codes[0].N == 0 {
		return fault.New(fault.Ours, "", "a design was to be proved without a code", "")
	}
	first := d.Codes[0]
	for _, m := range d.Codes {
		if m.N != first.N || m.Level != first.Level {
			return fault.New(fault.Ours, "", "codes of different sizes were to be proved as one design", "")
		}
	}
	if err := d.Printer.Sound(); err != nil {
		return err
	}
	switch {
	case d.Profile.MaxDiameter() == 0:
		return fault.Inputf("give the body's stations", "there is no body to look at")
	case !(d.Module >= d.Printer.Dot() && d.Module <= maxModule):
		return fault.Inputf("give it between a printer's dot and 1 mm", "the code's squares have no size that can be printed")
	case !(d.Quiet >= 0 && d.Quiet <= maxQuiet):
		return fault.Inputf("give 4 squares, 2 at least", "the pale edge is no number of squares")
	case !(d.Gloss >= 0 && d.Gloss <= 1):
		return fault.Inputf("give the gloss as a share between 0 and 1", "the varnish's gloss is none")
	case math.IsNaN(d.Theta) || math.IsInf(d.Theta, 0) || !(d.S >= 0 && d.S <= d.Flat.Slant):
		return fault.New(fault.NoFit, "", "the code does not lie on its piece", "")
	case d.Columns != nil && !rising(d.Columns, first.N+1, d.Printer.Dot()):
		return fault.New(fault.Ours, "", "the edges of the code's columns do not rise", "")
	}
	high, wide := d.rows()[first.N], math.Max(-d.columns()[0], d.columns()[first.N])
	if d.S-high < 0 || d.S+high > d.Flat.Slant || !(d.Flat.Angle(wide, d.S) < math.Pi/2) || !(d.Flat.Angle(wide, d.S) > 0) {
		return fault.New(fault.NoFit, "", "the code reaches past its piece or half way round the body", "make it smaller")
	}
	return nil
}

const (
	maxModule = 1  // mm: thrice the largest that is printed on a body
	maxQuiet  = 12 // squares: three times what the standard asks
)

// rising reports whether the edges are n and each is a dot beyond the last.
func rising(edges []float64, n int, dot float64) bool {
	if len(edges) != n {
		return false
	}
	for i := 1; i < n; i++ {
		if !(edges[i]-edges[i-1] >= dot/2) {
			return false
		}
	}
	return true
}
