package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/unit"
)

// floatRow is a float as the batch file has it, right or wrong.
type floatRow struct {
	Place                                                           int // in the file's list, from 0
	Number, Pattern, Name, Rating, BuiltIn, Metal, Reading, Bare    string
	Note, Dedication                                                string
	Diameters, Girths                                               string // "30 16.1; 54 13.5"
	Setups                                                          []setupRow
	Line                                                            int // of what was pasted; 0 elsewhere
	Findings                                                        []finding
	Edited                                                          bool
	BuiltInAt, ReadingAt, BareAt, NoteAt, DedicationAt, DiametersAt string // names of its fields
}

// anyBare reports whether one of the floats was read before its weight was fitted.
func anyBare(all []floatRow) bool {
	return slices.ContainsFunc(all, func(f floatRow) bool {
		return f.Bare != "" || slices.ContainsFunc(f.Setups, func(one setupRow) bool { return one.Bare != "" })
	})
}

// anyMore reports whether there is more to one of the floats than its figures.
func anyMore(all []floatRow) bool {
	return slices.ContainsFunc(all, func(f floatRow) bool {
		return f.Note+f.Dedication+f.Diameters+f.Girths != "" || len(f.Findings) > 0
	})
}

// setupRow is one way to fit an exchangeable float.
type setupRow struct{ Name, Rating, BuiltIn, Metal, Reading, Bare string }

// floatRows lists the floats of a document in the order of the drying board.
func floatRows(m words.Measures, d *batch.Doc) []floatRow {
	names := map[string]string{}
	for i := range d.Len("pattern") {
		at := fmt.Sprintf("pattern/%d/", i)
		names[d.Text(at+"key")] = d.Text(at + "name")
	}
	var all []floatRow
	for i := range d.Len("float") {
		f := floatRowAt(m, d, i)
		if f.Name = names[f.Pattern]; f.Name == "" {
			f.Name = f.Pattern
		}
		all = append(all, f)
	}
	slices.SortStableFunc(all, func(a, b floatRow) int { return numberOf(a.Number) - numberOf(b.Number) })
	return all
}

func floatRowAt(m words.Measures, d *batch.Doc, place int) floatRow {
	at := fmt.Sprintf("float/%d/", place)
	text := func(key string) string { return d.Text(at + key) }
	f := floatRow{Place: place, Number: text("number"), Pattern: text("pattern"), Rating: text("rating"), BuiltIn: text("built_in"), Metal: text("metal"),
		Reading: text("reading"), Bare: text("bare"), Note: text("note"), Dedication: text("dedication")}
	diameters, _ := d.Get(at + "diameters_mm")
	girths, _ := d.Get(at + "girths_mm")
	f.Diameters, f.Girths = pairsShown(m, diameters), pairsShown(m, girths)
	for k := range d.Len(at + "setup") {
		under := func(key string) string { return d.Text(fmt.Sprintf("%ssetup/%d/%s", at, k, key)) }
		f.Setups = append(f.Setups, setupRow{under("name"), under("rating"), under("built_in"), under("metal"), under("reading"), under("bare")})
	}
	return f
}

// numberOf is a float's number for sorting; what is none comes first, so that it
// is seen.
func numberOf(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return n
}

// number is a plain number as the file has it; nothing for "", and the text itself
// for what is no number.
func number(text string) any {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	v, ok := unit.Decimal(text)
	switch {
	case !ok:
		return text
	case v == float64(int64(v)):
		return int64(v)
	}
	return v
}

// grams is a mass as the file has it: a bare number is grams, as the page says.
func grams(text string) any {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	if _, bare := unit.Decimal(text); bare {
		return text + " g"
	}
	return text
}

// word is a text as the file has it.
func word(text string) any {
	if text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n")); text != "" {
		return text
	}
	return nil
}

// source is the text whose lines the findings of a draft name.
func source(d job.Draft) []byte {
	if d.File != nil {
		return d.File.Source
	}
	return d.Doc.Source()
}

// sorted hands each finding to the float it is of, and returns the others with
// what is only missing yet.
func sorted(d job.Draft, rows []floatRow) (yet []link, others []finding) {
	yet, all := toldEach(d, d.Err)
	for _, f := range all {
		i := slices.IndexFunc(rows, func(r floatRow) bool { return f.Of != "" && r.Place == f.at })
		if f.Of != ofFloat || i < 0 {
			others = append(others, f)
			continue
		}
		rows[i].Findings = append(rows[i].Findings, finding{What: f.What, Do: f.Do})
	}
	return yet, others
}
