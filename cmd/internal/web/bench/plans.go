package bench

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"sync"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

func (s *server) planPages() []route {
	return []route{
		s.get("b/{batch}/plan/state", s.planState),
		s.post("b/{batch}/plan", s.planAgain),
		s.post("b/{batch}/plan/stop", s.stopPlan),
	}
}

// plans remembers what was worked out of batches, so that pages that only look do
// not work it out again: the latest of each batch, by the version of its file and
// how many readings of its floats there are. A plan is good until something is
// printed or set, which forgets all.
type plans struct {
	mu  sync.Mutex
	all map[string]*planned
}

// planned is a batch as it is worked out in two stages: its figures, which come at
// once, and the whole, which a page shows on its way.
type planned struct {
	version  int64
	readings int
	made     int64 // tells it from any other plan

	once    sync.Once
	figures *job.Plan
	err     error // of the figures

	mu    sync.Mutex
	whole *work         // nil before it began
	asked chan struct{} // closed when a page wants it
}

// planned finds what was worked out of this version of a batch; work on an older
// one stops.
func (s *server) planned(d job.Draft) (*planned, error) {
	readings, err := s.shop().TankCount(d.Name)
	if err != nil {
		return nil, err
	}
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	if s.plans.all == nil {
		s.plans.all = map[string]*planned{}
	}
	p := s.plans.all[d.Name]
	if p == nil || p.version != d.Version || p.readings != readings {
		if p != nil {
			p.stop()
		}
		p = &planned{version: d.Version, readings: readings, made: time.Now().UnixNano(), asked: make(chan struct{})}
		s.plans.all[d.Name] = p
	}
	return p, nil
}

// looks is the workshop as pages plan with it: sheets are packed coarsely.
func (s *server) looks() *job.Workshop {
	shop := *s.shop()
	shop.Preview = true
	return &shop
}

// begun begins the whole plan where it is neither there nor on its way; anew also
// where somebody stopped it.
func (p *planned) begun(s *server, d job.Draft, anew bool) *work {
	p.mu.Lock()
	defer p.mu.Unlock()
	select {
	case <-p.asked:
	default:
		close(p.asked)
	}
	if p.whole == nil || anew && p.whole.stopped() {
		p.whole = s.working(d, p.asked)
	}
	return p.whole
}

// breath is how long work that nobody asked for yet leaves the processors to the
// page that the maker goes on to.
const breath = 150 * time.Millisecond

// soon begins the whole plan for whoever will ask.
func (p *planned) soon(s *server, d job.Draft) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.whole == nil {
		p.whole = s.working(d, p.asked)
	}
}

// working is the work on a whole plan, begun when it is asked for or after a breath.
func (s *server) working(d job.Draft, asked chan struct{}) *work {
	shop := s.looks()
	return started(d.Version, func(ctx context.Context, tell job.Progress) (any, error) {
		select {
		case <-asked:
		case <-time.After(breath):
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		return shop.PlanDraft(ctx, d, tell)
	})
}

func (p *planned) stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.whole != nil {
		p.whole.stop()
	}
}

// figures are a batch's ratings, shot and grading: what needs no layout.
func (s *server) figures(ctx context.Context, d job.Draft) (*job.Plan, error) {
	p, err := s.planned(d)
	if err != nil {
		return nil, err
	}
	// Whoever waits may go; what was begun is finished for who asks next.
	p.once.Do(func() { p.figures, p.err = s.looks().PlanFigures(context.WithoutCancel(ctx), d) })
	return p.figures, p.err
}

