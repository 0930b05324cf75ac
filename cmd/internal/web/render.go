package web

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"strings"
	"sync"

	"floatmark/label"
	"floatmark/label/words"
)

var (
	//go:embed pages.html
	pagesSource string
	//go:embed maker.html
	makerSource string
	//go:embed style.css
	styleSource string
	//go:embed maker.css
	makerStyle string

	pages = template.Must(template.New("").Funcs(template.FuncMap{"table": tableOf, "cell": cellOf}).Parse(pagesSource + makerSource))
)

// rows are a table of shot with the words of its head.
type rows struct {
	Said words.Page
	Rows []label.Row
}

// cell is one thing to type, with an id of its own on the page.
type cell struct {
	Col column
	ID  string
}

func cellOf(c column, list string, i int) cell { return cell{c, fmt.Sprint(list, i, "-", c.Name)} }

func tableOf(said words.Page, list []label.Row) rows { return rows{said, list} }

// frame is what every page needs, and what the one page shows.
type frame struct {
	Lang, Title string
	Style       template.CSS // filled in by render
	Policy      string       // of a plain file, which has no headers of its own
	Band        string       // accent; "" for the plain one
	Said        words.Page
	Tongues     []tongue
	Record      *record
	Failure     *failure
	Making      *making
	Noted       *noted
	Script      string
	Sheet, Adds string // addresses of the style sheet and the adds of a plain file
	Back        string // id of the record that the form of the unlock word came from
	Wrong       bool   // the word given was not the one
	ToTank      bool   // that form leads on to the test tank, to the batch Batch
	Batch       string
}

// Say is a sentence of the maker's own pages in the page's language.
func (f frame) Say(sentence string) string { return words.Bench(f.Lang)(sentence) }

// Of fills a sentence.
func (f frame) Of(sentence string, fill ...any) string { return fmt.Sprintf(f.Say(sentence), fill...) }

// photo is a photograph on a page.
type photo struct {
	Link, Caption string
	Width, Height int
}

// tongue is a link to the page in another language.
type tongue struct{ Tag, Short, Own, Link string }

func tongues(now string, link func(string) string) (all []tongue) {
	if link == nil {
		return nil
	}
	for _, p := range words.Pages() {
		t := tongue{Tag: p.Language, Short: strings.ToUpper(p.Language), Own: p.Own}
		if p.Language != now {
			t.Link = link(p.Language)
		}
		all = append(all, t)
	}
	return all
}

func render(name string, f frame) ([]byte, error) {
	f.Style = template.CSS(pageStyle())
	if f.Making != nil || f.Noted != nil {
		f.Style = template.CSS(squeezed(styleSource + makerStyle))
	}
	var buf bytes.Buffer
	err := pages.ExecuteTemplate(&buf, name, f)
	return buf.Bytes(), err
}

// styleHash lets a style sheet stand in the page, which saves a request on a bad
// line, while no other style may.
func styleHash(source string) string {
	sum := sha256.Sum256([]byte(squeezed(source)))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// pageStyle is the style sheet of a float's page, made once.
var pageStyle = sync.OnceValue(func() string { return squeezed(styleSource) })

// squeezed leaves out line breaks, indents and the blanks that mean nothing: an
// eighth of a style sheet.
func squeezed(css string) string {
	var b strings.Builder
	for line := range strings.Lines(css) {
		b.WriteString(strings.TrimSpace(line))
	}
	return strings.NewReplacer("; }", "}", ";}", "}", "; ", ";", ": ", ":", ", ", ",", " {", "{", "{ ", "{", " }", "}").Replace(b.String())
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
