package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/loading"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
)

// writeJSON writes a result with stable names, indented for people who look.
func (a *app) writeJSON(v any) error {
	e := json.NewEncoder(a.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// batchResult is the JSON of check, print and demo.
type batchResult struct {
	Batch   string           `json:"batch"`
	Floats  []floatResult    `json:"floats"`
	Notices []job.Notice     `json:"notices"`
	Codes   []job.CodeReport `json:"codes,omitempty"`
	Lines   []job.LineReport `json:"lines,omitempty"`
	Grading *job.Graded      `json:"grading"`
	Sheets  sheetCount       `json:"sheets"`
	Out     string           `json:"out,omitempty"`
	Files   []job.Output     `json:"files,omitempty"`
	// Provisional ids belong to a workshop that has printed nothing yet.
	Provisional bool `json:"provisional_ids,omitempty"`
}

type sheetCount struct {
	Decals    int `json:"decals"`
	Backers   int `json:"backers"`
	JobSheets int `json:"job_sheets"`
}

// figureResult is one float's figures, with a layout or without.
type figureResult struct {
	Number  int       `json:"number"`
	Pattern string    `json:"pattern"`
	Nominal unit.Gram `json:"nominal_g"`
	Rating  unit.Gram `json:"rating_g"`
	BuiltIn unit.Gram `json:"built_in_g"`
	Add     unit.Gram `json:"add_g"`
	U       unit.Gram `json:"uncertainty_g"`
	Step    unit.Gram `json:"step_g"`
	About   bool      `json:"about"`
	Shot    string    `json:"shot,omitempty"`
}

func figureOf(number int, pattern string, r loading.Rating, eq *shot.Equivalent) figureResult {
	f := figureResult{Number: number, Pattern: pattern, Nominal: r.Nominal, Rating: r.Printed, BuiltIn: r.BuiltIn,
		Add: r.Add, U: r.U, Step: r.Step, About: r.About}
	if eq != nil {
		f.Shot = eq.Text()
	}
	return f
}

type floatResult struct {
	figureResult
	ID       string   `json:"id"`
	Printed  []string `json:"printed"`
	Placed   string   `json:"placed"`
	Link     string   `json:"link"`
	CodeOn   string   `json:"code_on"` // "float" or "card"
	CodeDots int      `json:"code_dots,omitempty"`
	Reads    string   `json:"code_reads,omitempty"` // "anyhow" or "square"
}

func result(p *job.Plan, files []job.Output, out string) batchResult {
	r := batchResult{Batch: p.File.Batch.Name, Notices: p.Notices, Grading: p.Graded, Out: out, Files: files, Provisional: p.Provisional, Codes: p.CodeReports(), Lines: p.LineReports(),
		Sheets: sheetCount{len(p.Decals), p.CardSheets(), len(p.JobSheets)}}
	for _, f := range p.Floats {
		one := floatResult{figureResult: figureOf(f.Float.Number, f.Float.Pattern.Key, f.Rating, f.Shot),
			ID: string(f.Float.ID), Placed: f.Placed(), Link: f.Card.Code, CodeOn: "card"}
		for _, l := range f.Decal.Printed {
			one.Printed = append(one.Printed, l.Text)
		}
		if f.Decal.CodeOn {
			one.CodeOn, one.CodeDots, one.Reads = "float", f.Decal.Code.Dots, job.Reads(f.Decal.Code.Grade)
		}
		r.Floats = append(r.Floats, one)
	}
	return r
}

// summary writes the table of a batch and every notice; whole tells of each word
// and code how it reads, else only what is wrong.
func summary(w io.Writer, p *job.Plan, whole bool) {
	b := p.File.Batch
	fmt.Fprintf(w, "%s, batch %s, %s\n\n", b.Maker.Name, b.Name, b.Date)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "no.\tid\tpattern\trating\tbuilt in\tadd\tshot\tmark")
	for _, f := range p.Floats {
		shot := ""
		if f.Shot != nil {
			shot = f.Shot.Text()
		}
		figures := label.TableFigures(f.Rating, p.Words())
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", f.Float.Number, f.Float.ID, f.Float.Pattern.Name,
			figures.Rating, figures.BuiltIn, figures.Add, shot, f.Placed())
	}
	_ = t.Flush() // the writer below it reports its own errors when the process ends
	water := "fresh water"
	if p.Floats[0].Rating.Water.Salinity > 0 {
		water = "sea water"
	}
	fmt.Fprintf(w, "\nadd in %s, %s; shot: %s, revision %d\n", b.Convention.Metal.Name, water, b.Convention.Name, b.Convention.Revision)
	fmt.Fprintf(w, "%d decal sheets, %d card sheets, %d job sheets\n", len(p.Decals), p.CardSheets(), len(p.JobSheets))
	if line := p.FilmLine(); line != "" {
		fmt.Fprintln(w, line)
	}
	fmt.Fprintf(w, "\nMeasured sums by rating, within %s:\n", p.Graded.Tolerance.Text(0.001, p.Words().Number))
	for _, l := range p.Graded.Lines(p.Words().Number) {
		fmt.Fprintln(w, "  "+l)
	}
	lineReports(w, p, whole)
	codeReports(w, p, whole)
	if len(p.Notices) > 0 {
		fmt.Fprintln(w, "\nTo know before printing:")
		for _, g := range grouped(p.Notices) {
			fmt.Fprintln(w, "  "+g)
		}
	}
}

