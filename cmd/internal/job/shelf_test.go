package job

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// A shelf shows what is in the records now: none, some, others put in their place.
func TestShelf(t *testing.T) {
	dir := t.TempDir()
	empty := (&Workshop{Dir: dir}).Shelf()
	if _, ok, err := empty.Entry("9KYA3C"); ok || err != nil {
		t.Fatalf("no records: %v, %v", ok, err)
	}
	shop, ids := noted(t, 3)
	other, _ := noted(t, 1)
	path := func(w *Workshop) string { return filepath.Join(w.Dir, recordsFile) }
	s := shop.Shelf()
	defer s.Close()
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for _, id := range ids {
				e, ok, err := s.Entry(id)
				b, okBuild, errBuild := s.Build(id)
				if !ok || err != nil || e.ID != id || !okBuild || errBuild != nil || b.Float.Subject.Key != id {
					t.Errorf("%s: %v, %v, %v, %v", id, ok, err, okBuild, errBuild)
				}
			}
		})
	}
	all.Wait()
	if _, ok, err := s.Photo(1); ok || err != nil {
		t.Errorf("a photograph of nothing: %v, %v", ok, err)
	}
	if err := os.Rename(path(other), path(shop)); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := s.Entry(ids[0]); !ok || err != nil {
		t.Errorf("the first float is in both: %v, %v", ok, err)
	}
	if _, ok, err := s.Entry(ids[2]); ok || err != nil {
		t.Errorf("a float of the old records: %v, %v", ok, err)
	}
	if err := os.Remove(path(shop)); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := s.Entry(ids[0]); ok || err != nil {
		t.Errorf("records taken away: %v, %v", ok, err)
	}
}
