package web

import (
	"fmt"
	"strings"
	"sync"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

// View says how a record is shown. The zero value shows what stands on the mark,
// in English, without links to other languages.
type View struct {
	Language string            // BCP 47; English where there are no words for it
	Choice   job.Choice        // how the add is told
	Own      []shot.Convention // the maker's own sets, offered beside the built-in
	// Build is the build record with what is published of it (label.Builds.Public);
	// nil for none, which publishes what is published when nothing was chosen.
	Build *label.Build
	Photo func(number int) string // address of a photograph; nil shows none
	// Link is where the same record is in another language; nil for no links.
	Link func(language string) string
	// Action is where the form of the choice leads; "" is the page itself.
	Action string
	// Maker is where the maker's own page of the record is; "" for no link.
	Maker string
	// Script makes the page a plain file for any web host: it is the address of
	// PlainScript there, and the page then holds the add for every choice. "" is a
	// page that the server answers for.
	Script string
	// Style is the address of the style sheet of a plain file, Adds that of its adds
	// (Plain has both); "" has them stand in the page.
	Style, Adds string

	answers func(job.Choice) (job.Angler, error) // the add for a choice; nil works it out
}

// record is an entry in the words of the page.
type record struct {
	label.Entry
	Words    words.Words
	Facts    string // under the name: "loaded · 174 mm long"
	Figure   string // the rating without its "about"
	Built    string
	ToAdd    string
	Size     string // how big the rating can be set: "", "middling" or "long"
	AddWords bool   // the add is words, not a mass
	Rows     []label.Row
	AllToAdd bool   // nothing is built in: the rating is what is added
	Basis    string // metal and water of the figures, in a line
	Yours    add
	Action   string
	Edit     string // the maker's own page
	Table    string // every add, of a plain page
	Every    []label.Row
	All      []note // every remark that can be
	Fixed    string
	Guide    []string
	Warn     []string
	Made     []fact
	Mail     string // the contact when it is an address of electronic mail
	Picture  *outline
	Alt      string
	Shows    map[string]bool
	Retired  bool
	Cares    string // the maker's own words on care
	Photos   []photo
	Foreign  string // language of the record's own words when it is not the page's
}

// Page returns the record page of one float as a whole HTML file. It rests on
// nothing but its arguments, so that the server and the publisher show the same.
func Page(e label.Entry, v View) ([]byte, error) {
	p := words.PageFor(v.Language)
	w := wordsOf()[p.Language]
	r, err := recordOf(e, v, w, p)
	if err != nil {
		return nil, err
	}
	return recordPage(r, v, p)
}

// wordsOf are the words of the card in the languages of the page, made once.
var wordsOf = sync.OnceValue(func() map[string]words.Words {
	all := map[string]words.Words{}
	for _, p := range words.Pages() {
		w, err := words.For(p.Language)
		if err != nil {
			w, _ = words.For("") // English is always there
		}
		all[p.Language] = w
	}
	return all
})

func recordPage(r *record, v View, p words.Page) ([]byte, error) {
	e := r.Entry
	f := frame{Lang: p.Language, Title: r.title(), Said: p, Tongues: tongues(p.Language, v.Link), Record: r, Script: v.Script, Sheet: v.Style, Adds: v.Adds}
	if v.Script != "" {
		f.Policy = plainPolicy(v.Style != "")
	}
	if band := ink(e.BandInk, ""); band != "" && band != noBand {
		f.Band = band
	}
	page, err := render("record", f)
	if err != nil {
		return nil, fault.New(fault.Ours, "record "+e.ID, "the page cannot be made: "+err.Error(), "", err)
	}
	return page, nil
}

// publicOf is what the page may show.
func publicOf(v View) label.Build {
	if v.Build != nil {
		return *v.Build
	}
	return label.Builds{}.Public()
}

func recordOf(e label.Entry, v View, w words.Words, p words.Page) (*record, error) {
	r := &record{Entry: e, Words: w, Action: v.Action, Edit: v.Maker, Guide: guide(e.Line, p), Fixed: lineText(e.Line, p), Warn: cautions(e, w, p)}
	b := publicOf(v)
	r.Shows, r.Retired, r.Cares, r.Made = b.Publish, b.Status == label.Retired, b.Care, made(e, b, w, p)
	if v.Photo != nil {
		for _, one := range b.Photos {
			r.Photos = append(r.Photos, photo{v.Photo(one.Value.Photo), one.Value.Caption, one.Value.Width, one.Value.Height})
		}
	}
	r.figures(w, p)
	if r.Facts = kindText(e, w); r.Shows[label.GroupPattern] {
		r.Facts = join(" · ", r.Facts, p.Millimetre(e.Length, 1)+" "+w.Long)
	}
	var err error
	if r.Yours, err = addOf(e, v, p); err != nil {
		return nil, err
	}
	r.Yours.Shot = fixed(r.Yours.Shot)
	for _, row := range e.Shot {
		row.Shot = fixed(row.Shot)
		r.Rows = append(r.Rows, row)
	}
	if e.Language != "" && e.Language != p.Language {
		r.Foreign = e.Language
	}
	if v.Script != "" {
		if r.Every, r.All, r.Table, err = every(e, v, p); err != nil {
			return nil, err
		}
	}
	if strings.Contains(e.Contact, "@") && !strings.ContainsAny(e.Contact, " /:?&<>\"") {
		r.Mail = e.Contact
	}
	if o, ok := outlineOf(e); ok && r.Shows[label.GroupPattern] && r.Shows[label.GroupFigures] {
		r.Picture = &o
		r.Alt = fmt.Sprintf(p.Alt, p.Millimetre(e.Length, 1), p.Millimetre(e.Waterline, tipStep))
	}
	return r, nil
}

// title is that of the window.
func (r *record) title() string {
	var parts []string
	if r.Shows[label.GroupPattern] {
		parts = append(parts, r.Pattern)
	}
	if r.Shows[label.GroupFigures] {
		parts = append(parts, r.Figure)
	}
	return join(" · ", join(", ", parts...), r.ID)
}

// figures writes the figures of the mark in the reader's numbers.
func (r *record) figures(w words.Words, p words.Page) {
	e := r.Entry
	r.AllToAdd = e.BuiltIn == "" && e.AddG > 0 && e.AddG == e.RatingG
	r.About = e.About
	r.Figure, r.Built, r.ToAdd = e.Rating, e.BuiltIn, e.Add
	if e.RatingG > 0 {
		r.Figure = p.Gram(e.RatingG, e.StepG)
	}
	if e.BuiltInG > 0 {
		r.Built = p.Gram(e.BuiltInG, e.StepG)
	}
	r.AddWords = e.About || e.AddG == 0
	switch {
	case e.AddG > 0:
		r.ToAdd = p.Gram(e.AddG, e.StepG)
		if e.About {
			r.ToAdd = w.About + " " + r.ToAdd
		}
		r.Basis = fmt.Sprintf(p.Basis, metalText(e, p), waterText(e, p))
	default:
		r.ToAdd = w.NothingToAdd
		if said := waterText(e, p); said != "" {
			r.Basis = fmt.Sprintf(p.HoldsFor, said)
		}
	}
	switch n := len([]rune(r.Figure)); {
	case n > 5:
		r.Size = "long"
	case n > 3:
		r.Size = "middling"
	}
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
