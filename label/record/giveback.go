package record

import (
	"database/sql"
	"encoding/json"

	"floatmark/loading/fault"
)

// spareKind is the kind of the subject that tells of spares given back.
const spareKind = "spare"

// GiveBackSpare takes a spare off the float it was bound to by mistake: it is ready
// again. That it was there stays among the changes. Faults: NotFound for an unknown
// spare, Input for one that is on no float.
func (s *Store) GiveBackSpare(id, by, at string) error {
	return s.commit(func(tx *sql.Tx) error {
		sp, err := spareOf(tx, id)
		if err != nil {
			return err
		}
		if sp.State != Claimed {
			return fault.New(fault.Input, "spare "+id, "it is on no float", "see the list: floatmark spares")
		}
		was, err := json.Marshal(map[string]string{"float": sp.ClaimID, "claimed": sp.ClaimedAt})
		if err != nil {
			return err
		}
		set := ChangeSet{At: at, By: by, Changes: []Change{{Subject: Subject{Kind: spareKind, Key: id}, Path: "given back", Value: was}}}
		res, err := tx.Exec("INSERT INTO change_sets (at, by, key, digest) VALUES (?, ?, NULL, ?)", at, by, digestOf(set))
		if err != nil {
			return err
		}
		seq, err := res.LastInsertId()
		if err != nil {
			return err
		}
		for _, do := range []struct {
			query string
			args  []any
		}{
			{`INSERT INTO changes ("set", kind, key, path, before, after) VALUES (?, ?, ?, ?, '', ?)`, []any{seq, spareKind, id, "given back", string(was)}},
			{"DELETE FROM spare_claims WHERE spare = (SELECT seq FROM spares WHERE id = ?)", []any{id}},
			{"DELETE FROM search_stale WHERE kind = ? AND key = ?", []any{spareKind, id}}, // a spare is found by its float alone
			{"INSERT INTO search_stale (kind, key, mark) VALUES ('float', ?, 1) ON CONFLICT DO UPDATE SET mark = mark + 1", []any{sp.ClaimID}},
		} {
			if _, err := tx.Exec(do.query, do.args...); err != nil {
				return err
			}
		}
		return nil
	})
}

// Bearing is a float that bears figures.
type Bearing struct {
	ID, Batch string
	Number    int
}

// FloatsBearing lists the floats whose latest print that was not cancelled put
// these figures on that pattern, the latest made first, most at the most.
func (s *Store) FloatsBearing(pattern, figures string, most int) ([]Bearing, error) {
	if s.has > 0 && s.has < ledgerFrom {
		return nil, nil
	}
	var out []Bearing
	err := s.each(`SELECT f.id, f.batch, f.number FROM floats f JOIN float_versions v ON v.float = f.seq
		JOIN float_figures x ON x.float = f.seq AND x.print = (SELECT y.print FROM float_figures y JOIN prints p ON p.seq = y.print`+withState+`
			WHERE y.float = f.seq AND t.state <> 'cancelled' ORDER BY y.print DESC LIMIT 1)
		WHERE v.pattern = ? AND x.figures = ? AND`+newest+` ORDER BY f.seq DESC LIMIT ?`, []any{pattern, figures, most}, func(rows *sql.Rows) error {
		var b Bearing
		err := rows.Scan(&b.ID, &b.Batch, &b.Number)
		out = append(out, b)
		return err
	})
	return out, err
}
