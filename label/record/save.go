package record

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"floatmark/loading/fault"
)

// commit runs f in one short transaction of the writer. Whatever f returns but
// nil undoes all of it.
func (s *Store) commit(f func(tx *sql.Tx) error) error {
	if s.write == nil {
		return fault.New(fault.Ours, s.path, "the record was opened for reading only", "")
	}
	tx, err := s.write.BeginTx(context.Background(), nil)
	if err != nil {
		return s.machine(err)
	}
	defer tx.Rollback() // does nothing after the commit
	if err := f(tx); err != nil {
		return s.machine(err)
	}
	return s.machine(tx.Commit())
}

// SetSetting writes a setting once: the same value again is fine, another value
// is an Input fault. Settings such as the workshop's key stand behind every id
// that was ever printed.
func (s *Store) SetSetting(name, value string) error {
	return s.commit(func(tx *sql.Tx) error { return s.setSetting(tx, Setting{name, value}) })
}

// Setting is a name and its value, to be set in the same commit as a print.
type Setting struct{ Name, Value string }

func (s *Store) setSetting(tx *sql.Tx, set Setting) error {
	var have string
	err := tx.QueryRow("SELECT value FROM settings WHERE name = ?", set.Name).Scan(&have)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		_, err = tx.Exec("INSERT INTO settings (name, value) VALUES (?, ?)", set.Name, set.Value)
		return err
	case err == nil && have != set.Value:
		return fault.New(fault.Input, s.path, "the setting "+strconv.Quote(set.Name)+" has a value already and keeps it",
			"use another workshop folder for another value")
	}
	return err
}

// SavePrint saves a print as pending, with its regions, the floats, spares and
// unnumbered marks on it and settings that a first print makes, in one commit:
// all of it or nothing.
//
// Regions on numbered sheets are reserved as they were planned: a sheet of which
// something was taken since, or a fresh one whose number another print got, is a
// Machine fault with cause ErrMeanwhile.
//
// A key that is pending already keeps its print as it is; one that was
// cancelled gets a new run; one that is confirmed is an Input fault unless
// p.Again. A float is added, or, if its pattern or data differ from what is
// there, gets a new version; the older ones stay (History). A float has one id
// for ever: an id of another float is a fault with cause ErrTaken, a second id
// for the same float an Input fault.
func (s *Store) SavePrint(p Print, floats []Float, settings ...Setting) error {
	if err := sound(p, floats); err != nil {
		return err
	}
	return s.commit(func(tx *sql.Tx) error {
		for _, set := range settings {
			if err := s.setSetting(tx, set); err != nil {
				return err
			}
		}
		print, err := savePrint(tx, p)
		if err != nil {
			return err
		}
		for _, f := range floats {
			if err := saveFloat(tx, f, print); err != nil {
				return err
			}
		}
		if print == 0 {
			return nil
		}
		if err := saveSpares(tx, p.Spares, print); err != nil {
			return err
		}
		return moveMarks(tx, p.Marks, print, "", p.Made)
	})
}

// sound refuses what no caller should pass: these are our faults, found before
// the database is asked.
func sound(p Print, floats []Float) error {
	bad := func(where, what string) error { return fault.New(fault.Ours, where, what, "") }
	switch {
	case p.Key == "":
		return bad("print", "a print without a key")
	case p.State != "" && p.State != Pending:
		return bad("print "+p.Key, "a print is saved as pending, not as "+strconv.Quote(p.State))
	case !valid(p.Data):
		return bad("print "+p.Key, "its data are no JSON")
	}
	numbers := map[int]bool{}
	for _, r := range p.Regions {
		switch {
		case !valid(r.Data):
			return bad("region on "+r.name(), "its data are no JSON")
		case r.Number < 0 || r.Number > 0 && numbers[r.Number]:
			return bad("region on "+r.name(), "a print has one region on a sheet, all it takes of it")
		case r.Number == 0 && isNumber(r.Sheet):
			return bad("region on "+r.name(), "a sheet without a number has a number for its name")
		}
		numbers[r.Number] = true
	}
	for _, sp := range p.Spares {
		if sp.ID == "" || sp.Figures == "" || !valid(sp.Data) {
			return bad(sp.place(), "a spare without id or figures, or with data that are no JSON")
		}
	}
	for _, m := range p.Marks {
		if m.Figures == "" {
			return bad("unnumbered marks", "marks without figures")
		}
	}
	for _, f := range floats {
		if f.ID == "" {
			return bad(place(f), "a float without an id")
		}
		if !valid(f.Data) {
			return bad(place(f), "its data are no JSON")
		}
	}
	return nil
}

func valid(data json.RawMessage) bool { return len(data) == 0 || json.Valid(data) }

func place(f Float) string { return fmt.Sprintf("float %d of %s", f.Number, f.Batch) }

func isNumber(name string) bool {
	_, err := strconv.Atoi(name)
	return err == nil
}

