package bench

import (
	"bytes"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
)

// The page shows the sheets of the plan, their pictures can be fetched, and its
// choices end in the batch file, from which they can be undone.
func TestSheetsPage(t *testing.T) {
	s, do := printingBench(t, Options{})
	code, _, page := do("GET", "b/26-11/sheets", nil)
	for _, want := range []string{"fresh sheets", "Sheet 1", "A fresh one: write its number on it.", "its top edge goes in first", Path + "b/26-11/sheets/1.png", Path + "b/26-11/print"} {
		if code != 200 || !strings.Contains(page, want) {
			t.Errorf("%d: the page lacks %q", code, want)
		}
	}
	code, h, data := do("GET", "b/26-11/sheets/1.png", nil)
	if code != 200 {
		t.Fatal(code, data)
	}
	if img, err := png.Decode(strings.NewReader(data)); err != nil || img.Bounds().Dx() < 500 || len(data) > 100_000 {
		t.Errorf("%d bytes, %v", len(data), err)
	}
	r := httptest.NewRequest("GET", Path+"b/26-11/sheets/1.png", nil)
	r.Header.Set("If-None-Match", h.Get("ETag"))
	w := httptest.NewRecorder()
	if s.ServeHTTP(w, r); w.Code != http.StatusNotModified || w.Body.Len() != 0 {
		t.Errorf("the same picture is sent again: %d", w.Code)
	}
	if code, _, data := do("GET", "b/26-11/sheets/1.svg", nil); code != 200 || !strings.Contains(data, "<svg") {
		t.Errorf("%d %.40s", code, data)
	}
	for _, path := range []string{"b/26-11/sheets/2.png", "b/26-11/sheets/x.png", "b/26-11/sheets/1.gif", "sheet/9.png", "sheet/x"} {
		if code, _, _ := do("GET", path, nil); code != http.StatusNotFound {
			t.Errorf("%s: %d", path, code)
		}
	}
	form := url.Values{"version": {versionOn(t, page)}, "film": {"a4-film-clear"}, "fill": {"tight"}, "keep": {"1"}, "feed": {"left"}, "spares": {"2"}, "ahead": {"0"}, "printer": {""}}
	if code, _, _ := do("POST", "b/26-11/sheets", form); code != http.StatusSeeOther {
		t.Fatal(code)
	}
	d, err := s.shop().Draft("26-11")
	if err != nil || d.Err != nil || !d.File.Tight || !d.File.Together || d.File.Spares != 2 || d.File.Ahead != 0 || d.File.Feed != 3 || d.File.Film != "a4-film-clear" || d.Undoes == "" {
		t.Errorf("%+v, %v", d.File, err)
	}
	form.Set("spares", "3")
	if code, _, _ := do("POST", "b/26-11/sheets", form); code != http.StatusConflict {
		t.Errorf("made on an old version: %d", code)
	}
	_, _, page = do("GET", "b/26-11/sheets", nil)
	form.Set("version", versionOn(t, page))
	form.Set("spares", "some")
	do("POST", "b/26-11/sheets", form)
	code, _, page = do("GET", "b/26-11/sheets", nil)
	if code != 200 || !strings.Contains(page, `value="some"`) || !strings.Contains(page, "findings") {
		t.Errorf("%d: what was typed wrong is not shown with what is wrong", code)
	}
}

// What is noted of a part-used sheet can be corrected, and the next plan counts on
// it.
func TestSheetCorrected(t *testing.T) {
	s, do := printingBench(t, Options{})
	_, _, page := do("GET", "b/26-11/print", nil)
	do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}})
	ended(t, s, "print 26-11")
	do("POST", "b/26-11/print/1", url.Values{"how": {"right"}})
	was, err := s.shop().Sheet(1)
	if err != nil {
		t.Fatal(err)
	}
	post := func(form url.Values, want int) {
		t.Helper()
		if code, _, said := do("POST", "b/26-11/sheets/1", form); code != want {
			t.Errorf("%v: %d\n%s", form, code, said)
		}
	}
	post(url.Values{"what": {"part"}, "edge": {"top"}, "deep": {"80,5"}}, http.StatusSeeOther)
	is, err := s.shop().Sheet(1)
	if err != nil || is.Spent < was.Spent+0.2 {
		t.Errorf("spent %.2f, then %.2f, %v", was.Spent, is.Spent, err)
	}
	post(url.Values{"what": {"part"}, "edge": {"top"}, "deep": {"a hand"}}, http.StatusUnprocessableEntity)
	post(url.Values{"what": {"part"}, "edge": {"middle"}, "deep": {"3"}}, http.StatusUnprocessableEntity)
	post(url.Values{}, http.StatusUnprocessableEntity)
	post(url.Values{"what": {"written off"}, "note": {"creased"}}, http.StatusSeeOther)
	if _, _, page := do("GET", "b/26-11/sheets", nil); !strings.Contains(page, "Sheets out of use") || !strings.Contains(page, "creased") {
		t.Error("the page does not list the sheet that is out of use")
	}
	post(url.Values{"what": {"reopen"}}, http.StatusSeeOther)
	if is, err := s.shop().Sheet(1); err != nil || is.State != "open" {
		t.Errorf("%s, %v", is.State, err)
	}
	if _, _, data := do("GET", "sheet/1.png", nil); !bytes.HasPrefix([]byte(data), []byte("\x89PNG")) {
		t.Errorf("%.10q", data)
	}
}

// Packed as for printing, the figures are those of the print; once a sheet is noted
// otherwise they are worked out anew.
func TestSheetsPacked(t *testing.T) {
	s, do := printingBench(t, Options{})
	const offered = "Pack it as closely as the print does"
	if _, _, page := do("GET", "b/26-11/sheets", nil); !strings.Contains(page, offered) {
		t.Error("it is not offered")
	}
	if code, _, _ := do("POST", "b/26-11/sheets/pack", nil); code != http.StatusSeeOther {
		t.Fatal(code)
	}
	ended(t, s, "pack 26-11")
	code, _, page := do("GET", "b/26-11/sheets", nil)
	if code != 200 || strings.Contains(page, offered) || !strings.Contains(page, "Sheet 1") {
		t.Errorf("%d: it is not shown as packed", code)
	}
	if code, _, _ := do("GET", "b/26-11/sheets/1.png", nil); code != 200 {
		t.Error(code)
	}
	s.forget()
	if _, _, page := do("GET", "b/26-11/sheets", nil); !strings.Contains(page, offered) {
		t.Error("what was packed before is shown still")
	}
}

// A plan that takes long does not keep the page: it shows that it goes on, and the
// plan when it is there.
func TestSheetsWait(t *testing.T) {
	s, do := printingBench(t, Options{})
	d, err := s.shop().Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest("GET", Path+"b/26-11/sheets", nil)
	r.SetPathValue("batch", "26-11")
	var p sheetsPage
	plan, err := s.quickPlan(r, d, &p, 0)
	if err != nil || plan == nil && (p.Work == nil || p.Work.Here != Path+"b/26-11/sheets" || p.Work.Now == "") {
		t.Fatalf("%v %+v %v", plan, p.Work, err)
	}
	if plan == nil {
		ended(t, s, "plan 26-11")
	}
	if _, _, text := do("GET", "b/26-11/sheets/state", nil); !strings.Contains(text, `"running":false`) {
		t.Error(text)
	}
	if code, _, page := do("GET", "b/26-11/sheets", nil); code != 200 || !strings.Contains(page, "Sheet 1") || strings.Contains(page, "data-work") {
		t.Errorf("%d\n%s", code, page)
	}
}
