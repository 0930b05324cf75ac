package job

import (
	"bytes"
	"context"
	"encoding/json"
	"path/filepath"
	"slices"
	"time"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// struck is an entry of the table of readings that is no reading: it strikes an
// earlier one out, or lets it count again. The table only grows; what was read stays
// what was read, and the last word on it counts. Programs that do not know such
// entries refuse them by their format, rather than take what was struck out for good.
type struck struct {
	Format int    `json:"format"`
	Key    string `json:"struck_key"` // of the reading
	Out    bool   `json:"struck_out"`
	By     string `json:"by,omitempty"`
}

const struckFormat = 2

// struckMark is what only such entries have in them.
var struckMark = []byte(`"struck_key"`)

func struckOf(r record.Reading) (struck, bool) {
	var s struck
	if !bytes.Contains(r.Data, struckMark) || json.Unmarshal(r.Data, &s) != nil || s.Format != struckFormat {
		return s, false
	}
	return s, s.Key != ""
}

// struckOut are the keys of the readings that are struck out.
func struckOut(all []record.Reading) map[string]bool {
	var out map[string]bool
	for _, r := range all {
		if s, ok := struckOf(r); ok {
			if out == nil {
				out = map[string]bool{}
			}
			out[s.Key] = s.Out
		}
	}
	return out
}

// counting are the readings of a batch that count, in their order.
func counting(s *record.Store, batch string) ([]record.Reading, error) {
	all, err := s.Readings(batch)
	if err != nil {
		return nil, err
	}
	out := struckOut(all)
	if out == nil {
		return all, nil
	}
	return slices.DeleteFunc(all, func(r record.Reading) bool {
		_, other := struckOf(r)
		return other || out[r.Key]
	}), nil
}

// TankOne is one stored reading.
type TankOne struct {
	Key    string `json:"key"`
	Number int    `json:"number"`
	Stage  string `json:"stage"`
	Noted  string `json:"noted"`
	Date   string `json:"date"`
	By     string `json:"by,omitempty"`
	Struck bool   `json:"struck"` // struck out: it does not count
}

// TankReadings lists the stored readings of a batch, by float and in the order they
// were added, those that are struck out among them.
func (w *Workshop) TankReadings(name string) ([]TankOne, error) {
	s, err := w.records()
	if err != nil || s == nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Readings(w.readingsName(s, name))
	if err != nil {
		return nil, err
	}
	out := struckOut(all)
	list := []TankOne{}
	for _, one := range all {
		if _, ok := struckOf(one); ok {
			continue
		}
		r, _, err := readingOf(one)
		if err != nil {
			return nil, err
		}
		list = append(list, TankOne{one.Key, one.Number, r.Stage, r.Noted, r.Date, r.By, out[one.Key]})
	}
	return list, nil
}

// readingsName is what a batch's readings are kept under: the name in its file.
func (w *Workshop) readingsName(s *record.Store, name string) string {
	if file, _, err := w.tankFileOf(s, name); err == nil {
		return file.Batch.Name
	}
	return name
}

// StrikeReading strikes a stored reading of a batch out, or lets it count again.
// What is so already stays so. NotFound for a key that the batch has no reading of.
func (w *Workshop) StrikeReading(ctx context.Context, name, key string, out bool, by string) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return err
	}
	defer s.Close()
	name = w.readingsName(s, name)
	all, err := s.Readings(name)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(all, func(r record.Reading) bool {
		_, other := struckOf(r)
		return r.Key == key && !other
	})
	if i < 0 {
		return fault.New(fault.NotFound, "", "the batch has no such reading", "look at its readings again")
	}
	if struckOut(all)[key] == out {
		return nil
	}
	data, err := json.Marshal(struck{struckFormat, key, out, by})
	if err != nil {
		return err
	}
	own, err := Secret()
	if err != nil {
		return err
	}
	_, err = s.AddReadings([]record.Reading{{Key: "struck " + own, Batch: name, Number: all[i].Number, Made: time.Now().UTC().Format(time.RFC3339), Data: data}})
	return err
}
