package bench

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) printPages() []route {
	return []route{
		s.get("b/{batch}/print", s.prints),
		s.post("b/{batch}/print", s.printIt),
		s.get("b/{batch}/print/state", func(w http.ResponseWriter, r *http.Request) error { return s.sendState(w, r, s.works.of(printKey(r))) }),
		s.post("b/{batch}/print/stop", s.stopPrint),
		s.post("b/{batch}/print/{number}", s.settle),
		s.get("b/{batch}/print/{number}/{file...}", s.printFile),
	}
}

func printKey(r *http.Request) string { return "print " + r.PathValue("batch") }

// printPage is the page of what was and what will be printed of a batch.
type printPage struct {
	Work    *workState
	Stopped bool // the last print was stopped before it printed anything
	Whole   bool // the batch file can be printed
	Shares  bool // another batch waits that can go on the same sheets
	Pending []printShown
	Earlier []printShown // settled, the latest first
	Done    bool         // the last print came out right, and none goes on
	Form    printForm
	Floats  int         // of the batch, 0 where it is not whole
	Use     job.FilmUse // what the print takes of the film, as far as that is known
}

// printForm is what is typed to print.
type printForm struct {
	ForShop, Again, Coarse bool
	CutName, Only          string
}

// printShown is a print with the names that its files go by.
type printShown struct {
	job.BatchPrint
	When, SettledWhen string
	Main, Others      []fileShown
	Zip, All          string // paths of the print shop's folder, "" for none, and of all files, packed
	FloatCount        int
	Since             string // floats of it whose marks a later print has once more, as where some were spoilt: "7, 12"
	Gone              bool   // its files do not lie here
}

// fileShown is a file to be downloaded. About tells what it is for.
type fileShown struct {
	Name, About, To, Save, Size string
}

func (s *server) prints(w http.ResponseWriter, r *http.Request) error {
	return s.showPrints(w, r, http.StatusOK, printForm{}, nil)
}

func (s *server) showPrints(w http.ResponseWriter, r *http.Request, status int, form printForm, found []finding) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	all, err := s.shop().BatchPrints(d.Name)
	if err != nil {
		return err
	}
	f := s.batchFrame(d, "print", "Print")
	f.Findings = append(f.Findings, found...)
	p := printPage{Whole: d.Err == nil, Form: form}
	for _, one := range slices.Backward(all) {
		shown := s.shown(d.Name, one)
		shown.Since = printedSince(one, all)
		if one.State == "pending" {
			p.Pending = append(p.Pending, shown)
		} else {
			p.Earlier = append(p.Earlier, shown)
		}
	}
	if p.Whole {
		p.Floats = len(d.File.Batch.Floats)
		if plan := s.known(d); plan != nil {
			p.Use = plan.FilmUse()
		}
	}
	to := Path + batchPath(d.Name, "print")
	if one := s.works.of(printKey(r)); one != nil {
		if state := s.stateOf(r, one); state.Running {
			state.Now, state.Stop, state.Here = to+"/state", to+"/stop", to
			p.Work = &state
		} else {
			p.Stopped, status = printOutcome(one, d, &f, status)
		}
	}
	switch {
	case d.Err != nil:
		f.Next = &link{"Mend the batch first", Path + batchPath(d.Name, "floats")}
	case p.Work == nil && len(p.Pending) == 0 && len(all) > 0 && all[len(all)-1].State == "confirmed":
		p.Done = true
		f.Next = &link{"Tick the floats off after varnish", Path + batchPath(d.Name, "tick")}
	}
	p.Shares = p.Whole && p.Work == nil && len(all) == 0 && s.shares(d)
	f.Body = p
	s.send(w, r, status, "print", f)
	return nil
}

// printedSince lists the floats of a print whose marks alone a later one printed once
// more: those came out right there, or not at all.
func printedSince(p job.BatchPrint, all []job.BatchPrint) string {
	var numbers []int
	for _, later := range all {
		if later.Number > p.Number && later.State != "cancelled" && len(later.Floats) < len(p.Floats) {
			for _, n := range later.Floats {
				if slices.Contains(p.Floats, n) {
					numbers = append(numbers, n)
				}
			}
		}
	}
	slices.Sort(numbers)
	var texts []string
	for _, n := range slices.Compact(numbers) {
		texts = append(texts, strconv.Itoa(n))
	}
	return strings.Join(texts, ", ")
}

// printOutcome tells what became of the last print that was begun here, as long as
// it is about the batch as it is now.
func printOutcome(one *work, d job.Draft, f *frame, status int) (stopped bool, _ int) {
	_, stopped, err := one.outcome()
	if one.on != d.Version {
		return false, status
	}
	if err != nil {
		_, slips := told(d, err)
		f.Findings = append(f.Findings, atThePage(slips)...)
		status = max(status, http.StatusUnprocessableEntity)
	}
	return stopped, status
}

// atThePage tells what to do in terms of the page, where it was meant for the
// command line.
func atThePage(all []finding) []finding {
	for i := range all {
		switch {
		case strings.Contains(all[i].Do, "--again"):
			all[i].Do = "tick below that it is printed once more, or print what changed"
		case strings.Contains(all[i].Do, "floatmark prints"):
			all[i].Do = "say first, above, how it came out"
		}
	}
	return all
}

