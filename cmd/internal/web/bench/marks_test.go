package bench

import (
	"bytes"
	"context"
	"fmt"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"
)

// Marks that are sent back as they came change nothing.
func TestMarkForm(t *testing.T) {
	shop, h := patternBench(t)
	was := draftOf(t, shop)
	for i := range was.Doc.Len("pattern") {
		at := "b/26-11/marks/" + strconv.Itoa(i)
		page := send(h, "GET", at, nil)
		if page.Code != http.StatusOK {
			t.Fatal(page.Code, page.Body)
		}
		if w := send(h, "POST", at, formOf(t, page.Body, "mark")); w.Code != http.StatusSeeOther {
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
}

// What is typed of a mark stands in the batch file, in the short form where that
// is enough.
func TestMarkIsTyped(t *testing.T) {
	shop, h := patternBench(t)
	const at = "b/26-11/marks/0"
	post := func(change func(url.Values)) {
		t.Helper()
		form := formOf(t, send(h, "GET", at, nil).Body, "mark")
		change(form)
		if w := send(h, "POST", at, form); w.Code != http.StatusSeeOther {
			t.Fatal(w.Code, w.Body)
		}
		if err := draftOf(t, shop).Err; err != nil {
			t.Fatal(err)
		}
	}
	text := func(path string) string { return draftOf(t, shop).Doc.Text("pattern/0/" + path) }
	post(func(f url.Values) { f.Set("zone.0.turn", "lengthwise"); f.Set("zone.0.at_mm", "30,5") })
	if text("turn") != "lengthwise" || text("mark_from_mm") != "30.5" || text("mark") != "full" {
		t.Error(text("turn"), text("mark_from_mm"), text("mark"))
	}
	// One's own choice begins with what was shown before: code and band are left out.
	post(func(f url.Values) {
		f.Set("zone.0.style", "own")
		f.Set("zone.0.part.0", "")
		f.Set("zone.0.part.11", "")
		f.Set("zone.0.part.13", "3")
		f.Set("zone.0.text", "by hand")
	})
	want := `["rings", ["rating", "built in", "add"], ["id"], ["set-up", "shot", "metal", "dedication", "text"]]`
	if text("mark/0/show") != want || text("mark/0/text") != "by hand" || text("mark/0/at_mm") != "30.5" || text("turn") != "" {
		t.Errorf("it shows %s, not %s", text("mark/0/show"), want)
	}
	post(func(f url.Values) { f.Set("zone.add", "1") })
	if n := draftOf(t, shop).Doc.Len("pattern/0/mark"); n != 2 {
		t.Errorf("%d marks", n)
	}
	post(func(f url.Values) {
		f.Set("zone.1.gone", "1")
		f.Set("zone.0.style", "least")
		f.Set("zone.0.text", "")
	})
	if text("mark") != "least" || text("mark_from_mm") != "30.5" {
		t.Error(text("mark"), text("mark_from_mm"))
	}
}

// The picture turns, what is typed shows before it is stored, and each picture
// stays as long as its address says what it shows.
func TestMarkPictures(t *testing.T) {
	shop, h := patternBench(t)
	page := send(h, "GET", "b/26-11/marks/0?turn=90", nil).Body.String()
	_, rest, _ := strings.Cut(page, `data-picture="`)
	src, _, ok := strings.Cut(rest, `"`)
	if !ok {
		t.Fatal(page)
	}
	src = strings.TrimPrefix(strings.ReplaceAll(src, "&amp;", "&"), Path)
	seen := map[string]bool{}
	for turn := 0; turn < 360; turn += 90 {
		w := send(h, "GET", fmt.Sprintf("%s&turn=%d", src, turn), nil)
		img, err := png.Decode(bytes.NewReader(w.Body.Bytes()))
		if err != nil || img.Bounds().Dx() != 720 {
			t.Fatal(w.Code, err)
		}
		if !strings.Contains(w.Header().Get("Cache-Control"), "max-age") {
			t.Error(w.Header())
		}
		seen[w.Body.String()] = true
	}
	if len(seen) != 4 {
		t.Errorf("four sides gave %d pictures", len(seen))
	}
	was := send(h, "GET", src+"&turn=0", nil).Body.String()
	// It tips either way, within limits.
	nearer, away := send(h, "GET", src+"&turn=0&tip=40", nil).Body.String(), send(h, "GET", src+"&turn=0&tip=-40", nil).Body.String()
	if nearer == was || away == was || nearer == away {
		t.Error("the float does not tip")
	}
	if send(h, "GET", src+"&turn=0&tip=400", nil).Body.String() != nearer {
		t.Error("the float tips too far")
	}
	form := formOf(t, strings.NewReader(page), "mark")
	form.Set("zone.0.turn", "lengthwise")
	look := send(h, "GET", "b/26-11/marks/0/look?"+form.Encode(), nil).Body.String()
	_, rest, _ = strings.Cut(look, `data-picture="`)
	typed, _, _ := strings.Cut(rest, `"`)
	now := send(h, "GET", strings.TrimPrefix(strings.ReplaceAll(typed, "&amp;", "&"), Path)+"&turn=0", nil)
	if now.Code != http.StatusOK || now.Body.String() == was {
		t.Errorf("%d: what is typed does not show", now.Code)
	}
	if w := send(h, "GET", "b/26-11/marks/0/flat.svg", nil); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "<svg") {
		t.Error(w.Code)
	}
	if got := draftOf(t, shop).Doc.Text("pattern/0/turn"); got != "auto" {
		t.Errorf("looking stored %q", got)
	}
	form.Set("zone.0.at_mm", "400")
	if w := send(h, "GET", "b/26-11/marks/0/look?"+form.Encode(), nil); !strings.Contains(w.Body.String(), "off the float") {
		t.Errorf("off the float: %s", w.Body)
	}
}

// A remedy is offered as a button, and pressing it takes the trouble away.
func TestMarkRemedy(t *testing.T) {
	shop, h := patternBench(t)
	d := draftOf(t, shop)
	src := strings.Replace(string(d.Doc.Source()), `film = "a4-film-white"`, `film = "a4-film-clear"`, 1)
	if _, err := shop.OpenTankSource(t.Context(), "clear.toml", []byte(src), nil, "test"); err != nil {
		t.Fatal(err)
	}
	page := send(h, "GET", "b/26-11/marks/4", nil).Body.String()
	if !strings.Contains(page, "cannot be read") || !strings.Contains(page, "said=1") {
		t.Errorf("nothing is told: %s", page)
	}
	said := send(h, "GET", "b/26-11/marks/4/said", nil).Body.String()
	if !strings.Contains(said, `value="pale"`) || !strings.Contains(said, "Paint a pale band of #f2ecdc from") {
		t.Fatalf("there is no pale band: %s", said)
	}
	if i, j := strings.Index(said, "cannot be read"), strings.Index(said, "the code goes on the card"); strings.Contains(said, "Its contrast is") || j >= 0 && j < i {
		t.Errorf("that nothing shows on the ground is not told once and first: %s", text(said))
	}
	w := send(h, "POST", "b/26-11/marks/4/remedy", url.Values{"version": {strconv.FormatInt(draftOf(t, shop).Version, 10)}, "remedy": {"pale"}})
	if w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	if got := draftOf(t, shop).Doc.Text("pattern/4/ground"); got != "#f2ecdc" {
		t.Errorf("the ground is %q", got)
	}
	if said := send(h, "GET", "b/26-11/marks/4/said", nil).Body.String(); strings.Contains(said, "cannot be read") {
		t.Errorf("it is told still: %s", said)
	}
	// Without scripts the page waits for it.
	if page := send(h, "GET", "b/26-11/marks/4?said=1", nil).Body.String(); !strings.Contains(page, "Nothing is the matter") {
		t.Error("the page does not say that all is well")
	}
	if w := send(h, "POST", "b/26-11/marks/4/remedy", url.Values{"version": {strconv.FormatInt(draftOf(t, shop).Version, 10)}, "remedy": {"pale"}}); w.Code != http.StatusNotFound {
		t.Errorf("done twice: %d", w.Code)
	}
}

// A mark of a pattern without a tested float shows figures that stand in.
func TestMarkBeforeTests(t *testing.T) {
	shop, h := patternBench(t)
	for _, form := range []url.Values{{"name": {"Quill"}, "kind": {"unloaded"}}, {"name": {"Loaded"}, "kind": {"loaded"}}, {"name": {"Sedge"}, "kind": {"self-cocking"}}} {
		form.Set("version", strconv.FormatInt(draftOf(t, shop).Version, 10))
		if w := send(h, "POST", "b/26-11/patterns/new", form); w.Code != http.StatusSeeOther {
			t.Fatal(w.Code, w.Body)
		}
		at := "b/26-11/marks/" + strconv.Itoa(draftOf(t, shop).Doc.Len("pattern")-1)
		if page := send(h, "GET", at, nil).Body.String(); !strings.Contains(page, "these figures stand in") {
			t.Errorf("%v: %s", form, page)
		}
		if w := send(h, "GET", at+"/float.png?w=400", nil); w.Code != http.StatusOK {
			t.Error(w.Code, w.Body)
		}
	}
}

// The maker's own mark is kept beside the batch and printed where it is shown.
func TestOwnMarkIsKept(t *testing.T) {
	shop, h := patternBench(t)
	const at = "b/26-11/marks/4"
	form := formOf(t, send(h, "GET", at, nil).Body, "mark")
	form.Set("zone.0.style", "own")
	form.Set("zone.0.part.15", "row")
	svg := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20"><path d="M10 0L20 20H0Z"/></svg>`
	if w := postFile(h, at, form, "own_mark", "weir.svg", svg); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	d := draftOf(t, shop)
	if d.Err != nil || d.Doc.Text("print/own_mark") != "weir.svg" || d.File.OwnMark == nil {
		t.Fatal(d.Err, d.Doc.Text("print/own_mark"))
	}
	if got := d.Doc.Text("pattern/4/mark/0/show"); !strings.HasSuffix(got, `"own mark"]`) {
		t.Error(got)
	}
	if w := send(h, "GET", at+"/float.png", nil); w.Code != http.StatusOK {
		t.Error(w.Code, w.Body)
	}
}

// Who leaves while a code is being tried leaves nothing half done.
func TestMarkProofStops(t *testing.T) {
	_, h := patternBench(t)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	r := httptest.NewRequest("GET", Path+"b/26-11/marks/4/said", nil).WithContext(ctx)
	h.ServeHTTP(httptest.NewRecorder(), r)
	if w := send(h, "GET", "b/26-11/marks/4/said", nil); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "Nothing is the matter") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// Beside a code stands which contrast to expect of its colours, in the reader's
// language; a mark whose code is on the card has none.
func TestMarkTellsContrast(t *testing.T) {
	_, h := patternBench(t)
	const says = "contrast to expect of these colours, not measured: "
	if w := send(h, "GET", "b/26-11/marks/0?said=1", nil); !strings.Contains(w.Body.String(), says+"95\u00a0%, by that alone grade A of ISO/IEC 15415") {
		t.Errorf("%d %s", w.Code, text(w.Body.String()))
	}
	if w := send(h, "GET", "b/26-11/marks/4?said=1", nil); w.Code != http.StatusOK || strings.Contains(w.Body.String(), says) {
		t.Errorf("%d: a code on the card has no contrast on the float", w.Code)
	}
}
