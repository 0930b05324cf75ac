package job

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Tests come before prints, so that a batch has to be known before anything of
// it was printed: its file is opened once and its text kept in the records, as a
// change like any other, with what it said before.
const (
	tankKind   = "tank" // of the subjects that opened batch files are kept of
	tankFile   = "file"
	tankFormat = 1

	// mostTankFile is the most that a batch file and the files it names may weigh
	// together, 2 MiB: the largest batch written out takes a fifth of it.
	mostTankFile = 2 << 20
)

// openedFile is the stored shape of an opened batch file.
type openedFile struct {
	Format int               `json:"format"`
	Name   string            `json:"name"`             // as it was called
	Source string            `json:"source"`           // its text
	Beside map[string][]byte `json:"beside,omitempty"` // the files it names
	What   string            `json:"what,omitempty"`   // what was changed, in a few words; "" for a file that was opened
	Back   int               `json:"back,omitempty"`   // of an undo: the place of the change it went back to, from 1
	Gone   bool              `json:"gone,omitempty"`   // it was taken off the list with this
}

// TankBatch is a batch that the workshop has heard of.
type TankBatch struct {
	Name  string `json:"batch"`
	Known string `json:"known"` // "opened", "printed", or "read" where only readings are there
	At    string `json:"at"`    // when it was last opened or printed, UTC; "" for "read"

	Printed bool `json:"-"` // ever, whatever was changed since
}

// TankBatches lists the batches that were opened for the tank, printed or read
// before: the latest first, and at the end those of which only readings are there.
func (w *Workshop) TankBatches() ([]TankBatch, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	var all []TankBatch
	put := func(b TankBatch) {
		i := slices.IndexFunc(all, func(o TankBatch) bool { return o.Name == b.Name })
		switch {
		case i < 0:
			all = append(all, b)
		case all[i].At < b.At:
			b.Printed = b.Printed || all[i].Printed
			all[i] = b
		default:
			all[i].Printed = all[i].Printed || b.Printed
		}
	}
	opened, err := s.LastChanged(tankKind)
	if err != nil {
		return nil, err
	}
	for _, o := range opened {
		put(TankBatch{Name: o.Name, Known: "opened", At: o.At})
	}
	prints, err := s.LastPrinted()
	if err != nil {
		return nil, err
	}
	for _, p := range prints {
		put(TankBatch{Name: p.Name, Known: "printed", At: p.At, Printed: true})
	}
	read, err := s.ReadingBatches()
	if err != nil {
		return nil, err
	}
	for _, name := range read {
		put(TankBatch{Name: name, Known: "read"})
	}
	slices.SortStableFunc(all, func(a, b TankBatch) int { return cmp.Compare(b.At, a.At) })
	there := all[:0]
	for _, one := range all {
		if one.Known == "opened" {
			gone, err := removed(s, one.Name)
			if err != nil {
				return nil, err
			}
			if gone {
				continue
			}
		}
		there = append(there, one)
	}
	return there, nil
}

