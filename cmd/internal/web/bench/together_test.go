package bench

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// another puts the batch of a bench into its workshop under another name, on a film.
func another(t *testing.T, s *server, name, film string) {
	t.Helper()
	d, err := s.shop().Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	src := strings.Replace(string(d.Doc.Source()), `"26-11"`, `"`+name+`"`, 1)
	if film != "" {
		src = strings.Replace(src, `film = "`+d.File.Film+`"`, `film = "`+film+`"`, 1)
	}
	if _, err := s.shop().OpenTankSource(context.Background(), name+".toml", []byte(src), nil, job.ByBench); err != nil {
		t.Fatal(err)
	}
}

// A batch is printed together with another: what that saves is shown before, the
// common file and each batch's own are there after, and each is settled.
func TestTogether(t *testing.T) {
	s, do := printingBench(t, Options{})
	const here = "b/26-11/together"
	code, _, page := do("GET", here, nil)
	if code != 200 || !strings.Contains(page, "No other batch waits") {
		t.Fatalf("%d\n%s", code, text(page))
	}
	if code, _, page := do("GET", "b/26-11/sheets", nil); code != 200 || !strings.Contains(page, Path+here) {
		t.Error("the page of sheets does not lead here")
	}
	leads := func(want bool) {
		t.Helper()
		if _, _, page := do("GET", "b/26-11/print", nil); strings.Contains(page, Path+here) != want {
			t.Errorf("the page of prints leads here: %v, not %v", !want, want)
		}
	}
	leads(false)
	another(t, s, "26-12", "")
	leads(true)
	another(t, s, "other", "a5-film-white")
	_, _, page = do("GET", here, nil)
	if !strings.Contains(page, `value="26-12"`) || strings.Contains(page, `value="other"`) || !strings.Contains(page, "for other film: white waterslide film, A5") {
		t.Fatal(text(page))
	}
	do("GET", here+"?with=26-12", nil)
	ended(t, s, "compared 26-11")
	code, _, page = do("GET", here+"?with=26-12", nil)
	for _, want := range []string{"fresh sheets saved 1", "sheets to put into the printer 1 2", "Make the prints together"} {
		if code != 200 || !strings.Contains(text(page), want) {
			t.Errorf("%d: the page lacks %q\n%s", code, want, text(page))
		}
	}
	if code, h, _ := do("GET", here+"/0.png?with=26-12", nil); code != 200 || h.Get("Content-Type") != "image/png" {
		t.Errorf("the picture: %d %v", code, h)
	}
	if code, _, _ := do("GET", here+"/1.png?with=26-12", nil); code != http.StatusNotFound {
		t.Errorf("a picture of no sheet: %d", code)
	}
	v := versionOn(t, page)
	for _, bad := range []url.Values{{"version": {v}}, {"version": {v}, "with": {"26-12"}}, {"with": {"26-12"}, "seen": {"1"}}} {
		if code, _, _ := do("POST", here, bad); code != http.StatusUnprocessableEntity {
			t.Errorf("%v: %d", bad, code)
		}
	}
	other, err := s.shop().Draft("26-12")
	if err != nil {
		t.Fatal(err)
	}
	if code, _, _ := do("POST", here, url.Values{"version": {v}, "with": {"26-12"}, "seen": {"999"}}); code != http.StatusConflict {
		t.Errorf("of a version that nobody saw: %d", code)
	}
	form := url.Values{"version": {v}, "with": {"26-12"}, "seen": {fmt.Sprint(other.Version)}, "coarse": {"1"}}
	if code, _, _ := do("POST", here, form); code != http.StatusSeeOther {
		t.Fatal(code)
	}
	ended(t, s, "together 26-11")
	for _, at := range []string{here, "b/26-12/together"} {
		code, _, page = do("GET", at, nil)
		for _, want := range []string{"Prints 1-2 on common sheets", `download="decals-26-11-26-12-prints-1-2.pdf"`, "jobsheet-26-11-print-1.pdf", "jobsheet-26-12-print-2.pdf"} {
			if code != 200 || !strings.Contains(page, want) {
				t.Errorf("%s: %d: the page lacks %q\n%s", at, code, want, text(page))
			}
		}
	}
	if strings.Contains(page, "part-used: take") || strings.Count(page, "a fresh one") != 1 {
		t.Errorf("which sheet to put in: %s", text(page))
	}
	if code, h, pdf := do("GET", "together/1-2/decals-26-11-26-12-prints-1-2.pdf", nil); code != 200 || !strings.HasPrefix(pdf, "%PDF-") || h.Get("Content-Type") != "application/pdf" {
		t.Errorf("%d %v %.10q", code, h, pdf)
	}
	for _, bad := range []url.Values{{}, {"how": {"spoilt"}, "lost": {"x"}}, {"how": {"right"}, "number": {"9"}}} {
		if code, _, _ := do("POST", here+"/1-2", bad); code != http.StatusUnprocessableEntity {
			t.Errorf("%v: %d", bad, code)
		}
	}
	if code, _, _ := do("POST", here+"/1-2", url.Values{"how": {"spoilt"}, "number": {"2"}}); code != http.StatusSeeOther {
		t.Error(code)
	}
	if code, _, _ := do("POST", here+"/1-2", url.Values{"how": {"right"}}); code != http.StatusSeeOther {
		t.Error(code)
	}
	// The same once more is a button pressed twice; another answer is refused.
	if code, _, _ := do("POST", here+"/1-2", url.Values{"how": {"right"}}); code != http.StatusSeeOther {
		t.Errorf("settled twice: %d", code)
	}
	if code, _, _ := do("POST", here+"/1-2", url.Values{"how": {"right"}, "number": {"2"}}); code != http.StatusUnprocessableEntity {
		t.Errorf("settled otherwise: %d", code)
	}
	all, err := s.shop().Prints()
	if err != nil || len(all) != 2 || all[0].State != "confirmed" || all[1].State != "cancelled" {
		t.Errorf("%+v, %v", all, err)
	}
	if _, _, page = do("GET", here, nil); strings.Contains(page, "how did they come out") || !strings.Contains(page, "came out right") || !strings.Contains(page, "given up") {
		t.Errorf("%s", text(page))
	}
}
