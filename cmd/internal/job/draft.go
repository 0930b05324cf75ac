package job

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Draft is a batch file kept in the records, as it is being written in the
// browser: it may not be whole yet. It is the same that the tank opens, so that
// what was changed at the bench is what is tested at the tank.
type Draft struct {
	Name    string
	Doc     *batch.Doc
	Version int64       // for EditDraft
	File    *batch.File // what it says; nil when Err
	Err     error       // findings of reading it, joined; nil when it is whole
	Undoes  string      // what an undo would take back, "" for nothing
	beside  map[string][]byte
	gone    []byte // what it said when it was removed; nil for one that is there
}

// ErrChanged is the cause of the fault of whoever changes what somebody else
// changed since they looked.
var ErrChanged = record.ErrChanged

// Draft returns the batch file of a batch: the one that was written or opened
// last, or that of its last print. NotFound where none is known.
func (w *Workshop) Draft(name string) (Draft, error) {
	s, err := w.records()
	if err != nil {
		return Draft{}, err
	}
	if s == nil {
		return Draft{}, unknownDraft(name)
	}
	defer s.Close()
	return w.draft(s, name)
}

func unknownDraft(name string) error {
	return fault.New(fault.NotFound, "", fmt.Sprintf("there is no batch %q here", name), "choose one of the list, or begin it")
}

func (w *Workshop) draft(s *record.Store, name string) (Draft, error) {
	past := kept{s, name}
	d := Draft{Name: name}
	var src []byte
	n, err := past.count()
	if err != nil {
		return d, err
	}
	opened := "" // when
	if n > 0 {
		f, one, err := past.at(n - 1)
		if err != nil {
			return d, err
		}
		src, d.beside, d.Version, opened = []byte(f.Source), f.Beside, one.Version, one.At
		if f.Gone {
			d.gone = src
		}
		i, f, err := past.standing(n)
		if err != nil {
			return d, err
		}
		if i > 0 && f.What != begun {
			d.Undoes = f.What
		}
	}
	number, made, ok, err := s.LastPrint(name)
	if err != nil {
		return d, err
	}
	if ok && (n == 0 || made > opened) {
		p, _, err := s.PrintByNumber(number)
		if err != nil {
			return d, err
		}
		var last printed
		if err := json.Unmarshal(p.Data, &last); err == nil && last.Source != "" {
			src, d.Undoes, d.gone = []byte(last.Source), "", nil
		}
	}
	if src == nil || d.gone != nil {
		return d, unknownDraft(name)
	}
	return w.read(d, src)
}

// read fills a draft from its text.
func (w *Workshop) read(d Draft, src []byte) (Draft, error) {
	var err error
	if d.Doc, err = batch.ParseDoc(src); err != nil {
		return d, fault.At(d.Name, err)
	}
	d.File, d.Err = batch.Parse(d.Name, src, openedFile{Beside: d.beside}.beside, w.settings)
	return d, nil
}

func openedOf(p record.Past) (f openedFile, err error) {
	err = json.Unmarshal(p.After, &f)
	if err == nil && f.Format > tankFormat {
		err = fault.Inputf("use the newer floatmark", "its batch file was kept by a newer floatmark")
	}
	return f, err
}

// kept are the changes of a batch file, oldest first. Each holds the whole file, so
// that only those that are asked for are read.
type kept struct {
	s    *record.Store
	name string
}

func (k kept) subject() record.Subject { return record.Subject{Kind: tankKind, Key: k.name} }

func (k kept) count() (int, error) { return k.s.ChangeCount(k.subject()) }

// at reads one by its place in the list.
func (k kept) at(i int) (openedFile, record.Past, error) {
	p, ok, err := k.s.ChangeAt(k.subject(), i)
	if err == nil && !ok {
		err = fault.New(fault.Ours, k.name, fmt.Sprintf("there is no change %d of it", i), "")
	}
	if err != nil {
		return openedFile{}, p, err
	}
	f, err := openedOf(p)
	return f, p, fault.At(k.name, err)
}

