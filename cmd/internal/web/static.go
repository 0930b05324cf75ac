package web

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/json"
	"html/template"
	"strings"
	"sync"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
)

var (
	//go:embed site.html
	siteSource string
	//go:embed adds.js
	addsScript string
	//go:embed site.js
	siteScript string
	//go:embed entrance.js
	entranceScript string

	sitePages = template.Must(template.Must(pages.Clone()).Parse(siteSource))
)

// Plain makes the pages of a site of plain files for any web host; it is a
// job.Site. It is safe for use by many at once.
//
// Floats of one batch differ in their id, their number and what was measured, and
// have everything else in common: that is worked out and laid out once, which
// makes a site of many floats a hundred times quicker.
type Plain struct {
	own      []shot.Convention
	language string
	style    job.SiteFile
	script   job.SiteFile // of a float's page
	entrance job.SiteFile // of the entrance
	said     []tongueWords

	mu      sync.Mutex
	answers map[[sha256.Size]byte]map[job.Choice]answered
	laid    map[laidKey]*laid
}

type tongueWords struct {
	page  words.Page
	words words.Words
}

type answered struct {
	a   job.Angler
	err error
}

// laidKey is what a page rests on beside a float's own, and its place in the row of
// languages.
type laidKey struct {
	sum      [sha256.Size]byte
	language int
}

// laid is a page cut where a float's own id and facts go.
type laid struct {
	parts [][]byte
	marks []byte // what goes between two parts: idMark or madeMark
	adds  job.SiteFile
}

const (
	// The stand-ins are letters that no address and no text needs to write another
	// way; a record that has them is laid out by itself.
	idStandIn, madeStandIn = "qq0id0qq", "qq0made0qq"
	idMark, madeMark       = 'i', 'm'

	// sharedFolder holds what pages have in common, in names that change with what
	// they hold. It has fewer letters than an id.
	sharedFolder = "files/"
	// mostLaid pages are kept: a few hundred megabytes at most.
	mostLaid = 5000
)

// NewPlain returns the maker of pages. own are the maker's own sets of shot sizes;
// language is that of the page at the id itself, "" for the one of each float's
// mark. A language that there are no words for is an Input error.
func NewPlain(own []shot.Convention, language string) (*Plain, error) {
	p := &Plain{own: own, language: language, style: shared("style", "css", []byte(squeezed(styleSource))),
		script:   shared("page", "js", []byte(spare(addsScript+plainSource+siteScript))),
		entrance: shared("entrance", "js", []byte(spare(entranceScript))), answers: map[[sha256.Size]byte]map[job.Choice]answered{}, laid: map[laidKey]*laid{}}
	if words.PageFor(language).Language != language && language != "" {
		return nil, fault.New(fault.Input, "language", "there are no words for pages in "+language, "take one of: en, de, fr, it, pl")
	}
	for _, said := range words.Pages() {
		w, err := words.For(said.Language)
		if err != nil {
			return nil, err
		}
		p.said = append(p.said, tongueWords{said, w})
	}
	return p, nil
}

// Common returns the files that stand for no float: the entrance, what a host
// answers with where there is no page, style sheet and script.
func (p *Plain) Common() ([]job.SiteFile, error) {
	files := []job.SiteFile{p.style, p.script, p.entrance}
	for _, one := range []struct {
		name, up string
		missing  bool
	}{
		{"index.html", "", false},
		{"404.html", "/", true}, // it stands in for any address, so that its links begin at the root
	} {
		page, err := p.sitePage(one.up, one.missing)
		if err != nil {
			return nil, err
		}
		files = append(files, job.SiteFile{Name: one.name, Data: page})
	}
	return files, nil
}

// Float returns the pages of one float, by their place below its folder, and the
// files that they share with others. photo is the name of a photograph on the
// site.
func (p *Plain) Float(e label.Entry, b label.Build, photo func(int) string) (pages, with []job.SiteFile, err error) {
	main := p.language
	if main == "" {
		main = e.Language
	}
	main = words.PageFor(main).Language
	common, build := commonOf(e, b)
	key, err := json.Marshal([]any{common, build, main})
	if err != nil {
		return nil, nil, err
	}
	alone := bytes.Contains(key, []byte(idStandIn)) || bytes.Contains(key, []byte(madeStandIn))
	for i, t := range p.said {
		place := ""
		if t.page.Language != main {
			place = t.page.Language + "/"
		}
		var l *laid
		if alone {
			l, err = p.lay(e, b, t, main, photo)
		} else {
			l, err = p.laidOf(laidKey{sha256.Sum256(key), i}, common, build, t, main, photo)
		}
		if err != nil {
			return nil, nil, fault.At("record "+e.ID, err)
		}
		pages = append(pages, job.SiteFile{Name: place + "index.html", Data: l.page(e, b, t)})
		with = append(with, l.adds)
	}
	return pages, append(with, p.style, p.script), nil
}

// view is how the page of an id in a language is shown.
func (p *Plain) view(id, language, main string, b *label.Build, photo func(int) string) View {
	up := "../"
	if language != main {
		up = "../../"
	}
	return View{Language: language, Own: p.own, Build: b, Script: up + p.script.Name, Style: up + p.style.Name,
		Photo: func(n int) string { return up + photo(n) },
		// The folder is named anew, for the same file also stands in folders of other
		// names: in small letters, and by the id of a spare.
		Link: func(tag string) string {
			if tag == main {
				return up + id + "/"
			}
			return up + id + "/" + tag + "/"
		}}
}

