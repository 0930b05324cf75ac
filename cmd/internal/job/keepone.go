package job

import (
	"context"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// KeepOne begins a batch of one float, named s.Name, from what a single mark is made
// of: it is a draft like any other from then on. Errors are those of PlanOne, and
// Input for a name that is missing or taken.
func (w *Workshop) KeepOne(ctx context.Context, s Single, by string) error {
	if s.Name == "" {
		return fault.Inputf("give it a name, such as the year and the month", "a batch needs a name")
	}
	if s.Date == "" {
		s.Date = time.Now().Format(time.DateOnly)
	}
	s.Record = true
	src, err := w.singleSource(s)
	if err != nil {
		return err
	}
	doc, err := batch.ParseDoc(src)
	if err == nil {
		err = doc.Set("maker", nil) // the workshop's, or the draft says that it is missing
	}
	if err != nil {
		return err
	}
	store, err := w.opened()
	if err != nil {
		return err
	}
	defer store.Close()
	before, err := w.draft(store, s.Name)
	if err := free(s.Name, before, err); err != nil {
		return err
	}
	_, err = w.keep(ctx, store, Draft{Name: s.Name, Doc: doc}, "begin", by, 0)
	return err
}

// PNG is a picture of the mark, flat, at that many pixels an inch.
func (m *SingleMark) PNG(dpi float64) ([]byte, error) {
	return fewColours(m.Plan.Previews[0].Sheet, dpi)
}
