package job

import (
	"encoding/json"
	"path/filepath"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Build returns what bears on the float of that id, its own or that of a spare
// on it: its build record and those of its batch, its pattern and the workshop;
// false when there is no such float.
func (w *Workshop) Build(id string) (label.Builds, bool, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return label.Builds{}, false, err
	}
	defer s.Close()
	return buildsOf(s, id)
}

func buildsOf(s *record.Store, id string) (b label.Builds, ok bool, err error) {
	f, ok, err := s.FloatOf(id)
	if err != nil || !ok {
		return b, false, err
	}
	for _, one := range []struct {
		to *label.Build
		of label.Subject
	}{
		{&b.Float, label.Subject{Kind: label.KindFloat, Key: f.ID}},
		{&b.Batch, label.Subject{Kind: label.KindBatch, Key: f.Batch}},
		{&b.Pattern, label.Subject{Kind: label.KindPattern, Key: f.Pattern}},
		{&b.Workshop, label.Subject{Kind: label.KindWorkshop}},
	} {
		if *one.to, err = buildOf(s, one.of); err != nil {
			return b, false, err
		}
	}
	return b, true, nil
}

func buildOf(s *record.Store, of label.Subject) (label.Build, error) {
	state, version, err := s.State(record.Subject{Kind: of.Kind, Key: of.Key})
	if err != nil {
		return label.Build{}, err
	}
	fields := make(map[string]json.RawMessage, len(state))
	for _, f := range state {
		fields[f.Path] = f.Value
	}
	return label.ReadBuild(of, version, fields), nil
}

// BuildOf returns the build record of a float, a batch, a pattern or the
// workshop alone. Errors are those of a subject that Change names.
func (w *Workshop) BuildOf(of label.Subject) (label.Build, error) {
	var b label.Build
	err := w.look(func(s *record.Store) error {
		sub, err := subject(s, of)
		if err != nil {
			return err
		}
		b, err = buildOf(s, label.Subject{Kind: sub.Kind, Key: sub.Key})
		return err
	})
	return b, err
}

// BuildHistory returns every change of a subject's build record, oldest first.
// Errors are those of BuildOf.
func (w *Workshop) BuildHistory(of label.Subject) ([]BuildPast, error) {
	var out []BuildPast
	err := w.look(func(s *record.Store) error {
		sub, err := subject(s, of)
		if err != nil {
			return err
		}
		past, err := s.Changes(sub)
		for _, p := range past {
			out = append(out, BuildPast{p.Version, label.Subject{Kind: sub.Kind, Key: sub.Key}, p.Path, orNull(p.Before), orNull(p.After), p.At, p.By})
		}
		return err
	})
	return out, err
}

func orNull(v json.RawMessage) json.RawMessage {
	if len(v) == 0 {
		return json.RawMessage("null")
	}
	return v
}

// look opens the records for reading; a workshop without any knows nothing.
func (w *Workshop) look(f func(*record.Store) error) error {
	s, err := w.records()
	if err != nil {
		return err
	}
	if s == nil {
		return fault.New(fault.NotFound, filepath.Join(w.Dir, recordsFile), "there is no record here yet",
			"print a batch first, or name the workshop folder that holds the record")
	}
	defer s.Close()
	return f(s)
}
