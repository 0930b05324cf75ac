package bench

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// pasted is what was copied from a spreadsheet and how it was understood.
type pasted struct {
	Text     string
	Instead  bool // of the floats that are there, not after them
	Findings []finding
	Rows     []floatRow
	Wrong    int // rows that something is wrong with
}

// paste shows what was pasted as it was understood, and takes it over when that is
// asked for.
func (s *server) paste(w http.ResponseWriter, r *http.Request) error {
	if r.PostFormValue("do") == "take" {
		return s.edit(w, r, "paste floats", "floats#board", func(d *batch.Doc) error {
			floats, _, err := readPasted(d, r.PostFormValue("text"), r.PostFormValue("instead") != "")
			if err != nil {
				return err
			}
			return take(d, floats, r.PostFormValue("instead") != "")
		})
	}
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	got, err := s.understood(s.measures(r), d, r.PostFormValue("text"), r.PostFormValue("instead") != "")
	if err != nil {
		return err
	}
	f, page, err := s.floatsFrame(r, d)
	if err != nil {
		return err
	}
	page.Pasted, f.Body, f.Next = got, page, nil
	status := http.StatusOK
	if len(got.Findings) > 0 || got.Wrong > 0 {
		status = http.StatusUnprocessableEntity
	}
	s.send(w, r, status, "floats", f)
	return nil
}

// take puts floats after those of a document, or in their place.
func take(d *batch.Doc, floats []map[string]any, instead bool) error {
	if instead {
		if err := d.Set("floats", nil); err != nil {
			return err
		}
		return d.Set("float", list(floats))
	}
	if err := here(d); err != nil {
		return err
	}
	for _, f := range floats {
		if err := d.Set(fmt.Sprintf("float/%d", d.Len("float")), f); err != nil {
			return err
		}
	}
	return nil
}

// understood reads what was pasted as the batch would read it.
func (s *server) understood(m words.Measures, d job.Draft, text string, instead bool) (*pasted, error) {
	p := &pasted{Text: text, Instead: instead}
	floats, lines, err := readPasted(d.Doc, text, instead)
	if err != nil {
		p.Findings = findings(err)
		for i, f := range p.Findings {
			p.Findings[i].Where = strings.TrimPrefix(f.Where, ":")
		}
		return p, nil
	}
	doc := d.Doc.Clone()
	if err := take(doc, floats, instead); err != nil {
		p.Findings = findings(err)
		return p, nil
	}
	tried, err := s.shop().TryDraft(d, doc)
	if err != nil {
		return nil, err
	}
	first := doc.Len("float") - len(floats)
	rows := floatRows(m, doc)
	sorted(tried, rows) // what is wrong elsewhere in the batch stands above already
	for _, one := range rows {
		if one.Place < first {
			continue
		}
		one.Line = lines[one.Place-first]
		if err := aboveRating(doc, fmt.Sprintf("float/%d/", one.Place), one.Pattern); err != nil {
			one.Findings = append(one.Findings, findings(err)...)
		}
		if len(one.Findings) > 0 {
			p.Wrong++
		}
		p.Rows = append(p.Rows, one)
	}
	slices.SortStableFunc(p.Rows, func(a, b floatRow) int { return a.Line - b.Line })
	return p, nil
}
