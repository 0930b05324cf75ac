package batch

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// place is where something stands in the batch file or in its CSV file.
type place struct {
	csv       bool
	line, col int // from 1; columns are characters; a CSV place has no column
	// file is another file beside the batch file, "" for none; a place in it has
	// no column.
	file string
}

// finding is one thing wrong, before the findings are put in order.
type finding struct {
	at       place
	what, do string
}

// reader gathers what is wrong with a file while it is read. Reading goes on
// after a finding, so that all of them are told at once.
type reader struct {
	path, csvPath string
	csvNeeds      []string          // columns the CSV file must have
	csvMeasured   bool              // it may have columns of diameters and girths
	open          opener            // reads files beside the batch file; nil where there are none
	strip         unit.Millimetre   // thickness of the paper strip that girths are taken with
	faces         fonts.Set         // what marks, cards and sheets can be set in
	own           []shot.Convention // the maker's own sets
	bands         []draw.Ink        // for ratings that name no colour
	ownStock      []stock.Stock     // the maker's own film, card and paper
	marked        bool              // the maker has a mark of his own
	findings      []finding
}

func newReader(path string) (*reader, error) {
	faces, err := fonts.Default()
	return &reader{path: path, csvNeeds: []string{"number", "pattern", "rating"}, faces: faces}, err
}

// where writes a place as editors and compilers do: file:line:column.
func (r *reader) where(at place) string {
	if at.file != "" {
		return fmt.Sprintf("%s:%d", at.file, at.line)
	}
	if at.csv {
		return fmt.Sprintf("%s:%d", r.csvPath, at.line)
	}
	return fmt.Sprintf("%s:%d:%d", r.path, at.line, at.col)
}

func (r *reader) add(at place, do, what string, args ...any) {
	r.findings = append(r.findings, finding{at, fmt.Sprintf(what, args...), do})
}

// addErr takes over what a lower package found in the value of a key.
func (r *reader) addErr(at place, key string, err error) {
	for _, e := range fault.List(err) {
		what := e.What
		if e.Where != "" {
			what = e.Where + ": " + what
		}
		if key != "" {
			what = key + ": " + what
		}
		r.findings = append(r.findings, finding{at, what, e.Do})
	}
}

// err joins the findings in the order of the file, each once; nil without any.
func (r *reader) err() error {
	slices.SortStableFunc(r.findings, func(a, b finding) int {
		if a.at.csv != b.at.csv {
			if b.at.csv {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(a.at.file, b.at.file), cmp.Compare(a.at.line, b.at.line), cmp.Compare(a.at.col, b.at.col))
	})
	var all []error
	told := map[finding]bool{}
	for _, f := range r.findings {
		if !told[f] {
			told[f] = true
			all = append(all, fault.New(fault.Input, r.where(f.at), f.what, f.do))
		}
	}
	return errors.Join(all...)
}

// instead tells what to write in place of an unknown name: the nearest one, or
// all there are when none is near.
func instead(name string, known []string) string {
	if n := nearest(name, known); n != "" {
		return fmt.Sprintf("write %q", n)
	}
	return "use one of: " + quoted(known)
}

func quoted(names []string) string {
	var all []string
	for _, n := range names {
		all = append(all, fmt.Sprintf("%q", n))
	}
	return strings.Join(all, ", ")
}

// nearest returns the known name that is fewest single-letter slips from name,
// the first of equals; "" when it takes more than a third of its letters, and
// more than two slips, to get there.
func nearest(name string, known []string) string {
	best, slips := "", 0
	n := foldName(name)
	if len(n) > 64 {
		return "" // no slip of a known name, and costly to compare
	}
	for _, k := range known {
		d := distance(n, foldName(k))
		if d <= max(2, len(k)/3) && d < len(k) && (best == "" || d < slips) {
			best, slips = k, d
		}
	}
	return best
}

func foldName(s string) string {
	return strings.NewReplacer("-", "_", " ", "_").Replace(strings.ToLower(strings.TrimSpace(s)))
}

// distance counts the letters to put in, take out, change or swap with their
// neighbour to get from a to b (restricted Damerau-Levenshtein distance).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	d := make([][]int, len(x)+1)
	for i := range d {
		d[i] = make([]int, len(y)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(x)][len(y)]
}