// known is the whole plan of a batch where it was worked out already; else nil.
func (s *server) known(d job.Draft) *job.Plan {
	p, err := s.planned(d)
	if err != nil {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.whole == nil || !p.whole.over() {
		return nil
	}
	plan, err := p.whole.planned()
	if err != nil {
		return nil
	}
	return plan
}

// plan waits for the whole plan of a batch, and begins it where nobody did.
func (s *server) plan(ctx context.Context, d job.Draft) (*job.Plan, error) {
	p, err := s.planned(d)
	if err != nil {
		return nil, err
	}
	one := p.begun(s, d, true)
	select {
	case <-one.end:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return one.planned()
}

// stopped reports whether somebody stopped work that has ended.
func (w *work) stopped() bool {
	_, stopped, _ := w.outcome()
	return stopped
}

// planned is the plan that work has made.
func (w *work) planned() (*job.Plan, error) {
	result, stopped, err := w.outcome()
	if stopped {
		return nil, fault.New(fault.Input, "", "this was stopped, or the batch changed, before it was worked out", "open the page again", context.Canceled)
	}
	plan, _ := result.(*job.Plan)
	return plan, err
}

// patience is how long a page waits for a plan before it shows that one is on its
// way, so that no page takes longer than a tenth of a second.
const patience = 40 * time.Millisecond

// waited waits for work as long as a page may, and reports whether it has ended.
func (s *server) waited(r *http.Request, one *work) bool {
	wait := s.o.Patience
	if wait == 0 {
		wait = patience
	}
	select {
	case <-r.Context().Done():
		return one.over()
	default:
		return one.soon(wait)
	}
}

// ready is the whole plan where it is there or comes within the wait; else nil, and
// what the page shows meanwhile. page is the key of its day.
func (s *server) ready(r *http.Request, d job.Draft, page string) (*job.Plan, *workState, error) {
	p, err := s.planned(d)
	if err != nil {
		return nil, nil, err
	}
	one := p.begun(s, d, false)
	at, to := Path+batchPath(d.Name, "plan"), "?page="+page
	if s.waited(r, one) {
		if one.stopped() {
			return nil, &workState{Again: at + to}, nil
		}
		plan, err := one.planned()
		return plan, nil, err
	}
	state := s.stateOf(r, one)
	state.Now, state.Stop, state.Here = at+"/state", at+"/stop"+to, Path+batchPath(d.Name, page)
	return nil, &state, nil
}

// ahead works a batch out that was changed or is looked at, while its maker looks at
// the next page; what was being worked out of it before stops.
func (s *server) ahead(d job.Draft) {
	if !s.o.Ahead {
		return
	}
	if p, err := s.planned(d); err == nil && d.Err == nil { // whoever needs it is told what is wrong
		p.soon(s, d)
	}
}

// going is what was begun last of a batch's plan; nil for nothing.
func (s *server) going(name string) *work {
	s.plans.mu.Lock()
	p := s.plans.all[name]
	s.plans.mu.Unlock()
	if p == nil {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.whole
}

func (s *server) planState(w http.ResponseWriter, r *http.Request) error {
	return s.sendState(w, r, s.going(r.PathValue("batch")))
}

func (s *server) stopPlan(w http.ResponseWriter, r *http.Request) error {
	if one := s.going(r.PathValue("batch")); one != nil {
		one.stop()
		one.soon(time.Second) // it stops at its next step
	}
	return backToDay(w, r)
}

// planAgain begins a plan once more that was stopped.
func (s *server) planAgain(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	p, err := s.planned(d)
	if err != nil {
		return err
	}
	p.begun(s, d, true)
	return backToDay(w, r)
}

// backToDay leads back to the page of the day that a form was sent from.
func backToDay(w http.ResponseWriter, r *http.Request) error {
	page := r.URL.Query().Get("page")
	if !slices.ContainsFunc(days, func(d struct{ key, name string }) bool { return d.key == page }) {
		page = ""
	}
	return back(w, r, batchPath(r.PathValue("batch"), page))
}

// stamp names what was worked out of a batch last; pictures of it are called by it,
// and may be kept as long as the page asks for them by the same.
func (s *server) stamp(d job.Draft) string {
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	if p := s.plans.all[d.Name]; p != nil {
		return strconv.FormatInt(p.made, 36)
	}
	return ""
}

// forget drops what was worked out: sheets, settings or records are other now.
func (s *server) forget() {
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	for _, p := range s.plans.all {
		p.stop()
	}
	s.plans.all = nil
}
