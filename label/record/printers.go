package record

import (
	"database/sql"
	"encoding/json"

	"floatmark/loading/fault"
)

// Printer is a printer's profile as a maker found it. Profiles are only ever
// added: the latest of a name counts, the earlier ones stay, since they say how
// what was printed then was drawn.
type Printer struct {
	Name   string          // the maker's own name of it
	Number int             // which profile of that name it is, from 1; AddPrinter gives it
	Made   string          // when it was noted, UTC, RFC 3339
	Data   json.RawMessage // opaque and versioned by its writer
}

// printersFrom is the first schema that has printers.
const printersFrom = 4

// AddPrinter adds a profile, which is from now on the one of its name, and
// returns its number. after is the number of the profile that it was worked out
// from, 0 for none; if another one has come since, nothing is added and the
// error is Input, so that of two who calibrate at once the second is told. One
// without name, date or JSON data is a fault of class Ours.
func (s *Store) AddPrinter(p Printer, after int) (int, error) {
	switch {
	case p.Name == "" || p.Made == "":
		return 0, fault.New(fault.Ours, p.Name, "a printer without name or date", "")
	case !json.Valid(p.Data):
		return 0, fault.New(fault.Ours, p.Name, "the data of the printer are no JSON", "")
	}
	err := s.commit(func(tx *sql.Tx) error {
		var have int
		if err := tx.QueryRow("SELECT count(*) FROM printers WHERE name = ?", p.Name).Scan(&have); err != nil {
			return err
		}
		if have != after {
			return fault.New(fault.Input, "printer "+p.Name, "it was calibrated again in the meantime", "look at it first: floatmark testsheet calibrate --show")
		}
		_, err := tx.Exec("INSERT INTO printers (name, made, data) VALUES (?, ?, ?)", p.Name, p.Made, string(p.Data))
		return err
	})
	if err != nil {
		return 0, err
	}
	return after + 1, nil
}

const (
	printerColumns = "SELECT name, (SELECT count(*) FROM printers WHERE name = p.name), made, data FROM printers p WHERE"
	newestPrinter  = " seq = (SELECT max(seq) FROM printers WHERE name = p.name)"
)

// Printer returns the present profile of a printer and whether there is one.
func (s *Store) Printer(name string) (Printer, bool, error) {
	all, err := s.printers(printerColumns+" name = ? AND"+newestPrinter, name)
	if err != nil || len(all) == 0 {
		return Printer{}, false, err
	}
	return all[0], true, nil
}

// Printers returns the present profile of every printer, by name.
func (s *Store) Printers() ([]Printer, error) {
	return s.printers(printerColumns + newestPrinter + " ORDER BY name")
}

// printers reads profiles; there are none in a record whose schema is older.
func (s *Store) printers(query string, args ...any) ([]Printer, error) {
	if s.has > 0 && s.has < printersFrom {
		return nil, nil
	}
	var out []Printer
	err := s.each(query, args, func(rows *sql.Rows) error {
		var p Printer
		var data string
		if err := rows.Scan(&p.Name, &p.Number, &p.Made, &data); err != nil {
			return err
		}
		p.Data = raw(data)
		out = append(out, p)
		return nil
	})
	return out, err
}
