package bench

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// mostAdded is how many floats are added at once: a drying board. Own choice.
const mostAdded = 500

// sameGrams is how near two masses are that are one, g: far below any scale.
const sameGrams = 1e-6

// sameLoad reports whether two texts name one rating.
func sameLoad(a, b string) bool {
	if a == b {
		return true
	}
	x, err := unit.ParseGram(a)
	y, err2 := unit.ParseGram(b)
	return err == nil && err2 == nil && math.Abs(float64(x-y)) < sameGrams
}

// setRatings stores the ratings. Floats of one whose load was written anew go with
// it.
func (s *server) setRatings(w http.ResponseWriter, r *http.Request) error {
	m := s.measures(r)
	return s.edit(w, r, "change ratings", "floats#ratings", func(d *batch.Doc) error {
		was := d.Len("rating")
		var all []any
		anew := map[string]string{}
		for i := range was + blankRatings {
			name := func(key string) string { return fmt.Sprintf("rating.%d.%s", i, key) }
			v, _ := d.Get(fmt.Sprintf("rating/%d", i))
			one, _ := v.(map[string]any)
			if !r.PostForm.Has(name("load")) {
				if one != nil {
					all = append(all, one)
				}
				continue
			}
			load, _ := loadTyped(m, r.PostFormValue(name("load")), one["load"]).(string)
			if load == "" {
				continue
			}
			row := map[string]any{}
			for k, x := range one { // what the form does not show stays
				row[k] = x
			}
			if old, _ := one["load"].(string); old != "" && old != load {
				anew[old] = load
			}
			row["load"] = load
			keep(row, "price", pointed(r.PostFormValue(name("price"))), one)
			keep(row, "band", colourTyped(r.PostFormValue(name("band"))), one)
			all = append(all, row)
		}
		if len(all) == 0 {
			return d.Set("rating", nil)
		}
		if err := d.Set("rating", all); err != nil {
			return err
		}
		return rated(d, anew)
	})
}

// keep puts a text into a table, unless it is how the form shows what stands
// there; nothing takes it out.
func keep(row map[string]any, key, text string, was map[string]any) {
	if old, ok := was[key]; ok && fmt.Sprint(old) == text {
		return
	}
	if text == "" {
		delete(row, key)
		return
	}
	row[key] = text
}

// rated gives floats and set-ups the new loads of their ratings.
func rated(d *batch.Doc, anew map[string]string) error {
	to := func(path string) error {
		was := d.Text(path)
		for old, load := range anew { // order does not matter: no two olds are the same load
			if was != "" && sameLoad(was, old) {
				return d.Set(path, load)
			}
		}
		return nil
	}
	for i := range d.Len("float") {
		if err := to(fmt.Sprintf("float/%d/rating", i)); err != nil {
			return err
		}
		for k := range d.Len(fmt.Sprintf("float/%d/setup", i)) {
			if err := to(fmt.Sprintf("float/%d/setup/%d/rating", i, k)); err != nil {
				return err
			}
		}
	}
	return nil
}

// nextNumber is the number after the highest.
func nextNumber(d *batch.Doc) int {
	n := 0
	for i := range d.Len("float") {
		n = max(n, numberOf(d.Text(fmt.Sprintf("float/%d/number", i))))
	}
	return n + 1
}

// here is a fault where the floats stand in a CSV file.
func here(d *batch.Doc) error {
	if d.Text("floats") == "" {
		return nil
	}
	return fault.Inputf("take them into the batch first, on the page of its floats", "the floats stand in the file %q", d.Text("floats"))
}

