package job

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"floatmark/loading/fault"
)

// What an export folder holds. exportJSON has all that was ever recorded
// (record.Export tells its shape), photoFolder the photographs by their numbers;
// from these two and the settings the workshop is made again by Import. floatsCSV
// is for a spreadsheet and is not read again. The
// word that unlocks the bench is no record and stays behind.
const (
	exportJSON  = "workshop.json"
	floatsCSV   = "floats.csv"
	photoFolder = "photos"
)

// Exported says what an export wrote.
type Exported struct {
	Dir    string   `json:"out"`
	Files  []Output `json:"files"` // photographs apart
	Floats int      `json:"floats"`
	Photos int      `json:"photos"`
}

// photoName is the name of a photograph's file in an export.
func photoName(number int) string { return filepath.Join(photoFolder, fmt.Sprintf("%06d.jpg", number)) }

// Export writes the whole record to a folder that is new, empty, or holds an
// earlier export. A name that ends in .csv is a file instead: the spreadsheet of
// floats alone. Equal records give equal files. Errors: NotFound without a record,
// Input for a folder that holds something else, Machine for the disc.
func (w *Workshop) Export(ctx context.Context, dir string) (out Exported, err error) {
	out.Dir = dir
	s, err := w.records()
	if err != nil {
		return out, err
	}
	if s == nil {
		return out, w.look(nil)
	}
	defer s.Close()
	sheet, n, err := floatSheet(ctx, s)
	if err != nil {
		return out, err
	}
	out.Floats = n
	if strings.EqualFold(filepath.Ext(dir), ".csv") {
		out.Dir = filepath.Dir(dir)
		return out, w.exportFiles(&out, []Output{output(filepath.Base(dir), sheet)})
	}
	if err := exportFolder(dir); err != nil {
		return out, err
	}
	var all bytes.Buffer
	if err := s.Export(&all); err != nil {
		return out, err
	}
	files := []Output{output(exportJSON, all.Bytes()), output(floatsCSV, sheet)}
	switch toml, err := os.ReadFile(filepath.Join(w.Dir, settingsFile)); {
	case err == nil:
		files = append(files, output(settingsFile, toml))
	case !errors.Is(err, fs.ErrNotExist):
		return out, machine(filepath.Join(w.Dir, settingsFile), "cannot be read", err)
	}
	numbers, err := s.PhotoNumbers()
	if err != nil {
		return out, err
	}
	// Photographs first: the record that names them is never without them.
	for _, number := range numbers {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		p, _, err := s.Photo(number)
		if err != nil {
			return out, err
		}
		if have, err := os.ReadFile(filepath.Join(dir, photoName(number))); err == nil && bytes.Equal(have, p.JPEG) {
			continue
		}
		if err := writeOutput(dir, output(photoName(number), p.JPEG)); err != nil {
			return out, err
		}
	}
	out.Photos = len(numbers)
	return out, w.exportFiles(&out, files)
}

func (w *Workshop) exportFiles(out *Exported, files []Output) error {
	for _, f := range files {
		if err := writeOutput(out.Dir, f); err != nil {
			return err
		}
	}
	out.Files = files
	return nil
}

// exportFolder refuses a folder that holds anything but an earlier export.
func exportFolder(dir string) error {
	list, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist) || err == nil && len(list) == 0:
		return nil
	case err != nil:
		if info, e := os.Stat(dir); e == nil && !info.IsDir() {
			return fault.New(fault.Input, dir, "this is a file, not a folder", "name a folder, or a file that ends in .csv for the spreadsheet alone")
		}
		return machine(dir, "cannot be read", err)
	}
	if _, err := os.Stat(filepath.Join(dir, exportJSON)); err != nil {
		return fault.New(fault.Input, dir, "the folder holds something else than an export", "name a new folder")
	}
	return nil
}

// writeOutput puts a file in place, whole or not at all, readable by its owner
// alone: the workshop's key and what is not published lie in it.
func writeOutput(dir string, o Output) error {
	name := filepath.Join(dir, o.Name)
	if _, err := makeDirs(filepath.Dir(name)); err != nil {
		return err
	}
	temp, err := writeTemp(dir, o)
	if err == nil {
		if err = os.Chmod(temp, 0o600); err == nil {
			err = os.Rename(temp, name)
		}
		if err != nil {
			err = machine(name, "cannot be put in place", err)
		}
	}
	if err != nil && temp != "" {
		_ = os.Remove(temp) // the first error is the one to tell
	}
	return err
}
