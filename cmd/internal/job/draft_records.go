package job

import (
	"slices"

	"floatmark/label"
)

// RecordedBatches returns the names of the batches that floats are recorded of, the
// latest first.
func (w *Workshop) RecordedBatches() ([]string, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	names, err := s.Batches()
	slices.Reverse(names)
	return names, err
}

// FloatsOf returns what is recorded of a batch's floats, by number, most of them at
// most; more tells that there are others behind. None for a batch without floats.
func (w *Workshop) FloatsOf(batch string, most int) (all []Found, more bool, err error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, false, err
	}
	defer s.Close()
	floats, err := s.Floats(batch)
	if err != nil {
		return nil, false, err
	}
	if len(floats) > most {
		floats, more = floats[:most], true
	}
	for _, f := range floats {
		e, _ := entryAsFar(f) // what can be read of it is shown
		b, err := buildOf(s, label.Subject{Kind: label.KindFloat, Key: f.ID})
		if err != nil {
			return nil, false, err
		}
		all = append(all, Found{Kind: label.KindFloat, Key: f.ID, Batch: e.Batch, Number: e.Number, Pattern: e.Pattern, Rating: e.Rating, Add: e.Add, Status: b.Status})
	}
	return all, more, nil
}
