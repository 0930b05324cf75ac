package record

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"floatmark/loading/fault"
)

var one = Subject{"float", "9KYA3C"}

func edit(of Subject, path, value string, seen int64) Change {
	return Change{of, path, json.RawMessage(value), seen}
}

func changes(t *testing.T, s *Store, by, key string, all ...Change) Changed {
	t.Helper()
	done, err := s.Change(ChangeSet{At: day1, By: by, Key: key, Changes: all})
	must(t, err)
	return done
}

func picture(text string) *Photo {
	sum := sha256.Sum256([]byte(text))
	return &Photo{SHA256: hex.EncodeToString(sum[:]), Width: 4, Height: 3, At: day1, JPEG: []byte(text)}
}

// What was there before, when and through what it was changed: all of it stays.
func TestChangesAreKept(t *testing.T) {
	s, path := fresh(t)
	first := changes(t, s, "bench", "", edit(one, "status", `"in work"`, 0), edit(one, "coats/+", `{"product":"satin"}`, 0), edit(one, "coats/+", `{"product":"gloss"}`, 0))
	if !slices.Equal(first.Paths, []string{"status", "coats/1", "coats/2"}) || first.Known {
		t.Errorf("%+v", first)
	}
	changes(t, s, "phone", "", edit(one, "coats/2", "null", first.Version), edit(one, "status", `"sold"`, first.Version))
	third := changes(t, s, "bench", "", edit(one, "coats/+", `{"product":"matt"}`, first.Version))
	if third.Paths[0] != "coats/3" {
		t.Errorf("the number of an item that was taken out is used again: %v", third.Paths)
	}
	must(t, s.Close())
	r, err := OpenReadOnly(path)
	must(t, err)
	defer r.Close()
	state, version, err := r.State(one)
	want := []State{{"coats/1", json.RawMessage(`{"product":"satin"}`), 2}, {"coats/2", nil, 4}, {"coats/3", json.RawMessage(`{"product":"matt"}`), 6}, {"status", json.RawMessage(`"sold"`), 5}}
	if err != nil || version != 6 || !reflect.DeepEqual(state, want) {
		t.Errorf("%+v version %d %v", state, version, err)
	}
	all, err := r.Changes(one)
	if err != nil || len(all) != 6 || string(all[3].Before) != `{"product":"gloss"}` || all[3].After != nil || all[3].By != "phone" || all[3].At != day1 || all[0].Before != nil {
		t.Errorf("%+v %v", all, err)
	}
	if subs, err := r.Subjects("float"); err != nil || !slices.Equal(subs, []Subject{one}) {
		t.Errorf("%v %v", subs, err)
	}
}

func TestChangedInTheMeantime(t *testing.T) {
	s, _ := fresh(t)
	seen := changes(t, s, "bench", "", edit(one, "status", `"finished"`, 0)).Version
	changes(t, s, "phone", "", edit(one, "status", `"sold"`, seen))
	_, err := s.Change(ChangeSet{At: day2, By: "bench", Changes: []Change{edit(one, "price", `"12"`, seen), edit(one, "status", `"returned"`, seen)}})
	class(t, err, fault.Input)
	if !errors.Is(err, ErrChanged) || !strings.Contains(err.Error(), "phone at "+clock(day1)) || !strings.Contains(err.Error(), `"sold"`) {
		t.Errorf("%v does not say who changed what", err)
	}
	if state, _, _ := s.State(one); len(state) != 1 {
		t.Errorf("half of a set was saved: %+v", state)
	}
	changes(t, s, "bench", "", edit(one, "status", `"sold"`, seen))         // what is so already is no quarrel
	changes(t, s, "bench", "", edit(one, "price", `"12"`, seen))            // another field
	changes(t, s, "command", "", edit(one, "status", `"returned"`, Unseen)) // nobody looked
	if all, _ := s.Changes(one); len(all) != 4 {
		t.Errorf("%+v", all)
	}
}

