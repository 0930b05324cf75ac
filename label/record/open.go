package record

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"time"

	_ "modernc.org/sqlite" // the driver "sqlite"

	"floatmark/loading/fault"
)

// busyWait is how long a writer waits for another one. A print's commit takes
// milliseconds, so who waits longer meets a stuck program, not a queue.
const busyWait = 5 * time.Second

// readers is the size of the pool of reading connections: enough for a bench
// with a few browsers open.
const readers = 4

type options struct {
	busy       time.Duration
	migrations []migration
}

// Option changes how a store is opened.
type Option func(*options)

// Busy sets how long a write waits for another writer, 5 s if not given.
func Busy(d time.Duration) Option { return func(o *options) { o.busy = d } }

func settle(opts []Option) options {
	o := options{busy: busyWait, migrations: migrations()}
	for _, f := range opts {
		f(&o)
	}
	return o
}

// Open opens the record at path for reading and writing and brings it to the
// present schema; it makes the file and its folder if there is none. Before an
// existing record is changed a copy is put beside it, named after the schema it
// still has: workshop.db.schema1. Faults: Machine if the folder cannot be
// written or the record stays busy, Input if the file is no record or was
// written by a newer floatmark.
func Open(path string, opts ...Option) (*Store, error) {
	o := settle(opts)
	if err := create(path); err != nil {
		return nil, err
	}
	s := &Store{path: path}
	var err error
	// Wait first, then the journal: switching it takes a lock. FULL syncs every
	// commit, so that a power cut after a print loses nothing of it.
	if s.write, err = connect(path, 1, o.busy, "journal_mode(WAL)", "synchronous(FULL)"); err != nil {
		return nil, s.machine(err)
	}
	if s.read, err = connect(path, readers, o.busy, "query_only(1)"); err == nil {
		err = s.migrate(o.migrations, o.busy)
	}
	if err != nil {
		s.Close() // the first error is the one to tell
		return nil, s.machine(err)
	}
	return s, nil
}

// OpenReadOnly opens the record at path for reading and changes nothing in it.
// Steps of the schema only ever add, so a record that lacks the latest ones is
// read as it is: what it has no table for, it has none of. Faults: NotFound if
// there is none, Input if it is no record or was written by a newer floatmark.
func OpenReadOnly(path string, opts ...Option) (*Store, error) {
	o := settle(opts)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) || err == nil && info.Size() == 0:
		return nil, fault.New(fault.NotFound, path, "there is no record here yet",
			"print a batch first, or name the workshop folder that holds the record", err)
	case err == nil && info.IsDir():
		return nil, isFolder(path)
	}
	s := &Store{path: path}
	if err != nil {
		return nil, s.machine(err)
	}
	if s.read, err = connect(path, readers, o.busy, "query_only(1)"); err == nil {
		err = s.current(len(o.migrations))
	}
	if err != nil {
		s.Close()
		return nil, s.machine(err)
	}
	return s, nil
}

// current notes the schema of a record that is only read, and refuses one that
// has none.
func (s *Store) current(known int) error {
	conn, err := s.read.Conn(context.Background())
	if err != nil {
		return err
	}
	defer conn.Close()
	if s.has, err = s.schema(conn, known); err != nil {
		return err
	}
	if s.has == 0 {
		return fault.New(fault.Input, s.path, "this file is no record: it has no tables",
			"name another file or another workshop folder")
	}
	return nil
}

// create makes the folder and an empty file, readable by their owner alone:
// the workshop's key lies in it. SQLite would say no more than "unable to open".
func create(path string) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return isFolder(path)
	}
	err := os.MkdirAll(filepath.Dir(path), 0o755)
	if err == nil {
		var f *os.File
		if f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600); err == nil {
			err = f.Close()
		}
	}
	if err != nil {
		return fault.New(fault.Machine, path, "the record cannot be written: "+reason(err),
			"make the folder "+filepath.Dir(path)+" writable, or name another workshop folder", err)
	}
	return nil
}

func isFolder(path string) error {
	return fault.New(fault.Input, path, "this is a folder, not a record", "name the record's file inside it")
}

// reason is the bare cause of a file error: the path is told once, before it.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// connect opens a pool. Pragmas stand in the name, since they hold for one
// connection and the pool opens more. A reader is held by query_only and not by
// mode=ro: a connection that may not write at all leaves its two helper files
// beside the record when it closes. mode=rw makes no file.
func connect(path string, most int, busy time.Duration, pragmas ...string) (*sql.DB, error) {
	p := filepath.ToSlash(path)
	if filepath.VolumeName(path) != "" {
		p = "/" + p // file:/C:/...
	}
	q := url.Values{"mode": {"rw"}, "_txlock": {"immediate"},
		"_pragma": append([]string{
			"busy_timeout(" + strconv.FormatInt(busy.Milliseconds(), 10) + ")",
			"foreign_keys(1)"}, pragmas...)}
	db, err := sql.Open("sqlite", "file:"+(&url.URL{Path: p}).EscapedPath()+"?"+q.Encode())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(most)
	db.SetMaxIdleConns(most)
	return db, nil
}
