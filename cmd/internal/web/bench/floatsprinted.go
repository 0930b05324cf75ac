package bench

import (
	"net/http"
	"slices"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// printedFields are the choices of how a batch is printed, from what the workshop
// knows, and the conventions of its cards.
func (s *server) printedFields(m words.Measures, d job.Draft) (fields []field, cards []option, err error) {
	shop := s.shop()
	var sets []option
	for _, c := range job.Conventions(shop.Own()) {
		sets = append(sets, option{Key: c.Key, Name: c.Name + ", " + c.Metal})
	}
	var films []option
	for _, one := range shop.Stocks() {
		if one.ForMarks() {
			films = append(films, option{Key: one.Key, Name: one.Name})
		}
	}
	printers := []option{{Key: "", Name: "a printer as it comes"}}
	known, err := shop.Printers()
	if err != nil {
		return nil, nil, err
	}
	for _, one := range known {
		printers = append(printers, option{Key: one.Name, Name: one.Name})
	}
	fields = []field{
		{Path: "date", Label: "Date of the batch", Hint: "Year, month and day: 2026-11-20. It stands on the marks."},
		{Path: "print/convention", Label: "Shot that the marks are written in", Options: sets},
		{Path: "print/film", Label: "Film", Options: films},
		{Path: "print/printer", Label: "Printer", Options: printers, Hint: "Calibrated printers stand here by name."},
		{Path: "print/dpi", Label: "Dots per inch", Mode: "decimal", Hint: "Of a printer as it comes: 600 for most. A calibrated one knows its own."},
		{Path: "print/step", Label: "Step of the printed figures, g", Mode: "decimal", Hint: "Nothing: as fine as the test was, 0.05 g for instance."},
		{Path: "print/tolerance", Label: "How far a float may be off its rating, g", Mode: "decimal", Hint: "Nothing: the coarsest printed step."},
		{Path: "print/code", Label: "Codes", Options: []option{{Key: "", Name: "print those that read with the phone held square"}, {Key: "anyhow", Name: "print only those that read however it is held"}}},
		{Path: "print/spares", Label: "Spare marks for each set of figures", Mode: "numeric"},
		{Path: "print/ahead", Label: "Marks without a number printed ahead, for each set of figures", Mode: "numeric"},
	}
	for i, f := range fields {
		v := d.Doc.Text(f.Path)
		if f.Path == "print/code" && v == "square" {
			v = ""
		}
		fields[i].Value = loadShown(m, v)
		if f.Options != nil {
			fields[i].Options = offered(f.Options, v)
		}
	}
	on := lines(d.Doc, "print/cards")
	if len(on) == 0 {
		on = []string{d.Doc.Text("print/convention")}
	}
	return fields, ticked(sets, on), nil
}

// ticked marks the options of a list of values.
func ticked(all []option, values []string) []option {
	out := make([]option, len(all))
	for i, o := range all {
		for _, v := range values {
			o.Chosen = o.Chosen || o.Key == v
		}
		out[i] = o
	}
	return out
}

// setPrinted stores the choices of how the batch is printed.
func (s *server) setPrinted(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "change how it is printed", "floats#print", func(d *batch.Doc) error {
		for path, as := range map[string]typedAs{"date": plainly(word), "print/convention": plainly(word), "print/film": plainly(word), "print/printer": plainly(word),
			"print/dpi": plainly(number), "print/step": loadTyped, "print/tolerance": loadTyped, "print/code": plainly(word), "print/spares": plainly(number), "print/ahead": plainly(number)} {
			if !r.PostForm.Has(path) || path == "print/code" && r.PostFormValue(path) == "" && d.Text(path) == "square" { // said or not, the same
				continue
			}
			if err := d.Set(path, as(s.measures(r), r.PostFormValue(path), valueAt(d, path))); err != nil {
				return err
			}
		}
		if r.PostForm.Has("print/printer") && d.Text("print/printer") != "" { // its profile tells its dots
			if err := d.Set("print/dpi", nil); err != nil {
				return err
			}
		}
		if !r.PostForm.Has("cards?") { // boxes that are empty are not sent
			return nil
		}
		var cards []any
		for _, was := range lines(d, "print/cards") { // in the order they have
			for _, key := range r.PostForm["card"] {
				if key == was {
					cards = append(cards, key)
				}
			}
		}
		for _, key := range r.PostForm["card"] {
			if !slices.Contains(cards, any(key)) {
				cards = append(cards, key)
			}
		}
		if len(cards) == 0 {
			return d.Set("print/cards", nil)
		}
		return d.Set("print/cards", cards)
	})
}
