package shot

import (
	_ "embed"
	"slices"
	"strings"

	"floatmark/loading/unit"
)

// Reading is one of the values in print for a thing.
type Reading struct {
	Where  string    // "British traditional"
	Mass   unit.Gram // 0 where the reading is no mass; Where then says all
	Source string    // key of the page, see Sources
}

// Disagreement is a name that pages give different values for. None of them is
// right or wrong: which was meant has to be asked.
type Disagreement struct {
	Item        string   // a size, "SSG", or another thing in print
	Conventions []string // keys of the conventions it bears on
	Readings    []Reading
	Remark      string // "" for none
}

// Spread returns by how much the heaviest reading exceeds the lightest, as a
// share of the lightest: 0.25 is 25 %. 0 where the readings are no masses.
func (d Disagreement) Spread() float64 {
	var lo, hi unit.Gram
	for _, r := range d.Readings {
		if r.Mass > 0 && (lo == 0 || r.Mass < lo) {
			lo = r.Mass
		}
		hi = max(hi, r.Mass)
	}
	if lo == 0 {
		return 0
	}
	return float64(hi/lo - 1)
}

//go:embed disagreements.csv
var disagreementsCSV string

// Disagreements returns what is known to be in print with more than one value,
// in the order of the table. As in Conventions a broken table stops at once.
func Disagreements() []Disagreement {
	var all []Disagreement
	for _, r := range rows(disagreementsCSV) {
		if len(all) == 0 || all[len(all)-1].Item != r[0] {
			all = append(all, Disagreement{Item: r[0], Conventions: strings.Fields(r[1]), Remark: r[5]})
		}
		d := &all[len(all)-1]
		reading := Reading{Where: r[2], Source: r[4]}
		if r[3] != "" {
			reading.Mass = must(unit.ParseGram(r[3]))
		}
		d.Readings = append(d.Readings, reading)
	}
	return all
}

// DisagreementsOn returns those that bear on a convention.
func DisagreementsOn(c Convention) []Disagreement {
	return slices.DeleteFunc(Disagreements(), func(d Disagreement) bool { return !slices.Contains(d.Conventions, c.Key) })
}
