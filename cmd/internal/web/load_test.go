package web

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/label/ident"
	store "floatmark/label/record"
	"floatmark/loading/unit"
)

// Pages of many records, asked for at a steady pace on loopback. With
// FLOATMARK_HEAVY set these are 100,000 records and 200 requests a second for ten
// seconds, of which 99 in 100 are to be answered within 5 ms on a machine that has
// nothing else to do: the figure is told, since a test cannot know that it has.
func TestManyRecords(t *testing.T) {
	batches, each, asked := 2, 50, 100
	if os.Getenv("FLOATMARK_HEAVY") != "" {
		batches, each, asked = 200, 500, 2000
	}
	dir := t.TempDir()
	s, err := store.Open(filepath.Join(dir, "workshop.db"))
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	taken := map[string]bool{}
	key := make([]byte, 32)
	for b := range batches {
		name := fmt.Sprintf("26-%d", b)
		var floats []store.Float
		for n := 1; n <= each; n++ {
			attempt := 0
			id := string(ident.Make(key, name, n, attempt))
			for taken[id] {
				attempt++
				id = string(ident.Make(key, name, n, attempt))
			}
			taken[id] = true
			ids = append(ids, id)
			e := sample()
			e.ID, e.Batch, e.Number = id, name, n
			e.AddG = unit.Gram(0.5 + float64(n%40)*0.05)
			e.AddPullG = e.AddG * 0.8628 // tin in fresh water
			data, err := json.Marshal(e)
			if err != nil {
				t.Fatal(err)
			}
			floats = append(floats, store.Float{ID: id, Batch: name, Number: n, Attempt: attempt, Pattern: "sedge", Data: data, Created: "2026-11-20T10:00:00Z"})
		}
		err := s.SavePrint(store.Print{Key: name, Batch: name, Made: "2026-11-20T10:00:00Z", Data: json.RawMessage(`{"format":1,"floats":[]}`),
			Regions: []store.Region{{Number: b + 1, Stock: "film", Feed: "top", Data: json.RawMessage(`{}`)}}}, floats)
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	shop, err := job.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	shelf := shop.Shelf()
	defer shelf.Close()
	server := httptest.NewServer(New(shelf, Options{}))
	defer server.Close()

	// As many connections as readers: phones open theirs before they ask.
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
	took := make([]time.Duration, asked)
	var all sync.WaitGroup
	pace := time.NewTicker(5 * time.Millisecond)
	defer pace.Stop()
	for i := range asked {
		<-pace.C
		all.Go(func() {
			id := ids[(i*7919)%len(ids)] // all over the records
			began := time.Now()
			res, err := client.Get(server.URL + "/" + id + "?set=continental&water=sea")
			if err != nil {
				t.Error(err)
				return
			}
			defer res.Body.Close()
			if _, err := io.Copy(io.Discard, res.Body); err != nil || res.StatusCode != 200 {
				t.Errorf("%s: %d, %v", id, res.StatusCode, err)
			}
			took[i] = time.Since(began)
		})
	}
	all.Wait()
	slices.Sort(took)
	t.Logf("figure: %d records, %d pages: median %v, 99 of 100 within %v, all within %v", len(ids), asked, took[asked/2], took[asked*99/100], took[asked-1])
}
