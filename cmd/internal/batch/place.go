package batch

import (
	"math"

	"floatmark/label"
	"floatmark/loading/unit"
)

// The usual mark, mm: it is big enough for words, rings and a code, and keeps a
// little off the ends of the run it sits on. Own choices.
const (
	usualHeight = 25.0
	usualAside  = 1.0
	leastRun    = 6.0
)

// usualPlace is where a mark goes when the maker does not say: on the straight
// run under the tip that has the most room, thick runs before thin ones; on a
// body without one, across its thickest place.
func usualPlace(p *label.Pattern) (from, height unit.Millimetre) {
	top := p.TipFrom
	if !(top > 0 && top <= p.Profile.Top()) {
		top = p.Profile.Top()
	}
	best := 0.0
	st := p.Profile.Stations()
	for i := 1; i < len(st); i++ {
		lo, hi := st[i-1].Z+usualAside, min(st[i].Z, top)-usualAside
		if hi-lo < leastRun || !p.Profile.IsCone(lo, hi) {
			continue
		}
		high := math.Min(float64(hi-lo), usualHeight)
		thin := math.Min(float64(p.Profile.Diameter(lo)), float64(p.Profile.Diameter(hi)))
		if room := high * thin; room > best*1.01 {
			best = room
			from, height = (lo+hi)/2-unit.Millimetre(high/2), unit.Millimetre(high)
		}
	}
	if best > 0 {
		return from, height
	}
	thickest := p.Profile.Base()
	const looks = 400
	for i := 0; i <= looks; i++ {
		z := p.Profile.Base() + (top-p.Profile.Base())*unit.Millimetre(i)/looks
		if p.Profile.Diameter(z) > p.Profile.Diameter(thickest) {
			thickest = z
		}
	}
	const belly = 12.0 // mm of a curved body: more would hardly lie flat
	from = max(p.Profile.Base(), thickest-belly/2)
	return from, min(belly, top-from)
}
