package job

import (
	"context"
	"encoding/json"
	"strings"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// tickFormat is the version of tickData that is written.
const tickFormat = 1

// tickData is kept with a tick.
type tickData struct {
	Format int    `json:"format"`
	Spare  string `json:"spare,omitempty"` // the id that was read, where it was that of a spare on the float
}

// Steps is how far a float is between varnish and box, by its ticks: when each
// step was ticked, UTC, RFC 3339; "" where it was not, or was taken back.
type Steps struct {
	Varnished string `json:"varnished,omitempty"`
	Carded    string `json:"carded,omitempty"`
}

// tickedOf is what the ticks of one float come to.
func tickedOf(s *record.Store, id string) (Steps, error) {
	all, err := s.Ticks(id)
	var t Steps
	for _, one := range all {
		switch one.Step {
		case record.Varnished:
			t.Varnished = one.At
		case record.Carded:
			t.Carded = one.At
		case record.TakenBack:
			t = Steps{}
		}
	}
	return t, err
}

// addTick ticks a step of a float. Ticks stand under the float's own id, so that
// a spare on it counts as the float.
func addTick(s *record.Store, m Marked, step, now string) error {
	data, err := json.Marshal(tickData{tickFormat, m.Spare})
	if err != nil {
		return err
	}
	return s.AddTick(record.Tick{ID: m.ID, Step: step, At: now, Data: data})
}

// Ticked is the answer to a tick.
type Ticked struct {
	Marked
	Steps
	// Already says that nothing changed: it had been ticked, or, taken back, it had not.
	Already bool `json:"already,omitempty"`
	Done    int  `json:"ticked"` // floats of its batch that are ticked as varnished now
	Of      int  `json:"of"`     // floats of its batch
}

// Tick ticks a float off as seen under its varnish, by an id typed or what a code
// says. Ticked already, nothing changes. Errors are those of Find; NotFound where
// nothing was printed yet.
func (w *Workshop) Tick(ctx context.Context, text string) (Ticked, error) {
	return w.tick(ctx, text, func(t Steps) string {
		if t.Varnished != "" {
			return ""
		}
		return record.Varnished
	})
}

// Untick takes everything back that was ticked of a float, its card too. Where
// nothing was ticked, nothing changes. Errors are those of Tick.
func (w *Workshop) Untick(ctx context.Context, text string) (Ticked, error) {
	return w.tick(ctx, text, func(t Steps) string {
		if t == (Steps{}) {
			return ""
		}
		return record.TakenBack
	})
}

// tick adds the step that next says of a float's ticks, none for "".
func (w *Workshop) tick(ctx context.Context, text string, next func(Steps) string) (Ticked, error) {
	var out Ticked
	err := w.change(ctx, func(s *record.Store, now string) error {
		var err error
		if out.Marked, err = w.find(s, text); err != nil {
			return err
		}
		had, err := tickedOf(s, out.ID)
		if err != nil {
			return err
		}
		if step := next(had); step == "" {
			out.Already = true
		} else if err := addTick(s, out.Marked, step, now); err != nil {
			return err
		}
		if out.Steps, err = tickedOf(s, out.ID); err != nil {
			return err
		}
		floats, err := s.Floats(out.Batch)
		for i := 0; err == nil && i < len(floats); i++ {
			var t Steps
			if t, err = tickedOf(s, floats[i].ID); t.Varnished != "" {
				out.Done++
			}
		}
		out.Of = len(floats)
		return err
	})
	if err != nil {
		return Ticked{}, err
	}
	return out, nil
}

// TickLine is one float of a batch and what is ticked of it.
type TickLine struct {
	Number  int      `json:"number"`
	ID      string   `json:"id"`
	Spares  []string `json:"spares,omitempty"` // ids of spares that are on it
	Pattern string   `json:"pattern"`
	Rating  string   `json:"rating"`
	Steps
}

// Ticks returns the floats of a batch in the order of the drying board, with what
// is ticked of each. An unknown batch is NotFound.
func (w *Workshop) Ticks(batch string) ([]TickLine, error) {
	s, err := w.records()
	if err != nil {
		return nil, err
	}
	unknown := fault.New(fault.NotFound, "batch "+batch, "there is no batch of that name in "+w.Dir, "print it first, or name another folder with --workshop DIR")
	if s == nil {
		return nil, unknown
	}
	defer s.Close()
	lines, err := tickLines(s, batch)
	if err != nil || len(lines) > 0 {
		return lines, err
	}
	names, err := s.Batches()
	if len(names) > 0 {
		unknown.Do = "there is " + strings.Join(names, ", ")
	}
	if err != nil {
		return nil, err
	}
	return nil, unknown
}

func tickLines(s *record.Store, batch string) ([]TickLine, error) {
	floats, err := s.Floats(batch)
	if err != nil {
		return nil, err
	}
	spares, err := s.Spares()
	if err != nil {
		return nil, err
	}
	on := map[string][]string{}
	for _, sp := range spares {
		if sp.ClaimID != "" {
			on[sp.ClaimID] = append(on[sp.ClaimID], sp.ID)
		}
	}
	var out []TickLine
	for _, f := range floats {
		var e struct{ Pattern, Rating string }
		if err := json.Unmarshal(f.Data, &e); err != nil {
			return nil, err
		}
		l := TickLine{Number: f.Number, ID: f.ID, Spares: on[f.ID], Pattern: e.Pattern, Rating: e.Rating}
		if l.Steps, err = tickedOf(s, f.ID); err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}

// Missing returns the floats that are not ticked as varnished.
func Missing(lines []TickLine) []TickLine {
	var out []TickLine
	for _, l := range lines {
		if l.Varnished == "" {
			out = append(out, l)
		}
	}
	return out
}
