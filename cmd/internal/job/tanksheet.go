package job

import (
	"cmp"
	"slices"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// TankSheet is what is needed beside the tank to test a batch, one float after
// another.
type TankSheet struct {
	Batch string `json:"batch"`
	Date  string `json:"date"`
	// Earlier tells that the batch file is not whole at present, so that this is its
	// last version that is.
	Earlier bool        `json:"earlier"`
	Metal   water.Metal `json:"-"` // that the batch file says is hung; its key is "" when it says none
	Sets    []TankSet   `json:"sets"`
	Floats  []TankPlace `json:"floats"` // in the order of the drying board
	Units   unit.System `json:"-"`      // in which the maker's pages show and take measures
}

// TankSet is a set of shot to hang; the first of a sheet is the one to offer.
type TankSet struct {
	// Key is that of the convention; "" for grams that are weighed, of the batch
	// file's metal.
	Key, Name string
	Metal     water.Metal
	Revision  int
	Sizes     []shot.Size // heaviest first
}

// TankPlace is one float of the drying board.
type TankPlace struct {
	Number  int        `json:"number"`
	ID      string     `json:"id,omitempty"` // when it was printed
	Pattern string     `json:"pattern"`
	Nominal unit.Gram  `json:"nominal_g"`
	BuiltIn unit.Gram  `json:"built_in_g"` // as weighed; 0 for nothing
	Stage   string     `json:"stage"`      // that its readings are of when they do not say
	Stages  []string   `json:"stages"`     // that it goes through, in the order of the work
	Setups  bool       `json:"setups"`     // exchangeable: it is read set-up by set-up, in the batch file
	Done    []TankDone `json:"done"`
}

// TankDone is what the tank has said of it at one stage.
type TankDone struct {
	Stage    string    `json:"stage"`
	Readings int       `json:"readings"`
	Mass     unit.Gram `json:"mass_g"` // of Metal, in air; 0 where readings contradict
	U        unit.Gram `json:"uncertainty_g"`
	Metal    string    `json:"metal"`
	Last     string    `json:"last"` // as noted: "0.85 g"
	Told     []string  `json:"told"`
}

// TankSheet returns the sheet of a batch by its name: NotFound for one whose
// batch file the workshop has neither opened nor printed.
func (w *Workshop) TankSheet(name string) (TankSheet, error) {
	s, err := w.records()
	if err != nil {
		return TankSheet{}, err
	}
	if s != nil {
		defer s.Close()
	}
	file, earlier, err := w.tankFileOf(s, name)
	if err != nil {
		return TankSheet{}, err
	}
	done, err := tankDone(s, file.Batch.Name)
	if err != nil {
		return TankSheet{}, err
	}
	floats, err := s.Floats(file.Batch.Name)
	if err != nil {
		return TankSheet{}, err
	}
	ids := map[int]string{}
	for _, f := range floats {
		ids[f.Number] = f.ID
	}
	sheet := TankSheet{Batch: file.Batch.Name, Date: file.Batch.Date, Earlier: earlier, Metal: file.Tank.Metal, Sets: w.tankSets(file)}
	sheet.Units = w.unitsNow()
	for i := range file.Batch.Floats {
		f := &file.Batch.Floats[i]
		p := TankPlace{Number: f.Number, Pattern: f.Pattern.Name, Nominal: f.Nominal, Stage: file.Tank.For(f).Stage.String(), Stages: tankStages(f),
			Setups: len(f.Setups) > 0, ID: ids[f.Number], Done: done[f.Number]}
		if f.Weight != nil {
			p.BuiltIn = f.Weight.Mass
		}
		if p.Done == nil {
			p.Done = []TankDone{}
		}
		sheet.Floats = append(sheet.Floats, p)
	}
	slices.SortStableFunc(sheet.Floats, func(a, b TankPlace) int { return cmp.Compare(a.Number, b.Number) })
	return sheet, nil
}

// tankDone is what there is of a batch's floats, by their numbers.
func tankDone(s *record.Store, name string) (map[int][]TankDone, error) {
	all, err := testedFloats(s, name)
	if err != nil {
		return nil, err
	}
	out := map[int][]TankDone{}
	for _, f := range all {
		d := TankDone{Stage: f.Stage, Readings: len(f.Readings), Mass: f.Mass, U: f.U, Metal: f.Metal, Last: f.Readings[len(f.Readings)-1].Noted, Told: f.Told}
		if d.Told == nil {
			d.Told = []string{}
		}
		out[f.Number] = append(out[f.Number], d)
	}
	return out, nil
}

// tankSets are the sets of shot, the likeliest first: of the metal that the batch
// file says is hung, and of those the one its marks are written in.
func (w *Workshop) tankSets(file *batch.File) []TankSet {
	b := file.Batch
	all := []shot.Convention{b.Convention}
	for _, more := range [][]shot.Convention{b.Cards, w.Own(), shot.Conventions()} {
		for _, c := range more {
			if !slices.ContainsFunc(all, func(o shot.Convention) bool { return o.Key == c.Key }) {
				all = append(all, c)
			}
		}
	}
	hung := file.Tank.Metal
	var sets []TankSet
	for _, c := range all {
		if len(c.Sizes) > 0 {
			sets = append(sets, TankSet{c.Key, c.Name, c.Metal, c.Revision, c.Sizes})
		}
	}
	if hung.Key == "" {
		return sets
	}
	slices.SortStableFunc(sets, func(a, b TankSet) int { return cmp.Compare(other(a, hung), other(b, hung)) })
	weighed := TankSet{Metal: hung}
	if len(sets) > 0 && sets[0].Metal.Key == hung.Key {
		return append(sets, weighed)
	}
	return append([]TankSet{weighed}, sets...)
}

// other is 0 for a set of that metal, 1 for one of another.
func other(s TankSet, m water.Metal) int {
	if s.Metal.Key == m.Key {
		return 0
	}
	return 1
}

// tankStages are the stages that a float goes through, as words.
func tankStages(f *label.Float) []string {
	if f.Weight == nil {
		return []string{tank.Bare.String(), tank.Varnished.String()}
	}
	return []string{tank.Bare.String(), tank.Beneath.String(), tank.Fitted.String(), tank.Varnished.String()}
}
