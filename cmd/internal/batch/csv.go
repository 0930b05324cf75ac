package batch

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// csvRows reads floats as a spreadsheet exports them: a byte order mark or
// none, commas, semicolons or tabs between, either decimal sign. The first line
// names the columns; "reading g" gives a column's unit once for all its cells.
func (r *reader) csvRows(src []byte) []row {
	var all []row
	r.csvTable(src, floatKeys, func(columns []column, fields []string, line int) {
		all = append(all, r.csvRow(columns, fields, line))
	})
	return all
}

// csvTable reads the lines of a CSV file whose columns are among keys, and hands
// on each that is not blank.
func (r *reader) csvTable(src []byte, keys []string, each func(columns []column, fields []string, line int)) {
	if len(src) > maxSource || !utf8.Valid(src) {
		r.add(csvPlace(1), "save it as CSV in UTF-8, at most 4 MiB", "the file is no CSV text")
		return
	}
	src = bytes.TrimPrefix(src, byteOrderMark)
	in := csv.NewReader(bytes.NewReader(src))
	in.Comma = separator(src)
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = in.Comma != '\t' // it would take an empty first cell for space
	head, err := in.Read()
	if err != nil {
		r.csvError(err, keys)
		return
	}
	columns := r.columns(head, keys)
	if columns == nil {
		return
	}
	for {
		fields, err := in.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			r.csvError(err, keys)
			return
		}
		line, _ := in.FieldPos(0)
		if blank(fields) {
			continue
		}
		if len(fields) > len(head) {
			r.add(csvPlace(line), "put a decimal comma in quotation marks, or use semicolons between the columns",
				"this line has %d cells, the first one has %d", len(fields), len(head))
			continue
		}
		each(columns, fields, line)
	}
}

// csvPlace is the place of a line of the CSV file.
func csvPlace(line int) place { return place{csv: true, line: line} }

func blank(fields []string) bool {
	for _, f := range fields {
		if strings.TrimSpace(f) != "" {
			return false
		}
	}
	return true
}

func (r *reader) csvError(err error, keys []string) {
	line := 1
	var p *csv.ParseError
	if errors.As(err, &p) {
		line, err = p.Line, p.Err
	}
	if errors.Is(err, io.EOF) {
		r.add(csvPlace(line), "name the columns in its first line: "+strings.Join(keys, ", "), "the file is empty")
		return
	}
	r.add(csvPlace(line), "mend the quotation marks of this line", "this is no CSV: %v", err)
}

// separator is the one that the first line has most of.
func separator(src []byte) rune {
	first, _, _ := bytes.Cut(src, []byte("\n"))
	best, most := ',', 0
	for _, c := range []rune{';', '\t', ','} {
		if n := bytes.Count(first, []byte(string(c))); n > most {
			best, most = c, n
		}
	}
	return best
}

// columnUnits are the units a column of masses may name for its cells.
var (
	columnUnits = []string{"g", "mg", "oz"}
	massColumns = []string{"rating", "built_in", "reading", "bare"}
)

// column is what a column of the file holds.
type column struct {
	key, unit string
	measure   *measure // what its cells measure, but for the value; nil for other columns
}

// columns reads the first line; nil when it cannot be relied on.
func (r *reader) columns(head, keys []string) []column {
	var all []column
	seen := map[string]bool{}
	bad := false
	for _, h := range head {
		name, unit := strings.ToLower(strings.TrimSpace(h)), ""
		name = strings.NewReplacer("(", " ", ")", " ", "[", " ", "]", " ").Replace(name)
		words := strings.Fields(name)
		if n := len(words); n > 1 && slices.Contains(columnUnits, words[n-1]) {
			unit, words = words[n-1], words[:n-1]
		}
		key := foldName(strings.Join(words, "_"))
		if unit != "" && !slices.Contains(massColumns, key) {
			unit = "" // "number g" is no column of masses; its cells tell
		}
		m, measures := r.measureColumn(words)
		switch known := nearest(key, keys); {
		case key == "":
			all = append(all, column{})
			continue
		case measures && !seen[m.key]:
			seen[m.key] = true
			all = append(all, column{key: m.key, measure: &m})
			continue
		case measures:
			r.add(csvPlace(1), "keep one of them", "the column %q stands twice", h)
			bad = true
			continue
		case known != key: // also when nothing is near
			r.add(csvPlace(1), instead(key, keys), "unknown column %q", h)
			bad = true
		case seen[key]:
			r.add(csvPlace(1), "keep one of them", "the column %q stands twice", h)
			bad = true
		}
		seen[key] = true
		all = append(all, column{key: key, unit: unit})
	}
	for _, k := range r.csvNeeds {
		if !seen[k] {
			r.add(csvPlace(1), "add a column "+k, "the column %s is missing", k)
			bad = true
		}
	}
	if bad {
		return nil
	}
	return all
}

func (r *reader) csvRow(columns []column, fields []string, line int) row {
	at := csvPlace(line)
	w := row{at: at}
	w.measures, w.measuresBad = r.csvMeasures(columns, fields, at)
	r.csvCells(columns, fields, at, map[string]*cell{"number": &w.number, "pattern": &w.pattern, "rating": &w.rating, "built_in": &w.builtIn,
		"metal": &w.metal, "reading": &w.reading, "bare": &w.bare, "note": &w.note, "dedication": &w.dedication})
	return w
}

// csvCells fills the cells of a line by the names of its columns.
func (r *reader) csvCells(columns []column, fields []string, at place, cells map[string]*cell) {
	for i, f := range fields {
		c := cells[columns[i].key]
		text := strings.TrimSpace(f)
		if text == "" || columns[i].measure != nil {
			continue
		}
		if c == nil {
			r.add(at, "name the column in the first line", "%q stands in a column without a name", text)
			continue
		}
		*c = cell{text: text, at: at, set: true}
		r.checkText(c, columns[i].key)
		if u := columns[i].unit; u != "" && strings.IndexFunc(text, letter) < 0 {
			c.text += " " + u
		}
	}
	for _, k := range r.csvNeeds {
		if c := cells[k]; !c.set {
			r.add(at, "fill it in", "the cell %s is empty", k)
			c.bad = true
		}
	}
}

func letter(x rune) bool { return x >= 'a' && x <= 'z' || x >= 'A' && x <= 'Z' }
