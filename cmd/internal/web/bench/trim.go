package bench

import (
	"net/http"
	"net/url"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func (s *server) trimPages() []route {
	return []route{s.get("trim", s.trim)}
}

// trimPage tells what to take off a weight that is built in.
type trimPage struct {
	Fields               []field
	Asked                bool
	State                string // take, stop, past; "" before it is asked
	Sinks                bool
	Now, Want, Take, Off string // Off is a length of the rod; "" where that is not known
	Leaves, Expect, More string
	Metal                string // of the shot
}

func trimFields(m words.Measures) []field {
	metal := func(of string) (all []option) {
		for _, one := range water.Metals() {
			all = append(all, option{one.Key, one.Name, one.Key == of})
		}
		return all
	}
	return []field{
		{Path: "weight", Label: "The weight as it is now", Required: true, Hint: "As in 7.2 g."},
		{Path: "of", Label: "Metal of the weight", Options: metal("brass")},
		{Path: "side", Label: "Where it sits", Options: []option{{"inside", "inside the hull", false}, {"outside", "outside, in the water", false}}},
		{Path: "takes", Label: "What hung when the tip stood at its mark", Required: true, Hint: "With the weight fitted, all of it weighed together."},
		{Path: "want", Label: "What it is to take", Required: true, Hint: "0 g for a float that cocks by itself."},
		{Path: "metal", Label: "Metal of the shot that is hung", Options: metal("tin")},
		{Path: "rod", Label: "Diameter of the rod it is cut from, %s", Unit: m.LengthSign(), Mode: lengthKeys(m), Hint: "Tells the length to cut too. May stay empty."},
		{Path: "tip", Label: "The tip when it is read", Options: []option{{"", "not known", false}, {"dry", "dry", false}, {"wet", "wet", false}, {"washed", "wet, with a drop of washing-up liquid", false}}},
		{Path: "wide", Label: "Tip's diameter at the waterline, %s", Unit: m.LengthSign(), Mode: lengthKeys(m)},
	}
}

func (s *server) trim(w http.ResponseWriter, r *http.Request) error {
	q, m := r.URL.Query(), s.measures(r)
	p := trimPage{Fields: trimFields(m), Asked: q.Has("weight")}
	for i := range p.Fields {
		one := &p.Fields[i]
		one.Value = q.Get(one.Path)
		if len(one.Options) > 0 && q.Has(one.Path) {
			one.Options = chosen(one.Options, one.Value)
		}
	}
	f, status := frame{Title: "Trim a weight"}, http.StatusOK
	if p.Asked {
		t, err := trimmed(m, q)
		if err != nil {
			f.Findings, status = oneFaults(findings(err)), http.StatusUnprocessableEntity
		} else {
			p.told(m, t, q.Get("metal"))
		}
	}
	f.Body = p
	s.send(w, r, status, "trim", f)
	return nil
}

// trimmed asks what a form asks.
func trimmed(m words.Measures, q url.Values) (job.TrimAnswer, error) {
	get := func(name string) string { return strings.TrimSpace(q.Get(name)) }
	ask := job.TrimQuestion{Weight: get("weight"), Material: get("of"), Side: get("side"), Takes: get("takes"), Want: get("want"), Metal: get("metal"), Tip: get("tip"), TempC: usualTemp}
	if ask.Takes == "" || ask.Want == "" || ask.Weight == "" {
		return job.TrimAnswer{}, fault.Inputf("give the weight, what hung, and what the float is to take", "one of the three figures is missing")
	}
	for name, to := range map[string]*string{"rod": &ask.Rod, "wide": &ask.TipWide} {
		if get(name) == "" {
			continue
		}
		v, err := m.ReadLength(get(name))
		if err != nil {
			return job.TrimAnswer{}, err
		}
		*to = v.Text(0.001, unit.Style{})
	}
	return job.Trim(ask)
}

func (p *trimPage) told(m words.Measures, t job.TrimAnswer, metal string) {
	const step = 0.01 // g, as pocket scales show it
	p.State, p.Sinks = t.State, t.Sinks
	p.Now, p.Want, p.Take, p.Leaves = m.Load(t.Now, step), m.Load(t.Want, step), m.Load(t.Take, step), m.Load(t.Leaves, step)
	p.Expect, p.More = m.Load(t.Expect, step), m.Load(t.More, step)
	if t.Length > 0 {
		p.Off = m.Length(t.Length, 0.1)
	}
	for _, one := range water.Metals() {
		if one.Key == metal {
			p.Metal = one.Name
		}
	}
}
