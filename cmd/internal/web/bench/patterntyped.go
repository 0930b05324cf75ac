package bench

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/label/words"
)

// apply writes what a form has typed into a document. Fields that the form does
// not send stay as they are. file is the name of a file that came with it.
func (patternForm) apply(m words.Measures, d *batch.Doc, i int, q url.Values, file string) error {
	at := fmt.Sprintf("pattern/%d/", i)
	old := d.Text(at + "key")
	var first error
	set := func(key string, v any) {
		if err := d.Set(at+key, v); err != nil && first == nil {
			first = err
		}
	}
	for _, key := range []string{"name", "key", "kind", "line", "weight", "varnish", "body", "tip", "ground", "material", "allowance"} {
		if !q.Has(key) {
			continue
		}
		text := strings.TrimSpace(q.Get(key))
		if key == "body" || key == "tip" || key == "ground" {
			text = colourTyped(text)
		}
		if key == "material" { // heights stand in it
			if text == m.Told(d.Text(at+key)) {
				continue
			}
			text = m.Kept(text, d.Text(at+key))
		}
		switch {
		case key == "varnish" && text == label.VarnishNames()[0] && d.Text(at+key) == "":
		case key == "ground" && text != "" && text == d.Text(at+"body") && d.Text(at+key) == "":
		case text == "":
			set(key, nil)
		default:
			set(key, text)
		}
	}
	for _, key := range []string{"waterline_mm", "tip_from_mm"} {
		if q.Has(key) {
			old, _ := d.Get(at + key)
			set(key, aLength.typed(m, q.Get(key), old))
		}
	}
	if q.Has("shape") {
		if q.Get("hand_made") != "" {
			set("hand_made", true)
		} else {
			set("hand_made", nil)
		}
	}
	if key := d.Text(at + "key"); q.Has("key") && key != old && old != "" {
		for n := range d.Len("float") {
			path := fmt.Sprintf("float/%d/pattern", n)
			if d.Text(path) == old {
				if err := d.Set(path, key); err != nil {
					return err
				}
			}
		}
	}
	if first != nil {
		return first
	}
	return applyShape(m, d, at, q, file)
}

// applyShape writes the one way in which the shape is said, and takes the others
// out.
func applyShape(m words.Measures, d *batch.Doc, at string, q url.Values, file string) error {
	old := func(key string) any {
		v, _ := d.Get(at + key)
		return v
	}
	keys := map[string]any{"stations_mm": nil, "shape_mm": nil, "stations": nil, "outline": nil}
	switch q.Get("shape") {
	case byStations:
		if list := stationsTyped(m, q, old("stations_mm")); len(list) > 0 {
			keys["stations_mm"] = list
		}
	case byParts:
		list := partsTyped(m, q, old("shape_mm"))
		if _, was := d.Get(at + "shape_mm"); len(list) == 0 && !was {
			return nil // nothing was typed yet: the shape stays what it was
		}
		if len(list) > 0 {
			keys["shape_mm"] = list
		}
	case byFile:
		if file == "" {
			file = strings.TrimSpace(q.Get("kept"))
		}
		switch {
		case file == "":
			return nil // nothing was chosen: the shape stays what it was
		case strings.HasSuffix(strings.ToLower(file), ".svg"):
			t := map[string]any{"file": file}
			axis := "axis_x"
			if q.Get("level") != "" {
				axis = "axis_y"
			}
			for key, v := range map[string]any{axis: aNumber.typed(m, q.Get("axis"), old("outline/"+axis)), "mm_per_unit": aNumber.typed(m, q.Get("scale"), old("outline/mm_per_unit")), "id": noText(q.Get("id"))} {
				if v != nil {
					t[key] = v
				}
			}
			keys["outline"] = t
		default:
			keys["stations"] = file
		}
	default:
		return nil
	}
	for _, key := range []string{"stations_mm", "shape_mm", "stations", "outline"} {
		if err := d.Set(at+key, keys[key]); err != nil {
			return err
		}
	}
	return nil
}

func noText(s string) any {
	if s = strings.TrimSpace(s); s != "" {
		return s
	}
	return nil
}

// stationsTyped reads the table of stations, in the order of their heights; rows
// with nothing in them are left out, and the one that is to be removed.
func stationsTyped(m words.Measures, q url.Values, old any) (list []any) {
	gone := q.Get("remove")
	for i := range mostRows {
		n := strconv.Itoa(i)
		if !q.Has("z."+n) || gone == n {
			continue
		}
		was := item(old, i)
		z, d := aLength.typed(m, q.Get("z."+n), item(was, 0)), aLength.typed(m, q.Get("d."+n), item(was, 1))
		if z == nil && d == nil {
			continue
		}
		one := []any{typedCell(z), typedCell(d)}
		if run := q.Get("run." + n); run != "" && run != "straight" {
			one = append(one, run)
		}
		if q.Get("corner."+n) != "" {
			one = append(one, "corner")
		}
		list = append(list, one)
	}
	slices.SortStableFunc(list, func(a, b any) int {
		x, ok1 := numeric(a.([]any)[0])
		y, ok2 := numeric(b.([]any)[0])
		switch {
		case !ok1 || !ok2 || x == y:
			return 0
		case x < y:
			return -1
		}
		return 1
	})
	return list
}

// typedCell stands for a cell of a row that was left empty, so that its reader
// tells of it.
func typedCell(v any) any {
	if v == nil {
		return ""
	}
	return v
}

func partsTyped(m words.Measures, q url.Values, old any) (list []any) {
	gone := q.Get("remove-part")
	for i := range mostRows {
		n := strconv.Itoa(i)
		form := q.Get("part." + n)
		if form == "" || gone == n {
			continue
		}
		t := map[string]any{}
		was, _ := item(old, i).(map[string]any)
		first, second := was[form], any(nil)
		if ends, ok := first.([]any); ok {
			first, second = item(ends, 0), item(ends, 1)
		}
		from, to := aLength.typed(m, q.Get("from."+n), first), aLength.typed(m, q.Get("to."+n), second)
		switch {
		case to != nil:
			t[form] = []any{typedCell(from), to}
		default:
			t[form] = typedCell(from)
		}
		if v := aLength.typed(m, q.Get("ends."+n), was["ends"]); v != nil {
			t["ends"] = v
		}
		if v := aLength.typed(m, q.Get("long."+n), was["long"]); v != nil {
			t["long"] = v
		}
		list = append(list, t)
	}
	return list
}
