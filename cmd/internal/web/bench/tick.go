package bench

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) tickPages() []route {
	return []route{
		s.get("b/{batch}/tick", s.tick),
		s.post("b/{batch}/tick/varnished", s.tickOff),
		s.post("b/{batch}/tick/back", s.tickBack),
		s.post("b/{batch}/tick/float", s.packFloat),
		s.post("b/{batch}/tick/card", s.packCard),
	}
}

// tickPage is where floats are ticked off after varnish and put on their cards.
type tickPage struct {
	Batch   string
	Lines   []job.TickLine
	Missing []job.TickLine // not seen under varnish
	Carded  int
	Just    *tickAnswer
	Float   *job.Marked // in hand, that waits for its card
	Refused []finding   // of the float ticked off
	Wrong   []finding   // of the float or the card being packed
	Typed   string
}

// tickAnswer is what was ticked just now.
type tickAnswer struct {
	job.Marked
	job.Steps
	Already, Packed bool
}

func (s *server) tick(w http.ResponseWriter, r *http.Request) error {
	f, page, err := s.tickFrame(r)
	if err != nil {
		return err
	}
	q := r.URL.Query()
	if id := q.Get("done"); id != "" {
		if m, steps, ok := s.ticks(id); ok {
			page.Just = &tickAnswer{m, steps, q.Has("already"), q.Has("packed")}
		}
	}
	if id := q.Get("float"); id != "" {
		if m, _, ok := s.ticks(id); ok {
			page.Float = &m
		}
	}
	f.Body = page
	return s.show(w, r, "tick", f)
}

// ticks looks a float up and how far it is; false where it cannot be found.
func (s *server) ticks(id string) (job.Marked, job.Steps, bool) {
	m, err := s.shop().Find(id)
	if err != nil {
		return m, job.Steps{}, false
	}
	all, err := s.shop().Ticks(m.Batch)
	i := slices.IndexFunc(all, func(l job.TickLine) bool { return l.ID == m.ID })
	if err != nil || i < 0 {
		return m, job.Steps{}, false
	}
	return m, all[i].Steps, true
}

func (s *server) tickFrame(r *http.Request) (frame, *tickPage, error) {
	d, err := s.draft(r)
	if err != nil {
		return frame{}, nil, err
	}
	f, p := s.batchFrame(d, "tick", "Tick off"), &tickPage{Batch: d.Name}
	f.Missing, f.Findings, f.Undoes = nil, nil, "" // what is printed does not hang on the batch file as it is now
	p.Lines, err = s.shop().Ticks(d.Name)
	if fault.ClassOf(err) == fault.NotFound {
		f.Next = &link{"Print the marks", Path + batchPath(d.Name, "print")}
		return f, p, nil
	}
	if err != nil {
		return f, nil, err
	}
	p.Missing = job.Missing(p.Lines)
	for _, l := range p.Lines {
		if l.Carded != "" {
			p.Carded++
		}
	}
	if p.Carded == len(p.Lines) && len(p.Missing) == 0 {
		f.Next = &link{"Look at the records", Path + "records"}
	} else if len(p.Missing) == 0 {
		f.Next = &link{"Look at the cards", Path + batchPath(d.Name, "cards")}
	}
	return f, p, nil
}

// Packing reports whether whoever sits there is putting floats on their cards.
func (p *tickPage) Packing() bool {
	return p.Float != nil || len(p.Wrong) > 0 || p.Just != nil && p.Just.Packed
}

// scanned is what a form says of a mark: typed, or photographed.
func (s *server) scanned(r *http.Request) (string, error) {
	err := r.ParseMultipartForm(MostBody)
	if err != nil && err != http.ErrNotMultipart {
		return "", fault.Inputf("take a smaller one, or type the id", "the photograph cannot be read: at most 8 MB are taken")
	}
	if text := strings.TrimSpace(r.PostFormValue("id")); text != "" {
		return text, nil
	}
	if r.MultipartForm != nil {
		for _, h := range r.MultipartForm.File["photo"] {
			if h.Size == 0 {
				continue
			}
			file, err := h.Open()
			if err != nil {
				return "", fault.New(fault.Machine, h.Filename, "it cannot be read", "try again", err)
			}
			defer file.Close()
			return s.shop().PhotoCode(r.Context(), file)
		}
	}
	return "", fault.Inputf("type the id that stands on the mark, or photograph its code", "nothing was typed and nothing photographed")
}

// refused shows the page again with what was wrong.
func (s *server) refused(w http.ResponseWriter, r *http.Request, typed string, show func(*tickPage)) error {
	f, page, err := s.tickFrame(r)
	if err != nil {
		return err
	}
	page.Typed = typed
	show(page)
	f.Body = page
	s.send(w, r, http.StatusUnprocessableEntity, "tick", f)
	return nil
}

// human reports whether an error is one that whoever holds the float can act on.
func human(err error) bool {
	c := fault.ClassOf(err)
	return c == fault.Input || c == fault.NotFound
}

func (s *server) tickOff(w http.ResponseWriter, r *http.Request) error {
	text, err := s.scanned(r)
	var t job.Ticked
	if err == nil {
		t, err = s.shop().Tick(r.Context(), text)
	}
	if err != nil && human(err) {
		return s.refused(w, r, r.PostFormValue("id"), func(p *tickPage) { p.Refused = findings(err) })
	}
	if err != nil {
		return err
	}
	q := url.Values{"done": {t.ID}}
	if t.Already {
		q.Set("already", "1")
	}
	return onward(w, r, batchPath(r.PathValue("batch"), "tick?"+q.Encode()))
}

func (s *server) tickBack(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.shop().Untick(r.Context(), r.PostFormValue("id")); err != nil {
		return err
	}
	return onward(w, r, batchPath(r.PathValue("batch"), "tick"))
}

// packFloat takes the float in hand; its card comes next.
func (s *server) packFloat(w http.ResponseWriter, r *http.Request) error {
	text, err := s.scanned(r)
	var m job.Marked
	if err == nil {
		m, err = s.shop().Find(text)
	}
	if err != nil && human(err) {
		return s.refused(w, r, r.PostFormValue("id"), func(p *tickPage) { p.Wrong = findings(err) })
	}
	if err != nil {
		return err
	}
	return onward(w, r, batchPath(r.PathValue("batch"), "tick?"+url.Values{"float": {m.ID}}.Encode()))
}

func (s *server) packCard(w http.ResponseWriter, r *http.Request) error {
	text, err := s.scanned(r)
	float := r.PostFormValue("float")
	var p job.Packed
	if err == nil {
		p, err = s.shop().Pack(r.Context(), float, text)
	}
	if err != nil && human(err) {
		return s.refused(w, r, "", func(page *tickPage) {
			page.Wrong = findings(err)
			if m, _, ok := s.ticks(float); ok {
				page.Float = &m
			}
		})
	}
	if err != nil {
		return err
	}
	q := url.Values{"done": {p.ID}, "packed": {"1"}}
	if p.Already {
		q.Set("already", "1")
	}
	return onward(w, r, batchPath(r.PathValue("batch"), "tick?"+q.Encode()))
}
