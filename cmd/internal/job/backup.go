package job

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// BackupDone says what became of a backup or of one that was restored.
type BackupDone struct {
	File   string `json:"file"`
	Bytes  int64  `json:"bytes"`
	Latest string `json:"latest"`         // when the record was last added to, UTC, RFC 3339; "" for never
	Kept   string `json:"kept,omitempty"` // Restore: where the record that was there before is kept
}

// Backup writes a copy of the workshop's record to a file: whole, checked and on
// the disc before it has its name; prints and changes may go on meanwhile. A backup
// of the same workshop is replaced. Settings (workshop.toml) are not in it.
// Errors: NotFound without a record; Input for a file that is something else;
// Machine for the disc.
func (w *Workshop) Backup(ctx context.Context, file string) (BackupDone, error) {
	var done BackupDone
	if err := ctx.Err(); err != nil {
		return done, err
	}
	err := w.look(func(s *record.Store) error {
		own, err := filepath.Abs(s.Path())
		if err != nil {
			return machine(file, "cannot be written", err)
		}
		if abs, err := filepath.Abs(file); err == nil && abs == own || sameFile(file, own) {
			return fault.New(fault.Input, file, "this is the record itself", "name another file, best on another disc")
		}
		if err := w.replaceable(s, file); err != nil {
			return err
		}
		sum, err := s.Backup(file)
		done = BackupDone{File: file, Latest: sum.Latest}
		return err
	})
	if err != nil {
		return BackupDone{}, err
	}
	info, err := os.Stat(file)
	if err != nil {
		return BackupDone{}, machine(file, "cannot be read", err)
	}
	done.Bytes = info.Size()
	return done, nil
}

func sameFile(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// replaceable refuses to write over what is no backup of this workshop.
func (w *Workshop) replaceable(s *record.Store, file string) error {
	info, err := os.Stat(file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return machine(file, "cannot be written", err)
	case info.IsDir():
		return fault.New(fault.Input, file, "this is a folder", "name a file in it, as in "+filepath.Join(file, "workshop-backup.db"))
	}
	mine, err := s.Summary()
	if err != nil {
		return err
	}
	old, err := record.OpenReadOnly(file)
	if err != nil {
		return fault.New(fault.Input, file, "there is a file of that name, and it is no backup", "name another file", err)
	}
	defer old.Close()
	theirs, err := old.Summary()
	if err != nil || theirs.Key != mine.Key && theirs.Key != "" {
		return fault.New(fault.Input, file, "there is a backup of another workshop under that name", "name another file", err)
	}
	return nil
}

// Restore puts a backup in the place of the workshop's record. The record that
// was there is kept beside it. Unless replace, a workshop that knows of anything
// the backup does not, or is another one, is left alone: an Input fault. Nobody may
// have the record open meanwhile: a Machine fault.
func (w *Workshop) Restore(ctx context.Context, file string, replace bool) (done BackupDone, err error) {
	path := filepath.Join(w.Dir, recordsFile)
	if sameFile(file, path) {
		return done, fault.New(fault.Input, file, "this is the record itself", "name a backup of it")
	}
	made, err := makeDirs(w.Dir)
	if err != nil {
		return done, err
	}
	part := path + ".restored.part"
	defer func() {
		if err != nil {
			_ = os.Remove(part) // best effort: the first error is the one to tell
			removeDirs(made)
		}
	}()
	if done.Bytes, err = copyFile(file, part); err != nil {
		return done, err
	}
	theirs, err := record.Verify(part)
	if err != nil {
		return done, ofBackup(file, err)
	}
	if err = ctx.Err(); err != nil {
		return done, err
	}
	if _, e := os.Stat(path); e == nil {
		done.Kept = path + ".before-restore-" + time.Now().UTC().Format("20060102T150405Z")
		if err = w.olderThan(path, file, theirs, replace); err != nil {
			return done, err
		}
	}
	done.File, done.Latest = file, theirs.Latest
	return done, record.Replace(path, part, done.Kept)
}

// olderThan refuses to replace a record that has more than the backup.
func (w *Workshop) olderThan(path, file string, backup record.Summary, replace bool) error {
	if replace {
		return nil
	}
	s, err := record.OpenReadOnly(path)
	if err != nil {
		return fault.New(fault.Input, path, "the record that is there cannot be read, so that nobody knows what it holds", "restore with --replace: the file is kept beside the new one", err)
	}
	defer s.Close()
	mine, err := s.Summary()
	switch {
	case err != nil:
		return err
	case mine.Key != "" && mine.Key != backup.Key:
		return fault.New(fault.Input, file, "this is the backup of another workshop", "name another folder with --workshop DIR, or restore with --replace: what is there is kept beside it")
	case mine.Latest > backup.Latest || mine.Rows > backup.Rows:
		return fault.New(fault.Input, path, "the record has what the backup lacks: it was added to at "+mine.Latest+", the backup at "+orNever(backup.Latest),
			"restore with --replace if it is to be given up; it is kept beside the new one")
	}
	return nil
}

func orNever(at string) string {
	if at == "" {
		return "no time"
	}
	return at
}

// ofBackup puts a file's own name in the place of the copy's that was looked at.
func ofBackup(file string, err error) error {
	var e *fault.Error
	if errors.As(err, &e) {
		return fault.New(e.Class, file, e.What, "name a file that floatmark backup wrote", err)
	}
	return fault.At(file, err)
}

// copyFile copies a file and has the copy on the disc.
func copyFile(from, to string) (n int64, err error) {
	in, err := os.Open(from)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, fault.New(fault.NotFound, from, "there is no such file", "name a file that floatmark backup wrote", err)
	}
	if err != nil {
		return 0, machine(from, "cannot be read", err)
	}
	defer in.Close()
	if info, err := in.Stat(); err == nil && info.IsDir() {
		return 0, fault.New(fault.Input, from, "this is a folder", "name a file that floatmark backup wrote, or import what floatmark export wrote")
	}
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return 0, machine(to, "cannot be written", err)
	}
	n, err = io.Copy(out, in)
	if err == nil {
		err = out.Sync()
	}
	if e := out.Close(); err == nil {
		err = e
	}
	if err != nil {
		return n, machine(to, "cannot be written", err)
	}
	return n, nil
}
