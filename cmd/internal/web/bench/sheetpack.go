package bench

import (
	"context"
	"net/http"
	"time"

	"floatmark/cmd/internal/job"
)

func planKey(r *http.Request) string { return "plan " + r.PathValue("batch") }

func packKey(r *http.Request) string { return "pack " + r.PathValue("batch") }

// packed is a plan whose film is packed as for printing, and the quick one of the
// same batch and sheets: where that is another now, this one is out of date.
type packed struct{ quick, close *job.Plan }

// sheetPlan is the plan whose sheets are shown: packed as for printing where that
// was asked for, else the quick one. p and f, where given, hear of it.
func (s *server) sheetPlan(r *http.Request, d job.Draft, p *sheetsPage, f *frame) (*job.Plan, error) {
	quick, err := s.quickPlan(r, d, p, patience)
	if err != nil || quick == nil {
		return nil, err
	}
	one := s.works.of(packKey(r))
	if one == nil {
		return quick, nil
	}
	if state := s.stateOf(r, one); state.Running {
		if p != nil {
			here := Path + batchPath(d.Name, "sheets")
			state.Now, state.Stop, state.Here = here+"/state", here+"/stop", here
			p.Work = &state
		}
		return quick, nil
	}
	result, _, err := one.outcome()
	if err != nil && one.on == d.Version && f != nil {
		f.Findings = append(f.Findings, findings(err)...)
	}
	if done, ok := result.(packed); ok && done.quick == quick {
		return done.close, nil
	}
	return quick, nil
}

// patience is how long a page waits for a plan before it shows that one is on its
// way: as long as nobody thinks that it hangs.
const patience = 1500 * time.Millisecond

// quickPlan is the quick plan; where it is not there within the wait, p shows that
// it goes on and the plan is nil.
func (s *server) quickPlan(r *http.Request, d job.Draft, p *sheetsPage, wait time.Duration) (*job.Plan, error) {
	if p == nil {
		return s.plan(r.Context(), d)
	}
	var plan *job.Plan
	var err error
	done := make(chan struct{})
	go func() {
		defer close(done)
		plan, err = s.plan(context.Background(), d)
	}()
	enough := time.NewTimer(wait)
	defer enough.Stop()
	select {
	case <-done:
		return plan, err
	case <-enough.C:
	}
	s.works.begin(planKey(r), d.Version, func(ctx context.Context, tell job.Progress) (any, error) {
		tell("marks", 0, 0)
		_, err := s.plan(ctx, d) // the one that is on its way
		return nil, err
	})
	state := s.stateOf(r, s.works.of(planKey(r)))
	here := Path + batchPath(d.Name, "sheets")
	state.Now, state.Here = here+"/state", here
	p.Work = &state
	return nil, nil
}

// sheetState is the state of what goes on for the page of sheets.
func (s *server) sheetState(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(planKey(r)); one != nil && !one.over() {
		return s.sendState(w, r, one)
	}
	return s.sendState(w, r, s.works.of(packKey(r)))
}

// pack begins to pack the film as for printing: what the figures then say is what
// the print spends.
func (s *server) pack(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	quick, err := s.plan(r.Context(), d)
	if err != nil {
		return err
	}
	shop := *s.shop()
	shop.Preview = false
	s.works.begin(packKey(r), d.Version, func(ctx context.Context, tell job.Progress) (any, error) {
		plan, err := shop.PlanDraft(ctx, d, tell)
		return packed{quick, plan}, err
	})
	return back(w, r, batchPath(d.Name, "sheets"))
}

func (s *server) stopPacking(w http.ResponseWriter, r *http.Request) error {
	if one := s.works.of(packKey(r)); one != nil {
		one.stop()
	}
	return back(w, r, batchPath(r.PathValue("batch"), "sheets"))
}
