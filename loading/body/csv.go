package body

import (
	"encoding/csv"
	"errors"
	"strconv"
	"strings"
	"unicode"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// maxStations is how many stations a text may give. No hand measures so many;
// a file that has more is another file.
const maxStations = 2000

// csvColumns are the columns in their order when no header names them, each
// with the first words of its names.
var csvColumns = [...][]string{
	{"height", "h", "z"}, {"diameter", "dia", "d"}, {"kind", "run", "shape"}, {"corner", "edge"},
}

const (
	columnHeight = iota
	columnDiameter
	columnKind
	columnCorner
)

// ParseCSV reads stations, one a line: the height above the base end and the
// diameter, mm, then, if wanted, the kind (straight, curved, round; nothing is
// straight) and the corner (corner, yes, x or 1; no, 0 or nothing). Columns are
// parted by semicolons, tabs or commas, whichever of these the text has, in this
// order; the decimal sign is a point or a comma, a comma only where it does not
// part columns or in quotes. A first line of names is optional and may put the
// columns in another order. Empty lines and lines that begin with # are skipped.
//
// The stations are checked as New checks them. Every error is an Input error
// with the line, counted from 1.
func ParseCSV(text string) ([]Station, error) {
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
	r.Comma, r.Comment, r.FieldsPerRecord = separator(text), '#', -1
	order := []int{columnHeight, columnDiameter, columnKind, columnCorner}
	var out []Station
	var lines []string
	for first := true; ; {
		record, err := r.Read()
		if record == nil && err != nil {
			var bad *csv.ParseError
			if errors.As(err, &bad) {
				return nil, fault.New(fault.Input, "line "+strconv.Itoa(bad.StartLine), "the quotes do not match", "close every quote, or leave them out", err)
			}
			break // the end of the text
		}
		line, _ := r.FieldPos(0)
		where := "line " + strconv.Itoa(line)
		for i := range record {
			record[i] = strings.TrimSpace(record[i])
		}
		if strings.Join(record, "") == "" {
			continue
		}
		if first {
			first = false
			if named, ok, err := header(record); err != nil {
				return nil, fault.At(where, err)
			} else if ok {
				order = named
				continue
			}
		}
		s, err := csvStation(record, order)
		if err != nil {
			return nil, fault.At(where, err)
		}
		if out, lines = append(out, s), append(lines, where); len(out) > maxStations {
			return nil, fault.At(where, fault.Inputf("keep the stations where the body changes", "there are more than %d stations", maxStations))
		}
	}
	if len(out) < 2 {
		_, err := New(out)
		return nil, err
	}
	for i := range out {
		if err := check(out, i); err != nil {
			return nil, fault.At(lines[i], err)
		}
	}
	return out, nil
}

// separator is the mark that parts the columns. A semicolon or a tab is never
// part of a number, so where there is one, commas are decimal commas.
func separator(text string) rune {
	for _, c := range ";\t" {
		for line := range strings.Lines(text) {
			if !strings.HasPrefix(line, "#") && strings.ContainsRune(strings.TrimSpace(line), c) {
				return c
			}
		}
	}
	return ','
}

// header reads a line of names. It reports false when the line has none, so
// that it is a station. Names it does not know leave the columns' usual order.
func header(record []string) (order []int, ok bool, err error) {
	if c := record[0]; c == "" || !unicode.IsLetter([]rune(c)[0]) {
		return nil, false, nil
	}
	order = []int{-1, -1, -1, -1}
	for at, name := range record {
		words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
		for i, w := range words {
			if i > 0 && (w == "in" || w == "inch" || w == "inches" || w == "cm") {
				return nil, false, fault.Inputf("give heights and diameters in mm", "%q is not in mm", name)
			}
		}
		for column, known := range csvColumns {
			for _, k := range known {
				if len(words) > 0 && words[0] == k && order[column] < 0 {
					order[column] = at
				}
			}
		}
	}
	if order[columnHeight] < 0 || order[columnDiameter] < 0 {
		order = []int{columnHeight, columnDiameter, columnKind, columnCorner}
	}
	return order, true, nil
}

func csvStation(record []string, order []int) (s Station, err error) {
	field := func(column int) string {
		if at := order[column]; at >= 0 && at < len(record) {
			return record[at]
		}
		return ""
	}
	if s.Z, err = csvLength("height", field(columnHeight)); err != nil {
		return s, err
	}
	if s.D, err = csvLength("diameter", field(columnDiameter)); err != nil {
		return s, err
	}
	switch kind := field(columnKind); strings.ToLower(kind) {
	case "", Straight.String():
	case Curved.String():
		s.Kind = Curved
	case Round.String():
		s.Kind = Round
	default:
		return s, fault.Inputf("write straight, curved or round; where numbers have decimal commas, part the columns with semicolons or tabs",
			"%q is no kind of interval", kind)
	}
	switch corner := field(columnCorner); strings.ToLower(corner) {
	case "", "no", "0", "false":
	case "corner", "yes", "x", "1", "true":
		s.Corner = true
	default:
		return s, fault.Inputf("write yes or no; where numbers have decimal commas, part the columns with semicolons or tabs",
			"%q does not say whether there is a corner", corner)
	}
	return s, nil
}

// csvLength reads a number of mm, with or without the unit's name.
func csvLength(what, text string) (unit.Millimetre, error) {
	number := strings.TrimSpace(strings.TrimSuffix(text, "mm"))
	v, ok := unit.Decimal(number)
	switch {
	case text == "":
		return 0, fault.Inputf("give the height and the diameter in mm, two columns", "the %s is missing", what)
	case !ok:
		return 0, fault.Inputf("write a plain number of mm, as in \"12.5\"", "the %s %q is not a number", what, text)
	}
	return unit.Millimetre(v), nil
}
