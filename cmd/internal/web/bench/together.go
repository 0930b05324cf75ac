package bench

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) togetherPages() []route {
	return []route{
		s.get("b/{batch}/together", s.together),
		s.post("b/{batch}/together", s.printTogether),
		s.get("b/{batch}/together/state", s.togetherState),
		s.post("b/{batch}/together/stop", s.stopTogether),
		s.post("b/{batch}/together/{key}", s.settleTogether),
		s.get("b/{batch}/together/{picture}", s.togetherPicture),
		s.get("together/{key}/{file}", s.togetherFile),
	}
}

func togetherKey(r *http.Request) string { return "together " + r.PathValue("batch") }

func comparedKey(r *http.Request) string { return "compared " + r.PathValue("batch") }

// togetherPage is the page of what is printed with other batches on common sheets.
type togetherPage struct {
	Work    *workState
	Plans   bool // what goes on is only working out
	Stopped bool
	Film    string
	Fit     []otherBatch // that can share the sheets
	Unfit   []otherBatch
	Chosen  []job.Draft // the page's own batch first; none until others are chosen
	Known   bool        // figures and pictures are there
	Figures togetherFigures
	Batches []tinted
	Sheets  []commonShown
	Alone   []aloneShown
	Prints  []togetherShown
	Waits   bool // somebody is to say how one of Prints came out
}

// otherBatch is another batch of the workshop, and why it cannot share the sheets.
type otherBatch struct {
	Name, Why, Is string // Is fills what Why asks for
	Floats        int
	Chosen        bool
}

// togetherFigures compare what is spent together with what each batch spends alone.
type togetherFigures struct {
	In, InAlone         int // sheets to put into the printer
	Fresh, FreshAlone   int
	Spent, SpentAlone   int // per cent of one sheet
	Again, RightAlready string
}

// Saved are the sheets that need not go through the printer.
func (f togetherFigures) Saved() int { return max(0, f.InAlone-f.In) }

// FreshSaved are the sheets that need not be opened.
func (f togetherFigures) FreshSaved() int { return max(0, f.FreshAlone-f.Fresh) }

type tinted struct {
	Name         string
	Tint, Floats int
}

type commonShown struct {
	job.CommonSheet
	Picture string
	Is      int
}

type aloneShown struct {
	Batch, Picture string
	Page           int
}

// compared is batches worked out alone and together, on what there was then.
type compared struct {
	on     string
	alone  []*job.Plan
	common *job.Together
}

// mostOthers bounds how many batches are looked at, the latest first.
const mostOthers = 40

func (s *server) together(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "sheets", "Print together with other batches")
	p := togetherPage{}
	here := Path + batchPath(d.Name, "together")
	if d.Err == nil {
		p.Film = s.stockName(d.File.Film)
		if err := s.others(d, r.URL.Query()["with"], &p); err != nil {
			return err
		}
	}
	if p.Prints, err = s.togetherPrints(d.Name); err != nil {
		return err
	}
	p.Waits = slices.ContainsFunc(p.Prints, togetherShown.Open)
	status := http.StatusOK
	if one := s.works.of(togetherKey(r)); one != nil {
		if state := s.stateOf(r, one); state.Running {
			state.Now, state.Stop, state.Here = here+"/state", here+"/stop", here
			p.Work = &state
		} else {
			p.Stopped, status = printOutcome(one, d, &f, status)
		}
	}
	if len(p.Chosen) > 1 && p.Work == nil {
		if err := s.comparison(r, &p, &f); err != nil {
			f.Findings = append(f.Findings, findings(err)...)
			status = http.StatusUnprocessableEntity
		}
	}
	switch {
	case d.Err != nil:
		f.Next = &link{"Mend the batch first", Path + batchPath(d.Name, "floats")}
	case p.Waits, p.Work != nil, p.Known, len(p.Fit) > 0: // the page itself says what is next
	default:
		f.Next = &link{"Back to its sheets", Path + batchPath(d.Name, "sheets")}
	}
	f.Body = p
	s.send(w, r, status, "together", f)
	return nil
}

