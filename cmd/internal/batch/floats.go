package batch

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// row is one float before it is understood, from TOML or from CSV.
type row struct {
	at                                                     place
	number, pattern, rating, builtIn, metal, reading, bare cell
	note, dedication                                       cell
	setups                                                 []setupRow
	measures                                               []measure
	measuresBad                                            bool // told already
}

// rows reads the floats of the file and of the CSV file it names.
func (r *reader) rows(root *table, open func(string) ([]byte, error)) (all []row, csv []byte) {
	const tab = "[[float]]"
	for _, t := range r.subs(root, "float", append(slices.Clone(floatKeys), keyDiameters, keyGirths, "setup")) {
		number := cell{}
		if e := t.get("number"); e == nil {
			r.missing(t, tab, "number")
			number = cell{at: t.at, bad: true}
		} else {
			number = cell{text: e.val.text, at: e.val.at, set: true}
		}
		measures, good := r.measures(t, tab)
		all = append(all, row{at: t.at, measures: measures, measuresBad: !good, number: number,
			pattern: r.cell(t, tab, "pattern", needed, false), rating: r.cell(t, tab, "rating", needed, true),
			builtIn: r.cell(t, tab, "built_in", optional, true), metal: r.cell(t, tab, "metal", optional, false),
			reading: r.cell(t, tab, "reading", optional, true), bare: r.cell(t, tab, "bare", optional, true),
			note: r.cell(t, tab, "note", optional, false), dedication: r.cell(t, tab, "dedication", optional, false), setups: r.setupRows(t)})
	}
	if c := r.cell(root, "", "floats", optional, false); c.ok() {
		src, err := beside(c.text, open)
		if err != nil {
			r.add(c.at, "name a CSV file that lies beside the batch file", "floats: %q cannot be read", c.text)
		} else {
			csv = src
			r.csvPath = filepath.Join(filepath.Dir(r.path), c.text)
			told := len(r.findings)
			r.csvMeasured = true
			all = append(all, r.csvRows(src)...)
			if len(all) == 0 && len(r.findings) == told {
				r.add(csvPlace(1), "add a line for each float", "the file has no floats")
			}
		}
	}
	list, file := root.get("float"), root.get("floats")
	switch {
	case list != nil && file != nil:
		r.add(file.at, "keep the one or the other", "the batch has both floats = %q and [[float]]", file.val.text)
	case list == nil && file == nil:
		r.add(root.at, `add a [[float]] for each float, or floats = "floats.csv"`, "the batch has no floats")
	}
	if len(all) > maxFloats {
		r.add(all[maxFloats].at, "split the batch", "the batch has more than %d floats", maxFloats)
		all = nil
	}
	return all, csv
}

var errNowhere = errors.New("there is no such place to read from")

// beside reads a file that must lie beside the batch file or below: a batch
// file from elsewhere is not to reach into the rest of the disc.
func beside(name string, open func(string) ([]byte, error)) ([]byte, error) {
	if open == nil || !filepath.IsLocal(name) {
		return nil, errNowhere
	}
	return open(name)
}

// floats understands the rows, in the order of their numbers: the place on the
// drying board.
func (r *reader) floats(rows []row, b *label.Batch, p patterns, how tested) []label.Float {
	seen := map[int]place{}
	var all []label.Float
	for _, w := range rows {
		f := label.Float{Where: r.where(w.at), Note: w.note.text, Dedication: w.dedication.text}
		if n, ok := r.floatNumber(w.number); ok {
			if first, twice := seen[n]; twice {
				r.add(w.number.at, "give each float its own place on the drying board", "float %d stands twice, first at %s", n, r.where(first))
			}
			seen[n], f.Number = w.number.at, n
		}
		pat, ok := p.byKey[w.pattern.text]
		if w.pattern.ok() && !ok {
			r.add(w.pattern.at, instead(w.pattern.text, p.keys), "there is no pattern %q", w.pattern.text)
		}
		f.Pattern = pat.Pattern
		f.Nominal = r.nominal(w.rating, b)
		f.Weight = r.weight(w, pat.outside)
		if ok {
			r.weightOfKind(w, pat)
			pat = r.ownShape(w, &f, pat)
			if pat.Kind != loading.Exchangeable {
				f.Reading = r.reading(w.reading, "reading", pat, how, tank.Fitted)
				f.Bare = r.reading(w.bare, "bare", pat, how, tank.Bare)
			}
			r.setups(w, &f, b, pat, how)
		}
		all = append(all, f)
	}
	slices.SortStableFunc(all, func(a, b label.Float) int { return a.Number - b.Number })
	return all
}

