package bench

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
)

// A batch begun under a wrong name is taken off the list by a press, and comes back
// by another; one that has readings shows no such press.
func TestBatchRemoved(t *testing.T) {
	shop, h := patternBench(t)
	if page := send(h, "GET", "b/26-11", nil).Body.String(); strings.Contains(page, "Remove this batch") {
		t.Error("a batch that was tested can be removed by a press")
	}
	send(h, "POST", "begin", url.Values{"name": {"26-1l"}})
	d, err := shop.Draft("26-1l")
	if err != nil {
		t.Fatal(err)
	}
	if page := send(h, "GET", "b/26-1l", nil).Body.String(); !strings.Contains(page, Path+`b/26-1l/remove"`) {
		t.Error("no way to remove it")
	}
	w := send(h, "POST", "b/26-1l/remove", url.Values{"version": {strconv.FormatInt(d.Version, 10)}})
	if w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, text(w.Body.String()))
	}
	to, _, _ := strings.Cut(strings.TrimPrefix(w.Header().Get("Location"), Path), "#")
	page := send(h, "GET", to, nil).Body.String()
	if !strings.Contains(page, Path+`b/26-1l/back"`) || strings.Contains(page, Path+`b/26-1l"`) || !strings.Contains(page, "26-1l was removed.") {
		t.Error(page)
	}
	if w := send(h, "GET", "b/26-1l", nil); w.Code != http.StatusNotFound {
		t.Error("it is still there", w.Code)
	}
	send(h, "POST", "b/26-1l/back", nil)
	if w := send(h, "GET", "b/26-1l", nil); w.Code != http.StatusOK {
		t.Error("it does not come back", w.Code)
	}
}
