package legible

import (
	"math"

	"floatmark/loading/unit"
)

// Reasons says what does not read well, a plain sentence each; none when all
// does.
func (v Verdict) Reasons() []string {
	var all []string
	how := func(g Grading) string {
		if g == Unreadable {
			return " cannot be read on "
		}
		return " is hard to read on "
	}
	if v.Text != Good {
		all = append(all, "Print in "+v.Worst.String()+how(v.Text)+v.Ground.String()+": the contrast is "+ratio(v.TextContrast)+"; "+ratio(TextContrast)+" or more is wanted.")
	}
	if v.Code != Good {
		all = append(all, "A code"+how(v.Code)+v.Ground.String()+": its symbol contrast is "+percent(math.Max(v.CodeContrast, 0)/100)+"; "+percent(CodeWarns/100)+" or more is wanted.")
	}
	return all
}

// Remedy says what to change where Reasons are given; "" where none are. clear
// says whether the film is.
func (v Verdict) Remedy(clear bool) string {
	pale := "of lightness " + count(int(math.Ceil(v.NeedLightness))) + " or more (white is 100, black 0)"
	switch {
	case v.Overall() == Good:
		return ""
	case v.NeedLightness > 100:
		return "print in a darker ink: this one is too pale even on white"
	case clear:
		return "print on white film, or paint the ground under the mark in a pale colour, " + pale
	}
	return "print on white film, or on one " + pale
}

// ratio rounds down, so that 4.49 is never shown as the 4.5 it lacks.
func ratio(c float64) string {
	return unit.Number(math.Floor(10*c+1e-9)/10, 0.1, unit.Style{})
}
