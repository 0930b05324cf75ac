package bench

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// patternBench is the bench of a workshop with the demonstration's batch.
func patternBench(t testing.TB) (*job.Workshop, http.Handler) {
	t.Helper()
	shop, err := job.Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	h := New(shop, Options{Language: "en"})
	if w := send(h, "POST", "demo", url.Values{}); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	return shop, h
}

func send(h http.Handler, method, path string, form url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, Path+path, strings.NewReader(form.Encode()))
	if method == "POST" {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func draftOf(t testing.TB, shop *job.Workshop) job.Draft {
	t.Helper()
	d, err := shop.Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A form that is sent back as it came changes nothing of the pattern; what is
// typed stands in the file, and the floats of a pattern go with its key.
func TestPatternForm(t *testing.T) {
	shop, h := patternBench(t)
	was := draftOf(t, shop)
	for i := range was.Doc.Len("pattern") {
		at := "b/26-11/patterns/" + strconv.Itoa(i)
		page := send(h, "GET", at, nil)
		if page.Code != http.StatusOK {
			t.Fatal(page.Code, page.Body)
		}
		form := formOf(t, page.Body, "pattern")
		if w := send(h, "POST", at, form); w.Code != http.StatusSeeOther {
			t.Fatal(w.Code, w.Body)
		}
		now := draftOf(t, shop)
		if got, want := string(now.Doc.Source()), string(was.Doc.Source()); !sameNumbers(got, want) {
			t.Errorf("pattern %d: sent back as it came, the file is now\n%s", i, firstOther(got, want))
		}
		if now.Err != nil {
			t.Error(now.Err)
		}
	}
	page := send(h, "GET", "b/26-11/patterns/0", nil)
	form := formOf(t, page.Body, "pattern")
	form.Set("z.3", "20,5")
	form.Set("d.11", "4")
	form.Set("z.11", "100")
	form.Set("key", "sedge-waggler")
	form.Set("remove", "0")
	form.Del("remove")
	if w := send(h, "POST", "b/26-11/patterns/0", form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	now := draftOf(t, shop)
	if now.Err != nil {
		t.Fatal(now.Err)
	}
	st := now.File.Batch.Patterns[0].Profile.Stations()
	if len(st) != 12 || st[3].Z != 20.5 || st[8].Z != 100 || st[8].D != 4 {
		t.Errorf("stations %v", st)
	}
	if f := now.File.Batch.Floats[0]; f.Pattern.Key != "sedge-waggler" {
		t.Errorf("float 1 is of %q", f.Pattern.Key)
	}
	form.Set("remove", "11")
	form.Set("version", strconv.FormatInt(now.Version, 10))
	if w := send(h, "POST", "b/26-11/patterns/0", form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if n := len(draftOf(t, shop).File.Batch.Patterns[0].Profile.Stations()); n != 11 {
		t.Errorf("with one removed there are %d stations", n)
	}
	form.Set("name", "Other")
	if w := send(h, "POST", "b/26-11/patterns/0", form); w.Code != http.StatusConflict {
		t.Errorf("on an old version: %d", w.Code)
	}
}

// What is typed and not stored yet is shown, and is told when it is no body.
func TestPatternShape(t *testing.T) {
	shop, h := patternBench(t)
	was := draftOf(t, shop)
	form := formOf(t, send(h, "GET", "b/26-11/patterns/0", nil).Body, "pattern")
	form.Set("material", "balsa to 70 mm; peacock")
	form.Set("d.4", "18")
	w := send(h, "GET", "b/26-11/patterns/0/shape?"+form.Encode(), nil)
	for _, want := range []string{"<svg", "18 mm", "174 mm", "cm³", "of tin"} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("there is no %q in %s", want, w.Body)
		}
	}
	if w := send(h, "GET", "b/26-11/patterns/0?"+form.Encode(), nil); !strings.Contains(w.Body.String(), "not saved yet") || !strings.Contains(w.Body.String(), `value="18"`) {
		t.Error("the page of what is typed does not have it")
	}
	form.Set("d.4", "eighteen")
	if w := send(h, "GET", "b/26-11/patterns/0/shape?"+form.Encode(), nil); !strings.Contains(w.Body.String(), "eighteen") || strings.Contains(w.Body.String(), "<svg") {
		t.Errorf("of no number: %s", w.Body)
	}
	if draftOf(t, shop).Version != was.Version {
		t.Error("looking stored something")
	}
}

// A pattern that is half written is told once, on its page and in the lists.
func TestPatternIsTold(t *testing.T) {
	shop, h := patternBench(t)
	form := formOf(t, send(h, "GET", "b/26-11/patterns/0", nil).Body, "pattern")
	form.Set("waterline_mm", "400")
	if w := send(h, "POST", "b/26-11/patterns/0", form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if draftOf(t, shop).Err == nil {
		t.Fatal("a waterline off the float passes")
	}
	for _, page := range []string{"patterns", "patterns/0", "marks", "marks/0"} {
		w := send(h, "GET", "b/26-11/"+page, nil)
		if n := strings.Count(w.Body.String(), "is off the float"); w.Code != http.StatusOK || n != 1 {
			t.Errorf("%s: %d, told %d times", page, w.Code, n)
		}
	}
}

// A shape of parts is typed, grows by a row and loses one.
func TestPatternParts(t *testing.T) {
	shop, h := patternBench(t)
	post := func(set ...string) {
		t.Helper()
		form := formOf(t, send(h, "GET", "b/26-11/patterns/4", nil).Body, "pattern")
		for i := 0; i+1 < len(set); i += 2 {
			form.Set(set[i], set[i+1])
		}
		if w := send(h, "POST", "b/26-11/patterns/4", form); w.Code != http.StatusSeeOther {
			t.Fatal(w.Code, w.Body)
		}
		if err := draftOf(t, shop).Err; err != nil {
			t.Fatal(err)
		}
	}
	was := draftOf(t, shop).Doc.Text("pattern/4/stations_mm")
	post("shape", "parts")
	if got := draftOf(t, shop).Doc.Text("pattern/4/stations_mm"); got != was {
		t.Errorf("parts that nobody typed took the stations away: %s", got)
	}
	post("shape", "parts", "part.0", "stem", "from.0", "2,4", "long.0", "50", "part.1", "olive", "from.1", "14", "ends.1", "2.4", "long.1", "35",
		"part.2", "stem", "from.2", "2.4", "to.2", "2", "long.2", "70")
	if got, want := draftOf(t, shop).Doc.Text("pattern/4/shape_mm"), "[{long = 50.0, stem = 2.4}, {ends = 2.4, long = 35.0, olive = 14.0}, {long = 70.0, stem = [2.4, 2.0]}]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	post("part.3", "parallel", "from.3", "2", "long.3", "10")
	post("remove-part", "3")
	if n := draftOf(t, shop).Doc.Len("pattern/4/shape_mm"); n != 3 {
		t.Errorf("%d parts", n)
	}
}

// Patterns are added, copied and removed, and each step is undone.
func TestPatternsAreKept(t *testing.T) {
	shop, h := patternBench(t)
	do := func(path string, more ...string) job.Draft {
		t.Helper()
		form := url.Values{"version": {strconv.FormatInt(draftOf(t, shop).Version, 10)}}
		for i := 0; i+1 < len(more); i += 2 {
			form.Set(more[i], more[i+1])
		}
		if w := send(h, "POST", "b/26-11/"+path, form); w.Code != http.StatusSeeOther {
			t.Fatal(path, w.Code, w.Body)
		}
		return draftOf(t, shop)
	}
	for kind, name := range map[string]string{"unloaded": "Quill", "loaded": "Loaded one", "self-cocking": "Sedge", "exchangeable": "Base one"} {
		n := draftOf(t, shop).Doc.Len("pattern")
		d := do("patterns/new", "name", name, "kind", kind)
		if d.Doc.Len("pattern") != n+1 || d.Err != nil {
			t.Fatal(kind, d.Doc.Len("pattern"), d.Err)
		}
	}
	n := draftOf(t, shop).Doc.Len("pattern")
	if d := do("patterns/0/copy"); d.Doc.Len("pattern") != n+1 || d.Err != nil || d.Doc.Text("pattern/9/key") != "sedge-3" {
		t.Fatal(d.Doc.Text("pattern/9/key"), d.Err)
	}
	if d := do("patterns/9/remove"); d.Doc.Len("pattern") != n {
		t.Fatal(d.Doc.Len("pattern"))
	}
	if d := do("undo"); d.Doc.Len("pattern") != n+1 {
		t.Fatal(d.Doc.Len("pattern"))
	}
	if w := send(h, "GET", "b/26-11/patterns", nil); w.Code != http.StatusOK || strings.Count(w.Body.String(), "silhouette.svg") != n+1 {
		t.Error(w.Code, w.Body)
	}
	if w := send(h, "GET", "b/26-11/patterns/1/silhouette.svg", nil); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "<svg") {
		t.Error(w.Code)
	}
}

// A shape in a file is kept beside the batch.
func TestPatternFile(t *testing.T) {
	shop, h := patternBench(t)
	form := formOf(t, send(h, "GET", "b/26-11/patterns/0", nil).Body, "pattern")
	form.Set("shape", "file")
	w := postFile(h, "b/26-11/patterns/0", form, "file", `C:\floats\sedge.csv`, "height,diameter\n0,4\n30,16\n60,12\n174,3\n")
	if w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	d := draftOf(t, shop)
	if d.Err != nil || d.Doc.Text("pattern/0/stations") != "sedge.csv" || len(d.File.Batch.Patterns[0].Profile.Stations()) != 4 {
		t.Fatal(d.Err, d.Doc.Text("pattern/0/stations"))
	}
	if got := d.Files(); len(got) != 1 || got[0] != "sedge.csv" {
		t.Error(got)
	}
	form = formOf(t, send(h, "GET", "b/26-11/patterns/0", nil).Body, "pattern")
	form.Set("tip", "#ffcc00")
	if w := send(h, "POST", "b/26-11/patterns/0", form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if d := draftOf(t, shop); d.Err != nil || d.Doc.Text("pattern/0/stations") != "sedge.csv" || d.Doc.Text("pattern/0/tip") != "#ffcc00" {
		t.Error(d.Err, d.Doc.Text("pattern/0/stations"))
	}
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297"><path d="M 107 200 L 113 170 L 106.5 40"/></svg>`
	form.Set("axis", "105")
	form.Set("version", strconv.FormatInt(draftOf(t, shop).Version, 10))
	if w := postFile(h, "b/26-11/patterns/0", form, "file", "reed.svg", svg); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if d := draftOf(t, shop); d.Doc.Text("pattern/0/outline/file") != "reed.svg" || d.Doc.Text("pattern/0/stations") != "" {
		t.Error(string(d.Doc.Source()))
	}
}

func readAll(t testing.TB, r io.Reader) string {
	t.Helper()
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// What somebody calls a pattern or a batch is no sentence: no language changes it.
func TestNamesAreNotTranslated(t *testing.T) {
	shop, err := job.Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	h := New(shop, Options{Language: "de"})
	send(h, "POST", "begin", url.Values{"name": {"Cards"}})
	d, err := shop.Draft("Cards")
	if err != nil {
		t.Fatal(err)
	}
	const named = "Grade" // as a page is
	if w := send(h, "POST", "b/Cards/patterns/new", url.Values{"version": {strconv.FormatInt(d.Version, 10)}, "name": {named}, "kind": {"loaded"}}); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	for _, page := range []string{"b/Cards/patterns/0", "b/Cards/marks/0"} {
		if body := send(h, "GET", page, nil).Body.String(); !strings.Contains(body, ">"+named+"</h1>") || !strings.Contains(body, "<title>"+named+" ·") {
			t.Errorf("%s does not call the pattern %s", page, named)
		}
	}
	if body := send(h, "GET", "b/Cards", nil).Body.String(); !strings.Contains(body, "Cards</h1>") {
		t.Error("the batch is not called Cards")
	}
}
