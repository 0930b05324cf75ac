package record

import (
	"database/sql"
	"strings"
)

// Doc is the text under which a subject is found.
type Doc struct {
	Subject Subject
	Text    string // words between spaces
	Mark    int64  // as Stale gave it
}

// HasSearch reports whether the record has a search: one of an older schema that is
// only read has none.
func (s *Store) HasSearch() bool { return s.has == 0 || s.has >= changesFrom }

// Stale returns up to limit subjects whose text is out of date, or was never
// made, each with the mark that Index wants back. A record whose schema is older
// has none.
func (s *Store) Stale(limit int) ([]Doc, error) {
	if !s.HasSearch() {
		return nil, nil
	}
	var out []Doc
	err := s.each("SELECT kind, key, mark FROM search_stale LIMIT ?", []any{limit}, func(rows *sql.Rows) error {
		var d Doc
		err := rows.Scan(&d.Subject.Kind, &d.Subject.Key, &d.Mark)
		out = append(out, d)
		return err
	})
	return out, err
}

// StaleCount is how many subjects Stale tells of, limit at most.
func (s *Store) StaleCount(limit int) (int, error) {
	if !s.HasSearch() {
		return 0, nil
	}
	var n int
	_, err := s.one("SELECT count(*) FROM (SELECT 1 FROM search_stale LIMIT ?)", []any{limit}, &n)
	return n, err
}

// Index keeps new texts in one commit. A subject that changed again since Stale
// told of it stays stale.
func (s *Store) Index(docs []Doc) error {
	return s.commit(func(tx *sql.Tx) error {
		var steps [5]*sql.Stmt
		for i, query := range []string{
			"INSERT INTO search_docs (kind, key) VALUES (?, ?) ON CONFLICT DO NOTHING",
			"SELECT seq FROM search_docs WHERE kind = ? AND key = ?",
			"DELETE FROM search_text WHERE rowid = ?",
			"INSERT INTO search_text (rowid, text) VALUES (?, ?)",
			"DELETE FROM search_stale WHERE kind = ? AND key = ? AND mark = ?",
		} {
			var err error
			if steps[i], err = tx.Prepare(query); err != nil {
				return err
			}
			defer steps[i].Close()
		}
		for _, d := range docs {
			of := d.Subject
			if _, err := steps[0].Exec(of.Kind, of.Key); err != nil {
				return err
			}
			var seq int64
			if err := steps[1].QueryRow(of.Kind, of.Key).Scan(&seq); err != nil {
				return err
			}
			for i, args := range [][]any{{seq}, {seq, d.Text}, {of.Kind, of.Key, d.Mark}} {
				if _, err := steps[2+i].Exec(args...); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// TidySearch joins what the search is made of, which makes it quicker after many
// new texts. It takes half a second with 100,000 of them.
func (s *Store) TidySearch() error {
	return s.commit(func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT INTO search_text (search_text) VALUES ('optimize')")
		return err
	})
}

// Search returns up to limit subjects whose text has one word of each group,
// latest first, and whether there are more. Where fewer have such words whole, those
// that have words beginning so are among them: to look for beginnings takes much
// longer, and who gets enough does not need them.
func (s *Store) Search(groups [][]string, limit int) (found []Subject, more bool, err error) {
	if !s.HasSearch() || len(groups) == 0 {
		return nil, false, nil
	}
	for _, after := range []string{"", " *"} {
		if found, err = s.matches(groups, after, limit+1); err != nil {
			return nil, false, err
		}
		if len(found) > limit {
			return found[:limit], true, nil
		}
	}
	return found, false, nil
}

// matches asks for words with something after each, in FTS5's own way of asking.
func (s *Store) matches(groups [][]string, after string, limit int) (found []Subject, err error) {
	var all []string
	for _, g := range groups {
		var any []string
		for _, word := range g {
			any = append(any, `"`+strings.ReplaceAll(word, `"`, `""`)+`"`+after)
		}
		all = append(all, "("+strings.Join(any, " OR ")+")")
	}
	err = s.each(`SELECT d.kind, d.key FROM search_text t JOIN search_docs d ON d.seq = t.rowid
		WHERE search_text MATCH ? ORDER BY t.rowid DESC LIMIT ?`, []any{strings.Join(all, " AND "), limit}, func(rows *sql.Rows) error {
		var sub Subject
		err := rows.Scan(&sub.Kind, &sub.Key)
		found = append(found, sub)
		return err
	})
	return found, err
}

// SparesOf returns the ids of the spares that were claimed for a float.
func (s *Store) SparesOf(id string) ([]string, error) {
	if s.has > 0 && s.has < ledgerFrom {
		return nil, nil
	}
	var out []string
	err := s.each(`SELECT s.id FROM floats f JOIN spare_claims c ON c.float = f.seq JOIN spares s ON s.seq = c.spare
		WHERE f.id = ? ORDER BY s.seq`, []any{id}, func(rows *sql.Rows) error {
		var spare string
		err := rows.Scan(&spare)
		out = append(out, spare)
		return err
	})
	return out, err
}
