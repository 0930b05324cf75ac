package record

import (
	"database/sql"
	"encoding/json"
	"strconv"

	"floatmark/loading/fault"
)

// SetSheet brings a sheet into a state, SheetOpen, SheetUsedUp or SheetWrittenOff, and notes
// why, at a time in UTC, RFC 3339. The same state again changes nothing. An
// unknown sheet is a NotFound fault.
func (s *Store) SetSheet(number int, state, note, at string) error {
	return s.commit(func(tx *sql.Tx) error { return setSheet(tx, number, state, note, at) })
}

func setSheet(tx *sql.Tx, number int, state, note, at string) error {
	if state != SheetOpen && state != SheetUsedUp && state != SheetWrittenOff {
		return fault.New(fault.Ours, sheetName(number), strconv.Quote(state)+" is no state of a sheet", "")
	}
	sh, err := oneSheet(tx, number)
	if err != nil || sh.State == state {
		return err
	}
	return addEvent(tx, number, SheetEvent{What: state, Note: note, At: at})
}

// oneSheet reads a sheet inside a commit.
func oneSheet(tx *sql.Tx, number int) (Sheet, error) {
	all, err := sheetsOf(tx, nil, sheetRows+" WHERE s.number = ?"+sheetOrder, number)
	if err != nil {
		return Sheet{}, err
	}
	if len(all) == 0 {
		return Sheet{}, fault.New(fault.NotFound, sheetName(number), "there is no sheet of that number", "see the list: floatmark sheets")
	}
	return all[0], nil
}

// CorrectSheet notes a part of a sheet as spent, or as blank if it is freed, by
// hand. Nothing is forgotten: what is free follows from all that was noted, in
// order. version is the sheet's when the correction was worked out; if something
// came to it since, that is a Machine fault with cause ErrMeanwhile; 0 asks for
// no such check. A sheet that is not open is an Input fault, an unknown one a
// NotFound.
func (s *Store) CorrectSheet(number, version int, freedPart bool, data json.RawMessage, note, at string) error {
	if len(data) == 0 || !json.Valid(data) {
		return fault.New(fault.Ours, sheetName(number), "the data of a correction are no JSON", "")
	}
	return s.commit(func(tx *sql.Tx) error {
		sh, err := oneSheet(tx, number)
		switch {
		case err != nil:
			return err
		case sh.State != SheetOpen:
			return fault.New(fault.Input, sheetName(number), "it is "+sh.State+", so nothing is printed on it", "open it again first: floatmark sheets reopen "+strconv.Itoa(number))
		case version > 0 && sh.Version != version:
			return meanwhile(sheetName(number), "it was printed on or corrected meanwhile")
		}
		what := taken
		if freedPart {
			what = freed
		}
		return addEvent(tx, number, SheetEvent{What: what, Data: data, Note: note, At: at})
	})
}
