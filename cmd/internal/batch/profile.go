package batch

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// maxStations keeps a body to what anybody measures, with room to spare.
const maxStations = 500

// The keys that give a pattern's shape: one of them and no second.
const (
	keyStations    = "stations_mm" // a list of stations
	keyStationsCSV = "stations"    // the name of a CSV file of stations
	keyShape       = "shape_mm"    // parametric parts
	keyOutline     = "outline"     // an SVG path
)

var shapeKeys = []string{keyStations, keyStationsCSV, keyShape, keyOutline}

// profile reads the pattern's shape; false when there is none.
func (r *reader) profile(t *table, tab string) (body.Profile, bool) {
	var given *entry
	for _, e := range t.keys {
		switch {
		case !isShapeKey(e.name):
		case given == nil:
			given = e
		default:
			r.add(e.at, "keep the one or the other", "%s and %s both give the shape", in(tab, given.name), e.name)
			return body.Profile{}, false
		}
	}
	if given == nil {
		r.missing(t, tab, keyStations)
		return body.Profile{}, false
	}
	switch given.name {
	case keyStationsCSV:
		return r.stationsCSV(given.val, in(tab, given.name))
	case keyShape:
		return r.shape(given.val, in(tab, given.name))
	case keyOutline:
		return r.outline(given.val, in(tab, given.name))
	}
	return r.stations(given.val, in(tab, given.name))
}

func isShapeKey(name string) bool {
	for _, k := range shapeKeys {
		if k == name {
			return true
		}
	}
	return false
}

// yes reads true or false; false when the key is not there.
func (r *reader) yes(t *table, tab, key string) bool {
	e := t.get(key)
	if e == nil {
		return false
	}
	if e.val.kind != unstable.Bool {
		r.add(e.val.at, "write true or false, without quotation marks", "%s is neither true nor false", in(tab, key))
	}
	return e.val.kind == unstable.Bool && e.val.text == "true"
}

// stations reads the list of stations.
func (r *reader) stations(n *node, key string) (body.Profile, bool) {
	const do = `write each as [height, diameter], as in [[0, 3.4], [30, 16], [54, 13.4]], or as [height, diameter, "curved"]`
	if n.kind == unstable.String && strings.Contains(n.text, ".") {
		r.add(n.at, fmt.Sprintf("write %s = %q", keyStationsCSV, n.text), "%s is no list of stations", key)
		return body.Profile{}, false
	}
	if n.kind != unstable.Array || len(n.list) > maxStations {
		r.add(n.at, do, "%s is no list of stations", key)
		return body.Profile{}, false
	}
	var all []body.Station
	good := true
	for i, one := range n.list {
		s, ok := r.station(one, fmt.Sprintf("%s station %s", key, strconv.Itoa(i+1)), do)
		all, good = append(all, s), good && ok
	}
	if !good {
		return body.Profile{}, false
	}
	p, err := body.New(all)
	if err == nil {
		if p.Base() != 0 {
			r.add(n.list[0].at, "begin with the diameter at height 0, the base end", "%s: the first station is at %s", key, p.Base().Text(0.01, unit.Style{}))
			return body.Profile{}, false
		}
		return p, true
	}
	at := n.at
	// The row is the first one with which the stations are no body any more.
	for k := 2; k <= len(all); k++ {
		if _, short := body.New(all[:k]); short != nil && short.Error() == err.Error() {
			at = n.list[k-1].at
			if k == 2 && strings.HasPrefix(err.Error(), "station 1:") {
				at = n.list[0].at
			}
			break
		}
	}
	r.addErr(at, key, err)
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

// stationsCSV reads stations from a CSV file beside the batch file.
func (r *reader) stationsCSV(n *node, key string) (body.Profile, bool) {
	switch {
	case n.kind == unstable.Array:
		r.add(n.at, "write "+keyStations+" = [[0, 3.4], [30, 16]] for a list", "%s names a CSV file of stations", key)
		return body.Profile{}, false
	case n.kind != unstable.String:
		r.add(n.at, `name a CSV file, as in stations = "sedge.csv"`, "%s is not text", key)
		return body.Profile{}, false
	}
	src, ok := r.fileBeside(n, key, "a CSV file of heights and diameters")
	if !ok {
		return body.Profile{}, false
	}
	file := r.besidePath(n.text)
	st, err := body.ParseCSV(string(src))
	if err != nil {
		r.addFileErr(file, err)
		return body.Profile{}, false
	}
	if st[0].Z != 0 {
		r.add(place{file: file, line: 1}, "begin with the diameter at height 0, the base end", "the first station is at %s", st[0].Z.Text(0.01, unit.Style{}))
		return body.Profile{}, false
	}
	return r.made(st, n.at, key)
}

// made makes a body of stations that were not written in the batch file itself.
func (r *reader) made(st []body.Station, at place, key string) (body.Profile, bool) {
	p, err := body.New(st)
	if err != nil {
		r.addErr(at, key, err)
		return body.Profile{}, false
	}
	return p, true
}
