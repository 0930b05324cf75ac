package bench

import (
	"bytes"
	"fmt"
	"slices"
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

// told is toldEach with what is said of many floats alike said once.
func told(d job.Draft, err error) (yet []link, slips []finding) {
	yet, slips = toldEach(d, err)
	return yet, gathered(slips)
}

// toldEach sorts what is wrong with a batch: what is only missing yet, as links to
// where it is said, and slips, by the float, pattern or rating that they are of.
// Nobody sees the lines of the file here.
func toldEach(d job.Draft, err error) (yet []link, slips []finding) {
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

// gathered tells once what is wrong with several floats alike, at the place of the
// first: "floats 3, 7-12".
func gathered(all []finding) []finding {
	first, numbers := map[[2]string]int{}, map[int][]int{}
	var out []finding
	for _, f := range all {
		n, err := strconv.Atoi(f.Name)
		if f.Of != ofFloat || err != nil {
			out = append(out, f)
			continue
		}
		key := [2]string{f.What, f.Do}
		i, ok := first[key]
		if !ok {
			i = len(out)
			first[key] = i
			out = append(out, f)
		}
		numbers[i] = append(numbers[i], n)
	}
	for i, of := range numbers {
		if len(of) > 1 {
			out[i].Of, out[i].Name = "floats %s", spans(of)
		}
	}
	return out
}

// spans writes numbers as a maker does: 3, 7-12.
func spans(numbers []int) string {
	slices.Sort(numbers)
	numbers = slices.Compact(numbers)
	var parts []string
	for i := 0; i < len(numbers); {
		from := i
		for i++; i < len(numbers) && numbers[i] == numbers[i-1]+1; i++ {
		}
		switch i - from {
		case 1:
			parts = append(parts, strconv.Itoa(numbers[from]))
		case 2:
			parts = append(parts, strconv.Itoa(numbers[from]), strconv.Itoa(numbers[from+1]))
		default:
			parts = append(parts, fmt.Sprintf("%d-%d", numbers[from], numbers[i-1]))
		}
	}
	return strings.Join(parts, ", ")
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

// unfiled takes the names of batch files out of findings: on the pages of a batch
// nobody knows of a file. Of another batch its name stays; workshop.toml is a file
// that a maker has.
func unfiled(batch string, all []finding) []finding {
	for i, f := range all {
		name, _, ok := strings.Cut(f.Where, ".toml")
		switch {
		case batch == "" || !ok || name == "workshop":
		case name == batch:
			all[i].Where = ""
		default:
			all[i].Where = name
		}
	}
	return all
}
