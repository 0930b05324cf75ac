package job

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// incoming of a workshop holds the one copy that was sent to be restored, until it
// is or is put away.
const (
	incoming     = "incoming"
	receivedFile = "received"
	receivedNote = "received.json"
	exportDir    = "export"
)

// MostReceived is the largest copy that is taken, bytes: a workshop of 100,000
// floats with a photograph of each fourth is as large. An estimate.
const MostReceived = 8 << 30

// The kinds of what is received.
const (
	BackupKind = "backup" // a record as Backup writes it
	ExportKind = "export" // a folder as Export writes it, packed (ZIP)
)

// Contents is what a record holds, for a person to tell it from another.
type Contents struct {
	Batches []record.Held `json:"batches"`
	Floats  int           `json:"floats"`
	Prints  int           `json:"prints"`
	Latest  string        `json:"latest"` // when it was last added to, UTC, RFC 3339; "" for never
	Rows    int           `json:"rows"`
	Key     string        `json:"-"` // the workshop's; "" before its first print
}

// Received is a copy that was sent, and what is in it.
type Received struct {
	Kind  string   `json:"kind"`
	Bytes int64    `json:"bytes"`
	Sum   string   `json:"sum"` // names it: SHA-256, hex
	Holds Contents `json:"holds"`
	Other bool     `json:"other"` // it is of another workshop
}

func contentsOf(s *record.Store) (c Contents, err error) {
	if c.Batches, err = s.Holds(tankKind); err != nil {
		return c, err
	}
	for _, b := range c.Batches {
		c.Floats, c.Prints = c.Floats+b.Floats, c.Prints+b.Prints
	}
	sum, err := s.Summary()
	c.Latest, c.Rows, c.Key = sum.Latest, sum.Rows, sum.Key
	return c, err
}

// Contents tells what the workshop's own record holds; nothing where there is none.
func (w *Workshop) Contents() (Contents, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return Contents{}, err
	}
	defer s.Close()
	return contentsOf(s)
}

// Receive takes a copy, checks all of it and tells what is in it; nothing of the
// workshop's own is changed. What was received before is put away. Errors: Input
// for what is neither a backup nor an export, is damaged or too large; Machine.
func (w *Workshop) Receive(ctx context.Context, from io.Reader) (got Received, err error) {
	if err := w.PutAway(); err != nil {
		return got, err
	}
	dir := filepath.Join(w.Dir, incoming)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return got, machine(dir, "the folder cannot be made", err)
	}
	defer func() {
		if err != nil {
			_ = w.PutAway() // best effort: the first error is the one to tell
		}
	}()
	file := filepath.Join(dir, receivedFile)
	if got.Bytes, got.Sum, err = receiveInto(file, from); err != nil {
		return got, err
	}
	if err = ctx.Err(); err != nil {
		return got, err
	}
	if got.Kind, err = kindOf(file); err != nil {
		return got, err
	}
	look := file
	if got.Kind == ExportKind {
		if look, err = lookExport(ctx, file, dir); err != nil {
			return got, err
		}
	}
	if _, err = record.Verify(look); err != nil {
		return got, ofReceived(err)
	}
	s, err := record.OpenReadOnly(look)
	if err != nil {
		return got, ofReceived(err)
	}
	got.Holds, err = contentsOf(s)
	s.Close()
	if err != nil {
		return got, ofReceived(err)
	}
	mine, err := w.Contents()
	if err != nil {
		mine = Contents{} // a record that cannot be read is replaced all the same
	}
	got.Other = mine.Key != "" && got.Holds.Key != mine.Key
	note, err := json.Marshal(got)
	if err != nil {
		return got, err
	}
	return got, writeOutput(dir, output(receivedNote, note))
}

// receiveInto writes what is sent to a file and names it by what it holds.
func receiveInto(file string, from io.Reader) (int64, string, error) {
	out, err := os.OpenFile(file, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return 0, "", machine(file, "cannot be written", err)
	}
	h := sha256.New()
	n, err := io.Copy(io.MultiWriter(out, h), io.LimitReader(from, MostReceived+1))
	if e := out.Close(); err == nil {
		err = e
	}
	var disc *fs.PathError
	switch {
	case errors.As(err, &disc):
		return n, "", machine(file, "cannot be written", err)
	case err != nil:
		return n, "", fault.New(fault.Input, "", "the file did not come whole: "+err.Error(), "send it again", err)
	case n > MostReceived:
		return n, "", fault.Inputf("restore it with the command: floatmark restore FILE", "the file is larger than %d GB", MostReceived>>30)
	case n == 0:
		return n, "", fault.Inputf("choose a file that was kept as a backup or an export", "the file is empty")
	}
	return n, hex.EncodeToString(h.Sum(nil)), nil
}

// kindOf tells a backup from an export by its first bytes.
func kindOf(file string) (string, error) {
	f, err := os.Open(file)
	if err != nil {
		return "", machine(file, "cannot be read", err)
	}
	defer f.Close()
	head := make([]byte, 16)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return "", machine(file, "cannot be read", err)
	}
	switch {
	case bytes.Equal(head[:n], []byte("SQLite format 3\x00")):
		return BackupKind, nil
	case bytes.HasPrefix(head[:n], []byte("PK\x03\x04")):
		return ExportKind, nil
	}
	return "", fault.Inputf("choose the file that was saved as a backup (.db), or an export packed (.zip)", "this is neither a backup nor an export")
}

