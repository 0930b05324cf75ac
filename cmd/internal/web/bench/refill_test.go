package bench

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"floatmark/label/words"
)

// sendFrom is send of a form that stands on a page.
func sendFrom(h http.Handler, from, path string, form url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, Path+path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Referer", "http://"+r.Host+Path+from)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// A form that is not taken is shown again on its page as it was typed, with what is
// wrong, and nothing is stored.
func TestRefusedFormKeepsWhatWasTyped(t *testing.T) {
	shop, h := patternBench(t)
	set, err := shop.Settings()
	if err != nil {
		t.Fatal(err)
	}
	form := url.Values{"version": {strconv.FormatInt(set.Version, 10)}, "maker/name": {`A "B" <C>`}, "maker/address": {"one\ntwo"}, "maker/market": {"EU"}, "maker/currency": {"pounds"}}
	w := sendFrom(h, "workshop", "workshop", form)
	body := w.Body.String()
	if w.Code != http.StatusUnprocessableEntity || strings.Contains(body, "That did not work") || strings.Contains(body, "workshop.toml:") {
		t.Fatal(w.Code, text(body))
	}
	for _, want := range []string{`value="A &#34;B&#34; &lt;C&gt;" name="maker/name"`, `<option value="EU" selected="selected">`, `value="pounds" name="maker/currency"`, "\none\ntwo</textarea>", `none that is known`} {
		if !strings.Contains(body, want) {
			t.Errorf("%s is not in %s", want, body)
		}
	}
	if set, err := shop.Settings(); err != nil || set.Doc.Text("maker/name") == form.Get("maker/name") {
		t.Error("it is stored", err)
	}

	// The form's fold is open, and another form of the page stays as it is.
	w = sendFrom(h, "b/26-11/floats", "b/26-11/floats/add", url.Values{"version": {"1"}, "count": {"six"}, "pattern": {"reed"}, "rating": {"10 g"}, "built_in": {"7,2"}, "metal": {"tin"}})
	body = w.Body.String()
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(text(body), `"six" floats cannot be added`) {
		t.Fatal(w.Code, text(body))
	}
	_, add, _ := strings.Cut(body, `floats/add"`)
	add, other, _ := strings.Cut(add, "</form>")
	for _, want := range []string{`value="six" name="count"`, `value="7,2" name="built_in"`, `<option value="tin" selected="selected">`, `<option value="10 g" selected="selected">`} {
		if !strings.Contains(add, want) {
			t.Errorf("%s is not in %s", want, add)
		}
	}
	if strings.Contains(other, `value="six"`) || strings.Contains(other, `value="7,2" name="built_in"`) {
		t.Error("another form has what was typed")
	}

	// From elsewhere, there is no page to show it on.
	r := httptest.NewRequest(http.MethodPost, Path+"begin", strings.NewReader("name="))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Referer", "http://elsewhere.example"+Path)
	w = httptest.NewRecorder()
	if h.ServeHTTP(w, r); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "That did not work") {
		t.Error(w.Code)
	}
}

func TestRefill(t *testing.T) {
	const page = `<details class="a"><summary>x</summary><form method="post" action="/a"><input type="hidden" name="version" value="7"/>` +
		`<input name="n" value="old &#34;1&#34;" required="required"/><input name="n" value="b"/><input type="checkbox" name="c" value="1" checked="checked"/>` +
		`<input type="radio" name="r" value="x" checked="checked"/><input type="radio" name="r" value="y"/><textarea name="t">old <input name="n"/></textarea></form></details>` +
		`<details><form method="post" action="/b"><input name="n" value="stays"/></form></details>`
	const want = `<details open="open" class="a"><summary>x</summary><form method="post" action="/a"><input type="hidden" name="version" value="7"/>` +
		`<input value="1&#34; &gt;" name="n" required="required"/><input value="$1" name="n"/><input type="checkbox" name="c" value="1"/>` +
		`<input type="radio" name="r" value="x"/><input type="radio" checked="checked" name="r" value="y"/><textarea name="t">` + "\n&lt;/textarea&gt;" + `</textarea></form></details>` +
		`<details><form method="post" action="/b"><input name="n" value="stays"/></form></details>`
	typed := url.Values{"version": {"3"}, "n": {`1" >`, "$1"}, "r": {"y"}, "t": {"</textarea>"}}
	if got := refill(page, "/a", typed); got != want {
		t.Errorf("\n%s\nwant\n%s", got, want)
	}
	if got := refill(page, "/nowhere", typed); got != page {
		t.Errorf("no form of its, and it is\n%s", got)
	}
}

