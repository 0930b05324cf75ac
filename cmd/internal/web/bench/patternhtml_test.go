package bench

import (
	"bytes"
	"encoding/xml"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// formOf reads what a browser would send of a form by its id, when nothing in it
// was changed.
func formOf(t testing.TB, page io.Reader, id string) url.Values {
	t.Helper()
	text := readAll(t, page)
	_, text, ok := strings.Cut(text, `id="`+id+`"`)
	if !ok {
		t.Fatalf("there is no form %q", id)
	}
	text, _, _ = strings.Cut(text, "</form>")
	form := url.Values{}
	dec := xml.NewDecoder(strings.NewReader("<form" + text + "</form>"))
	dec.Strict, dec.Entity = false, xml.HTMLEntity
	var choosing string
	var first, have bool
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return form
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			_, checked := at["checked"]
			_, selected := at["selected"]
			switch {
			case e.Name.Local == "select":
				choosing, first, have = at["name"], true, false
			case e.Name.Local == "option" && choosing != "" && (selected || first && !have):
				form.Set(choosing, at["value"])
				have, first = selected || have, false
			case e.Name.Local == "input" && at["name"] != "" && at["type"] != "file" && (at["type"] != "checkbox" && at["type"] != "radio" || checked):
				form.Add(at["name"], at["value"])
			}
		case xml.EndElement:
			if e.Name.Local == "select" {
				choosing = ""
			}
		}
	}
}

func postFile(h http.Handler, path string, form url.Values, field, name, data string) *httptest.ResponseRecorder {
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for k, all := range form {
		for _, v := range all {
			_ = m.WriteField(k, v) // into memory
		}
	}
	part, err := m.CreateFormFile(field, name)
	if err == nil {
		_, err = io.WriteString(part, data)
	}
	if err != nil || m.Close() != nil {
		panic("a form in memory")
	}
	r := httptest.NewRequest("POST", Path+path, &body)
	r.Header.Set("Content-Type", m.FormDataContentType())
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

var wholeNumber = regexp.MustCompile(`\b(\d+)\.0\b`)

// sameNumbers compares two batch files, whole numbers written either way.
func sameNumbers(a, b string) bool {
	return wholeNumber.ReplaceAllString(a, "$1") == wholeNumber.ReplaceAllString(b, "$1")
}

func firstOther(got, want string) string {
	a, b := strings.Split(wholeNumber.ReplaceAllString(got, "$1"), "\n"), strings.Split(wholeNumber.ReplaceAllString(want, "$1"), "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return a[i] + "\nwas\n" + b[i]
		}
	}
	return "of another length"
}
