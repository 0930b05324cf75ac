package web

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"floatmark/cmd/internal/job"
	"floatmark/label/ident"
	store "floatmark/label/record"
	"floatmark/loading/unit"
)

// A site of many floats: how big it is, how long it takes, and how long when
// nothing changed. With FLOATMARK_HEAVY set these are 10,000 records, and 100,000,
// which are to take no more than a minute on a machine that has nothing else to
// do: the figure is told. A few otherwise.
//
// Of eight patterns there are five adds each, and weights that differ by up to
// 0.09 g in steps of 0.01 g; what was measured differs from float to float. Each
// float has notes of its own but one in ten.
func TestSiteOfMany(t *testing.T) {
	sizes, weights := []int{60}, 2
	if os.Getenv("FLOATMARK_HEAVY") != "" {
		sizes, weights = []int{100_000, 10_000}, 10 // a disc is slow after files were removed, so that the many come first
	}
	for _, n := range sizes {
		shop := manyFloats(t, n, weights)
		dir := filepath.Join(t.TempDir(), "site")
		publish := func() (job.Published, time.Duration) {
			began := time.Now()
			pages, err := NewPlain(nil, "en")
			if err != nil {
				t.Fatal(err)
			}
			out, err := shop.Publish(t.Context(), dir, pages, job.Publishing{})
			if err != nil {
				t.Fatal(err)
			}
			return out, time.Since(began)
		}
		first, took := publish()
		again, tookAgain := publish()
		t.Logf("figure: %d records: %d files, %.1f MB, in %.1f s; nothing changed: %.1f s", n, first.Written, float64(first.Bytes)/1e6, took.Seconds(), tookAgain.Seconds())
		if first.Floats != n || first.Written < 6*n || again.Written != 0 || again.Same != first.Written || again.Bytes != first.Bytes {
			t.Errorf("%+v, then %+v", first, again)
		}
		began := time.Now()
		all, err := shop.CheckFolder(t.Context(), dir)
		if err != nil || all.Err() != nil || all.Found != n {
			t.Errorf("%d of %d codes found, %v", all.Found, all.Codes, err)
		}
		t.Logf("%d codes checked in %.1f s", all.Codes, time.Since(began).Seconds())
	}
}

// manyFloats is a workshop of n floats in batches of fifty, whose weights weigh so
// many different masses.
func manyFloats(t *testing.T, n, weights int) *job.Workshop {
	t.Helper()
	const each, patterns = 50, 8
	dir := t.TempDir()
	s, err := store.Open(filepath.Join(dir, "workshop.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	taken := map[string]bool{}
	key := make([]byte, 32)
	made := 0
	for b := 0; made < n; b++ {
		name := fmt.Sprintf("26-%d", b)
		var floats []store.Float
		var changes []store.Change
		for i := 1; i <= each && made < n; i++ {
			made++
			attempt := 0
			id := string(ident.Make(key, name, i, attempt))
			for taken[id] {
				attempt++
				id = string(ident.Make(key, name, i, attempt))
			}
			taken[id] = true
			e := sample()
			e.ID, e.Batch, e.Number, e.Code = id, name, i, "HTTPS://F.EXAMPLE/"+id
			e.Pattern = fmt.Sprintf("Sedge waggler %d", b%patterns)
			e.Waterline += unit.Millimetre(b%patterns) / 2
			e.AddG = unit.Gram(0.6 + 0.1*float64(b/patterns%5))
			e.AddPullG = e.AddG * 0.8628 // tin in fresh water
			e.WeighedG = 7.2 + unit.Gram(made*7%weights)/100
			e.MeasuredG = e.AddG + unit.Gram(made%997)/20_000
			e.UG = 0.015 + unit.Gram(made%13)/1000
			data, err := json.Marshal(e)
			if err != nil {
				t.Fatal(err)
			}
			floats = append(floats, store.Float{ID: id, Batch: name, Number: i, Attempt: attempt, Pattern: fmt.Sprint("sedge", b%patterns), Data: data, Created: "2026-11-20T10:00:00Z"})
			if i%10 > 0 {
				changes = append(changes, store.Change{Subject: store.Subject{Kind: "float", Key: id}, Path: "status", Value: json.RawMessage(`"sold"`), Seen: store.Unseen},
					store.Change{Subject: store.Subject{Kind: "float", Key: id}, Path: "made", Value: json.RawMessage(`"2026-11"`), Seen: store.Unseen})
			}
		}
		err := s.SavePrint(store.Print{Key: name, Batch: name, Made: "2026-11-20T10:00:00Z", Data: json.RawMessage(`{"format":1,"floats":[]}`),
			Regions: []store.Region{{Number: b + 1, Stock: "film", Feed: "top", Data: json.RawMessage(`{}`)}}}, floats)
		if err == nil {
			_, err = s.Change(store.ChangeSet{At: "2026-11-21T10:00:00Z", By: job.ByBench, Changes: changes})
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	shop, err := job.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return shop
}
