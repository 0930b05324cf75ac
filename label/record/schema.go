package record

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"strconv"
	"time"

	"floatmark/loading/fault"
)

// application marks the file as a record of this program, "Flom" in ASCII:
// SQLite's header has a field for it, and `file` shows it.
const application = 0x466c6f6d

// migration is one step of the schema. Steps are appended and never edited: a
// record made by any released program must open for ever.
type migration struct {
	what string // for people who read this list
	sql  string
}

func migrations() []migration {
	return []migration{
		{"settings, floats and their versions, prints, their states, files and regions", `
CREATE TABLE settings (
	name  TEXT PRIMARY KEY,
	value TEXT NOT NULL
) STRICT;
CREATE TABLE floats (
	seq     INTEGER PRIMARY KEY,
	id      TEXT NOT NULL UNIQUE,
	batch   TEXT NOT NULL,
	number  INTEGER NOT NULL,
	attempt INTEGER NOT NULL,
	UNIQUE (batch, number)
) STRICT;
CREATE TABLE float_versions (
	float   INTEGER NOT NULL REFERENCES floats (seq),
	version INTEGER NOT NULL,
	pattern TEXT NOT NULL,
	data    TEXT NOT NULL,
	created TEXT NOT NULL,
	PRIMARY KEY (float, version)
) STRICT;
CREATE TABLE prints (
	seq   INTEGER PRIMARY KEY,
	key   TEXT NOT NULL,
	run   INTEGER NOT NULL,
	batch TEXT NOT NULL,
	made  TEXT NOT NULL,
	data  TEXT NOT NULL,
	UNIQUE (key, run)
) STRICT;
CREATE INDEX prints_batch ON prints (batch);
CREATE TABLE print_states (
	print INTEGER NOT NULL REFERENCES prints (seq),
	step  INTEGER NOT NULL,
	state TEXT NOT NULL CHECK (state IN ('pending', 'confirmed', 'cancelled')),
	at    TEXT NOT NULL,
	PRIMARY KEY (print, step)
) STRICT;
CREATE TABLE print_files (
	print  INTEGER NOT NULL REFERENCES prints (seq),
	name   TEXT NOT NULL,
	sha256 TEXT NOT NULL,
	PRIMARY KEY (print, name)
) STRICT;
CREATE TABLE regions (
	seq   INTEGER PRIMARY KEY,
	print INTEGER NOT NULL REFERENCES prints (seq),
	sheet TEXT NOT NULL,
	stock TEXT NOT NULL,
	data  TEXT NOT NULL
) STRICT;
CREATE INDEX regions_stock ON regions (stock);
CREATE INDEX regions_print ON regions (print);
`},
		{"readings of the test tank", `
CREATE TABLE readings (
	seq    INTEGER PRIMARY KEY,
	key    TEXT NOT NULL UNIQUE,
	batch  TEXT NOT NULL,
	number INTEGER NOT NULL,
	made   TEXT NOT NULL,
	data   TEXT NOT NULL
) STRICT;
CREATE INDEX readings_float ON readings (batch, number);
`},
		{"what films bear, as the maker found", `
CREATE TABLE film_limits (
	seq   INTEGER PRIMARY KEY,
	stock TEXT NOT NULL,
	made  TEXT NOT NULL,
	data  TEXT NOT NULL
) STRICT;
CREATE INDEX film_limits_stock ON film_limits (stock);
`},
		{"printers as calibrated", `
CREATE TABLE printers (
	seq  INTEGER PRIMARY KEY,
	name TEXT NOT NULL,
	made TEXT NOT NULL,
	data TEXT NOT NULL
) STRICT;
CREATE INDEX printers_name ON printers (name);
`},
		{"sheets and what became of them, spares, unnumbered marks", ledgerTables},
		{"ticks of finished floats, sizes of code that phones read", ticksTables},
		{"build records and their changes, photographs, the search", changeTables},
	}
}

// queryer is what *sql.Conn and *sql.Tx share.
type queryer interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

