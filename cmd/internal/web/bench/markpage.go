package bench

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
)

// markRow is a pattern in the list of marks.
type markRow struct {
	Name, Page, Picture string
	Wrong               []finding // why there is no picture
}

// marks lists the patterns with the mark of a float of each.
func (s *server) marks(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	var rows []markRow
	width := markWidths[0]
	if d.Doc.Len("pattern") == 1 { // it has the page for itself
		width = markWidths[len(markWidths)-1]
	}
	for i := range d.Doc.Len("pattern") {
		at := fmt.Sprintf("pattern/%d/", i)
		page := Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i))
		row := markRow{Name: d.Doc.Text(at + "name"), Page: page}
		if _, err := s.shop().DraftSilhouette(d, d.Doc, i, nil); err != nil {
			row.Page, row.Wrong = Path+batchPath(d.Name, fmt.Sprintf("patterns/%d", i)), patternFindings(err)
		} else {
			row.Picture = fmt.Sprintf("%s/float.png?w=%d", page, width)
		}
		rows = append(rows, row)
	}
	f := s.batchFrame(d, "marks", "Marks")
	f.Findings, f.Body = nil, rows
	f.Next = &link{"See what is printed where", Path + batchPath(d.Name, "sheets")}
	if len(rows) == 0 {
		f.Next = &link{"Describe the first pattern", Path + batchPath(d.Name, "patterns")}
	}
	return s.show(w, r, "marks", f)
}

// markPage is the mark of one pattern.
type markPage struct {
	Look    markLook
	Zones   []zoneForm
	OwnMark string
	Action  string
	List    string
	Pattern string // the pattern's own page
	Unsaved bool
}

// markLook is what is seen of a mark: what follows while one types.
type markLook struct {
	Picture, Flat string // addresses; the picture's without its turn
	Turn, Tip     int
	Quarters      []quarter
	Tips          []quarter
	Turned        string // the picture at Turn and Tip
	Sample        bool
	Load          string // with its ounces, for who measures in inches; "" for others
	Number        int
	Said          markSaid
	Findings      []finding
	V             string
}

// quarter is one of four sides to look from, or one of the ways to tip it.
type quarter struct {
	Text, To string
	Here     bool
	Degrees  int
}

// markSaid is what is the matter with a mark and what helps.
type markSaid struct {
	Troubles []troubleRow
	Placed   string // where the mark sits, in words
	Code     string // how its code reads
	Contrast string // and which contrast to expect of it
	Open     bool   // it is not known yet whether the code reads and what helps
	Source   string // where the rest is told
	Whole    string // the page with the rest, without scripts
	Action   string
	Version  int64
	Unsaved  bool
	V        string // of the pictures that belong to it
	Fine     bool
}

// troubleRow is one trouble, or several of a kind against which the same helps.
type troubleRow struct {
	Texts    []string
	Do       string
	Remedies []remedyRow
}

type remedyRow struct {
	Key, Says string
	Wide      bool
}

func (s *server) mark(w http.ResponseWriter, r *http.Request) error {
	d, i, doc, m, err := s.markOf(r)
	if err != nil {
		return err
	}
	if r.URL.Query().Get("said") != "" {
		if _, _, err := m.prove(r.Context(), s.shop(), d, doc, i); err != nil {
			return err
		}
	}
	here := Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i))
	typed := typedMark(r.URL.Query())
	f := s.batchFrame(d, "marks", "Marks")
	f.Name = d.Doc.Text(fmt.Sprintf("pattern/%d/name", i))
	p := markPage{Look: s.look(r, d, m, i, typed), Zones: zoneForms(s.measures(r), doc, i), OwnMark: doc.Text("print/own_mark"), Action: here,
		List: Path + batchPath(d.Name, "marks"), Pattern: Path + batchPath(d.Name, fmt.Sprintf("patterns/%d", i)), Unsaved: len(typed) > 0}
	f.Findings = nil // what is the matter stands where the mark is seen
	f.Body = p
	f.Next = &link{"See what is printed where", Path + batchPath(d.Name, "sheets")}
	if i+1 < d.Doc.Len("pattern") {
		f.Next = &link{"Look at the next mark", Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i+1))}
	}
	return s.show(w, r, "mark", f)
}

