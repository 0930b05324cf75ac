package job

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/unit"
)

// Shelf reads one workshop's records for a server: they stay open between
// requests, and are opened anew when the file was put in another's place, as by a
// restore. It is safe for use by many at once. Close it at the end.
type Shelf struct {
	path string

	mu    sync.RWMutex
	store *record.Store // nil for none
	file  fs.FileInfo   // that the store was opened on
	since time.Time
}

// shelfTime is how long the records stay open before they are opened anew: another
// command may bring their tables up to date meanwhile. Opening takes 2 ms.
const shelfTime = 5 * time.Second

// fresh reports whether what is open is what there is.
func (s *Shelf) fresh(info fs.FileInfo) bool {
	return s.store != nil && os.SameFile(info, s.file) && time.Since(s.since) < shelfTime
}

// Shelf returns the workshop's shelf. Nothing is opened yet, and the records need
// not exist.
func (w *Workshop) Shelf() *Shelf { return &Shelf{path: filepath.Join(w.Dir, recordsFile)} }

// Language is what the maker's workshop file says his language is, BCP 47; "" for
// nothing.
func (w *Workshop) Language() string {
	if w.settings == nil {
		return ""
	}
	return w.settings.Maker.Language
}

// Units are those in which the maker's own pages show and take measures.
func (w *Workshop) Units() unit.System {
	if w.settings == nil {
		return unit.Metric
	}
	return w.settings.Units
}

// unitsNow is Units as they were last set: a server stays open while its maker
// changes the settings.
func (w *Workshop) unitsNow() unit.System {
	set, err := w.loadSettings()
	switch {
	case err != nil: // a file that is being written; what held goes on
		return w.Units()
	case set == nil:
		return unit.Metric
	}
	return set.Units
}

// Close ends it.
func (s *Shelf) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.drop()
}

func (s *Shelf) drop() error {
	if s.store == nil {
		return nil
	}
	err := s.store.Close()
	s.store, s.file = nil, nil
	return err
}

// read lets f read the records; it is not called when there are none.
func (s *Shelf) read(f func(*record.Store) error) error {
	info, err := os.Stat(s.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return machine(s.path, "cannot be read", err)
	}
	s.mu.RLock()
	if err == nil && s.fresh(info) {
		defer s.mu.RUnlock()
		return f(s.store)
	}
	s.mu.RUnlock()
	if err := s.open(); err != nil {
		return err
	}
	s.mu.RLock()
	defer s.mu.RUnlock()
	if s.store == nil {
		return nil
	}
	return f(s.store)
}

// open opens the records that are there now.
func (s *Shelf) open() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	info, err := os.Stat(s.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return s.drop()
	case err != nil:
		return machine(s.path, "cannot be read", err)
	case s.fresh(info):
		return nil // another request was quicker
	}
	if err := s.drop(); err != nil {
		return err
	}
	if s.store, err = record.OpenReadOnly(s.path); err != nil {
		s.store = nil
		return err
	}
	s.file, s.since = info, time.Now()
	return nil
}

// Entry returns what is stored of the float with the id.
func (s *Shelf) Entry(id string) (e label.Entry, ok bool, err error) {
	err = s.read(func(r *record.Store) error {
		e, ok, err = entryOf(r, id)
		return err
	})
	return e, ok, err
}

// Build returns what bears on the float, as Workshop.Build does.
func (s *Shelf) Build(id string) (b label.Builds, ok bool, err error) {
	err = s.read(func(r *record.Store) error {
		b, ok, err = buildsOf(r, id)
		return err
	})
	return b, ok, err
}

// Photo returns the picture of that number, as Workshop.Photo does.
func (s *Shelf) Photo(number int) (jpeg []byte, ok bool, err error) {
	err = s.read(func(r *record.Store) error {
		p, found, err := r.Photo(number)
		jpeg, ok = p.JPEG, found
		return err
	})
	return jpeg, ok, err
}

// Apart closes the records, and keeps them closed while do is at work: what
// replaces them must have them to itself.
func (s *Shelf) Apart(do func() error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.drop(); err != nil {
		return err
	}
	return do()
}
