package shot

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"floatmark/loading/fault"
	"floatmark/loading/water"
)

// maxOwn is the largest own set read, 1 MiB: far more weighings than one can do.
const maxOwn = 1 << 20

// ownColumns are the columns of a maker's own set. A line gives the mass of a
// size or a weighing of several.
var ownColumns = []string{"size", "mass", "count", "weighed", "date", "metal", "verified"}

// ParseOwnCSV reads a maker's own set as a spreadsheet exports it, commas,
// semicolons or tabs between:
//
//	size,count,weighed,date,metal
//	AAA,20,15.7 g,2026-03-01,tin
//	AAA,20,15.9 g,2026-03-08,tin
//
// A size has either a mass or one or more weighings. head gives key, name and
// revision; its metal counts where no column tells it. "mass g" and "weighed g"
// name the unit once for their cells. The error joins one Input fault for each
// finding, with its line.
func ParseOwnCSV(src []byte, head Convention) (Convention, error) {
	if len(src) > maxOwn || !utf8.Valid(src) {
		return Convention{}, fault.Inputf("save it as CSV in UTF-8, at most 1 MiB", "the set is no CSV text")
	}
	text := strings.TrimPrefix(string(src), "\ufeff")
	in := csv.NewReader(strings.NewReader(text))
	in.Comma = mostOf(text)
	in.FieldsPerRecord = -1
	names, err := in.Read()
	if err != nil {
		return Convention{}, fault.Inputf("name the columns in the first line: "+strings.Join(ownColumns, ", "), "the set has no first line that can be read")
	}
	o := ownReader{head: head}
	if !o.columns(names) {
		return Convention{}, errors.Join(o.errs...)
	}
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			o.add(0, fault.Inputf("mend the quotation marks", "this is no CSV: %v", err))
			break
		}
		line, _ := in.FieldPos(0)
		o.row(cells, line)
	}
	if o.head.Metal == (water.Metal{}) && len(o.errs) == 0 {
		o.add(1, fault.Inputf("add a column metal", "the set does not say what metal the shot is of"))
	}
	if len(o.errs) > 0 {
		return Convention{}, errors.Join(o.errs...)
	}
	return Own(o.head, o.given, o.weighings)
}

type ownReader struct {
	head      Convention
	keys      []string // of the columns, "" for one without a name
	units     []string // of the columns, "" for none
	given     []Size
	weighings []Weighing
	metalLine int
	errs      []error
}

func (o *ownReader) add(line int, err error) {
	where := ""
	if line > 0 {
		where = "line " + strconv.Itoa(line)
	}
	o.errs = append(o.errs, fault.At(where, err))
}

func (o *ownReader) columns(names []string) bool {
	for _, n := range names {
		words := strings.FieldsFunc(strings.ToLower(n), func(r rune) bool { return strings.ContainsRune(" _()[]", r) })
		u := ""
		if len(words) == 2 && slices.Contains([]string{"g", "mg", "oz"}, words[1]) {
			u, words = words[1], words[:1]
		}
		key := strings.Join(words, " ")
		switch {
		case key != "" && !slices.Contains(ownColumns, key):
			o.add(1, fault.Inputf("use: "+strings.Join(ownColumns, ", "), "unknown column %q", n))
		case key != "" && slices.Contains(o.keys, key):
			o.add(1, fault.Inputf("keep one of them", "the column %q stands twice", n))
		}
		o.keys, o.units = append(o.keys, key), append(o.units, u)
	}
	if !slices.Contains(o.keys, "size") {
		o.add(1, fault.Inputf("add a column size", "no column names the sizes"))
	}
	return len(o.errs) == 0
}

func (o *ownReader) row(cells []string, line int) {
	got := map[string]string{}
	for i, c := range cells {
		c = strings.TrimSpace(c)
		switch {
		case c == "":
		case i >= len(o.keys) || o.keys[i] == "":
			o.add(line, fault.Inputf("put a decimal comma in quotation marks, or use semicolons between the columns", "%q stands in no column", c))
			return
		default:
			if u := o.units[i]; u != "" && strings.Trim(c, "0123456789.,/ ") == "" {
				c += " " + u
			}
			got[o.keys[i]] = c
		}
	}
	if len(got) == 0 {
		return
	}
	if err := o.read(got, line); err != nil {
		o.add(line, err)
	}
}

func (o *ownReader) read(got map[string]string, line int) error {
	if key := got["metal"]; key != "" {
		m, ok := water.MetalByKey(key)
		switch {
		case !ok:
			return fault.Inputf("use lead, tin, bismuth, brass, steel, zinc or tungsten", "there is no metal %q", key)
		case o.metalLine > 0 && m != o.head.Metal:
			return fault.Inputf("make a set of each metal", "%s stands beside the %s of line %d", m.Name, o.head.Metal.Name, o.metalLine)
		}
		o.head.Metal, o.metalLine = m, line
	}
	hasMass, hasWeighing := got["mass"] != "", got["count"] != "" || got["weighed"] != ""
	if got["size"] == "" || hasMass == hasWeighing {
		return fault.Inputf(`give a size and either its mass or a count and what they weigh together`, "this line is no size and no weighing")
	}
	if hasWeighing {
		w, err := ParseWeighing(fmt.Sprintf("%s of %s = %s", got["count"], strings.NewReplacer("=", " ", ":", " ").Replace(got["size"]), got["weighed"]))
		if err != nil {
			return err
		}
		w.Date = got["date"]
		o.weighings = append(o.weighings, w)
		return nil
	}
	s, err := GivenSize(got["size"], got["mass"])
	if err != nil {
		return err
	}
	switch strings.ToLower(got["verified"]) {
	case "", "yes":
	case "no":
		s.Verified = false
	default:
		return fault.Inputf("write yes or no", "verified: %q is neither", got["verified"])
	}
	o.given = append(o.given, s)
	return nil
}

// mostOf returns the separator that the first line has most of.
func mostOf(text string) rune {
	first, _, _ := strings.Cut(text, "\n")
	best, most := ',', 0
	for _, c := range []rune{';', '\t', ','} {
		if n := strings.Count(first, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}
