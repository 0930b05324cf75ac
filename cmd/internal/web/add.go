package web

import (
	"fmt"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// add is the add as the angler wants it, in words.
type add struct {
	Shot   string // "1 AAA + 1 BB", or the mass where no shot makes it
	Gram   string // "0.8 g of tin"; "" where Shot is it already
	Tip    string
	Notes  []note
	Parts  string // where the shot goes
	Sets   []option
	Metals []option
	Waters []option
}

// note is a remark, with the letter it has in the table of a plain page; "" for
// one that says something else of every row.
type note struct{ Letter, Text string }

// option is one thing to choose; Own is, of a set, what its own metal is called
// in the list of metals.
type option struct {
	Key, Name string
	Chosen    bool
	Own       string
}

// tipStep is the step in which the tip is told: a finer one cannot be seen on the
// water. Below it the tip stands at its mark.
const tipStep unit.Millimetre = 0.5

// addOf works the add out. A choice that this record cannot answer, an old one
// from a cookie perhaps, is dropped for what stands on the mark.
func addOf(e label.Entry, v View, p words.Page) (add, error) {
	a, err := job.ForAngler(e, v.Choice, v.Own)
	if class := fault.ClassOf(err); err != nil && (class == fault.Input || class == fault.NoFit) {
		a, err = job.ForAngler(e, job.Choice{}, v.Own)
	}
	if err != nil {
		return add{}, err
	}
	out := answer(e, a, p)
	out.choices(a, v, p)
	if a.Parts != nil {
		out.Parts = partsText(*a.Parts, p)
	}
	return out, nil
}

// answer puts an add in words.
func answer(e label.Entry, a job.Angler, p words.Page) (out add) {
	metal := p.MetalName(a.Convention.Metal.Key, a.Convention.Metal.Name)
	told := func(letter, text string) { out.Notes = append(out.Notes, note{letter, text}) }
	mass := a.Convention.MassText(unit.Gram(unit.Round(float64(a.Add), float64(a.Step))), p.Number)
	of := fmt.Sprintf(p.Of, mass, metal)
	switch {
	case a.Add < 0 && -a.Add >= a.Step/2:
		out.Shot = p.Sinks
	case a.Add < a.Step/2:
		out.Shot = p.NothingThere
	case a.Convention.Unit != "":
		out.Shot = of
	case a.Shot == nil:
		out.Shot = of
		told("n", p.NoShot)
		if a.Nearest != nil {
			told("", fmt.Sprintf(p.Nearest, a.Nearest.Text())+", "+tipText(*a.Nearest, p))
		}
	default:
		out.Shot, out.Gram, out.Tip = a.Shot.Text(), of, tipText(*a.Shot, p)
	}
	if a.Unproven() {
		told("u", p.Weigh)
	}
	if a.Choice.Metal != "" && a.Shot != nil {
		told("", fmt.Sprintf(p.SameMass, metal))
	}
	if a.LeadOut {
		told("l", p.LeadLeftOut)
	}
	if a.OtherWater {
		if text := keepText(a, p); text != "" && e.AddG > 0 {
			told("k", text)
		}
		told("w", p.ByShape)
	}
	if a.Convention.Key == e.Convention && e.Revision > 0 && a.Convention.Revision != e.Revision {
		number := func(n int) string { return unit.Number(float64(n), 1, p.Number) }
		told("", fmt.Sprintf(p.Revised, number(e.Revision), number(a.Convention.Revision)))
	}
	return out
}

func keepText(a job.Angler, p words.Page) string {
	switch s := a.Keep; {
	case a.KeepSinks:
		return p.KeepSinks
	case s >= tipStep:
		return fmt.Sprintf(p.KeepHigh, p.Millimetre(s, tipStep))
	case s <= -tipStep:
		return fmt.Sprintf(p.KeepLow, p.Millimetre(-s, tipStep))
	}
	return ""
}

func tipText(eq shot.Equivalent, p words.Page) string {
	switch s := eq.TipShift; {
	case !eq.TipKnown:
		return ""
	case s >= tipStep:
		return fmt.Sprintf(p.TipHigh, p.Millimetre(s, tipStep))
	case s <= -tipStep:
		return fmt.Sprintf(p.TipLow, p.Millimetre(-s, tipStep))
	}
	return p.AtMark
}

// partsText says where the shot goes.
func partsText(a shot.Arrangement, p words.Page) string {
	var parts []string
	put := func(phrase string, counts []shot.Count) {
		if len(counts) > 0 {
			parts = append(parts, fmt.Sprintf(phrase, shot.CountsText(counts)))
		}
	}
	side := slices.Clone(a.Locking)
	for i := range side {
		side[i].N /= 2 // half above the float, half below
	}
	put(p.EachSide, side)
	if a.Fixing == shot.Sliding {
		put(p.BulkBelow, a.Bulk)
	} else {
		put(p.Bulk, a.Bulk)
	}
	put(p.Evenly, a.Spread)
	put(p.Dropper, a.Droppers)
	return fixed(strings.Join(parts, ", "))
}

// choices fills the form.
func (out *add) choices(a job.Angler, v View, p words.Page) {
	sets, metals := job.AnglerSets(v.Own)
	for _, s := range sets {
		own := fmt.Sprintf(p.OwnMetal, p.MetalName(s.Metal.Key, s.Metal.Name))
		chosen := s.Key == a.Choice.Convention
		out.Sets = append(out.Sets, option{s.Key, p.ConventionName(s.Key, s.Name), chosen, own})
		if chosen {
			out.Metals = []option{{"", own, a.Choice.Metal == "", ""}}
		}
	}
	for _, m := range metals {
		out.Metals = append(out.Metals, option{m.Key, p.MetalName(m.Key, m.Name), m.Key == a.Choice.Metal, ""})
	}
	out.Waters = []option{{job.FreshWater, p.Fresh, a.Choice.Water == job.FreshWater, ""}, {job.SeaWater, p.Sea, a.Choice.Water == job.SeaWater, ""}}
}

// fixed lets a line of shot break after a plus, not between a count and its size.
func fixed(s string) string {
	const fixed = "\u00a0"
	for _, sign := range []string{"+", "x"} {
		s = strings.ReplaceAll(s, " "+sign+" ", fixed+sign+" ")
	}
	var b strings.Builder
	for i, r := range s {
		if r == ' ' && i > 0 && s[i-1] >= '0' && s[i-1] <= '9' {
			b.WriteString(fixed)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
