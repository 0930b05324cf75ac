package bench

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/water"
)

func (s *server) floatsPages() []route {
	return []route{
		s.get("b/{batch}/floats", s.floats),
		s.post("b/{batch}/floats/ratings", s.setRatings),
		s.post("b/{batch}/floats/add", s.addFloats),
		s.post("b/{batch}/floats/one", s.addOne),
		s.post("b/{batch}/floats/row", s.setFloat),
		s.post("b/{batch}/floats/column", s.setColumn),
		s.post("b/{batch}/floats/remove", s.removeFloats),
		s.post("b/{batch}/floats/renumber", s.renumber),
		s.post("b/{batch}/floats/here", s.floatsHere),
		s.post("b/{batch}/floats/paste", s.paste),
		s.post("b/{batch}/floats/printed", s.setPrinted),
	}
}

// floatsPage is the page of a batch's floats and ratings.
type floatsPage struct {
	Batch    string
	Ratings  []ratingRow
	Currency string
	Rows     []floatRow
	Told     int    // floats that something is wrong with
	File     string // the CSV file that the floats stand in; "" for the batch file
	Patterns []option
	Loads    []option // ratings, by their load
	Metals   []option
	Column   string // that is typed down the board; "" for none
	Columns  []option
	Edit     *floatForm
	Next     int // number that is free
	Pasted   *pasted
	Printed  []field // how it is printed
	Cards    []option
	swaps    map[string]bool // keys of patterns whose floats have set-ups
}

// ratingRow is a rating to be typed.
type ratingRow struct {
	Place             int
	Load, Price, Band string
	Shown             string // the colour it has, "#2b6cb0"; "" where that is not known yet
	Floats            int
}

// floatForm is one float to be typed.
type floatForm struct {
	floatRow
	Patterns, Loads, Metals []option
	Ways                    []wayForm // set-ups, with blank ones behind
}

// wayForm is a set-up to be typed.
type wayForm struct {
	setupRow
	At            string // "setup.0."
	Loads, Metals []option
}

// columns are what can be typed down the board, one float after another.
var columns = []option{{Key: "built_in", Name: "weights built in"}, {Key: "reading", Name: "readings"}, {Key: "bare", Name: "readings before the weight"},
	{Key: "note", Name: "notes"}, {Key: "dedication", Name: "dedications"}}

func (s *server) floats(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f, page, err := s.floatsFrame(r, d)
	if err != nil {
		return err
	}
	q := r.URL.Query()
	for _, c := range columns {
		if c.Key == q.Get("column") && page.File == "" {
			page.Column = c.Key
		}
	}
	if n, err := strconv.Atoi(q.Get("edit")); err == nil && n >= 0 && n < d.Doc.Len("float") {
		page.Edit = page.form(floatRowAt(s.measures(r), d.Doc, n))
		for _, one := range page.Rows {
			if one.Place == n {
				page.Edit.Findings = one.Findings
			}
		}
	}
	f.Body = page
	return s.show(w, r, "floats", f)
}

// floatsFrame fills the page from a draft.
func (s *server) floatsFrame(r *http.Request, d job.Draft) (frame, *floatsPage, error) {
	f := s.batchFrame(d, "floats", "Floats")
	doc := d.Doc
	p := &floatsPage{Batch: d.Name, Rows: floatRows(s.measures(r), doc), Columns: columns, File: doc.Text("floats"), Currency: s.currency(d), swaps: map[string]bool{}}
	if p.File != "" && d.File != nil {
		var err error
		if p.Rows, err = rowsOfFile(s.measures(r), d); err != nil {
			return f, nil, err
		}
	}
	f.Missing, f.Findings = sorted(d, p.Rows)
	for _, one := range p.Rows {
		if len(one.Findings) > 0 {
			p.Told++
		}
		p.Next = max(p.Next, numberOf(one.Number))
	}
	p.Next++
	for i := range doc.Len("pattern") {
		at := fmt.Sprintf("pattern/%d/", i)
		p.Patterns = append(p.Patterns, option{Key: doc.Text(at + "key"), Name: doc.Text(at + "name")})
		p.swaps[doc.Text(at+"key")] = doc.Text(at+"kind") == "exchangeable"
	}
	p.Ratings = ratingRows(d, p.Rows)
	for _, one := range p.Ratings {
		if one.Load != "" {
			p.Loads = append(p.Loads, option{Key: one.Load, Name: loadShown(s.measures(r), one.Load)})
		}
	}
	say := words.Bench(s.language(r))
	for _, m := range water.Metals() {
		p.Metals = append(p.Metals, option{Key: m.Key, Name: say(m.Name)})
	}
	if n := len(p.Rows); n > 0 { // the next float is most likely like the last one
		p.Patterns, p.Loads = chosen(p.Patterns, p.Rows[n-1].Pattern), offeredLoad(p.Loads, p.Rows[n-1].Rating)
	}
	for _, one := range p.Rows {
		if one.Metal != "" {
			p.Metals = chosen(p.Metals, one.Metal)
		}
	}
	var err error
	if p.Printed, p.Cards, err = s.printedFields(s.measures(r), d); err != nil {
		return f, nil, err
	}
	to := func(key, text string) { f.Next = &link{text, Path + batchPath(d.Name, key)} }
	switch {
	case len(p.Patterns) == 0:
		to("patterns", "Describe the first pattern")
	case len(p.Rows) > 0 && p.Told == 0 && d.Err == nil:
		to("tank", "Test them at the tank")
	}
	return f, p, nil
}

