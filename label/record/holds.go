package record

import (
	"database/sql"
	"slices"
	"strings"
)

// Held is what a record holds of one batch.
type Held struct {
	Batch  string
	Floats int
	Prints int
	Latest string // when it was last printed or its file changed, UTC, RFC 3339
}

// Holds tells by batch what the record holds, the latest first; drafts is the kind
// of the subjects that are batch files. It works on a record of any schema.
func (s *Store) Holds(drafts string) ([]Held, error) {
	all := map[string]*Held{}
	of := func(name string) *Held {
		if all[name] == nil {
			all[name] = &Held{Batch: name}
		}
		return all[name]
	}
	queries := []struct {
		sql  string
		args []any
		add  func(h *Held, n int)
	}{
		{"SELECT batch, count(*), '' FROM floats GROUP BY batch", nil, func(h *Held, n int) { h.Floats = n }},
		{"SELECT batch, count(*), max(made) FROM prints GROUP BY batch", nil, func(h *Held, n int) { h.Prints = n }},
	}
	if s.has == 0 || s.has >= changesFrom {
		queries = append(queries, struct {
			sql  string
			args []any
			add  func(h *Held, n int)
		}{`SELECT c.key, count(*), max(x.at) FROM changes c JOIN change_sets x ON x.seq = c."set" WHERE c.kind = ? GROUP BY c.key`, []any{drafts}, func(*Held, int) {}})
	}
	for _, q := range queries {
		err := s.each(q.sql, q.args, func(rows *sql.Rows) error {
			var name, at string
			var n int
			if err := rows.Scan(&name, &n, &at); err != nil {
				return err
			}
			h := of(name)
			q.add(h, n)
			h.Latest = max(h.Latest, at)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	out := make([]Held, 0, len(all))
	for _, h := range all {
		out = append(out, *h)
	}
	slices.SortFunc(out, func(a, b Held) int {
		if a.Latest != b.Latest {
			return strings.Compare(b.Latest, a.Latest)
		}
		return strings.Compare(a.Batch, b.Batch)
	})
	return out, nil
}
