package record

import (
	"database/sql"

	"floatmark/loading/fault"
)

// SecretPrefix begins the names of choices that never leave the record by an
// export.
const SecretPrefix = "secret."

// SetChoice notes what the workshop chose under a name, at a time in UTC, RFC
// 3339. The latest counts, the earlier ones stay; the same again adds nothing. One
// without name or date is a fault of class Ours.
func (s *Store) SetChoice(name, value, at string) error {
	if name == "" || at == "" {
		return fault.New(fault.Ours, name, "a choice without name or date", "")
	}
	return s.commit(func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO choices (name, value, at) SELECT ?1, ?2, ?3
			WHERE coalesce((SELECT value FROM choices WHERE name = ?1 ORDER BY seq DESC LIMIT 1) <> ?2, 1)`, name, value, at)
		return err
	})
}

// Choice returns the present choice under a name and whether there is one.
func (s *Store) Choice(name string) (string, bool, error) {
	if s.has > 0 && s.has < changesFrom {
		return "", false, nil
	}
	var v string
	ok, err := s.one("SELECT value FROM choices WHERE name = ? ORDER BY seq DESC LIMIT 1", []any{name}, &v)
	return v, ok, err
}
