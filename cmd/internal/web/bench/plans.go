package bench

import (
	"context"
	"strconv"
	"sync"
	"time"

	"floatmark/cmd/internal/job"
)

// plans remembers what was worked out of batches, so that pages that only look do
// not work it out again: the latest of each batch, by the version of its file and
// how many readings of its floats there are. A plan is good until something is
// printed or set, which forgets all.
type plans struct {
	mu  sync.Mutex
	all map[string]*planned
}

type planned struct {
	version  int64
	readings int
	made     int64 // tells it from any other plan
	once     sync.Once
	plan     *job.Plan
	err      error
}

// plan works a batch out, or finds what was worked out of this version.
func (s *server) plan(ctx context.Context, d job.Draft) (*job.Plan, error) {
	readings, err := s.shop().TankCount(d.Name)
	if err != nil {
		return nil, err
	}
	s.plans.mu.Lock()
	if s.plans.all == nil {
		s.plans.all = map[string]*planned{}
	}
	p := s.plans.all[d.Name]
	if p == nil || p.version != d.Version || p.readings != readings {
		p = &planned{version: d.Version, readings: readings, made: time.Now().UnixNano()}
		s.plans.all[d.Name] = p
	}
	s.plans.mu.Unlock()
	p.once.Do(func() {
		shop := *s.shop()
		shop.Preview = true
		// Whoever waits may go; what was begun is finished for who asks next.
		p.plan, p.err = shop.PlanDraft(context.WithoutCancel(ctx), d, nil)
	})
	return p.plan, p.err
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
	s.plans.all = nil
}
