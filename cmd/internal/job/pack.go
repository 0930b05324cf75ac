package job

import (
	"context"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// Packed is the answer to a float put on its card.
type Packed struct {
	Marked
	Steps
	Already     bool `json:"already,omitempty"`     // it was on its card before, and nothing changed
	Unvarnished bool `json:"unvarnished,omitempty"` // it was not ticked off under its varnish: to be told
}

// Pack ticks a float off as put on its card, if float and card, each an id typed
// or what a code says, stand for the same float; a spare on it does too. Packed
// already, nothing changes. Errors are those of Tick; Input for a pair that
// differs, which names both.
func (w *Workshop) Pack(ctx context.Context, float, card string) (Packed, error) {
	var out Packed
	err := w.change(ctx, func(s *record.Store, now string) error {
		var err error
		if out.Marked, err = w.find(s, float); err != nil {
			return fault.At("the float", err)
		}
		on, err := w.find(s, card)
		if err != nil {
			return fault.At("the card", err)
		}
		if on.ID != out.ID {
			return fault.New(fault.Input, "", "wrong card: this is "+out.named()+", the card belongs to "+on.named(),
				"look for the card of "+out.Place()+", or put this card to "+on.Place())
		}
		had, err := tickedOf(s, out.ID)
		if err != nil {
			return err
		}
		out.Already, out.Unvarnished = had.Carded != "", had.Varnished == ""
		if !out.Already {
			if err := addTick(s, out.Marked, record.Carded, now); err != nil {
				return err
			}
		}
		out.Steps, err = tickedOf(s, out.ID)
		return err
	})
	if err != nil {
		return Packed{}, err
	}
	return out, nil
}

// named is Place with the id that was read and the rating.
func (m Marked) named() string {
	id := m.ID
	if m.Spare != "" {
		id = m.Spare
	}
	return m.Place() + " (" + id + ", " + m.Rating + ")"
}
