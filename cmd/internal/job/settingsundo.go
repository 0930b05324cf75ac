package job

import (
	"context"
	"encoding/json"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// beforeAll is where an undo of the first change of the settings goes back to.
const beforeAll = -1

// settingsAt reads a change of the settings, from 0, and its version.
func settingsAt(s *record.Store, i int) (k keptSettings, version int64, err error) {
	p, _, err := s.ChangeAt(record.Subject{Kind: settingsKind}, i)
	if err != nil {
		return k, 0, err
	}
	if err := json.Unmarshal(p.After, &k); err != nil {
		return k, 0, fault.New(fault.Ours, settingsKind, "the stored settings cannot be read: "+err.Error(), "")
	}
	if k.Format > settingsFormat {
		return k, 0, fault.New(fault.Input, settingsKind, "the settings were stored by a newer floatmark", "use the newer floatmark")
	}
	return k, p.Version, nil
}

// settingsStanding finds the change whose settings stand now, from 0: that of the
// one an undo went back to. beforeAll where none does.
func settingsStanding(s *record.Store) (i int, k keptSettings, err error) {
	n, err := s.ChangeCount(record.Subject{Kind: settingsKind})
	for i = n - 1; i >= 0 && err == nil; {
		if k, _, err = settingsAt(s, i); err != nil || k.Back == 0 {
			return i, k, err
		}
		i = max(beforeAll, k.Back-1)
	}
	return beforeAll, keptSettings{}, err
}

// settingsUndo is what an undo of the settings would take back, "" for nothing and
// for a change that was kept before that was noted.
func (w *Workshop) settingsUndo() (string, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return "", err
	}
	defer s.Close()
	_, k, err := settingsStanding(s)
	return k.What, err
}

// UndoSettings brings back the settings as they were before their last change; of
// its own, an undo can be undone no more, and goes on from there. seen is as in
// EditSettings. NotFound where there is nothing to undo.
func (w *Workshop) UndoSettings(ctx context.Context, seen int64, by string) (Settings, error) {
	s, err := w.opened()
	if err != nil {
		return Settings{}, err
	}
	defer s.Close()
	i, _, err := settingsStanding(s)
	if err != nil {
		return Settings{}, err
	}
	if i < 0 {
		return Settings{}, fault.New(fault.NotFound, "", "there is nothing to undo", "")
	}
	was, back := keptSettings{}, beforeAll
	if i > 0 {
		if was, _, err = settingsAt(s, i-1); err != nil {
			return Settings{}, err
		}
		back = i
	}
	file, _, _, err := w.bothSettings()
	if err != nil {
		return Settings{}, err
	}
	doc, err := batch.ParseDoc([]byte(was.Source))
	if err != nil {
		return Settings{}, err
	}
	return w.putSettings(ctx, seen, by, doc, file, keptSettings{Back: back})
}
