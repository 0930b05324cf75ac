package bench

import (
	"context"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
)

// at is a maker at the bench of a workshop of his own.
type at struct {
	*testing.T
	shop *job.Workshop
	h    http.Handler
}

func atBench(t *testing.T) *at {
	t.Helper()
	shop, err := job.Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	return &at{t, shop, New(shop, Options{Patience: time.Minute})}
}

// begun is a bench with the batch 26-11 of one pattern and no floats.
func begun(t *testing.T) *at {
	t.Helper()
	a := atBench(t)
	head, _, _ := strings.Cut(string(job.DemoSource()), "# No weight built in:")
	demo, err := a.shop.NewDraft(context.Background(), "26-11", job.ByBench)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := parsed(head)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = a.shop.EditDraft(context.Background(), "26-11", demo.Version, "begin", job.ByBench, same(doc, "pattern", "maker")); err != nil {
		t.Fatal(err)
	}
	return a
}

// demo is a bench with the demonstration batch.
func demo(t *testing.T) *at {
	t.Helper()
	a := atBench(t)
	if _, err := a.shop.OpenTankSource(context.Background(), "demo.toml", job.DemoSource(), nil, job.ByBench); err != nil {
		t.Fatal(err)
	}
	return a
}

func (a *at) send(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	a.h.ServeHTTP(w, r)
	return w
}

// page is a page of the batch that must be shown.
func (a *at) page(path string) string {
	a.Helper()
	w := a.send(httptest.NewRequest("GET", Path+"b/26-11/"+path, nil))
	if w.Code != http.StatusOK {
		a.Fatalf("%s: %d %s", path, w.Code, w.Body)
	}
	return w.Body.String()
}

// post sends a form of the batch, made on the version that there is, and wants it
// answered so.
func (a *at) post(status int, path string, pairs ...string) *httptest.ResponseRecorder {
	a.Helper()
	f := url.Values{}
	if d, err := a.shop.Draft("26-11"); err == nil {
		f.Set("version", fmt.Sprint(d.Version))
	}
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i] == "version" {
			f.Del("version")
		}
		f.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest("POST", Path+"b/26-11/"+path, strings.NewReader(f.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := a.send(r)
	if w.Code != status {
		a.Fatalf("%s: %d, want %d: %s", path, w.Code, status, text(w.Body.String()))
	}
	return w
}

// draft is the batch as it stands.
func (a *at) draft() job.Draft {
	a.Helper()
	d, err := a.shop.Draft("26-11")
	if err != nil {
		a.Fatal(err)
	}
	return d
}

var tags = regexp.MustCompile(`<[^>]*>`)

// text is what a page says.
func text(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(page, " "))), " ")
}

