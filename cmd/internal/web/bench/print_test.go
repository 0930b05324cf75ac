package bench

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
)

// printingBench is a bench on a new workshop with a batch of the demonstration's
// first two floats, without codes, which take a second to prove.
func printingBench(t *testing.T, o Options) (*server, func(method, path string, form url.Values) (int, http.Header, string)) {
	t.Helper()
	shop, err := job.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	few, _, _ := strings.Cut(string(job.DemoSource()), "[[float]]\nnumber = 3\n")
	plain := strings.Replace(few, `mark = "full" `, `mark = "least"`, 1)
	if plain == few {
		t.Fatal("the demonstration has other marks")
	}
	if _, err := shop.OpenTankSource(context.Background(), "few.toml", []byte(plain), nil, job.ByBench); err != nil {
		t.Fatal(err)
	}
	if o.Patience == 0 {
		o.Patience = time.Minute
	}
	h := New(shop, o).(*server)
	return h, func(method, path string, form url.Values) (int, http.Header, string) {
		t.Helper()
		r := httptest.NewRequest(method, Path+path, strings.NewReader(form.Encode()))
		if method == http.MethodPost {
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Code, w.Header(), w.Body.String()
	}
}

// ended waits for work to end.
func ended(t *testing.T, s *server, key string) {
	t.Helper()
	for range 600 {
		if w := s.works.of(key); w != nil && w.over() {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatal("it does not end")
}

// versionOn finds the version that a page's form was made on.
func versionOn(t *testing.T, page string) string {
	t.Helper()
	m := regexp.MustCompile(`name="version" value="(\d+)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no form with a version:\n%s", page)
	}
	return m[1]
}

// A batch is printed from its page, its files are there under names that are found
// again, and it is said how it came out.
func TestPrintPage(t *testing.T) {
	s, do := printingBench(t, Options{})
	code, _, page := do("GET", "b/26-11/print", nil)
	if code != 200 || !strings.Contains(page, "Make the print") || strings.Contains(page, "how did it come out") {
		t.Fatalf("%d\n%s", code, page)
	}
	if !strings.Contains(page, `class="big">Make the print`) || !strings.Contains(page, "<dt>floats</dt><dd>2</dd>") {
		t.Error("the page does not say how many floats it prints, or its button is not the main one")
	}
	if code, _, _ := do("POST", "b/26-11/print", url.Values{"version": {"999"}}); code != http.StatusConflict {
		t.Errorf("of a version that nobody saw: %d", code)
	}
	form := url.Values{"version": {versionOn(t, page)}, "where": {"shop"}, "coarse": {"1"}}
	code, h, _ := do("POST", "b/26-11/print", form)
	if code != http.StatusSeeOther || h.Get("Location") != Path+"b/26-11/print#title" {
		t.Fatal(code, h)
	}
	_, _, page = do("GET", "b/26-11/print", nil)
	first := s.works.of("print 26-11")
	if !first.over() && (!strings.Contains(page, "The print is being made") || strings.Contains(page, "Make the print")) {
		t.Error("the page does not show what goes on")
	}
	if do("POST", "b/26-11/print", form); !first.over() && s.works.of("print 26-11") != first {
		t.Error("two prints of one batch at once")
	}
	ended(t, s, "print 26-11")
	var now struct{ Running bool }
	if _, _, text := do("GET", "b/26-11/print/state", nil); json.Unmarshal([]byte(text), &now) != nil || now.Running {
		t.Errorf("state: %s", text)
	}
	code, _, page = do("GET", "b/26-11/print", nil)
	for _, want := range []string{"Print 1: how did it come out?", `download="decals-26-11-print-1.pdf"`, `download="jobsheet-26-11-print-1.pdf"`, "print/1/print-shop.zip"} {
		if code != 200 || !strings.Contains(page, want) {
			t.Errorf("%d: the page lacks %q", code, want)
		}
	}
	code, h, pdf := do("GET", "b/26-11/print/1/decals.pdf", nil)
	if code != 200 || !strings.HasPrefix(pdf, "%PDF-") || h.Get("Content-Type") != "application/pdf" || h.Get("Content-Disposition") != "inline; filename=decals-26-11-print-1.pdf" {
		t.Errorf("%d %v %.10q", code, h, pdf)
	}
	_, _, packed := do("GET", "b/26-11/print/1/print-shop.zip", nil)
	if _, _, again := do("GET", "b/26-11/print/1/print-shop.zip", nil); again != packed {
		t.Error("packed twice it differs")
	}
	z, err := zip.NewReader(strings.NewReader(packed), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		in, err := f.Open()
		var buf bytes.Buffer
		if err == nil {
			_, err = buf.ReadFrom(in)
		}
		want, err2 := s.shop().ReadPrintFile("26-11", 1, "shop/"+strings.TrimPrefix(f.Name, "print-shop-26-11-print-1/"))
		if err != nil || err2 != nil || !bytes.Equal(buf.Bytes(), want) {
			t.Errorf("%s: %v %v", f.Name, err, err2)
		}
	}
	if !slices.Contains(names, "print-shop-26-11-print-1/order.pdf") || !slices.IsSorted(names) {
		t.Errorf("it holds %v", names)
	}
	for _, path := range []string{"b/26-11/print/2/decals.pdf", "b/26-11/print/1/none.pdf", "b/other/print/1/decals.pdf"} {
		if code, _, _ := do("GET", path, nil); code != http.StatusNotFound {
			t.Errorf("%s: %d", path, code)
		}
	}
	if code, _, _ := do("POST", "b/26-11/print/1", url.Values{"how": {"right"}}); code != http.StatusSeeOther {
		t.Errorf("it came out right: %d", code)
	}
	_, _, page = do("GET", "b/26-11/print", nil)
	if !strings.Contains(page, "came out right") || strings.Contains(page, "how did it come out") || !strings.Contains(page, Path+"b/26-11/tick") {
		t.Error("the print is not among the earlier ones, or nothing says what comes next")
	}
	if !strings.Contains(page, `class="plain">Make the print`) || strings.Index(page, "came out right") > strings.Index(page, "Make the print") {
		t.Error("a further print comes before what is next")
	}
}

// Some marks spoilt: the print is right but for them, and they are printed again
// on what is left of the film; all of it spoilt: the sheet is written off.
func TestPrintSpoilt(t *testing.T) {
	s, do := printingBench(t, Options{})
	_, _, page := do("GET", "b/26-11/print", nil)
	do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}})
	ended(t, s, "print 26-11")
	for text, want := range map[string]string{"": "which floats", "x": "no number", "3": "no float 3"} {
		if code, _, page := do("POST", "b/26-11/print/1", url.Values{"how": {"some"}, "floats": {text}}); code != http.StatusUnprocessableEntity || !strings.Contains(page, want) {
			t.Errorf("spoilt %q: %d", text, code)
		}
	}
	if code, _, _ := do("POST", "b/26-11/print/1", url.Values{"how": {"some"}, "floats": {"2"}}); code != http.StatusSeeOther {
		t.Fatal(code)
	}
	ended(t, s, "print 26-11")
	all, err := s.shop().BatchPrints("26-11")
	if err != nil || len(all) != 2 || all[0].State != "confirmed" || all[1].State != "pending" || !slices.Equal(all[1].Floats, []int{2}) ||
		len(all[1].Sheets) != 1 || !all[1].Sheets[0].PartUsed {
		t.Fatalf("%+v, %v", all, err)
	}
	_, _, page = do("GET", "b/26-11/print", nil)
	if !strings.Contains(page, "part-used: take it from your sheets") {
		t.Error("the page does not tell which sheet to put in")
	}
	if !strings.Contains(text(page), "Print 1 came out right") || !strings.Contains(text(page), "printed once more since: 2") {
		t.Errorf("the first print does not tell what was spoilt of it: %s", text(page))
	}
	if code, _, _ := do("POST", "b/26-11/print/2", url.Values{"how": {"spoilt"}, "lost": {"1"}}); code != http.StatusSeeOther {
		t.Error(code)
	}
	if sheet, err := s.shop().Sheet(1); err != nil || sheet.State != "written off" {
		t.Errorf("%+v, %v", sheet.SheetLine, err)
	}
	if code, _, _ := do("POST", "b/26-11/print/2", url.Values{"how": {"right"}}); code != http.StatusUnprocessableEntity {
		t.Errorf("settled twice: %d", code)
	}
	// The same answer once more, as by a button pressed twice, is no mistake.
	for number, how := range map[string]string{"1": "right", "2": "spoilt"} {
		if code, _, _ := do("POST", "b/26-11/print/"+number, url.Values{"how": {how}}); code != http.StatusSeeOther {
			t.Errorf("print %s, %s twice: %d", number, how, code)
		}
	}
	// Floats that are none are told of before anything is laid out, as they were typed.
	_, _, page = do("GET", "b/26-11/print", nil)
	if code, _, page := do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "only": {"2, 99"}}); code != http.StatusUnprocessableEntity ||
		!strings.Contains(page, "no float 99") || !strings.Contains(page, `value="2, 99"`) {
		t.Errorf("a float that is none: %d", code)
	}
	// The very same once more: refused, unless it is asked for.
	_, _, page = do("GET", "b/26-11/print", nil)
	do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}})
	ended(t, s, "print 26-11")
	if code, _, page := do("GET", "b/26-11/print", nil); code != http.StatusUnprocessableEntity || !strings.Contains(page, "came out right") || strings.Contains(page, "--again") {
		t.Errorf("%d\n%s", code, page)
	}
}

// A print that is stopped leaves nothing, and its page says so.
func TestPrintStopped(t *testing.T) {
	s, do := printingBench(t, Options{})
	_, _, page := do("GET", "b/26-11/print", nil)
	do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}})
	if code, _, _ := do("POST", "b/26-11/print/stop", nil); code != http.StatusSeeOther {
		t.Error(code)
	}
	ended(t, s, "print 26-11")
	if all, err := s.shop().BatchPrints("26-11"); err != nil || len(all) != 0 {
		t.Errorf("%+v, %v", all, err)
	}
	if code, _, page := do("GET", "b/26-11/print", nil); code != 200 || !strings.Contains(page, "The print was stopped") {
		t.Errorf("%d\n%s", code, page)
	}
}

func TestFloatNumbers(t *testing.T) {
	for text, want := range map[string]string{"": "[]", "7": "[7]", "12-14, 3;7 7": "[3 7 12 13 14]", " 2–3 ": "[2 3]", "x": "", "0": "", "3-1": "", "-3": "", "1-99999": ""} {
		got, err := floatNumbers(text)
		if said := fmt.Sprint(got); (err == nil) != (want != "") || err == nil && said != want {
			t.Errorf("%q: %s, %v", text, said, err)
		}
	}
}

// Marks put on by hand lie on no film, and the page of their print speaks of none.
func TestPrintByHand(t *testing.T) {
	s, do := printingBench(t, Options{})
	d, err := s.shop().Draft("26-11")
	if err == nil {
		_, err = s.shop().EditDraft(context.Background(), "26-11", d.Version, "x", job.ByBench, func(d *batch.Doc) error { return d.Set("print/film", "by-hand") })
	}
	if err != nil {
		t.Fatal(err)
	}
	_, _, page := do("GET", "b/26-11/print", nil)
	do("POST", "b/26-11/print", url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}})
	ended(t, s, "print 26-11")
	_, _, page = do("GET", "b/26-11/print", nil)
	if !strings.Contains(page, "Print the jigs") || strings.Contains(page, "its place on the film") || strings.Contains(page, "left of the film") || strings.Contains(page, "Try the proof") {
		t.Error(text(page))
	}
}
