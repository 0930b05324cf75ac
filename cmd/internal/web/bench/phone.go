package bench

import (
	"errors"
	"net"
	"net/http"
	"net/url"
	"strings"
	"unicode/utf8"

	"floatmark/cmd/internal/job"
	"floatmark/label/symbol"
	"floatmark/label/words"
	"floatmark/loading/fault"
)

func (s *server) phonePages() []route {
	return []route{
		s.get("phone", s.phone),
		s.get("phone/code.svg", s.phoneCode),
		s.post("phone/word", s.setWord),
		s.post("phone/noword", s.takeWord),
		s.post("phone/on", s.openDoor),
		s.post("phone/off", s.shutDoor),
	}
}

// phonePage is where the maker lets his phone in.
type phonePage struct {
	Home        bool // asked for on this computer, where alone it is switched
	Door        bool // there is one to open
	Word        bool // an unlock word is set
	Open, Moved bool
	Each        bool     // open it each time
	Link        string   // what the code leads to; "" where phones do not come in
	Others      []string // the same by other addresses
	Batch       string   // whose page beside the tank is wanted; "" for any
	Least       int      // letters of an unlock word
	Failed      string   // why the door stayed shut
	Reason      string   // what the machine said of it
	WordFailed  string
}

func (s *server) phone(w http.ResponseWriter, r *http.Request) error {
	p, err := s.phonePage(r)
	if err != nil {
		return err
	}
	return s.showPhone(w, r, http.StatusOK, p)
}

func (s *server) phonePage(r *http.Request) (p phonePage, err error) {
	p = phonePage{Home: AtHome(r), Door: s.o.Door != nil, Least: job.UnlockLeast, Batch: r.FormValue("batch")}
	if p.Word, err = s.shop().HasUnlock(); err != nil {
		return p, err
	}
	if p.Each, err = s.shop().PhonesEachTime(); err != nil {
		return p, err
	}
	all := s.phoneLinks(r, p.Batch)
	if len(all) > 0 {
		p.Link, p.Others = all[0], all[1:]
	}
	if s.o.Door != nil {
		st := s.o.Door.State()
		p.Open, p.Moved = len(st.At) > 0, st.Moved
	}
	return p, nil
}

func (s *server) showPhone(w http.ResponseWriter, r *http.Request, status int, p phonePage) error {
	f := frame{Title: "Let your phone in", Body: p}
	if p.Batch != "" {
		f.Batch, f.Next = p.Batch, &link{"Back to the tank", Path + batchPath(p.Batch, "tank")}
	}
	s.send(w, r, status, "phone", f)
	return nil
}

// atHome lets through what is only done at the workshop's computer: whoever is
// unlocked on a phone shall not lock the maker out.
func atHome(r *http.Request) error {
	if AtHome(r) {
		return nil
	}
	return fault.Inputf("open this page there", "this is set at the workshop's computer alone")
}

// toPhone goes back to the page, for the batch that it was opened for.
func toPhone(w http.ResponseWriter, r *http.Request) error {
	to := "phone"
	if batch := r.PostFormValue("batch"); batch != "" {
		to += "?" + url.Values{"batch": {batch}}.Encode()
	}
	return back(w, r, to)
}

// setWord sets the unlock word; who was unlocked with another is locked again.
func (s *server) setWord(w http.ResponseWriter, r *http.Request) error {
	if err := atHome(r); err != nil {
		return err
	}
	word := r.PostFormValue("word")
	failed := ""
	switch n := utf8.RuneCountInString(word); {
	case word != r.PostFormValue("again"):
		failed = s.says(r, "The two are not the same. Type the word twice.")
	case n < job.UnlockLeast:
		failed = s.says(r, "That is too short. Take some words in a row.")
	case n > job.UnlockMost:
		failed = s.says(r, "That is too long. A few words in a row are enough.")
	default:
		err := s.shop().SetUnlock(word)
		if err == nil {
			return toPhone(w, r)
		}
		if fault.ClassOf(err) != fault.Input {
			return err
		}
		failed = s.says(r, "That is no text. Type letters, figures and blanks.")
	}
	p, err := s.phonePage(r)
	if err != nil {
		return err
	}
	p.WordFailed = failed
	return s.showPhone(w, r, http.StatusUnprocessableEntity, p)
}

