package batch

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// maxStations keeps a body to what anybody measures, with room to spare.
const maxStations = 500

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
