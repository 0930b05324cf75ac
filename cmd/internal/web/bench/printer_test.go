package bench

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// A printer is measured step by step: what was typed is its profile, what is wrong
// stays on the page with what is wrong of it, and no page speaks of commands.
func TestPrinterPages(t *testing.T) {
	s, do := printingBench(t, Options{})
	if code, _, page := do("GET", "printer", nil); code != 200 || !strings.Contains(page, "Begin with the ruler") {
		t.Errorf("%d: nothing says how to begin", code)
	}
	for _, step := range measures {
		code, _, page := do("GET", "printer/"+step.Key, nil)
		if code != 200 || !strings.Contains(page, "<svg class=\"drawing\"") || !strings.Contains(page, "printer/sheet/"+step.Key+".pdf") {
			t.Errorf("%s: %d, without its picture or its sheet", step.Key, code)
		}
		code, h, pdf := do("GET", "printer/sheet/"+step.Key+".pdf?film=a4-film-white&paper=a4-paper", nil)
		if code != 200 || !strings.HasPrefix(pdf, "%PDF-") || !strings.Contains(h.Get("Content-Disposition"), step.Key+"-test") {
			t.Errorf("%s: %d %v", step.Key, code, h)
		}
	}
	post := func(step string, form url.Values, want int, says string) string {
		t.Helper()
		code, h, page := do("POST", "printer/"+step, form)
		if code != want || !strings.Contains(page, says) {
			t.Errorf("%s %v: %d, want %d and %q\n%s", step, form, code, want, says, page)
		}
		return strings.TrimPrefix(h.Get("Location"), Path)
	}
	read := url.Values{"name": {"office"}, "paper": {"a4-paper"}, "x": {"181,08"}, "y": {"248.5"}, "d1": {"308.24"}, "d2": {"306.71"}, "margin": {"5"}}
	bad := url.Values{"name": {"office"}, "paper": {"a4-paper"}, "x": {"a hand"}, "y": {"248.5"}, "d1": {"308.24"}, "d2": {"306.71"}}
	page := post("ruler", bad, http.StatusUnprocessableEntity, `value="a hand"`)
	if strings.Contains(page, "--measured") {
		t.Error("a finding names a flag")
	}
	post("ruler", url.Values{"paper": {"a4-paper"}, "x": {"180"}}, http.StatusUnprocessableEntity, "which printer is it?")
	post("ruler", url.Values{"name": {"office"}}, http.StatusUnprocessableEntity, "nothing was typed")
	if _, ok, err := s.shop().Printer("office"); ok || err != nil {
		t.Fatalf("a wrong reading was stored, %v", err)
	}
	to := post("ruler", read, http.StatusSeeOther, "")
	code, _, page := do("GET", to, nil)
	for _, want := range []string{"Stored.", "go together within", "What is known of office", "Next: ink gain", "corrected by profile 1"} {
		if code != 200 || !strings.Contains(page, want) {
			t.Errorf("%d: the page lacks %q", code, want)
		}
	}
	p, ok, err := s.shop().Printer("office")
	if !ok || err != nil || p.ScaleX < 1.005 || p.ScaleX > 1.007 || p.ScaleY > 0.995 {
		t.Errorf("%+v, %v", p, err)
	}
	post("gain", url.Values{"name": {"office"}, "gain": {"2"}}, http.StatusSeeOther, "")
	post("gain", url.Values{"name": {"office"}}, http.StatusUnprocessableEntity, "nothing was typed")
	cross := url.Values{"name": {"office"}, "top-across": {"0.5"}, "top-aside": {"right"}, "top-down": {"0,25"}, "top-along": {"up"},
		"bottom-across": {"0.25"}, "bottom-aside": {"left"}, "bottom-down": {"0"}, "bottom-along": {"down"}}
	post("duplex", cross, http.StatusSeeOther, "")
	cross.Del("bottom-down")
	post("duplex", cross, http.StatusUnprocessableEntity, "right behind")
	if p, _, _ = s.shop().Printer("office"); p.Gain <= 0 || p.Duplex.X == 0 {
		t.Errorf("%+v", p)
	}
	post("codes", url.Values{"name": {"office"}, "size-7": {"10"}, "size-6": {"none"}}, http.StatusSeeOther, "")
	post("codes", url.Values{}, http.StatusUnprocessableEntity, "no size was tried")
	if a, ok, err := s.shop().CodeSizes(); !ok || err != nil || len(a.Read) != 2 || a.Printer != "office" {
		t.Errorf("%+v, %v", a, err)
	}
	post("stretch", url.Values{"film": {"a4-film-white"}, "band": {"10 mm"}}, http.StatusSeeOther, "")
	post("stretch", url.Values{"film": {"a4-film-white"}, "band": {"high"}}, http.StatusUnprocessableEntity, "high")
	if limit, _, ok, err := s.shop().FilmLimit("a4-film-white"); !ok || err != nil || limit < 0.015 || limit > 0.016 { // 10 mm on a 40 mm ball: h²/(4·40²)
		t.Errorf("%v, %v", limit, err)
	}
	code, _, page = do("GET", "printer", nil)
	for _, want := range []string{"office", "Codes that your phones read", "Films that were measured", "white waterslide film, A4"} {
		if code != 200 || !strings.Contains(page, want) {
			t.Errorf("%d: the list lacks %q", code, want)
		}
	}
	if strings.Contains(page, "floatmark testsheet") || strings.Contains(page, "--") {
		t.Errorf("the list speaks of commands:\n%s", page)
	}
	if _, _, page := do("GET", "b/26-11/sheets", nil); !strings.Contains(page, `<option value="office">office</option>`) {
		t.Error("the printer cannot be chosen for the batch")
	}
}

// What cannot be made is told as such.
func TestPrinterSheetsRefused(t *testing.T) {
	_, do := printingBench(t, Options{})
	for path, want := range map[string]int{
		"printer/sheet/other.pdf":                        http.StatusNotFound,
		"printer/sheet/ruler":                            http.StatusNotFound,
		"printer/sheet/ruler.pdf?dpi=many":               http.StatusUnprocessableEntity,
		"printer/sheet/ruler.pdf?name=unknown":           http.StatusNotFound,
		"printer/sheet/ruler.pdf?paper=cloth":            http.StatusUnprocessableEntity,
		"printer/sheet/stretch.pdf?film=by-hand":         http.StatusUnprocessableEntity,
		"printer/ruler?name=unknown&paper=cloth":         http.StatusOK,
		"printer/codes?name=%22%3E%3Cscript%3E&dpi=many": http.StatusOK,
	} {
		if code, _, page := do("GET", path, nil); code != want || strings.Contains(page, `"><script>`) {
			t.Errorf("%s: %d, want %d", path, code, want)
		}
	}
}
