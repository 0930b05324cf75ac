package bench

import (
	"archive/zip"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/loading/fault"
)

// plainSite makes pages that say their id and no more.
type plainSite struct{}

func (plainSite) Common() ([]job.SiteFile, error) {
	return []job.SiteFile{{Name: "index.html", Data: []byte(siteHead)}}, nil
}

func (plainSite) Float(e label.Entry, _ label.Build, _ func(int) string) (pages, with []job.SiteFile, err error) {
	return []job.SiteFile{{Name: "index.html", Data: []byte(siteHead + "<p>" + e.ID + "</p>")}}, nil, nil
}

const siteHead = `<!DOCTYPE html><meta name="generator" content="floatmark"/>`

// recordedBench is printingBench with its batch printed.
func recordedBench(t *testing.T, o Options) (*server, func(method, path string, form url.Values) (int, http.Header, string)) {
	s, do := printingBench(t, o)
	_, _, page := do("GET", "b/26-11/print", nil)
	do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}})
	ended(t, s, "print 26-11")
	return s, do
}

// An empty workshop says how records begin.
func TestRecordsEmpty(t *testing.T) {
	_, do := printingBench(t, Options{})
	if code, _, page := do("GET", "records", nil); code != 200 || !strings.Contains(page, "Nothing is recorded yet") {
		t.Errorf("%d\n%s", code, page)
	}
	if code, _, page := do("GET", "records?q=8g", nil); code != 200 || !strings.Contains(page, "Nothing is recorded yet") {
		t.Errorf("%d\n%s", code, page)
	}
	if code, _, _ := do("GET", "records/site.zip", nil); code != http.StatusNotFound {
		t.Errorf("a site that nobody published: %d", code)
	}
}

// Records are found by what stands in them and by batch, and lead to both pages of
// a float.
func TestRecordsFound(t *testing.T) {
	s, do := recordedBench(t, Options{})
	floats, more, err := s.shop().FloatsOf("26-11", 10)
	if err != nil || len(floats) != 2 || more {
		t.Fatalf("%+v, %v", floats, err)
	}
	if one, more, err := s.shop().FloatsOf("26-11", 1); err != nil || len(one) != 1 || !more {
		t.Errorf("%d, %v, %v", len(one), more, err)
	}
	first, second := floats[0].Key, floats[1].Key
	for path, want := range map[string][2]bool{
		"records":                                  {false, false},
		"records?batch=26-11":                      {true, true},
		"records?batch=26-11&status=in+work":       {true, true},
		"records?batch=26-11&status=sold":          {false, false},
		"records?q=" + first:                       {true, false},
		"records?q=26-11&status=in+work":           {true, true},
		"records?q=" + url.QueryEscape("<qqz>&\""): {false, false},
	} {
		code, _, page := do("GET", path, nil)
		for i, id := range []string{first, second} {
			if has := strings.Contains(page, `href="/-/record/`+id+`"`) && strings.Contains(page, `href="/`+id+`"`); code != 200 || has != want[i] {
				t.Errorf("%s: %d, float %d there: %v, want %v", path, code, i+1, has, want[i])
			}
		}
		if strings.Contains(page, "<qqz>") {
			t.Errorf("%s: what was typed is markup", path)
		}
	}
	copies(t, do)
}

// copies holds that copies are whole and named by their day.
func copies(t *testing.T, do func(method, path string, form url.Values) (int, http.Header, string)) {
	t.Helper()
	code, h, data := do("GET", "records/backup.db", nil)
	if code != 200 || !strings.HasPrefix(data, "SQLite format 3") || !strings.Contains(h.Get("Content-Disposition"), "floatmark-backup-2") {
		t.Errorf("%d %v %.20q", code, h, data)
	}
	code, _, data = do("GET", "records/floats.csv", nil)
	if code != 200 || strings.Count(data, "\n") != 3 {
		t.Errorf("%d\n%s", code, data)
	}
	code, _, data = do("GET", "records/export.zip", nil)
	z, err := zip.NewReader(strings.NewReader(data), int64(len(data)))
	if code != 200 || err != nil || len(z.File) < 2 || z.File[0].Name != "floatmark-export/floats.csv" {
		t.Errorf("%d %v", code, err)
	}
}

