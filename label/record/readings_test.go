package record

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"sync"
	"testing"

	"floatmark/loading/fault"
)

func reading(key string, number int) Reading {
	return Reading{Key: key, Batch: "autumn", Number: number, Made: day1, Data: json.RawMessage(`{"format":1,"hung_g":0.85}`)}
}

func TestReadingsAreAddedOnce(t *testing.T) {
	s, path := fresh(t)
	later := reading("r3", 1)
	later.Made, later.Data = day2, json.RawMessage(`{"format":1,"hung_g":0.86}`)
	n, err := s.AddReadings([]Reading{reading("r1", 2), reading("r2", 1), later})
	if n != 3 || err != nil {
		t.Fatal(n, err)
	}
	again := reading("r1", 2)
	again.Made = day2 // noted again another day: the same key, the same reading
	if n, err := s.AddReadings([]Reading{again, reading("r4", 1)}); n != 1 || err != nil {
		t.Errorf("%d new, %v; want one", n, err)
	}
	must(t, s.Close())
	r, err := OpenReadOnly(path)
	must(t, err)
	defer r.Close()
	got, err := r.Readings("autumn")
	want := []Reading{reading("r2", 1), later, reading("r4", 1), reading("r1", 2)}
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("readings\n%+v, want\n%+v (%v)", got, want, err)
	}
	if b, err := r.ReadingBatches(); err != nil || !reflect.DeepEqual(b, []string{"autumn"}) {
		t.Errorf("batches %v %v", b, err)
	}
	if none, err := r.Readings("spring"); len(none) != 0 || err != nil {
		t.Errorf("an unknown batch: %v %v", none, err)
	}
	if _, err := r.AddReadings([]Reading{reading("r5", 1)}); fault.ClassOf(err) != fault.Ours || err == nil {
		t.Errorf("a store opened for reading takes one: %v", err)
	}
}

// One bad reading leaves none of its company.
func TestReadingsAreAllOrNothing(t *testing.T) {
	s, _ := fresh(t)
	if _, err := s.AddReadings([]Reading{reading("r1", 1)}); err != nil {
		t.Fatal(err)
	}
	other := reading("r1", 2)
	_, err := s.AddReadings([]Reading{reading("r2", 1), other})
	class(t, err, fault.Input)
	changed := reading("r1", 1)
	changed.Data = json.RawMessage(`{"format":1}`)
	_, err = s.AddReadings([]Reading{changed})
	class(t, err, fault.Input)
	for _, bad := range []Reading{{}, {Key: "k", Batch: "b", Made: day1, Data: json.RawMessage("{")}, {Key: "k", Batch: "b", Made: day1}} {
		_, err := s.AddReadings([]Reading{reading("r3", 1), bad})
		class(t, err, fault.Ours)
	}
	if got, err := s.Readings("autumn"); len(got) != 1 || err != nil {
		t.Errorf("%d readings (%v), want the first alone", len(got), err)
	}
}

func TestManyNoteTheSameReading(t *testing.T) {
	path := filepath.Join(t.TempDir(), "workshop.db")
	var wg sync.WaitGroup
	added := make([]int, 6)
	for i := range added {
		wg.Go(func() {
			s, err := Open(path)
			if err == nil {
				added[i], err = s.AddReadings([]Reading{reading("r1", 1)})
				s.Close()
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	sum := 0
	for _, n := range added {
		sum += n
	}
	if sum != 1 {
		t.Errorf("%d added, want one", sum)
	}
}