// From a pattern alone to floats that can be tested: ratings, floats, their
// weights down the board, one with a dedication.
func TestFloatsFromNothing(t *testing.T) {
	a := begun(t)
	if p := text(a.page("floats")); !strings.Contains(p, "Say which ratings the batch has") || strings.Contains(p, "How many") {
		t.Errorf("a batch without floats does not show how to begin: %s", p)
	}
	a.post(303, "floats/ratings", "rating.0.load", "8", "rating.0.price", "6.50", "rating.1.load", "10 g", "rating.1.band", "#2b6cb0")
	a.post(422, "floats/add", "count", "0", "pattern", "sedge", "rating", "8 g")
	a.post(303, "floats/add", "count", "3", "pattern", "sedge", "rating", "8 g")
	if d := a.draft(); d.Err == nil || d.Doc.Len("float") != 3 {
		t.Fatalf("%d floats, %v", d.Doc.Len("float"), d.Err)
	}
	if p := text(a.page("floats")); !strings.Contains(p, "wrong at 3 of the floats") || !strings.Contains(p, "is loaded, and this float has no weight built in") || strings.Contains(p, "26-11.toml:") {
		t.Errorf("what is missing is not told at the floats: %s", p)
	}
	if p := a.page("floats?column=built_in"); strings.Count(p, `name="v.`) != 3 {
		t.Error("a column cannot be typed down the board")
	}
	a.post(303, "floats/column", "column", "built_in", "metal", "brass", "v.0", "7.21", "v.1", "7,19 g", "v.2", "7.2")
	a.post(303, "floats/one", "dedication", "for Ann", "pattern", "sedge-large", "rating", "10 g", "built_in", "9", "metal", "tin", "reading", "0.9")
	d := a.draft()
	if d.Err != nil {
		t.Fatal(d.Err)
	}
	b := d.File.Batch
	if len(b.Floats) != 4 || b.Floats[1].Weight.Mass != 7.19 || b.Floats[3].Dedication != "for Ann" || b.Floats[3].Number != 4 || b.Floats[3].Reading.Hung != 0.9 {
		t.Errorf("%+v", b.Floats)
	}
	if len(b.Ratings) != 2 || b.Ratings[0].Price != "6.50" || fmt.Sprint(b.Ratings[1].Band) != "#2b6cb0" {
		t.Errorf("%+v", b.Ratings)
	}
	if p := a.page("floats"); !strings.Contains(p, `b/26-11/tank">Test them`) {
		t.Error("whole floats do not lead on to the tank")
	}
	// A rating with another load takes its floats with it.
	a.post(303, "floats/ratings", "rating.0.load", "8.5 g", "rating.0.price", "6.50", "rating.1.load", "10 g", "rating.1.band", "#2b6cb0")
	if d := a.draft(); d.Err != nil || d.File.Batch.Floats[0].Nominal != 8.5 || d.File.Batch.Floats[3].Nominal != 10 {
		t.Errorf("%v", d.Err)
	}
	a.post(303, "undo")
	if d := a.draft(); d.File.Batch.Floats[0].Nominal != 8 {
		t.Error("the ratings are not undone")
	}
}

// A row is changed, rows go, and the others are numbered anew.
func TestFloatsChanged(t *testing.T) {
	a := demo(t)
	if p := a.page("floats?edit=0"); !strings.Contains(p, `value="7.21 g"`) || !strings.Contains(p, `<option value="brass" selected`) {
		t.Error("the form does not show the float")
	}
	a.post(303, "floats/row", "place", "0", "number", "40", "pattern", "sedge", "rating", "8 g", "built_in", "7.3", "metal", "tin", "reading", "0,8", "bare", "",
		"note", "sanded", "dedication", "", "diameters_mm", "30 16.1; 54 13,5")
	d := a.draft()
	if d.Err != nil {
		t.Fatal(d.Err)
	}
	if f := d.File.Batch.Floats[25]; f.Number != 40 || f.Weight.Mass != 7.3 || f.Reading.Hung != 0.8 || f.Bare != nil || f.Note != "sanded" || !f.Measured {
		t.Errorf("%+v", f)
	}
	if p := text(a.page("floats")); !strings.Contains(p, "30 16.1; 54 13.5") {
		t.Error("its diameters are not shown")
	}
	a.post(422, "floats/remove")
	a.post(303, "floats/remove", "pick", "1", "pick", "3")
	a.post(303, "floats/renumber")
	b := a.draft().File.Batch
	if len(b.Floats) != 24 || b.Floats[0].Number != 1 || b.Floats[0].Weight.Mass != 7.22 || b.Floats[23].Number != 24 || b.Floats[23].Note != "sanded" {
		t.Errorf("%d floats, %+v", len(b.Floats), b.Floats[0])
	}
	a.post(409, "floats/add", "count", "1", "pattern", "reed", "rating", "4.5 g", "version", "1")
}

