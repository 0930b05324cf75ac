package bench

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"floatmark/cmd/internal/batch"
	"floatmark/cmd/internal/job"
	"floatmark/label"
	"floatmark/label/ident"
	store "floatmark/label/record"
	"floatmark/loading/unit"
)

// What a page and the picture of a mark that is changed may take, on two cores.
const (
	pageWithin    = 100 * time.Millisecond
	pictureWithin = 150 * time.Millisecond
)

// TestPagesOfMany asks for every page of a workshop with many floats in its
// records, as the first one after a change of the batch and again, and for the
// picture of a mark that is changed. With FLOATMARK_HEAVY set
// these are 10,000 floats, the batch is the whole demonstration, printed, and times
// are held; a few floats otherwise, and no time is asked for.
func TestPagesOfMany(t *testing.T) {
	batches, each, times := 2, 10, 1
	src, _, _ := strings.Cut(string(job.DemoSource()), "[[float]]\nnumber = 3\n")
	heavy := os.Getenv("FLOATMARK_HEAVY") != ""
	if heavy {
		batches, each, times = 20, 500, 9
		src = string(job.DemoSource())
	}
	dir := t.TempDir()
	manyRecords(t, dir, batches, each)
	shop, err := job.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.OpenTankSource(context.Background(), "demo.toml", []byte(src), nil, job.ByBench); err != nil {
		t.Fatal(err)
	}
	h := New(shop, Options{Ahead: true}).(*server)
	t.Cleanup(func() { // what is begun ahead writes into the workshop
		if one := h.going("26-11"); one != nil {
			one.stop()
			<-one.end
		}
	})
	ask := func(path string) (string, time.Duration) {
		t.Helper()
		r := httptest.NewRequest(http.MethodGet, path, nil)
		w := httptest.NewRecorder()
		began := time.Now()
		h.ServeHTTP(w, r)
		took := time.Since(began)
		if w.Code != http.StatusOK {
			t.Fatalf("%s: %d\n%s", path, w.Code, w.Body)
		}
		return w.Body.String(), took
	}
	if heavy {
		page, _ := ask(Path + "b/26-11/print")
		r := httptest.NewRequest(http.MethodPost, Path+"b/26-11/print", strings.NewReader(url.Values{"version": {versionOn(t, page)}, "coarse": {"1"}}.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		h.ServeHTTP(httptest.NewRecorder(), r)
		ended(t, h, "print 26-11")
	}
	pages := []string{"", "workshop", "records", "records?q=sedge", "records?q=26-7", "records?q=8+g", "records/publish", "printer"}
	for _, one := range []string{"", "/patterns", "/patterns/0", "/floats", "/floats?edit=0", "/floats?column=built_in", "/tank", "/grade", "/marks", "/marks/0", "/sheets", "/print", "/tick", "/cards"} {
		pages = append(pages, "b/26-11"+one)
	}
	change := func(n int) { // as a form does
		t.Helper()
		d, err := h.shop().Draft("26-11")
		if err == nil {
			d, err = h.shop().EditDraft(context.Background(), "26-11", d.Version, "change a float", job.ByBench, func(d *batch.Doc) error { return d.Set("float/0/note", fmt.Sprint("note ", n)) })
		}
		if err != nil {
			t.Fatal(err)
		}
		h.ahead(d)
	}
	changes := 0
	for _, page := range pages {
		first, known := make([]time.Duration, times), make([]time.Duration, times)
		for i := range first {
			if changes++; strings.HasPrefix(page, "b/26-11") {
				change(changes)
			}
			_, first[i] = ask(Path + page)
		}
		if one := h.going("26-11"); one != nil {
			<-one.end
		}
		if one := h.works.of(indexKey); one != nil {
			<-one.end
		}
		for i := range known {
			_, known[i] = ask(Path + page)
		}
		slices.Sort(first)
		slices.Sort(known)
		t.Logf("figure: %-31s first after a change %5.1f ms, at most %5.1f; known %5.1f ms, at most %5.1f", page,
			ms(first[times/2]), ms(first[times-1]), ms(known[times/2]), ms(known[times-1]))
		for _, took := range [][]time.Duration{first, known} {
			if heavy && took[times/2] > pageWithin {
				t.Errorf("%s takes %v, %v at most", page, took[times/2], pageWithin)
			}
		}
	}
	// The mark moved by a tenth of a millimetre: what is said of it, and its picture.
	took := make([]time.Duration, times)
	for i := range took {
		q := url.Values{"typed": {"1"}, "zone.0.style": {"full"}, "zone.0.at_mm": {fmt.Sprintf("%.1f", 28+float64(i)/10)}, "zone.0.height_mm": {"24"}}
		look, first := ask(Path + "b/26-11/marks/0/look?" + q.Encode())
		src := regexp.MustCompile(`<img src="([^"]*)"`).FindStringSubmatch(look)
		if src == nil {
			t.Fatalf("no picture of the mark that is typed:\n%s", look)
		}
		_, second := ask(html.UnescapeString(src[1]))
		took[i] = first + second
	}
	slices.Sort(took)
	t.Logf("figure: a mark changed, its picture: %.1f ms, at most %.1f ms", ms(took[times/2]), ms(took[times-1]))
	if heavy && took[times/2] > pictureWithin {
		t.Errorf("the picture of a mark that is changed takes %v, %v at most", took[times/2], pictureWithin)
	}
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// manyRecords fills the records of a workshop.
func manyRecords(t *testing.T, dir string, batches, each int) {
	t.Helper()
	s, err := store.Open(filepath.Join(dir, "workshop.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	key, taken := make([]byte, 32), map[string]bool{}
	for b := range batches {
		name := fmt.Sprintf("26-%d", b+100)
		var floats []store.Float
		for n := 1; n <= each; n++ {
			attempt := 0
			id := string(ident.Make(key, name, n, attempt))
			for taken[id] {
				attempt++
				id = string(ident.Make(key, name, n, attempt))
			}
			taken[id] = true
			add := unit.Gram(0.5 + float64(n%40)*0.05)
			data, err := json.Marshal(label.Entry{Format: 1, ID: id, Batch: name, Number: n, Date: "2026-11-20", Maker: "Withy Sluice Floats", Pattern: "Sedge waggler",
				Kind: "loaded", KindKey: "loaded", Line: "bottom end", Metal: "tin", MetalKey: "tin", Language: "en", Rating: "8 g", BuiltIn: "7.2 g",
				RatingG: 8, BuiltInG: 7.2, AddG: add, MeasuredG: add, UG: 0.021, StepG: 0.05, Water: "fresh water", WaterTempC: 15, Convention: "gb-modern", Revision: 1})
			if err != nil {
				t.Fatal(err)
			}
			floats = append(floats, store.Float{ID: id, Batch: name, Number: n, Attempt: attempt, Pattern: "sedge", Data: data, Created: "2026-11-20T10:00:00Z"})
		}
		if err := s.SavePrint(store.Print{Key: name, Batch: name, Made: "2026-11-20T10:00:00Z", Data: json.RawMessage(`{"format":1,"floats":[]}`)}, floats); err != nil {
			t.Fatal(err)
		}
	}
}