// put writes what a form says of a float.
func put(m words.Measures, d *batch.Doc, at string, r *http.Request) error {
	built := valueAt(d, at+"built_in")
	for _, one := range []struct {
		key string
		as  typedAs
	}{{"number", plainly(number)}, {"pattern", plainly(word)}, {"rating", loadTyped}, {"built_in", loadTyped}, {"metal", plainly(word)}, {"reading", loadTyped},
		{"bare", loadTyped}, {"note", plainly(word)}, {"dedication", plainly(word)}, {"diameters_mm", pairsTyped}, {"girths_mm", pairsTyped}} {
		if !r.PostForm.Has(one.key) {
			continue
		}
		old, _ := d.Get(at + one.key)
		v := one.as(m, r.PostFormValue(one.key), old)
		if one.key == "metal" && r.PostForm.Has("built_in") && strings.TrimSpace(r.PostFormValue("built_in")) == "" {
			v = nil // a metal without a weight means nothing
		}
		if err := d.Set(at+one.key, v); err != nil {
			return err
		}
	}
	return weightSays(d, at, d.Text(at+"pattern"), built)
}

func (s *server) addFloats(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "add floats", "floats#board", func(d *batch.Doc) error {
		n, err := strconv.Atoi(strings.TrimSpace(r.PostFormValue("count")))
		if err != nil || n < 1 || n > mostAdded {
			return fault.Inputf("give a whole number from 1 to 500", "%q floats cannot be added", r.PostFormValue("count"))
		}
		if err := here(d); err != nil {
			return err
		}
		for next := nextNumber(d); n > 0; n, next = n-1, next+1 {
			at := fmt.Sprintf("float/%d/", d.Len("float"))
			if err := d.Set(at+"number", int64(next)); err != nil {
				return err
			}
			if err := put(s.measures(r), d, at, r); err != nil {
				return err
			}
		}
		return nil
	})
}

// addOne adds one float that is made for somebody.
func (s *server) addOne(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "add a float with a dedication", "floats#board", func(d *batch.Doc) error {
		if err := here(d); err != nil {
			return err
		}
		at := fmt.Sprintf("float/%d/", d.Len("float"))
		if err := d.Set(at+"number", int64(nextNumber(d))); err != nil {
			return err
		}
		return put(s.measures(r), d, at, r)
	})
}

// placed is the place of a float that a form names.
func placed(d *batch.Doc, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n >= d.Len("float") {
		return 0, fault.Inputf("open the page again and choose it there", "the batch has no such float")
	}
	return n, nil
}

func (s *server) setFloat(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "change a float", "floats#f"+r.PostFormValue("place"), func(d *batch.Doc) error {
		n, err := placed(d, r.PostFormValue("place"))
		if err != nil {
			return err
		}
		at := fmt.Sprintf("float/%d/", n)
		if err := put(s.measures(r), d, at, r); err != nil {
			return err
		}
		if !r.PostForm.Has("setup.0.name") {
			return nil
		}
		var ways []any
		for i := 0; r.PostForm.Has(fmt.Sprintf("setup.%d.name", i)); i++ {
			way := map[string]any{}
			for key, as := range map[string]typedAs{"name": plainly(word), "rating": loadTyped, "built_in": loadTyped, "metal": plainly(word), "reading": loadTyped, "bare": loadTyped} {
				old, _ := d.Get(fmt.Sprintf("%ssetup/%d/%s", at, i, key))
				if v := as(s.measures(r), r.PostFormValue(fmt.Sprintf("setup.%d.%s", i, key)), old); v != nil {
					way[key] = v
				}
			}
			if way["built_in"] == nil {
				delete(way, "metal")
			}
			if way["name"] != nil || way["built_in"] != nil || way["reading"] != nil || way["bare"] != nil {
				ways = append(ways, way) // one without a name is told of
			}
		}
		if len(ways) == 0 {
			return d.Set(at+"setup", nil)
		}
		for _, key := range []string{"built_in", "metal", "reading", "bare"} { // they are the set-ups' now
			if err := d.Set(at+key, nil); err != nil {
				return err
			}
		}
		if err := d.Set(at+"setup", ways); err != nil {
			return err
		}
		for i := range ways {
			if err := aboveRating(d, fmt.Sprintf("%ssetup/%d/", at, i), d.Text(at+"pattern")); err != nil {
				return err
			}
		}
		return nil
	})
}