// savePrint returns the number of the new print, 0 if it is there already.
func savePrint(tx *sql.Tx, p Print) (int64, error) {
	var run int
	var state string
	err := tx.QueryRow(latest+" WHERE p.key = ? ORDER BY p.run DESC LIMIT 1", p.Key).Scan(new(int64), &run, &state)
	switch {
	case errors.Is(err, sql.ErrNoRows):
	case err != nil:
		return 0, err
	case state == Pending:
		return 0, nil
	case state == Confirmed && !p.Again:
		return 0, fault.New(fault.Input, "print "+p.Key, "this very print was made and confirmed already",
			"ask for it again if its marks are to be printed once more")
	}
	res, err := tx.Exec("INSERT INTO prints (key, run, batch, made, data) VALUES (?, ?, ?, ?, ?)",
		p.Key, run+1, p.Batch, p.Made, string(p.Data))
	if err != nil {
		return 0, err
	}
	seq, err := res.LastInsertId()
	if err != nil {
		return 0, err
	}
	if err := addState(tx, seq, Pending, p.Made); err != nil {
		return 0, err
	}
	for _, name := range slices.Sorted(maps.Keys(p.Files)) {
		if _, err := tx.Exec("INSERT INTO print_files (print, name, sha256) VALUES (?, ?, ?)", seq, name, p.Files[name]); err != nil {
			return 0, err
		}
	}
	for _, r := range p.Regions {
		if _, err := tx.Exec("INSERT INTO regions (print, sheet, stock, data) VALUES (?, ?, ?, ?)", seq, r.name(), r.Stock, string(r.Data)); err != nil {
			return 0, err
		}
	}
	return seq, reserve(tx, p, seq)
}

// latest reads number, run and present state of prints.
const latest = `SELECT p.seq, p.run,
	(SELECT state FROM print_states WHERE print = p.seq ORDER BY step DESC LIMIT 1)
	FROM prints p`

func addState(tx *sql.Tx, print int64, state, at string) error {
	_, err := tx.Exec(`INSERT INTO print_states (print, step, state, at)
		SELECT ?, coalesce(max(step), 0) + 1, ?, ? FROM print_states WHERE print = ?`, print, state, at, print)
	return err
}

// saveFloat saves a float and, if print is a new one, what it prints on it.
func saveFloat(tx *sql.Tx, f Float, print int64) error {
	seq, err := identity(tx, f)
	if err != nil {
		return err
	}
	if print > 0 && f.Figures != "" {
		if _, err := tx.Exec("INSERT INTO float_figures (float, print, figures) VALUES (?, ?, ?)", seq, print, f.Figures); err != nil {
			return err
		}
	}
	var version int
	var pattern, data string
	err = tx.QueryRow("SELECT version, pattern, data FROM float_versions WHERE float = ? ORDER BY version DESC LIMIT 1", seq).
		Scan(&version, &pattern, &data)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if err == nil && pattern == f.Pattern && data == string(f.Data) {
		// What a text holds stands in the print too; a new version marks it by itself.
		_, err = tx.Exec("INSERT INTO search_stale (kind, key, mark) VALUES ('float', ?, 1) ON CONFLICT DO UPDATE SET mark = mark + 1", f.ID)
		return err
	}
	_, err = tx.Exec("INSERT INTO float_versions (float, version, pattern, data, created) VALUES (?, ?, ?, ?, ?)",
		seq, version+1, f.Pattern, string(f.Data), f.Created)
	return err
}

// identity returns the row of f, made if there is none, and holds the rule that
// id and place belong together for ever.
func identity(tx *sql.Tx, f Float) (int64, error) {
	var seq int64
	var other Float
	err := tx.QueryRow("SELECT seq, batch, number FROM floats WHERE id = ?", f.ID).Scan(&seq, &other.Batch, &other.Number)
	switch {
	case err == nil && (other.Batch != f.Batch || other.Number != f.Number):
		return 0, fault.New(fault.Ours, place(f), "the id "+f.ID+" already stands for "+place(other)+" and is never used twice",
			"run this again; the next id is then taken", ErrTaken)
	case err == nil:
		return seq, nil
	case !errors.Is(err, sql.ErrNoRows):
		return 0, err
	}
	if err := notASpare(tx, f.ID, place(f)); err != nil {
		return 0, err
	}
	err = tx.QueryRow("SELECT id FROM floats WHERE batch = ? AND number = ?", f.Batch, f.Number).Scan(&other.ID)
	switch {
	case err == nil:
		return 0, fault.New(fault.Input, place(f), "it has the id "+other.ID+" already and cannot get "+f.ID+" as well",
			"give a new float a number of its own, or a new batch a name of its own")
	case !errors.Is(err, sql.ErrNoRows):
		return 0, err
	}
	res, err := tx.Exec("INSERT INTO floats (id, batch, number, attempt) VALUES (?, ?, ?, ?)", f.ID, f.Batch, f.Number, f.Attempt)
	if err != nil {
		return 0, err
	}
	return res.LastInsertId()
}