// Pages are published into the workshop, the codes on floats lead to them, and one
// that is taken away is missed.
func TestPublishPage(t *testing.T) {
	asked := "unasked"
	s, do := recordedBench(t, Options{Site: func(language string) (job.Site, error) {
		asked = language
		if language == "xx" {
			return nil, fault.Inputf("take another", "there are no words for it")
		}
		return plainSite{}, nil
	}})
	if code, _, page := do("GET", "records/publish", nil); code != 200 || !strings.Contains(page, "Publish for the first time") || !strings.Contains(page, "Your codes name f.example") {
		t.Errorf("%d\n%s", code, page)
	}
	if code, _, _ := do("POST", "records/publish", url.Values{"language": {"xx"}}); code != http.StatusUnprocessableEntity {
		t.Errorf("in a language without words: %d", code)
	}
	if code, _, _ := do("POST", "records/publish", url.Values{"language": {"de"}}); code != http.StatusSeeOther || asked != "de" {
		t.Fatal(code, asked)
	}
	ended(t, s, publishKey)
	done, _, err := s.works.of(publishKey).outcome()
	if p, ok := done.(job.Published); err != nil || !ok || p.Floats != 2 {
		t.Fatalf("%+v, %v", done, err)
	}
	do("POST", "records/links", url.Values{"where": {"folder"}})
	ended(t, s, linksKey)
	code, _, page := do("GET", "records/publish", nil)
	for _, want := range []string{"Publish again", "files written", "lead to their float", "records/site.zip", "f.example must go on answering"} {
		if code != 200 || !strings.Contains(page, want) {
			t.Errorf("%d: the page lacks %q\n%s", code, want, page)
		}
	}
	links, _, err := s.works.of(linksKey).outcome()
	if l, ok := links.(job.LinkCheck); err != nil || !ok || l.Codes == 0 || l.Found != l.Codes || len(l.Bad) != 0 {
		t.Errorf("%+v, %v", links, err)
	}
	_, _, packed := do("GET", "records/site.zip", nil)
	if z, err := zip.NewReader(strings.NewReader(packed), int64(len(packed))); err != nil || len(z.File) < 3 {
		t.Errorf("the site packed: %v", err)
	}
	if code, _, page := do("POST", "records/links", url.Values{"where": {"host"}}); code != http.StatusUnprocessableEntity || !strings.Contains(page, "which host") {
		t.Errorf("no host: %d", code)
	}
}

// Without a maker of pages there is nothing to press.
func TestPublishWithoutSite(t *testing.T) {
	_, do := printingBench(t, Options{})
	if _, _, page := do("GET", "records/publish", nil); strings.Contains(page, "Write the pages") {
		t.Error("pages can be written")
	}
	if code, _, _ := do("POST", "records/publish", nil); code != http.StatusInternalServerError {
		t.Error(code)
	}
}

// After many records were taken over a search shows that it is made ready, which can
// be stopped, and what is found when it is.
func TestSearchOnItsWay(t *testing.T) {
	dir := t.TempDir()
	manyRecords(t, dir, 1, 4*fewBehind)
	shop, err := job.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	s := New(shop, Options{Patience: time.Nanosecond}).(*server)
	ask := func(method, path string) (int, http.Header, string) {
		w := httptest.NewRecorder()
		s.ServeHTTP(w, httptest.NewRequest(method, Path+path, nil))
		return w.Code, w.Header(), w.Body.String()
	}
	const query = "records?q=sedge&status="
	_, _, page := ask("GET", query)
	for _, want := range []string{`data-work="/-/bench/records/index/state"`, `data-here="/-/bench/records?q=sedge&amp;status="`, `action="/-/bench/records/index/stop?q=sedge&amp;status="`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if code, h, _ := ask("POST", "records/index/stop?q=sedge&status="); code != http.StatusSeeOther || !strings.HasPrefix(h.Get("Location"), Path+query) {
		t.Error(code, h)
	}
	one := s.works.of(indexKey)
	<-one.end
	if _, _, page := ask("GET", query); one.stopped() && !strings.Contains(page, `action="/-/bench/records/index?q=sedge&amp;status="`) {
		t.Errorf("it is not shown as stopped:\n%s", page)
	}
	if code, _, _ := ask("POST", "records/index?q=sedge&status="); code != http.StatusSeeOther {
		t.Error(code)
	}
	<-s.works.of(indexKey).end
	if _, _, page := ask("GET", query); strings.Contains(page, "data-work") || strings.Count(page, `class="id"`) != mostFound {
		t.Errorf("%d floats are found", strings.Count(page, `class="id"`))
	}
}

// Floats of a batch stand by their numbers, batches in the order they were found in.
func TestRecordsInOrder(t *testing.T) {
	var p recordsPage
	for _, one := range []job.Found{{Key: "c", Batch: "26-11", Number: 3}, {Key: "x", Batch: "26-02", Number: 2}, {Key: "a", Batch: "26-11", Number: 1}, {Key: "w", Batch: "26-02", Number: 1}} {
		one.Kind = "float"
		p.add(one)
	}
	p.inOrder()
	got := ""
	for _, one := range p.Floats {
		got += one.Key
	}
	if got != "acwx" {
		t.Errorf("they stand as %q", got)
	}
}
