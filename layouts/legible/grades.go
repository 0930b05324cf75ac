package legible

import (
	"math"

	"floatmark/layouts/draw"
)

// PrintGrade is a grade of a verifier of printed codes, 4 (A, best) to 0 (F).
// Verifiers grade by whole steps here, as ISO/IEC 15415:2011 does; its edition of
// 2024 has decimals.
type PrintGrade int

// String returns the grade's letter, A to F; there is no E.
func (g PrintGrade) String() string {
	const letters = "FDCBA"
	if g < 0 || int(g) >= len(letters) {
		return "?"
	}
	return letters[g : g+1]
}

// The least of each grade, 4 first, in percent, as a verifier's manual restates
// the standards.
var (
	symbolContrasts = [...]float64{70, 55, 40, 20} // ISO/IEC 15415:2011
	cellContrasts   = [...]float64{30, 25, 20, 15} // ISO/IEC 29158, for marks on things
)

func printGrade(v float64, least [4]float64) PrintGrade {
	for i, l := range least {
		if v >= l {
			return PrintGrade(len(least) - i)
		}
	}
	return 0 // also when v is no number
}

// GradeOfSymbolContrast returns the grade of ISO/IEC 15415 for a SymbolContrast
// in percent. Its C is CodeFails and its B CodeWarns.
func GradeOfSymbolContrast(percent float64) PrintGrade {
	return printGrade(percent, symbolContrasts)
}

// CellContrast returns the cell contrast of ISO/IEC 29158, in percent: what the
// light squares give back more than the dark ones, as a share of what they give
// back. On a coloured body it says more than SymbolContrast, for readers settle
// on the light that there is. It is 0 where the light squares are not the lighter.
func CellContrast(dark, light draw.Ink) float64 {
	l, d := Reflectance(light), math.Max(Reflectance(dark), blackest)
	if !(l > d) {
		return 0
	}
	return 100 * (l - d) / l
}

// GradeOfCellContrast returns the grade of ISO/IEC 29158 for a CellContrast in
// percent.
func GradeOfCellContrast(percent float64) PrintGrade { return printGrade(percent, cellContrasts) }
