package bench

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// The language that is chosen on a page outranks what the browser accepts, and
// leads nowhere but to the pages that it stands on.
func TestTongue(t *testing.T) {
	shop, err := job.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	h := New(shop, Options{})
	ask := func(method, path string, form url.Values, cookies ...*http.Cookie) *http.Response {
		r := httptest.NewRequest(method, Path+path, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Accept-Language", "fr")
		for _, c := range cookies {
			r.AddCookie(c)
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Result()
	}
	for on, to := range map[string]string{"": Path, "workshop": Path + "workshop", "//elsewhere.example": Path} {
		set := ask(http.MethodPost, "language", url.Values{"to": {"de"}, "on": {on}})
		if at, _, _ := strings.Cut(set.Header.Get("Location"), "#"); set.StatusCode != http.StatusSeeOther || at != to {
			t.Errorf("%q leads to %q, %d", on, at, set.StatusCode)
		}
		if len(set.Cookies()) != 1 {
			t.Fatalf("%q keeps %v", on, set.Cookies())
		}
		page := ask(http.MethodGet, "workshop", nil, set.Cookies()...)
		var b strings.Builder
		if err := page.Write(&b); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.String(), `<html lang="de">`) || !strings.Contains(b.String(), `lang="de" aria-current="true">Deutsch`) {
			t.Errorf("%q: not in German", on)
		}
		if n := strings.Count(b.String(), `class="tongues"`); n != 1 {
			t.Errorf("the choice stands there %d times", n)
		}
	}
	if bad := ask(http.MethodPost, "language", url.Values{"to": {"xx"}}); bad.StatusCode != http.StatusUnprocessableEntity || len(bad.Cookies()) != 0 {
		t.Errorf("a language without words: %d, %v", bad.StatusCode, bad.Cookies())
	}
}
