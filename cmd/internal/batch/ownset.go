package batch

import (
	"strings"

	"floatmark/loading/shot"
	"floatmark/loading/water"
)

// setKeys are the keys of a maker's own set of shot.
var setKeys = []string{"key", "name", "revision", "metal", "date", "sizes", "weighed"}

// mostRevisions is the highest revision a set can be of.
const mostRevisions = 9999

// ParseOwnSet reads a file with one own set of shot, as strictly as a batch
// file:
//
//	format = 1
//	key = "bench-tin"
//	name = "Bench tin"
//	metal = "tin"
//	date = "2026-03-01"
//	sizes = ["BB = 0.4 g", "No.4 = 0.2 g"]
//	weighed = ["20 of AAA weigh 15.7 g", "2026-03-08: 20 of AAA weigh 15.9 g"]
//
// date is the day of the weighings that do not say their own.
func ParseOwnSet(path string, src []byte) (shot.Convention, error) {
	r, err := newReader(path)
	if err != nil {
		return shot.Convention{}, err
	}
	root := r.tree(src)
	if root == nil || !r.format(root) {
		return shot.Convention{}, r.err()
	}
	r.known(root, "", append([]string{"format"}, setKeys...))
	c := r.ownSet(root, "")
	return c, r.err()
}

// ownSets reads the tables [[own_convention]] of a workshop file.
func (r *reader) ownSets(root *table) []shot.Convention {
	var all []shot.Convention
	seen := map[string]bool{}
	for _, t := range r.subs(root, "own_convention", setKeys) {
		c := r.ownSet(t, "[[own_convention]]")
		if c.Key == "" {
			continue // told
		}
		if seen[c.Key] {
			r.add(t.at, "keep one of them, or give it another key", "the convention %q stands twice", c.Key)
		}
		seen[c.Key] = true
		all = append(all, c)
	}
	return all
}

// ownSet reads one set; without a key when something in it was told.
func (r *reader) ownSet(t *table, tab string) shot.Convention {
	told := len(r.findings)
	c := shot.Convention{Key: r.text(t, tab, "key", needed), Name: r.text(t, tab, "name", optional)}
	revision, _ := r.number(t, tab, "revision", optional, 1, mostRevisions, 1)
	if c.Revision = int(revision); float64(c.Revision) != revision {
		r.add(t.get("revision").val.at, "write a whole number", "%s is no whole number", in(tab, "revision"))
	}
	if m := r.cell(t, tab, "metal", needed, false); m.ok() {
		var ok bool
		if c.Metal, ok = water.MetalByKey(m.text); !ok {
			var keys []string
			for _, k := range water.Metals() {
				keys = append(keys, k.Key)
			}
			r.add(m.at, instead(m.text, keys), "%s: there is no metal %q", in(tab, "metal"), m.text)
		}
	}
	date := ""
	if t.get("date") != nil {
		date = r.date(t)
	}
	var given []shot.Size
	for _, s := range r.texts(t, tab, "sizes") {
		if !s.ok() {
			continue
		}
		size, err := shot.ParseGiven(s.text)
		if err != nil {
			r.addErr(s.at, in(tab, "sizes"), err)
			continue
		}
		given = append(given, size)
	}
	var weighings []shot.Weighing
	for _, s := range r.texts(t, tab, "weighed") {
		if !s.ok() {
			continue
		}
		w, err := shot.ParseWeighing(s.text)
		if err != nil {
			r.addErr(s.at, in(tab, "weighed"), err)
			continue
		}
		if w.Date == "" {
			w.Date = date
		}
		weighings = append(weighings, w)
	}
	if len(r.findings) > told {
		return shot.Convention{}
	}
	own, err := shot.Own(c, given, weighings)
	if err != nil {
		r.addErr(t.get("key").val.at, in(tab, "key"), err)
		return shot.Convention{}
	}
	return own
}

// conventionByKey looks a key up among the maker's own sets, then the built-in.
func (r *reader) conventionByKey(key string) (shot.Convention, bool) {
	for _, c := range r.own {
		if c.Key == strings.ToLower(strings.TrimSpace(key)) {
			return c, true
		}
	}
	return shot.ByKey(key)
}

// conventionKeys are all that a file can name.
func (r *reader) conventionKeys() []string {
	var keys []string
	for _, c := range shot.Conventions() {
		keys = append(keys, c.Key)
	}
	for _, c := range r.own {
		keys = append(keys, c.Key)
	}
	return keys
}
