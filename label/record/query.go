package record

import (
	"database/sql"
	"encoding/json"
	"errors"
	"strconv"
)

// Setting returns a setting and whether it is set.
func (s *Store) Setting(name string) (string, bool, error) {
	var v string
	ok, err := s.one("SELECT value FROM settings WHERE name = ?", []any{name}, &v)
	return v, ok, err
}

// Taken reports whether an id stands for a float or a spare already.
func (s *Store) Taken(id string) (bool, error) {
	var n int
	_, err := s.one("SELECT count(*) FROM floats WHERE id = ?", []any{id}, &n)
	if err != nil || n > 0 || s.has > 0 && s.has < ledgerFrom {
		return n > 0, err
	}
	_, err = s.one("SELECT count(*) FROM spares WHERE id = ?", []any{id}, &n)
	return n > 0, err
}

// floatColumns with its order and newest is what every reading of floats shares.
const (
	floatColumns = `SELECT f.id, f.batch, f.number, f.attempt, v.pattern, v.data, v.created
	FROM floats f JOIN float_versions v ON v.float = f.seq`
	newest = ` v.version = (SELECT max(version) FROM float_versions WHERE float = f.seq)`
)

// Float returns the present version of the float with that id.
func (s *Store) Float(id string) (Float, bool, error) {
	return first(s.floats(floatColumns+" WHERE f.id = ? AND"+newest, id))
}

// FloatByNumber returns the present version of a float by its place.
func (s *Store) FloatByNumber(batch string, number int) (Float, bool, error) {
	return first(s.floats(floatColumns+" WHERE f.batch = ? AND f.number = ? AND"+newest, batch, number))
}

// Floats returns the present versions of a batch's floats, by number; none for
// an unknown batch.
func (s *Store) Floats(batch string) ([]Float, error) {
	return s.floats(floatColumns+" WHERE f.batch = ? AND"+newest+" ORDER BY f.number", batch)
}

// History returns the earlier versions of a float, oldest first, without the
// present one; each with the date it was saved.
func (s *Store) History(id string) ([]Float, error) {
	return s.floats(floatColumns+" WHERE f.id = ? AND NOT"+newest+" ORDER BY v.version", id)
}

func first(all []Float, err error) (Float, bool, error) {
	if err != nil || len(all) == 0 {
		return Float{}, false, err
	}
	return all[0], true, nil
}

func (s *Store) floats(query string, args ...any) ([]Float, error) {
	var out []Float
	err := s.each(query, args, func(rows *sql.Rows) error {
		var f Float
		var data string
		if err := rows.Scan(&f.ID, &f.Batch, &f.Number, &f.Attempt, &f.Pattern, &data, &f.Created); err != nil {
			return err
		}
		f.Data = raw(data)
		out = append(out, f)
		return nil
	})
	return out, err
}

// Batches returns the names of the batches, in the order they were first saved.
func (s *Store) Batches() ([]string, error) {
	var out []string
	err := s.each("SELECT batch FROM floats GROUP BY batch ORDER BY min(seq)", nil, func(rows *sql.Rows) error {
		var b string
		err := rows.Scan(&b)
		out = append(out, b)
		return err
	})
	return out, err
}

// withState joins a print with its present state.
const withState = ` JOIN print_states t ON t.print = p.seq AND t.step = (SELECT max(step) FROM print_states WHERE print = p.seq)`

// A print's row number is its short number: rows are never deleted.
const printColumns = `SELECT p.seq, p.key, p.batch, p.made, p.data, t.state, iif(t.state = 'pending', '', t.at)
	FROM prints p` + withState

// Prints returns a batch's prints in the order they were saved. A key that was
// printed again stands there once for each run.
func (s *Store) Prints(batch string) ([]Print, error) {
	return s.prints(printColumns+" WHERE p.batch = ? ORDER BY p.seq", batch)
}

// AllPrints returns every print of the workshop by number.
func (s *Store) AllPrints() ([]Print, error) { return s.prints(printColumns + " ORDER BY p.seq") }

// PrintByNumber returns the print with that number.
func (s *Store) PrintByNumber(number int) (Print, bool, error) {
	all, err := s.prints(printColumns+" WHERE p.seq = ?", number)
	if err != nil || len(all) == 0 {
		return Print{}, false, err
	}
	return all[0], true, nil
}

