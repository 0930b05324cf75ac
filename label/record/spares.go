package record

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"floatmark/loading/fault"
)

// The states of a spare, beside those that its print gives it.
const (
	Unclaimed = "unclaimed" // ready to replace a mark
	Claimed   = "claimed"   // bound to a float
	Void      = "void"      // its print was cancelled; printed again it is ready again
)

// Spare is a mark that was printed beyond the floats, with an id of its own: it
// replaces one that tore. Its figures are fixed, so it goes on a float that
// bears the same.
type Spare struct {
	ID      string          // short id, unique for ever among floats and spares
	Batch   string          // name of the batch it was printed with
	Number  int             // which spare of the batch it is, from 1
	Attempt int             // which attempt at an id this is, from 0
	Pattern string          // key of the pattern
	Figures string          // key of what is printed on it, id and code apart
	Data    json.RawMessage // opaque: what is printed

	State      string // Unclaimed, Claimed, Void, or Pending while its print is
	Print      int    // number of its latest print
	ClaimBatch string // of the float it is bound to
	ClaimFloat int    // its number there
	ClaimID    string // its own id
	ClaimedAt  string // UTC, RFC 3339
}

func (s Spare) place() string { return fmt.Sprintf("spare %d of %s", s.Number, s.Batch) }

// notASpare refuses an id for a float that stands for a spare.
func notASpare(tx *sql.Tx, id, where string) error {
	var batch string
	var number int
	err := tx.QueryRow("SELECT batch, number FROM spares WHERE id = ?", id).Scan(&batch, &number)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return idTaken(where, id, Spare{Batch: batch, Number: number}.place())
}

func idTaken(where, id, by string) error {
	return fault.New(fault.Ours, where, "the id "+id+" already stands for "+by+" and is never used twice",
		"run this again; the next id is then taken", ErrTaken)
}

// saveSpares saves the spares of a new print. A spare may be printed once more
// with the same figures, and after its print was cancelled with any; one that is
// claimed or lies printed with other figures is a fault with cause ErrTaken.
func saveSpares(tx *sql.Tx, spares []Spare, print int64) error {
	for _, sp := range spares {
		seq, err := spareIdentity(tx, sp)
		if err != nil {
			return err
		}
		var claims, others int
		err = tx.QueryRow(`SELECT (SELECT count(*) FROM spare_claims WHERE spare = ?),
			(SELECT count(*) FROM spare_prints x JOIN prints p ON p.seq = x.print`+withState+`
			 WHERE x.spare = ? AND t.state <> 'cancelled' AND (x.figures <> ? OR x.pattern <> ?))`,
			seq, seq, sp.Figures, sp.Pattern).Scan(&claims, &others)
		switch {
		case err != nil:
			return err
		case claims > 0:
			return fault.New(fault.Ours, sp.place(), "the spare "+sp.ID+" is on a float already", "run this again; the next number is then taken", ErrTaken)
		case others > 0:
			return fault.New(fault.Ours, sp.place(), "the spare "+sp.ID+" lies printed with other figures", "run this again; the next number is then taken", ErrTaken)
		}
		_, err = tx.Exec("INSERT INTO spare_prints (spare, print, pattern, figures, data) VALUES (?, ?, ?, ?, ?)",
			seq, print, sp.Pattern, sp.Figures, string(sp.Data))
		if err != nil {
			return err
		}
	}
	return nil
}

// spareIdentity returns the row of a spare, made if there is none, and holds the
// rule that an id stands for one float or one spare for ever.
func spareIdentity(tx *sql.Tx, sp Spare) (int64, error) {
	var f Float
	err := tx.QueryRow("SELECT batch, number FROM floats WHERE id = ?", sp.ID).Scan(&f.Batch, &f.Number)
	if err == nil {
		return 0, idTaken(sp.place(), sp.ID, place(f))
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return 0, err
	}
	var seq int64
	var old Spare
	err = tx.QueryRow("SELECT seq, id, batch, number FROM spares WHERE id = ? OR batch = ? AND number = ? ORDER BY id = ? DESC LIMIT 1",
		sp.ID, sp.Batch, sp.Number, sp.ID).Scan(&seq, &old.ID, &old.Batch, &old.Number)
	switch {
	case err == nil && old.ID != sp.ID:
		return 0, fault.New(fault.Ours, sp.place(), "it has the id "+old.ID+" already and cannot get "+sp.ID+" as well",
			"run this again; the next number is then taken", ErrTaken)
	case err == nil && (old.Batch != sp.Batch || old.Number != sp.Number):
		return 0, idTaken(sp.place(), sp.ID, old.place())
	case err == nil:
		return seq, nil
	case !errors.Is(err, sql.ErrNoRows):
		return 0, err
	}
	res, err := tx.Exec("INSERT INTO spares (id, batch, number, attempt) VALUES (?, ?, ?, ?)", sp.ID, sp.Batch, sp.Number, sp.Attempt)
	if err != nil {
		return 0, err
	}
	return res.LastInsertId()
}
