// Package job is the work that command line and web do alike: from a batch file
// to printed files and records. It is the one place with a clock and randomness
// and, with the packages above it, the one that touches the disc.
package job

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

const (
	settingsFile = "workshop.toml"
	recordsFile  = "workshop.db"
	keyName      = "key"
	keyBytes     = 32
)

// Workshop is a maker's folder: settings that are only read, and the records.
type Workshop struct {
	Dir string
	// Preview nests pieces coarsely: fifty times faster, a few per cent more
	// film. What is looked at need not be packed as what is printed.
	Preview bool
	// Only prints the marks of these floats, by number, and no spares: one that was
	// spoilt, on whatever is left of the film. Empty for all of the batch.
	Only []int
	// Again prints marks once more that were printed and came out right.
	Again bool
	// Proofs is the folder in which verdicts on codes are kept by their content, so
	// that the same pictures are not made twice; "" for none. It may be lost.
	Proofs string
	// Pictures keeps the phone pictures on which codes did not read; they are made
	// anew even where the verdict is remembered.
	Pictures bool
	// Shop asks for a folder for a print shop beside the maker's own files, and
	// for colour that bleeds; nil for none.
	Shop *ForShop

	after    []*Plan         // whose prints a plan counts as made before it
	step     func()          // called between two steps of a print; nil but in tests
	settings *batch.Workshop // nil when nothing is set
	newKey   func() ([]byte, error)
}

// Default returns the folder of the user's own workshop.
func Default() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fault.New(fault.Machine, "", "the user's own folder is not known: "+err.Error(), "name a folder with --workshop DIR", err)
	}
	return filepath.Join(dir, "floatmark"), nil
}

// Open reads the settings of the workshop in dir. Neither the folder nor the
// file has to exist yet; nothing is written.
func Open(dir string) (*Workshop, error) {
	w := &Workshop{Dir: dir, Proofs: proofsFolder(), newKey: onceKey()}
	var err error
	if w.settings, err = w.loadSettings(); err != nil {
		return nil, err
	}
	return w, nil
}

// proofsFolder lies in the user's cache; "" where there is none.
func proofsFolder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "floatmark", "proofs")
}

// machine makes the error of a disc that does not do what it should.
func machine(path, what string, err error) error {
	return fault.New(fault.Machine, path, what+": "+reason(err), "check that the folder exists, has room and may be written", err)
}

// reason is the system's own word without the path that stands before it anyway.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err.Error()
	}
	return err.Error()
}

// onceKey draws a key and stays with it: until the first print stores one, all plans
// of an opened workshop have the same ids, so that what was proved of their codes
// holds for the next plan.
func onceKey() func() ([]byte, error) {
	var mu sync.Mutex
	var key []byte
	return func() ([]byte, error) {
		mu.Lock()
		defer mu.Unlock()
		if key == nil {
			drawn, err := randomKey()
			if err != nil {
				return nil, err
			}
			key = drawn
		}
		return slices.Clone(key), nil
	}
}

func randomKey() ([]byte, error) {
	key := make([]byte, keyBytes)
	_, err := rand.Read(key)
	return key, err
}

// records opens the workshop's records for reading; nil when there are none yet.
func (w *Workshop) records() (*record.Store, error) {
	path := filepath.Join(w.Dir, recordsFile)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return record.OpenReadOnly(path)
}

// key returns the key that ids are made from, and whether the workshop already
// has it. A new one is stored by the first print, not before.
func (w *Workshop) key(s *record.Store) (key []byte, known bool, err error) {
	if s != nil {
		text, ok, err := s.Setting(keyName)
		if err != nil {
			return nil, false, err
		}
		if ok {
			key, err = hex.DecodeString(text)
			return key, true, err
		}
	}
	key, err = w.newKey()
	return key, false, err
}

// Entry returns what is stored of the float with the id.
func (w *Workshop) Entry(id string) (label.Entry, bool, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return label.Entry{}, false, err
	}
	defer s.Close()
	return entryOf(s, id)
}

// Hosts lists the hosts that links of this workshop name: the one set in
// workshop.toml and those of codes already printed. Requests for them are for
// this workshop's records.
func (w *Workshop) Hosts() ([]string, error) {
	var hosts []string
	if w.settings != nil && w.settings.Maker.Host != "" {
		hosts = append(hosts, w.settings.Maker.Host)
	}
	all, err := w.Entries()
	if err != nil {
		return nil, err
	}
	for _, e := range all {
		if h := label.HostOf(e.Code); h != "" && !slices.Contains(hosts, h) {
			hosts = append(hosts, h)
		}
	}
	return hosts, nil
}
