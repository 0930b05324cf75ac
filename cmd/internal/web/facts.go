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

// made tells how the float was made, measured and marked, as far as its maker
// publishes it.
func made(e label.Entry, b label.Build, w words.Words, p words.Page) []fact {
	var all []fact
	number := func(v float64) string { return unit.Number(v, 0.1, p.Number) }
	add := func(group, name string, text ...string) {
		if said := join(", ", text...); said != "" && b.Publish[group] {
			all = append(all, fact{name, fixed(said)})
		}
	}
	date := ""
	if b.Publish[label.GroupDates] {
		date = e.Date
	}
	add(label.GroupBatch, w.Batch, e.Batch, date)
	add(label.GroupBatch, w.Float, fmt.Sprintf(p.BoardNumber, number(float64(e.Number))))
	add(label.GroupDates, p.MadeOn, b.Made)
	for _, m := range b.Materials {
		mass := ""
		if m.Value.Mass > 0 {
			mass = p.Gram(m.Value.Mass, fineStep)
		}
		add(label.GroupMaterials, first(m.Value.Part), m.Value.What, mass, m.Value.Note)
	}
	for _, c := range b.Coats {
		add(label.GroupCoats, p.Coats, c.Value.Product, c.Value.Date, c.Value.Note)
	}
	if e.BuiltInG > 0 {
		add(label.GroupTank, p.Weighed, p.Gram(e.WeighedG, fineStep)+" "+w.BuiltIn)
	}
	add(label.GroupTank, p.Measured, measured(e, p))
	if e.StepG > 0 {
		add(label.GroupFigures, w.Printed, fmt.Sprintf(p.Steps, p.Gram(e.StepG, e.StepG)))
	}
	add(label.GroupTank, p.Water, waterText(e, p), fmt.Sprintf(p.Temperature, number(e.WaterTempC)), salt(e, p))
	add(label.GroupPattern, w.Waterline, p.Millimetre(e.Waterline, 0.5)+" "+w.FromBase)
	if e.MarkTo > e.MarkFrom {
		add(label.GroupPattern, p.MarkAt, w.LowerEdge+" "+p.Millimetre(e.MarkFrom, 0.1)+" "+w.FromBase)
	}
	rings := e.Rings
	if e.RingG > 0 {
		rings = label.RingsText(e.RingG, w)
	}
	add(label.GroupFigures, w.Rings, rings)
	add(label.GroupFigures, p.ShotSizes, conventionText(e.Convention, p), fmt.Sprintf(p.Revision, number(float64(e.Revision))))
	for _, f := range b.Fields {
		add(label.GroupFields, f.Value.Name, f.Value.Text)
	}
	add(label.GroupNotes, w.Note, e.Note)
	for _, n := range b.Notes {
		add(label.GroupNotes, w.Note, n.Value.Text, n.Value.Date)
	}
	add(label.GroupPrice, p.Price, b.Price)
	if b.Status != "" {
		add(label.GroupStatus, p.Status, p.Statuses[string(b.Status)])
	}
	return all
}

// conventionText is a convention by its key, the key itself for one that is not
// built in.
func conventionText(key string, p words.Page) string {
	return p.ConventionName(key, key)
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
	add, u := e.MeasuredG.Apart(e.UG, fineStep, p.Number)
	return fmt.Sprintf(p.MeasuredAdd, add, u, metalText(e, p)) + ", " + how
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