// standing finds the one of n changes whose text stands now, and its place in the
// list; -1 for none. A change that was an undo stands where the one it went back to
// stands, so that undoing goes on from there.
func (k kept) standing(n int) (int, openedFile, error) {
	i := n - 1
	for i >= 0 {
		f, _, err := k.at(i)
		if err != nil || f.Back == 0 {
			return i, f, err
		}
		i = f.Back - 1
	}
	return i, openedFile{}, nil
}

// begun is what was done where a batch begins: there is nothing before it to go back
// to.
const begun = "begin"

// NewDraft begins a batch of that name, as far as the workshop's settings tell
// what stands in it. A name that is taken is an Input error.
func (w *Workshop) NewDraft(ctx context.Context, name, by string) (Draft, error) {
	s, err := w.opened()
	if err != nil {
		return Draft{}, err
	}
	defer s.Close()
	was, err := w.draft(s, name)
	if err := free(name, was, err); err != nil {
		return Draft{}, err
	}
	doc, err := batch.ParseDoc(batch.Skeleton(name, time.Now().Format(time.DateOnly)))
	if err != nil {
		return Draft{}, err
	}
	return w.keep(ctx, s, Draft{Name: name, Doc: doc, Version: was.Version}, begun, by, 0)
}

// EditDraft changes a batch file and keeps it, whole or not. seen is the version
// it was changed on: if somebody changed it since, the error's cause is
// ErrChanged and nothing is changed. what says in a few words what was done, for
// undoing it.
func (w *Workshop) EditDraft(ctx context.Context, name string, seen int64, what, by string, edit func(*batch.Doc) error) (Draft, error) {
	return w.EditDraftWith(ctx, name, seen, what, by, nil, edit)
}

// UndoDraft brings back what the batch file said before its last change.
func (w *Workshop) UndoDraft(ctx context.Context, name string, seen int64, by string) (Draft, error) {
	s, err := w.opened()
	if err != nil {
		return Draft{}, err
	}
	defer s.Close()
	past := kept{s, name}
	n, err := past.count()
	if err != nil {
		return Draft{}, err
	}
	i, now, err := past.standing(n)
	if err != nil {
		return Draft{}, err
	}
	if i--; i < 0 || now.What == begun || now.Gone {
		return Draft{}, fault.New(fault.NotFound, name, "there is nothing to undo", "")
	}
	f, _, err := past.at(i)
	if err != nil {
		return Draft{}, err
	}
	doc, err := batch.ParseDoc([]byte(f.Source))
	if err != nil {
		return Draft{}, err
	}
	return w.keep(ctx, s, Draft{Name: name, Doc: doc, Version: seen, beside: f.Beside}, "", by, i+1)
}

// keep stores a draft as the next change; back is the place of the change that an
// undo went back to, counted from 1, 0 for a change of its own.
func (w *Workshop) keep(ctx context.Context, s *record.Store, d Draft, what, by string, back int) (Draft, error) {
	if err := w.put(ctx, s, d, openedFile{What: what, Back: back}, by); err != nil {
		return d, err
	}
	return w.draft(s, d.Name)
}

// opened opens the records for writing, and makes them where there are none.
func (w *Workshop) opened() (*record.Store, error) {
	made, err := makeDirs(w.Dir)
	if err != nil {
		return nil, err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		removeDirs(made)
	}
	return s, err
}

// PlanDraft is Plan for a draft: through the very same path as a batch file.
func (w *Workshop) PlanDraft(ctx context.Context, d Draft, progress Progress) (*Plan, error) {
	if d.Err != nil {
		return nil, d.Err
	}
	return w.planFrom(ctx, d.Name+".toml", d.Doc.Source(), openedFile{Beside: d.beside}.beside, progress)
}

// PlanFigures is PlanDraft as far as the figures: the floats' ratings and shot, how
// they are graded and the plot of it. Marks, sheets and cards of the plan are empty,
// so that it takes hundredths of a second where the whole takes seconds.
func (w *Workshop) PlanFigures(ctx context.Context, d Draft) (*Plan, error) {
	if d.Err != nil {
		return nil, d.Err
	}
	return w.figuresFrom(ctx, d.Name+".toml", d.Doc.Source(), openedFile{Beside: d.beside}.beside, nil)
}

// IsChanged reports whether an error says that somebody else changed it meanwhile.
func IsChanged(err error) bool { return errors.Is(err, ErrChanged) }
