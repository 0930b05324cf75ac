package record

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"floatmark/loading/fault"
)

// Summary tells a record from others without reading all of it.
type Summary struct {
	Schema int
	Latest string // when it was last added to, UTC, RFC 3339; "" for never
	Rows   int    // how much was ever added; it only grows
	Key    string // the workshop's key, "" before its first print
}

// ErrInUse is the cause of the fault of whoever would replace a record that another
// process has open.
var ErrInUse = errors.New("the record is in use")

// dates are the columns that say when something was added, by the schema that has
// them first. Every table that is added to is in here or grows with one that is.
var dates = []struct {
	from          int
	table, column string
}{
	{1, "float_versions", "created"}, {1, "prints", "made"}, {1, "print_states", "at"}, {readingsFrom, "readings", "made"},
	{filmLimitsFrom, "film_limits", "made"}, {printersFrom, "printers", "made"}, {ledgerFrom, "sheet_events", "at"}, {ledgerFrom, "spare_claims", "at"},
	{ledgerFrom, "mark_moves", "at"}, {ticksFrom, "ticks", "at"}, {ticksFrom, "code_sizes", "made"}, {changesFrom, "change_sets", "at"},
	{changesFrom, "photos", "at"},
}

// Summary sums the record up.
func (s *Store) Summary() (Summary, error) {
	sum := Summary{Schema: s.has}
	if s.has == 0 {
		sum.Schema = len(migrations())
	}
	for _, d := range dates {
		if d.from > sum.Schema {
			continue
		}
		var n int
		var latest string
		if _, err := s.one(fmt.Sprintf("SELECT count(*), coalesce(max(%s), '') FROM %s", d.column, d.table), nil, &n, &latest); err != nil {
			return sum, err
		}
		sum.Rows += n
		sum.Latest = max(sum.Latest, latest)
	}
	var err error
	sum.Key, _, err = s.Setting("key")
	return sum, err
}

// Verify opens the record at path for reading, checks all of it and sums it up.
// Errors are those of OpenReadOnly, and Machine for a record that is damaged.
func Verify(path string) (Summary, error) {
	s, err := OpenReadOnly(path)
	if err != nil {
		return Summary{}, err
	}
	defer s.Close()
	damaged := func(what string) error {
		return fault.New(fault.Machine, path, "the record is damaged: "+what, "use another copy of it")
	}
	var said []string
	err = s.each("PRAGMA integrity_check(3)", nil, func(rows *sql.Rows) error {
		var line string
		err := rows.Scan(&line)
		said = append(said, line)
		return err
	})
	if err != nil {
		return Summary{}, err
	}
	if len(said) != 1 || said[0] != "ok" {
		return Summary{}, damaged(strings.Join(said, "; "))
	}
	orphans := 0
	if err := s.each("PRAGMA foreign_key_check", nil, func(*sql.Rows) error { orphans++; return nil }); err != nil {
		return Summary{}, err
	}
	if orphans > 0 {
		return Summary{}, damaged(fmt.Sprintf("%d rows belong to nothing", orphans))
	}
	return s.Summary()
}

// Backup writes the record, as its last commit left it, to a file of that name:
// whole, checked and on the disc before it gets its name, so that a copy that was
// there before is replaced by a sound one or not at all. Others may go on writing
// meanwhile.
func (s *Store) Backup(name string) (Summary, error) {
	part := name + ".part"
	if err := s.copyTo(part); err != nil {
		return Summary{}, err
	}
	sum, err := Verify(part)
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		os.Remove(part)
		return Summary{}, s.machine(err)
	}
	syncFolder(name)
	return sum, nil
}

// copyTo writes a copy and has it on the disc; what stood there is gone.
func (s *Store) copyTo(name string) error {
	if err := os.Remove(name); err != nil && !os.IsNotExist(err) {
		return s.machine(err)
	}
	conn, err := connect(s.path, 1, busyWait)
	if err != nil {
		return s.machine(err)
	}
	defer conn.Close()
	_, err = conn.Exec("VACUUM INTO ?", name)
	if err == nil {
		err = os.Chmod(name, 0o600) // the workshop's key lies in it
	}
	if err == nil {
		err = syncFile(name)
	}
	if err != nil {
		os.Remove(name)
		return fault.New(fault.Machine, name, "the copy cannot be written: "+reason(err), "make room on the disc, or name a file in a folder that may be written", err)
	}
	return nil
}

// syncFolder has a new name on the disc. Not every system can say so of a folder;
// where it cannot, a power cut may bring the old name back, with a sound file.
func syncFolder(name string) {
	if f, err := os.Open(filepath.Dir(name)); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}

// Replace puts the record at from, which is in the same folder and is gone then,
// in the place of the one at path. The old one, if there is one, is kept under the
// name kept. Nobody may have it open meanwhile: a Machine fault if anybody has.
func Replace(path, from, kept string) error {
	s := &Store{path: path}
	if _, err := os.Stat(path); err == nil {
		if err := s.putAside(kept); err != nil {
			return err
		}
	}
	if err := os.Rename(from, path); err != nil {
		return s.machine(err)
	}
	syncFolder(path)
	return nil
}

// putAside folds the log into the record, which only works while nobody else
// has it open, and keeps a copy.
func (s *Store) putAside(kept string) error {
	db, err := connect(s.path, 1, 0)
	if err != nil {
		return s.machine(err)
	}
	defer db.Close()
	var mode string
	if err := db.QueryRow("PRAGMA journal_mode = DELETE").Scan(&mode); err != nil {
		if isBusy(err) {
			return fault.New(fault.Machine, s.path, "the record is in use by another floatmark", "stop it (floatmark serve, or a print), then run this again; nothing was changed", errors.Join(ErrInUse, err))
		}
		return s.machine(err)
	}
	return s.copyTo(kept)
}
