package bench

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"floatmark/cmd/internal/job"
)

// missing are the findings of a batch that is only begun, by what they say: no
// slips, but what the next pages are for.
var missing = map[string]struct{ page, text string }{
	"the maker has no name":      {"", "Say who makes the floats"},
	"the batch has no patterns":  {"patterns", "Describe the first pattern"},
	"the batch names no ratings": {"floats#ratings", "Name the ratings"},
	"the batch has no floats":    {"floats#add", "Say which floats there are"},
}

// missingOrder is the order in which they are told, the maker's day.
var missingOrder = []string{"the maker has no name", "the batch has no patterns", "the batch names no ratings", "the batch has no floats"}

// told sorts what is wrong with a batch: what is only missing yet, as links to
// where it is said, and slips, by the float, pattern or rating that they are of.
// Nobody sees the lines of the file here.
func told(d job.Draft, err error) (yet []link, slips []finding) {
	if err == nil {
		return nil, nil
	}
	is := map[string]bool{}
	src := source(d)
	for _, f := range findings(err) {
		if _, ok := missing[f.What]; ok {
			is[f.What] = true
			continue
		}
		slips = append(slips, located(d, src, f))
	}
	for _, what := range missingOrder {
		if !is[what] {
			continue
		}
		page := missing[what].page
		if what == "the batch has no floats" && (is["the batch has no patterns"] || is["the batch names no ratings"]) {
			page = "floats" // before patterns and ratings none can be added
		}
		to := Path + batchPath(d.Name, page)
		if page == "" {
			to = Path + "workshop"
		}
		yet = append(yet, link{missing[what].text, to})
	}
	return yet, slips
}

// ofFloat names a float in place of a line.
const ofFloat = "float %s"

// located names what a finding is of in place of a line.
func located(d job.Draft, src []byte, f finding) finding {
	table, n, ok := tableAt(src, d.Name, f.Where)
	if !ok {
		return f
	}
	f.Where = ""
	text := func(key string) string { return d.Doc.Text(fmt.Sprintf("%s/%d/%s", table, n, key)) }
	switch table {
	case "float":
		f.Of, f.Name, f.at = ofFloat, text("number"), n
	case "pattern":
		f.Of, f.Name = "pattern %s", text("name")
	case "rating":
		f.Of, f.Name = "rating %s", text("load")
	}
	return f
}

// tableAt finds the table of a batch file's text that a finding's place lies in,
// "26-11.toml:120:4": its key at the top, and which of its list it is, from 0.
func tableAt(src []byte, name, where string) (table string, n int, ok bool) {
	parts := strings.Split(where, ":")
	if len(parts) < 3 || strings.TrimSuffix(strings.Join(parts[:len(parts)-2], ":"), ".toml") != name {
		return "", 0, false
	}
	line, err := strconv.Atoi(parts[len(parts)-2])
	if err != nil {
		return "", 0, false
	}
	count := map[string]int{}
	for text := range bytes.Lines(src) {
		if text = bytes.TrimSpace(text); bytes.HasPrefix(text, []byte("[")) {
			head, _, _ := strings.Cut(strings.Trim(string(text), "[] "), "]")
			var nested bool
			table, _, nested = strings.Cut(head, ".")
			if bytes.HasPrefix(text, []byte("[[")) && !nested {
				count[table]++
			}
		}
		if line--; line == 0 {
			break
		}
	}
	return table, max(0, count[table]-1), true
}
