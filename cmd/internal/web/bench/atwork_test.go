package bench

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// A load is told in every convention, both ends of a range, and what cannot be read
// is said on the page.
func TestConvertPage(t *testing.T) {
	_, do := printingBench(t, Options{})
	if code, _, page := do("GET", "convert", nil); code != 200 || !strings.Contains(page, "press one of the examples") {
		t.Errorf("%d %s", code, text(page))
	}
	code, _, page := do("GET", "convert?load=3AAA%2B2No4&tip=3", nil)
	for _, want := range []string{"pulls under water", "2.8 g", "3½ AAA"} { // 3 × 0.8 g and 2 × 0.2 g, as present-day packets have them
		if code != 200 || !strings.Contains(strings.ReplaceAll(text(page), "\u00a0", " "), want) {
			t.Errorf("%d: it lacks %q: %s", code, want, text(page))
		}
	}
	if code, _, page := do("GET", "convert?load=8-9AAA", nil); code != 200 || !strings.Contains(page, "up to") {
		t.Errorf("%d %s", code, text(page))
	}
	for _, bad := range []string{"convert?load=many", "convert?load=4g&tip=x", "convert?load=4g&tip=0", "convert?load=4g&of=none"} {
		if code, _, page := do("GET", bad, nil); code != http.StatusUnprocessableEntity || !strings.Contains(page, `class="findings"`) {
			t.Errorf("%s: %d", bad, code)
		}
	}
}

// One float's mark is shown and printed without a batch, and becomes one when it is
// to be kept.
func TestOnePage(t *testing.T) {
	s, do := printingBench(t, Options{})
	if code, _, page := do("GET", "one", nil); code != 200 || !strings.Contains(page, "two figures are enough") {
		t.Errorf("%d %s", code, text(page))
	}
	q := url.Values{"load": {"0.8 g"}, "diameter": {"16"}, "built": {"7.2 g"}, "metal": {"brass"}, "style": {"full"}, "height": {""}, "film": {""}}
	code, _, page := do("GET", "one?"+q.Encode(), nil)
	for _, want := range []string{"The sheet to print", "8 g", "add 0.8", "one/mark.png?", "Make it a batch of one"} {
		if code != 200 || !strings.Contains(strings.ReplaceAll(page, "\u00a0", " "), want) {
			t.Errorf("%d: it lacks %q: %s", code, want, text(page))
		}
	}
	if code, h, data := do("GET", "one/mark.png?"+q.Encode(), nil); code != 200 || h.Get("Content-Type") != "image/png" || !strings.HasPrefix(data, "\x89PNG") {
		t.Errorf("%d %v", code, h)
	}
	if code, h, data := do("GET", "one/decal-8-g.pdf?"+q.Encode(), nil); code != 200 || !strings.HasPrefix(data, "%PDF-") || !strings.Contains(h.Get("Content-Disposition"), "decal-8-g.pdf") {
		t.Errorf("%d %v", code, h)
	}
	if prints, err := s.shop().Prints(); err != nil || len(prints) != 0 {
		t.Errorf("%v %v", prints, err)
	}
	for _, bad := range []string{"one?load=0.8+g", "one?load=x&diameter=16", "one?load=0.8+g&diameter=900"} {
		if code, _, page := do("GET", bad, nil); code != http.StatusUnprocessableEntity || strings.Contains(page, "--") {
			t.Errorf("%s: %d %s", bad, code, text(page))
		}
	}
	for name, want := range map[string]int{"": 422, "26-11": 422, "mended": 303} {
		if code, _, page := do("POST", "one", url.Values{"name": {name}, "of": {q.Encode()}}); code != want {
			t.Errorf("%q: %d, want %d: %s", name, code, want, text(page))
		}
	}
	d, err := s.shop().Draft("mended")
	if err != nil || d.Doc.Len("float") != 1 || d.Doc.Text("maker/name") != "" {
		t.Errorf("%v: %s", err, d.Doc.Source())
	}
}

