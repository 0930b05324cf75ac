package record

import (
	"database/sql"
	"fmt"

	"floatmark/loading/fault"
)

// Marks counts unnumbered marks of one kind: they bear figures, no id and no
// code, and are printed ahead.
type Marks struct {
	Stock   string // key of the stock they are printed on
	Pattern string // key of the pattern
	Figures string // key of what is printed on them
	Count   int    // in a list: how many lie ready; in a print: how many it adds, or takes if below 0
}

// A move below 0 counts until its print is cancelled, one above 0 from its
// print's confirmation: what is not yet known to have come out right is not
// ready, and what is promised to a print is not ready either.
const ready = ` coalesce(sum(CASE
	WHEN m.print IS NULL OR t.state = 'confirmed' THEN m.change
	WHEN t.state = 'pending' THEN min(m.change, 0)
	ELSE 0 END), 0)`

const fromMoves = ` FROM mark_moves m LEFT JOIN prints p ON p.seq = m.print
	LEFT JOIN print_states t ON t.print = p.seq AND t.step = (SELECT max(step) FROM print_states WHERE print = p.seq)`

// MarksReady returns how many unnumbered marks of each kind lie ready, kinds of
// which there are none left out, by stock, pattern and figures.
func (s *Store) MarksReady() ([]Marks, error) {
	if s.has > 0 && s.has < ledgerFrom {
		return nil, nil
	}
	var out []Marks
	err := s.each("SELECT m.stock, m.pattern, m.figures,"+ready+" AS n"+fromMoves+
		" GROUP BY m.stock, m.pattern, m.figures HAVING n <> 0 ORDER BY m.stock, m.pattern, m.figures", nil,
		func(rows *sql.Rows) error {
			var m Marks
			err := rows.Scan(&m.Stock, &m.Pattern, &m.Figures, &m.Count)
			out = append(out, m)
			return err
		})
	return out, err
}

// MoveMarks corrects by hand how many unnumbered marks lie ready: m.Count more,
// or fewer if it is below 0, at a time in UTC, RFC 3339. More than there are
// cannot be taken: an Input fault.
func (s *Store) MoveMarks(m Marks, note, at string) error {
	if m.Figures == "" {
		return fault.New(fault.Ours, "unnumbered marks", "marks without figures", "")
	}
	return s.commit(func(tx *sql.Tx) error { return moveMarks(tx, []Marks{m}, 0, note, at) })
}

func moveMarks(tx *sql.Tx, all []Marks, print int64, note, at string) error {
	for _, m := range all {
		if m.Count == 0 {
			continue
		}
		var by any
		if print > 0 {
			by = print
		}
		if m.Count < 0 {
			var n int
			err := tx.QueryRow("SELECT"+ready+fromMoves+" WHERE m.stock = ? AND m.pattern = ? AND m.figures = ?",
				m.Stock, m.Pattern, m.Figures).Scan(&n)
			switch {
			case err != nil:
				return err
			case n+m.Count < 0 && print > 0:
				return meanwhile("unnumbered marks for "+m.Pattern, fmt.Sprintf("%d of them were planned on, %d lie ready now", -m.Count, n))
			case n+m.Count < 0:
				return fault.New(fault.Input, "unnumbered marks for "+m.Pattern, fmt.Sprintf("only %d lie ready", n), "take fewer, or print some ahead")
			}
		}
		_, err := tx.Exec("INSERT INTO mark_moves (stock, pattern, figures, change, print, note, at) VALUES (?, ?, ?, ?, ?, ?, ?)",
			m.Stock, m.Pattern, m.Figures, m.Count, by, note, at)
		if err != nil {
			return err
		}
	}
	return nil
}
