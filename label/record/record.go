// Package record keeps what a workshop made: its settings, the floats with
// every version of what their record pages show, the prints and the parts of
// sheets they took, spares and marks printed ahead, what the tank said, what films
// bear, how floats were made as changes that only grow (Change), and photographs. It
// is one SQLite file, of which it makes backups and exports.
//
// It reads no clock: dates come in as text, events as UTC in RFC 3339. It
// knows no figures and no millimetres: what a float shows, what a print holds
// and where a region lies are opaque, versioned JSON to it.
//
// Rows are added, hardly ever changed: a float's older versions and a print's
// earlier states stay. One connection writes; readers have their own and never
// wait for it.
package record

import (
	"database/sql"
	"encoding/json"
	"errors"
)

// The states of a print.
const (
	Pending   = "pending"   // saved, its files written, not yet known to have come out right
	Confirmed = "confirmed" // it came out right
	Cancelled = "cancelled" // given up: its regions are free again
)

// ErrTaken is the cause of the fault that SavePrint returns for an id that
// already stands for another float: the caller makes the next id and tries again.
var ErrTaken = errors.New("the id is taken")

// Float is one float as its record page shows it.
type Float struct {
	ID      string          // short id, unique for ever
	Batch   string          // name of the batch
	Number  int             // place on the drying board, unique in the batch
	Attempt int             // which attempt at an id this is, from 0
	Pattern string          // name of the pattern
	Data    json.RawMessage // opaque and versioned by its writer: everything the page shows
	Created string          // date of this version, UTC, RFC 3339
	Figures string          // SavePrint only: key of the figures that the print puts on it, "" for none
}

// ErrMeanwhile is the cause of the fault that SavePrint returns when another
// print took what this one was planned on: the caller plans again.
var ErrMeanwhile = errors.New("another print came between")

// Region is a part of a sheet that a print takes: all that it takes of it.
// Regions from before sheets had numbers have a name alone and count no more.
type Region struct {
	Number int             // of the sheet, from 1; 0 for one without a number
	Sheet  string          // name of the sheet; SavePrint makes it from the number if there is one
	Stock  string          // key of its stock
	Data   json.RawMessage // opaque: where it lies

	Version int    // SavePrint only: of the sheet when the plan was made, 0 for a fresh sheet
	Feed    string // SavePrint only, of a fresh sheet: the edge that goes into the printer first
}

// Print is one printing job.
type Print struct {
	Number  int               // short number of this run, from 1 in the whole workshop; SavePrint gives it
	Key     string            // content key: hash of everything that is printed, hex
	Batch   string            // name of the batch
	Made    string            // when, UTC, RFC 3339
	State   string            // Pending, Confirmed or Cancelled; SavePrint takes Pending or ""
	Data    json.RawMessage   // opaque: figures, convention and its revision, layout, proof
	Files   map[string]string // name of the file -> its SHA-256, hex
	Regions []Region          // parts of sheets, in the order given
	Settled string            // when it was confirmed or cancelled, UTC, RFC 3339; "" while it is pending
	Again   bool              // SavePrint only: print a confirmed job once more
	Spares  []Spare           // SavePrint only: spare marks on it
	Marks   []Marks           // SavePrint only: unnumbered marks it prints ahead, or takes from what lies ready (a count below 0)
}

// Store is an open record. Its methods may be called from several goroutines,
// and several processes may have the same file open.
type Store struct {
	path  string
	write *sql.DB // one connection; nil in a store opened for reading
	read  *sql.DB
	has   int // schema of a store opened for reading; 0 in one that was brought up to date
	asked statements
}

// Close closes the store. What was saved is on disc before, with or without it.
func (s *Store) Close() error {
	var first error
	if s.read != nil {
		first = s.read.Close()
	}
	// The writer goes last: the last one out folds the log into the file.
	if s.write != nil {
		if err := s.write.Close(); first == nil {
			first = err
		}
	}
	return s.machine(first)
}

// Path returns the path the store was opened with.
func (s *Store) Path() string { return s.path }
