package record

import (
	"database/sql"
	"encoding/json"
)

// State is one field of a subject as it stands.
type State struct {
	Path    string
	Value   json.RawMessage // nil when it was taken out
	Version int64           // the change that made it so
}

// Past is one change as it was made.
type Past struct {
	Version int64
	Subject Subject
	Path    string
	Before  json.RawMessage // nil for nothing
	After   json.RawMessage // nil when it was taken out
	At, By  string
}

// State returns every field that a subject ever had, by path, and the subject's
// version: that of its latest change, 0 where nothing was ever changed. Of a
// record whose schema is older there is nothing.
func (s *Store) State(of Subject) ([]State, int64, error) {
	if s.has > 0 && s.has < changesFrom {
		return nil, 0, nil
	}
	var out []State
	var version int64
	err := s.each("SELECT path, value, change FROM states WHERE kind = ? AND key = ? ORDER BY path", []any{of.Kind, of.Key}, func(rows *sql.Rows) error {
		var f State
		var value string
		err := rows.Scan(&f.Path, &value, &f.Version)
		f.Value = raw(value)
		out, version = append(out, f), max(version, f.Version)
		return err
	})
	return out, version, err
}

// Changes returns every change of a subject, oldest first.
func (s *Store) Changes(of Subject) ([]Past, error) {
	if s.has > 0 && s.has < changesFrom {
		return nil, nil
	}
	var out []Past
	err := s.each(`SELECT c.seq, c.path, c.before, c.after, s.at, s.by FROM changes c JOIN change_sets s ON s.seq = c."set"
		WHERE c.kind = ? AND c.key = ? ORDER BY c.seq`, []any{of.Kind, of.Key}, func(rows *sql.Rows) error {
		p := Past{Subject: of}
		var before, after string
		err := rows.Scan(&p.Version, &p.Path, &before, &after, &p.At, &p.By)
		p.Before, p.After = raw(before), raw(after)
		out = append(out, p)
		return err
	})
	return out, err
}

// Subjects returns the subjects of a kind of which anything was ever noted, by
// key.
func (s *Store) Subjects(kind string) ([]Subject, error) {
	if s.has > 0 && s.has < changesFrom {
		return nil, nil
	}
	var out []Subject
	err := s.each("SELECT DISTINCT key FROM states WHERE kind = ? ORDER BY key", []any{kind}, func(rows *sql.Rows) error {
		sub := Subject{Kind: kind}
		err := rows.Scan(&sub.Key)
		out = append(out, sub)
		return err
	})
	return out, err
}

// HasBatch reports whether anything of a batch was printed or read in the tank.
func (s *Store) HasBatch(name string) (bool, error) {
	var n int
	_, err := s.one("SELECT EXISTS (SELECT 1 FROM floats WHERE batch = ?)", []any{name}, &n)
	if err != nil || n > 0 || s.has > 0 && s.has < readingsFrom {
		return n > 0, err
	}
	_, err = s.one("SELECT EXISTS (SELECT 1 FROM readings WHERE batch = ?)", []any{name}, &n)
	return n > 0, err
}

// HasPattern reports whether a float of that pattern was printed.
func (s *Store) HasPattern(key string) (bool, error) {
	var n int
	_, err := s.one("SELECT EXISTS (SELECT 1 FROM float_versions WHERE pattern = ?)", []any{key}, &n)
	return n > 0, err
}
