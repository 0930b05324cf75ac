package bench

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) batchPages() []route {
	return []route{
		s.get("b/{batch}", s.overview),
		s.get("b/{batch}/look.svg", s.batchPicture),
		s.post("b/{batch}/undo", s.undo),
		s.post("b/{batch}/remove", s.remove),
		s.post("b/{batch}/back", s.bringBack),
	}
}

// batchPath is where a page of a batch lives, under Path.
func batchPath(name, page string) string {
	return strings.TrimSuffix("b/"+url.PathEscape(name)+"/"+page, "/")
}

// days are the pages of a batch in the order of the maker's day.
var days = []struct{ key, name string }{
	{"patterns", "Patterns"},
	{"floats", "Floats"},
	{"tank", "At the tank"},
	{"grade", "Grade"},
	{"marks", "Marks"},
	{"sheets", "Sheets"},
	{"print", "Print"},
	{"tick", "Tick off"},
	{"cards", "Cards"},
}

// draft finds the batch that a request is about.
func (s *server) draft(r *http.Request) (job.Draft, error) {
	return s.shop().Draft(r.PathValue("batch"))
}

// batchFrame is the frame of a page of a batch: where it stands in the day, what
// can be undone.
func (s *server) batchFrame(d job.Draft, key, title string) frame {
	f := frame{Title: title, Batch: d.Name, Version: d.Version, Undoes: d.Undoes}
	for _, one := range days {
		f.Steps = append(f.Steps, step{Key: one.key, Name: one.name, To: Path + batchPath(d.Name, one.key), Here: one.key == key})
	}
	f.Missing, f.Findings = told(d, d.Err)
	s.ahead(d) // who looks at one of its pages comes to its marks
	return f
}

// version is the version of the batch file that a form was made on.
func version(r *http.Request) (int64, error) {
	v, err := strconv.ParseInt(r.PostFormValue("version"), 10, 64)
	if err != nil {
		return 0, fault.Inputf("open the page again and send it from there", "the form does not say which version it was made on")
	}
	return v, nil
}

// edit changes the batch file of a request and leads on to a page. what says in a
// few words what was done, in English; it stands on the button that undoes it.
func (s *server) edit(w http.ResponseWriter, r *http.Request, what, page string, do func(*batch.Doc) error) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	d, err := s.shop().EditDraft(r.Context(), r.PathValue("batch"), seen, what, job.ByBench, do)
	if err != nil {
		return err
	}
	s.ahead(d)
	return back(w, r, batchPath(r.PathValue("batch"), page))
}

func (s *server) undo(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	d, err := s.shop().UndoDraft(r.Context(), r.PathValue("batch"), seen, job.ByBench)
	if err != nil {
		return err
	}
	s.ahead(d)
	return back(w, r, batchPath(r.PathValue("batch"), ""))
}

// remove takes a batch that was only begun off the list.
func (s *server) remove(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	name := r.PathValue("batch")
	if err := s.shop().RemoveDraft(r.Context(), name, seen, job.ByBench); err != nil {
		return err
	}
	return back(w, r, "?"+url.Values{"removed": {name}}.Encode())
}

// bringBack brings a batch back that was removed.
func (s *server) bringBack(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop().BringBackDraft(r.Context(), r.PathValue("batch"), job.ByBench); err != nil {
		return err
	}
	return back(w, r, batchPath(r.PathValue("batch"), ""))
}
