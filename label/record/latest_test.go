package record

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"reflect"
	"testing"
)

// What is read by itself is what stands in the whole lists.
func TestLatest(t *testing.T) {
	s, err := Open(filepath.Join(t.TempDir(), "workshop.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for i := range 12 {
		key := []string{"26-11", "26-12"}[i%2]
		at := fmt.Sprintf("2026-11-20T10:00:%02dZ", i)
		if _, err := s.Change(ChangeSet{At: at, By: "test", Changes: []Change{{Subject: Subject{"tank", key}, Path: "file", Value: json.RawMessage(fmt.Sprint(i)), Seen: Unseen}}}); err != nil {
			t.Fatal(err)
		}
		if i%3 > 0 {
			continue
		}
		if err := s.SavePrint(Print{Key: fmt.Sprint("print ", i), Batch: key, Made: at, Data: json.RawMessage("{}")}, nil); err != nil {
			t.Fatal(err)
		}
		if _, err := s.AddReadings([]Reading{{Key: fmt.Sprint("reading ", i), Batch: key, Number: 1, Made: at, Data: json.RawMessage("{}")}}); err != nil {
			t.Fatal(err)
		}
	}
	var changed, printed []Since
	for _, key := range []string{"26-11", "26-12", "26-13"} {
		of := Subject{"tank", key}
		all, err := s.Changes(of)
		n, err2 := s.ChangeCount(of)
		if err != nil || err2 != nil || n != len(all) {
			t.Errorf("%s: %d changes, of %d %v %v", key, n, len(all), err, err2)
		}
		for i := range n + 1 {
			one, ok, err := s.ChangeAt(of, i)
			if err != nil || ok != (i < n) || ok && !reflect.DeepEqual(one, all[i]) {
				t.Errorf("%s: change %d is %+v %v %v", key, i, one, ok, err)
			}
		}
		if _, ok, err := s.ChangeAt(of, -1); ok || err != nil {
			t.Errorf("%s: a change before the first: %v", key, err)
		}
		if n > 0 {
			changed = append(changed, Since{key, all[n-1].At})
		}
		prints, err := s.Prints(key)
		number, made, ok, err2 := s.LastPrint(key)
		if last := len(prints) - 1; err != nil || err2 != nil || ok != (last >= 0) || ok && (number != prints[last].Number || made != prints[last].Made) {
			t.Errorf("%s: the last print is %d, of %s %v %v", key, number, made, err, err2)
		} else if ok {
			printed = append(printed, Since{key, made})
		}
		readings, err := s.Readings(key)
		if n, err2 := s.ReadingCount(key); err != nil || err2 != nil || n != len(readings) {
			t.Errorf("%s: %d readings, of %d %v %v", key, n, len(readings), err, err2)
		}
	}
	if got, err := s.LastChanged("tank"); err != nil || len(got) != 2 || !reflect.DeepEqual(got, changed) {
		t.Errorf("%v, not %v: %v", got, changed, err)
	}
	if got, err := s.LastPrinted(); err != nil || len(got) != 2 || !reflect.DeepEqual(got, printed) {
		t.Errorf("%v, not %v: %v", got, printed, err)
	}
}
