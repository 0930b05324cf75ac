package record

import (
	"database/sql"
	"encoding/json"
	"slices"
	"strconv"
)

// The states of a sheet.
const (
	SheetOpen       = "open"        // what is free of it can be printed on
	SheetUsedUp     = "used up"     // nothing more goes on it
	SheetWrittenOff = "written off" // spoilt or lost
)

// What else happens to a sheet.
const (
	printed   = "printed"   // a print took a part
	cancelled = "cancelled" // that print was given up and took nothing
	taken     = "taken"     // a part was noted as spent by hand
	freed     = "freed"     // a part was noted as blank by hand
)

// Sheet is one physical sheet of stock. Its number is written on it when its
// first print is made, so a sheet that bears nothing has no number yet: where
// the highest numbers bear nothing any more, since their prints were cancelled,
// they are given again.
type Sheet struct {
	Number  int    // from 1, in the whole workshop
	Stock   string // key of its stock
	Feed    string // edge that goes into the printer first, as it is drawn: "top", "right", "bottom", "left"
	Made    string // when its first print was saved, UTC, RFC 3339
	State   string // SheetOpen, SheetUsedUp or SheetWrittenOff
	Note    string // why, of the latest change of state; what was said of the latest correction otherwise
	Version int    // counts everything that became of it
	Parts   []Part // in the order they were noted; those of cancelled prints do not count and are not here
}

// Blank reports that the sheet bears nothing and may not even exist.
func (s Sheet) Blank() bool {
	return s.State == SheetOpen && !slices.ContainsFunc(s.Parts, func(p Part) bool { return !p.Freed })
}

// Part is a part of a sheet that is spent, or noted as blank by hand: then what
// stands before it in the list is free there, what stands after it is not.
type Part struct {
	Print int             // number of the print that took it, 0 for one noted by hand
	Freed bool            // blank, not spent
	Data  json.RawMessage // opaque: where it lies
}

// SheetEvent is one thing that became of a sheet.
type SheetEvent struct {
	Version int
	What    string // "printed", "cancelled", "taken", "freed", or the state it came into
	Print   int    // number of the print, 0 for what was done by hand
	Data    json.RawMessage
	Note    string
	At      string // UTC, RFC 3339
}

// sheetRows reads sheets with all that became of them in one statement, so that
// version and parts are of one moment.
const sheetRows = sheetColumns + partPlace + sheetTables

// ledgerRows is sheetRows with the places of parts only where a plan needs them,
// on open sheets of one stock: a workshop's closed sheets grow ever more.
const ledgerRows = sheetColumns + `CASE WHEN s.stock = ? AND 'open' = coalesce(
		(SELECT what FROM sheet_events WHERE sheet = s.number AND what IN ('open', 'used up', 'written off') ORDER BY version DESC LIMIT 1), 'open')
		THEN ` + partPlace + ` ELSE '' END` + sheetTables

const (
	sheetColumns = `SELECT s.number, s.stock, s.feed, s.made, e.version, e.what, coalesce(e.print, 0), e.note, e.at, `
	partPlace    = `coalesce(r.data, e.data)`
	sheetTables  = ` FROM sheets s JOIN sheet_events e ON e.sheet = s.number
	LEFT JOIN regions r ON e.what = 'printed' AND r.print = e.print AND r.sheet = CAST(e.sheet AS TEXT)`
	sheetOrder = " ORDER BY s.number, e.version"
)

// querier is what *sql.DB and *sql.Tx share.
type querier interface {
	Query(query string, args ...any) (*sql.Rows, error)
}

// sheetsOf reads sheets and hands each event to see, which may be nil.
func sheetsOf(q querier, see func(Sheet, SheetEvent), query string, args ...any) ([]Sheet, error) {
	rows, err := q.Query(query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Sheet
	for rows.Next() {
		var s Sheet
		var e SheetEvent
		var data string
		if err := rows.Scan(&s.Number, &s.Stock, &s.Feed, &s.Made, &e.Version, &e.What, &e.Print, &e.Note, &e.At, &data); err != nil {
			return nil, err
		}
		e.Data = raw(data)
		if n := len(all); n == 0 || all[n-1].Number != s.Number {
			s.State = SheetOpen
			all = append(all, s)
		}
		all[len(all)-1].follow(e)
		if see != nil {
			see(s, e)
		}
	}
	return all, rows.Err()
}

// follow brings a sheet to what it is after e.
func (s *Sheet) follow(e SheetEvent) {
	s.Version = e.Version
	switch e.What {
	case printed:
		s.Parts = append(s.Parts, Part{Print: e.Print, Data: e.Data})
	case cancelled:
		s.Parts = slices.DeleteFunc(s.Parts, func(p Part) bool { return p.Print == e.Print })
	case taken, freed:
		s.Parts = append(s.Parts, Part{Freed: e.What == freed, Data: e.Data})
		s.Note = e.Note
	default:
		s.State, s.Note = e.What, e.Note
	}
}

// takes reports an event that leaves less of a sheet than a plan made before it
// could count on.
func (e SheetEvent) takes() bool {
	return e.What == printed || e.What == taken || e.What == SheetUsedUp || e.What == SheetWrittenOff
}

// sheets reads sheets; there are none in a record whose schema is older.
func (s *Store) sheets(see func(Sheet, SheetEvent), where string, args ...any) ([]Sheet, error) {
	if s.has > 0 && s.has < ledgerFrom {
		return nil, nil
	}
	all, err := sheetsOf(s.read, see, sheetRows+where+sheetOrder, args...)
	return all, s.machine(err)
}

// Sheets returns every sheet of the workshop, by number, blank ones too.
func (s *Store) Sheets() ([]Sheet, error) { return s.sheets(nil, "") }

// OpenSheets returns the part-used sheets of one stock, by number: those that
// are open and bear something.
func (s *Store) OpenSheets(stock string) ([]Sheet, error) {
	all, err := s.sheets(nil, " WHERE s.stock = ?", stock)
	return slices.DeleteFunc(all, func(sh Sheet) bool { return sh.State != SheetOpen || sh.Blank() }), err
}

// Ledger returns the part-used sheets of one stock and the number that the next
// fresh sheet of any stock will get, both of one moment.
func (s *Store) Ledger(stock string) (open []Sheet, next int, err error) {
	if s.has > 0 && s.has < ledgerFrom {
		return nil, 1, nil
	}
	all, err := sheetsOf(s.read, nil, ledgerRows+sheetOrder, stock)
	if err != nil {
		return nil, 0, s.machine(err)
	}
	for _, sh := range all {
		if sh.Stock == stock && sh.State == SheetOpen && !sh.Blank() {
			open = append(open, sh)
		}
	}
	return open, nextNumber(all), nil
}

// nextNumber follows the last sheet that is not blank.
func nextNumber(all []Sheet) int {
	next := 1
	for _, sh := range all {
		if !sh.Blank() {
			next = sh.Number + 1
		}
	}
	return next
}

// Sheet returns one sheet and all that became of it, oldest first.
func (s *Store) Sheet(number int) (Sheet, []SheetEvent, bool, error) {
	var events []SheetEvent
	all, err := s.sheets(func(_ Sheet, e SheetEvent) { events = append(events, e) }, " WHERE s.number = ?", number)
	if err != nil || len(all) == 0 {
		return Sheet{}, nil, false, err
	}
	return all[0], events, true, nil
}

func sheetName(number int) string { return "sheet " + strconv.Itoa(number) }
