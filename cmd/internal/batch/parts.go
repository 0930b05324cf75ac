package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// maxParts keeps a shape to what anybody turns on a lathe, with room to spare.
const maxParts = 40

// partForm is one parametric part of a float and how its diameters are written.
type partForm struct {
	name    string
	one     bool // one diameter will do
	two     bool // two, at the lower and the upper end, will do
	ends    bool // may be cut off at both ends
	example string
	make    func(from, to, ends, long unit.Millimetre) []body.Station
}

// partForms are the parts in the order messages name them. Two diameters stand
// in the order of the float, lower end first, so an ogive or a drop that widens
// towards the tip is one upside down.
var partForms = [...]partForm{
	{"cone", false, true, false, "{cone = [4, 16], long = 30}", func(from, to, _, long unit.Millimetre) []body.Station { return body.Cone(from, to, long) }},
	{"parallel", true, false, false, "{parallel = 16, long = 20}", func(d, _, _, long unit.Millimetre) []body.Station { return body.Parallel(d, long) }},
	{"stem", true, true, false, "{stem = 3, long = 60}", func(from, to, _, long unit.Millimetre) []body.Station { return body.Stem(from, to, long) }},
	{"ogive", false, true, false, "{ogive = [16, 3], long = 40}", func(from, to, _, long unit.Millimetre) []body.Station {
		if from < to {
			return body.Flip(body.Ogive(to, from, long))
		}
		return body.Ogive(from, to, long)
	}},
	{"olive", true, false, true, "{olive = 14, ends = 2.4, long = 35}", func(d, _, ends, long unit.Millimetre) []body.Station { return body.Olive(d, ends, long) }},
	{"drop", false, true, false, "{drop = [14, 2], long = 40}", func(from, to, _, long unit.Millimetre) []body.Station {
		if from < to {
			return body.Flip(body.Drop(to, from, long))
		}
		return body.Drop(from, to, long)
	}},
}

func partNames() (all []string) {
	for _, f := range partForms {
		all = append(all, f.name)
	}
	return all
}

// bodyPart is one part as the file gives it.
type bodyPart struct {
	form           partForm
	at             place // of its name
	from, to, ends unit.Millimetre
	stations       []body.Station
}

// shape reads the parts of a float from its base end up.
func (r *reader) shape(n *node, key string) (body.Profile, bool) {
	const do = "write its parts from the base end up, as in [{stem = 2.4, long = 30}, {olive = 14, ends = 2.4, long = 35}, {stem = 3, long = 60}]"
	if n.kind != unstable.Array || len(n.list) == 0 || len(n.list) > maxParts {
		r.add(n.at, do, "%s is no list of parts", key)
		return body.Profile{}, false
	}
	var parts []bodyPart
	good := true
	for i, one := range n.list {
		if one.kind != unstable.InlineTable {
			r.add(one.at, do, "%s part %d is no part", key, i+1)
			good = false
			continue
		}
		p, ok := r.bodyPart(one, fmt.Sprintf("%s part %s", key, strconv.Itoa(i+1)))
		parts, good = append(parts, p), good && ok
	}
	if !good {
		return body.Profile{}, false
	}
	var all [][]body.Station
	for i, p := range parts {
		all = append(all, p.stations)
		lower, upper := p.stations[0].D, p.stations[len(p.stations)-1].D
		name := fmt.Sprintf("%s part %s", key, strconv.Itoa(i+1))
		do := "give it a diameter there"
		switch {
		case p.form.ends:
			do = "say where it is cut off, as in ends = 2.4"
		case p.form.name == "drop":
			do = "on a stem write it as two ogives, as in {ogive = [2.4, 14], long = 8}, {ogive = [14, 2], long = 30}"
		}
		if i > 0 && lower == 0 || i < len(parts)-1 && upper == 0 {
			r.add(p.at, do, "%s: the %s runs out to nothing inside the float", name, p.form.name)
			return body.Profile{}, false
		}
	}
	return r.made(body.Join(all...), n.at, key)
}