// others lists the batches that can go on the same sheets, and those that cannot.
func (s *server) others(d job.Draft, chosen []string, p *togetherPage) error {
	all, err := s.shop().TankBatches()
	if err != nil {
		return err
	}
	picked := []job.Draft{d}
	for _, b := range all[:min(len(all), mostOthers)] {
		if b.Name == d.Name || b.Known == "read" {
			continue
		}
		if b.Known == "printed" { // its file need not be opened for that
			p.Unfit = append(p.Unfit, otherBatch{Name: b.Name, Why: "printed already"})
			continue
		}
		o, err := s.shop().Draft(b.Name)
		if err != nil {
			continue // one that cannot be opened is told on its own page
		}
		one := otherBatch{Name: o.Name}
		one.Why, one.Is = s.apart(d, o)
		if one.Why != "" {
			p.Unfit = append(p.Unfit, one)
			continue
		}
		one.Floats, one.Chosen = len(o.File.Batch.Floats), slices.Contains(chosen, o.Name)
		p.Fit = append(p.Fit, one)
		if one.Chosen {
			picked = append(picked, o)
		}
	}
	if len(picked) > 1 {
		p.Chosen = picked
	}
	return nil
}

// apart is why another batch cannot go on the sheets of one; "" where it can.
func (s *server) apart(d, o job.Draft) (why, is string) {
	switch {
	case o.Err != nil:
		return "not whole yet", ""
	case o.File.Film != d.File.Film:
		return "for other film: %s", s.stockName(o.File.Film)
	case o.File.Printer != d.File.Printer || o.File.DPI != d.File.DPI:
		return "for another printer", ""
	}
	return "", ""
}

// stockName is what a stock is called; its key where nobody knows it.
func (s *server) stockName(key string) string {
	all := s.shop().Stocks()
	for _, one := range all {
		if one.Key == key {
			return one.Name
		}
	}
	return key
}

// mostAsked bounds how many batches a page that only leads on opens, the latest
// first: each takes it a millisecond or two.
const mostAsked = 6

// shares reports whether one of the latest batches waits that can go on the same
// sheets.
func (s *server) shares(d job.Draft) bool {
	all, err := s.shop().TankBatches()
	if err != nil {
		return false // it is told where they are listed
	}
	asked := 0
	for _, b := range all {
		if b.Name == d.Name || b.Known != "opened" {
			continue
		}
		if o, err := s.shop().Draft(b.Name); err == nil {
			if why, _ := s.apart(d, o); why == "" {
				return true
			}
		}
		if asked++; asked == mostAsked {
			break
		}
	}
	return false
}

// comparison fills in what the chosen batches spend, as soon as it is worked out.
func (s *server) comparison(r *http.Request, p *togetherPage, f *frame) error {
	one, err := s.compare(r, p.Chosen)
	if err != nil {
		return err
	}
	one.soon(patience)
	if state := s.stateOf(r, one); state.Running {
		here := Path + batchPath(r.PathValue("batch"), "together")
		state.Now, state.Stop, state.Here = here+"/state", here+"/stop", here+"?"+r.URL.RawQuery
		p.Work, p.Plans = &state, true
		return nil
	}
	result, stopped, err := one.outcome()
	if err != nil || stopped {
		s.works.drop(comparedKey(r))
		return err
	}
	c, ok := result.(compared)
	if !ok {
		return nil
	}
	p.Known = true
	s.compared(r, c, p)
	for n, plan := range c.common.Plans {
		if number, right, ok := plan.Before(); ok && right {
			f.Findings = append(f.Findings, finding{Where: p.Chosen[n].Name, What: fmt.Sprintf("its marks are print %d, which came out right", number), Do: "take it off the list, or print it by itself once more"})
			p.Figures.RightAlready = p.Chosen[n].Name
		}
	}
	return nil
}

