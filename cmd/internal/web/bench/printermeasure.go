package bench

import (
	"fmt"
	"math"
	"net/http"
	"net/url"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// measurePage is the page of one step: what to print, what to look at, and the
// form for what was read.
type measurePage struct {
	measureStep
	Typed   url.Values
	Known   *printerShown // the printer that is named, if it has a profile
	Names   []option      // printers that have one, and none
	Papers  []option
	Films   []option
	Sheet   string // path of the test sheet
	Plain   string // of the ruler without the profile; "" where that is the same
	X, Y    unit.Millimetre
	Gap     string // by how much sides and diagonals disagree, as just stored
	Sizes   []sizeChoice
	Bands   []option
	Slots   []option
	Codes   *job.CodeAnswer
	Limits  []limitShown
	Stored  bool
	Crosses []crossForm
}

// sizeChoice is a size of code with the dowels it may have been read on.
type sizeChoice struct {
	job.CodeSize
	Dowel []option
}

// crossForm is where a cross of the back lies.
type crossForm struct {
	Key, Name, Across, Down string
	Aside, Along            []option
}

// Diagonal is what both diagonals of the ruler measure when a printer is true to
// scale and square; 0 where there is no ruler.
func (p measurePage) Diagonal() unit.Millimetre {
	return unit.Millimetre(math.Hypot(float64(p.X), float64(p.Y)))
}

// In is what was typed in a field.
func (p measurePage) In(name string) string { return p.Typed.Get(name) }

// The commonest materials outside North America.
const (
	defaultPaper = "a4-paper"
	defaultFilm  = "a4-film-white"
)

func (s *server) measure(w http.ResponseWriter, r *http.Request, status int, step measureStep, typed url.Values, found []finding) error {
	p := measurePage{measureStep: step, Typed: typed, Stored: typed.Get("stored") != "", Gap: typed.Get("gap")}
	name, paper := typed.Get("name"), typed.Get("paper")
	if paper == "" {
		paper = defaultPaper
	}
	film := typed.Get("film")
	if film == "" {
		film = defaultFilm
	}
	all, err := s.shop().Printers()
	if err != nil {
		return err
	}
	p.Names = []option{{"", "any printer", name == ""}}
	for _, one := range all {
		p.Names = append(p.Names, option{one.Name, one.Name, one.Name == name})
		if one.Name == name {
			shown := shownPrinter(one)
			p.Known = &shown
		}
	}
	stocks, err := s.shop().StockLines()
	if err != nil {
		return err
	}
	for _, one := range stocks {
		switch {
		case one.ForCards():
			p.Papers = append(p.Papers, option{one.Key, one.Name, one.Key == paper})
		case !one.Sheetless():
			p.Films = append(p.Films, option{one.Key, one.Name, one.Key == film})
		}
	}
	q := url.Values{"paper": {paper}}
	if dpi := typed.Get("dpi"); dpi != "" {
		q.Set("dpi", dpi)
	}
	p.Sheet = Path + "printer/sheet/" + step.Key + ".pdf?" + q.Encode()
	if p.Known != nil {
		p.Plain = p.Sheet
		q.Del("dpi")
		q.Set("name", name)
		p.Sheet = Path + "printer/sheet/" + step.Key + ".pdf?" + q.Encode()
	}
	if err := s.stepForm(s.measures(r), step.Key, &p, paper); err != nil {
		return err
	}
	f := frame{Title: step.Title, Body: p, Findings: found}
	if p.Stored {
		f.Next = nextMeasure(step.Key, name)
	}
	s.send(w, r, status, "measure", f)
	return nil
}

// nextMeasure is the step after one.
func nextMeasure(key, name string) *link {
	switch key {
	case "ruler":
		return &link{"Next: ink gain", Path + "printer/gain?name=" + url.QueryEscape(name)}
	case "gain":
		return &link{"Next: codes on dowels", Path + "printer/codes?name=" + url.QueryEscape(name)}
	case "duplex":
		return &link{"Next: codes on dowels", Path + "printer/codes?name=" + url.QueryEscape(name)}
	case "codes":
		return &link{"Next: stretch of the film", Path + "printer/stretch"}
	}
	return &link{"To the list of printers", Path + "printer"}
}

// stepForm fills in what the form of a step asks.
func (s *server) stepForm(m words.Measures, key string, p *measurePage, paper string) error {
	switch key {
	case "ruler":
		var err error
		if p.X, p.Y, err = s.shop().RulerTrue(paper); err != nil && fault.ClassOf(err) == fault.Ours {
			return err // of a paper without a ruler nothing is drawn
		}
	case "gain":
		for n := 1; n <= mostSlots; n++ {
			k := fmt.Sprint(n)
			p.Slots = append(p.Slots, option{k, k, k == p.In("gain")})
		}
	case "duplex":
		for _, c := range [][2]string{{"top", "Upper cross"}, {"bottom", "Lower cross"}} {
			p.Crosses = append(p.Crosses, crossForm{c[0], c[1], p.In(c[0] + "-across"), p.In(c[0] + "-down"),
				chosen([]option{{"right", "to the right", false}, {"left", "to the left", false}}, p.In(c[0]+"-aside")),
				chosen([]option{{"up", "up", false}, {"down", "down", false}}, p.In(c[0]+"-along"))})
		}
	case "codes":
		name := ""
		if p.Known != nil {
			name = p.Known.Name
		}
		dpi, err := dotsAnInch(p.In("dpi"))
		if err != nil || name != "" {
			dpi = 0
		}
		sizes, err := s.shop().CodeSizeChoices(name, dpi)
		if err != nil {
			return err
		}
		answer, ok, err := s.shop().CodeSizes()
		if err != nil {
			return err
		}
		if ok {
			answer.Follows = withoutCommands(answer.Follows)
			p.Codes = &answer
		}
		for _, z := range sizes {
			c := sizeChoice{CodeSize: z, Dowel: []option{{"", "not tried", false}}}
			for _, d := range z.Dowels {
				c.Dowel = append(c.Dowel, option{unit.Number(float64(d), 0.1, unit.Style{}), d.Text(0.1, m.Number), false})
			}
			c.Dowel = chosen(append(c.Dowel, option{"none", "read on none", false}), p.In("size-"+z.Name))
			p.Sizes = append(p.Sizes, c)
		}
	case "stretch":
		var err error
		if p.Limits, err = s.limits(m); err != nil {
			return err
		}
		for _, b := range job.StretchBands() {
			key := b.Height.Text(0.1, unit.Style{})
			p.Bands = append(p.Bands, option{key, b.Height.Text(0.1, m.Number) + " · " + strainOf(m, b.Strain), key == p.In("band")})
		}
	}
	return nil
}

// mostSlots is how many slots the gain sheet has.
const mostSlots = 6