// Print returns the latest run of a print.
func (s *Store) Print(key string) (Print, bool, error) {
	all, err := s.prints(printColumns+" WHERE p.key = ? ORDER BY p.run DESC LIMIT 1", key)
	if err != nil || len(all) == 0 {
		return Print{}, false, err
	}
	return all[0], true, nil
}

func (s *Store) prints(query string, args ...any) ([]Print, error) {
	var out []Print
	var seqs []int64
	err := s.each(query, args, func(rows *sql.Rows) error {
		var p Print
		var seq int64
		var data string
		if err := rows.Scan(&seq, &p.Key, &p.Batch, &p.Made, &data, &p.State, &p.Settled); err != nil {
			return err
		}
		p.Number, p.Data = int(seq), raw(data)
		out, seqs = append(out, p), append(seqs, seq)
		return nil
	})
	// Files and regions of a print are written with it and never change, so
	// that separate readings agree.
	for i := 0; err == nil && i < len(out); i++ {
		if out[i].Files, err = s.files(seqs[i]); err == nil {
			out[i].Regions, err = s.regions("SELECT sheet, stock, data FROM regions WHERE print = ? ORDER BY seq", seqs[i])
		}
	}
	if err != nil {
		return nil, err
	}
	return out, nil
}

func (s *Store) files(print int64) (map[string]string, error) {
	var out map[string]string
	err := s.each("SELECT name, sha256 FROM print_files WHERE print = ?", []any{print}, func(rows *sql.Rows) error {
		var name, sum string
		if err := rows.Scan(&name, &sum); err != nil {
			return err
		}
		if out == nil {
			out = make(map[string]string)
		}
		out[name] = sum
		return nil
	})
	return out, err
}

// Regions returns the parts of sheets of one stock that are taken, by prints
// that are pending or confirmed, in the order they were reserved.
func (s *Store) Regions(stock string) ([]Region, error) {
	return s.regions(`SELECT r.sheet, r.stock, r.data FROM regions r WHERE r.stock = ?
		AND (SELECT state FROM print_states WHERE print = r.print ORDER BY step DESC LIMIT 1) <> 'cancelled'
		ORDER BY r.seq`, stock)
}

func (s *Store) regions(query string, args ...any) ([]Region, error) {
	var out []Region
	err := s.each(query, args, func(rows *sql.Rows) error {
		var r Region
		var data string
		if err := rows.Scan(&r.Sheet, &r.Stock, &data); err != nil {
			return err
		}
		r.Data = raw(data)
		// The names of sheets without a number were never a number alone.
		if n, err := strconv.Atoi(r.Sheet); err == nil {
			r.Number = n
		}
		out = append(out, r)
		return nil
	})
	return out, err
}

func raw(text string) json.RawMessage {
	if text == "" {
		return nil
	}
	return json.RawMessage(text)
}

// one reads a single row; false if there is none.
func (s *Store) one(query string, args []any, into ...any) (bool, error) {
	var row *sql.Row
	st, err := s.asked.statement(s.read, query)
	switch {
	case err != nil:
		return false, s.machine(err)
	case st != nil:
		row = st.QueryRow(args...)
	default:
		row = s.read.QueryRow(query, args...)
	}
	if err = row.Scan(into...); errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, s.machine(err)
}

// each reads rows to the end and drops no error.
func (s *Store) each(query string, args []any, f func(*sql.Rows) error) error {
	var rows *sql.Rows
	st, err := s.asked.statement(s.read, query)
	switch {
	case err != nil:
	case st != nil:
		rows, err = st.Query(args...)
	default:
		rows, err = s.read.Query(query, args...)
	}
	if err != nil {
		return s.machine(err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows); err != nil {
			return s.machine(err)
		}
	}
	return s.machine(rows.Err())
}

// PrintHead returns the print of that number without what it printed, its files and
// its sheets, which are long.
func (s *Store) PrintHead(number int) (p Print, ok bool, err error) {
	ok, err = s.one(`SELECT p.seq, p.key, p.batch, p.made, t.state, iif(t.state = 'pending', '', t.at) FROM prints p`+withState+` WHERE p.seq = ?`,
		[]any{number}, &p.Number, &p.Key, &p.Batch, &p.Made, &p.State, &p.Settled)
	return p, ok, err
}