// A stock of one's own is added, can be printed on, and is taken off again.
func TestStocksPage(t *testing.T) {
	s, do := printingBench(t, Options{})
	_, _, page := do("GET", "stocks", nil)
	if !strings.Contains(page, "a4-film-white") || !strings.Contains(page, "Your film is of another size") {
		t.Fatal(text(page))
	}
	form := url.Values{"version": {versionOn(t, page)}, "name": {"Mill film, half sheet"}, "like": {"a4-film-white"}, "wide": {"105"}, "high": {"200"}, "thick": {"0.02"}}
	for _, bad := range []struct{ key, value string }{{"name", " "}, {"wide", ""}, {"thick", "x"}, {"like", "nothing"}, {"wide", "9"}} {
		wrong := url.Values{}
		for k, v := range form {
			wrong[k] = v
		}
		wrong.Set(bad.key, bad.value)
		if code, _, page := do("POST", "stocks", wrong); code != http.StatusUnprocessableEntity || !strings.Contains(page, `class="findings"`) || strings.Contains(page, "workshop.toml:") {
			t.Errorf("%v: %d %s", bad, code, text(page))
		}
	}
	if code, _, page := do("POST", "stocks", form); code != http.StatusSeeOther {
		t.Fatal(code, text(page))
	}
	if code, _, _ := do("POST", "stocks", form); code != http.StatusSeeOther {
		t.Errorf("pressed twice: %d", code)
	}
	form.Set("high", "201")
	if code, _, _ := do("POST", "stocks", form); code != http.StatusConflict {
		t.Errorf("on settings that are other now: %d", code)
	}
	form.Set("high", "200")
	_, _, page = do("GET", "stocks", nil)
	if !strings.Contains(page, "mill-film-half-sheet") || !strings.Contains(text(page), "105 mm × 200 mm") {
		t.Error(text(page))
	}
	if _, _, page := do("GET", "b/26-11/sheets", nil); !strings.Contains(page, `value="mill-film-half-sheet"`) {
		t.Error("no batch can be printed on it")
	}
	form.Set("version", versionOn(t, page))
	do("POST", "stocks", form)
	_, _, page = do("GET", "stocks", nil)
	if !strings.Contains(page, "mill-film-half-sheet-2") {
		t.Error("a second of the name has no key of its own")
	}
	for _, key := range []string{"mill-film-half-sheet", "mill-film-half-sheet-2"} {
		if code, _, _ := do("POST", "stocks/"+key+"/remove", url.Values{"version": {versionOn(t, page)}}); code != http.StatusSeeOther {
			t.Errorf("%s: %d", key, code)
		}
		_, _, page = do("GET", "stocks", nil)
	}
	if strings.Contains(page, "mill-film") {
		t.Error(text(page))
	}
	if code, _, _ := do("POST", "stocks/a4-film-white/remove", url.Values{"version": {versionOn(t, page)}}); code != http.StatusNotFound {
		t.Errorf("one that is built in: %d", code)
	}
	if s.shop().Stocks()[0].Key == "mill-film-half-sheet" {
		t.Error("it is still in the settings")
	}
}

// What to take off a weight is told in mass and in length of rod, as the command
// tells it; past and near enough are told too.
func TestTrimPage(t *testing.T) {
	_, do := printingBench(t, Options{})
	if code, _, page := do("GET", "trim", nil); code != 200 || !strings.Contains(page, "never past it") {
		t.Errorf("%d %s", code, text(page))
	}
	ask := func(pairs ...string) (int, string) {
		q := url.Values{"weight": {"7.2 g"}, "of": {"brass"}, "side": {"inside"}, "takes": {"0.5 g"}, "want": {"0.8 g"}, "metal": {"tin"}, "rod": {"6"}, "tip": {""}, "wide": {""}}
		for i := 0; i < len(pairs); i += 2 {
			q.Set(pairs[i], pairs[i+1])
		}
		code, _, page := do("GET", "trim?"+q.Encode(), nil)
		return code, strings.ReplaceAll(text(page), "\u00a0", " ")
	}
	for want, pairs := range map[string][]string{"take off": nil, "that is, of the rod": nil, "Fit 0.": {"takes", "1.2 g"}, "Stop here: it takes 0.8 g": {"takes", "0.8 g"}} {
		if code, page := ask(pairs...); code != 200 || !strings.Contains(page, want) {
			t.Errorf("%v: %d: it lacks %q: %s", pairs, code, want, page)
		}
	}
	for _, pairs := range [][]string{{"want", ""}, {"weight", "x"}, {"rod", "thick"}, {"of", "wood"}} {
		if code, page := ask(pairs...); code != http.StatusUnprocessableEntity || strings.Contains(page, "--") {
			t.Errorf("%v: %d %s", pairs, code, page)
		}
	}
}