// bodyPart reads {olive = 14, ends = 2.4, long = 35}.
func (r *reader) bodyPart(n *node, name string) (bodyPart, bool) {
	p := bodyPart{at: n.at}
	var diameters, ends, long *node
	told := len(r.findings)
	for i, e := range n.tab.keys {
		f := slices.IndexFunc(partForms[:], func(f partForm) bool { return f.name == e.name })
		switch {
		case f >= 0 && diameters != nil:
			r.add(e.at, "put each part in braces of its own", "%s is both %s and %s", name, p.form.name, e.name)
		case f >= 0:
			p.form, p.at, diameters = partForms[f], e.at, e.val
		case e.name == "long":
			long = e.val
		case e.name == "ends":
			ends = e.val
		default:
			known := append([]string{"long", "ends"}, partNames()...)
			if i == 0 {
				known = append(partNames(), "long", "ends")
			}
			do := instead(e.name, known)
			if strings.HasPrefix(e.name, "len") {
				do = "write \"long\""
			}
			r.add(e.at, do, "%s: unknown key %s", name, e.name)
		}
	}
	switch {
	case len(r.findings) > told:
		return p, false
	case diameters == nil:
		r.add(n.at, "say what it is: "+strings.Join(partNames(), ", "), "%s has no shape", name)
		return p, false
	case long == nil:
		r.add(p.at, "add its length along the axis, as in "+p.form.example, "%s: long is missing", name)
		return p, false
	case ends != nil && !p.form.ends:
		r.add(ends.at, "remove ends; it is of an olive", "%s: no %s is cut off at its ends", name, p.form.name)
		return p, false
	}
	ok := r.partDiameters(diameters, name, &p)
	if ok && ends != nil {
		d, ok1 := r.length(ends, name+" ends", 0, float64(p.from))
		if ok1 && d >= p.from {
			r.add(ends.at, "give the diameter where it is cut off, or write parallel", "%s: the ends are as wide as the %s", name, p.form.name)
			ok1 = false
		}
		p.ends, ok = d, ok1
	}
	l, ok1 := r.length(long, name+" long", float64(body.MinStep), float64(body.MaxHeight))
	if !ok || !ok1 {
		return p, false
	}
	p.stations = p.form.make(p.from, p.to, p.ends, l)
	return p, r.partHolds(p, l, name)
}

// partDiameters reads one diameter, or that of the lower and of the upper end.
func (r *reader) partDiameters(n *node, name string, p *bodyPart) bool {
	what := name + " " + p.form.name
	switch {
	case n.kind == unstable.Array && len(n.list) == 2 && p.form.two:
		from, ok1 := r.length(n.list[0], what, 0, float64(body.MaxDiameter))
		to, ok2 := r.length(n.list[1], what, 0, float64(body.MaxDiameter))
		if ok1 && ok2 && from == 0 && to == 0 {
			r.add(n.at, "give the diameters of its ends, as in "+p.form.example, "%s: both diameters are 0", what)
			return false
		}
		p.from, p.to = from, to
		return ok1 && ok2
	case n.kind != unstable.Array && p.form.one:
		d, ok := r.length(n, what, 0, float64(body.MaxDiameter))
		if ok && d == 0 {
			r.add(n.at, "give its diameter, as in "+p.form.example, "%s: the diameter is 0", what)
			return false
		}
		p.from, p.to = d, d
		return ok
	}
	does := "takes the diameters of its lower and its upper end"
	if p.form.one {
		does = "takes one diameter"
		if p.form.two {
			does += ", or those of its lower and its upper end"
		}
	}
	r.add(n.at, "write it as in "+p.form.example, "%s: it %s", what, does)
	return false
}

// partHolds tells measures that make another shape than the one that was named.
func (r *reader) partHolds(p bodyPart, long unit.Millimetre, name string) bool {
	text := func(m unit.Millimetre) string { return m.Text(0.01, unit.Style{}) }
	switch wide := max(p.from, p.to); {
	case (p.form.name == "ogive" || p.form.name == "drop") && p.from == p.to:
		r.add(p.at, "give two diameters that differ, or write parallel", "%s: one diameter makes no %s", name, p.form.name)
		return false
	case p.form.name == "drop" && !slices.ContainsFunc(p.stations, func(s body.Station) bool { return s.Kind == body.Straight && s.D > 0 }):
		r.add(p.at, "make it longer, or write olive", "%s: %s are too short for a drop %s wide", name, text(long), text(wide))
		return false
	}
	return true
}

// length reads a number of mm from lo to hi.
func (r *reader) length(n *node, name string, lo, hi float64) (unit.Millimetre, bool) {
	v, ok := r.plain(n, name)
	if ok && !(v >= lo && v <= hi) {
		r.add(n.at, fmt.Sprintf("give a number from %v to %v mm", lo, hi), "%s = %s is out of range", name, n.text)
		return 0, false
	}
	return unit.Millimetre(v), ok
}
