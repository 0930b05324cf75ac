package bench

import (
	"cmp"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/unit"
)

// zoneForm is one mark of a pattern to be typed.
type zoneForm struct {
	Place                  int
	At                     string // "zone.0."
	Styles, Ends, Turns    []option
	Fits, Stretches        []option
	From, Height           string
	Repeat, Capitals, Text string
	Arc, Width, Seam       string
	Own                    bool
	Parts                  []zonePart
}

// zonePart is a part that a mark may show.
type zonePart struct {
	Place  int
	Key    string
	Wheres []option
	Order  string
}

var (
	zoneStyles = []option{{Key: label.StyleLeast, Name: "only what is needed"}, {Key: label.StyleFull, Name: "all of it, with its code"}, {Key: label.StyleOwn, Name: "your own choice"}}
	zoneEnds   = []option{{Key: "base", Name: "from the base end"}, {Key: "tip", Name: "from the top of the tip"}}
	zoneTurns  = []option{{Key: "auto", Name: "as they are read best"}, {Key: "round", Name: "round the body"}, {Key: "lengthwise", Name: "lengthwise"}}
	zoneFits   = []option{{Key: "auto", Name: "as it suits the body"}, {Key: "full", Name: "all round, its edges overlap"}, {Key: "butt", Name: "all round, its edges leave a gap"},
		{Key: "part", Name: "part of the way round"}, {Key: "patch", Name: "a strip along the body"}}
	zoneStretches = []option{{Key: "auto", Name: "as it suits the mark"}, {Key: "split", Name: "cut it into pieces"}, {Key: "shorten", Name: "make it shorter"}}
	stripPlaces   = []option{{Key: "", Name: "not shown"}, {Key: "top", Name: "above the words"}, {Key: "foot", Name: "below the words"}}
	wordPlaces    = []option{{Key: "", Name: "not shown"}, {Key: "row", Name: "in one row"}, {Key: "1", Name: "first face"}, {Key: "2", Name: "second face"}, {Key: "3", Name: "third face"}, {Key: "4", Name: "fourth face"}}
)

// zoneForms fills the form from a document.
func zoneForms(m words.Measures, d *batch.Doc, i int) (all []zoneForm) {
	at := fmt.Sprintf("pattern/%d/", i)
	if n := d.Len(at + "mark"); n > 0 {
		for z := range n {
			in := fmt.Sprintf("%smark/%d/", at, z)
			show, _ := d.Get(in + "show")
			f := newZone(z, show)
			text := func(key string) string { return d.Text(in + key) }
			f.Ends, f.Turns = chosen(zoneEnds, cmp.Or(text("from"), "base")), chosen(zoneTurns, cmp.Or(text("turn"), "auto"))
			f.Fits, f.Stretches = chosen(zoneFits, cmp.Or(text("fit"), "auto")), chosen(zoneStretches, cmp.Or(text("stretch"), "auto"))
			f.Text = text("text")
			for key, to := range map[string]*string{"at_mm": &f.From, "height_mm": &f.Height, "repeat": &f.Repeat, "least_capitals_mm": &f.Capitals,
				"arc_deg": &f.Arc, "width_mm": &f.Width, "seam_mm": &f.Seam} {
				v, _ := d.Get(in + key)
				*to = zoneQuantity(key).shown(m, v)
			}
			all = append(all, f)
		}
		return all
	}
	f := newZone(0, cmp.Or(d.Text(at+"mark"), label.StyleLeast))
	f.Turns = chosen(zoneTurns, cmp.Or(d.Text(at+"turn"), "auto"))
	from, _ := d.Get(at + "mark_from_mm")
	height, _ := d.Get(at + "mark_height_mm")
	f.From, f.Height = aLength.shown(m, from), aLength.shown(m, height)
	return append(all, f)
}

// newZone is a mark that shows what a file has behind show.
func newZone(place int, show any) zoneForm {
	f := zoneForm{Place: place, At: fmt.Sprintf("zone.%d.", place), Ends: chosen(zoneEnds, "base"), Turns: chosen(zoneTurns, "auto"),
		Fits: chosen(zoneFits, "auto"), Stretches: chosen(zoneStretches, "auto")}
	style, ready := show.(string)
	if !ready && show == nil {
		style, ready = label.StyleLeast, true
	}
	if !ready {
		style, f.Own = label.StyleOwn, true
	}
	f.Styles = chosen(zoneStyles, style)
	where, order := shownWhere(show, style)
	for p, name := range label.PartNames() {
		part, _ := label.ParsePart(name)
		one := zonePart{Place: p, Key: name, Wheres: chosen(wordPlaces, where[name])}
		if part.Strip() {
			one.Wheres = chosen(stripPlaces, where[name])
		}
		if n, ok := order[name]; ok {
			one.Order = strconv.Itoa(n)
		}
		f.Parts = append(f.Parts, one)
	}
	return f
}

// shownWhere says where each part stands and in which order.
func shownWhere(show any, style string) (where map[string]string, order map[string]int) {
	where, order = map[string]string{}, map[string]int{}
	put := func(name, at string) { where[name], order[name] = at, len(order)+1 }
	list, own := show.([]any)
	if !own {
		ready := label.ReadyMade(style)
		for _, p := range ready.Top {
			put(p.String(), "top")
		}
		for _, p := range ready.Row {
			put(p.String(), "row")
		}
		for n, face := range ready.Faces {
			for _, p := range face {
				put(p.String(), strconv.Itoa(n+1))
			}
		}
		return where, order
	}
	words, faces := false, 0
	for _, one := range list {
		if face, ok := one.([]any); ok {
			faces++
			words = true
			for _, x := range face {
				put(fmt.Sprint(x), strconv.Itoa(faces))
			}
			continue
		}
		name := fmt.Sprint(one)
		part, known := label.ParsePart(name)
		switch {
		case known && part.Strip() && words:
			put(name, "foot")
		case known && part.Strip():
			put(name, "top")
		default:
			words = true
			put(name, "row")
		}
	}
	return where, order
}

