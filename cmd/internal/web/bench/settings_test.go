package bench

import (
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// What the host costs is told in the reader's language, for the host that is set
// and beside it for shorter and longer ones; who has said who they are is led on.
func TestHostCosts(t *testing.T) {
	shop, err := job.Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	h := New(shop, Options{})
	if page := in(h, "en", "GET", "workshop", nil).Body.String(); strings.Contains(page, "What the host costs") || strings.Contains(page, "To the batches") {
		t.Errorf("an empty workshop has a host or leads past its settings: %s", text(page))
	}
	set, err := shop.Settings()
	if err != nil {
		t.Fatal(err)
	}
	form := url.Values{"version": {strconv.FormatInt(set.Version, 10)}, "maker/name": {"Withy Sluice Floats"}, "maker/host": {"f.example"}}
	if w := send(h, "POST", "workshop", form); w.Code != 303 {
		t.Fatal(w.Code, w.Body)
	}
	if n := strings.Count(in(h, "en", "GET", "workshop", nil).Body.String(), `class="tongues"`); n != 1 {
		t.Errorf("the choice of a language stands there %d times", n)
	}
	for language, want := range map[string][]string{
		"en": {"f.example", "9.5 mm", "16.9 mm", "up to 5 letters", "8.1 mm", "up to 32 letters", "To the batches"},
		"de": {"f.example", "9,5 mm", "16,9 mm", "bis zu 5 Buchstaben", "8,1 mm", "bis zu 32 Buchstaben", "Zu den Serien"},
	} {
		page := strings.ReplaceAll(text(in(h, language, "GET", "workshop", nil).Body.String()), "\u00a0", " ")
		for _, one := range want {
			if !strings.Contains(page, one) {
				t.Errorf("%s: no %q in %s", language, one, page)
			}
		}
	}
}

// A change of the settings, and of one's own stocks, is taken back by a press on
// the page that shows it.
func TestUndoOfSettings(t *testing.T) {
	shop, err := job.Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	h := New(shop, Options{})
	version := func() string {
		set, err := shop.Settings()
		if err != nil {
			t.Fatal(err)
		}
		return strconv.FormatInt(set.Version, 10)
	}
	if w := send(h, "POST", "workshop", url.Values{"version": {version()}, "maker/name": {"Withy Sluice Floats"}}); w.Code != 303 {
		t.Fatal(w.Code, w.Body)
	}
	page := in(h, "en", "GET", "workshop", nil).Body.String()
	if !strings.Contains(page, `action="/-/bench/workshop/undo"`) || !strings.Contains(page, "Undo: change the settings") {
		t.Error("it cannot be undone on its page")
	}
	if !strings.Contains(in(h, "de", "GET", "stocks", nil).Body.String(), "Einstellungen ändern") {
		t.Error("it cannot be undone on the page of stocks")
	}
	w := send(h, "POST", "workshop/undo", url.Values{"version": {version()}, "on": {"stocks"}})
	if at, _, _ := strings.Cut(w.Header().Get("Location"), "#"); w.Code != 303 || at != Path+"stocks" {
		t.Errorf("%d, to %q", w.Code, at)
	}
	page = in(h, "en", "GET", "workshop", nil).Body.String()
	if strings.Contains(page, "Withy Sluice Floats") || strings.Contains(page, "workshop/undo") {
		t.Error("it stands there still")
	}
	if w := send(h, "POST", "workshop/undo", url.Values{"version": {version()}}); w.Code != 404 {
		t.Errorf("nothing to undo: %d", w.Code)
	}
}
