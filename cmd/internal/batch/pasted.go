package batch

import (
	"strconv"

	"floatmark/loading/unit"
)

// PastedFloats reads floats as they are copied from a spreadsheet, a head row
// first and tabs, semicolons or commas between the cells, and returns each as a
// [[float]] of a batch file, with its line: for Doc.Set. Numbers may be left out. Whether what they say can
// be understood, only Parse tells, of a batch file that has them or names the text
// as its CSV file.
//
// The error joins one Input fault for each finding of the text's form; path only
// names it in messages.
func PastedFloats(path string, src []byte) (floats []map[string]any, lines []int, err error) {
	r, err := newReader(path)
	if err != nil {
		return nil, nil, err
	}
	r.csvPath, r.csvMeasured = path, true
	r.csvNeeds = []string{"pattern", "rating"}
	rows := r.csvRows(src)
	if len(rows) == 0 && len(r.findings) == 0 {
		r.add(csvPlace(1), "add a line for each float", "there are no floats in it")
	}
	if len(rows) > maxFloats {
		r.add(csvPlace(1), "split the batch", "there are more than %d floats", maxFloats)
	}
	if err := r.err(); err != nil {
		return nil, nil, err
	}
	for _, w := range rows {
		floats, lines = append(floats, w.table()), append(lines, w.at.line)
	}
	return floats, lines, nil
}

// table writes a row as the batch file has it.
func (w row) table() map[string]any {
	out := map[string]any{}
	for _, c := range []struct {
		key string
		cell
	}{{"pattern", w.pattern}, {"rating", w.rating}, {"built_in", w.builtIn}, {"metal", w.metal}, {"reading", w.reading}, {"bare", w.bare},
		{"note", w.note}, {"dedication", w.dedication}} {
		if c.set {
			out[c.key] = c.text
		}
	}
	if n, err := strconv.Atoi(w.number.text); err == nil {
		out["number"] = int64(n)
	} else if w.number.set {
		out["number"] = w.number.text // Parse says what is wrong with it
	}
	for _, m := range w.measures {
		key, v := keyDiameters, m.D
		if m.byGirth {
			key, v = keyGirths, m.girth
		}
		list, _ := out[key].([]any)
		out[key] = append(list, []any{plainMM(m.Z), plainMM(v)})
	}
	return out
}

// plainMM is a length as the batch file has it, whole ones without a point.
func plainMM(v unit.Millimetre) any {
	if float64(v) == float64(int64(v)) {
		return int64(v)
	}
	return float64(v)
}
