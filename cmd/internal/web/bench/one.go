package bench

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func (s *server) onePages() []route {
	return []route{
		s.get("one", s.one),
		s.get("one/mark.png", s.onePicture),
		s.get("one/{file}", s.onePDF),
		s.post("one", s.keepOne),
	}
}

// onePage is the mark of one float, without a batch.
type onePage struct {
	Fields  []field
	Asked   bool
	Query   string // that the mark was made from, for its picture and its file
	Picture string
	File    string
	Printed []string
	U, Step string
	Told    []string
}

// oneFields are what is typed of one float, by the names of the form; lengths are
// those whose value is one.
func oneFields(m words.Measures, metals, films []option) []field {
	return []field{
		{Path: "load", Label: "What it takes with its weight fitted", Required: true, Hint: "As it was hung in the tank: 0.8 g, 1/8 oz, 3AAA+2No4."},
		{Path: "diameter", Label: "Diameter of the body, at the lower edge of the mark, %s", Unit: m.LengthSign(), Mode: lengthKeys(m), Required: true, Hint: "Over the last coat of colour."},
		{Path: "to", Label: "Diameter at the upper edge, %s", Unit: m.LengthSign(), Mode: lengthKeys(m), Hint: "Empty for a parallel body."},
		{Path: "height", Label: "Height of the mark, %s", Unit: m.LengthSign(), Mode: lengthKeys(m)},
		{Path: "tip", Label: "Tip's diameter at the waterline, %s", Unit: m.LengthSign(), Mode: lengthKeys(m)},
		{Path: "built", Label: "Weight built in", Hint: "As in 7.2 g; empty for none."},
		{Path: "metal", Label: "Metal of the weight", Options: metals},
		{Path: "rating", Label: "Declared rating", Hint: "Empty: what the figures come to."},
		{Path: "style", Label: "How much the mark says", Options: []option{{"full", "all: metal, uncertainty, shot", false}, {"least", "rating and load alone", false}}},
		{Path: "film", Label: "Film or labels", Options: films},
	}
}

// oneLengths are the fields that take a length.
var oneLengths = []string{"diameter", "to", "height", "tip"}

// single reads one float from a form.
func single(m words.Measures, q url.Values) (job.Single, error) {
	length := map[string]string{}
	for _, name := range oneLengths {
		text := strings.TrimSpace(q.Get(name))
		if text == "" {
			continue
		}
		v, err := m.ReadLength(text)
		if err != nil {
			return job.Single{}, err
		}
		length[name] = v.Text(0.001, unit.Style{})
	}
	get := func(name string) string { return strings.TrimSpace(q.Get(name)) }
	one := job.Single{Load: get("load"), Diameter: length["diameter"], ToDiameter: length["to"], Height: length["height"], TipAcross: length["tip"],
		BuiltIn: get("built"), Metal: get("metal"), Rating: get("rating"), Style: get("style"), Film: get("film"), TempC: usualTemp}
	if one.Metal == "" {
		one.Metal = "brass"
	}
	if one.Style == "" {
		one.Style = "full"
	}
	return one, nil
}

func (s *server) oneOptions() (metals, films []option, err error) {
	for _, m := range water.Metals() {
		metals = append(metals, option{m.Key, m.Name, m.Key == "brass"})
	}
	all, err := s.shop().StockLines()
	if err != nil {
		return nil, nil, err
	}
	films = []option{{"", "the usual one", false}}
	for _, one := range all {
		if one.ForMarks() && !one.Sheetless() {
			films = append(films, option{one.Key, one.Name, false})
		}
	}
	return metals, films, nil
}

func (s *server) one(w http.ResponseWriter, r *http.Request) error {
	return s.showOne(w, r, http.StatusOK, r.URL.Query(), nil)
}

