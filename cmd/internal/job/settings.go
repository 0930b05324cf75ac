package job

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Settings of the workshop that are made in the browser lie in the records, as
// the text of a workshop file. What workshop.toml says wins over them, key by key:
// whoever keeps that file by hand finds it obeyed and unchanged.
const (
	settingsKind   = "settings"
	settingsPath   = "file"
	settingsFormat = 1
)

type keptSettings struct {
	Format int    `json:"format"`
	Source string `json:"source"`
	What   string `json:"what,omitempty"` // what was done, for undoing it
	Back   int    `json:"back,omitempty"` // of an undo: the place of the change it went back to, from 1; beforeAll for none
}

// Settings is what holds in the workshop and who may change it.
type Settings struct {
	Doc     *batch.Doc // what holds, of both
	Version int64      // for EditSettings
	Undoes  string     // what an undo would take back, "" for nothing
	locked  *batch.Doc // what workshop.toml says
}

// Locked reports whether workshop.toml decides what stands at a path, so that it
// is changed there and nowhere else.
func (s Settings) Locked(path string) bool {
	_, ok := s.locked.Get(path)
	return ok
}

// Settings returns the workshop's settings.
func (w *Workshop) Settings() (Settings, error) {
	file, kept, version, err := w.bothSettings()
	if err != nil {
		return Settings{}, err
	}
	undoes, err := w.settingsUndo()
	return Settings{Doc: merged(kept, file), Version: version, Undoes: undoes, locked: file}, err
}

// bothSettings reads what workshop.toml and the records say; where one is not
// there it is empty.
func (w *Workshop) bothSettings() (file, kept *batch.Doc, version int64, err error) {
	path := filepath.Join(w.Dir, settingsFile)
	src, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, nil, 0, machine(path, "cannot be read", err)
	}
	if file, err = batch.ParseDoc(src); err != nil {
		return nil, nil, 0, fault.At(path, err)
	}
	kept, _ = batch.ParseDoc(nil)
	s, err := w.records()
	if err != nil || s == nil {
		return file, kept, 0, err
	}
	defer s.Close()
	of := record.Subject{Kind: settingsKind}
	n, err := s.ChangeCount(of)
	if err != nil || n == 0 {
		return file, kept, 0, err
	}
	k, version, err := settingsAt(s, n-1)
	if err != nil {
		return nil, nil, 0, err
	}
	kept, err = batch.ParseDoc([]byte(k.Source))
	return file, kept, version, err
}

// merged lays what the file says over what was kept: tables key by key, lists as
// wholes.
func merged(kept, file *batch.Doc) *batch.Doc {
	out := kept.Clone()
	for _, path := range file.Paths() {
		v, _ := file.Get(path)
		_ = out.Set(path, v) // a place of the file is a place of what lies under it
	}
	if len(out.Paths()) > 0 {
		_ = out.Set("format", int64(1))
	}
	return out
}

// EditSettings changes the settings that are kept in the records. seen is the
// version they were changed on; if somebody changed them since, the error's cause
// is ErrChanged. A setting that workshop.toml decides is an Input error, as is one
// that is wrong, and then nothing is changed. what says in a few words what was
// done, for undoing it.
func (w *Workshop) EditSettings(ctx context.Context, seen int64, what, by string, edit func(*batch.Doc) error) (Settings, error) {
	file, kept, _, err := w.bothSettings()
	if err != nil {
		return Settings{}, err
	}
	changed := kept.Clone()
	if err := edit(changed); err != nil {
		return Settings{}, err
	}
	for _, path := range changed.Paths() {
		_, locked := file.Get(path)
		if locked && changed.Text(path) != kept.Text(path) && changed.Text(path) != file.Text(path) {
			return Settings{}, fault.New(fault.Input, path, "workshop.toml decides it", "change it there: "+filepath.Join(w.Dir, settingsFile))
		}
	}
	return w.putSettings(ctx, seen, by, changed, file, keptSettings{What: what})
}

// putSettings keeps settings as the next change, with what k says of it.
func (w *Workshop) putSettings(ctx context.Context, seen int64, by string, changed, file *batch.Doc, k keptSettings) (Settings, error) {
	if err := changed.Set("format", int64(1)); err != nil {
		return Settings{}, err
	}
	sound, err := batch.ParseWorkshop(settingsFile, merged(changed, file).Source())
	if err != nil {
		return Settings{}, err
	}
	k.Format, k.Source = settingsFormat, string(changed.Source())
	value, err := json.Marshal(k)
	if err != nil {
		return Settings{}, err
	}
	if err := ctx.Err(); err != nil {
		return Settings{}, err
	}
	s, err := w.opened()
	if err != nil {
		return Settings{}, err
	}
	defer s.Close()
	_, err = s.Change(record.ChangeSet{At: time.Now().UTC().Format(time.RFC3339), By: by, Changes: []record.Change{{
		Subject: record.Subject{Kind: settingsKind}, Path: settingsPath, Value: value, Seen: seen}}})
	if err != nil {
		return Settings{}, err
	}
	w.settings = sound
	return w.Settings()
}

// loadSettings reads what holds; nil where nothing is set.
func (w *Workshop) loadSettings() (*batch.Workshop, error) {
	path := filepath.Join(w.Dir, settingsFile)
	var alone *batch.Workshop
	src, err := os.ReadFile(path)
	switch {
	case err == nil: // first by itself, so that messages name its own lines
		if alone, err = batch.ParseWorkshop(path, src); err != nil {
			return nil, err
		}
	case !errors.Is(err, fs.ErrNotExist):
		return nil, machine(path, "cannot be read", err)
	}
	file, kept, _, err := w.bothSettings()
	if err != nil || len(kept.Paths()) == 0 {
		return alone, err
	}
	return batch.ParseWorkshop(path, merged(kept, file).Source())
}
