package record

import (
	"database/sql"
	"errors"
	"slices"
	"strconv"

	"floatmark/loading/fault"
)

// Confirm notes that the latest run of a print came out right, at a time in
// UTC, RFC 3339. A confirmed print stays as it is; a cancelled one is an Input
// fault, an unknown key a NotFound.
func (s *Store) Confirm(key, at string) error { return s.settle(key, Confirmed, at) }

// Cancel gives up the latest run of a pending print; its regions are free again.
// A cancelled print stays as it is; a confirmed one is an Input fault, an
// unknown key a NotFound.
func (s *Store) Cancel(key, at string) error { return s.settle(key, Cancelled, at) }

func (s *Store) settle(key, state, at string) error {
	return s.commit(func(tx *sql.Tx) error {
		var seq int64
		var run int
		var have string
		err := tx.QueryRow(latest+" WHERE p.key = ? ORDER BY p.run DESC LIMIT 1", key).Scan(&seq, &run, &have)
		switch {
		case errors.Is(err, sql.ErrNoRows):
			return fault.New(fault.NotFound, "print "+key, "there is no such print", "look at the list of prints of the batch")
		case err != nil:
			return err
		case have == state:
			return nil
		case have != Pending:
			return fault.New(fault.Input, "print "+key, "it is "+have+" and cannot become "+state, "print it again if it is needed")
		}
		return settlePrint(tx, seq, state, at)
	})
}

// settlePrint brings a pending print into its last state; of a cancelled one
// every sheet is told.
func settlePrint(tx *sql.Tx, print int64, state, at string) error {
	if err := addState(tx, print, state, at); err != nil || state != Cancelled {
		return err
	}
	sheets, err := sheetsOfPrint(tx, print)
	if err != nil {
		return err
	}
	for _, n := range sheets {
		if err := addEvent(tx, n, SheetEvent{What: cancelled, Print: int(print), At: at}); err != nil {
			return err
		}
	}
	return nil
}

// sheetsOfPrint returns the numbers of the sheets that a print lies on.
func sheetsOfPrint(tx *sql.Tx, print int64) ([]int, error) {
	rows, err := tx.Query("SELECT sheet FROM sheet_events WHERE print = ? AND what = ? ORDER BY sheet", print, printed)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []int
	for rows.Next() {
		var n int
		if err := rows.Scan(&n); err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, rows.Err()
}

// ConfirmPrint notes that the print of that number came out right. One that is
// settled already is an Input fault, an unknown number a NotFound.
func (s *Store) ConfirmPrint(number int, at string) error {
	return s.commit(func(tx *sql.Tx) error {
		if err := pending(tx, number); err != nil {
			return err
		}
		return settlePrint(tx, int64(number), Confirmed, at)
	})
}

// CancelPrint gives up the print of that number: its parts of sheets are free
// again, its spares void. Sheets that were lost over it are written off in the
// same commit. Faults are those of ConfirmPrint; a lost sheet that the print
// does not lie on is an Input fault.
func (s *Store) CancelPrint(number int, lost []int, at string) error {
	return s.commit(func(tx *sql.Tx) error {
		if err := pending(tx, number); err != nil {
			return err
		}
		sheets, err := sheetsOfPrint(tx, int64(number))
		if err != nil {
			return err
		}
		for _, n := range lost {
			if !slices.Contains(sheets, n) {
				return fault.New(fault.Input, sheetName(n), "print "+strconv.Itoa(number)+" does not lie on it",
					"see what it lies on: floatmark prints; another sheet is written off with: floatmark sheets write-off")
			}
		}
		if err := settlePrint(tx, int64(number), Cancelled, at); err != nil {
			return err
		}
		for i, n := range lost {
			if slices.Contains(lost[:i], n) {
				continue
			}
			if err := setSheet(tx, n, SheetWrittenOff, "lost over print "+strconv.Itoa(number), at); err != nil {
				return err
			}
		}
		return nil
	})
}

// pending refuses a print that is not there or settled.
func pending(tx *sql.Tx, number int) error {
	where := "print " + strconv.Itoa(number)
	var state, at string
	err := tx.QueryRow("SELECT t.state, t.at FROM prints p"+withState+" WHERE p.seq = ?", number).Scan(&state, &at)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return fault.New(fault.NotFound, where, "there is no print of that number", "see the list: floatmark prints")
	case err != nil:
		return err
	case state == Confirmed:
		return fault.New(fault.Input, where, "it was confirmed already, on "+clock(at),
			"leave it so; a sheet that was spoilt since is written off with: floatmark sheets write-off")
	case state == Cancelled:
		return fault.New(fault.Input, where, "it was cancelled already, on "+clock(at), "print the batch again if it is needed")
	}
	return nil
}