// printIt begins a print. Where one goes on, its page shows it.
func (s *server) printIt(w http.ResponseWriter, r *http.Request) error {
	seen, err := version(r)
	if err != nil {
		return err
	}
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	if d.Version != seen {
		return fault.New(fault.Input, d.Name, "the batch was changed since this page was shown, so nothing was printed", "look at it again, then print", job.ErrChanged)
	}
	form := printForm{ForShop: r.PostFormValue("where") == "shop", Again: r.PostFormValue("again") != "", Coarse: r.PostFormValue("coarse") != "",
		CutName: strings.TrimSpace(r.PostFormValue("cut")), Only: r.PostFormValue("only")}
	only, err := floatNumbers(form.Only)
	if err == nil {
		err = haveFloats(d, only)
	}
	if err != nil {
		return s.showPrints(w, r, http.StatusUnprocessableEntity, form, findings(err))
	}
	o := job.PrintOrder{Only: only, Again: form.Again, Coarse: form.Coarse}
	if form.ForShop {
		o.Shop = &job.ForShop{CutName: form.CutName}
	}
	s.beginPrint(r, d, o)
	return back(w, r, batchPath(d.Name, "print"))
}

// beginPrint begins a print of the draft, unless one of its batch goes on.
func (s *server) beginPrint(r *http.Request, d job.Draft, o job.PrintOrder) {
	shop := s.shop()
	s.works.begin(printKey(r), d.Version, func(ctx context.Context, tell job.Progress) (any, error) {
		done, err := shop.PrintDraft(ctx, d, o, tell)
		s.forget() // the sheets are other now
		return done, err
	})
}

func (s *server) stopPrint(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(printKey(r)); one != nil {
		one.stop()
	}
	return back(w, r, batchPath(r.PathValue("batch"), "print"))
}

// settle notes how a print came out. What was said already and is said again, as by
// a button that was pressed twice, changes nothing.
func (s *server) settle(w http.ResponseWriter, r *http.Request) error {
	number, state, err := s.printOf(r)
	if err != nil {
		return err
	}
	ctx, shop, how := r.Context(), s.shop(), r.PostFormValue("how")
	again := s.works.of(printKey(r))
	if how == "right" && state == "confirmed" || how == "spoilt" && state == "cancelled" ||
		how == "some" && state == "confirmed" && again != nil && !again.over() {
		return back(w, r, batchPath(r.PathValue("batch"), "print"))
	}
	switch how {
	case "right":
		err = shop.ConfirmPrint(ctx, number)
	case "some":
		return s.someSpoilt(w, r, number)
	case "spoilt":
		var lost []int
		for _, text := range r.PostForm["lost"] {
			n, e := strconv.Atoi(text)
			if e != nil {
				return fault.Inputf("tick the sheets of the list", "%q is no number of a sheet", text)
			}
			lost = append(lost, n)
		}
		err = shop.CancelPrint(ctx, number, lost)
	default:
		return fault.Inputf("press one of the page's buttons", "the form does not say how the print came out")
	}
	if err != nil {
		return err
	}
	s.forget()
	return back(w, r, batchPath(r.PathValue("batch"), "print"))
}

// someSpoilt notes a print that came out right but for some floats, and prints
// their marks again.
func (s *server) someSpoilt(w http.ResponseWriter, r *http.Request, number int) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	again, err := floatNumbers(r.PostFormValue("floats"))
	if err == nil && len(again) == 0 {
		err = fault.Inputf("give their numbers on the drying board, such as 7, 12", "which floats have a spoilt mark?")
	}
	if err == nil {
		err = haveFloats(d, again)
	}
	if err != nil {
		return s.showPrints(w, r, http.StatusUnprocessableEntity, printForm{}, findings(err))
	}
	if err := s.shop().ConfirmPrint(r.Context(), number); err != nil {
		return err
	}
	s.forget()
	s.beginPrint(r, d, job.PrintOrder{Only: again, Again: true})
	return back(w, r, batchPath(d.Name, "print"))
}

// haveFloats is an error where the batch has no float of one of the numbers; a batch
// that is not whole is told of elsewhere.
func haveFloats(d job.Draft, numbers []int) error {
	if d.Err != nil {
		return nil
	}
	there := map[int]bool{}
	for _, f := range d.File.Batch.Floats {
		there[f.Number] = true
	}
	for _, n := range numbers {
		if !there[n] {
			return fault.Inputf("give numbers of its drying board", "there is no float %d in the batch", n)
		}
	}
	return nil
}

// printOf is the number of a request's print, which is one of its batch, and its
// state.
func (s *server) printOf(r *http.Request) (int, string, error) {
	n, err := strconv.Atoi(r.PathValue("number"))
	if err == nil {
		all, err := s.shop().BatchPrints(r.PathValue("batch"))
		if err != nil {
			return 0, "", err
		}
		if i := slices.IndexFunc(all, func(p job.BatchPrint) bool { return p.Number == n }); i >= 0 {
			return n, all[i].State, nil
		}
	}
	return 0, "", fault.New(fault.NotFound, "", "the batch has no print of that number", "choose one of its list")
}

// mostOnly is how many numbers are taken, as a batch has that many floats.
const mostOnly = 10000

// floatNumbers reads "7, 12-14" as 7, 12, 13 and 14, each once and in order.
func floatNumbers(text string) ([]int, error) {
	const do = "write numbers of the drying board, such as 7, 12-14"
	var all []int
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == ' ' || r == '\n' || r == '\r' || r == '\t' }) {
		from, to, ranged := strings.Cut(strings.ReplaceAll(part, "–", "-"), "-")
		if !ranged {
			to = from
		}
		a, errA := strconv.Atoi(from)
		b, errB := strconv.Atoi(to)
		if errA != nil || errB != nil || a < 1 || b < a || b-a >= mostOnly || len(all) > mostOnly {
			return nil, fault.Inputf(do, "%q is no number of a float", part)
		}
		for n := a; n <= b; n++ {
			all = append(all, n)
		}
	}
	slices.Sort(all)
	return slices.Compact(all), nil
}

// clockText shows a moment on the clock of this machine; as it stands if it is none.
func clockText(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Local().Format("2006-01-02 15:04")
}
