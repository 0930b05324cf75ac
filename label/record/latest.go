package record

import "database/sql"

// What pages ask for again and again is read by itself: a subject's every value or
// a print's whole data take longer the longer a workshop is at work.

// ChangeCount is how many changes of a subject there are.
func (s *Store) ChangeCount(of Subject) (int, error) {
	if s.has > 0 && s.has < changesFrom {
		return 0, nil
	}
	var n int
	_, err := s.one("SELECT count(*) FROM changes WHERE kind = ? AND key = ?", []any{of.Kind, of.Key}, &n)
	return n, err
}

// ChangeAt is Changes[i] of a subject; false where there is none.
func (s *Store) ChangeAt(of Subject, i int) (Past, bool, error) {
	if i < 0 || s.has > 0 && s.has < changesFrom {
		return Past{}, false, nil
	}
	p := Past{Subject: of}
	var before, after string
	ok, err := s.one(`SELECT c.seq, c.path, c.before, c.after, s.at, s.by FROM changes c JOIN change_sets s ON s.seq = c."set"
		WHERE c.seq = (SELECT seq FROM changes WHERE kind = ? AND key = ? ORDER BY seq LIMIT 1 OFFSET ?)`, []any{of.Kind, of.Key, i},
		&p.Version, &p.Path, &before, &after, &p.At, &p.By)
	p.Before, p.After = raw(before), raw(after)
	return p, ok, err
}

// Since is something of a name and the moment of its latest change, UTC, RFC 3339.
type Since struct{ Name, At string }

// LastChanged returns the keys of a kind's subjects, each with its latest change,
// by key.
func (s *Store) LastChanged(kind string) ([]Since, error) {
	if s.has > 0 && s.has < changesFrom {
		return nil, nil
	}
	return s.since(`SELECT c.key, s.at FROM changes c JOIN change_sets s ON s.seq = c."set"
		WHERE c.seq IN (SELECT max(seq) FROM changes WHERE kind = ? GROUP BY key) ORDER BY c.key`, kind)
}

// LastPrinted returns the batches that were printed, each with its latest print, in
// the order of their first one.
func (s *Store) LastPrinted() ([]Since, error) {
	return s.since("SELECT batch, max(made) FROM prints GROUP BY batch ORDER BY min(seq)")
}

func (s *Store) since(query string, args ...any) (out []Since, err error) {
	err = s.each(query, args, func(rows *sql.Rows) error {
		var one Since
		err := rows.Scan(&one.Name, &one.At)
		out = append(out, one)
		return err
	})
	return out, err
}

// LastPrint is the number of a batch's latest print and when it was made; false
// where there is none.
func (s *Store) LastPrint(batch string) (number int, made string, ok bool, err error) {
	ok, err = s.one("SELECT seq, made FROM prints WHERE batch = ? ORDER BY seq DESC LIMIT 1", []any{batch}, &number, &made)
	return number, made, ok, err
}

// ReadingCount is how many readings of a batch there are.
func (s *Store) ReadingCount(batch string) (int, error) {
	if s.has > 0 && s.has < readingsFrom {
		return 0, nil
	}
	var n int
	_, err := s.one("SELECT count(*) FROM readings WHERE batch = ?", []any{batch}, &n)
	return n, err
}