// compare finds the comparison of these batches as they are now, or begins it.
func (s *server) compare(r *http.Request, drafts []job.Draft) (*work, error) {
	key := comparedKey(r)
	on, err := s.comparedOn(drafts)
	if err != nil {
		return nil, err
	}
	one := s.works.of(key)
	if one != nil && one.over() {
		result, stopped, err := one.outcome()
		c, _ := result.(compared)
		if err == nil && !stopped && c.on != on {
			s.works.drop(key)
			one = nil
		}
	}
	if one != nil {
		return one, nil
	}
	shop := *s.shop()
	shop.Preview = true
	s.works.begin(key, 0, func(ctx context.Context, tell job.Progress) (any, error) {
		c := compared{}
		for i, d := range drafts {
			tell("marks", i, 2*len(drafts))
			plan, err := s.plan(ctx, d)
			if err != nil {
				return nil, fault.At(d.Name, err)
			}
			c.alone = append(c.alone, plan)
		}
		var err error
		tell("sheets", len(drafts), 2*len(drafts))
		if c.common, err = shop.PlanDrafts(ctx, drafts, nil); err != nil {
			return nil, err
		}
		c.on, err = s.comparedOn(drafts)
		return c, err
	})
	return s.works.of(key), nil
}

// comparedOn names what a comparison holds for: the batches, their files, readings
// and plans.
func (s *server) comparedOn(drafts []job.Draft) (string, error) {
	var on strings.Builder
	for _, d := range drafts {
		n, err := s.shop().TankCount(d.Name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&on, "%q %d %d %s\n", d.Name, d.Version, n, s.stamp(d))
	}
	return on.String(), nil
}

// compared turns a comparison into what the page shows.
func (s *server) compared(r *http.Request, c compared, p *togetherPage) {
	with := url.Values{}
	spent, spentAlone := 0.0, 0.0
	for n, d := range p.Chosen {
		p.Batches = append(p.Batches, tinted{d.Name, n % job.TintCount, len(d.File.Batch.Floats)})
		if n > 0 {
			with.Add("with", d.Name)
		}
	}
	for n, plan := range c.alone {
		use := plan.FilmUse()
		p.Figures.FreshAlone += use.Fresh
		for _, l := range plan.LaidSheets() {
			p.Figures.InAlone++
			spentAlone += l.After - l.Before
			p.Alone = append(p.Alone, aloneShown{p.Chosen[n].Name, fmt.Sprintf("%s%s/%d.png", Path, batchPath(p.Chosen[n].Name, "sheets"), l.Page), l.Page})
		}
	}
	at := Path + batchPath(r.PathValue("batch"), "together") + "/"
	for i, sheet := range c.common.Sheets {
		p.Figures.In++
		if !sheet.PartUsed {
			p.Figures.Fresh++
		}
		spent += sheet.After - sheet.Before
		p.Sheets = append(p.Sheets, commonShown{sheet, fmt.Sprintf("%s%d.png?%s", at, i, with.Encode()), perCent(sheet.After)})
	}
	p.Figures.Spent, p.Figures.SpentAlone = perCent(spent), perCent(spentAlone)
}

// togetherPicture sends a common sheet with each batch in its tint.
func (s *server) togetherPicture(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(strings.TrimSuffix(r.PathValue("picture"), ".png"))
	if err != nil {
		return fault.New(fault.NotFound, "", "there is no such picture", "")
	}
	one := s.works.of(comparedKey(r))
	if one != nil && one.over() {
		if result, _, err := one.outcome(); err == nil {
			if c, ok := result.(compared); ok {
				data, err := c.common.SheetPNG(n, lookDPI)
				if err != nil {
					return err
				}
				return sendTagged(w, r, kinds[".png"], data)
			}
		}
	}
	return fault.New(fault.NotFound, "", "there is no such picture", "open the page again")
}
