package bench

import (
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label/words"
	"floatmark/loading/unit"
)

// inches sets the workshop's units on its page.
func inches(t testing.TB, shop *job.Workshop, h http.Handler, units string) {
	t.Helper()
	set, err := shop.Settings()
	if err != nil {
		t.Fatal(err)
	}
	form := url.Values{"version": {strconv.FormatInt(set.Version, 10)}, "maker/units": {units}}
	if w := send(h, "POST", "workshop", form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
}

// in sends a request of a reader of a language.
func in(h http.Handler, language, method, path string, form url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, Path+path, strings.NewReader(form.Encode()))
	r.Header.Set("Accept-Language", language)
	if method == "POST" {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// Forms that are shown in inches, with a point or a comma, and sent back as they
// came leave the batch file as it is, byte by byte.
func TestFormsInInchesMoveNothing(t *testing.T) {
	shop, h := patternBench(t)
	inches(t, shop, h, "imperial")
	if shop, err := job.Open(shop.Dir); err != nil || shop.Units() != unit.Imperial {
		t.Fatal("the workshop is not in inches", err)
	}
	was := draftOf(t, shop)
	forms := [][3]string{{"b/26-11/cards", "b/26-11/cards", `class="made`}, {"b/26-11/cards", "b/26-11/cards/prices", `action="/-/bench/b/26-11/cards/prices`},
		{"b/26-11/floats", "b/26-11/floats/ratings", `action="/-/bench/b/26-11/floats/ratings`}, {"b/26-11/floats", "b/26-11/floats/printed", `action="/-/bench/b/26-11/floats/printed`}, {"b/26-11/tank", "b/26-11/tank/how", `action="/-/bench/b/26-11/tank/how`}}
	for i := range was.Doc.Len("pattern") {
		n := strconv.Itoa(i)
		forms = append(forms, [3]string{"b/26-11/patterns/" + n, "b/26-11/patterns/" + n, `id="pattern`}, [3]string{"b/26-11/marks/" + n, "b/26-11/marks/" + n, `id="mark`})
	}
	for i := range was.Doc.Len("float") {
		if was.Doc.Len("float/"+strconv.Itoa(i)+"/diameters_mm")+was.Doc.Len("float/"+strconv.Itoa(i)+"/girths_mm") > 0 || i < 2 {
			forms = append(forms, [3]string{"b/26-11/floats?edit=" + strconv.Itoa(i), "b/26-11/floats/row", `action="/-/bench/b/26-11/floats/row`})
		}
	}
	for _, language := range []string{"en", "de"} {
		for _, f := range forms {
			page := in(h, language, "GET", f[0], nil)
			form := formAt(t, page.Body.String(), f[2])
			if lengths := !strings.HasSuffix(f[1], "prices") && !strings.HasSuffix(f[1], "ratings") && !strings.HasSuffix(f[1], "printed"); lengths && form.Get(unitsField) != "imperial" {
				t.Fatalf("%s: the form does not say that it is in inches: %v", f[0], form)
			}
			if w := in(h, language, "POST", f[1], form); w.Code != http.StatusSeeOther {
				t.Fatal(f[1], w.Code, w.Body)
			}
			now := draftOf(t, shop)
			if got, want := string(now.Doc.Source()), string(was.Doc.Source()); got != want {
				t.Fatalf("%s in %s: sent back as it came, the file is now\n%s", f[0], language, firstOther(got, want))
			}
		}
	}
}

// formAt is formOf for a form that begins with some text.
func formAt(t testing.TB, page, from string) url.Values {
	t.Helper()
	i := strings.Index(page, from)
	if i < 0 {
		t.Fatalf("there is no form with %q", from)
	}
	return formOf(t, strings.NewReader(`id="x"`+page[i+len(from)+1:]), "x")
}

// A pattern is typed in inches; the batch file has millimetres (25.4 mm to the
// inch, exact by definition), and inches are shown again as typed.
func TestPatternInInches(t *testing.T) {
	shop, h := patternBench(t)
	const at = "b/26-11/patterns/0"
	metric := draftOf(t, shop).File.Batch.Patterns[0].Profile
	inches(t, shop, h, "imperial")
	page := send(h, "GET", at, nil).Body.String()
	long := strconv.FormatFloat(float64(metric.Top())/25.4, 'f', 3, 64)
	for _, want := range []string{long + " in", " in³", "a sixteenth of an inch of tip carries", "height, in", "Waterline, in", "0.472 or 15/32"} {
		if !strings.Contains(page, want) {
			t.Errorf("there is no %q", want)
		}
	}
	form := formOf(t, strings.NewReader(page), "pattern")
	form.Set("z.3", "15/32")
	form.Set("d.3", "1-3/16″")
	form.Set("z.4", "30 mm")
	form.Set("waterline_mm", "6,25")
	if w := send(h, "POST", at, form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	doc := draftOf(t, shop).Doc
	stations := doc.Text("pattern/0/stations_mm")
	if !strings.Contains(stations, "[11.90625, 30.1625") || !strings.Contains(stations, "[30.0, ") || doc.Text("pattern/0/waterline_mm") != "158.75" {
		t.Errorf("%s, %s", stations, doc.Text("pattern/0/waterline_mm"))
	}
	page = send(h, "GET", at, nil).Body.String()
	for _, want := range []string{`value="0.469"`, `value="1.188"`, `value="1.181"`, `value="6.250"`} {
		if !strings.Contains(page, want) {
			t.Errorf("there is no %s", want)
		}
	}
	// A form that was shown in inches is read in inches when the workshop is metric again.
	form = formOf(t, strings.NewReader(page), "pattern")
	inches(t, shop, h, "")
	form.Set("waterline_mm", "6.5")
	if w := send(h, "POST", at, form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if now := draftOf(t, shop).Doc; now.Text("pattern/0/waterline_mm") != "165.1" || now.Text("pattern/0/stations_mm") != stations {
		t.Errorf("%s, %s", now.Text("pattern/0/waterline_mm"), now.Text("pattern/0/stations_mm"))
	}
	// In metric an inch that is said is one, and Germans read a comma.
	form = formOf(t, in(h, "de", "GET", at, nil).Body, "pattern")
	if form.Get("waterline_mm") != "165,1" {
		t.Errorf("a reader of German finds %q", form.Get("waterline_mm"))
	}
	form.Set("waterline_mm", "6 1/4 in")
	if w := in(h, "de", "POST", at, form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if now := draftOf(t, shop).Doc; now.Text("pattern/0/waterline_mm") != "158.75" {
		t.Error(now.Text("pattern/0/waterline_mm"))
	}
}

// The volume of a cylinder of 10 mm by 100 mm is 25π·100 mm³, 7.85 cm³ or 0.479
// in³ (1 in³ is 16.387064 cm³, NIST Handbook 44, appendix C, exact).
func TestVolume(t *testing.T) {
	v := math.Pi * 25 * 100
	for of, want := range map[unit.System]string{unit.Metric: "7.85 cm³", unit.Imperial: "0.479 in³"} {
		if got := words.MeasuresFor("en", of).Volume(v); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

func TestMarkInInches(t *testing.T) {
	shop, h := patternBench(t)
	inches(t, shop, h, "imperial")
	const at = "b/26-11/marks/0"
	form := formOf(t, send(h, "GET", at, nil).Body, "mark")
	form.Set("zone.0.at_mm", "1 3/16")
	form.Set("zone.0.height_mm", "20 mm")
	if w := send(h, "POST", at, form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	d := draftOf(t, shop)
	if from, high := d.Doc.Text("pattern/0/mark_from_mm"), d.Doc.Text("pattern/0/mark_height_mm"); from != "30.1625" || high != "20.0" {
		t.Error(from, high)
	}
	if page := send(h, "GET", at, nil).Body.String(); !strings.Contains(page, `value="1.188"`) || strings.Contains(text(page), " mm") {
		t.Errorf("%s", text(page))
	}
	if got := remedySays("en", words.MeasuresFor("en", unit.Imperial), job.Remedy{Says: "Move it to %s from the base end, %s high", Args: []string{"42 mm", "12.5 mm"}}); got != "Move it to 1.654 in from the base end, 0.492 in high" {
		t.Error(got)
	}
}

// At the tank the water is told in Fahrenheit and the tip in inches; the records
// have Celsius and millimetres.
func TestTankInInches(t *testing.T) {
	a := untested(t)
	inches(t, a.shop, a.h, "imperial")
	form := formAt(t, a.page("tank"), `action="`+Path+`b/26-11/tank/how`)
	form.Set("tank/water_c", "68")
	form.Set("tank/read_to_mm", "1/64")
	if w := send(a.h, "POST", "b/26-11/tank/how", form); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if d := a.draft().Doc; d.Text("tank/water_c") != "20" || d.Text("tank/read_to_mm") != "0.396875" {
		t.Error(d.Text("tank/water_c"), d.Text("tank/read_to_mm"))
	}
	page := a.page("tank")
	if form = formAt(t, page, `action="`+Path+`b/26-11/tank/how`); form.Get("tank/water_c") != "68" || form.Get("tank/read_to_mm") != "0.016" || !strings.Contains(page, "Water, °F") {
		t.Errorf("%v", form)
	}
	key := keyField.FindStringSubmatch(page)[1]
	a.post(303, "tank", unitsField, "imperial", "key", key, "number", "1", "set", "", "reading", "1/32 oz", "stage", "fitted", "above", "-1/32")
	// The same in metric: 1/32 of 25.4 mm, 1/32 of 28.349523125 g.
	metric := untested(t)
	metric.post(303, "tank/how", "tank/water_c", "20", "tank/read_to_mm", "0.396875")
	metric.post(303, "tank", "key", keyField.FindStringSubmatch(metric.page("tank"))[1], "number", "1", "set", "", "reading", "0.88592259765625", "stage", "fitted", "above", "-0.79375")
	var pulls []float64
	for _, shop := range []*job.Workshop{a.shop, metric.shop} {
		report, err := shop.Tank("26-11")
		if err != nil || len(report.Floats) != 1 || len(report.Floats[0].Readings) != 1 {
			t.Fatal(err, report)
		}
		pulls = append(pulls, float64(report.Floats[0].Readings[0].Pull))
	}
	if math.Abs(pulls[0]-pulls[1]) > 1e-9 || math.Abs(pulls[0]-0.88592259765625) < 1e-6 { // the tip counts
		t.Error(pulls)
	}
	if page = text(a.page("tank")); !strings.Contains(page, " oz)") {
		t.Errorf("there are no ounces beside the loads: %s", page)
	}
	key = keyField.FindStringSubmatch(a.page("tank"))[1]
	if w := a.post(422, "tank", unitsField, "imperial", "key", key, "number", "2", "set", "", "reading", "0.8", "stage", "fitted", "above", "a hair"); !strings.Contains(w.Body.String(), `value="a hair"`) {
		t.Error("what was typed is not there any more")
	}
}

// What workshop.toml says is obeyed and cannot be changed on the page.
func TestUnitsOfTheFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "workshop")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "workshop.toml"), []byte("format = 1\n[maker]\nunits = \"imperial\"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	shop, err := job.Open(dir)
	if err != nil || shop.Units() != unit.Imperial {
		t.Fatal(err)
	}
	page := send(New(shop, Options{}), "GET", "workshop", nil).Body.String()
	if !strings.Contains(page, `name="maker/units" disabled="disabled"`) || !strings.Contains(page, `<option value="imperial" selected="selected">`) {
		t.Error(text(page))
	}
}

// What a form shows of a value and takes back unchanged is that very value, and
// what was typed and stored is stored again as it is: nothing drifts, in either
// system and with either decimal sign.
func TestShownAndSavedAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := words.MeasuresFor(rapid.SampledFrom(words.Tags()).Draw(t, "language"), rapid.SampledFrom([]unit.System{unit.Metric, unit.Imperial}).Draw(t, "of"))
		value := rapid.OneOf(rapid.Map(rapid.Float64Range(0, 600), func(v float64) any { return v }),
			rapid.Map(rapid.Int64Range(0, 600), func(v int64) any { return v })).Draw(t, "value")
		for _, q := range []quantity{aLength, aTemperature, aNumber} {
			if got := q.typed(m, q.shown(m, value), value); got != value {
				t.Fatalf("%v is shown as %q and stored as %v", value, q.shown(m, value), got)
			}
			saved := q.typed(m, q.shown(m, value), nil) // as typed anew
			if again := q.typed(m, q.shown(m, saved), saved); again != saved {
				t.Fatalf("%v is stored again as %v", saved, again)
			}
			if q.shown(m, saved) != q.shown(m, value) {
				t.Fatalf("%q is shown again as %q", q.shown(m, value), q.shown(m, saved))
			}
		}
		var stations, list []any
		for range rapid.IntRange(1, 5).Draw(t, "n") {
			z, d := rapid.Float64Range(0, 200).Draw(t, "z"), rapid.Float64Range(0, 30).Draw(t, "d")
			stations, list = append(stations, []any{z, d}), append(list, []any{z, d})
		}
		if got := pairsTyped(m, pairsShown(m, list), list); pairsShown(m, got) != pairsShown(m, list) || !sameList(got, list) {
			t.Fatalf("%v is stored as %v", list, got)
		}
		form := url.Values{}
		for i, one := range stations {
			form.Set("z."+strconv.Itoa(i), aLength.shown(m, one.([]any)[0]))
			form.Set("d."+strconv.Itoa(i), aLength.shown(m, one.([]any)[1]))
		}
		d, err := batch.ParseDoc(nil)
		if err != nil {
			t.Fatal(err)
		}
		save := func(list []any) string {
			if err := d.Set("stations_mm", list); err != nil {
				t.Fatal(err)
			}
			return d.Text("stations_mm")
		}
		first := stationsTyped(m, form, stations)
		if again := save(stationsTyped(m, form, stations)); again != save(first) || len(first) != len(stations) {
			t.Fatalf("%s and %s", again, save(first))
		}
		for _, one := range first {
			if !holds(stations, one) {
				t.Fatalf("%v is none of %v", one, stations)
			}
		}
	})
}

func sameList(a any, b []any) bool {
	list, _ := a.([]any)
	for _, one := range list {
		if !holds(b, one) {
			return false
		}
	}
	return len(list) == len(b)
}

func holds(all []any, one any) bool {
	want := one.([]any)
	for _, x := range all {
		if x := x.([]any); x[0] == want[0] && x[1] == want[1] {
			return true
		}
	}
	return false
}

// Two lengths stand one after another in many ways.
func TestLengthsOf(t *testing.T) {
	for text, want := range map[string]string{
		"30 16.1": "30|16.1", "1.18 0.634": "1.18|0.634", "2 1/8 17/32": "2 1/8|17/32", "1.18 1 3/16": "1.18|1 3/16", "1 3/16 1 1/2": "1 3/16|1 1/2",
		"1 15/32": "1|15/32", "30 mm 16 mm": "30 mm|16 mm", "1 3/16 in 15/32 in": "1 3/16 in|15/32 in", "1 ½ ⅝": "1 ½|⅝", "": "",
	} {
		if got := strings.Join(lengthsOf(text), "|"); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// A form with files that nobody has read yet is left alone; one that was read says
// its units.
func TestMeasuresOfFormsWithFiles(t *testing.T) {
	a := atBench(t)
	inches(t, a.shop, a.h, "imperial")
	s := a.h.(*server)
	body := "--x\r\nContent-Disposition: form-data; name=\"units\"\r\n\r\nmetric\r\n--x--\r\n"
	r := httptest.NewRequest("POST", Path, strings.NewReader(body))
	r.Header.Set("Content-Type", "multipart/form-data; boundary=x")
	if m := s.measures(r); m.Units != unit.Imperial || r.MultipartForm != nil {
		t.Error("a form that was not read was read, or is not in the workshop's units")
	}
	if err := r.ParseMultipartForm(MostBody); err != nil {
		t.Fatal(err)
	}
	if m := s.measures(r); m.Units != unit.Metric {
		t.Error("the form's own units do not hold")
	}
}

func TestNumbersStayWithTheirUnit(t *testing.T) {
	for text, want := range map[string]string{
		"60 mm from the base end": "60\u00a0mm from the base end",
		"62 mm, 70 mm":            "62\u00a0mm, 70\u00a0mm",
		"33.4 % of 2 pieces":      "33.4\u00a0% of 2 pieces",
		"3 grams":                 "3 grams",
	} {
		if got := joined(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}
