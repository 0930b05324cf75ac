package bench

import (
	"net/http"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (s *server) settingsPages() []route {
	return []route{
		s.get("workshop", s.settings),
		s.post("workshop", s.set),
		s.post("workshop/undo", s.undoSettings),
	}
}

// field is one thing to type of a form.
type field struct {
	Path, Label, Hint, Value string
	Long                     bool // several lines
	Options                  []option
	Locked                   bool // workshop.toml decides
	Required                 bool
	Colour                   bool      // a script offers a picker beside it
	Mode                     string    // of the keys that a phone shows: "decimal" or "numeric" for a number, "email", "url"
	Of                       *quantity // nil for a text
	Unit                     string    // that the label names
}

type option struct {
	Key, Name string
	Chosen    bool
}

// settings are who the maker is and what holds for every batch.
type settings struct {
	Fields []field
	Costs  []job.HostCost // of the host that is set, and of others for comparison
	Host   string         // the one that is set, as its cost names it
}

// makerFields are the fields of the maker, in the order of the page.
var makerFields = []field{
	{Path: "maker/name", Label: "Who makes the floats", Required: true, Hint: "It stands on every card."},
	{Path: "maker/address", Label: "Postal address", Long: true, Hint: "One line each. Cards for sale need it: Regulation (EU) 2023/988, article 9, and its counterpart in Great Britain; rules change."},
	{Path: "maker/contact", Label: "E-mail or web address"},
	{Path: "maker/market", Label: "Where the floats are sold", Options: []option{{"", "not said", false}, {"GB", "Great Britain", false}, {"EU", "European Union", false}, {"US", "United States", false}}, Hint: "Lead sizes that may not be used there are left out."},
	{Path: "maker/currency", Label: "Currency of prices", Hint: "Three letters, such as GBP."},
	{Path: "maker/language", Label: "Language of marks and cards", Options: tongues()},
	{Path: "maker/units", Label: "Measures on these pages", Options: []option{{"", "millimetres and degrees Celsius", false}, {"imperial", "inches and degrees Fahrenheit", false}}, Hint: "Loads are in grams either way, as marks bear them. What is stored and printed stays in millimetres."},
	{Path: "maker/host", Label: "Host of the codes", Mode: "url", Hint: "The web address that codes lead to, without https://. Short is good: every letter costs thickness of body. Leave it out, and codes tell the figures as plain text."},
}

func (s *server) settings(w http.ResponseWriter, r *http.Request) error {
	set, err := s.shop().Settings()
	if err != nil {
		return err
	}
	b := settings{}
	for _, f := range makerFields {
		f.Value, f.Locked = set.Doc.Text(f.Path), set.Locked(f.Path)
		if f.Long {
			f.Value = strings.Join(lines(set.Doc, f.Path), "\n")
		}
		if f.Path == "maker/units" && f.Value == unit.Metric.String() {
			f.Value = "" // as when nothing is said
		}
		f.Options = chosen(f.Options, f.Value)
		b.Fields = append(b.Fields, f)
	}
	if host := set.Doc.Text("maker/host"); host != "" {
		if b.Costs, err = job.HostCosts(host, job.DefaultDPI); err != nil {
			return err
		}
		b.Host = b.Costs[0].Name
	}
	f := frame{Title: "Settings", Version: set.Version, Undoes: set.Undoes, Body: b}
	if set.Doc.Text("maker/name") != "" {
		f.Next = &link{"To the batches", Path}
	}
	return s.show(w, r, "workshop", f)
}

// chosen marks the option of a value.
func chosen(all []option, value string) []option {
	out := make([]option, len(all))
	for i, o := range all {
		o.Chosen = o.Key == value
		out[i] = o
	}
	return out
}

// lines are the texts of a list.
func lines(d *batch.Doc, path string) []string {
	v, _ := d.Get(path)
	list, _ := v.([]any)
	var all []string
	for _, one := range list {
		if text, ok := one.(string); ok {
			all = append(all, text)
		}
	}
	return all
}

func (s *server) set(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	shop := *s.shop()
	was, err := shop.Settings()
	if err != nil {
		return err
	}
	_, err = shop.EditSettings(r.Context(), seen, "change the settings", job.ByBench, func(d *batch.Doc) error {
		for _, f := range makerFields {
			if was.Locked(f.Path) || !r.PostForm.Has(f.Path) {
				continue
			}
			v := typed(f, r.PostFormValue(f.Path))
			if f.Path == "maker/units" && v == nil && d.Text(f.Path) == unit.Metric.String() {
				continue
			}
			if err := d.Set(f.Path, v); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	s.reopen()
	return back(w, r, "workshop")
}

// undoSettings takes back the last change of the settings, stocks of one's own
// included, and leads to where that is seen.
func (s *server) undoSettings(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	shop := *s.shop()
	if _, err := shop.UndoSettings(r.Context(), seen, job.ByBench); err != nil {
		return err
	}
	s.reopen()
	page := "workshop"
	if r.PostFormValue("on") == "stocks" {
		page = "stocks"
	}
	return back(w, r, page)
}

// typed turns what was typed into what the file has; nothing typed takes the key
// out. An address of a host loses what stands around the host.
func typed(f field, text string) any {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
	if f.Path == "maker/host" { // copied out of a browser's line, it has more than the host
		for _, scheme := range []string{"https://", "http://"} {
			text = strings.TrimPrefix(text, scheme)
		}
		text = strings.TrimSuffix(text, "/")
	}
	if text == "" {
		return nil
	}
	if !f.Long {
		return text
	}
	var list []any
	for line := range strings.SplitSeq(text, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}
