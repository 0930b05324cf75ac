package bench

import (
	"fmt"
	"strings"

	"floatmark/cmd/internal/batch"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/water"
)

// columnNames are what the columns of a pasted table are called besides their keys: as
// the page itself calls them, in any of its languages, and as people head a list.
var columnNames = []struct {
	key   string
	pages []string // sentences of the page
	lists []string
}{
	{"number", []string{"float", "Number on the board"}, []string{"no", "nr", "n", "num", "numéro", "numero", "nummer", "numer", "#", "№"}},
	{"pattern", []string{"pattern", "Pattern"}, nil},
	{"rating", []string{"rating", "Rating", "load"}, nil},
	{"built_in", []string{"built in"}, nil},
	{"metal", []string{"metal", "Metal"}, nil},
	{"reading", []string{"reading", "Reading"}, nil},
	{"bare", []string{"before the weight", "Reading before the weight"}, nil},
	{"note", []string{"note", "Note"}, []string{"notes"}},
	{"dedication", []string{"dedication", "Dedication"}, nil},
}

// pageLanguages are the languages of these pages.
var pageLanguages = []string{"en", "de", "fr", "it", "pl"}

// headName is the name of a column as it is compared: without case, points and signs
// of degree, and without the unit that may stand behind it.
func headName(cell string) (name, unit string) {
	words := strings.Fields(strings.NewReplacer(".", " ", "°", " ", "º", " ", ",", " ", "(", " ", ")", " ", "[", " ", "]", " ", `"`, "").Replace(strings.ToLower(cell)))
	if n := len(words); n > 1 && (words[n-1] == "g" || words[n-1] == "mg" || words[n-1] == "oz") {
		return strings.Join(words[:n-1], " "), words[n-1]
	}
	return strings.Join(words, " "), ""
}

// columnKeys are the keys of columns by every name they go by.
func columnKeys() map[string]string {
	all := map[string]string{}
	for _, c := range columnNames {
		all[c.key], all[strings.ReplaceAll(c.key, "_", " ")] = c.key, c.key
		for _, one := range c.lists {
			all[one] = c.key
		}
		for _, l := range pageLanguages {
			say := words.Bench(l)
			for _, one := range c.pages {
				name, _ := headName(say(one))
				if _, taken := all[name]; !taken {
					all[name] = c.key
				}
			}
		}
	}
	return all
}

// keyedHead puts the keys of the columns into the first row that is not empty. An error
// tells a table without a head row: one whose first row names nothing.
func keyedHead(text string) (keyed string, above int, err error) {
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		if strings.TrimSpace(line) == "" {
			continue
		}
		apart := "\t"
		for _, c := range []string{";", ","} {
			if strings.Count(line, c) > strings.Count(line, apart) {
				apart = c
			}
		}
		keys, cells, known := columnKeys(), strings.Split(strings.TrimRight(line, "\r\n"), apart), 0
		for j, cell := range cells {
			name, unit := headName(cell)
			key, ok := keys[name]
			if !ok {
				continue
			}
			if known++; unit != "" {
				key += " " + unit
			}
			cells[j] = key
		}
		if known == 0 && len(cells) > 1 {
			return "", 0, fault.Inputf("put a row above it that names them, such as: number, pattern, rating, built in, metal", "the first row does not name the columns")
		}
		lines[i] = strings.Join(cells, apart) + "\n"
		return strings.Join(lines[i:], ""), i, nil
	}
	return text, 0, nil
}

// readPasted reads what was pasted as people write it: columns and metals by their
// names in any language of the pages, patterns by their names too, and a bare number
// of a load as grams. Floats without a number are numbered on from the last one, of
// the batch or, where they come in place of those, of their own.
func readPasted(d *batch.Doc, text string, instead bool) ([]map[string]any, []int, error) {
	text, above, err := keyedHead(text)
	if err != nil {
		return nil, nil, err
	}
	floats, lines, err := batch.PastedFloats("", []byte(text))
	if err != nil {
		return nil, nil, err
	}
	patterns, metals := map[string]string{}, metalKeys()
	for i := range d.Len("pattern") {
		key := d.Text(fmt.Sprintf("pattern/%d/key", i))
		if name := strings.ToLower(d.Text(fmt.Sprintf("pattern/%d/name", i))); patterns[name] == "" {
			patterns[name] = key
		}
	}
	for i := range d.Len("pattern") { // a key goes before a name
		key := d.Text(fmt.Sprintf("pattern/%d/key", i))
		patterns[strings.ToLower(key)] = key
	}
	last := 0
	if !instead {
		last = nextNumber(d) - 1
	}
	for _, f := range floats {
		if n, ok := f["number"].(int64); ok {
			last = max(last, int(n))
		}
	}
	for i, f := range floats {
		lines[i] += above
		if f["number"] == nil {
			last++
			f["number"] = int64(last)
		}
		for key, of := range map[string]map[string]string{"pattern": patterns, "metal": metals} {
			if v, ok := f[key].(string); ok {
				if known := of[strings.ToLower(strings.TrimSpace(v))]; known != "" {
					f[key] = known
				}
			}
		}
		for _, key := range []string{"rating", "built_in", "reading", "bare"} {
			if v, ok := f[key].(string); ok {
				f[key] = loadTyped(words.Measures{}, v, nil)
			}
		}
	}
	return floats, lines, nil
}

// metalKeys are the keys of metals by their names.
func metalKeys() map[string]string {
	all := map[string]string{}
	for _, m := range water.Metals() {
		all[m.Key] = m.Key
		for _, l := range pageLanguages {
			all[strings.ToLower(words.Bench(l)(m.Name))] = m.Key
			all[strings.ToLower(words.PageFor(l).MetalName(m.Key, m.Name))] = m.Key
		}
	}
	return all
}
