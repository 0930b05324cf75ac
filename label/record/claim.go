package record

import (
	"database/sql"
	"errors"
	"fmt"

	"floatmark/loading/fault"
)

// spareRows reads spares with their latest print that was not cancelled, or the
// latest of all.
const spareRows = `SELECT s.id, s.batch, s.number, s.attempt, x.pattern, x.figures, x.data, x.print,
	CASE WHEN c.spare IS NOT NULL THEN 'claimed' WHEN t.state = 'confirmed' THEN 'unclaimed'
	     WHEN t.state = 'pending' THEN 'pending' ELSE 'void' END,
	coalesce(f.batch, ''), coalesce(f.number, 0), coalesce(f.id, ''), coalesce(c.at, '')
	FROM spares s JOIN spare_prints x ON x.spare = s.seq AND x.print = (
		SELECT y.print FROM spare_prints y JOIN prints p ON p.seq = y.print` + withState + `
		WHERE y.spare = s.seq
		ORDER BY CASE t.state WHEN 'confirmed' THEN 2 WHEN 'pending' THEN 1 ELSE 0 END DESC, y.print DESC LIMIT 1)
	JOIN prints p ON p.seq = x.print` + withState + `
	LEFT JOIN spare_claims c ON c.spare = s.seq
	LEFT JOIN floats f ON f.seq = c.float`

func scanSpare(scan func(...any) error) (Spare, error) {
	var sp Spare
	var data string
	err := scan(&sp.ID, &sp.Batch, &sp.Number, &sp.Attempt, &sp.Pattern, &sp.Figures, &data, &sp.Print,
		&sp.State, &sp.ClaimBatch, &sp.ClaimFloat, &sp.ClaimID, &sp.ClaimedAt)
	sp.Data = raw(data)
	return sp, err
}

// Spares returns every spare of the workshop, by batch in the order they were
// first printed, then by number.
func (s *Store) Spares() ([]Spare, error) {
	return s.spares(spareRows + " ORDER BY (SELECT min(seq) FROM spares WHERE batch = s.batch), s.number")
}

// Spare returns the spare of that id.
func (s *Store) Spare(id string) (Spare, bool, error) {
	all, err := s.spares(spareRows+" WHERE s.id = ?", id)
	if err != nil || len(all) == 0 {
		return Spare{}, false, err
	}
	return all[0], true, nil
}

func (s *Store) spares(query string, args ...any) ([]Spare, error) {
	if s.has > 0 && s.has < ledgerFrom {
		return nil, nil
	}
	var out []Spare
	err := s.each(query, args, func(rows *sql.Rows) error {
		sp, err := scanSpare(rows.Scan)
		out = append(out, sp)
		return err
	})
	return out, err
}

// FloatOf returns the float that an id stands for: its own, or that of a spare
// which was claimed for it.
func (s *Store) FloatOf(id string) (Float, bool, error) {
	f, ok, err := s.Float(id)
	if err != nil || ok {
		return f, ok, err
	}
	sp, ok, err := s.Spare(id)
	if err != nil || !ok || sp.State != Claimed {
		return Float{}, false, err
	}
	return s.Float(sp.ClaimID)
}

// spareOf reads a spare; one of no such id is NotFound.
func spareOf(tx *sql.Tx, id string) (Spare, error) {
	sp, err := scanSpare(tx.QueryRow(spareRows+" WHERE s.id = ?", id).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		err = fault.New(fault.NotFound, "spare "+id, "there is no spare of that id", "see the list: floatmark spares")
	}
	return sp, err
}

// ClaimSpare binds a spare to a float of any batch, at a time in UTC, RFC 3339.
// The float must bear the same figures on the same pattern by its latest print
// that was not cancelled. Claimed for the same float already, nothing changes.
// Faults: NotFound for an unknown spare or float; Input for other figures, a
// spare that is bound to another float, one whose print is not confirmed, and a
// float of which nothing was printed.
func (s *Store) ClaimSpare(id, batch string, number int, at string) error {
	return s.commit(func(tx *sql.Tx) error {
		sp, err := spareOf(tx, id)
		if err != nil {
			return err
		}
		float := place(Float{Batch: batch, Number: number})
		var seq int64
		var pattern, figures string
		err = tx.QueryRow(`SELECT f.seq, v.pattern, coalesce((SELECT x.figures FROM float_figures x JOIN prints p ON p.seq = x.print`+withState+`
			WHERE x.float = f.seq AND t.state <> 'cancelled' ORDER BY x.print DESC LIMIT 1), '')
			FROM floats f JOIN float_versions v ON v.float = f.seq WHERE f.batch = ? AND f.number = ? AND`+newest, batch, number).
			Scan(&seq, &pattern, &figures)
		if errors.Is(err, sql.ErrNoRows) {
			return fault.New(fault.NotFound, float, "there is no such float", "see the list: floatmark record list")
		}
		if err != nil {
			return err
		}
		if err := claimable(sp, batch, number, float, pattern, figures); err != nil || sp.State == Claimed {
			return err
		}
		_, err = tx.Exec("INSERT INTO spare_claims (spare, float, at) SELECT seq, ?, ? FROM spares WHERE id = ?", seq, at, id)
		return err
	})
}

// claimable says why a spare cannot go on a float.
func claimable(sp Spare, batch string, number int, float, pattern, figures string) error {
	bad := func(what, do string) error { return fault.New(fault.Input, "spare "+sp.ID, what, do) }
	switch {
	case sp.State == Claimed && sp.ClaimBatch == batch && sp.ClaimFloat == number:
		return nil
	case sp.State == Claimed:
		return bad("it is on "+place(Float{Batch: sp.ClaimBatch, Number: sp.ClaimFloat})+" already", "take another: floatmark spares")
	case sp.State == Pending:
		return bad(fmt.Sprintf("its print, number %d, is not confirmed yet", sp.Print), fmt.Sprintf("confirm it first: floatmark prints confirm %d", sp.Print))
	case sp.State == Void:
		return bad(fmt.Sprintf("its print, number %d, was cancelled", sp.Print), "take another: floatmark spares")
	case figures == "":
		return bad("the record does not say what is printed on "+float, "print that float's mark again")
	case pattern != sp.Pattern || figures != sp.Figures:
		return bad("its figures are not those of "+float, "take one that bears the same: floatmark spares")
	}
	return nil
}

// SparesPrinted counts the spares on each print, by its number.
func (s *Store) SparesPrinted() (map[int]int, error) {
	out := map[int]int{}
	if s.has > 0 && s.has < ledgerFrom {
		return out, nil
	}
	err := s.each("SELECT print, count(*) FROM spare_prints GROUP BY print", nil, func(rows *sql.Rows) error {
		var print, n int
		err := rows.Scan(&print, &n)
		out[print] = n
		return err
	})
	return out, err
}
