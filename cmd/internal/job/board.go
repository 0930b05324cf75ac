package job

import (
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// BoardState is how far a float on the drying board is. Each state holds those
// before it.
type BoardState int

// The states, in the order of the day.
const (
	BoardUntested BoardState = iota // neither the tank nor the batch file has a reading of it
	BoardTested
	BoardPrinted   // a print that was not cancelled bears its mark
	BoardVarnished // its mark was seen under varnish
	BoardCarded    // it is on its card
)

// BoardFloat is a float in its place on the drying board.
type BoardFloat struct {
	Number  int
	Pattern string    // its name
	Rating  unit.Gram // as the batch declares it
	State   BoardState
}

// Board returns the floats of a draft in the order of the drying board, and how
// far each is. A draft that is not whole has none. Errors are of class Machine.
func (w *Workshop) Board(d Draft) ([]BoardFloat, error) {
	if d.File == nil {
		return nil, nil
	}
	at := map[int]BoardState{}
	reach := func(n int, s BoardState) { at[n] = max(at[n], s) }
	prints, err := w.BatchPrints(d.Name)
	if err != nil {
		return nil, err
	}
	for _, p := range prints {
		if p.State == record.Cancelled {
			continue
		}
		for _, n := range p.Floats {
			reach(n, BoardPrinted)
		}
	}
	lines, err := w.Ticks(d.Name)
	if err != nil && fault.ClassOf(err) != fault.NotFound {
		return nil, err
	}
	for _, l := range lines {
		switch {
		case l.Carded != "":
			reach(l.Number, BoardCarded)
		case l.Varnished != "":
			reach(l.Number, BoardVarnished)
		}
	}
	read, err := w.readNumbers(d.Name)
	if err != nil {
		return nil, err
	}
	for _, n := range read {
		reach(n, BoardTested)
	}
	b := d.File.Batch
	out := make([]BoardFloat, len(b.Floats))
	for i := range b.Floats {
		f := &b.Floats[i]
		if f.Reading != nil || len(f.Setups) > 0 {
			reach(f.Number, BoardTested)
		}
		out[i] = BoardFloat{Number: f.Number, Pattern: f.Pattern.Name, Rating: f.Nominal, State: at[f.Number]}
	}
	return out, nil
}

// readNumbers are the numbers of the floats of a batch that the tank has readings of.
func (w *Workshop) readNumbers(batch string) ([]int, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := counting(s, batch)
	out := make([]int, len(all))
	for i, r := range all {
		out[i] = r.Number
	}
	return out, err
}
