package record

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"floatmark/loading/fault"
)

// Reading is one test of a float in the tank, as it was noted. Readings are
// only ever added: a float may be tested before it was printed and again years
// after, and what was read once stays what was read.
type Reading struct {
	Key    string          // idempotency key: the same test noted twice is one reading
	Batch  string          // name of the batch
	Number int             // the float's place on the drying board
	Made   string          // when it was noted, UTC, RFC 3339
	Data   json.RawMessage // opaque and versioned by its writer
}

// readingsFrom is the first schema that has readings.
const readingsFrom = 2

// AddReadings adds readings in one commit, all of them or none, and returns how
// many were new. A key that is there already keeps its reading as it is; with
// other data, or for another float, it is an Input fault.
func (s *Store) AddReadings(all []Reading) (added int, err error) {
	for _, r := range all {
		where := place(Float{Batch: r.Batch, Number: r.Number})
		switch {
		case r.Key == "" || r.Batch == "" || r.Made == "":
			return 0, fault.New(fault.Ours, where, "a reading without key, batch or date", "")
		case !json.Valid(r.Data):
			return 0, fault.New(fault.Ours, where, "its data are no JSON", "")
		}
	}
	err = s.commit(func(tx *sql.Tx) error {
		added = 0
		for _, r := range all {
			isNew, err := addReading(tx, r)
			if err != nil {
				return err
			}
			if isNew {
				added++
			}
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	return added, nil
}

func addReading(tx *sql.Tx, r Reading) (isNew bool, err error) {
	var have Reading
	var data string
	err = tx.QueryRow("SELECT batch, number, data FROM readings WHERE key = ?", r.Key).Scan(&have.Batch, &have.Number, &data)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		_, err = tx.Exec("INSERT INTO readings (key, batch, number, made, data) VALUES (?, ?, ?, ?, ?)",
			r.Key, r.Batch, r.Number, r.Made, string(r.Data))
		return err == nil, err
	case err == nil && (have.Batch != r.Batch || have.Number != r.Number || data != string(r.Data)):
		return false, fault.New(fault.Input, place(Float{Batch: r.Batch, Number: r.Number}),
			fmt.Sprintf("the key %q already stands for another reading, of %s", r.Key, place(Float{Batch: have.Batch, Number: have.Number})),
			"give the new reading a key of its own")
	}
	return false, err
}

// Readings returns a batch's readings by float and, of one float, in the order
// they were added; none for an unknown batch, and none from a record whose
// schema is older than readings.
func (s *Store) Readings(batch string) ([]Reading, error) {
	if s.has > 0 && s.has < readingsFrom {
		return nil, nil
	}
	var out []Reading
	err := s.each("SELECT key, batch, number, made, data FROM readings WHERE batch = ? ORDER BY number, seq", []any{batch}, func(rows *sql.Rows) error {
		var r Reading
		var data string
		if err := rows.Scan(&r.Key, &r.Batch, &r.Number, &r.Made, &data); err != nil {
			return err
		}
		r.Data = raw(data)
		out = append(out, r)
		return nil
	})
	return out, err
}

// ReadingBatches returns the names of the batches that have readings, in the
// order of their first one.
func (s *Store) ReadingBatches() ([]string, error) {
	if s.has > 0 && s.has < readingsFrom {
		return nil, nil
	}
	var out []string
	err := s.each("SELECT batch FROM readings GROUP BY batch ORDER BY min(seq)", nil, func(rows *sql.Rows) error {
		var b string
		err := rows.Scan(&b)
		out = append(out, b)
		return err
	})
	return out, err
}
