package bench

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
)

// The next batch begins with what the last one had, or takes one of its patterns.
func TestPatternsOfEarlierBatches(t *testing.T) {
	shop, h := patternBench(t)
	was := draftOf(t, shop)
	if page := send(h, "GET", "", nil).Body.String(); !strings.Contains(page, `<option value="26-11">`) {
		t.Error("the first page does not offer to begin a batch like 26-11")
	}
	if w := send(h, "POST", "begin", url.Values{"name": {" 26-12 "}, "like": {"26-11"}}); w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "b/26-12/floats") {
		t.Fatal(w.Code, w.Header(), w.Body)
	}
	like, err := shop.Draft("26-12")
	if err != nil || like.Doc.Len("pattern") != was.Doc.Len("pattern") || like.Doc.Len("float") != 0 {
		t.Fatal(err, string(like.Doc.Source()))
	}

	// Pressed twice it leads to what it began; not where anything else was meant.
	if w := send(h, "POST", "begin", url.Values{"name": {"26-12"}, "like": {"26-11"}}); w.Code != http.StatusSeeOther {
		t.Errorf("begun twice: %d", w.Code)
	}
	for _, form := range []url.Values{{"name": {"26-12"}}, {"name": {"26-11"}, "like": {"26-11"}}, {"name": {"26-11"}}} {
		if w := send(h, "POST", "begin", form); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%v: %d", form, w.Code)
		}
	}
	if w := send(h, "POST", "begin", url.Values{"name": {"26-13"}}); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	page := send(h, "GET", "b/26-13/patterns", nil).Body.String()
	if !strings.Contains(page, "patterns/take") {
		t.Error("the patterns page does not lead to those of earlier batches")
	}
	page = send(h, "GET", "b/26-13/patterns/take?from=26-11", nil).Body.String()
	if !strings.Contains(page, "Sedge") || !strings.Contains(page, "b/26-11/patterns/0/silhouette.svg") {
		t.Errorf("the patterns of 26-11 are not offered:\n%s", page)
	}
	for range 2 { // the same again gets a key of its own
		d, err := shop.Draft("26-13")
		if err != nil {
			t.Fatal(err)
		}
		if w := send(h, "POST", "b/26-13/patterns/take", url.Values{"version": {strconv.FormatInt(d.Version, 10)}, "from": {"26-11"}, "place": {"0"}}); w.Code != http.StatusSeeOther {
			t.Fatal(w.Code, w.Body)
		}
	}
	d, err := shop.Draft("26-13")
	if err != nil || d.Doc.Len("pattern") != 2 || d.Doc.Text("pattern/0/key") != was.Doc.Text("pattern/0/key") || d.Doc.Text("pattern/1/key") == d.Doc.Text("pattern/0/key") || d.Undoes != "take a pattern over" {
		t.Errorf("%v\n%s", err, d.Doc.Source())
	}
	for _, bad := range []url.Values{{"from": {"26-11"}, "place": {"99"}}, {"from": {"nowhere"}, "place": {"0"}}, {"from": {"26-11"}, "place": {"x"}}} {
		bad.Set("version", strconv.FormatInt(d.Version, 10))
		if w := send(h, "POST", "b/26-13/patterns/take", bad); w.Code != http.StatusNotFound {
			t.Error(bad, w.Code)
		}
	}
}

func TestSlug(t *testing.T) {
	for name, want := range map[string]string{"Sedge waggler, small": "sedge-waggler-small", `Müllers "Große" / 2`: "muellers-grosse-2", "Flotteur à l’œil": "flotteur-a-l-oeil",
		"Żółty": "zolty", "..": "pattern", "🎣": "pattern"} {
		if got := slug(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
