package bench

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/unit"
)

func (s *server) sheetsPages() []route {
	return []route{
		s.get("b/{batch}/sheets", s.sheets),
		s.post("b/{batch}/sheets", s.setSheets),
		s.post("b/{batch}/sheets/pack", s.pack),
		s.get("b/{batch}/sheets/state", s.sheetState),
		s.post("b/{batch}/sheets/stop", s.stopPacking),
		s.post("b/{batch}/sheets/{number}", s.setSheet),
		s.get("b/{batch}/sheets/{picture}", s.sheetPicture),
		s.get("sheet/{picture}", s.spentPicture),
	}
}

// sheetsPage is what will be printed where, and the choices that decide it.
type sheetsPage struct {
	Work    *workState // the film is being packed as for printing
	Known   bool       // the plan could be worked out
	ByHand  bool       // marks without film
	Sheets  []laidShown
	Use     job.FilmUse
	From    int             // per cent of the marks' film that comes from part-used sheets
	On      int             // per cent of what is spent of fresh sheets that goes on floats
	Left    unit.Millimetre // mm of the last fresh sheet that stay a full rectangle
	Before  int             // the print that has these very marks already, 0 for none
	Right   bool            // and it came out right
	Told    []string
	Shelf   []sheetShown // part-used sheets of this film that stay as they are
	Out     []sheetShown // of any film, out of use
	Films   []option
	Printer []option
	Feed    []option
	Tight   bool
	Keep    bool
	Spares  string
	Ahead   string
}

type laidShown struct {
	job.LaidSheet
	Picture, Close string // paths of its picture, and of one to look at closely
	Was, Is        int    // per cent spent, before and with this print
}

type sheetShown struct {
	job.SheetLine
	Picture string
	Is      int // per cent spent
}

// toldOfSheets are the codes of notices that are about sheets.
var toldOfSheets = []string{"ready", "ahead", "other size", "spares", "spare"}

const percent = 100

func (s *server) sheets(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "sheets", "Sheets")
	p := sheetsPage{}
	if err := s.sheetChoices(d, &p); err != nil {
		return err
	}
	film := d.Doc.Text("print/film")
	if d.File != nil {
		film = d.File.Film
		if plan, err := s.sheetPlan(r, d, &p, &f); err != nil {
			yet, slips := told(d, err)
			f.Missing, f.Findings = append(f.Missing, yet...), append(f.Findings, slips...)
		} else if plan != nil {
			s.laid(d, plan, &p)
			f.Next = &link{"Print it", Path + batchPath(d.Name, "print")}
			if p.Before > 0 && !p.Right {
				f.Next.Text = "Say how it came out"
			}
		}
	} else {
		f.Next = &link{"Mend the batch first", Path + batchPath(d.Name, "floats")}
	}
	if err := s.shelf(film, &p); err != nil {
		return err
	}
	f.Body = p
	return s.show(w, r, "sheets", f)
}

// laid fills in where the plan puts what.
func (s *server) laid(d job.Draft, plan *job.Plan, p *sheetsPage) {
	p.Known, p.Use = true, plan.FilmUse()
	p.From, p.On, p.Left = perCent(p.Use.FromPartUsed), perCent(p.Use.OnFloats), unit.Millimetre(int(p.Use.Left))
	at := Path + batchPath(d.Name, "sheets") + "/"
	for _, one := range plan.LaidSheets() {
		p.Sheets = append(p.Sheets, laidShown{one, fmt.Sprintf("%s%d.png", at, one.Page), fmt.Sprintf("%s%d.svg", at, one.Page), perCent(one.Before), perCent(one.After)})
	}
	if number, right, ok := plan.Before(); ok {
		p.Before, p.Right = number, right
	}
	p.ByHand = len(plan.Jigs) > 0
	said := map[string]bool{}
	for _, n := range plan.Notices {
		if slices.Contains(toldOfSheets, n.Code) && !said[n.Text] {
			said[n.Text] = true
			p.Told = append(p.Told, n.Text)
		}
	}
}

func perCent(share float64) int { return int(percent*share + 0.5) }

