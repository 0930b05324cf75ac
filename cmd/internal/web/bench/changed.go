package bench

import (
	"bytes"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"floatmark/label/words"
)

// changedPage tells who comes second what was not stored.
type changedPage struct {
	From  string // the page that the form was sent from; "" where that is not known
	Typed []typedField
}

// typedField is a field as it was typed, under the name that the page has for it.
type typedField struct{ Name, Value string }

// unsaid are fields that nobody types: what was changed, on which version, and how.
var unsaid = []string{"version", "units", "key", "do", "how", "seen", "place", "on", "column", "cards?", "pick"}

// changed gathers what a refused form had typed that is not there now, so that it can
// be typed again.
func (s *server) changed(r *http.Request) changedPage {
	p := changedPage{From: cameFrom(r)}
	page := ""
	if from, err := url.Parse(r.Referer()); err == nil && p.From != "" {
		get := r.Clone(r.Context())
		get.Method, get.Body, get.ContentLength = http.MethodGet, http.NoBody, 0
		get.URL = &url.URL{Path: from.Path, RawPath: from.RawPath, RawQuery: from.RawQuery}
		get.Form, get.PostForm, get.MultipartForm, get.Pattern = nil, nil, nil, ""
		for _, h := range []string{"Content-Type", "Accept-Encoding"} {
			get.Header.Del(h)
		}
		if _, pattern := s.mux.Handler(get); strings.HasPrefix(pattern, http.MethodGet) {
			w := &heldPage{header: http.Header{}}
			if s.mux.ServeHTTP(w, get); w.status == http.StatusOK {
				page = w.body.String()
			}
		}
	}
	p.Typed = typedAnew(page, r.URL.EscapedPath(), r.PostForm, words.Bench(s.language(r)))
	return p
}

// heldPage is a page that is read here, not sent.
type heldPage struct {
	header http.Header
	status int
	body   bytes.Buffer
}

// Header implements http.ResponseWriter.
func (p *heldPage) Header() http.Header { return p.header }

// Write implements http.ResponseWriter.
func (p *heldPage) Write(data []byte) (int, error) { return p.body.Write(data) }

// WriteHeader implements http.ResponseWriter.
func (p *heldPage) WriteHeader(status int) { p.status = status }

// labelTags are the labels of a page, and whatever tags stand in one.
var (
	labelTags = regexp.MustCompile(`(?s)<label for="([^"]*)"[^>]*>(.*?)</label>`)
	anyTag    = regexp.MustCompile(`<[^>]*>`)
)

// typedAnew lists what of a form's fields is otherwise than its page has it, in the
// page's order; of a form that the page has not, all that people type.
func typedAnew(page, action string, typed url.Values, say func(string) string) (all []typedField) {
	_, form, _ := strings.Cut(page, `<form method="post" action="`+html.EscapeString(action)+`"`)
	form, _, _ = strings.Cut(form, "</form>")
	labels := map[string]string{} // by the id of the field
	for _, m := range labelTags.FindAllStringSubmatch(form, -1) {
		labels[m[1]] = plainText(m[2])
	}
	known := map[string]bool{}
	add := func(name, tag, was string) {
		id, _ := attribute(tag, "id")
		label := labels[id]
		if aria, ok := attribute(tag, "aria-label"); ok {
			label = aria
		}
		if label == "" {
			label = name
		}
		known[name] = true
		if len(typed[name]) == 0 || sameText(typed[name][0], was) {
			return
		}
		v := typed[name][0]
		if strings.TrimSpace(v) == "" {
			v = say("(emptied)")
		}
		all = append(all, typedField{label, v})
	}
	first := false
	list, area := "", ""         // the tag of the select or textarea that is open
	now, said, from := "", "", 0 // what the list has chosen, what is chosen in it anew, and where the area's text begins
	for _, m := range formTags.FindAllStringSubmatchIndex(form, -1) {
		kind, tag := form[m[2]:m[3]], form[m[0]:m[1]]
		name, _ := attribute(tag, "name")
		value, _ := attribute(tag, "value")
		switch sort, _ := attribute(tag, "type"); {
		case area != "" && kind != "/textarea":
		case kind == "input" && (sort == "hidden" || sort == "file" || sort == "password" || sort == "submit" || sort == "color"):
			known[name] = true
		case kind == "input" && (sort == "checkbox" || sort == "radio"):
			known[name] = true
			was, is := strings.Contains(tag, ` checked="`), slices.Contains(typed[name], value)
			if was != is && (is || sort == "checkbox") {
				v := say("yes")
				if !is {
					v = say("no")
				}
				text, _, _ := strings.Cut(form[m[1]:], "</label>")
				all = append(all, typedField{plainText(text), v})
			}
		case kind == "input" && name != "":
			add(name, tag, value)
		case kind == "select":
			list, now, said, first = tag, "", "", true
		case kind == "option" && list != "":
			of, _ := attribute(list, "name")
			text, _, _ := strings.Cut(form[m[1]:], "</option>")
			if strings.Contains(tag, ` selected="`) || first { // a list has its first where none is chosen
				now, first = value, false
			}
			if len(typed[of]) > 0 && typed[of][0] == value {
				said = plainText(text)
			}
		case kind == "/select" && list != "":
			of, _ := attribute(list, "name")
			if n := len(all); len(typed[of]) > 0 {
				if add(of, list, now); len(all) > n && said != "" {
					all[n].Value = said
				}
			}
			known[of], list = true, ""
		case kind == "textarea":
			area, from = tag, m[1]
		case kind == "/textarea" && area != "":
			of, _ := attribute(area, "name")
			add(of, area, html.UnescapeString(form[from:m[0]]))
			area = ""
		}
	}
	var rest []string
	for name, v := range typed {
		if !known[name] && !slices.Contains(unsaid, name) && strings.TrimSpace(strings.Join(v, "")) != "" {
			rest = append(rest, name)
		}
	}
	slices.Sort(rest)
	for _, name := range rest {
		all = append(all, typedField{name, strings.Join(typed[name], ", ")})
	}
	return all
}

// plainText is what a piece of a page says.
func plainText(piece string) string {
	return strings.Join(strings.Fields(html.UnescapeString(anyTag.ReplaceAllString(piece, " "))), " ")
}

// sameText compares texts as forms send them: with other ends of lines.
func sameText(a, b string) bool {
	return strings.TrimSpace(strings.ReplaceAll(a, "\r\n", "\n")) == strings.TrimSpace(b)
}