func (r *reader) floatNumber(c cell) (int, bool) {
	if !c.ok() {
		return 0, false
	}
	n, err := strconv.Atoi(c.text)
	if err != nil || n < 1 || n > 99999 {
		r.add(c.at, "give its place on the drying board, from 1 up", "%q is no float's number", c.text)
		return 0, false
	}
	return n, true
}

// nominal reads a float's rating, which the batch must name.
func (r *reader) nominal(c cell, b *label.Batch) unit.Gram {
	m, ok := r.mass(c, "rating", false)
	if !ok {
		return 0
	}
	if one, ok := rated(b.Ratings, m); ok {
		return one.Nominal
	}
	if len(b.Ratings) == 0 {
		return 0 // that is told already
	}
	var names []string
	for _, one := range b.Ratings {
		names = append(names, one.Nominal.Text(0.001, unit.Style{}))
	}
	do := "use one of the batch's ratings (" + strings.Join(names, ", ") + `) or add a [[rating]] with load = "` + m.Text(0.001, unit.Style{}) + `"`
	r.add(c.at, do, "the batch has no rating %s", m.Text(0.001, unit.Style{}))
	return 0
}

func (r *reader) weight(w row, outside bool) *loading.Weight {
	m, ok := r.mass(w.builtIn, "built_in", false)
	if !ok {
		if w.metal.ok() && !w.builtIn.set {
			r.add(w.metal.at, `add built_in = "7.2 g"`, "a built-in metal without a mass")
		}
		return nil
	}
	if !w.metal.set {
		r.add(w.builtIn.at, `add metal = "brass"`, "a built-in weight without its metal")
		return nil
	}
	if !w.metal.ok() {
		return nil
	}
	metal, ok := r.metal(w.metal, "metal")
	if !ok {
		return nil
	}
	return &loading.Weight{Mass: m, Metal: metal, Outside: outside}
}

// weightOfKind tells a float that has a weight where its pattern has none, or
// none where it has.
func (r *reader) weightOfKind(w row, p pattern) {
	switch {
	case !p.kindKnown || p.Kind == loading.Exchangeable:
	case p.Kind == loading.Unloaded && w.builtIn.ok():
		r.add(w.builtIn.at, fmt.Sprintf("remove built_in, or write kind = \"loaded\" in the pattern %q", p.Key), "the pattern %q is unloaded, and this float has a weight built in", p.Key)
	case p.Kind != loading.Unloaded && !w.builtIn.set:
		r.add(w.at, `add built_in = "7.2 g", as weighed, and its metal`, "the pattern %q is %s, and this float has no weight built in", p.Key, p.Kind)
	}
}

// reading reads what was hung: a mass of the tank's metal, or counted shot of
// the batch's convention ("3AAA+2No4").
func (r *reader) reading(c cell, key string, p pattern, how tested, stage tank.Stage) *tank.Reading {
	if !c.ok() {
		return nil
	}
	if how.metal.Key == "" {
		if !how.told {
			r.add(how.at, "add a table [tank] with "+examples["[tank] metal"], "[tank] metal is missing")
		}
		return nil
	}
	d := tank.Reading{Metal: how.metal, Water: how.water, Stage: stage, Tip: how.tip, ReadTo: how.to, ScaleStep: how.scale,
		TipDiameter: p.TipDiameter(), With: how.with, ToCome: p.toCome}
	if p.Kind == loading.Unloaded {
		d.Stage = tank.Bare
	}
	if _, err := unit.ParseGram(c.text); err == nil {
		m, ok := r.mass(c, key, stage == tank.Fitted) // a finished float may take nothing, a bare hull does not
		if !ok {
			return nil
		}
		d.Hung = m
		return &d
	}
	counts, err := countedShot(c.text, how.shot)
	if err != nil {
		r.addErr(c.at, key, err)
		return nil
	}
	if how.metal.Key != how.shot.Metal.Key {
		r.add(c.at, "weigh the shot together and write its grams", "%s: %q is shot of %s, and [tank] metal is %s", key, c.text, how.shot.Metal.Name, how.metal.Name)
		return nil
	}
	d.Counted = counts
	return &d
}