// says is a sentence in the reader's language.
func (s *server) says(r *http.Request, sentence string) string {
	return words.Bench(s.language(r))(sentence)
}

// takeWord takes the word away; without one no door stands open.
func (s *server) takeWord(w http.ResponseWriter, r *http.Request) error {
	if err := atHome(r); err != nil {
		return err
	}
	if s.o.Door != nil {
		if err := s.o.Door.Shut(); err != nil {
			return err
		}
	}
	if err := errors.Join(s.shop().SetUnlock(""), s.shop().SetPhonesEachTime(false)); err != nil {
		return err
	}
	return toPhone(w, r)
}

func (s *server) openDoor(w http.ResponseWriter, r *http.Request) error {
	if err := atHome(r); err != nil {
		return err
	}
	if s.o.Door == nil {
		return noDoor()
	}
	opened := s.o.Door.Open()
	failed := ""
	switch {
	case opened == nil:
		if err := s.shop().SetPhonesEachTime(r.PostFormValue("each") != ""); err != nil {
			return err
		}
		return toPhone(w, r)
	case errors.Is(opened, ErrNoWord):
		failed = s.says(r, "Set an unlock word first.")
	case errors.Is(opened, ErrNoNetwork):
		failed = s.says(r, "This computer is in no home network. Join the one that the phone is in, and try again.")
	case errors.Is(opened, ErrTaken):
		failed = s.says(r, "Another program has the door's port, perhaps the bench of another workshop. End it, and try again.")
	default:
		return opened
	}
	p, err := s.phonePage(r)
	if err != nil {
		return err
	}
	p.Failed = failed
	if errors.Is(opened, ErrTaken) {
		p.Reason = opened.Error()
	}
	return s.showPhone(w, r, http.StatusUnprocessableEntity, p)
}

func (s *server) shutDoor(w http.ResponseWriter, r *http.Request) error {
	if err := atHome(r); err != nil {
		return err
	}
	if s.o.Door == nil {
		return noDoor()
	}
	if err := errors.Join(s.o.Door.Shut(), s.shop().SetPhonesEachTime(false)); err != nil {
		return err
	}
	return toPhone(w, r)
}

func noDoor() error {
	return fault.New(fault.NotFound, "", "this server has no door for phones", "start the bench: floatmark")
}

// tankOnPhone is the page beside the tank that phones have.
const tankOnPhone = "/-/tank"

// phoneLinks lead to the phone's page of a batch, of all for "", the likeliest
// first; none where phones do not come in.
func (s *server) phoneLinks(r *http.Request, batch string) (all []string) {
	var at []string
	if s.o.Door != nil {
		at = s.o.Door.State().At
	}
	if own, ok := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr); ok && len(at) == 0 && !own.IP.IsLoopback() {
		at = []string{own.String()}
	}
	query := ""
	if batch != "" {
		query = "?" + url.Values{"batch": {batch}}.Encode()
	}
	for _, one := range at {
		all = append(all, "http://"+one+tankOnPhone+query)
	}
	return all
}

// phoneCode draws the link of the phone's page as a code.
func (s *server) phoneCode(w http.ResponseWriter, r *http.Request) error {
	all := s.phoneLinks(r, strings.TrimSpace(r.FormValue("batch")))
	if len(all) == 0 {
		return fault.New(fault.NotFound, "", "phones are not let in", "let them in under Settings")
	}
	m, err := symbol.QR(all[0])
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write([]byte(codePicture(m))) // the reader's connection may be gone
	return nil
}