// shelf lists the sheets that were printed on before and are not used here.
func (s *server) shelf(film string, p *sheetsPage) error {
	all, err := s.shop().Sheets()
	if err != nil {
		return err
	}
	for _, one := range all {
		used := slices.ContainsFunc(p.Sheets, func(l laidShown) bool { return l.Number == one.Number })
		shown := sheetShown{one, fmt.Sprintf("%ssheet/%d.png", Path, one.Number), perCent(one.Spent)}
		switch {
		case one.State == "open" && one.Stock == film && !used:
			p.Shelf = append(p.Shelf, shown)
		case one.State == "used up" || one.State == "written off":
			p.Out = append(p.Out, shown)
		}
	}
	return nil
}

var feedEdges = []option{{"", "the top edge", false}, {"right", "the right edge", false}, {"bottom", "the bottom edge", false}, {"left", "the left edge", false}}

// stockCalled is how a stock is called in a list: by its name, with its key only
// where another one has the same name, or where it has none.
func stockCalled(one job.StockLine, all []job.StockLine) string {
	if one.Name == "" {
		return one.Key
	}
	for _, other := range all {
		if other.Key != one.Key && other.Name == one.Name {
			return one.Name + " (" + one.Key + ")"
		}
	}
	return one.Name
}

// sheetChoices are what stands in [print] about sheets.
func (s *server) sheetChoices(d job.Draft, p *sheetsPage) error {
	stocks, err := s.shop().StockLines()
	if err != nil {
		return err
	}
	film := d.Doc.Text("print/film")
	if film == "" && d.File != nil {
		film = d.File.Film
	}
	for _, one := range stocks {
		if one.ForMarks() {
			p.Films = append(p.Films, option{one.Key, stockCalled(one, stocks), one.Key == film})
		}
	}
	printers, err := s.shop().Printers()
	if err != nil {
		return err
	}
	named := d.Doc.Text("print/printer")
	p.Printer = []option{{"", "one that was not measured", named == ""}}
	for _, one := range printers {
		p.Printer = append(p.Printer, option{one.Name, one.Name, one.Name == named})
	}
	if named != "" && !slices.ContainsFunc(p.Printer, func(o option) bool { return o.Chosen }) {
		p.Printer = append(p.Printer, option{named, named, true})
	}
	feed := d.Doc.Text("print/feed")
	if feed == "top" {
		feed = ""
	}
	p.Feed = chosen(feedEdges, feed)
	p.Tight, p.Keep = d.Doc.Text("print/fill") == "tight", d.Doc.Text("print/keep_together") == "true"
	p.Spares, p.Ahead = d.Doc.Text("print/spares"), d.Doc.Text("print/ahead")
	return nil
}

func (s *server) setSheets(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "choices of sheets", "sheets", func(d *batch.Doc) error {
		var tight, keep any
		if r.PostFormValue("fill") == "tight" {
			tight = "tight"
		}
		if r.PostFormValue("keep") != "" {
			keep = true
		}
		printer := orNothing(r.PostFormValue("printer"))
		if printer != nil { // its profile tells its dots
			if err := d.Set("print/dpi", nil); err != nil {
				return err
			}
		}
		for _, one := range []struct {
			path string
			to   any
		}{{"print/film", orNothing(r.PostFormValue("film"))}, {"print/printer", printer}, {"print/feed", orNothing(r.PostFormValue("feed"))},
			{"print/fill", tight}, {"print/keep_together", keep}, {"print/spares", countOf(r.PostFormValue("spares"))}, {"print/ahead", countOf(r.PostFormValue("ahead"))}} {
			if err := d.Set(one.path, one.to); err != nil {
				return err
			}
		}
		return nil
	})
}

// orNothing is what was chosen; nothing takes the key out.
func orNothing(text string) any {
	if text = strings.TrimSpace(text); text == "" {
		return nil
	}
	return text
}

// countOf is a count as the file has it: none takes the key out, and what is no
// count stays as it was typed, for the batch file's own finding.
func countOf(text string) any {
	text = strings.TrimSpace(text)
	n, err := strconv.ParseInt(text, 10, 64)
	switch {
	case text == "" || err == nil && n == 0:
		return nil
	case err != nil:
		return text
	}
	return n
}
