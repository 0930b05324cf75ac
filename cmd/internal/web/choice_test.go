package web

import (
	"compress/gzip"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// request sends one request with headers and follows no redirect.
func request(t *testing.T, method, url, body string, header map[string]string) *http.Response {
	t.Helper()
	r, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for k, v := range header {
		r.Header.Set(k, v)
	}
	c := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := c.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// The choice is made with a plain form, told in the same answer, and kept by a
// cookie that holds nothing else.
func TestChoiceIsKept(t *testing.T) {
	s := serve(t, one())
	res := request(t, "GET", s.URL+"/9KYA3C?set=continental&metal=tin&water=sea", "", nil)
	page := read(t, res)
	first := plainText(page)
	for _, want := range []string{"With the add of its mark the tip would stand", "worked out from the shape", "Each size is taken to weigh in tin"} {
		if !strings.Contains(first, want) {
			t.Errorf("the answer does not say %q:\n%s", want, first)
		}
	}
	for _, want := range []string{`value="continental" selected`, `value="tin" selected`, `value="sea" checked`} {
		if !strings.Contains(page, want) {
			t.Errorf("the form does not show %q", want)
		}
	}
	cookie := res.Header.Get("Set-Cookie")
	for _, want := range []string{"choice=metal=tin&set=continental&water=sea", "Path=/", "SameSite=Lax", "HttpOnly"} {
		if !strings.Contains(cookie, want) {
			t.Errorf("the cookie is %q", cookie)
		}
	}
	kept, _, _ := strings.Cut(cookie, ";")
	again := request(t, "GET", s.URL+"/9KYA3C", "", map[string]string{"Cookie": kept})
	if got := plainText(read(t, again)); got != first || again.Header.Get("Set-Cookie") != "" {
		t.Errorf("the next visit says something else, or sets a cookie again: %q", again.Header.Get("Set-Cookie"))
	}
	if res := request(t, "GET", s.URL+"/9KYA3C", "", nil); res.Header.Get("Set-Cookie") != "" {
		t.Error("a cookie for a reader who chose nothing")
	}
}

// What no form sends is as if nothing were chosen.
func TestOddChoices(t *testing.T) {
	s := serve(t, one())
	plain := plainText(read(t, request(t, "GET", s.URL+"/9KYA3C", "", nil)))
	for _, q := range []string{"set=nothing", "metal=%3Cscript%3E", "water=beer", "set=" + strings.Repeat("a", 5000), "water=%00", "lang=xx", "set=gb-modern&set=continental"} {
		res := request(t, "GET", s.URL+"/9KYA3C?"+q, "", nil)
		if got := plainText(read(t, res)); res.StatusCode != 200 || got != plain {
			t.Errorf("%.40s: %d, %.300s", q, res.StatusCode, got)
		}
	}
	for _, c := range []string{"choice=%zz", "choice=a=b=c", "choice=set=" + strings.Repeat("x", 4000), `choice="`} {
		if res := request(t, "GET", s.URL+"/9KYA3C", "", map[string]string{"Cookie": c}); res.StatusCode != 200 {
			t.Errorf("cookie %.40s: %d", c, res.StatusCode)
		}
	}
}

func TestLanguages(t *testing.T) {
	s := serve(t, one())
	for accept, want := range map[string]string{"": "en", "de-AT,de;q=0.9,en;q=0.5": "de", "fr": "fr", "it-CH": "it", "pl;q=0.8,ja;q=1": "pl", "ja": "en", ";;;": "en",
		strings.Repeat("x-y,", 2000): "en", "en;q=0.1,de;q=0.2": "de"} {
		res := request(t, "GET", s.URL+"/9KYA3C", "", map[string]string{"Accept-Language": accept})
		if got := read(t, res); !strings.Contains(got, `<html lang="`+want+`">`) {
			t.Errorf("%.40q leads to %.60q, want %s", accept, got[strings.Index(got, "<html"):], want)
		}
	}
	res := request(t, "GET", s.URL+"/9KYA3C?lang=it", "", map[string]string{"Accept-Language": "de"})
	if got := read(t, res); !strings.Contains(got, `<html lang="it">`) || !strings.Contains(res.Header.Get("Set-Cookie"), "lang=it") {
		t.Errorf("a language asked for: cookie %q", res.Header.Get("Set-Cookie"))
	}
	// Slips are told in the reader's language too.
	res = request(t, "GET", s.URL+"/9KYA3D", "", map[string]string{"Accept-Language": "de"})
	if got := read(t, res); !strings.Contains(got, "Ein Zeichen scheint falsch") {
		t.Errorf("a slip in German: %s", plainText(got))
	}
	// A path that looks like another host is no link.
	res = request(t, "GET", s.URL+"//evil.example/x", "", nil)
	if got := read(t, res); strings.Contains(got, `href="//`) {
		t.Error("a link to another host")
	}
}

// The query of a choice, whatever it holds, gives a page.
func FuzzChoice(f *testing.F) {
	for _, s := range []string{"", "set=gb-modern&metal=tin&water=sea", "set=%00", "lang=de&water=fresh", "id=a;b", "%zz"} {
		f.Add(s, "/9KYA3C")
	}
	f.Add("", "/../x")
	f.Add("id=x", "/-/find")
	h := New(one(), Options{})
	f.Fuzz(func(t *testing.T, query, path string) {
		if len(path) == 0 || path[0] != '/' {
			path = "/" + path
		}
		r := &http.Request{Method: "GET", URL: &url.URL{Path: path, RawQuery: query}, Host: "localhost", Header: http.Header{}, RemoteAddr: "192.0.2.1:1"}
		w := &recorder{header: http.Header{}}
		h.ServeHTTP(w, r.WithContext(t.Context()))
		if w.code < 200 || w.code >= 500 {
			t.Fatalf("%q %q: %d", path, query, w.code)
		}
		text := w.body.String()
		if w.code == 200 || w.code >= 400 {
			if strings.Contains(strings.ToLower(text), "<script") || strings.Count(text, "</style>") != 1 {
				t.Fatalf("%q %q: hostile text got through", path, query)
			}
		}
		if to := w.header.Get("Location"); strings.HasPrefix(to, "//") || strings.Contains(to, ":") {
			t.Fatalf("%q %q leads to %q", path, query, to)
		}
	})
}

// Every choice there is has an answer in every language, and the table of a plain
// page says what the server says.
func TestPlainSaysTheSame(t *testing.T) {
	e := sample()
	v := View{Language: "de", Script: "x.js"}
	page, err := Page(e, v)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, row := range strings.Split(attribute(t, string(page), "data-adds"), "\n") {
		c := strings.Split(row, "|")
		if len(c) != 7 {
			continue
		}
		n++
		served, err := Page(e, View{Language: "de", Choice: job.Choice{Convention: c[0], Metal: c[1], Water: c[2]}})
		if err != nil {
			t.Fatal(err)
		}
		said := plainText(string(served))
		for _, want := range c[3:6] {
			if !strings.Contains(said, want) {
				t.Errorf("%v: the server does not say %q", c, want)
			}
		}
	}
	sets, metals := job.AnglerSets(nil)
	if want := len(sets) * len(metals) * 2; n != want { // each set's own metal is among them, once
		t.Errorf("%d rows, want %d", n, want)
	}
}

// A page is packed for a reader who takes it so, and for no other.
func TestPacked(t *testing.T) {
	s := serve(t, one())
	plain := read(t, request(t, "GET", s.URL+"/9KYA3C", "", map[string]string{"Accept-Encoding": "identity"}))
	for accept, want := range map[string]bool{"gzip": true, "br, gzip;q=0.5": true, "gzip;q=0": false, "gzip; q=0.00": false, "x-gzip": false, "identity": false} {
		res := request(t, "GET", s.URL+"/9KYA3C", "", map[string]string{"Accept-Encoding": accept})
		got := read(t, res)
		if is := res.Header.Get("Content-Encoding") == "gzip"; is != want {
			t.Errorf("%q: packed %v", accept, is)
			continue
		}
		if want {
			z, err := gzip.NewReader(strings.NewReader(got))
			if err != nil {
				t.Fatal(err)
			}
			all, err := io.ReadAll(z)
			if err != nil {
				t.Fatal(err)
			}
			if len(got) > len(all)*2/5 {
				t.Errorf("packed %d of %d bytes", len(got), len(all))
			}
			got = string(all)
		}
		if got != plain {
			t.Errorf("%q gives another page", accept)
		}
	}
}
