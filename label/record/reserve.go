package record

import (
	"database/sql"
	"fmt"
	"strconv"

	"floatmark/loading/fault"
)

// name is what a region's sheet is called in the record.
func (r Region) name() string {
	if r.Number > 0 {
		return strconv.Itoa(r.Number)
	}
	return r.Sheet
}

// meanwhile is the fault of a plan that another print overtook.
func meanwhile(where, what string) error {
	return fault.New(fault.Machine, where, what, "run this again: it is then planned on what is left; nothing was changed", ErrMeanwhile)
}

// reserve notes on each numbered sheet what the print takes of it, if it can
// still be had as it was planned.
func reserve(tx *sql.Tx, p Print, print int64) error {
	for _, r := range p.Regions {
		if r.Number == 0 {
			continue
		}
		var err error
		if r.Version == 0 {
			err = begin(tx, r, p.Made)
		} else {
			err = still(tx, r)
		}
		if err == nil {
			err = addEvent(tx, r.Number, SheetEvent{What: printed, Print: int(print), At: p.Made})
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// still refuses a sheet of which something was taken since the plan. What was
// given back since harms no plan.
func still(tx *sql.Tx, r Region) error {
	where := sheetName(r.Number)
	var by error
	all, err := sheetsOf(tx, func(_ Sheet, e SheetEvent) {
		switch {
		case by != nil || e.Version <= r.Version || !e.takes():
		case e.What == printed:
			by = meanwhile(where, fmt.Sprintf("another print, number %d, took a part of it meanwhile", e.Print))
		case e.What == taken:
			by = meanwhile(where, "a part of it was noted as used meanwhile")
		default:
			by = meanwhile(where, "it was "+e.What+" meanwhile")
		}
	}, sheetRows+" WHERE s.number = ?"+sheetOrder, r.Number)
	switch {
	case err != nil:
		return err
	case by != nil:
		return by
	case len(all) == 0 || all[0].Stock != r.Stock || all[0].Version < r.Version:
		return fault.New(fault.Ours, where, "the plan knows it otherwise than the record", "")
	case all[0].State != SheetOpen:
		return fault.New(fault.Ours, where, "the plan prints on a sheet that is "+all[0].State, "")
	}
	return nil
}

// begin makes a fresh sheet. Its number was settled by the plan, since it is
// printed on the sheet. A plan may pass over sheets that came to be blank since.
func begin(tx *sql.Tx, r Region, at string) error {
	all, err := sheetsOf(tx, nil, ledgerRows+sheetOrder, "") // of no stock: places do not matter here
	if err != nil {
		return err
	}
	next := nextNumber(all)
	switch {
	case r.Number < next:
		return meanwhile(sheetName(r.Number), "another print got this number meanwhile")
	case r.Number > len(all)+1: // no number was ever left out
		return fault.New(fault.Ours, sheetName(r.Number), "it was planned as fresh, but the next one is number "+strconv.Itoa(next), "")
	}
	// A blank sheet of that number bears nothing, so nothing is forgotten.
	_, err = tx.Exec(`INSERT INTO sheets (number, stock, feed, made) VALUES (?, ?, ?, ?)
		ON CONFLICT (number) DO UPDATE SET stock = excluded.stock, feed = excluded.feed, made = excluded.made`,
		r.Number, r.Stock, r.Feed, at)
	return err
}

func addEvent(tx *sql.Tx, sheet int, e SheetEvent) error {
	var print any
	if e.Print > 0 {
		print = e.Print
	}
	_, err := tx.Exec(`INSERT INTO sheet_events (sheet, version, what, print, data, note, at)
		SELECT ?, coalesce(max(version), 0) + 1, ?, ?, ?, ?, ? FROM sheet_events WHERE sheet = ?`,
		sheet, e.What, print, string(e.Data), e.Note, e.At, sheet)
	return err
}
