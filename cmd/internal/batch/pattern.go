package batch

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

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

// maxStations keeps a body to what anybody measures, with room to spare.
const maxStations = 500

// white is the ground of a mark when the pattern names none.
var white = label.Colour{R: 0xff, G: 0xff, B: 0xff}

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
	p := &label.Pattern{Where: r.where(t.at), Name: r.text(t, tab, "name", needed), LineFixed: r.text(t, tab, "line", optional)}
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
	p.Ground = r.colour(t, tab, "ground", optional, white)
	style, _ := r.choice(t, tab, "mark", optional, "least", "full")
	turn, _ := r.choice(t, tab, "turn", optional, "auto", "round", "lengthwise")
	p.Style, p.Turn = label.Style(style), label.Turn(turn)
	profile, ok := r.profile(t, tab)
	p.Profile = profile
	top := float64(profile.Top())
	if !ok {
		top = float64(body.MaxHeight) // so that what the body would tell is told once
	}
	r.material(t, tab, p, ok)
	p.Waterline = r.onBody(t, tab, "waterline_mm", top, ok)
	p.TipFrom = r.onBody(t, tab, "tip_from_mm", top, ok)
	r.zone(t, tab, p, ok)
	return pattern{p, side == 1, r.allowance(t, tab), kindKnown}
}

// profile reads the stations; false when there is no body.
func (r *reader) profile(t *table, tab string) (body.Profile, bool) {
	const key, do = "stations_mm", `write each as [height, diameter], as in [[0, 3.4], [30, 16], [54, 13.4]], or as [height, diameter, "curved"]`
	e := t.get(key)
	if e == nil {
		r.missing(t, tab, key)
		return body.Profile{}, false
	}
	if e.val.kind != unstable.Array || len(e.val.list) > maxStations {
		r.add(e.val.at, do, "%s is no list of stations", in(tab, key))
		return body.Profile{}, false
	}
	var all []body.Station
	good := true
	for i, n := range e.val.list {
		s, ok := r.station(n, fmt.Sprintf("%s station %d", in(tab, key), i+1), do)
		all, good = append(all, s), good && ok
	}
	if !good {
		return body.Profile{}, false
	}
	p, err := body.New(all)
	if err == nil {
		if p.Base() != 0 {
			r.add(e.val.list[0].at, "begin with the diameter at height 0, the base end", "%s: the first station is at %s", in(tab, key), p.Base().Text(0.01, unit.Style{}))
			return body.Profile{}, false
		}
		return p, true
	}
	at := e.val.at
	// The row is the first one with which the stations are no body any more.
	for n := 2; n <= len(all); n++ {
		if _, short := body.New(all[:n]); short != nil && short.Error() == err.Error() {
			at = e.val.list[n-1].at
			if n == 2 && strings.HasPrefix(err.Error(), "station 1:") {
				at = e.val.list[0].at
			}
			break
		}
	}
	r.addErr(at, in(tab, key), err)
	return body.Profile{}, false
}

// station reads [height, diameter] with the kind of the run above and "corner".
func (r *reader) station(n *node, name, do string) (s body.Station, ok bool) {
	if n.kind != unstable.Array || len(n.list) < 2 || len(n.list) > 4 {
		r.add(n.at, do, "%s is not a height and a diameter", name)
		return s, false
	}
	z, ok1 := r.plain(n.list[0], name)
	d, ok2 := r.plain(n.list[1], name)
	s = body.Station{Z: unit.Millimetre(z), D: unit.Millimetre(d)}
	ok = ok1 && ok2
	for i, w := range n.list[2:] {
		switch {
		case w.kind == unstable.String && w.text == "corner":
			s.Corner = true
		case w.kind == unstable.String && i == 0 && w.text == body.Straight.String():
			s.Kind = body.Straight
		case w.kind == unstable.String && i == 0 && w.text == body.Curved.String():
			s.Kind = body.Curved
		case w.kind == unstable.String && i == 0 && w.text == body.Round.String():
			s.Kind = body.Round
		default:
			r.add(w.at, instead(w.text, []string{body.Straight.String(), body.Curved.String(), body.Round.String(), "corner"}), "%s: %q is none of the words for it", name, w.text)
			ok = false
		}
	}
	return s, ok
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

// zone reads where the mark goes.
func (r *reader) zone(t *table, tab string, p *label.Pattern, known bool) {
	from, ok1 := r.number(t, tab, "mark_from_mm", needed, 0, float64(body.MaxHeight), 0)
	height, ok2 := r.number(t, tab, "mark_height_mm", needed, 0.1, float64(body.MaxHeight), 0)
	p.MarkFrom, p.MarkHeight = unit.Millimetre(from), unit.Millimetre(height)
	if !ok1 || !ok2 || !known {
		return
	}
	text := func(m unit.Millimetre) string { return m.Text(0.01, unit.Style{}) }
	top := p.Profile.Top()
	switch {
	case p.MarkFrom >= top:
		r.add(t.get("mark_from_mm").val.at, "give the height of the mark's lower edge over the base end", "%s: %s is off the float, which is %s long",
			in(tab, "mark_from_mm"), text(p.MarkFrom), text(top))
	case p.MarkFrom+p.MarkHeight > top:
		r.add(t.get("mark_height_mm").val.at, "give at most "+text(top-p.MarkFrom)+", or begin lower", "%s: the mark ends at %s, and the float at %s",
			in(tab, "mark_height_mm"), text(p.MarkFrom+p.MarkHeight), text(top))
	}
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
