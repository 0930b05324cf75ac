package wrap

import (
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// Strained is the hoop strain at one place of a piece: S mm up the slant from
// the lower edge, E the body's hoop over the flat piece's, less 1. Positive: the
// film has to stretch; negative: it has slack and wrinkles. 0.02 is 2 %.
type Strained struct{ S, E float64 }

// Strains returns the strain field of the piece f on the body p, at n places
// evenly spaced in body height from the lower edge to the upper, n being taken
// as 2 at least. The film's thickness must be the one f was made with, as the
// field is that of its mid-surface. On a cone or a cylinder all is 0 but for
// what drawing it as a rectangle leaves, below half a printer dot.
func Strains(f Flat, p body.Profile, film Film, n int) []Strained {
	n = max(n, 2)
	out := make([]Strained, n)
	s, at := 0.0, f.From
	for i := range out {
		z := f.From + (f.To-f.From)*unit.Millimetre(i)/unit.Millimetre(n-1)
		s += p.Meridian(at, z)
		at = z
		out[i].S = s
		if r := f.hoopRadius(s); r > 0 {
			out[i].E = midRadius(p, z, film)/r - 1
		}
	}
	return out
}
