package job

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"strings"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/unit"
)

// floatColumns are the columns of the spreadsheet.
var floatColumns = []string{"id", "batch", "number", "pattern", "kind", "date", "rating_g", "built_in_g", "add_g", "uncertainty_g", "about", "metal", "water",
	"convention", "convention_revision", "status", "made", "price", "buyer", "materials", "coats", "fields", "notes", "photos", "link"}

// floatSheet writes every float on a line, by batch and number, with commas
// between and a decimal point, in UTF-8.
func floatSheet(ctx context.Context, s *record.Store) ([]byte, int, error) {
	var buf bytes.Buffer
	c := csv.NewWriter(&buf)
	if err := c.Write(floatColumns); err != nil {
		return nil, 0, err
	}
	batches, err := s.Batches()
	if err != nil {
		return nil, 0, err
	}
	n := 0
	wider := map[label.Subject]label.Build{} // of batches and patterns: read once
	of := func(kind, key string) (label.Build, error) {
		sub := label.Subject{Kind: kind, Key: key}
		b, ok := wider[sub]
		if ok {
			return b, nil
		}
		b, err := buildOf(s, sub)
		wider[sub] = b
		return b, err
	}
	for _, b := range batches {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		floats, err := s.Floats(b)
		if err != nil {
			return nil, 0, err
		}
		for _, f := range floats {
			e, _ := entryAsFar(f) // an export leaves no float out
			var all label.Builds
			if all.Float, err = buildOf(s, label.Subject{Kind: label.KindFloat, Key: f.ID}); err != nil {
				return nil, 0, err
			}
			if all.Batch, err = of(label.KindBatch, f.Batch); err != nil {
				return nil, 0, err
			}
			if all.Pattern, err = of(label.KindPattern, f.Pattern); err != nil {
				return nil, 0, err
			}
			if err := c.Write(floatRow(f, e, all.All())); err != nil {
				return nil, 0, err
			}
			n++
		}
	}
	c.Flush()
	return buf.Bytes(), n, c.Error()
}

func floatRow(f record.Float, e label.Entry, b label.Build) []string {
	row := []string{f.ID, f.Batch, strconv.Itoa(f.Number), e.Pattern, e.Kind, e.Date, grams(e.RatingG), grams(e.BuiltInG), grams(e.AddG), grams(e.UG),
		strconv.FormatBool(e.About), e.Metal, e.Water, e.Convention, strconv.Itoa(e.Revision), string(b.Status), b.Made, b.Price, b.Buyer,
		cell(b.Materials, func(m label.Material) string {
			mass := ""
			if m.Mass > 0 {
				mass = m.Mass.Text(massStep, unit.Style{})
			}
			return phrase(m.Part, m.What, mass, m.Note)
		}),
		cell(b.Coats, func(c label.Coat) string { return phrase(c.Date, c.Product, c.Note) }),
		cell(b.Fields, func(f label.Field) string { return f.Name + ": " + f.Text }),
		cell(b.Notes, func(n label.Note) string { return phrase(n.Date, n.Text) }),
		strconv.Itoa(len(b.Photos)), e.Code}
	for i := range row {
		row[i] = noFormula(row[i])
	}
	return row
}

// massStep is fine enough for what any scale in a workshop tells.
const massStep unit.Gram = 0.001

func grams(m unit.Gram) string { return unit.Number(float64(m), float64(massStep), unit.Style{}) }

// cell puts a list into one cell.
func cell[T any](all []label.Item[T], text func(T) string) string {
	var parts []string
	for _, one := range all {
		parts = append(parts, text(one.Value))
	}
	return strings.Join(parts, "; ")
}

// phrase joins what is there.
func phrase(parts ...string) string {
	var full []string
	for _, p := range parts {
		if p != "" {
			full = append(full, p)
		}
	}
	return strings.Join(full, ", ")
}

// noFormula keeps a spreadsheet from reckoning with what somebody typed: a cell
// that would be taken for a formula begins with an apostrophe (common practice).
func noFormula(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
