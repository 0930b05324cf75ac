package bench

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
)

// Who comes second is told what was not stored, by the page's own names.
func TestChangedTellsWhatWasTyped(t *testing.T) {
	a := demo(t)
	load := a.draft().Doc.Text("rating/0/load")
	send := func(path, from string, form url.Values) string {
		t.Helper()
		form.Set("version", "0")
		r := httptest.NewRequest(http.MethodPost, Path+"b/26-11/"+path, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Accept-Encoding", "identity")
		if from != "" {
			r.Header.Set("Referer", "http://"+r.Host+Path+"b/26-11/"+from)
		}
		w := a.send(r)
		if w.Code != http.StatusConflict {
			t.Fatalf("%s: %d", path, w.Code)
		}
		return text(w.Body.String())
	}
	p := send("floats/ratings", "floats", url.Values{"rating.0.load": {load}, "rating.0.price": {"99.50"}, "rating.0.band": {"olive <b>"}})
	for _, want := range []string{"What you had typed", "price 99.50", "colour of the band olive <b>"} {
		if !strings.Contains(p, want) {
			t.Errorf("%q is not in %s", want, p)
		}
	}
	if strings.Contains(p, "load "+load) || strings.Contains(p, "version") {
		t.Errorf("what is there already is told: %s", p)
	}
	p = send("floats/row", "floats?edit=1", url.Values{"place": {"1"}, "pattern": {"reed"}, "note": {"two\r\nlines"}, "metal": {"tin"}, "reading": {""}})
	for _, want := range []string{"Pattern Reed", "Note two lines", "Metal tin", "(emptied)"} {
		if !strings.Contains(p, want) {
			t.Errorf("%q is not in %s", want, p)
		}
	}
	// Without the page, fields have the names that they are sent under.
	if p = send("floats/row", "", url.Values{"place": {"1"}, "note": {"n"}}); !strings.Contains(p, "note n") || strings.Contains(p, "place 1") {
		t.Errorf("%s", p)
	}
}
