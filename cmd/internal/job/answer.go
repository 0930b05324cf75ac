package job

import (
	"fmt"
	"slices"
	"strings"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// answer is a question understood, ready for any load.
type answer struct {
	q      Question
	to     []shot.Convention
	lim    shot.Limits
	fixing shot.Fixing
	words  words.Words
}

func newAnswer(q Question, from shot.Convention, w water.Water) (answer, error) {
	a := answer{q: q, lim: shot.Limits{Water: w, Market: q.Market, MaxShots: q.MaxShots, Unverified: q.Unverified, Fine: q.Fine}}
	var err error
	if a.words, err = words.For("en"); err != nil {
		return a, err
	}
	if err := a.measures(); err != nil {
		return a, err
	}
	if q.Fixed != "" {
		if a.fixing, err = shot.ParseFixing(q.Fixed); err != nil {
			return a, fault.At("--fixed", err)
		}
	}
	switch {
	case q.To != "":
		only, err := FindConvention(q.To, q.Own)
		if err != nil {
			return a, fault.At("--to", err)
		}
		a.to = []shot.Convention{only}
	case q.Have != "" || q.Without != "":
		a.to = []shot.Convention{from}
	default:
		a.to = append(shot.Conventions(), q.Own...)
		if !slices.ContainsFunc(a.to, func(k shot.Convention) bool { return k.Key == from.Key }) {
			a.to = append(a.to, from) // of a file
		}
		return a, nil
	}
	return a, a.box(a.to[0])
}

// measures reads what has a unit.
func (a *answer) measures() error {
	for _, m := range []struct {
		flag, text string
		to         *unit.Millimetre
	}{{"--tip", a.q.Tip, &a.lim.TipDiameter}, {"--shift", a.q.Shift, &a.lim.MaxShift}} {
		if m.text == "" {
			continue
		}
		var err error
		if *m.to, err = unit.ParseMillimetre(m.text); err != nil {
			return fault.At(m.flag, err)
		}
		if *m.to == 0 {
			return fault.At(m.flag, fault.Inputf("give a length above 0, or leave it out", "%q is nothing", m.text))
		}
	}
	if a.q.Tolerance == "" {
		return nil
	}
	var err error
	if a.lim.Tolerance, err = unit.ParseGram(a.q.Tolerance); err != nil {
		return fault.At("--tolerance", err)
	}
	if a.lim.Tolerance == 0 {
		return fault.At("--tolerance", fault.Inputf("give a mass above 0, or leave it out", "%q is nothing", a.q.Tolerance))
	}
	return nil
}

// box reads the shot there is.
func (a *answer) box(c shot.Convention) error {
	var err error
	if a.q.Have != "" {
		if a.lim.Have, err = shot.ParseHave(a.q.Have, c); err != nil {
			return fault.At("--have", err)
		}
	}
	if a.q.Without != "" {
		without, err := shot.ParseHave(a.q.Without, c)
		if err != nil {
			return fault.At("--without", err)
		}
		for _, s := range c.Sizes {
			if _, ok := without[s.Name]; ok {
				a.lim.Without = append(a.lim.Without, s.Name)
			}
		}
	}
	return nil
}

func (a answer) convert(load shot.Load) (Conversion, error) {
	mass, metal, w := load.Mass, load.Metal, a.lim.Water
	if a.q.Metal != "" && load.Counts == nil {
		var err error
		if metal, err = water.ParseMetal(a.q.Metal); err != nil {
			return Conversion{}, fault.At("--metal", err)
		}
	}
	c := Conversion{Gram: mass, Metal: metal.Name, Water: waterText(w), Pull: water.Pull(mass, metal, w), Near: load.Near, Notices: load.Notices}
	if _, known := shot.RuleFor(a.q.Market); a.q.Market != "" && !known {
		c.Notices = append(c.Notices, fmt.Sprintf("no rule on lead is known here for %q: nothing is left out, and there may be one", a.q.Market))
	}
	for _, to := range a.to {
		row, err := a.row(water.Equal(mass, metal, to.Metal, w), to)
		if err != nil {
			return Conversion{}, fault.At(to.Key, err)
		}
		c.Rows = append(c.Rows, row)
	}
	return c, nil
}

// row answers in one convention. A load that is heavier than any line of shot
// in its metal has no equivalents there; that is no error of the question.
func (a answer) row(target unit.Gram, to shot.Convention) (ConversionRow, error) {
	row := ConversionRow{Key: to.Key, Name: to.Name + ", " + to.Metal.Name, Revision: to.Revision, Gram: target}
	if to.Unit != "" { // the mass is all there is to say
		row.Equivalents = []ConversionChoice{{Shot: to.MassText(target, unit.Style{}), Total: target, Off: "nothing"}}
		return row, nil
	}
	r, err := shot.Solve(target, to, a.lim)
	if err != nil {
		return row, err
	}
	for _, e := range r.List {
		row.Equivalents = append(row.Equivalents, choice(e, a.words))
	}
	if r.Nearest != nil {
		c := choice(*r.Nearest, a.words)
		row.Nearest = &c
	}
	for _, l := range r.LeftOut {
		out := ConversionLeftOut{Why: l.Why, Because: l.Because}
		for _, s := range l.Sizes {
			out.Sizes = append(out.Sizes, s.Name)
		}
		row.LeftOut = append(row.LeftOut, out)
	}
	row.Bounds = r.Bounds
	if o, ok := shot.InOneSize(target, to, a.lim); ok {
		row.OneSize = o.Text()
	}
	if span, ok := shot.InRange(target, to, a.lim); ok {
		row.Range = span.Text()
	}
	if a.q.Fixed == "" {
		return row, nil
	}
	list, err := shot.Split(target, to, a.lim, a.fixing, shot.Share{})
	for _, one := range list {
		e := shot.Equivalent{Rest: one.Rest, TipShift: one.TipShift, TipKnown: one.TipKnown}
		var after []string
		for _, key := range one.Sources {
			after = append(after, sourceWords(key))
		}
		row.Arrangements = append(row.Arrangements, ConversionArrangement{After: after, Text: one.Text, Total: one.Total, Rest: one.Rest, Tip: one.TipShift,
			Off: offText(e, a.words), Share: one.Share, Sources: one.Sources})
	}
	return row, err
}

// sourceWords says what a source is: "an angling site (french-line)", "common
// practice, no source".
func sourceWords(key string) string {
	for _, s := range shot.Sources() {
		if s.Key == key && s.Kind != commonPractice {
			return s.Kind + " (" + key + ")"
		}
	}
	return commonPractice + ", no source"
}

// commonPractice is the kind of what the trade does and no page says.
const commonPractice = "common practice"

func choice(e shot.Equivalent, w words.Words) ConversionChoice {
	c := ConversionChoice{Shot: e.Text(), Total: e.Total, Rest: e.Rest, Off: offText(e, w)}
	if e.TipKnown {
		c.Tip = e.TipShift
	}
	var notes []string
	for _, n := range e.Counts {
		if caution := n.Size.Caution(); caution != "" && !slices.Contains(notes, caution) {
			notes = append(notes, caution)
		}
	}
	if e.Dust() {
		notes = append(notes, "ends in dust shot")
	}
	if e.Rounding > 0 {
		notes = append(notes, "±"+e.Rounding.Text(0.0001, unit.Style{})+" by rounding")
	}
	c.Note = strings.Join(notes, ", ")
	return c
}

// offText tells by how much shot misses the load, in grams and, where the tip
// is known, by where it then stands.
func offText(e shot.Equivalent, w words.Words) string {
	off := "nothing"
	if r := unit.Number(float64(e.Rest), 0.001, unit.Style{}); r != "0" {
		side := "too little"
		if e.Rest < 0 {
			side, r = "too much", r[1:]
		}
		off = r + " g " + side
	}
	if !e.TipKnown {
		return off
	}
	if tip := label.TipText(e, w); tip != "" {
		return off + ", " + tip
	}
	return off + ", tip at its mark"
}
