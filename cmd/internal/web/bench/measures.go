package bench

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label/words"
	"floatmark/loading/unit"
)

// unitsField is the field of a form that says in which units it was shown, so that
// it is read in them even when the workshop's were changed meanwhile.
const unitsField = "units"

// measures are how the request's reader is shown quantities and types them.
func (s *server) measures(r *http.Request) words.Measures {
	of := s.shop().Units()
	files := strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/")
	if files && r.MultipartForm == nil { // a form that was not read yet, or is too large to be
		return words.MeasuresFor(s.language(r), of)
	}
	if name := r.FormValue(unitsField); name != "" {
		if said, ok := unit.SystemByName(name); ok {
			of = said
		}
	}
	return words.MeasuresFor(s.language(r), of)
}

// inWords are what templates write measures with: "length" of a value and how
// finely, "tell" of a message of the program and "tellMetric" where its lengths are
// read off a printed scale, "named" of a name of the built-in tables, "lengthSign" and "degreesSign" for labels.
func inWords(language string, m words.Measures) template.FuncMap {
	metric, tell := words.Measures{Number: m.Number}, words.Told(language)
	return template.FuncMap{
		"units": m.Units.String, "named": words.Named(language), "lengthSign": m.LengthSign, "degreesSign": m.DegreesSign, "tell": func(text string) string { return m.Told(tell(text)) }, "tellMetric": func(text string) string { return metric.Told(tell(text)) }, "imperial": m.Imperial, "lengthKeys": func() string { return lengthKeys(m) }, "comma": func() bool { return m.Number.Comma },
		"figure": func(text string) string { return figureShown(m, text) },
		"load":   func(text string) string { return loadShown(m, text) }, "ounces": func(text string) string { return ouncesShown(m, text) },
		"length": func(v any, step float64) (string, error) {
			switch v := v.(type) {
			case unit.Millimetre:
				return m.Length(v, unit.Millimetre(step)), nil
			case float64:
				return m.Length(unit.Millimetre(v), unit.Millimetre(step)), nil
			}
			return "", fmt.Errorf("%v is no length", v)
		},
	}
}

// quantity is a kind of value of a file that a form shows and takes: how it stands
// in its field, and what is read from there.
type quantity struct {
	show func(words.Measures, float64) string
	read func(words.Measures, string) (float64, bool)
}

// The kinds there are: millimetres, degrees Celsius, and numbers of no unit.
var (
	aLength = quantity{
		func(m words.Measures, v float64) string { return m.Bare(unit.Millimetre(v)) },
		func(m words.Measures, text string) (float64, bool) {
			v, err := m.ReadLength(text)
			return float64(v), err == nil
		}}
	aTemperature = quantity{
		func(m words.Measures, v float64) string { return m.Degrees(unit.Celsius(v)) },
		func(m words.Measures, text string) (float64, bool) {
			v, err := m.ReadDegrees(text)
			return float64(v), err == nil
		}}
	aNumber = quantity{
		func(m words.Measures, v float64) string { return m.Plain(v) },
		func(_ words.Measures, text string) (float64, bool) { return unit.Decimal(text) }}
)

// shown is a value of a file as its field shows it; what is no number as it stands.
func (q quantity) shown(m words.Measures, v any) string {
	switch v := v.(type) {
	case float64:
		return q.show(m, v)
	case int64:
		return q.show(m, float64(v))
	case string:
		return v
	}
	return ""
}

// typed is what a file is to have of what was typed where it had old: nothing for
// nothing, old itself where the field shows it still, so that a form sent back as
// it came moves nothing, and what is no such value as it was typed, so that the
// file's reader tells of it.
func (q quantity) typed(m words.Measures, text string, old any) any {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	if old != nil && text == q.shown(m, old) {
		return old
	}
	if v, ok := q.read(m, text); ok {
		return v
	}
	return text
}

// whole is typed for values that a file writes without a point where they can do.
func (q quantity) whole(m words.Measures, text string, old any) any {
	v := q.typed(m, text, old)
	if f, ok := v.(float64); ok && f == float64(int64(f)) && v != old {
		return int64(f)
	}
	return v
}

// numeric is a number of a file, whole or not.
func numeric(v any) (float64, bool) {
	switch v := v.(type) {
	case float64:
		return v, true
	case int64:
		return float64(v), true
	}
	return 0, false
}

// item is a value of a list that a file has; nothing where there is none.
func item(list any, i int) any {
	all, _ := list.([]any)
	if i < 0 || i >= len(all) {
		return nil
	}
	return all[i]
}

// typedAs is how a kind of value is read that a form has typed where a file had
// old.
type typedAs func(m words.Measures, text string, old any) any

// plainly is typedAs for what is the same to every reader.
func plainly(read func(string) any) typedAs {
	return func(_ words.Measures, text string, _ any) any { return read(text) }
}

// valueAt is what a document has at a path; nothing where there is none.
func valueAt(d *batch.Doc, path string) any {
	v, _ := d.Get(path)
	return v
}