// What is pasted is shown as understood, with what is wrong at its row, and stored
// only when it is taken over.
func TestFloatsPasted(t *testing.T) {
	a := demo(t)
	p := text(a.post(422, "floats/paste", "text", "number\tpattern\trating g\tbuilt in g\tmetal\treading\n27\tsedge\t8\t7,21\tbrass\t0,74 g\n5\tsedge\t7\t7.2\tbras\t\n").Body.String())
	for _, want := range []string{"understood: 2. Something is missing or wrong at: 1.", "float 5 stands twice give", "no rating 7 g", `there is no metal "bras"`} {
		if !strings.Contains(p, want) {
			t.Errorf("%q is not told: %s", want, p)
		}
	}
	if p := text(a.post(422, "floats/paste", "text", "number;colour\n1;red").Body.String()); !strings.Contains(p, `unknown column "colour"`) {
		t.Error("a column that means nothing is not told")
	}
	if a.draft().Doc.Len("float") != 26 {
		t.Fatal("looking stored something")
	}
	const good = "number;pattern;rating g;reading g\r\n1;reed;4,5;4,26\r\n2;rush;2,5;2,35\r\n"
	if p := a.post(200, "floats/paste", "text", good, "instead", "1").Body.String(); !strings.Contains(text(p), "Floats that were understood: 2. Nothing is stored yet.") || !strings.Contains(p, "4,26") {
		t.Errorf("%s", text(p))
	}
	a.post(303, "floats/paste", "text", good, "instead", "1", "do", "take")
	if d := a.draft(); d.Err != nil || len(d.File.Batch.Floats) != 2 || d.File.Batch.Floats[0].Reading.Hung != 4.26 {
		t.Errorf("%v", d.Err)
	}
}

// Floats of a CSV file that came with the batch file are shown, and can be taken
// into it.
func TestFloatsOfAFile(t *testing.T) {
	a := atBench(t)
	head, _, _ := strings.Cut(string(job.DemoSource()), "[[float]]")
	src := strings.Replace(head, "\n[maker]", "\nfloats = \"floats.csv\"\n[maker]", 1)
	csv := []byte("number,pattern,rating g,reading g\n17,reed,4.5,4.26\n18,reed,4.5,4.24\n")
	if _, err := a.shop.OpenTankSource(context.Background(), "a.toml", []byte(src), map[string][]byte{"floats.csv": csv}, job.ByBench); err != nil {
		t.Fatal(err)
	}
	if p := text(a.page("floats")); !strings.Contains(p, "4.24 g") || !strings.Contains(p, "stand in the file floats.csv") {
		t.Errorf("%s", p)
	}
	a.post(422, "floats/renumber")
	a.post(303, "floats/here")
	a.post(303, "floats/renumber")
	if d := a.draft(); d.Err != nil || d.File.Floats != nil || d.File.Batch.Floats[1].Number != 2 {
		t.Errorf("%v", d.Err)
	}
}

func TestFloatsPrintedHow(t *testing.T) {
	a := demo(t)
	a.post(303, "floats/printed", "print/convention", "continental", "print/film", "a4-film-clear", "print/dpi", "1200", "print/step", "0.1", "print/code", "anyhow",
		"print/spares", "1", "cards?", "1", "card", "gb-modern", "card", "continental")
	d := a.draft()
	if d.Err != nil {
		t.Fatal(d.Err)
	}
	f := d.File
	if f.Batch.Convention.Key != "continental" || f.Film != "a4-film-clear" || f.DPI != 1200 || f.Batch.Step != 0.1 || f.CodeHeld != 1 || f.Spares != 1 ||
		len(f.Batch.Cards) != 2 || f.Batch.Cards[0].Key != "gb-modern" {
		t.Errorf("%+v", f)
	}
}

func parsed(src string) (*batch.Doc, error) { return batch.ParseDoc([]byte(src)) }

// same takes what stands at paths over from another document.
func same(from *batch.Doc, paths ...string) func(*batch.Doc) error {
	return func(d *batch.Doc) error {
		for _, p := range paths {
			v, _ := from.Get(p)
			if err := d.Set(p, v); err != nil {
				return err
			}
		}
		return nil
	}
}

