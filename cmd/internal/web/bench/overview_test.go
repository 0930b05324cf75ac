package bench

import (
	"context"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// The board shows each float in its place, and moves on with what is done.
func TestBoard(t *testing.T) {
	shop, err := job.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	if _, err := shop.OpenTankSource(ctx, "demo.toml", job.DemoSource(), nil, job.ByBench); err != nil {
		t.Fatal(err)
	}
	states := func() (all []job.BoardState) {
		d, err := shop.Draft("26-11")
		if err != nil {
			t.Fatal(err)
		}
		board, err := shop.Board(d)
		if err != nil {
			t.Fatal(err)
		}
		for i, b := range board {
			if b.Number != d.File.Batch.Floats[i].Number {
				t.Errorf("place %d bears float %d", i, b.Number)
			}
			all = append(all, b.State)
		}
		return all
	}
	before := states()
	if len(before) != 26 || slices.Max(before) != job.BoardTested {
		t.Fatalf("of a batch that was not printed: %v", before)
	}
	d, err := shop.Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	read := func(n int) bool {
		return d.File.Batch.Floats[n].Reading != nil || len(d.File.Batch.Floats[n].Setups) > 0
	}
	for i, s := range before {
		if read(i) != (s == job.BoardTested) {
			t.Errorf("float at %d: %v", i, s)
		}
	}
	w := httptest.NewRecorder()
	New(shop, Options{}).ServeHTTP(w, httptest.NewRequest(http.MethodGet, Path+"b/26-11", nil))
	page := w.Body.String()
	if n := strings.Count(page, `<li><a href="/-/bench/b/26-11/`) - len(days); n != len(d.File.Batch.Floats)+d.Doc.Len("pattern") {
		t.Errorf("%d places and patterns on the page", n)
	}
	if n := strings.Count(page, "silhouette.svg"); n != d.Doc.Len("pattern") {
		t.Errorf("%d silhouettes", n)
	}
	if _, err := shop.NewDraft(ctx, "26-12", job.ByBench); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"26-11": "Sedge waggler", "26-12": "stroke-dasharray"} {
		w := httptest.NewRecorder()
		New(shop, Options{}).ServeHTTP(w, httptest.NewRequest(http.MethodGet, Path+"b/"+name+"/look.svg", nil))
		if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
	}
}
