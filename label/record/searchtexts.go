package record

import "database/sql"

// editionKind is the kind of the row among the search's own that names the edition
// of the texts. It has no text, so that nothing finds it.
const editionKind = "edition of the texts"

// HasTexts reports whether the texts of the search are of an edition: what a text
// holds is known above this package, and may become more.
func (s *Store) HasTexts(edition string) (bool, error) {
	if !s.HasSearch() {
		return false, nil
	}
	var n int
	_, err := s.one("SELECT count(*) FROM search_docs WHERE kind = ? AND key = ?", []any{editionKind, edition}, &n)
	return n > 0, err
}

// TextsBehind is how many subjects' texts are out of date, or of another edition,
// limit at most.
func (s *Store) TextsBehind(edition string, limit int) (int, error) {
	n, err := s.StaleCount(limit)
	if err != nil {
		return 0, err
	}
	has, err := s.HasTexts(edition)
	if err != nil || has {
		return n, err
	}
	var floats int
	_, err = s.one("SELECT count(*) FROM (SELECT 1 FROM floats LIMIT ?)", []any{limit}, &floats)
	return max(n, floats), err
}

// WantTexts notes the texts of all floats as out of date where they are of another
// edition than this, in one commit.
func (s *Store) WantTexts(edition string) error {
	if has, err := s.HasTexts(edition); err != nil || has {
		return err
	}
	return s.commit(func(tx *sql.Tx) error {
		for _, one := range []struct {
			query string
			args  []any
		}{
			{"DELETE FROM search_docs WHERE kind = ?", []any{editionKind}},
			{"INSERT INTO search_docs (kind, key) VALUES (?, ?)", []any{editionKind, edition}},
			{"INSERT INTO search_stale (kind, key, mark) SELECT 'float', id, 1 FROM floats WHERE true ON CONFLICT DO UPDATE SET mark = mark + 1", nil},
		} {
			if _, err := tx.Exec(one.query, one.args...); err != nil {
				return err
			}
		}
		return nil
	})
}