// setColumn stores one figure of every float.
func (s *server) setColumn(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "type down the board", "floats#board", func(d *batch.Doc) error {
		key := r.PostFormValue("column")
		if !slices.ContainsFunc(columns, func(o option) bool { return o.Key == key }) {
			return fault.Inputf("choose one of the list", "there is no column %q", key)
		}
		for i := range d.Len("float") {
			name := fmt.Sprintf("v.%d", i)
			if !r.PostForm.Has(name) {
				continue
			}
			old, _ := d.Get(fmt.Sprintf("float/%d/%s", i, key))
			v := loadTyped(s.measures(r), r.PostFormValue(name), old)
			if key == "note" || key == "dedication" {
				v = word(r.PostFormValue(name))
			}
			at := fmt.Sprintf("float/%d/", i)
			if err := d.Set(at+key, v); err != nil {
				return err
			}
			if key == "built_in" {
				if err := weightSays(d, at, d.Text(at+"pattern"), old); err != nil {
					return fault.At(fmt.Sprintf(ofFloat, d.Text(at+"number")), err)
				}
			}
			if metal := r.PostFormValue("metal"); key == "built_in" && v != nil && metal != "" && d.Text(at+"metal") == "" {
				if err := d.Set(at+"metal", metal); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

func (s *server) removeFloats(w http.ResponseWriter, r *http.Request) error {
	return s.edit(w, r, "remove floats", "floats#board", func(d *batch.Doc) error {
		var places []int
		for _, text := range r.PostForm["pick"] {
			n, err := placed(d, text)
			if err != nil {
				return err
			}
			places = append(places, n)
		}
		if len(places) == 0 {
			return fault.Inputf("tick the floats that are to go", "no float is ticked")
		}
		slices.Sort(places)
		for _, n := range slices.Backward(slices.Compact(places)) { // from the last, so that places hold
			if err := d.Set(fmt.Sprintf("float/%d", n), nil); err != nil {
				return err
			}
		}
		if d.Len("float") == 0 {
			return d.Set("float", nil)
		}
		return nil
	})
}

// renumber numbers the floats from 1 in the order of the board. Once marks are
// printed numbers stay: records and ids go by them.
func (s *server) renumber(w http.ResponseWriter, r *http.Request) error {
	if printed, err := s.shop().Ticks(r.PathValue("batch")); err == nil && len(printed) > 0 {
		return fault.Inputf("give a single float another number in its own row", "marks of this batch are printed, and they go by the numbers")
	} else if err != nil && fault.ClassOf(err) != fault.NotFound {
		return err
	}
	return s.edit(w, r, "renumber the floats", "floats#board", func(d *batch.Doc) error {
		if err := here(d); err != nil {
			return err
		}
		for i, one := range floatRows(s.measures(r), d) {
			if err := d.Set(fmt.Sprintf("float/%d/number", one.Place), int64(i+1)); err != nil {
				return err
			}
		}
		return nil
	})
}

// floatsHere takes the floats of the CSV file into the batch file.
func (s *server) floatsHere(w http.ResponseWriter, r *http.Request) error {
	d, err := s.draft(r)
	if err != nil {
		return err
	}
	return s.edit(w, r, "take the floats into the batch", "floats#board", func(doc *batch.Doc) error {
		if d.File == nil || d.File.Floats == nil {
			return unread(d)
		}
		floats, _, err := batch.PastedFloats(doc.Text("floats"), d.File.Floats)
		if err != nil {
			return err
		}
		if err := doc.Set("float", list(floats)); err != nil {
			return err
		}
		return doc.Set("floats", nil)
	})
}

func unread(d job.Draft) error {
	if d.Err != nil {
		return d.Err
	}
	return fault.Inputf("add floats, or paste them", "there is no file of floats")
}