// look works out what is seen of a mark.
func (s *server) look(r *http.Request, d job.Draft, m *markLooked, i int, typed url.Values) markLook {
	say := words.Bench(s.language(r))
	here := Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i))
	doc := d.Doc
	if len(typed) > 0 {
		doc = doc.Clone()
		if err := applyMarks(s.measures(r), doc, i, typed, ""); err != nil {
			return markLook{Findings: unfiled(d.Name, findings(err))}
		}
	}
	v, err := m.view(r.Context(), s.shop(), d, doc, i)
	if err != nil {
		return markLook{Findings: patternFindings(err)}
	}
	q := url.Values{}
	for k, all := range typed {
		q[k] = all
	}
	q.Set("v", m.stampNow())
	turn, tip := turnOf(r), tipOf(r)
	l := markLook{Picture: here + "/float.png?" + q.Encode(), Turn: turn, Tip: tip, Sample: v.Sample, Number: v.Number, V: q.Get("v")}
	if measures := s.measures(r); measures.Imperial() { // the picture says it in grams alone
		l.Load = measures.Load(v.Load())
	}
	if v.Err == nil {
		l.Flat = here + "/flat.svg?" + q.Encode()
	}
	l.Turned = fmt.Sprintf("%s&turn=%d&tip=%d", l.Picture, turn, tip)
	back := url.Values{}
	for k, all := range typed {
		back[k] = all
	}
	for n, name := range []string{"Front", "A quarter on", "Back", "Three quarters on"} {
		back.Set("turn", fmt.Sprint(90*n))
		back.Set("tip", fmt.Sprint(tip))
		l.Quarters = append(l.Quarters, quarter{say(name), here + "?" + back.Encode(), turn == 90*n, 90 * n})
	}
	back.Set("turn", fmt.Sprint(turn))
	for _, one := range []struct {
		name string
		tip  int
	}{{"Its tip nearer", job.MostTip}, {"Level", 0}, {"Its base nearer", -job.MostTip}} {
		back.Set("tip", fmt.Sprint(one.tip))
		l.Tips = append(l.Tips, quarter{say(one.name), here + "?" + back.Encode(), tip == one.tip, one.tip})
	}
	l.Said = s.said(r, d, m, v, i, typed)
	return l
}

// unseenTrouble is the code of the trouble that a mark does not show on its ground.
const unseenTrouble = "contrast"

func boolInt(is bool) int {
	if is {
		return 1
	}
	return 0
}

// said is what is known by now of a mark's troubles.
func (s *server) said(r *http.Request, d job.Draft, m *markLooked, v *job.MarkView, i int, typed url.Values) markSaid {
	here := Path + batchPath(d.Name, fmt.Sprintf("marks/%d", i))
	out := markSaid{Action: here + "/remedy", Source: here + "/said?" + typed.Encode(), Version: d.Version, Unsaved: len(typed) > 0, V: m.stampNow()}
	out.Placed = v.Placed
	out.Code, out.Contrast = v.CodeLine(), v.CodeContrast()
	whole := url.Values{"said": {"1"}, "turn": {fmt.Sprint(turnOf(r))}, "tip": {fmt.Sprint(tipOf(r))}}
	for k, all := range typed {
		whole[k] = all
	}
	out.Whole = here + "?" + whole.Encode()
	troubles, done := m.done()
	if !done {
		troubles, out.Open = v.Troubles(), true
	}
	language, measures := s.language(r), s.measures(r)
	unseen := slices.ContainsFunc(troubles, func(t job.Trouble) bool { return t.Code == unseenTrouble })
	troubles = slices.Clone(troubles)
	slices.SortStableFunc(troubles, func(a, b job.Trouble) int { // what no word of the mark can be read for comes first
		return cmp.Compare(boolInt(b.Code == unseenTrouble), boolInt(a.Code == unseenTrouble))
	})
	for _, t := range troubles {
		if unseen && t.Code == job.LineTrouble && strings.Count(t.Text, "Its ") == 1 && strings.Contains(t.Text, "Its contrast is ") {
			continue // that nothing of the mark shows on its ground is told once
		}
		row := troubleRow{Texts: []string{t.Text}, Do: t.Do}
		for _, one := range t.Remedies {
			row.Remedies = append(row.Remedies, remedyRow{Key: one.Key, Says: remedySays(language, measures, one), Wide: one.Wide})
		}
		if n := len(out.Troubles); n > 0 && len(row.Remedies) > 0 && slices.Equal(out.Troubles[n-1].Remedies, row.Remedies) {
			out.Troubles[n-1].Texts = append(out.Troubles[n-1].Texts, t.Text)
			continue
		}
		out.Troubles = append(out.Troubles, row)
	}
	out.Fine = done && len(out.Troubles) == 0
	return out
}

// markLook answers what is seen of a mark that is being typed.
func (s *server) markLook(w http.ResponseWriter, r *http.Request) error {
	d, i, _, m, err := s.markOf(r)
	if err != nil {
		return err
	}
	return s.fragment(w, r, "mark", "look", s.look(r, d, m, i, typedMark(r.URL.Query())))
}

// markSaid answers with the troubles of a mark and what helps.
func (s *server) markSaid(w http.ResponseWriter, r *http.Request) error {
	d, i, doc, m, err := s.markOf(r)
	if err != nil {
		return err
	}
	v, _, err := m.prove(r.Context(), s.shop(), d, doc, i)
	if err != nil {
		return err
	}
	return s.fragment(w, r, "mark", "said", s.said(r, d, m, v, i, typedMark(r.URL.Query())))
}