// schema returns the number of steps the record has taken, 0 for an empty
// file. It refuses other programs' databases and records of a newer program.
func (s *Store) schema(q queryer, known int) (int, error) {
	var app, version, tables int
	// One statement sees one state: another program may be making the record.
	err := q.QueryRowContext(context.Background(), `SELECT (SELECT application_id FROM pragma_application_id),
		(SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM sqlite_schema)`).Scan(&app, &version, &tables)
	if err != nil {
		return 0, err
	}
	switch {
	case app == 0 && version == 0 && tables == 0:
		return 0, nil
	case app != application:
		return 0, fault.New(fault.Input, s.path, "this is a database of another program, not a record",
			"name another file or another workshop folder; this one was not changed")
	case version > known:
		return 0, fault.New(fault.Input, s.path,
			"the record was written by a newer floatmark: it has schema "+strconv.Itoa(version)+", this program knows "+strconv.Itoa(known),
			"use the newer floatmark; the record was not changed")
	}
	return version, nil
}

// starts is how often a start tries again that met another one: each try waits
// until the other's transaction is over.
const starts = 50

// migrate takes the steps that are missing, each in its own transaction with a
// copy of the record before it. Switching the journal of a new file does not
// wait for a lock as transactions do, so a start that finds it busy waits for
// one first and tries again.
func (s *Store) migrate(steps []migration, busy time.Duration) error {
	tries := 0
	for {
		more, err := s.step(steps)
		if err == nil && !more {
			return nil
		}
		if err != nil {
			if tries++; tries == starts || !isBusy(err) {
				return err
			}
			if err := s.wait(busy); err != nil {
				return err
			}
		}
	}
}

// wait returns when nobody writes, or an error when that takes longer than busy.
func (s *Store) wait(busy time.Duration) error {
	db, err := connect(s.path, 1, busy)
	if err != nil {
		return err
	}
	defer db.Close()
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	return tx.Rollback()
}

// step takes one step, or all of a new record. The lock is taken before the schema is read, so
// of two programs that start together one takes the step and the other finds
// it taken.
func (s *Store) step(steps []migration) (more bool, err error) {
	ctx := context.Background()
	// Most starts find nothing to do and need not wait for a writer.
	conn, err := s.write.Conn(ctx)
	if err != nil {
		return false, err
	}
	have, err := s.schema(conn, len(steps))
	conn.Close()
	if err != nil || have == len(steps) {
		return false, err
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return false, err
	}
	defer tx.Rollback()
	if have, err = s.schema(tx, len(steps)); err != nil || have == len(steps) {
		return false, err
	}
	if have > 0 {
		if err := s.copyAs(s.path + ".schema" + strconv.Itoa(have)); err != nil {
			return false, err
		}
	}
	// A new record takes all steps at once: nobody finds it half made, and there
	// is nothing to copy between them.
	upTo := have + 1
	if have == 0 {
		upTo = len(steps)
	}
	for _, m := range steps[have:upTo] {
		if _, err := tx.ExecContext(ctx, m.sql); err != nil {
			return false, err
		}
	}
	_, err = tx.ExecContext(ctx, "PRAGMA application_id = "+strconv.Itoa(application)+
		"; PRAGMA user_version = "+strconv.Itoa(upTo))
	if err != nil {
		return false, err
	}
	return true, tx.Commit()
}

// copyAs writes a copy of the record, as its last commit left it, to the named
// file. A copy of an earlier, failed try is replaced.
func (s *Store) copyAs(name string) error {
	part := name + ".part"
	err := os.Remove(part)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	conn, err := connect(s.path, 1, busyWait)
	if err != nil {
		return err
	}
	defer conn.Close()
	_, err = conn.Exec("VACUUM INTO ?", part)
	if err == nil {
		err = syncFile(part)
	}
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		os.Remove(part)
		return fault.New(fault.Machine, name, "the copy that is kept before the record is brought up to date cannot be written: "+reason(err),
			"make room on the disc or make the folder writable; the record was not changed", err)
	}
	return nil
}

func syncFile(name string) error {
	f, err := os.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = f.Sync()
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
