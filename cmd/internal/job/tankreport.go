package job

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// TankReport is what the tank said of floats.
type TankReport struct {
	Floats []TankFloat `json:"floats"` // a line for each float and stage, in the order of the work
	// Allowances are what floats lost between a test and their finish, by pattern:
	// the floats that have readings of both stages.
	Allowances []TankAllowance `json:"allowances,omitempty"`
}

// TankFloat is one float at one stage, its repeats combined.
type TankFloat struct {
	Batch    string        `json:"batch"`
	Number   int           `json:"number"`
	ID       string        `json:"id,omitempty"` // when it was printed
	Pattern  string        `json:"pattern,omitempty"`
	Stage    string        `json:"stage"`
	Mass     unit.Gram     `json:"mass_g"`        // of Metal, in air
	U        unit.Gram     `json:"uncertainty_g"` // expanded, of Mass
	K        float64       `json:"coverage_factor"`
	Metal    string        `json:"metal"`
	Water    string        `json:"water"`
	Pull     unit.Gram     `json:"pull_g"` // under water
	Spread   unit.Gram     `json:"spread_g"`
	Freedom  int           `json:"spread_degrees_of_freedom"`
	Readings []TankReading `json:"readings"`
	Told     []string      `json:"told,omitempty"`

	load tank.Load
	ok   bool // it could be combined
	last string
}

// TankReading is one reading of it.
type TankReading struct {
	Key     string    `json:"key"`
	Date    string    `json:"date"`
	Noted   string    `json:"noted"`
	Pull    unit.Gram `json:"pull_g"`
	U       unit.Gram `json:"uncertainty_g"`
	Off     unit.Gram `json:"off_g"` // from the mean, grams of pull
	Outlier bool      `json:"outlier"`
	By      string    `json:"by,omitempty"`
	Note    string    `json:"note,omitempty"`
}

// TankAllowance is what the finish of a pattern's floats takes of their load.
type TankAllowance struct {
	Pattern string    `json:"pattern"`
	Pull    unit.Gram `json:"pull_g"`
	U       unit.Gram `json:"uncertainty_g"`
	From    string    `json:"from"`
}

// Tank reports the stored readings: of everything for "", of the float that
// bears an id, or of a batch, named or by its file. NotFound when there are none.
func (w *Workshop) Tank(what string) (TankReport, error) {
	s, err := w.records()
	if err != nil {
		return TankReport{}, err
	}
	none := fault.New(fault.NotFound, "", strings.TrimSpace("the workshop "+w.Dir+" has no readings "+ofWhat(what)),
		"store one with: floatmark tank add BATCH.toml NUMBER READING, or name another folder with --workshop DIR")
	if s == nil {
		return TankReport{}, none
	}
	defer s.Close()
	var r TankReport
	if what == "" {
		r, err = tankReport(s, func(string, int) bool { return true })
	} else {
		var name string
		var number int
		if name, number, err = w.chosen(s, what); err != nil {
			return TankReport{}, err
		}
		r, err = tankReportOf(s, []string{name}, func(_ string, n int) bool { return number == 0 || n == number })
	}
	if err == nil && len(r.Floats) == 0 {
		return TankReport{}, none
	}
	return r, err
}

func ofWhat(what string) string {
	if what == "" {
		return ""
	}
	return "of " + what
}

// chosen finds the batch, and for an id the float in it, that a word names.
func (w *Workshop) chosen(s *record.Store, what string) (name string, number int, err error) {
	if strings.EqualFold(filepath.Ext(what), ".toml") {
		src, err := readBatch(what)
		if err != nil {
			return "", 0, err
		}
		beside := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(what), name)) }
		file, err := batch.Parse(what, src, beside, w.settings)
		if err != nil {
			return "", 0, err
		}
		return file.Batch.Name, 0, nil
	}
	if id, err := ident.Parse(what); err == nil {
		f, ok, err := s.Float(string(id))
		if err != nil || ok {
			return f.Batch, f.Number, err
		}
	}
	return what, 0, nil
}

// tankReport combines the readings of the floats that are chosen.
func tankReport(s *record.Store, chosen func(batch string, number int) bool) (TankReport, error) {
	batches, err := s.ReadingBatches()
	if err != nil {
		return TankReport{}, err
	}
	return tankReportOf(s, batches, chosen)
}

// tankReportOf is tankReport of some batches.
func tankReportOf(s *record.Store, batches []string, chosen func(batch string, number int) bool) (TankReport, error) {
	var report TankReport
	for _, name := range batches {
		all, err := testedFloats(s, name)
		if err != nil {
			return report, err
		}
		for _, f := range all {
			if !chosen(f.Batch, f.Number) {
				continue
			}
			printed, ok, err := s.FloatByNumber(f.Batch, f.Number)
			if err != nil {
				return report, err
			}
			if ok {
				f.ID = printed.ID
			}
			report.Floats = append(report.Floats, f)
		}
	}
	report.Allowances = learned(report.Floats)
	return report, nil
}

