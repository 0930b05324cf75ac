package bench

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) sheetsPages() []route {
	return []route{
		s.get("b/{batch}/sheets", s.sheets),
		s.post("b/{batch}/sheets", s.setSheets),
		s.post("b/{batch}/sheets/{number}", s.setSheet),
		s.get("b/{batch}/sheets/{picture}", s.sheetPicture),
		s.get("sheet/{picture}", s.spentPicture),
	}
}

// sheetsPage is what will be printed where, and the choices that decide it.
type sheetsPage struct {
	Known   bool // the plan could be worked out
	ByHand  bool // marks without film
	Sheets  []laidShown
	Use     job.FilmUse
	From    int  // per cent of the marks' film that comes from part-used sheets
	On      int  // per cent of what is spent of fresh sheets that goes on floats
	Left    int  // mm of the last fresh sheet that stay a full rectangle
	Before  int  // the print that has these very marks already, 0 for none
	Right   bool // and it came out right
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
		if plan, err := s.plan(r.Context(), d); err != nil {
			f.Findings = append(f.Findings, findings(err)...)
		} else {
			s.laid(d, plan, &p)
			f.Next = &link{"Print it", Path + batchPath(d.Name, "print")}
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
	p.From, p.On, p.Left = perCent(p.Use.FromPartUsed), perCent(p.Use.OnFloats), int(p.Use.Left)
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
			p.Films = append(p.Films, option{one.Key, one.Name + " (" + one.Key + ")", one.Key == film})
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

// setSheet corrects what is known of a sheet that lies on the bench.
func (s *server) setSheet(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(r.PathValue("number"))
	if err != nil {
		return fault.New(fault.NotFound, "", "there is no sheet of that number", "choose one of the list")
	}
	ctx, shop, note := r.Context(), s.shop(), strings.TrimSpace(r.PostFormValue("note"))
	switch r.PostFormValue("what") {
	case "used up":
		err = shop.UseUp(ctx, n, note)
	case "written off":
		err = shop.WriteOff(ctx, n, note)
	case "reopen":
		err = shop.Reopen(ctx, n, note)
	case "part":
		part, e := partOf(r.PostFormValue("edge"), r.PostFormValue("deep"))
		if e != nil {
			return e
		}
		if r.PostFormValue("free") != "" {
			err = shop.FreePart(ctx, n, part, note)
		} else {
			err = shop.UsedPart(ctx, n, part, note)
		}
	default:
		err = fault.Inputf("press one of the page's buttons", "the form does not say what became of the sheet")
	}
	if err != nil {
		return err
	}
	s.forget() // plans count on it
	return back(w, r, batchPath(r.PathValue("batch"), "sheets"))
}

// partOf is a strip along an edge of a sheet, so deep.
func partOf(edge, deep string) (p job.SheetPart, err error) {
	deep = strings.TrimSpace(deep)
	if _, e := strconv.ParseFloat(strings.Replace(deep, ",", ".", 1), 64); e == nil {
		deep += " mm"
	}
	switch edge {
	case "top":
		p.Top = deep
	case "right":
		p.Right = deep
	case "bottom":
		p.Bottom = deep
	case "left":
		p.Left = deep
	default:
		return p, fault.Inputf("choose one of the four", "the form does not say from which edge")
	}
	return p, nil
}

// lookDPI shows a sheet of A4 with its air about 590 pixels wide.
const lookDPI = 64.0

// sheetPicture sends a sheet of film as it will come out: PNG on the page, SVG to
// be looked at closely.
func (s *server) sheetPicture(w http.ResponseWriter, r *http.Request) error {
	name, kind, _ := strings.Cut(r.PathValue("picture"), ".")
	page, err := strconv.Atoi(name)
	if err != nil || kind != "png" && kind != "svg" {
		return fault.New(fault.NotFound, "", "there is no such picture", "")
	}
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	plan, err := s.plan(r.Context(), d)
	if err != nil {
		return err
	}
	data, err := s.laidPics.of(plan, page, kind == "svg")
	if err != nil {
		return err
	}
	return sendTagged(w, r, kinds["."+kind], data)
}

// laidPictures remembers the pictures of the plan that was looked at last.
type laidPictures struct {
	mu   sync.Mutex
	plan *job.Plan
	all  map[laidKey][]byte
}

type laidKey struct {
	page  int
	close bool
}

func (l *laidPictures) of(plan *job.Plan, page int, close bool) ([]byte, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.plan != plan {
		l.plan, l.all = plan, map[laidKey][]byte{}
	}
	key := laidKey{page, close}
	if data := l.all[key]; data != nil {
		return data, nil
	}
	var data []byte
	var err error
	if close {
		data, err = plan.LaidSVG(page)
	} else {
		data, err = plan.LaidPNG(page, lookDPI)
	}
	if err == nil {
		l.all[key] = data
	}
	return data, err
}

// spentPicture sends what is spent of a sheet.
func (s *server) spentPicture(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(strings.TrimSuffix(r.PathValue("picture"), ".png"))
	if err != nil {
		return fault.New(fault.NotFound, "", "there is no such picture", "")
	}
	data, err := s.shop().SheetPNG(n)
	if err != nil {
		return err
	}
	return sendTagged(w, r, kinds[".png"], data)
}

// sendTagged sends a picture that may have changed since: who has it already is
// told so.
func sendTagged(w http.ResponseWriter, r *http.Request, kind string, data []byte) error {
	sum := sha256.Sum256(data)
	tag := `"` + hex.EncodeToString(sum[:8]) + `"`
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Cache-Control", "no-cache")
	h.Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	h.Set("Content-Length", strconv.Itoa(len(data)))
	_, _ = w.Write(data) // the reader's connection may be gone
	return nil
}
