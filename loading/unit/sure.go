package unit

import "math"

// Fixed returns v with every decimal that step needs, trailing zeros kept:
// Fixed(8, 0.05) is "8.00". It is for figures that stand beside others of their
// step; what stands alone is a Number.
func Fixed(v, step float64, st Style) string {
	return fixed(Round(v, step), decimals(step), st)
}

// FixedText returns the mass with its unit and every decimal of step, "8.00 g".
func (g Gram) FixedText(step Gram, st Style) string {
	return Fixed(float64(g), float64(step), st) + " g"
}

// Sure returns the mass with its uncertainty, both to the same decimals: "8.00 g ±
// 0.03 g". See Apart.
func (g Gram) Sure(u, step Gram, st Style) string {
	value, uncertainty := g.Apart(u, step, st)
	return value + " ± " + uncertainty
}

// Apart returns a mass and its uncertainty for two columns, both to the same
// decimals (as GUM, JCGM 100:2008, 7.2.6, rounds an estimate): those of step, one
// more where the uncertainty would vanish, and no more than show two significant
// digits of it. An uncertainty of 0 is one that is not known, and changes nothing.
func (g Gram) Apart(u, step Gram, st Style) (value, uncertainty string) {
	places := decimals(float64(step))
	if u > 0 {
		const most = 2 // significant digits that an uncertainty is worth
		if float64(u) < math.Pow10(-places) {
			places++
		}
		e := int(math.Floor(math.Log10(float64(u)))) + 1 // digits before the point
		if math.Round(float64(u)*math.Pow10(most-e)) >= math.Pow10(most) {
			e++ // 0.0996 is 0.10
		}
		places = max(0, min(places, most-e))
	}
	one := math.Pow10(-places)
	return g.FixedText(Gram(one), st), u.FixedText(Gram(one), st)
}