func (s *server) showOne(w http.ResponseWriter, r *http.Request, status int, q url.Values, found []finding) error {
	metals, films, err := s.oneOptions()
	if err != nil {
		return err
	}
	p := onePage{Fields: oneFields(s.measures(r), metals, films), Asked: q.Get("load") != "", Query: q.Encode()}
	for i := range p.Fields {
		f := &p.Fields[i]
		f.Value = q.Get(f.Path)
		if len(f.Options) > 0 && q.Has(f.Path) {
			f.Options = chosen(f.Options, f.Value)
		}
	}
	f := frame{Title: "Mark of a single float", Findings: found}
	if p.Asked {
		m := s.measures(r)
		one, err := single(m, q)
		var done *job.SingleMark
		if err == nil {
			done, err = s.shop().PlanOne(r.Context(), one, nil)
		}
		if err != nil {
			f.Findings, status = append(f.Findings, oneFaults(findings(err))...), http.StatusUnprocessableEntity
		} else {
			p.Picture, p.File = Path+"one/mark.png?"+p.Query, Path+"one/"+oneName(done)+"?"+p.Query
			p.U, p.Step = m.Load(done.Float.Rating.U, 0.001), m.Load(done.Float.Rating.Step, 0.001)
			for _, l := range done.Float.Decal.Printed {
				p.Printed = append(p.Printed, l.Text)
			}
			for _, n := range done.Plan.Notices {
				p.Told = append(p.Told, n.Text)
			}
		}
	}
	f.Body = p
	s.send(w, r, status, "one", f)
	return nil
}

// oneFaults tells where something is wrong in words of the page: the command names
// its flags.
func oneFaults(all []finding) []finding {
	for i := range all {
		if strings.HasPrefix(all[i].Where, "--") || all[i].Where == "one" {
			all[i].Where = ""
		}
		if strings.Contains(all[i].Do, "--") {
			all[i].Do = ""
		}
	}
	return all
}

// oneName is the name that a single mark's sheet is saved under.
func oneName(m *job.SingleMark) string {
	rating := "float"
	if len(m.Float.Decal.Printed) > 0 {
		rating = strings.ReplaceAll(m.Float.Decal.Printed[0].Text, " ", "-")
	}
	return numbered("decal", rating, ".pdf")
}

// oneDPI shows a mark's words large enough to be read on a screen.
const oneDPI = 220.0

// oneFile makes the mark of a request's query, as a picture or as the sheet to be
// printed.
func (s *server) oneFile(r *http.Request, picture bool) (data []byte, err error) {
	one, err := single(s.measures(r), r.URL.Query())
	if err != nil {
		return nil, err
	}
	m, err := s.shop().PlanOne(r.Context(), one, nil)
	if err != nil {
		return nil, err
	}
	if picture {
		return m.PNG(oneDPI)
	}
	err = beside(func(dir string) error {
		files, err := s.shop().PrintOne(r.Context(), m, dir, nil)
		if err != nil {
			return err
		}
		for _, f := range files {
			if strings.HasSuffix(f.Name, ".pdf") {
				data, err = os.ReadFile(filepath.Join(dir, f.Name))
				return err
			}
		}
		return nil
	})
	return data, err
}

func (s *server) onePicture(w http.ResponseWriter, r *http.Request) error {
	data, err := s.oneFile(r, true)
	if err != nil {
		return err
	}
	return sendTagged(w, r, kinds[".png"], data)
}

func (s *server) onePDF(w http.ResponseWriter, r *http.Request) error {
	data, err := s.oneFile(r, false)
	if err != nil {
		return err
	}
	return sendFile(w, r.PathValue("file"), data)
}

// keepOne makes a batch of the one float, so that it gets an id, a code and a card.
func (s *server) keepOne(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	q, err := url.ParseQuery(r.PostFormValue("of"))
	if err != nil {
		return err
	}
	name := strings.TrimSpace(r.PostFormValue("name"))
	one, err := single(s.measures(r), q)
	if err == nil {
		one.Name = name
		err = s.shop().KeepOne(r.Context(), one, job.ByBench)
	}
	if err != nil {
		return s.showOne(w, r, http.StatusUnprocessableEntity, q, oneFaults(findings(err)))
	}
	return back(w, r, batchPath(name, ""))
}
