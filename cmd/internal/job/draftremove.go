package job

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// RemoveDraft takes a batch that was only begun off the list. What it said is kept,
// for BringBackDraft. seen is as in EditDraft. One that was printed, or has readings,
// stays: an Input error.
func (w *Workshop) RemoveDraft(ctx context.Context, name string, seen int64, by string) error {
	s, err := w.opened()
	if err != nil {
		return err
	}
	defer s.Close()
	d, err := w.draft(s, name)
	if err != nil {
		return err
	}
	_, _, printed, err := s.LastPrint(name)
	if err != nil {
		return err
	}
	read, err := s.ReadingBatches()
	if err != nil {
		return err
	}
	for _, one := range read {
		printed = printed || one == name
	}
	if printed {
		return fault.Inputf("leave it in the list", "what was printed or read at the tank stays: %q cannot be removed", name)
	}
	d.Version = seen
	return w.put(ctx, s, d, openedFile{What: "remove", Gone: true}, by)
}

// BringBackDraft brings back a batch that was removed. NotFound where none of that
// name was.
func (w *Workshop) BringBackDraft(ctx context.Context, name, by string) error {
	s, err := w.opened()
	if err != nil {
		return err
	}
	defer s.Close()
	d, err := w.draft(s, name)
	if err == nil {
		return nil // it is there
	}
	if fault.ClassOf(err) != fault.NotFound || d.gone == nil {
		return err
	}
	if d, err = w.read(d, d.gone); err != nil {
		return err
	}
	return w.put(ctx, s, d, openedFile{What: begun}, by)
}

// put stores a draft as the next change, with what f says of that.
func (w *Workshop) put(ctx context.Context, s *record.Store, d Draft, f openedFile, by string) error {
	f.Format, f.Name, f.Source, f.Beside = tankFormat, d.Name+".toml", string(d.Doc.Source()), d.beside
	if len(f.Source) > mostTankFile {
		return fault.New(fault.Input, d.Name, "the batch file is too large to be kept", "split the batch")
	}
	value, err := json.Marshal(f)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	_, err = s.Change(record.ChangeSet{At: time.Now().UTC().Format(time.RFC3339), By: by, Changes: []record.Change{{
		Subject: record.Subject{Kind: tankKind, Key: d.Name}, Path: tankFile, Value: value, Seen: d.Version}}})
	return err
}

// removed reports whether a batch was taken off the list.
func removed(s *record.Store, name string) (bool, error) {
	past := kept{s, name}
	n, err := past.count()
	if err != nil || n == 0 {
		return false, err
	}
	f, _, err := past.at(n - 1)
	if err != nil {
		return false, fmt.Errorf("batch %s: %w", name, err)
	}
	return f.Gone, nil
}
