package batch

import (
	"fmt"

	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/tank"
)

// setupKeys are the keys of a [[float.setup]].
var setupKeys = []string{"name", "rating", "built_in", "metal", "reading", "bare"}

// setupRow is one set-up of an exchangeable float before it is understood. Its
// row's number and pattern are those of the float.
type setupRow struct {
	row
	name cell
}

// setupRows reads the set-ups of one float.
func (r *reader) setupRows(t *table) []setupRow {
	const tab = "[[setup]]"
	var all []setupRow
	for _, s := range r.subs(t, "setup", setupKeys) {
		all = append(all, setupRow{name: r.cell(s, tab, "name", needed, false), row: row{at: s.at,
			rating: r.cell(s, tab, "rating", optional, true), builtIn: r.cell(s, tab, "built_in", optional, true),
			metal: r.cell(s, tab, "metal", optional, false), reading: r.cell(s, tab, "reading", needed, true),
			bare: r.cell(s, tab, "bare", optional, true)}})
	}
	return all
}

// setups understands them: the first is the one the body bears, so its figures
// become the float's own.
func (r *reader) setups(w row, f *label.Float, b *label.Batch, p pattern, how tested) {
	switch {
	case !p.kindKnown:
		return
	case p.Kind != loading.Exchangeable && len(w.setups) > 0:
		r.add(w.setups[0].at, fmt.Sprintf("remove it, or write kind = \"exchangeable\" in the pattern %q", p.Key),
			"the pattern %q is %s, and this float has set-ups", p.Key, p.Kind)
		return
	case p.Kind != loading.Exchangeable:
		return
	case w.builtIn.set || w.reading.set || w.bare.set:
		r.add(w.at, "write them in the [[float.setup]] they belong to", "an exchangeable float has figures of its own beside its set-ups")
		return
	case len(w.setups) < 2:
		r.add(w.at, "add a [[float.setup]] with name, built_in, metal and reading for each way it is fitted", "an exchangeable float needs two set-ups or more")
		return
	}
	seen := map[string]bool{}
	for _, s := range w.setups {
		if seen[s.name.text] {
			r.add(s.name.at, "give each set-up a name of its own", "the set-up %q stands twice", s.name.text)
		}
		seen[s.name.text] = true
		one := label.Setup{Name: s.name.text, Nominal: f.Nominal, Weight: r.weight(s.row, p.outside)}
		if s.rating.set {
			one.Nominal = r.nominal(s.rating, b)
		}
		// Without a weight the set-up is an unloaded float, read as it stands.
		fitted := p
		if one.Weight == nil {
			fitted.Pattern = unloaded(p.Pattern)
		}
		one.Reading = r.reading(s.reading, "reading", fitted, how, tank.Fitted)
		one.Bare = r.reading(s.bare, "bare", p, how, tank.Bare)
		f.Setups = append(f.Setups, one)
	}
	first := f.Setups[0]
	f.Nominal, f.Weight, f.Reading, f.Bare = first.Nominal, first.Weight, first.Reading, first.Bare
}

func unloaded(p *label.Pattern) *label.Pattern {
	u := *p
	u.Kind = loading.Unloaded
	return &u
}
