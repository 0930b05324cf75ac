package batch

import (
	"fmt"
	"strings"

	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// pattern is a pattern and where its weight sits, which belongs to the model's
// floats.
type pattern struct {
	*label.Pattern
	outside   bool
	toCome    *tank.Allowance // what coats after the test will take; nil when not said
	kindKnown bool            // false when what the file says of it was told
}

type patterns struct {
	byKey map[string]pattern
	keys  []string // in the order of the file
	list  []*label.Pattern
}

func (r *reader) patterns(root *table) patterns {
	const tab = "[[pattern]]"
	all := patterns{byKey: map[string]pattern{}}
	for _, t := range r.subs(root, "pattern", patternKeys) {
		c := r.cell(t, tab, "key", needed, false)
		p := r.pattern(t)
		p.Key = c.text
		if !c.ok() {
			continue
		}
		if _, twice := all.byKey[c.text]; twice {
			r.add(c.at, "give each pattern a key of its own", "%s: %q stands twice", in(tab, "key"), c.text)
			continue
		}
		if strings.ContainsFunc(c.text, notKey) {
			r.add(c.at, "use small letters, digits and hyphens", "%s: %q is no key", in(tab, "key"), c.text)
		}
		all.byKey[c.text] = p
		all.keys = append(all.keys, c.text)
		all.list = append(all.list, p.Pattern)
	}
	if root.get("pattern") == nil {
		r.add(root.at, "add a table [[pattern]] for each float design", "the batch has no patterns")
	}
	return all
}

// notKey reports letters that a key must not have: it becomes part of the names
// of files.
func notKey(x rune) bool {
	return (x < 'a' || x > 'z') && (x < '0' || x > '9') && x != '-' && x != '_'
}

func (r *reader) pattern(t *table) pattern {
	const tab = "[[pattern]]"
	p := &label.Pattern{Where: r.where(t.at), Name: r.text(t, tab, "name", needed), LineFixed: r.text(t, tab, "line", optional), EAN: r.ean(t, tab)}
	kind, kindKnown := r.choice(t, tab, "kind", needed, loading.Unloaded.String(), loading.Loaded.String(), loading.SelfCocking.String(), loading.Exchangeable.String())
	p.Kind = loading.Kind(kind)
	weight := optional
	if p.Kind != loading.Unloaded {
		// Inside and outside differ by the water the weight displaces: no side
		// is taken for granted.
		weight = needed
	}
	side, _ := r.choice(t, tab, "weight", weight, "inside", "outside")
	p.Body = r.colour(t, tab, "body", needed, label.Colour{})
	p.Tip = r.colour(t, tab, "tip", needed, label.Colour{})
	p.Ground = r.colour(t, tab, "ground", optional, p.Body)
	p.HandMade = r.yes(t, tab, "hand_made")
	varnish, _ := r.choice(t, tab, "varnish", optional, label.VarnishNames()...)
	p.Varnish = label.Varnish(max(0, varnish))
	profile, ok := r.profile(t, tab)
	p.Profile = profile
	top := float64(profile.Top())
	if !ok {
		top = float64(body.MaxHeight) // so that what the body would tell is told once
	}
	r.material(t, tab, p, ok)
	p.Waterline = r.onBody(t, tab, "waterline_mm", top, ok)
	p.TipFrom = r.onBody(t, tab, "tip_from_mm", top, ok)
	r.marks(t, tab, p, ok)
	return pattern{p, side == 1, r.allowance(t, tab), kindKnown}
}

// onBody reads a height that must lie on the body. known says that the body is
// there to compare with.
func (r *reader) onBody(t *table, tab, key string, top float64, known bool) unit.Millimetre {
	v, ok := r.number(t, tab, key, needed, 0, float64(body.MaxHeight), 0)
	if ok && known && !(v > 0 && v <= top) {
		r.add(t.get(key).val.at, fmt.Sprintf("give a height over the base end, up to %s", unit.Millimetre(top).Text(0.01, unit.Style{})),
			"%s: %s is off the float, which is %s long", in(tab, key), unit.Millimetre(v).Text(0.01, unit.Style{}), unit.Millimetre(top).Text(0.01, unit.Style{}))
	}
	return unit.Millimetre(v)
}

// material reads what the float is made of, to compare the tests with.
func (r *reader) material(t *table, tab string, p *label.Pattern, known bool) {
	c := r.cell(t, tab, "material", optional, false)
	if !c.ok() {
		return
	}
	list, err := loading.ParseStretches(c.text)
	if err == nil && known {
		_, err = loading.PartsOf(p.Profile, list)
	}
	if err != nil {
		r.addErr(c.at, in(tab, "material"), err)
		return
	}
	p.Material = list
}