// applyMarks writes the marks that are typed into a document; a single ready-made
// one that needs no more in the short form. file is the maker's own mark that came
// with them.
func applyMarks(m words.Measures, d *batch.Doc, i int, q url.Values, file string) error {
	at := fmt.Sprintf("pattern/%d/", i)
	if file != "" {
		if err := d.Set("print/own_mark", file); err != nil {
			return err
		}
	}
	if !q.Has("zone.0.style") {
		return nil
	}
	var all []any
	for z := range mostZoneForms {
		in := fmt.Sprintf("zone.%d.", z)
		if !q.Has(in+"style") || q.Get(in+"gone") != "" {
			continue
		}
		all = append(all, zoneTyped(m, in, q, zoneWas(d, at, z)))
	}
	if q.Get("zone.add") != "" || len(all) == 0 {
		all = append(all, map[string]any{"show": []any{"maker"}, "at_mm": 60.0, "height_mm": 30.0, "from": "tip", "turn": "lengthwise", "fit": "patch"})
	}
	keys := map[string]any{"mark": all, "turn": nil, "mark_from_mm": nil, "mark_height_mm": nil}
	if t := all[0].(map[string]any); len(all) == 1 && isShort(t) {
		keys = map[string]any{"mark": t["show"], "turn": t["turn"], "mark_from_mm": t["at_mm"], "mark_height_mm": t["height_mm"]}
		if was, ok := d.Get(at + "turn"); ok && was == "auto" && t["turn"] == nil {
			keys["turn"] = "auto"
		}
		if _, ok := d.Get(at + "mark"); !ok && t["show"] == label.StyleLeast {
			keys["mark"] = nil
		}
	}
	for _, key := range []string{"mark", "turn", "mark_from_mm", "mark_height_mm"} {
		if err := d.Set(at+key, keys[key]); err != nil {
			return err
		}
	}
	return nil
}

// mostZoneForms is how many marks of a pattern a form may have.
const mostZoneForms = 10

// isShort reports whether a mark can be written in the short form.
func isShort(t map[string]any) bool {
	for k := range t {
		if !slices.Contains([]string{"show", "turn", "at_mm", "height_mm"}, k) {
			return false
		}
	}
	_, ready := t["show"].(string)
	return ready
}

// zoneQuantity is what a figure of a mark is.
func zoneQuantity(key string) quantity {
	if strings.HasSuffix(key, "_mm") {
		return aLength
	}
	return aNumber
}

// zoneWas is what a file has of a mark, in the long form or the short.
func zoneWas(d *batch.Doc, at string, z int) map[string]any {
	if d.Len(at+"mark") > 0 {
		v, _ := d.Get(fmt.Sprintf("%smark/%d", at, z))
		was, _ := v.(map[string]any)
		return was
	}
	was := map[string]any{}
	for key, short := range map[string]string{"at_mm": "mark_from_mm", "height_mm": "mark_height_mm"} {
		if v, ok := d.Get(at + short); ok && z == 0 {
			was[key] = v
		}
	}
	return was
}

// zoneTyped reads one mark.
func zoneTyped(m words.Measures, in string, q url.Values, was map[string]any) map[string]any {
	t := map[string]any{"show": any(q.Get(in + "style"))}
	if q.Get(in+"style") == label.StyleOwn {
		t["show"] = showTyped(in, q)
	}
	for key, usual := range map[string]string{"from": "base", "turn": "auto", "fit": "auto", "stretch": "auto", "text": ""} {
		if v := strings.TrimSpace(q.Get(in + key)); v != usual && v != "" {
			t[key] = v
		}
	}
	for _, key := range []string{"at_mm", "height_mm", "repeat", "least_capitals_mm", "arc_deg", "width_mm", "seam_mm"} {
		of := zoneQuantity(key)
		v := of.typed(m, q.Get(in+key), was[key])
		if key == "repeat" {
			v = of.whole(m, q.Get(in+key), was[key])
		}
		if v != nil {
			t[key] = v
		}
	}
	return t
}

// showTyped reads what a mark of one's own shows.
func showTyped(in string, q url.Values) []any {
	type placed struct {
		name, where string
		order       float64
	}
	var all []placed
	for p, name := range label.PartNames() {
		at := fmt.Sprintf("%spart.%d", in, p)
		if where := q.Get(at); where != "" {
			one := placed{name, where, float64(len(label.PartNames()) + p)}
			if v, ok := unit.Decimal(q.Get(at + ".order")); ok {
				one.order = v
			}
			all = append(all, one)
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(a.order, b.order) })
	var show []any
	for _, where := range []string{"top", "row", "1", "2", "3", "4", "foot"} {
		var group []any
		for _, one := range all {
			if one.where == where {
				group = append(group, one.name)
			}
		}
		switch {
		case len(group) == 0:
		case where >= "1" && where <= "4":
			show = append(show, group)
		default:
			show = append(show, group...)
		}
	}
	return show
}