// loadShown is a load of a file as its field shows it, "0,85 g" where a comma is
// written; counted shot and what is no load as it stands.
func loadShown(m words.Measures, text string) string {
	if _, err := unit.ParseGram(text); err == nil && m.Number.Comma {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// ouncesShown is a load of a file in ounces, for who measures in inches; "" for
// others, and where it is written in ounces itself.
func ouncesShown(m words.Measures, text string) string {
	if g, err := unit.ParseGram(text); err == nil && m.Imperial() && !strings.Contains(text, "oz") {
		return g.Ounces(m.Number)
	}
	return ""
}

// figureShown is a number that a file has as text, such as a price, in the reader's
// decimal sign; what is no number as it stands.
func figureShown(m words.Measures, text string) string {
	if _, ok := unit.Decimal(text); ok && m.Number.Comma {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// pointed is the way back: a number with a point, as files have it.
func pointed(text string) string {
	text = strings.TrimSpace(text)
	if _, ok := unit.Decimal(text); ok {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

// loadTyped is what a file is to have of a load that was typed: a bare number is
// grams, as the pages say.
func loadTyped(m words.Measures, text string, old any) any {
	text = strings.TrimSpace(text)
	if was, ok := old.(string); ok && text != "" && text == loadShown(m, was) {
		return old
	}
	v := grams(text)
	if s, ok := v.(string); ok && strings.Contains(s, ",") {
		if _, err := unit.ParseGram(s); err == nil {
			return strings.Replace(s, ",", ".", 1)
		}
	}
	return v
}

// fieldsOf fills in what the fields of a form show of a document, and the units
// that their labels name.
func fieldsOf(m words.Measures, d *batch.Doc, all []field) {
	for i, f := range all {
		if f.Of == nil {
			continue
		}
		v, _ := d.Get(f.Path)
		all[i].Value = f.Of.shown(m, v)
		if f.Of == &aLength {
			all[i].Mode = lengthKeys(m)
		}
	}
}

// lengthKeys are the keys that a phone shows for a length: fractions of an inch
// want more than digits.
func lengthKeys(m words.Measures) string {
	if m.Imperial() {
		return "text"
	}
	return "decimal"
}

// sidesShown writes lengths beside one another, "99 × 210".
func sidesShown(m words.Measures, list any) string {
	all, _ := list.([]any)
	var parts []string
	for _, v := range all {
		parts = append(parts, aLength.shown(m, v))
	}
	return strings.Join(parts, " × ")
}

// sidesTyped reads what sidesShown writes, also with blanks alone between them.
func sidesTyped(m words.Measures, text string, old any) any {
	sides := strings.FieldsFunc(text, func(r rune) bool { return r == '×' || r == 'x' || r == ';' })
	if len(sides) == 1 {
		sides = lengthsOf(text)
	}
	var all []any
	for _, one := range sides {
		all = append(all, aLength.whole(m, one, item(old, len(all))))
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// wholly is typedAs for a quantity that a file writes without a point where it
// can do.
func wholly(q quantity) typedAs { return q.whole }

// pairsShown writes a list of heights and what was measured there: "30 16.1; 54
// 13.5".
func pairsShown(m words.Measures, list any) string {
	all, _ := list.([]any)
	var parts []string
	for _, one := range all {
		pair, ok := one.([]any)
		if !ok {
			pair = []any{one}
		}
		var cells []string
		for _, v := range pair {
			cells = append(cells, aLength.shown(m, v))
		}
		parts = append(parts, strings.Join(cells, " "))
	}
	return strings.Join(parts, "; ")
}

// pairsTyped reads what pairsShown writes: pairs apart by semicolons or lines.
// What is no length stays text, and reading the batch tells it.
func pairsTyped(m words.Measures, text string, old any) any {
	var all []any
	for one := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		var pair []any
		for i, w := range lengthsOf(one) {
			pair = append(pair, aLength.whole(m, w, item(item(old, len(all)), i)))
		}
		if len(pair) > 0 {
			all = append(all, pair)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// lengthsOf takes apart lengths that stand one after another, a blank between
// them. A unit goes with the figure before it, and so does a fraction with a whole
// number, as long as two lengths are left.
func lengthsOf(text string) []string {
	var all []string
	for _, w := range strings.Fields(text) {
		if n := len(all); n > 0 && !strings.ContainsAny(w, "0123456789"+fractions) {
			all[n-1] += " " + w
			continue
		}
		all = append(all, w)
	}
	joined := func(i int) bool { // a whole number and the fraction behind it are one
		if i+1 >= len(all) {
			return false
		}
		_, err := strconv.Atoi(all[i])
		return err == nil && strings.ContainsAny(all[i+1], fractions)
	}
	for i := 0; i < len(all) && len(all) > 2; i++ {
		if joined(i) {
			all[i] += " " + all[i+1]
			all = slices.Delete(all, i+1, i+2)
		}
	}
	return all
}

// fractions are the signs that a fraction of an inch is typed with.
const fractions = "/⁄¼½¾⅛⅜⅝⅞"