func TestOneKeyOneSet(t *testing.T) {
	s, _ := fresh(t)
	first := changes(t, s, "phone", "k", edit(one, "notes/+", `{"text":"a"}`, 0))
	changes(t, s, "phone", "", edit(one, "notes/+", `{"text":"b"}`, 0))
	again := changes(t, s, "phone", "k", edit(one, "notes/+", `{"text":"a"}`, 99))
	if !again.Known || !slices.Equal(again.Paths, first.Paths) {
		t.Errorf("%+v, first %+v", again, first)
	}
	_, err := s.Change(ChangeSet{At: day1, By: "phone", Key: "k", Changes: []Change{edit(one, "notes/+", `{"text":"c"}`, 0)}})
	class(t, err, fault.Input)
	_, err = s.Change(ChangeSet{At: day1, By: "phone", Changes: []Change{edit(one, "notes/7", `{"text":"c"}`, 0)}})
	class(t, err, fault.NotFound)
	for _, bad := range []ChangeSet{{}, {At: day1, By: "x"}, {At: day1, By: "x", Changes: []Change{{Subject: one, Path: "status"}}}, {At: day1, By: "x", Changes: []Change{{Path: "p", Value: json.RawMessage("1")}}}} {
		_, err := s.Change(bad)
		class(t, err, fault.Ours)
	}
	if all, _ := s.Changes(one); len(all) != 2 {
		t.Errorf("%+v", all)
	}
}

func TestPhotosAreKeptOnce(t *testing.T) {
	s, _ := fresh(t)
	for i, of := range []Subject{one, {"batch", "autumn"}} {
		done, err := s.Change(ChangeSet{At: day1, By: "phone", Photo: picture("jpeg"), Changes: []Change{edit(of, "photos/+", `{"photo":0,"caption":"\"photo\":0"}`, 0)}})
		must(t, err)
		state, _, err := s.State(of)
		if err != nil || done.Paths[0] != "photos/1" || string(state[0].Value) != `{"photo":1,"caption":"\"photo\":0"}` {
			t.Errorf("%d: %+v %v %v", i, done, state, err)
		}
	}
	p, ok, err := s.Photo(1)
	if err != nil || !ok || string(p.JPEG) != "jpeg" || p.Number != 1 || p.Width != 4 {
		t.Errorf("%+v %v %v", p, ok, err)
	}
	if _, ok, err := s.Photo(2); ok || err != nil {
		t.Error(ok, err)
	}
	bad := picture("jpeg")
	bad.JPEG = []byte("other")
	_, err = s.Change(ChangeSet{At: day1, By: "phone", Photo: bad, Changes: []Change{edit(one, "photos/+", `{"photo":0}`, 0)}})
	class(t, err, fault.Ours)
}

// The state is what the changes come to, whatever is changed in whatever order,
// by several who each saw something older.
func TestStateIsWhatTheChangesComeTo(t *testing.T) {
	s, _ := fresh(t)
	subjects := 0
	base := int64(0)
	rapid.Check(t, func(rt *rapid.T) {
		subjects++ // a new one in every check: a new record takes 40 ms
		of := Subject{"float", fmt.Sprint(subjects)}
		plain := map[string]string{}
		next := 0
		for i := range rapid.IntRange(1, 12).Draw(rt, "n") {
			path := rapid.SampledFrom([]string{"status", "price", "notes/+", "notes/1", "notes/2"}).Draw(rt, "path")
			value := rapid.SampledFrom([]string{"null", `"a"`, `"b"`}).Draw(rt, "value")
			seen := base + rapid.Int64Range(0, int64(i)).Draw(rt, "seen")
			if rapid.Bool().Draw(rt, "unseen") {
				seen = Unseen
			}
			_, err := s.Change(ChangeSet{At: day1, By: "bench", Changes: []Change{edit(of, path, value, seen)}})
			if errors.Is(err, ErrChanged) || fault.ClassOf(err) == fault.NotFound && err != nil {
				continue
			}
			if err != nil {
				rt.Fatal(err)
			}
			if path == "notes/+" {
				if value == "null" {
					continue // nothing from nothing: no change
				}
				next++
				path = fmt.Sprintf("notes/%d", next)
			}
			plain[path] = stored(json.RawMessage(value))
		}
		all, err := s.Changes(of)
		if err != nil {
			rt.Fatal(err)
		}
		derived := map[string]string{}
		for _, c := range all {
			if derived[c.Path] != string(c.Before) {
				rt.Fatalf("%+v does not follow on %q", c, derived[c.Path])
			}
			derived[c.Path] = string(c.After)
		}
		state, version, err := s.State(of)
		base = max(base, version)
		if err != nil {
			rt.Fatal(err)
		}
		got := map[string]string{}
		for _, f := range state {
			got[f.Path] = string(f.Value)
		}
		for path, v := range plain {
			if got[path] != v {
				rt.Fatalf("%s is %q, want %q", path, got[path], v)
			}
		}
		if !reflect.DeepEqual(got, derived) {
			rt.Fatalf("state %v, changes come to %v", got, derived)
		}
	})
}

