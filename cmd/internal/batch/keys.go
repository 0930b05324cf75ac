package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// need says whether a key must be there.
type need bool

const (
	needed   need = true
	optional need = false
)

// The keys of each table, in the order of the demonstration file.
var (
	topKeys   = []string{"format", "name", "date", "floats", "maker", "print", "card", "tank", "own_stock", "rating", "pattern", "float"}
	makerKeys = []string{"name", "address", "contact", "host", "language", "market", "currency"}
	// workshopMakerKeys are those of a workshop file.
	workshopMakerKeys = append(slices.Clone(makerKeys), "units")
	printKeys         = []string{"convention", "cards", "step", "tolerance", "ring", "palette", "film", "card", "card_size_mm", "dpi", "printer", "fill", "feed", "keep_together", "spares", "ahead", "board_mm", "boxes", "overlap_mm", "strip_mm", "least_capitals_mm", "stretch_percent", "code", "own_mark"}
	tankKeys          = []string{"metal", "water_c", "salinity", "tip", "read_to_mm", "scale", "with"}
	ratingKeys        = []string{"load", "band", "price", "ean"}
	patternKeys       = []string{"key", "name", "ean", "kind", "line", "weight", "stations_mm", "stations", "shape_mm", "outline", "hand_made", "varnish", "waterline_mm", "tip_from_mm",
		"body", "tip", "ground", "mark", "turn", "mark_from_mm", "mark_height_mm", "allowance", "material"}
	markKeys = []string{"show", "from", "at_mm", "height_mm", "turn", "text", "repeat", "least_capitals_mm", "fit", "arc_deg",
		"width_mm", "seam_mm", "stretch"}
	floatKeys = []string{"number", "pattern", "rating", "built_in", "metal", "reading", "bare", "note", "dedication"}
)

// examples shows how each needed key is written.
var examples = map[string]string{
	"name": `name = "26-11"`, "date": `date = "2026-11-20"`,
	"[maker] name": `name = "Withy Sluice Floats"`, "[tank] metal": `metal = "lead"`,
	"[[rating]] load": `load = "8 g"`, "[[pattern]] key": `key = "sedge"`, "[[pattern]] name": `name = "Sedge waggler"`,
	"[[pattern]] kind": `kind = "loaded"`, "[[pattern]] weight": `weight = "inside"`,
	"[[pattern]] stations_mm": `stations_mm = [[0, 3.4], [30, 16], [54, 13.4], [174, 3]]`, "[[pattern]] waterline_mm": `waterline_mm = 158`,
	"[[pattern]] tip_from_mm": `tip_from_mm = 161`, "[[pattern]] body": `body = "#26262b"`, "[[pattern]] tip": `tip = "#e4572e"`,
	"[[pattern]] mark_from_mm": `mark_from_mm = 30`, "[[pattern]] mark_height_mm": `mark_height_mm = 22`,
	"[[pattern.mark]] at_mm": `at_mm = 30`, "[[pattern.mark]] height_mm": `height_mm = 22`,
	"[[float]] number": `number = 1`, "[[float]] pattern": `pattern = "sedge"`, "[[float]] rating": `rating = "8 g"`,
	"[[setup]] name": `name = "7 g base"`, "[[setup]] reading": `reading = "0.85 g"`,
	"key": `key = "bench-tin"`, "metal": `metal = "tin"`,
	"[[own_convention]] key": `key = "bench-tin"`, "[[own_convention]] metal": `metal = "tin"`,
	"[[own_stock]] grid rows": "rows = 8", "[[own_stock]] grid columns": "columns = 3", "[[own_stock]] grid first_mm": "first_mm = [7, 15]",
	"[[own_stock]] grid cell_mm": "cell_mm = [63, 33]",
	"[[own_stock]] key":          `key = "a6-film"`, "[[own_stock]] like": `like = "a5-film-white"`,
	"[[float]] built_in": `built_in = "7.2 g"`, "[[float]] metal": `metal = "brass"`,
}

// in names a key with its table, "[maker] host", as messages do.
func in(tab, key string) string {
	if tab == "" {
		return key
	}
	return tab + " " + key
}

// known tells the keys of a table that mean nothing.
func (r *reader) known(t *table, tab string, keys []string) {
	if t == nil {
		return
	}
	for _, e := range t.keys {
		if slices.Contains(keys, e.name) {
			continue
		}
		do := fmt.Sprintf("remove it; the keys here are: %s", strings.Join(keys, ", "))
		if n := nearest(e.name, keys); n != "" {
			do = fmt.Sprintf("write %s", n)
		} else if tab != "" && slices.Contains(topKeys, e.name) {
			do = "move it up, above the first line that begins with ["
		}
		r.add(e.at, do, "unknown key %s", in(tab, e.name))
	}
}

// format checks the first key; when it is not right nothing else can be relied on.
func (r *reader) format(root *table) bool {
	e := root.get("format")
	if e == nil || root.keys[0] != e {
		at := root.at
		if len(root.keys) > 0 {
			at = root.keys[0].at
		}
		r.add(at, "write format = 1 as the first line", "the first key is not format")
		return e != nil && e.val.text == strconv.Itoa(format)
	}
	if e.val.kind != unstable.Integer || e.val.text != strconv.Itoa(format) {
		r.add(e.val.at, "write format = 1; a file of a newer format needs a newer program", "format %s is not known here", e.val.text)
		return false
	}
	return true
}

// sub returns a table by its key; nil when it is not there.
func (r *reader) sub(root *table, key string, keys []string) *table {
	e := root.get(key)
	if e == nil {
		return nil
	}
	if e.val.tab == nil {
		r.add(e.at, fmt.Sprintf("write it as one [%s]", key), "%s is not one table", key)
		return nil
	}
	r.known(e.val.tab, "["+key+"]", keys)
	return e.val.tab
}

// subs returns an array of tables by its key.
func (r *reader) subs(root *table, key string, keys []string) []*table {
	e := root.get(key)
	if e == nil {
		return nil
	}
	var all []*table
	if e.val.kind != unstable.Array {
		r.add(e.at, fmt.Sprintf("write each as [[%s]], with two brackets", key), "%s is not a list of tables", key)
		return nil
	}
	for _, n := range e.val.list {
		if n.tab == nil {
			r.add(n.at, fmt.Sprintf("write each as [[%s]], with two brackets", key), "%s is not a list of tables", key)
			return nil
		}
		r.known(n.tab, "[["+key+"]]", keys)
		all = append(all, n.tab)
	}
	return all
}
