package job

import (
	"errors"
	"fmt"
	"strings"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/label/symbol/scan"
	"floatmark/loading/fault"
)

// Marked is a mark of this workshop's and the float that it stands for.
type Marked struct {
	Batch   string `json:"batch"`
	Number  int    `json:"number"`          // place on the drying board
	ID      string `json:"id"`              // of the float
	Spare   string `json:"spare,omitempty"` // the id that was read, where it is that of a spare on the float
	Pattern string `json:"pattern"`
	Rating  string `json:"rating"`
}

// Place names the float as messages do.
func (m Marked) Place() string { return fmt.Sprintf("float %d of %s", m.Number, m.Batch) }

// Find returns the float that an id typed by hand or a code's text stands for:
// its own, or that of a spare on it. A code says the id behind the last stroke of
// a link of this workshop, in either case, or as the last word of its plain text.
//
// Errors: Input for what is no id, with the known ids near to it, and for a code
// of somebody else's; NotFound for an id that no float bears, as a spare's that is
// on none.
func (w *Workshop) Find(text string) (Marked, error) {
	s, err := w.records()
	if err != nil {
		return Marked{}, err
	}
	if s != nil {
		defer s.Close()
	}
	return w.find(s, text)
}

// find is Find in records that are open; nil for none.
func (w *Workshop) find(s *record.Store, text string) (Marked, error) {
	id, host, err := idIn(s, text)
	if err != nil {
		return Marked{}, err
	}
	var f record.Float
	ok := false
	if s != nil {
		if f, ok, err = s.FloatOf(string(id)); err != nil {
			return Marked{}, err
		}
	}
	if host != "" {
		ours, err := w.ours(s, string(id), host)
		if err != nil {
			return Marked{}, err
		}
		if !ours {
			return Marked{}, foreign(text)
		}
	}
	if !ok {
		return Marked{}, w.unknown(s, string(id))
	}
	e, _, err := entryOf(s, f.ID)
	if err != nil {
		return Marked{}, err
	}
	m := Marked{Batch: f.Batch, Number: f.Number, ID: f.ID, Pattern: e.Pattern, Rating: e.Rating}
	if f.ID != string(id) {
		m.Spare = string(id)
	}
	return m, nil
}

// unknown says that nothing of that id can be shown.
func (w *Workshop) unknown(s *record.Store, id string) error {
	if s != nil {
		sp, ok, err := s.Spare(id)
		if err != nil {
			return err
		}
		if ok {
			return fault.New(fault.NotFound, "", fmt.Sprintf("%s is spare %d of %s, which is on no float yet", id, sp.Number, sp.Batch),
				"say on which: floatmark spares claim "+id+" --float "+sp.Batch+"/NUMBER")
		}
	}
	return fault.New(fault.NotFound, "", fmt.Sprintf("no float bears the id %s in %s", id, w.Dir), "check the id, or name another folder with --workshop DIR")
}

// longestTyped bytes may be an id with a slip in it, written with blanks; what is
// longer was read off something.
const longestTyped = 2 * (ident.Length + 1)

// isLink reports whether a text was read off a code with a link, not typed.
func isLink(text string) bool { return strings.Contains(text, "://") }

// idIn takes the id out of a text, and the host where it is a link.
func idIn(s *record.Store, text string) (id ident.ID, host string, err error) {
	text = strings.TrimSpace(text)
	if isLink(text) {
		link := strings.ToUpper(text)
		host = label.HostOf(link)
		_, rest, _ := strings.Cut(link, "://")
		_, path, _ := strings.Cut(rest, "/")
		if id, err = ident.Parse(path); err != nil || host == "" {
			return "", "", foreign(text)
		}
		return id, host, nil
	}
	if id, err = ident.Parse(text); err == nil {
		return id, "", nil
	}
	// A code without a link says the figures and, last, the id.
	words := strings.Fields(text)
	if n := len(words); n > 1 {
		if last, e := ident.Parse(words[n-1]); e == nil {
			return last, "", nil
		}
	}
	if len(text) > longestTyped {
		return "", "", fault.New(fault.Input, "", fmt.Sprintf("%q is no id, and no code that was printed here", scan.Clip(text)),
			"take a float or card of this workshop's, or copy the six characters of its id")
	}
	return "", "", near(s, text, err)
}

func foreign(text string) error {
	return fault.New(fault.Input, "", fmt.Sprintf("the code says %q, which is no mark of this workshop's", scan.Clip(text)),
		"take one that was printed here, or name another folder with --workshop DIR")
}

// ours reports whether a link's host is this workshop's: the one of its settings,
// or the one that was printed with that id. Only where the id is not known are all
// codes gone through.
func (w *Workshop) ours(s *record.Store, id, host string) (bool, error) {
	if w.settings != nil && strings.EqualFold(w.settings.Maker.Host, host) {
		return true, nil
	}
	if s == nil {
		return false, nil
	}
	e, ok, err := entryOf(s, id)
	if err != nil || ok {
		return ok && label.HostOf(e.Code) == host, err
	}
	hosts, err := w.Hosts()
	if err != nil {
		return false, err
	}
	for _, h := range hosts {
		if strings.EqualFold(h, host) {
			return true, nil
		}
	}
	return false, nil
}

// mostNear is how many known ids a message names.
const mostNear = 3

// near adds to the finding that a text is no id the known ids that may be meant.
func near(s *record.Store, text string, finding error) error {
	var e *fault.Error
	if s == nil || !errors.As(finding, &e) {
		return finding
	}
	var names []string
	for _, id := range ident.Suggest(text) {
		f, ok, err := s.FloatOf(string(id))
		if err != nil {
			return err
		}
		if ok {
			names = append(names, fmt.Sprintf("%s (float %d of %s)", id, f.Number, f.Batch))
		} else if sp, is, err := s.Spare(string(id)); err != nil {
			return err
		} else if is {
			names = append(names, fmt.Sprintf("%s (spare %d of %s)", id, sp.Number, sp.Batch))
		}
		if len(names) == mostNear {
			break
		}
	}
	if len(names) == 0 {
		return finding
	}
	c := *e
	c.Do = "did you mean " + strings.Join(names, " or ") + "?"
	return &c
}
