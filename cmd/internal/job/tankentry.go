package job

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// TankEntry is a reading as a phone beside the tank sends it, once or often.
type TankEntry struct {
	Key     string     `json:"key"` // made where it was read: the same reading sent twice is one
	Number  int        `json:"number"`
	Set     string     `json:"set"` // key of the set that hung; "" for weighed grams
	Shot    []TankShot `json:"shot,omitempty"`
	Reading string     `json:"reading,omitempty"` // instead of Shot: "0.85", "0,85 g"
	Stage   string     `json:"stage"`             // "" for the float's own
	Above   string     `json:"above_mm"`          // how far the tip stood above its mark; below it is negative
	Date    string     `json:"date"`              // "" for today
}

// TankShot is so many shot of a size.
type TankShot struct {
	Size string `json:"size"`
	N    int    `json:"n"`
}

// What became of an entry.
const (
	TankIsStored = "stored"
	TankIsKnown  = "known"   // it was here already
	TankRefused  = "refused" // it has to be corrected, and then needs another key
)

// TankAnswer says what became of an entry, with what is stored of it.
type TankAnswer struct {
	Key    string    `json:"key"`
	State  string    `json:"state"`
	Number int       `json:"number"`
	Stage  string    `json:"stage,omitempty"`
	Noted  string    `json:"noted,omitempty"`
	Hung   unit.Gram `json:"hung_g,omitempty"` // of Metal, in air
	Metal  string    `json:"metal,omitempty"`
	Above  float64   `json:"above_mm,omitempty"`
	Date   string    `json:"date,omitempty"`
	What   string    `json:"what,omitempty"` // why it was refused
	Do     string    `json:"do,omitempty"`
}

// TankStored are the answers in the order of the entries, and what there is now of
// the floats they are of.
type TankStored struct {
	Batch    string         `json:"batch"`
	Readings []TankAnswer   `json:"readings"`
	Floats   []TankReported `json:"floats"`
}

// TankReported is what the tank has said of one float.
type TankReported struct {
	Number int        `json:"number"`
	Done   []TankDone `json:"done"`
}

// MostTankEntries is how many entries are taken at once.
const MostTankEntries = 50

// mostTankKey is the longest key, in characters.
const mostTankKey = 64

// phoneKey keeps the keys of phones apart from others.
func phoneKey(key string) string { return "phone " + key }