// lookExport unpacks an export and reads it into a record of its own, so that it
// is known to be whole, and returns that record.
func lookExport(ctx context.Context, file, dir string) (string, error) {
	to := filepath.Join(dir, exportDir)
	if err := unpackExport(ctx, file, to); err != nil {
		return "", err
	}
	look := &Workshop{Dir: filepath.Join(dir, "look")}
	if _, err := look.Import(ctx, to); err != nil {
		return "", ofReceived(err)
	}
	return filepath.Join(look.Dir, recordsFile), nil
}

// exportNames are the files of an export that are read again.
var exportNames = regexp.MustCompile(`^(workshop\.json|workshop\.toml|photos/\d{6,9}\.jpg)$`)

// unpackExport unpacks the files of an export into a folder, those and no others.
func unpackExport(ctx context.Context, file, to string) error {
	none := fault.Inputf("choose an export packed (ZIP), or a backup", "there is no %s in it", exportJSON)
	z, err := zip.OpenReader(file)
	if err != nil {
		return fault.New(fault.Input, "", "the packed file cannot be opened: "+err.Error(), "download it again", err)
	}
	defer z.Close()
	base := ""
	found := false
	for _, f := range z.File {
		if path.Base(f.Name) == exportJSON && path.Dir(path.Dir(f.Name)) == "." {
			base, found = path.Dir(f.Name), true
		}
	}
	if !found {
		return none
	}
	left := int64(MostReceived)
	for _, f := range z.File {
		name := f.Name
		if base != "." {
			name = strings.TrimPrefix(name, base+"/")
		}
		if !exportNames.MatchString(name) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		n, err := unpackOne(f, filepath.Join(to, filepath.FromSlash(name)), left)
		if err != nil {
			return err
		}
		left -= n
	}
	return nil
}

func unpackOne(f *zip.File, to string, most int64) (int64, error) {
	in, err := f.Open()
	if err != nil {
		return 0, fault.New(fault.Input, f.Name, "cannot be unpacked: "+err.Error(), "download the export again", err)
	}
	defer in.Close()
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return 0, machine(to, "cannot be written", err)
	}
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return 0, machine(to, "cannot be written", err)
	}
	n, err := io.Copy(out, io.LimitReader(in, most+1))
	if e := out.Close(); err == nil {
		err = e
	}
	switch {
	case err != nil:
		return n, fault.New(fault.Input, f.Name, "cannot be unpacked: "+err.Error(), "download the export again", err)
	case n > most:
		return n, fault.Inputf("import it with the command: floatmark import DIR", "unpacked it is larger than %d GB", MostReceived>>30)
	}
	return n, nil
}

// ofReceived tells what is wrong with a copy without the name that it lies under
// meanwhile.
func ofReceived(err error) error {
	var e *fault.Error
	if errors.As(err, &e) {
		class := e.Class
		if class == fault.Machine || class == fault.NotFound {
			class = fault.Input // the copy is damaged, the machine is not
		}
		return fault.New(class, "", e.What, "choose another copy", err)
	}
	return err
}

// Received returns what was received last; false for nothing.
func (w *Workshop) Received() (got Received, ok bool, err error) {
	data, err := os.ReadFile(filepath.Join(w.Dir, incoming, receivedNote))
	if errors.Is(err, fs.ErrNotExist) {
		return got, false, nil
	}
	if err != nil {
		return got, false, machine(receivedNote, "cannot be read", err)
	}
	if json.Unmarshal(data, &got) != nil {
		return Received{}, false, nil // half written: it is sent again
	}
	return got, true, nil
}

// PutAway deletes what was received.
func (w *Workshop) PutAway() error {
	if err := os.RemoveAll(filepath.Join(w.Dir, incoming)); err != nil {
		return machine(filepath.Join(w.Dir, incoming), "cannot be deleted", err)
	}
	return nil
}

// RestoreReceived is Restore of the backup that was received, whatever the record
// there holds: what that is was shown. sum is what Received named it by; rows and
// latest are those of the workshop's own record then. Where either is another now
// the error is Input and nothing is changed. It is put away once it is restored.
func (w *Workshop) RestoreReceived(ctx context.Context, sum string, rows int) (BackupDone, error) {
	got, err := w.named(sum, BackupKind)
	if err != nil {
		return BackupDone{}, err
	}
	if mine, err := w.Contents(); err == nil && mine.Rows != rows {
		return BackupDone{}, fault.Inputf("look again at what would be replaced, then press it once more", "the record was added to since that was shown; nothing was changed")
	}
	done, err := w.Restore(ctx, filepath.Join(w.Dir, incoming, receivedFile), true)
	if err != nil {
		return done, err
	}
	done.Bytes = got.Bytes
	return done, w.PutAway()
}

// ImportReceived is Import of the export that was received; sum is what Received
// named it by. It is put away once it is imported.
func (w *Workshop) ImportReceived(ctx context.Context, sum string) (ImportDone, error) {
	if _, err := w.named(sum, ExportKind); err != nil {
		return ImportDone{}, err
	}
	done, err := w.Import(ctx, filepath.Join(w.Dir, incoming, exportDir))
	if err != nil {
		return done, err
	}
	return done, w.PutAway()
}

func (w *Workshop) named(sum, kind string) (Received, error) {
	got, ok, err := w.Received()
	if err != nil {
		return got, err
	}
	if !ok || got.Sum != sum || got.Kind != kind {
		return got, fault.Inputf("choose the file again", "this copy is not here any more")
	}
	return got, nil
}

// InUse reports whether an error says that another process has the record open.
func InUse(err error) bool {
	return errors.Is(err, record.ErrInUse)
}