// legibleOK is the grade of a line of which nothing is to be told.
const legibleOK = "ok"

// lineReports says how well each printed line reads.
func lineReports(w io.Writer, p *job.Plan, whole bool) {
	all := p.LineReports()
	if !whole {
		all = slices.DeleteFunc(all, func(l job.LineReport) bool { return l.Grade == legibleOK })
	}
	if len(all) == 0 {
		return
	}
	fmt.Fprintln(w, "\nWords as printed, of the first float of each pattern:")
	for _, l := range all {
		fmt.Fprintf(w, "  float %d, %s\n", l.Float, l.Line())
	}
}

// codeReports says how the codes are printed and why.
func codeReports(w io.Writer, p *job.Plan, whole bool) {
	all := p.CodeReports()
	if len(all) == 0 {
		return
	}
	fmt.Fprintln(w, "\nCodes, tried on simulated phone pictures (no real phone took part; try your own: floatmark testsheet codes):")
	for _, r := range all {
		fmt.Fprintln(w, "  "+who(r.Floats)+r.Line())
		if !whole {
			continue
		}
		for _, why := range r.Why {
			fmt.Fprintln(w, "    "+why)
		}
		if text := r.Expected.Text(); text != "" {
			fmt.Fprintln(w, "    "+text)
		}
	}
}

// grouped writes notices that say the same of several floats once.
func grouped(all []job.Notice) []string {
	var order []string
	floats := map[string][]int{}
	for _, n := range all {
		if _, ok := floats[n.Text]; !ok {
			order = append(order, n.Text)
		}
		floats[n.Text] = append(floats[n.Text], n.Float)
	}
	lines := make([]string, len(order))
	for i, text := range order {
		lines[i] = who(floats[text]) + text
	}
	return lines
}

func who(floats []int) string {
	var parts []string
	for i := 0; i < len(floats); i++ {
		j := i
		for j+1 < len(floats) && floats[j+1] == floats[j]+1 {
			j++
		}
		switch {
		case floats[i] == 0:
		case j > i+1:
			parts = append(parts, fmt.Sprintf("%d-%d", floats[i], floats[j]))
			i = j
		default:
			parts = append(parts, fmt.Sprint(floats[i]))
		}
	}
	switch len(parts) {
	case 0:
		return ""
	case 1:
		if !strings.Contains(parts[0], "-") {
			return "float " + parts[0] + ": "
		}
	}
	return "floats " + strings.Join(parts, ", ") + ": "
}
