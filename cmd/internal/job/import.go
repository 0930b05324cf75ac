package job

import (
	"bytes"
	"context"
	"errors"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// ImportDone says what became of an import.
type ImportDone struct {
	Added    int  `json:"added"`    // rows that were not there
	Known    int  `json:"known"`    // rows that were there already, the same
	Settings bool `json:"settings"` // workshop.toml was taken over: there was none
}

// Import reads a folder that Export wrote into the workshop, all of it or
// nothing. What is there already and equal is left alone. What is there with other
// contents is listed, and nothing is imported: an Input fault for each. Settings
// are taken over where the workshop has none.
func (w *Workshop) Import(ctx context.Context, dir string) (done ImportDone, err error) {
	path := filepath.Join(w.Dir, recordsFile)
	in, err := os.Open(filepath.Join(dir, exportJSON))
	if errors.Is(err, fs.ErrNotExist) {
		return done, fault.New(fault.NotFound, dir, "there is no "+exportJSON+" in it", "name the folder that floatmark export wrote", err)
	}
	if err != nil {
		return done, machine(dir, "cannot be read", err)
	}
	defer in.Close()
	made, err := makeDirs(w.Dir)
	if err != nil {
		return done, err
	}
	_, none := os.Stat(path)
	isNew := errors.Is(none, fs.ErrNotExist)
	s, err := record.Open(path)
	if err != nil {
		return done, err
	}
	all, err := s.Import(in, func(number int) ([]byte, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return exportedPhoto(dir, number)
	})
	if e := s.Close(); err == nil {
		err = e
	}
	if err != nil {
		if isNew {
			_ = os.Remove(path) // best effort: the first error is the one to tell
			removeDirs(made)
		}
		return done, err
	}
	done.Added, done.Known = all.Added, all.Known
	if done.Settings, err = w.takeSettings(dir); err != nil {
		return done, err
	}
	return done, w.IndexSearch(ctx)
}

// exportedPhoto reads a photograph of an export, which is as small as those that
// are kept.
func exportedPhoto(dir string, number int) ([]byte, error) {
	name := filepath.Join(dir, photoName(number))
	info, err := os.Stat(name)
	if err != nil {
		return nil, fault.New(fault.Input, name, "the photograph is missing: "+reason(err), "take it from the export again", err)
	}
	if info.Size() > photoMostOut {
		return nil, fault.New(fault.Input, name, "the file is too big for a photograph of an export", "take it from the export again")
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, machine(name, "cannot be read", err)
	}
	if _, err := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil {
		return nil, fault.New(fault.Input, name, "this is no photograph: "+err.Error(), "take it from the export again", err)
	}
	return data, nil
}

// takeSettings takes the export's settings over where the workshop has none.
func (w *Workshop) takeSettings(dir string) (bool, error) {
	if _, err := os.Stat(filepath.Join(w.Dir, settingsFile)); err == nil {
		return false, nil
	}
	toml, err := os.ReadFile(filepath.Join(dir, settingsFile))
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, machine(filepath.Join(dir, settingsFile), "cannot be read", err)
	}
	return true, writeOutput(w.Dir, output(settingsFile, toml))
}