// What is pasted may be written as people write it, and as the page itself shows it:
// patterns and metals by their names, columns in any of its languages, a bare number
// of a load as grams.
func TestFloatsPastedAsPeopleWrite(t *testing.T) {
	a := demo(t)
	for name, pasted := range map[string]string{
		"english": "No.\tPattern\tRating (g)\tBuilt in\tMetal\tReading\n31\tSedge waggler\t8\t7,21\tBrass\t0,74\n",
		"german":  "Nr.;Modell;Tragkraft g;eingebaut;Metall;Messwert;Notiz\r\n31;SEDGE;8;7,21 g;Messing;0,74;\"lang; gut\"\r\n",
		"french":  "N°,Modèle,Grammage g,intégré,métal,mesure\n31,sedge,8,7.21,laiton,0.74 g\n",
		"keys":    "\nnumber\tpattern\trating\tbuilt_in\tmetal\treading\n31\tsedge\t8\t7.21\tbrass\t0.74\n",
	} {
		was := a.draft().Doc.Len("float")
		page := a.post(200, "floats/paste", "text", pasted).Body.String()
		if !strings.Contains(text(page), "Floats that were understood: 1. Nothing is stored yet.") {
			t.Errorf("%s: %s", name, text(page))
			continue
		}
		a.post(303, "floats/paste", "text", pasted, "do", "take")
		d := a.draft()
		at := fmt.Sprintf("float/%d/", was)
		if d.Err != nil || d.Doc.Text(at+"pattern") != "sedge" || d.Doc.Text(at+"metal") != "brass" || d.Doc.Text(at+"reading") != "0.74 g" || d.Doc.Text(at+"built_in") != "7.21 g" {
			t.Errorf("%s: %v\n%s", name, d.Err, d.Doc.Source())
		}
		a.post(303, "floats/remove", "pick", fmt.Sprint(was))
	}
	p := text(a.post(422, "floats/paste", "text", "31;sedge;8;7,21;brass\n32;sedge;8;7,2;brass\n").Body.String())
	if !strings.Contains(p, "the first row does not name the columns") || strings.Contains(p, "unknown column") {
		t.Error("a table without a head row:", p)
	}
}

// A built-in weight that cannot be right is told where it is typed, and what was
// typed stands in the form again.
func TestFloatsBuiltInRefused(t *testing.T) {
	a := begun(t)
	a.post(303, "floats/ratings", "rating.0.load", "8")
	for _, c := range []struct{ built, pattern, says string }{
		{"7,2,0", "sedge", `"7,2,0" is not a mass`},
		{"9.9", "sedge", "what is built in, 9.9 g, is more than the rating of 8 g"},
		{"0", "sedge", "is none"},
	} {
		for _, path := range []string{"floats/add", "floats/one"} {
			w := a.sent(path, "floats", "count", "2", "dedication", "for Ann", "pattern", c.pattern, "rating", "8 g", "built_in", c.built, "metal", "brass")
			if p := w.Body.String(); w.Code != 422 || !strings.Contains(text(p), c.says) || !strings.Contains(p, `value="`+c.built+`"`) {
				t.Errorf("%s %s: %d %s", path, c.built, w.Code, text(p))
			}
		}
	}
	d := a.draft()
	if d.Doc.Len("float") != 0 {
		t.Fatalf("%d floats were added", d.Doc.Len("float"))
	}
	a.post(303, "floats/add", "count", "2", "pattern", "sedge", "rating", "8 g", "built_in", "7.2", "metal", "brass")
	w := a.sent("floats/column", "floats?column=built_in", "column", "built_in", "v.0", "7.1", "v.1", "72")
	if p := w.Body.String(); w.Code != 422 || !strings.Contains(text(p), "float 2") || !strings.Contains(text(p), "72 g, is more than the rating") || !strings.Contains(p, `value="72"`) {
		t.Errorf("down the board: %d %s", w.Code, text(p))
	}
	if p := text(a.post(422, "floats/paste", "text", "pattern\trating\tbuilt in\tmetal\nsedge\t8\t9.9\tbrass\n").Body.String()); !strings.Contains(p, "9.9 g, is more than the rating of 8 g") {
		t.Errorf("pasted: %s", p)
	}
	d, err := a.shop.EditDraft(t.Context(), "26-11", a.draft().Version, "another kind", job.ByBench, func(d *batch.Doc) error { return d.Set("pattern/0/kind", "unloaded") })
	if err != nil {
		t.Fatal(err)
	}
	key := d.Doc.Text("pattern/0/key")
	if p := text(a.post(422, "floats/add", "count", "1", "pattern", key, "rating", "8 g", "built_in", "7", "metal", "brass").Body.String()); !strings.Contains(p, "is unloaded, and this float has a weight built in") {
		t.Errorf("unloaded: %s", p)
	}
}

