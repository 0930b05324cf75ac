package shot

import (
	_ "embed"
	"strconv"
	"strings"

	"floatmark/loading/unit"
)

// PoleSize is the size of a pole float, "4x14": so many styl leads of a number
// of the rising scale. It is not so many shot of that number, and makers use it
// loosely: it is only ever near, and grams stand beside it.
type PoleSize struct {
	N        int
	Number   string    // "14"
	Readings []Reading // the masses in print, of lead; at least one
}

//go:embed polesizes.csv
var poleSizesCSV string

// mostStyls is the most styls a pole size is taken to mean; 3 and 4 are what is
// printed. Estimate.
const mostStyls = 8

// ParsePoleSize reads "4x14", "4 X 14" or "4×14"; false for anything else and
// for sizes that no chart and no styl gives a mass.
func ParsePoleSize(s string) (PoleSize, bool) {
	n, number, ok := strings.Cut(strings.NewReplacer("X", "x", "×", "x", "*", "x").Replace(s), "x")
	p := PoleSize{Number: strings.TrimSpace(number)}
	p.N, _ = strconv.Atoi(strings.TrimSpace(n))
	if !ok || p.N < 1 || p.N > mostStyls || p.Number == "" || strings.Trim(p.Number, "0123456789") != "" {
		return PoleSize{}, false
	}
	key := strconv.Itoa(p.N) + "x" + p.Number
	rising, _ := ByKey("styl-rising")
	// The heaviest styls are themselves divided out of the charts below.
	if s, known := rising.Size(p.Number); known && s.Source == "russian-list" {
		styls := Count{s, p.N}
		p.Readings = append(p.Readings, Reading{CountsText([]Count{styls}) + " of the rising styl scale", Total([]Count{styls}), s.Source})
	}
	for _, r := range rows(poleSizesCSV) {
		if r[0] == key {
			p.Readings = append(p.Readings, Reading{"a chart of pole floats", must(unit.ParseGram(r[1])), r[2]})
		}
	}
	return p, len(p.Readings) > 0
}

// Mass returns the mean of the readings, in grams of lead.
func (p PoleSize) Mass() unit.Gram {
	var sum unit.Gram
	for _, r := range p.Readings {
		sum += r.Mass
	}
	return sum / unit.Gram(len(p.Readings))
}

// agreeWithin is the difference, 1 %, up to which two charts say the same.
const agreeWithin = 0.01

// Disagree reports whether the readings differ by more than 1 %.
func (p PoleSize) Disagree() bool {
	return Disagreement{Readings: p.Readings}.Spread() > agreeWithin
}

// Text returns the size with what it is near: "4x14: near 0.4 g", "4x12: near
// 0.256 g (4 no. 12 of the rising styl scale) or 0.2 g (a chart of pole
// floats)".
func (p PoleSize) Text(st unit.Style) string {
	head := strconv.Itoa(p.N) + "x" + p.Number + ": near "
	var parts []string
	for _, r := range p.Readings {
		text := r.Mass.Text(0.001, st)
		if r.Source == "memory" {
			text += " (from memory)"
		} else if p.Disagree() {
			text += " (" + r.Where + ")"
		}
		parts = append(parts, text)
		if !p.Disagree() {
			break
		}
	}
	return head + strings.Join(parts, " or ")
}