// Several programs that add to one list at once lose nothing and give no number
// twice.
func TestManyChangeAtOnce(t *testing.T) {
	_, path := fresh(t)
	const writers, each = 6, 10
	var wg sync.WaitGroup
	paths := make([][]string, writers)
	errs := make([]error, writers)
	for i := range writers {
		s := open(t, path)
		wg.Go(func() {
			for n := range each {
				done, err := s.Change(ChangeSet{At: day1, By: "phone", Changes: []Change{edit(one, "notes/+", fmt.Sprintf("[%d,%d]", i, n), 0)}})
				if err != nil {
					errs[i] = err
					return
				}
				paths[i] = append(paths[i], done.Paths...)
			}
		})
	}
	wg.Wait()
	must(t, errors.Join(errs...))
	all := slices.Concat(paths...)
	slices.Sort(all)
	state, _, err := open(t, path).State(one)
	if n := len(slices.Compact(all)); n != writers*each || len(state) != n || err != nil {
		t.Errorf("%d numbers, %d notes, want %d: %v", n, len(state), writers*each, err)
	}
}

func TestSearch(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`), float(2, "B2C3D4", `{}`)}))
	changes(t, s, "bench", "", edit(Subject{"batch", "autumn"}, "notes/+", `"x"`, 0))
	stale, err := s.Stale(10)
	if err != nil || len(stale) != 3 {
		t.Fatalf("%+v %v", stale, err)
	}
	for i := range stale {
		stale[i].Text = map[string]string{"9KYA3C": "9kya3c autumn 4.5g \"odd", "B2C3D4": "b2c3d4 autumn 8g Lärche", "autumn": "autumn satin"}[stale[i].Subject.Key]
	}
	changes(t, s, "bench", "", edit(Subject{"batch", "autumn"}, "notes/+", `"y"`, 0)) // meanwhile
	must(t, s.Index(stale))
	if left, err := s.Stale(10); err != nil || len(left) != 1 || left[0].Subject.Key != "autumn" {
		t.Errorf("left stale: %+v %v", left, err)
	}
	for query, want := range map[string]int{"autumn": 3, "aut": 3, "4.5g": 1, "4.5": 1, "larche": 1, "9KYA3C": 1, "nothing": 0, "\"": 0, "*": 0, "8g": 1} {
		got, more, err := s.Search([][]string{{query}}, 10)
		if err != nil || len(got) != want || more {
			t.Errorf("%s: %v %v %v, want %d", query, got, more, err, want)
		}
	}
	if got, more, err := s.Search([][]string{{"autumn"}, {"8g", "satin"}}, 1); err != nil || len(got) != 1 || !more {
		t.Errorf("%v %v %v", got, more, err)
	}
	must(t, s.Index([]Doc{{Subject: Subject{"float", "9KYA3C"}, Text: "spring"}}))
	if got, _, err := s.Search([][]string{{"4.5g"}}, 10); err != nil || len(got) != 0 {
		t.Errorf("the old text is found: %v %v", got, err)
	}
}