// currency is what prices are in, "" where nothing says it.
func (s *server) currency(d job.Draft) string {
	if d.File != nil {
		return d.File.Batch.Maker.Currency
	}
	if set, err := s.shop().Settings(); err == nil && set.Doc.Text("maker/currency") != "" {
		return set.Doc.Text("maker/currency")
	}
	return d.Doc.Text("maker/currency")
}

// rowsOfFile lists the floats of the CSV file that the batch file names.
func rowsOfFile(m words.Measures, d job.Draft) ([]floatRow, error) {
	floats, _, err := batch.PastedFloats(d.Doc.Text("floats"), d.File.Floats)
	if err != nil {
		return nil, err
	}
	doc := d.Doc.Clone()
	if err := doc.Set("float", list(floats)); err != nil {
		return nil, err
	}
	return floatRows(m, doc), nil
}

// list is a list as a document takes it.
func list(floats []map[string]any) any {
	if len(floats) == 0 {
		return nil
	}
	var all []any
	for _, f := range floats {
		all = append(all, f)
	}
	return all
}

// blankRatings are the rows that stand empty below the ratings.
const blankRatings = 2

func ratingRows(d job.Draft, floats []floatRow) []ratingRow {
	var all []ratingRow
	n := d.Doc.Len("rating")
	for i := range n + blankRatings {
		at := fmt.Sprintf("rating/%d/", i)
		row := ratingRow{Place: i, Load: d.Doc.Text(at + "load"), Price: d.Doc.Text(at + "price"), Band: d.Doc.Text(at + "band")}
		for _, f := range floats {
			if row.Load != "" && sameLoad(f.Rating, row.Load) {
				row.Floats++
			}
		}
		if d.File != nil && i < len(d.File.Batch.Ratings) {
			row.Shown = fmt.Sprint(d.File.Batch.Ratings[i].Band)
		} else if strings.HasPrefix(row.Band, "#") {
			row.Shown = row.Band
		}
		all = append(all, row)
	}
	return all
}

// form makes a form of a row. A float that is fitted in several ways has a form for
// each, and for one more; where none is there yet the first begins with the figures
// that were typed for the float itself.
func (p *floatsPage) form(row floatRow) *floatForm {
	f := &floatForm{floatRow: row, Patterns: offered(p.Patterns, row.Pattern), Loads: offeredLoad(p.Loads, row.Rating), Metals: offered(p.Metals, row.Metal)}
	const blank = 1
	if len(row.Setups) == 0 {
		if !p.swaps[row.Pattern] {
			return f
		}
		row.Setups = []setupRow{{BuiltIn: row.BuiltIn, Metal: row.Metal, Reading: row.Reading, Bare: row.Bare}}
	}
	for i := range len(row.Setups) + blank {
		way := wayForm{At: fmt.Sprintf("setup.%d.", i)}
		if i < len(row.Setups) {
			way.setupRow = row.Setups[i]
		}
		way.Loads, way.Metals = offeredLoad(p.Loads, way.Rating), offered(p.Metals, way.Metal)
		f.Ways = append(f.Ways, way)
	}
	return f
}

// offered is chosen for a value that may be none of the list: then it is offered
// as it stands, so that a form changes nothing unasked.
func offered(all []option, value string) []option {
	out := chosen(all, value)
	if value != "" && !slices.ContainsFunc(out, func(o option) bool { return o.Chosen }) {
		out = append(out, option{Key: value, Name: value, Chosen: true})
	}
	return out
}

// offeredLoad is offered for a rating, in whatever way it is written.
func offeredLoad(all []option, load string) []option {
	for _, o := range all {
		if sameLoad(o.Key, load) {
			return chosen(all, o.Key)
		}
	}
	return offered(all, load)
}