// A station that is no number is told by its pattern and its place, without talk of
// how the file is written.
func TestStationIsTold(t *testing.T) {
	for lang, want := range map[string]string{
		"en": `diameters of the pattern, station 3: "fourteen" is no number`,
		"de": `Durchmesser des Modells, Messstelle 3: "fourteen" ist keine Zahl`,
	} {
		if got := words.Told(lang)(`[[pattern]] stations_mm station 3: "fourteen" is text, not a plain number`); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Slips of the first page and of the first pattern are told once, each where it is.
func TestFirstSlips(t *testing.T) {
	shop, h := patternBench(t)
	set, err := shop.Settings()
	if err != nil {
		t.Fatal(err)
	}
	if w := sendFrom(h, "workshop", "workshop", url.Values{"version": {strconv.FormatInt(set.Version, 10)}, "maker/host": {"https://F.example/"}}); w.Code != http.StatusSeeOther {
		t.Error("an address copied out of the browser is not taken as a host:", text(w.Body.String()))
	}
	if set, err := shop.Settings(); err != nil || set.Doc.Text("maker/host") != "F.example" {
		t.Error(set.Doc.Text("maker/host"), err)
	}

	if w := send(h, "POST", "begin", url.Values{"name": {"26-12"}}); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code)
	}
	d, err := shop.Draft("26-12")
	if err != nil {
		t.Fatal(err)
	}
	send(h, "POST", "b/26-12/patterns/new", url.Values{"version": {strconv.FormatInt(d.Version, 10)}, "name": {"Sedge"}, "kind": {"loaded"}})
	form := formOf(t, send(h, "GET", "b/26-12/patterns/0", nil).Body, "pattern")
	form.Set("d.2", "fourteen")
	send(h, "POST", "b/26-12/patterns/0", form)
	page := text(send(h, "GET", "b/26-12/patterns/0", nil).Body.String())
	if !strings.Contains(page, `station 3: "fourteen" is no number`) || strings.Contains(page, "of the mark") || strings.Contains(page, "[[") {
		t.Error(page)
	}
}

// A form with a file comes back too, all but the file.
func TestRefusedFormWithFile(t *testing.T) {
	a := demo(t)
	for _, c := range []struct {
		to, from, field string
		says            string
		typed           [2]string
		again           string
	}{
		{"open", "", "file", "there is no batch file among them", [2]string{"more", "x"}, ""},
		{"b/26-11/patterns/0", "b/26-11/patterns/0", "file", "which version it was made on", [2]string{"waterline_mm", "as deep as it goes"}, `value="as deep as it goes"`},
	} {
		var body bytes.Buffer
		m := multipart.NewWriter(&body)
		_ = m.WriteField("version", "none")
		_ = m.WriteField(c.typed[0], c.typed[1])
		f, err := m.CreateFormFile(c.field, "shape.txt")
		if err != nil {
			t.Fatal(err)
		}
		_, _ = f.Write([]byte("no shape"))
		if err := m.Close(); err != nil {
			t.Fatal(err)
		}
		r := httptest.NewRequest(http.MethodPost, Path+c.to, &body)
		r.Header.Set("Content-Type", m.FormDataContentType())
		r.Header.Set("Referer", "http://"+r.Host+Path+c.from)
		w := a.send(r)
		p := w.Body.String()
		if w.Code != http.StatusUnprocessableEntity || strings.Contains(p, "That did not work") || !strings.Contains(text(p), c.says) || !strings.Contains(p, c.again) {
			t.Errorf("%s: %d %s", c.to, w.Code, text(p))
		}
		if !strings.Contains(text(p), "the file that was chosen is not kept by the page choose it again") {
			t.Errorf("%s: %s", c.to, text(p))
		}
	}
}