// AddTankReadings stores readings of a batch, each once by its key, however often
// it is sent. One that is wrong is refused by itself. The error is of what stops
// all of them: then none was stored, and all may be sent again.
func (w *Workshop) AddTankReadings(ctx context.Context, name string, all []TankEntry) (TankStored, error) {
	out := TankStored{Batch: name, Readings: make([]TankAnswer, len(all)), Floats: []TankReported{}}
	if len(all) > MostTankEntries {
		return out, fault.Inputf("send fewer at once", "more than %d readings came at once", MostTankEntries)
	}
	if err := ctx.Err(); err != nil {
		return out, err
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		return out, err
	}
	defer s.Close()
	file, _, err := w.tankFileOf(s, name)
	if err != nil {
		return out, err
	}
	// The name in the file is what its floats are known by.
	have, err := s.Readings(file.Batch.Name)
	if err != nil {
		return out, err
	}
	sets, now := w.tankSets(file), time.Now()
	for i, e := range all {
		a := &out.Readings[i]
		*a, err = w.storeEntry(s, file, sets, have, e, now)
		if err != nil {
			switch fault.ClassOf(err) {
			case fault.Ours, fault.Machine:
				return out, err
			}
			// What was refused says so; the place is the float that it names itself.
			*a = TankAnswer{Key: e.Key, State: TankRefused, Number: e.Number}
			for _, one := range fault.List(err) {
				a.What, a.Do = joined(a.What, one.What), joined(a.Do, one.Do)
			}
		}
	}
	done, err := tankDone(s, file.Batch.Name)
	if err != nil {
		return out, err
	}
	for _, a := range out.Readings {
		if d, ok := done[a.Number]; ok && !slices.ContainsFunc(out.Floats, func(r TankReported) bool { return r.Number == a.Number }) {
			out.Floats = append(out.Floats, TankReported{a.Number, d})
		}
	}
	return out, nil
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// storeEntry stores one entry in a commit of its own, so that an answer that says
// stored is true whatever comes after.
func (w *Workshop) storeEntry(s *record.Store, file *batch.File, sets []TankSet, have []record.Reading, e TankEntry, now time.Time) (TankAnswer, error) {
	if !soundKey(e.Key) {
		return TankAnswer{}, fault.Inputf("give each reading a key of letters, digits, hyphens and underlines", "%q is no key of a reading", e.Key)
	}
	f, err := floatOf(file, strconv.Itoa(e.Number))
	if err != nil {
		return TankAnswer{}, err
	}
	r, err := w.readEntry(file, f, sets, e, now)
	if err != nil {
		return TankAnswer{}, err
	}
	answer := TankAnswer{Key: e.Key, State: TankIsStored, Number: f.Number, Stage: r.Stage, Noted: r.Noted, Hung: hungOf(r), Metal: r.Metal.Name,
		Above: float64(r.AboveMM), Date: r.Date}
	// The batch file may have been opened anew since a reading was stored, so that
	// today it would be understood in another way: what was noted is compared.
	i := slices.IndexFunc(have, func(h record.Reading) bool { return h.Key == phoneKey(e.Key) })
	if i >= 0 {
		was, _, err := readingOf(have[i])
		if err != nil {
			return TankAnswer{}, err
		}
		if have[i].Number != f.Number || was.Noted != r.Noted || was.Stage != r.Stage || was.Convention != r.Convention || was.Metal.Key != r.Metal.Key ||
			math.Abs(float64(was.AboveMM-r.AboveMM)) > 1e-9 {
			return TankAnswer{}, fault.Inputf("give the new reading a key of its own", "the key %q already stands for another reading", e.Key)
		}
		answer.State, answer.Hung, answer.Metal, answer.Date = TankIsKnown, hungOf(was), was.Metal.Name, was.Date
		return answer, nil
	}
	data, err := json.Marshal(r)
	if err != nil {
		return TankAnswer{}, err
	}
	added, err := s.AddReadings([]record.Reading{{Key: phoneKey(e.Key), Batch: file.Batch.Name, Number: f.Number, Made: now.UTC().Format(time.RFC3339), Data: data}})
	if added == 0 {
		answer.State = TankIsKnown
	}
	return answer, err
}

func soundKey(key string) bool {
	return key != "" && len(key) <= mostTankKey && !strings.ContainsFunc(key, func(r rune) bool {
		return r != '-' && r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z')
	})
}

func hungOf(r reading) unit.Gram {
	m := r.Hung
	for _, c := range r.Counted {
		m += unit.Gram(float64(c.Mass) * float64(c.N))
	}
	return m
}

// readEntry understands an entry as the batch file reads its floats, but for what
// hung, which is of the entry's set.
func (w *Workshop) readEntry(file *batch.File, f *label.Float, sets []TankSet, e TankEntry, now time.Time) (reading, error) {
	i := slices.IndexFunc(sets, func(s TankSet) bool { return s.Key == e.Set })
	if i < 0 {
		return reading{}, fault.New(fault.Input, "", fmt.Sprintf("there is no set of shot %q", e.Set), "choose one of the list")
	}
	set := sets[i]
	how := file.Tank.For(f)
	how.Metal = set.Metal
	if set.Key != "" {
		how.Shot = shot.Convention{Key: set.Key, Name: set.Name, Metal: set.Metal, Sizes: set.Sizes, Revision: set.Revision}
	}
	today := now.Format(time.DateOnly)
	n := Noted{Reading: strings.TrimSpace(e.Reading), Stage: e.Stage, Above: strings.ReplaceAll(e.Above, "−", "-"), Date: e.Date}
	if n.Date == "" || n.Date > today { // a phone's clock may be wrong
		n.Date = today
	}
	if _, bare := unit.Decimal(n.Reading); bare {
		n.Reading += " g" // the page says the unit
	}
	counts, err := countsOf(e.Shot, set)
	switch {
	case err != nil:
		return reading{}, err
	case len(counts) > 0 && n.Reading != "":
		return reading{}, fault.Inputf("give the one or the other", "the reading has shot and grams")
	case len(counts) > 0:
		n.Reading = shot.Total(counts).Text(0.001, unit.Style{})
	case n.Reading == "":
		n.Reading = "0 g"
	}
	d, err := n.Read(how)
	if err != nil {
		return reading{}, err
	}
	if len(counts) > 0 {
		// Counted as it was pressed: no words are cut that could be read in two ways.
		d.Hung, d.Counted, n.Reading = 0, counts, shot.CountsText(counts)
		if _, err := d.Load(); err != nil {
			return reading{}, err
		}
	}
	r := stored(d, how.Shot)
	r.Noted, r.Date, r.Pattern = n.Reading, n.Date, f.Pattern.Key
	return r, nil
}

// countsOf looks the sizes of an entry up.
func countsOf(all []TankShot, set TankSet) ([]shot.Count, error) {
	var counts []shot.Count
	for _, one := range all {
		i := slices.IndexFunc(set.Sizes, func(z shot.Size) bool { return z.Name == one.Size })
		if i < 0 || one.N < 1 || one.N > mostTankShot {
			return nil, fault.Inputf("press the shot that hung once more", "%d of %q are no shot of this set", one.N, one.Size)
		}
		counts = append(counts, shot.Count{Size: set.Sizes[i], N: one.N})
	}
	return counts, nil
}

// mostTankShot is the most shot of a size on one float. Estimate.
const mostTankShot = 500
