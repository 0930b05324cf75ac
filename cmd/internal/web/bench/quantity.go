package bench

import (
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label/words"
	"floatmark/loading/unit"
)

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

// fieldsOf fills in what the fields of a form show of a document.
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

// wholly is typedAs for a quantity that a file writes without a point where it
// can do.
func wholly(q quantity) typedAs { return q.whole }
