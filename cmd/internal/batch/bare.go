package batch

import (
	"path/filepath"
	"strings"

	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// bareNeeds are the columns a CSV file must have that stands by itself.
var bareNeeds = []string{"number", "rating"}

// ParseCSV reads a batch that is nothing but a CSV file: numbers, ratings,
// built-in weights and readings. It has no bodies, so figures can be worked out
// from it and nothing can be laid out. Its name is the file's. Readings are
// taken as lead weighed together in fresh water of 15 °C, built-in weights as
// inside the hull: what else holds, a batch file says.
func ParseCSV(path string, src []byte, w *Workshop) (*label.Batch, error) {
	r, err := newReader(path)
	if err != nil {
		return nil, err
	}
	r.csvPath, r.csvNeeds = path, bareNeeds
	key := shot.Conventions()[0].Key
	b := &label.Batch{Water: water.Usual()}
	b.Name = strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	if w != nil {
		b.Maker = w.Maker
		if w.Convention != "" {
			key = w.Convention
		}
	}
	b.Convention, _ = shot.ByKey(key)
	b.Cards = []shot.Convention{b.Convention}
	lead, _ := water.MetalByKey("lead")
	how := tested{metal: lead, told: true, at: csvPlace(1), water: b.Water, shot: b.Convention}
	rows := r.csvRows(src)
	p := patterns{byKey: map[string]pattern{}}
	for i := range rows {
		c := &rows[i]
		if m, err := unit.ParseGram(c.rating.text); err == nil {
			if _, twice := rated(b.Ratings, m); !twice {
				b.Ratings = append(b.Ratings, label.Rating{Nominal: m, Band: bandless})
			}
		}
		c.pattern = p.named(c.pattern.text, c.builtIn.set)
	}
	b.Patterns = p.list
	if len(rows) == 0 && len(r.findings) == 0 {
		r.add(csvPlace(1), "add a line for each float", "the file has no floats")
	}
	if len(rows) > maxFloats {
		r.add(rows[maxFloats].at, "split the batch", "the batch has more than %d floats", maxFloats)
		rows = nil
	}
	b.Ring = label.RingFor(nominals(b.Ratings))
	b.Floats = r.floats(rows, b, p, how)
	if err := r.err(); err != nil {
		return nil, err
	}
	return b, nil
}

// named returns the cell of a pattern without a body, made at first mention:
// floats of one name with and without a weight are two.
func (p *patterns) named(name string, loaded bool) cell {
	if name == "" {
		name = "float"
	}
	kind := loading.Unloaded
	if loaded {
		kind = loading.Loaded
	}
	key := name + ", " + kind.String()
	if _, ok := p.byKey[key]; !ok {
		one := &label.Pattern{Key: key, Name: name, Kind: kind}
		p.byKey[key] = pattern{one, false, nil, true}
		p.keys = append(p.keys, key)
		p.list = append(p.list, one)
	}
	return cell{text: key, set: true}
}
