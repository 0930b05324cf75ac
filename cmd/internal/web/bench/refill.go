package bench

import (
	"context"
	"errors"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"floatmark/cmd/internal/job"
	"floatmark/loading/fault"
)

// refused is a form that was not taken: it is shown again on its page, with what was
// typed in it and what is wrong.
type refused struct {
	action   string // where it was sent
	typed    url.Values
	findings []finding
}

// refusedKey is where a request has the form that is shown again.
type refusedKey struct{}

// refusedOf is the form that a request shows again; nil for none.
func refusedOf(r *http.Request) *refused {
	one, _ := r.Context().Value(refusedKey{}).(*refused)
	return one
}

// mendable reports whether an error is one that typing something else mends.
func mendable(err error) bool {
	switch fault.ClassOf(err) {
	case fault.Input, fault.NoFit:
		return true
	}
	return false
}

// showAgain shows the page that a refused form was sent from, with what was typed;
// false where that page is not known. A file that came with it is to be chosen again,
// which no page can do.
func (s *server) showAgain(w http.ResponseWriter, r *http.Request, err error) bool {
	if r.Method != http.MethodPost || r.PostForm == nil || refusedOf(r) != nil || !mendable(err) || errors.Is(err, job.ErrChanged) {
		return false
	}
	from, e := url.Parse(r.Referer())
	if e != nil || from.Host != r.Host || !strings.HasPrefix(from.Path, Path) {
		return false
	}
	said := patternFindings(err)
	if hasFile(r) {
		said = append(said, findings(fault.Inputf("choose it again", "the file that was chosen is not kept by the page"))...)
	}
	again := r.Clone(context.WithValue(r.Context(), refusedKey{}, &refused{action: r.URL.EscapedPath(), typed: r.PostForm, findings: said}))
	again.Method, again.Body, again.ContentLength = http.MethodGet, http.NoBody, 0
	again.URL = &url.URL{Path: from.Path, RawPath: from.RawPath, RawQuery: from.RawQuery}
	again.Form, again.PostForm, again.MultipartForm, again.Pattern = nil, nil, nil, ""
	again.Header.Del("Content-Type")
	if _, pattern := s.mux.Handler(again); !strings.HasPrefix(pattern, http.MethodGet) {
		return false // a page that a form led to has no address of its own
	}
	s.mux.ServeHTTP(w, again)
	return true
}

// hasFile reports whether a file came with a form.
func hasFile(r *http.Request) bool {
	if r.MultipartForm == nil {
		return false
	}
	for _, all := range r.MultipartForm.File { // order does not matter
		for _, one := range all {
			if one.Filename != "" {
				return true
			}
		}
	}
	return false
}

// formTags are those of a page that a form is filled through.
var formTags = regexp.MustCompile(`(?s)<(details|/details|form|input|textarea|select|option|/textarea|/select|/form)\b((?:"[^"]*"|[^>"])*)>`)

// attribute finds the value of an attribute in a tag; the pages quote all of them.
func attribute(tag, name string) (string, bool) {
	_, rest, ok := strings.Cut(tag, " "+name+`="`)
	if !ok {
		return "", false
	}
	value, _, _ := strings.Cut(rest, `"`)
	return html.UnescapeString(value), true
}

// refill puts what was typed into the fields of the form that is sent to action. A
// form of another address, hidden fields and those that were not sent stay.
func refill(page, action string, typed url.Values) string {
	var out strings.Builder
	at, in, selected, area := 0, false, "", false
	var folds, unfold []int  // where in out the details around stand, and which are to be open
	seen := map[string]int{} // how many fields of a name went before
	for _, m := range formTags.FindAllStringSubmatchIndex(page, -1) {
		kind, tag := page[m[2]:m[3]], page[m[0]:m[1]]
		if area && kind != "/textarea" {
			continue
		}
		if area {
			area, at = false, m[0]
		}
		out.WriteString(page[at:m[0]])
		at = m[1]
		name, _ := attribute(tag, "name")
		switch {
		case kind == "details":
			folds = append(folds, out.Len()+len("<details"))
		case kind == "/details" && len(folds) > 0:
			folds = folds[:len(folds)-1]
		case kind == "form":
			to, _ := attribute(tag, "action")
			method, _ := attribute(tag, "method")
			if in, seen = to == action && method == "post", map[string]int{}; in {
				unfold = append(unfold, folds...)
			}
		case kind == "/form":
			in = false
		case !in:
		case kind == "input" && name != "":
			tag = refilled(tag, name, typed, seen)
		case kind == "select":
			selected = name
		case kind == "/select":
			selected = ""
		case kind == "option" && len(typed[selected]) > 0:
			tag = strings.Replace(tag, ` selected="selected"`, "", 1)
			if v, ok := attribute(tag, "value"); ok && v == typed[selected][0] {
				tag = strings.TrimSuffix(tag, ">") + ` selected="selected">`
			}
		case kind == "textarea" && len(typed[name]) > 0:
			tag, area = tag+"\n"+html.EscapeString(typed[name][0]), true // the first end of line in it is not part of it
		}
		out.WriteString(tag)
	}
	out.WriteString(page[at:])
	page = out.String()
	slices.Sort(unfold)
	for _, at := range slices.Backward(slices.Compact(unfold)) {
		if tag, _, _ := strings.Cut(page[at:], ">"); !strings.Contains(tag, " open") {
			page = page[:at] + ` open="open"` + page[at:]
		}
	}
	return page
}

// refilled is the tag of an input with what was typed in it.
func refilled(tag, name string, typed url.Values, seen map[string]int) string {
	kind, _ := attribute(tag, "type")
	value, _ := attribute(tag, "value")
	switch kind {
	case "hidden", "file", "submit", "password":
		return tag
	case "checkbox", "radio":
		tag = strings.Replace(tag, ` checked="checked"`, "", 1)
		for _, v := range typed[name] {
			if v == value {
				return strings.Replace(tag, ` name="`, ` checked="checked" name="`, 1)
			}
		}
		return tag
	}
	n := seen[name]
	if seen[name]++; n >= len(typed[name]) {
		return tag
	}
	if _, had := attribute(tag, "value"); had {
		head, rest, _ := strings.Cut(tag, ` value="`)
		_, rest, _ = strings.Cut(rest, `"`)
		tag = head + rest
	}
	was := ` value="` + html.EscapeString(typed[name][n]) + `"`
	return strings.Replace(tag, ` name="`, was+` name="`, 1)
}
