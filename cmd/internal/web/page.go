package web

import (
	"bytes"
	_ "embed"
	"html/template"
	"strings"

	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

var (
	//go:embed pages.html
	pagesSource string
	//go:embed style.css
	styleSource string

	pages    = template.Must(template.New("").Parse(pagesSource))
	homePage = mustPage("home", frame{Lang: "en", Title: "Find a float"})
)

// frame is what every page needs, and what the one page shows.
type frame struct {
	Lang, Title string
	Style       template.CSS // filled in by render
	Band        template.CSS // accent; "" for the plain one
	Record      *record
	Failure     *failure
}

func render(name string, f frame) ([]byte, error) {
	f.Style = template.CSS(styleSource)
	var buf bytes.Buffer
	err := pages.ExecuteTemplate(&buf, name, f)
	return buf.Bytes(), err
}

// mustPage renders a page whose data are the program's own: a failure is a
// mistake in the template, which every test meets.
func mustPage(name string, f frame) []byte {
	page, err := render(name, f)
	if err != nil {
		panic(err)
	}
	return page
}

func failPage(f failure) []byte {
	return mustPage("failure", frame{Lang: "en", Title: f.Title, Failure: &f})
}

// fact is one line of a list of facts.
type fact struct{ Name, Text string }

// record is an entry in the words of the page.
type record struct {
	label.Entry
	Words    words.Words
	Facts    string // under the name: "loaded · 174 mm long"
	Short    string // the rating without its "about"
	Size     string // how big it can be set: "", "middling" or "long"
	Rows     []label.Row
	AllToAdd bool   // nothing is built in: the rating is what is added
	Basis    string // metal and water of the figures, in a line
	Made     []fact
	Mail     string // the contact when it is an address of electronic mail
	Picture  *outline
	Alt      string
}

// Page returns the record page of one float as a whole HTML file. It needs
// nothing beside it, so it can also be published as it is.
func Page(e label.Entry) ([]byte, error) {
	// A record keeps its words as they were printed; the page's own are English.
	w, err := words.For("en")
	if err != nil {
		return nil, err
	}
	r := &record{Entry: e, Words: w}
	r.AllToAdd = e.BuiltIn == "" && e.AddG > 0 && e.AddG == e.RatingG
	r.Facts = join(" · ", e.Kind, w.Millimetre(e.Length, 1)+" "+w.Long)
	switch {
	case e.AddG > 0:
		r.Basis = join(", ", "weight of "+e.Metal+" to add", prefixed("for ", e.Water))
	case e.Water != "":
		r.Basis = "holds for " + e.Water
	}
	r.Short, r.About = strings.CutPrefix(e.Rating, w.About+" ")
	r.About = r.About || e.About
	switch n := len([]rune(r.Short)); {
	case n > 5:
		r.Size = "long"
	case n > 3:
		r.Size = "middling"
	}
	for _, row := range e.Shot {
		// A line may break after a plus, not between a count and its size.
		const fixed = "\u00a0"
		row.Shot = strings.ReplaceAll(strings.ReplaceAll(row.Shot, " ", fixed), fixed+"+"+fixed, fixed+"+ ")
		r.Rows = append(r.Rows, row)
	}
	r.Made = made(e, w)
	if strings.Contains(e.Contact, "@") && !strings.ContainsAny(e.Contact, " /:?&<>\"") {
		r.Mail = e.Contact
	}
	if o, ok := outlineOf(e); ok {
		r.Picture = &o
		r.Alt = "The float from the side, " + w.Millimetre(e.Length, 1) + " " + w.Long + ". It is shotted to the " + w.Waterline + ", " +
			w.Millimetre(e.Waterline, 0.5) + " " + w.FromBase + "."
	}
	f := frame{Lang: w.Language, Title: join(", ", e.Pattern, e.Rating) + " · " + e.ID, Record: r}
	if band := ink(e.BandInk, ""); band != "" && band != noBand {
		f.Band = template.CSS(band) // six hexadecimal digits, see ink
	}
	page, err := render("record", f)
	if err != nil {
		return nil, fault.New(fault.Ours, "record "+e.ID, "the page cannot be made: "+err.Error(), "", err)
	}
	return page, nil
}

// fineStep is how masses are told that were measured and not printed: the step
// of a usual scale.
const fineStep unit.Gram = 0.01

// made tells how the float was made and measured.
func made(e label.Entry, w words.Words) []fact {
	var all []fact
	add := func(name, text string) {
		if text != "" {
			all = append(all, fact{name, text})
		}
	}
	add(w.Batch, join(", ", e.Batch, e.Date))
	add(w.Float, "number "+unit.Number(float64(e.Number), 1, w.Number)+" on the drying board")
	if e.BuiltInG > 0 {
		add("weighed", w.Gram(e.WeighedG, fineStep)+" "+w.BuiltIn)
	}
	add("measured", measured(e, w))
	if e.StepG > 0 {
		add(w.Printed, "in steps of "+w.Gram(e.StepG, e.StepG))
	}
	add("line fixed", e.Line)
	add("water", e.Water+" of "+unit.Number(e.WaterTempC, 0.1, w.Number)+" °C"+salt(e, w))
	add(w.Waterline, w.Millimetre(e.Waterline, 0.5)+" "+w.FromBase)
	if e.MarkTo > e.MarkFrom {
		add("mark", w.LowerEdge+" "+w.Millimetre(e.MarkFrom, 0.1)+" "+w.FromBase)
	}
	add(w.Rings, e.Rings)
	add("shot sizes", join(", ", e.Convention, "revision "+unit.Number(float64(e.Revision), 1, w.Number)))
	add(w.Note, e.Note)
	for _, n := range e.Notices {
		add("told the maker", n)
	}
	return all
}

// measured says where the figure to add comes from.
func measured(e label.Entry, w words.Words) string {
	how := "on this float in the tank"
	switch {
	case e.About:
		how = "as the mean of its tested fellows"
	case e.BuiltInG > 0:
		how = "on this float in the tank, weight fitted"
	}
	step := fineStep
	if e.UG < fineStep {
		step = fineStep / 10
	}
	return "to add " + w.Gram(e.MeasuredG, step) + " ± " + w.Gram(e.UG, step) + " of " + e.Metal + ", " + how
}

func salt(e label.Entry, w words.Words) string {
	if e.SalinityPSU <= 0 {
		return ""
	}
	return ", salinity " + unit.Number(e.SalinityPSU, 0.1, w.Number)
}

// join puts sep between the parts that are not empty.
func join(sep string, parts ...string) string {
	var full []string
	for _, p := range parts {
		if p != "" {
			full = append(full, p)
		}
	}
	return strings.Join(full, sep)
}

func prefixed(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
}