// laidOf takes the page that was laid out before for a float that is alike, or lays
// it out.
func (p *Plain) laidOf(key laidKey, e label.Entry, b label.Build, t tongueWords, main string, photo func(int) string) (*laid, error) {
	p.mu.Lock()
	l := p.laid[key]
	p.mu.Unlock()
	if l != nil {
		return l, nil
	}
	e.ID = idStandIn
	l, err := p.lay(e, b, t, main, photo)
	if err != nil {
		return nil, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.laid) >= mostLaid {
		clear(p.laid)
	}
	p.laid[key] = l
	return l, nil
}

// page puts a float's own in.
func (l *laid) page(e label.Entry, b label.Build, t tongueWords) []byte {
	var facts []byte
	size := 0
	for _, part := range l.parts {
		size += len(part) + len(e.ID)
	}
	if len(l.marks) > 0 {
		facts = appendFacts(nil, made(e, b, t.words, t.page))
	}
	page := make([]byte, 0, size+len(facts))
	for i, part := range l.parts {
		page = append(page, part...)
		switch {
		case i == len(l.marks):
		case l.marks[i] == idMark:
			page = append(page, e.ID...)
		default:
			page = append(page, facts...)
		}
	}
	return page
}

// commonOf leaves out what only the id and the facts of a page tell.
func commonOf(e label.Entry, b label.Build) (label.Entry, label.Build) {
	e.ID, e.Number, e.Batch, e.Date, e.Code, e.Note, e.Notices = "", 0, "", "", "", "", nil
	e.MeasuredG, e.UG = 0, 0
	if !e.BuiltInOutside {
		e.WeighedG = 0 // it displaces nothing
	}
	b.Subject, b.Version, b.Made, b.Price, b.Buyer = label.Subject{}, 0, "", "", ""
	b.Materials, b.Coats, b.Notes, b.Fields = nil, nil, nil, nil
	return e, b
}

// lay lays one page out.
func (p *Plain) lay(e label.Entry, b label.Build, t tongueWords, main string, photo func(int) string) (*laid, error) {
	v := p.view(e.ID, t.page.Language, main, &b, photo)
	var err error
	if v.answers, err = p.answersOf(e); err != nil {
		return nil, err
	}
	r, err := recordOf(e, v, t.words, t.page)
	if err != nil {
		return nil, err
	}
	l := &laid{adds: shared("adds", "js", addsFile(r.Table))}
	v.Adds = strings.TrimSuffix(v.Script, p.script.Name) + l.adds.Name
	standIn := e.ID == idStandIn
	if standIn {
		r.Made = []fact{{madeStandIn, madeStandIn}}
	}
	page, err := recordPage(r, v, t.page)
	if err != nil {
		return nil, err
	}
	if !standIn {
		l.parts = [][]byte{page}
		return l, nil
	}
	facts := appendFacts(nil, r.Made)
	for len(page) > 0 {
		id, made := bytes.Index(page, []byte(idStandIn)), bytes.Index(page, facts)
		switch {
		case id >= 0 && (made < 0 || id < made):
			l.parts, l.marks, page = append(l.parts, page[:id]), append(l.marks, idMark), page[id+len(idStandIn):]
		case made >= 0:
			l.parts, l.marks, page = append(l.parts, page[:made]), append(l.marks, madeMark), page[made+len(facts):]
		default:
			l.parts, page = append(l.parts, page), nil
		}
	}
	return l, nil
}

// answersOf works the adds of a float out once for every language, and for every
// float that answers alike.
func (p *Plain) answersOf(e label.Entry) (func(job.Choice) (job.Angler, error), error) {
	e = label.Entry{Line: e.Line, Market: e.Market, Metal: e.Metal, MetalKey: e.MetalKey, Water: e.Water, WaterTempC: e.WaterTempC, SalinityPSU: e.SalinityPSU,
		RatingG: e.RatingG, AddG: e.AddG, AddPullG: e.AddPullG, StepG: e.StepG, WeighedG: e.WeighedG, Convention: e.Convention, Revision: e.Revision,
		Waterline: e.Waterline, Stations: e.Stations, BuiltInOutside: e.BuiltInOutside, BuiltInDensity: e.BuiltInDensity}
	other, err := p.answersTo(e)
	if err != nil {
		return nil, err
	}
	// In the water of its mark it makes no difference what the weight displaces.
	e.WeighedG, e.BuiltInOutside, e.BuiltInDensity = 0, false, 0
	same, err := p.answersTo(e)
	return func(c job.Choice) (job.Angler, error) {
		if (c.Water == job.SeaWater) != (e.SalinityPSU > 0) {
			return other(c)
		}
		return same(c)
	}, err
}

// answersTo works each choice out once.
func (p *Plain) answersTo(e label.Entry) (func(job.Choice) (job.Angler, error), error) {
	key, err := json.Marshal(e)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(key)
	p.mu.Lock()
	defer p.mu.Unlock()
	all := p.answers[sum]
	if all == nil {
		if len(p.answers) >= mostLaid/len(p.said) {
			clear(p.answers)
		}
		all = map[job.Choice]answered{}
		p.answers[sum] = all
	}
	return func(c job.Choice) (job.Angler, error) {
		p.mu.Lock()
		one, ok := all[c]
		p.mu.Unlock()
		if !ok {
			one.a, one.err = job.ForAngler(e, c, p.own)
			p.mu.Lock()
			all[c] = one
			p.mu.Unlock()
		}
		return one.a, one.err
	}, nil
}
