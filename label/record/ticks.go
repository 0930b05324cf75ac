package record

import (
	"database/sql"
	"encoding/json"

	"floatmark/loading/fault"
)

// ticksFrom is the first schema that has ticks and readable code sizes.
const ticksFrom = 6

const ticksTables = `
CREATE TABLE ticks (
	seq  INTEGER PRIMARY KEY,
	id   TEXT NOT NULL,
	step TEXT NOT NULL CHECK (step IN ('varnished', 'carded', 'taken back')),
	at   TEXT NOT NULL,
	data TEXT NOT NULL
) STRICT;
CREATE INDEX ticks_id ON ticks (id);
CREATE TABLE code_sizes (
	seq  INTEGER PRIMARY KEY,
	made TEXT NOT NULL,
	data TEXT NOT NULL
) STRICT;
`

// The steps that are ticked off, float by float.
const (
	Varnished = "varnished"  // its mark was seen under the varnish
	Carded    = "carded"     // it is on the card that belongs to it
	TakenBack = "taken back" // what was ticked before does not hold any more
)

// Tick is one float ticked off.
type Tick struct {
	ID   string          // in its one written form
	Step string          // Varnished, Carded or TakenBack
	At   string          // UTC, RFC 3339
	Data json.RawMessage // opaque and versioned by its writer; may be empty
}

// AddTick adds a tick. Ticks are only ever added; who asks sees what they come
// to. One without id or date, or of another step, is a fault of class Ours.
func (s *Store) AddTick(t Tick) error {
	switch {
	case t.ID == "" || t.At == "":
		return fault.New(fault.Ours, t.ID, "a tick without id or date", "")
	case t.Step != Varnished && t.Step != Carded && t.Step != TakenBack:
		return fault.New(fault.Ours, t.ID, "there is no step "+t.Step, "")
	case !valid(t.Data):
		return fault.New(fault.Ours, t.ID, "the data of its tick are no JSON", "")
	}
	return s.commit(func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT INTO ticks (id, step, at, data) VALUES (?, ?, ?, ?)", t.ID, t.Step, t.At, string(t.Data))
		return err
	})
}

// Ticks returns the ticks of a float in the order they were made; there are none
// in a record whose schema is older.
func (s *Store) Ticks(id string) ([]Tick, error) {
	if s.has > 0 && s.has < ticksFrom {
		return nil, nil
	}
	var out []Tick
	err := s.each("SELECT id, step, at, data FROM ticks WHERE id = ? ORDER BY seq", []any{id}, func(rows *sql.Rows) error {
		var t Tick
		var data string
		if err := rows.Scan(&t.ID, &t.Step, &t.At, &data); err != nil {
			return err
		}
		t.Data = raw(data)
		out = append(out, t)
		return nil
	})
	return out, err
}

// CodeSizes is which sizes of code a maker's phones read.
type CodeSizes struct {
	Made string          // when it was noted, UTC, RFC 3339
	Data json.RawMessage // opaque and versioned by its writer
}

// SetCodeSizes adds an answer, which counts from now on; the earlier ones stay.
// One without date or JSON data is a fault of class Ours.
func (s *Store) SetCodeSizes(c CodeSizes) error {
	if c.Made == "" || !json.Valid(c.Data) {
		return fault.New(fault.Ours, "", "readable code sizes without a date or JSON", "")
	}
	return s.commit(func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT INTO code_sizes (made, data) VALUES (?, ?)", c.Made, string(c.Data))
		return err
	})
}

// CodeSizes returns the present answer and whether there is one.
func (s *Store) CodeSizes() (CodeSizes, bool, error) {
	if s.has > 0 && s.has < ticksFrom {
		return CodeSizes{}, false, nil
	}
	var c CodeSizes
	var data string
	ok, err := s.one("SELECT made, data FROM code_sizes ORDER BY seq DESC LIMIT 1", nil, &c.Made, &data)
	if err != nil || !ok {
		return CodeSizes{}, false, err
	}
	c.Data = raw(data)
	return c, true, nil
}
