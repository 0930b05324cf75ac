package web

import (
	"fmt"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// fact is one line of a list of facts.
type fact struct{ Name, Text string }

// fineStep is how masses are told that were measured and not printed: the step
// of a usual scale.
const fineStep unit.Gram = 0.01

// made tells how the float was measured and marked.
func made(e label.Entry, w words.Words, p words.Page) []fact {
	var all []fact
	add := func(name, text string) {
		if text != "" {
			all = append(all, fact{name, fixed(text)})
		}
	}
	number := func(v float64) string { return unit.Number(v, 0.1, p.Number) }
	add(w.Batch, join(", ", e.Batch, e.Date))
	add(w.Float, fmt.Sprintf(p.BoardNumber, number(float64(e.Number))))
	if e.BuiltInG > 0 {
		add(p.Weighed, p.Gram(e.WeighedG, fineStep)+" "+w.BuiltIn)
	}
	add(p.Measured, measured(e, p))
	if e.StepG > 0 {
		add(w.Printed, fmt.Sprintf(p.Steps, p.Gram(e.StepG, e.StepG)))
	}
	add(p.LineFixed, lineText(e.Line, p))
	add(p.Water, join(", ", waterText(e, p), fmt.Sprintf(p.Temperature, number(e.WaterTempC)), salt(e, p)))
	add(w.Waterline, p.Millimetre(e.Waterline, 0.5)+" "+w.FromBase)
	if e.MarkTo > e.MarkFrom {
		add(p.MarkAt, w.LowerEdge+" "+p.Millimetre(e.MarkFrom, 0.1)+" "+w.FromBase)
	}
	if rings := e.Rings; e.RingG > 0 {
		add(w.Rings, label.RingsText(e.RingG, w))
	} else {
		add(w.Rings, rings)
	}
	add(p.ShotSizes, join(", ", conventionText(e.Convention, p), fmt.Sprintf(p.Revision, number(float64(e.Revision)))))
	add(w.Note, e.Note)
	return all
}

// conventionText is a convention by its key, the key itself for one that is not
// built in.
func conventionText(key string, p words.Page) string {
	if c, ok := shot.ByKey(key); ok {
		return p.ConventionName(key, c.Name)
	}
	return key
}

// measured says where the figure to add comes from.
func measured(e label.Entry, p words.Page) string {
	how := p.InTank
	switch {
	case e.About:
		how = p.InTankFellows
	case e.BuiltInG > 0:
		how = p.InTankFitted
	}
	step := fineStep
	if e.UG < fineStep {
		step = fineStep / 10
	}
	return fmt.Sprintf(p.MeasuredAdd, p.Gram(e.MeasuredG, step), p.Gram(e.UG, step), metalText(e, p)) + ", " + how
}

// metalText is the metal of the mark, waterText the water: by key in the
// reader's language, in records that have no key as they were printed.
func metalText(e label.Entry, p words.Page) string {
	if e.MetalKey == "" {
		return p.MetalName(e.Metal, e.Metal) // the English word of a plain metal is its key
	}
	return p.MetalName(e.MetalKey, e.Metal)
}

func waterText(e label.Entry, p words.Page) string {
	switch {
	case e.Water == "":
		return ""
	case e.SalinityPSU > 0:
		return p.Sea
	}
	return p.Fresh
}

func salt(e label.Entry, p words.Page) string {
	if e.SalinityPSU <= 0 {
		return ""
	}
	return fmt.Sprintf(p.Salinity, unit.Number(e.SalinityPSU, 0.1, p.Number))
}

// lineText is how the line is fixed, in the reader's language where it is one of
// the known ways, and as the maker says it where that says more.
func lineText(line string, p words.Page) string {
	f, ok := job.FixingOf(line)
	if !ok {
		return line
	}
	said := fixingText(f, p)
	if _, err := shot.ParseFixing(line); err != nil {
		said += " (" + line + ")"
	}
	return said
}

func fixingText(f shot.Fixing, p words.Page) string {
	switch f {
	case shot.TopAndBottom:
		return p.FixedBoth
	case shot.Sliding:
		return p.FixedSliding
	}
	return p.FixedBottom
}

// guide is the general advice for the way the line is fixed.
func guide(line string, p words.Page) []string {
	f, ok := job.FixingOf(line)
	switch {
	case !ok:
		return p.GuideOther
	case f == shot.TopAndBottom:
		return p.GuideBoth
	case f == shot.Sliding:
		return p.GuideSliding
	}
	return p.GuideBottom
}

// kindText is the kind of float.
func kindText(e label.Entry, w words.Words) string {
	said := e.KindKey
	if said == "" {
		said = e.Kind
	}
	k, err := loading.ParseKind(said)
	if err != nil {
		return e.Kind
	}
	return label.KindName(k, w)
}

// cautions are those of the card in the reader's language; where the record does
// not tell what is built in by its key, its words stand as they were printed.
func cautions(e label.Entry, w words.Words, p words.Page) []string {
	if e.KindKey == "" {
		return e.Cautions
	}
	weight := w.BuiltInWeight + ": " + w.Nothing + ", " + w.NoLead
	if e.BuiltInMetal != "" {
		weight = w.BuiltInWeight + ": " + p.MetalName(e.BuiltInMetal, e.BuiltInMetal) + ", " + w.NoLead
		if e.BuiltInLead {
			weight = w.BuiltInWeight + ": " + p.MetalName(e.BuiltInMetal, e.BuiltInMetal) + ", " + w.ContainsLead + ", " + w.WashHands
		}
	}
	return []string{weight, w.Toy + " · " + w.SmallParts, w.Children, w.NeverBite}
}
