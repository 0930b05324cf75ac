package batch

import (
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// The keys of what was measured on one float over its last colour coat.
const (
	keyDiameters = "diameters_mm" // heights and diameters
	keyGirths    = "girths_mm"    // heights and lengths of a paper strip once round
)

const (
	// maxMeasures keeps a float to what anybody measures on it.
	maxMeasures = 50
	// mostStrip is the thickest strip, mm: card. Estimate.
	mostStrip = 0.5
)

// measure is one diameter of a float, or a girth that stands for one.
type measure struct {
	body.Measured
	at      place
	key     string // as messages name it
	byGirth bool
	girth   unit.Millimetre // 0 where the diameter itself was measured
	of      unit.System     // of a CSV column: in which its cells are that name no unit
}

// measures reads what was measured on a float; false when some of it was told.
func (r *reader) measures(t *table, tab string) ([]measure, bool) {
	var all []measure
	good := true
	for _, key := range []string{keyDiameters, keyGirths} {
		e := t.get(key)
		if e == nil {
			continue
		}
		do := "write each as [height, diameter], as in diameters_mm = [[28, 16.1], [54, 13.5]]"
		if key == keyGirths {
			do = "write each as [height, girth], as in girths_mm = [[28, 50.7]]"
		}
		if e.val.kind != unstable.Array || len(e.val.list) == 0 || len(e.val.list) > maxMeasures {
			r.add(e.val.at, do, "%s is no list of measures", in(tab, key))
			good = false
			continue
		}
		for _, n := range e.val.list {
			m, ok := r.measure(n, key, in(tab, key), do)
			all, good = append(all, m), good && ok
		}
	}
	return all, good
}

func (r *reader) measure(n *node, key, name, do string) (measure, bool) {
	m := measure{at: n.at, key: name}
	if n.kind != unstable.Array || len(n.list) != 2 {
		r.add(n.at, do, "%s: a measure is a height and what was measured there", name)
		return m, false
	}
	z, ok1 := r.plain(n.list[0], name)
	v, ok2 := r.plain(n.list[1], name)
	if !ok1 || !ok2 {
		return m, false
	}
	m.Z, m.byGirth = unit.Millimetre(z), key == keyGirths
	return m, r.taken(&m, unit.Millimetre(v), n.list[1].at)
}

// taken fills in the value that was read off the calliper or the strip.
func (r *reader) taken(m *measure, v unit.Millimetre, at place) bool {
	m.D = v
	if m.byGirth {
		m.girth, m.D = v, body.DiameterOfGirth(v, r.strip)
		if !(m.D > 0) {
			r.add(at, "give the length of the strip once round, in mm", "%s: a girth of %s is none", m.key, v.Text(0.01, unit.Style{}))
			return false
		}
	}
	return true
}

// measureColumn reads the name of a CSV column of diameters or girths, "diameter
// at 28 mm", "girth at 28" or "diameter at 1 1/8 in", whose cells are inches too;
// false for other names, and where floats have no bodies.
func (r *reader) measureColumn(words []string) (measure, bool) {
	words = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "mm" })
	if !r.csvMeasured || len(words) < 3 || words[0] != "diameter" && words[0] != "girth" || words[1] != "at" {
		return measure{}, false
	}
	text := strings.Join(words[2:], " ")
	z, err := unit.ParseLength(text, unit.Metric)
	of := unit.Metric
	if strings.HasSuffix(text, "in") || strings.HasSuffix(text, "inch") {
		of = unit.Imperial
	}
	return measure{Measured: body.Measured{Z: z}, key: strings.Join(words, " "), byGirth: words[0] == "girth", of: of}, err == nil
}

// csvMeasures reads a line's measures; an empty cell is none. It reports whether
// some of it was told.
func (r *reader) csvMeasures(columns []column, fields []string, at place) (all []measure, bad bool) {
	for i, f := range fields {
		text := strings.TrimSpace(f)
		if columns[i].measure == nil || text == "" {
			continue
		}
		m := *columns[i].measure
		m.at = at
		v, err := unit.ParseLength(text, m.of)
		ok := err == nil
		if !ok {
			do := "write a plain number of mm, as in 16.1"
			if m.of == unit.Imperial {
				do = "write a number of inches, as in 0.634 or 41/64"
			}
			r.add(at, do, "%s: %q is not a number", m.key, text)
		}
		if ok = ok && r.taken(&m, v, at); ok {
			all = append(all, m)
		}
		bad = bad || !ok
	}
	return all, bad
}

// ownShape gives a float the shape that was measured on it, and returns the
// pattern as this float has it.
func (r *reader) ownShape(w row, f *label.Float, p pattern) pattern {
	if len(w.measures) == 0 || w.measuresBad || len(p.Profile.Stations()) == 0 {
		return p
	}
	var all []body.Measured
	atTip := false
	for _, m := range w.measures {
		all = append(all, m.Measured)
		atTip = atTip || m.Z >= min(p.Waterline, p.TipFrom)
	}
	profile, err := p.Profile.Remeasured(all)
	if err != nil {
		r.addMeasureErr(w, err)
		return p
	}
	f.Profile, f.Measured = profile, true
	if atTip { // a tip that was not measured is the pattern's: antennas are not sanded with the body
		own := *p.Pattern
		own.Profile = profile
		p.Pattern = &own
	}
	return p
}

// addMeasureErr tells what is wrong with a measure at its place.
func (r *reader) addMeasureErr(w row, err error) {
	for _, e := range fault.List(err) {
		at, name, what := w.at, "", e.What
		if n, err := strconv.Atoi(strings.TrimPrefix(e.Where, "measure ")); err == nil && n >= 1 && n <= len(w.measures) {
			m := w.measures[n-1]
			at, name = m.at, m.key+": "
			if m.byGirth {
				what += ", by a girth of " + m.girth.Text(0.01, unit.Style{})
			}
		} else if e.Where != "" {
			name = e.Where + ": "
		}
		r.add(at, e.Do, "%s", name+what)
	}
}
