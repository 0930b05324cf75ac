package bench

import (
	"bytes"
	"context"
	"errors"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
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

// A plan that takes long does not keep a page: it shows that it goes on and can be
// stopped, and the plan when it is there.
func TestPlanOnItsWay(t *testing.T) {
	s, do := printingBench(t, Options{Patience: time.Nanosecond})
	state := func() string { _, _, text := do("GET", "b/26-11/plan/state", nil); return text }
	if text := state(); !strings.Contains(text, `"running":false`) {
		t.Errorf("before anybody asked: %s", text)
	}
	// Whether the work is quicker than the stop is for the machine to say: it is
	// stopped until it is.
	stopped := false
	for range 20 {
		s.forget()
		if _, _, page := do("GET", "b/26-11/sheets", nil); !strings.Contains(page, `data-work="/-/bench/b/26-11/plan/state"`) || !strings.Contains(page, "plan/stop?page=sheets") {
			continue
		}
		if code, h, _ := do("POST", "b/26-11/plan/stop?page=cards", nil); code != http.StatusSeeOther || h.Get("Location") != Path+"b/26-11/cards#title" {
			t.Fatal(code, h)
		}
		if _, _, page := do("GET", "b/26-11/cards", nil); strings.Contains(page, "stopped before") && strings.Contains(page, `action="/-/bench/b/26-11/plan?page=cards"`) {
			stopped = true
			break
		}
	}
	if !stopped {
		t.Error("it is never shown as stopped")
	}
	if code, h, _ := do("POST", "b/26-11/plan?page=/elsewhere", nil); code != http.StatusSeeOther || strings.TrimSuffix(h.Get("Location"), "#title") != Path+"b/26-11" {
		t.Fatal(code, h)
	}
	for range 600 {
		if strings.Contains(state(), `"running":false`) {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	for page, want := range map[string]string{"sheets": "Sheet 1", "cards": "card-1-1.png"} {
		if code, _, text := do("GET", "b/26-11/"+page, nil); code != 200 || !strings.Contains(text, want) || strings.Contains(text, "data-work") {
			t.Errorf("%s: %d\n%s", page, code, text)
		}
	}
}

// A change begins the plan of what is there now, and stops that of what was.
func TestPlanAhead(t *testing.T) {
	s, _ := printingBench(t, Options{Ahead: true})
	var was *work
	for i := range 3 {
		old, err := s.shop().Draft("26-11")
		if err != nil {
			t.Fatal(err)
		}
		d, err := s.shop().EditDraft(context.Background(), "26-11", old.Version, "change a mark", job.ByBench, func(d *batch.Doc) error { return d.Set("print/spares", int64(i+1)) })
		if err != nil {
			t.Fatal(err)
		}
		s.ahead(d)
		one := s.going("26-11")
		if one == nil || one == was || one.on != d.Version {
			t.Fatalf("of version %d, %+v goes on", d.Version, one)
		}
		if was != nil {
			<-was.end
			if _, err := was.planned(); err != nil && !errors.Is(err, context.Canceled) {
				t.Errorf("the older one came to %v", err)
			}
		}
		was = one
	}
	<-was.end
	if plan, err := was.planned(); err != nil || len(plan.Spares) == 0 {
		t.Errorf("the newest came to %+v %v", plan, err)
	}
}

func TestStocksAreCalledByName(t *testing.T) {
	line := func(key, name string) (l job.StockLine) {
		l.Key, l.Name = key, name
		return l
	}
	all := []job.StockLine{line("a4-white", "white film"), line("mill-white", "white film"), line("clear", "clear film"), line("odd", "")}
	for i, want := range []string{"white film (a4-white)", "white film (mill-white)", "clear film", "odd"} {
		if got := stockCalled(all[i], all); got != want {
			t.Errorf("stock %q is called %q, want %q", all[i].Key, got, want)
		}
	}
}