// sent is a form of the batch as it is sent from one of its pages.
func (a *at) sent(path, from string, pairs ...string) *httptest.ResponseRecorder {
	a.Helper()
	f := url.Values{"version": {fmt.Sprint(a.draft().Version)}}
	for i := 0; i < len(pairs); i += 2 {
		f.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest("POST", Path+"b/26-11/"+path, strings.NewReader(f.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Referer", "http://example.com"+Path+"b/26-11/"+from)
	return a.send(r)
}

// Rows without numbers are numbered on from the last float.
func TestFloatsPastedWithoutNumbers(t *testing.T) {
	a := demo(t)
	last := nextNumber(a.draft().Doc) - 1
	const rows = "pattern;rating;built in;metal\nsedge;8;7,2;brass\nsedge;8;7,1;brass\n"
	if p := text(a.post(200, "floats/paste", "text", rows).Body.String()); !strings.Contains(p, fmt.Sprint(last+2)) {
		t.Errorf("%s", p)
	}
	a.post(303, "floats/paste", "text", rows, "do", "take")
	d := a.draft().Doc
	if n := d.Len("float"); d.Text(fmt.Sprintf("float/%d/number", n-2)) != fmt.Sprint(last+1) || d.Text(fmt.Sprintf("float/%d/number", n-1)) != fmt.Sprint(last+2) {
		t.Error("they are not numbered on")
	}
	a.post(303, "floats/paste", "text", "number;pattern;rating\n7;sedge;8\n;sedge;8\n", "do", "take", "instead", "1")
	if d := a.draft().Doc; d.Len("float") != 2 || d.Text("float/0/number") != "7" || d.Text("float/1/number") != "8" {
		t.Error("in place of all they do not begin after the one that has a number")
	}
}

// A float of a pattern with weights to screw on is asked for each way it is fitted,
// and the figures it had go to the first.
func TestSetupsAreTyped(t *testing.T) {
	a := demo(t)
	if _, err := a.shop.EditDraft(context.Background(), "26-11", a.draft().Version, "x", job.ByBench, func(d *batch.Doc) error {
		return d.Set("pattern/0/kind", "exchangeable")
	}); err != nil {
		t.Fatal(err)
	}
	page := a.page("floats?edit=0")
	for _, want := range []string{`name="setup.0.name"`, `name="setup.0.built_in" value="7.21`, `name="setup.1.reading"`} {
		if !strings.Contains(page, want) {
			t.Errorf("no %s", want)
		}
	}
	if strings.Contains(page, `id="e-reading"`) {
		t.Error("figures of the float itself are asked for beside its set-ups")
	}
	form := []string{"place", "0", "setup.0.name", "7 g base", "setup.0.built_in", "7.21", "setup.0.metal", "brass", "setup.0.reading", "0.78",
		"setup.1.name", "6 g base", "setup.1.built_in", "6.2", "setup.1.metal", "brass", "setup.1.reading", "1.8",
		"setup.2.name", "", "setup.2.built_in", "", "setup.2.metal", "brass"}
	a.post(http.StatusSeeOther, "floats/row", append(form, "setup.2.reading", "")...)
	d := a.draft()
	if d.Doc.Len("float/0/setup") != 2 || d.Doc.Text("float/0/reading") != "" || d.Doc.Text("float/0/built_in") != "" || d.Doc.Text("float/0/setup/1/reading") != "1.8 g" {
		t.Errorf("%d set-ups: %s", d.Doc.Len("float/0/setup"), d.Doc.Source())
	}
	// Figures without a name are kept and told of, not lost.
	a.post(http.StatusSeeOther, "floats/row", append(form, "setup.2.reading", "2.1")...)
	if d = a.draft(); d.Doc.Len("float/0/setup") != 3 || d.Err == nil {
		t.Errorf("%d set-ups, %v", d.Doc.Len("float/0/setup"), d.Err)
	}
}