// group is one float at one stage.
type group struct {
	number   int
	stage    tank.Stage
	stored   []reading
	keys     []string
	readings []tank.Reading
}

// testedFloats combines the readings of one batch, by float and stage. What repeats
// of all its floats spread makes few repeats of one surer.
func testedFloats(s *record.Store, name string) ([]TankFloat, error) {
	all, err := counting(s, name)
	if err != nil {
		return nil, err
	}
	var groups []*group
	for _, one := range all {
		r, d, err := readingOf(one)
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(groups, func(g *group) bool { return g.number == one.Number && g.stage == d.Stage })
		if i < 0 {
			i = len(groups)
			groups = append(groups, &group{number: one.Number, stage: d.Stage})
		}
		g := groups[i]
		g.stored, g.keys, g.readings = append(g.stored, r), append(g.keys, one.Key), append(g.readings, d)
	}
	slices.SortStableFunc(groups, func(a, b *group) int {
		return cmp.Or(cmp.Compare(a.number, b.number), cmp.Compare(a.stage, b.stage))
	})
	var sets [][]tank.Reading
	for _, g := range groups {
		// What is no repeat is told at its float, and one float's slip is not to
		// make every other float less sure.
		if c, err := tank.Combine(g.readings, tank.Spread{}); err == nil && !c.Apart && !slices.ContainsFunc(c.Repeats, func(r tank.Repeat) bool { return r.Outlier }) {
			sets = append(sets, g.readings)
		}
	}
	pooled, err := tank.Pool(sets...)
	if err != nil {
		return nil, err
	}
	var out []TankFloat
	for _, g := range groups {
		out = append(out, g.float(name, pooled))
	}
	return out, nil
}

// float writes what a group of readings says together.
func (g *group) float(name string, pooled tank.Spread) TankFloat {
	first := g.readings[0]
	f := TankFloat{Batch: name, Number: g.number, Stage: g.stage.String(), Metal: first.Metal.Name, Water: waterText(first.Water)}
	for i, r := range g.stored {
		f.Pattern = cmp.Or(f.Pattern, r.Pattern)
		f.last = max(f.last, r.Date)
		f.Readings = append(f.Readings, TankReading{Key: g.keys[i], Date: r.Date, Noted: r.Noted, By: r.By, Note: r.Note})
	}
	c, err := tank.Combine(g.readings, pooled)
	if err != nil {
		for _, e := range fault.List(err) {
			f.Told = append(f.Told, e.What+": "+e.Do)
		}
		return f
	}
	f.load, f.ok = c.Load, true
	f.Mass, f.U = c.Load.In(first.Metal, first.Water)
	f.K, f.Pull, f.Spread, f.Freedom = c.K, c.Load.Pull, c.Spread.S, c.Spread.Freedom
	for i, r := range c.Repeats {
		one := &f.Readings[i]
		one.Pull, one.U, one.Off, one.Outlier = r.Load.Pull, r.Load.U, r.Off, r.Outlier
		if r.Outlier {
			f.Told = append(f.Told, fmt.Sprintf("reading %d, %s, stands %s off the mean: an outlier by Grubbs' test at 5 %%. It is counted; test again", i+1, one.Noted, r.Off.Text(0.001, unit.Style{})))
		}
	}
	if c.Apart {
		f.Told = append(f.Told, "its two readings stand further apart than reading explains: test a third time")
	}
	return f
}

// learned compares floats before their last work and after, by pattern.
func learned(floats []TankFloat) []TankAllowance {
	var patterns []string
	retests := map[string][]tank.Retest{}
	for i, after := range floats {
		if after.Stage != tank.Varnished.String() || !after.ok || i == 0 {
			continue
		}
		before := floats[i-1] // the latest stage before it, if it is the same float
		if before.Batch != after.Batch || before.Number != after.Number || !before.ok || before.Stage == tank.Beneath.String() {
			continue
		}
		if retests[after.Pattern] == nil {
			patterns = append(patterns, after.Pattern)
		}
		retests[after.Pattern] = append(retests[after.Pattern], tank.Retest{Before: before.load, After: after.load})
	}
	var out []TankAllowance
	for _, p := range patterns {
		// Retests that contradict each other or themselves teach nothing; their
		// readings stand in the list above.
		if a, err := tank.Learn(retests[p]); err == nil {
			out = append(out, TankAllowance{p, a.Pull, a.U, a.From})
		}
	}
	return out
}
