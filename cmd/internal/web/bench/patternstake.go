package bench

import (
	"fmt"
	"net/http"
	"strconv"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// takePage is where a pattern of an earlier batch is taken over.
type takePage struct {
	Batch   string
	Batches []option // to take from
	From    string   // the one that is chosen
	Rows    []patternRow
}

// takable are the other batches whose patterns can be taken over, the latest first.
func takable(all []job.TankBatch, but string) (list []option) {
	for _, one := range all {
		if one.Name != but && one.Known != "read" {
			list = append(list, option{Key: one.Name, Name: one.Name})
		}
	}
	return list
}

// take shows the patterns of an earlier batch: of the one that is asked for, or of
// the latest that has any.
func (s *server) take(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	all, err := s.shop().TankBatches()
	if err != nil {
		return err
	}
	p := takePage{Batch: d.Name, Batches: takable(all, d.Name), From: r.URL.Query().Get("from")}
	for _, one := range p.Batches {
		if p.From != "" && p.From != one.Key {
			continue
		}
		from, err := s.shop().Draft(one.Key)
		if err != nil {
			return err
		}
		if n := from.Doc.Len("pattern"); n > 0 || p.From != "" {
			p.From, p.Rows = one.Key, s.patternRows(r, from)
			break
		}
	}
	p.Batches = chosen(p.Batches, p.From)
	f := s.batchFrame(d, "patterns", "Patterns of earlier batches")
	f.Findings, f.Missing, f.Undoes, f.Body = nil, nil, "", p
	return s.show(w, r, "take", f)
}

// patternRows are the patterns of a draft as lists show them.
func (s *server) patternRows(r *http.Request, d job.Draft) (rows []patternRow) {
	m := s.measures(r)
	for i := range d.Doc.Len("pattern") {
		at := fmt.Sprintf("pattern/%d/", i)
		row := patternRow{Place: i, Key: d.Doc.Text(at + "key"), Name: d.Doc.Text(at + "name"), Kind: d.Doc.Text(at + "kind"),
			Page: Path + batchPath(d.Name, fmt.Sprintf("patterns/%d", i)), Marks: Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i))}
		shape, err := s.shop().DraftSilhouette(d, d.Doc, i, nil)
		if err != nil {
			row.Wrong = patternFindings(err)
		} else {
			row.Long, row.Widest = m.Length(unit.Millimetre(shape.Top), 0.1), m.Length(unit.Millimetre(shape.Widest), 0.1)
			row.Picture = fmt.Sprintf("%s/silhouette.svg?v=%d", row.Page, d.Version)
		}
		rows = append(rows, row)
	}
	return rows
}

// takePattern adds a pattern of an earlier batch, with its mark and the files it
// names, and leads to it.
func (s *server) takePattern(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	from, err := s.shop().Draft(r.PostFormValue("from"))
	if err != nil {
		return err
	}
	i, err := strconv.Atoi(r.PostFormValue("place"))
	if err != nil {
		return fault.New(fault.NotFound, "", "there is no such pattern in this batch", "choose one of the list")
	}
	p, files, err := from.PatternFor(d, i)
	if err != nil {
		return err
	}
	return s.editWith(w, r, "take a pattern over", fmt.Sprintf("patterns/%d", d.Doc.Len("pattern")), files, func(doc *batch.Doc) error {
		if key, ok := p["key"].(string); ok {
			p["key"] = freeKey(doc, key)
		}
		return doc.Set(fmt.Sprintf("pattern/%d", doc.Len("pattern")), p)
	})
}