// TankFiles lists the batch files that lie in the workshop folder, by name.
func (w *Workshop) TankFiles() ([]string, error) {
	all, err := os.ReadDir(w.Dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, machine(w.Dir, "cannot be read", err)
	}
	var names []string
	for _, e := range all {
		if e.Type().IsRegular() && strings.EqualFold(filepath.Ext(e.Name()), ".toml") && e.Name() != settingsFile {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// OpenTankFile opens a batch file of the workshop folder, by one of the names of
// TankFiles, and returns the name of its batch. by is through what it came.
func (w *Workshop) OpenTankFile(ctx context.Context, name, by string) (string, error) {
	names, err := w.TankFiles()
	if err != nil {
		return "", err
	}
	if !slices.Contains(names, name) {
		return "", fault.New(fault.NotFound, "", fmt.Sprintf("there is no batch file %q in the workshop folder", name), "choose one of the list, or send the file itself")
	}
	src, err := os.ReadFile(filepath.Join(w.Dir, name))
	if err != nil {
		return "", machine(filepath.Join(w.Dir, name), "cannot be read", err)
	}
	return w.openForTank(ctx, name, src, func(file string) ([]byte, error) { return os.ReadFile(filepath.Join(w.Dir, file)) }, by)
}

// OpenTankSource opens a batch file by its text, with the files that it names by
// the last part of their names, and returns the name of its batch.
func (w *Workshop) OpenTankSource(ctx context.Context, name string, src []byte, beside map[string][]byte, by string) (string, error) {
	return w.openForTank(ctx, name, src, func(file string) ([]byte, error) {
		data, ok := beside[base(file)]
		if !ok {
			return nil, &fs.PathError{Op: "open", Path: file, Err: fs.ErrNotExist}
		}
		return data, nil
	}, by)
}

// base is the last part of a file's name, whichever way its folders are parted.
func base(name string) string {
	return name[strings.LastIndexAny(name, `/\`)+1:]
}

func (w *Workshop) openForTank(ctx context.Context, name string, src []byte, beside func(string) ([]byte, error), by string) (string, error) {
	kept := openedFile{Format: tankFormat, Name: name, Source: string(src), Beside: map[string][]byte{}}
	file, err := batch.Parse(name, src, func(file string) ([]byte, error) {
		data, err := beside(file)
		if err == nil {
			kept.Beside[base(file)] = data
		}
		return data, err
	}, w.settings)
	if err != nil {
		return "", err
	}
	weight := len(src)
	for _, data := range kept.Beside {
		weight += len(data)
	}
	if weight > mostTankFile {
		return "", fault.New(fault.Input, name, "the batch file and the files it names are too large to be kept", "take pictures out of them: the tank needs none")
	}
	value, err := json.Marshal(kept)
	if err != nil {
		return "", err
	}
	if err := ctx.Err(); err != nil {
		return "", err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return "", err
	}
	defer s.Close()
	_, err = s.Change(record.ChangeSet{At: time.Now().UTC().Format(time.RFC3339), By: by, Changes: []record.Change{{
		Subject: record.Subject{Kind: tankKind, Key: file.Batch.Name}, Path: tankFile, Value: value, Seen: record.Unseen}}})
	return file.Batch.Name, err
}

// mostBack is how many versions of a batch file are tried for one that is whole.
const mostBack = 200

// tankFileOf reads the batch file of a batch as it was last opened or printed. One
// that is being written may not be whole at the moment: the floats lie beside the
// tank all the same, and are read by its last version that is; earlier tells so.
func (w *Workshop) tankFileOf(s *record.Store, name string) (file *batch.File, earlier bool, err error) {
	const do = "open its batch file once more, with the files it names"
	unknown := fault.New(fault.NotFound, "", fmt.Sprintf("the batch file of %q is not known here", name), do)
	if s == nil {
		return nil, false, unknown
	}
	past := kept{s, name}
	count, err := past.count()
	if err != nil {
		return nil, false, err
	}
	number, made, wasPrinted, err := s.LastPrint(name)
	if err != nil {
		return nil, false, err
	}
	var findings error
	try := func(path, src string, kept openedFile) bool {
		var bad error
		if file, bad = batch.Parse(path, []byte(src), kept.beside, w.settings); bad == nil {
			return true
		}
		if findings == nil {
			findings = bad
		}
		return false
	}
	var last openedFile
	opened := "" // when
	if count > 0 {
		var one record.Past
		if last, one, err = past.at(count - 1); err != nil {
			return nil, false, err
		}
		opened = one.At
	}
	if wasPrinted && (count == 0 || made > opened) {
		data, _, err := s.PrintByNumber(number)
		if err != nil {
			return nil, false, err
		}
		var p printed
		if err := json.Unmarshal(data.Data, &p); err != nil {
			return nil, false, fault.New(fault.Ours, name, "a stored print cannot be read: "+err.Error(), "", err)
		}
		// A print keeps the batch file without what lay beside it; of that the one
		// opened before may have some.
		if p.Source != "" && try(name, p.Source, last) {
			return file, false, nil
		}
	}
	for i := count - 1; i >= max(0, count-mostBack); i-- {
		if i < count-1 {
			if last, _, err = past.at(i); err != nil {
				return nil, false, err
			}
		}
		if try(last.Name, last.Source, last) {
			return file, findings != nil, nil
		}
	}
	if findings != nil {
		return nil, false, findings
	}
	return nil, false, unknown
}

func (f openedFile) beside(name string) ([]byte, error) {
	data, ok := f.Beside[base(name)]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return data, nil
}
