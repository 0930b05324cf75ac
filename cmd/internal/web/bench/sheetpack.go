package bench

import (
	"context"
	"net/http"

	"floatmark/cmd/internal/job"
)

func packKey(r *http.Request) string { return "pack " + r.PathValue("batch") }

// packed is a plan whose film is packed as for printing, and the quick one of the
// same batch and sheets: where that is another now, this one is out of date.
type packed struct{ quick, close *job.Plan }

// sheetPlan is the plan whose sheets are shown: packed as for printing where that
// was asked for, else the quick one. p and f, where given, hear of it.
func (s *server) sheetPlan(r *http.Request, d job.Draft, p *sheetsPage, f *frame) (*job.Plan, error) {
	var quick *job.Plan
	var err error
	if p == nil {
		quick, err = s.plan(r.Context(), d)
	} else {
		quick, p.Work, err = s.ready(r, d, "sheets")
	}
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
		yet, slips := told(d, err)
		f.Missing, f.Findings = append(f.Missing, yet...), append(f.Findings, slips...)
	}
	if done, ok := result.(packed); ok && done.quick == quick {
		return done.close, nil
	}
	return quick, nil
}

// sheetState is the state of film that is being packed.
func (s *server) sheetState(w http.ResponseWriter, r *http.Request) error {
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
