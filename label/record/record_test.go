package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"floatmark/loading/fault"
)

const day1, day2 = "2026-11-20T09:00:00Z", "2026-11-21T09:00:00Z"

func open(t *testing.T, path string, opts ...Option) *Store {
	t.Helper()
	s, err := Open(path, opts...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func fresh(t *testing.T) (*Store, string) {
	path := filepath.Join(t.TempDir(), "a folder #1?", "workshop.db") // a name that must be escaped
	return open(t, path), path
}

func float(number int, id, data string) Float {
	return Float{ID: id, Batch: "autumn", Number: number, Pattern: "sluice 6", Data: json.RawMessage(data), Created: day1}
}

func job(key string) Print {
	return Print{Key: key, Batch: "autumn", Made: day1, Data: json.RawMessage(`{"format":1}`),
		Files:   map[string]string{"marks.pdf": "ab12", "jobsheet.pdf": "cd34"},
		Regions: []Region{{Sheet: "film 1", Stock: "film-white-a4", Data: json.RawMessage(`{"h":41.5}`)}}}
}

// class fails the test unless err has that class and says what to do or is ours.
func class(t *testing.T, err error, want fault.Class) {
	t.Helper()
	var e *fault.Error
	if !errors.As(err, &e) || e.Class != want {
		t.Fatalf("got %v (%v), want class %v", err, fault.ClassOf(err), want)
	}
	if e.Do == "" && want != fault.Ours {
		t.Errorf("%v does not say what to do", err)
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestRoundTrip(t *testing.T) {
	s, path := fresh(t)
	want := []Float{float(2, "9KYA3C", `{"add": 0.8}`), float(11, "B2C3D4", `{"add":0.4}`)}
	want[1].Attempt = 3
	must(t, s.SavePrint(job("k1"), []Float{want[1], want[0]}))
	must(t, s.Close())

	s = open(t, path)
	got, err := s.Floats("autumn")
	must(t, err)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("floats\n%+v, want\n%+v", got, want)
	}
	if f, ok, err := s.FloatByNumber("autumn", 11); !ok || err != nil || !reflect.DeepEqual(f, want[1]) {
		t.Errorf("float 11: %+v %v %v", f, ok, err)
	}
	if f, ok, err := s.Float("9KYA3C"); !ok || err != nil || f.Number != 2 {
		t.Errorf("by id: %+v %v %v", f, ok, err)
	}
	if _, ok, err := s.Float("AAAAAA"); ok || err != nil {
		t.Errorf("an unknown id was found: %v", err)
	}
	prints, err := s.Prints("autumn")
	must(t, err)
	wantPrint := job("k1")
	wantPrint.State, wantPrint.Number = Pending, 1
	if !reflect.DeepEqual(prints, []Print{wantPrint}) {
		t.Errorf("prints\n%+v, want\n%+v", prints, wantPrint)
	}
	if b, err := s.Batches(); err != nil || !reflect.DeepEqual(b, []string{"autumn"}) {
		t.Errorf("batches %v %v", b, err)
	}
	for id, want := range map[string]bool{"9KYA3C": true, "ZZZZZZ": false} {
		if got, err := s.Taken(id); got != want || err != nil {
			t.Errorf("Taken(%s) = %v %v", id, got, err)
		}
	}
}

func TestSavingAgainChangesNothing(t *testing.T) {
	s, _ := fresh(t)
	f := float(1, "9KYA3C", `{"add":0.8}`)
	must(t, s.SavePrint(job("k1"), []Float{f}))
	later := job("k1")
	later.Made = day2
	f.Created = day2
	must(t, s.SavePrint(later, []Float{f}))
	prints, err := s.Prints("autumn")
	must(t, err)
	if len(prints) != 1 || prints[0].Made != day1 || len(prints[0].Regions) != 1 {
		t.Errorf("prints %+v, want the first one alone", prints)
	}
	if r, err := s.Regions("film-white-a4"); err != nil || len(r) != 1 {
		t.Errorf("regions %v %v, want one", r, err)
	}
	if got, _, _ := s.Float("9KYA3C"); got.Created != day1 {
		t.Errorf("the float is dated %s, want the day it was first saved so", got.Created)
	}
	if h, err := s.History("9KYA3C"); len(h) != 0 || err != nil {
		t.Errorf("history %v %v, want none", h, err)
	}
}

func TestHistoryKeepsWhatWasPrinted(t *testing.T) {
	s, _ := fresh(t)
	for i, add := range []string{"0.8", "0.7", "0.8"} {
		f := float(1, "9KYA3C", `{"add":`+add+`}`)
		f.Created = fmt.Sprintf("2026-11-2%dT09:00:00Z", i)
		// The third print is the first once more: its key is still pending.
		must(t, s.SavePrint(job("k"+add), []Float{f}))
	}
	h, err := s.History("9KYA3C")
	must(t, err)
	if len(h) != 2 || string(h[0].Data) != `{"add":0.8}` || h[0].Created != "2026-11-20T09:00:00Z" || string(h[1].Data) != `{"add":0.7}` {
		t.Errorf("history %+v", h)
	}
	if f, _, _ := s.Float("9KYA3C"); string(f.Data) != `{"add":0.8}` || f.Created != "2026-11-22T09:00:00Z" {
		t.Errorf("present %+v, want what was printed last", f)
	}
}

func TestStatesOfAPrint(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(job("k1"), nil))
	must(t, s.Cancel("k1", day1))
	if r, err := s.Regions("film-white-a4"); len(r) != 0 || err != nil {
		t.Errorf("a cancelled print holds %v (%v)", r, err)
	}
	class(t, s.Confirm("k1", day1), fault.Input)
	must(t, s.SavePrint(job("k1"), nil)) // a new run
	must(t, s.Confirm("k1", day2))
	must(t, s.Confirm("k1", day2))
	class(t, s.Cancel("k1", day2), fault.Input)
	class(t, s.SavePrint(job("k1"), nil), fault.Input)
	again := job("k1")
	again.Again = true
	must(t, s.SavePrint(again, nil))
	var states []string
	prints, err := s.Prints("autumn")
	must(t, err)
	for _, p := range prints {
		states = append(states, p.State)
	}
	if want := []string{Cancelled, Confirmed, Pending}; !reflect.DeepEqual(states, want) {
		t.Errorf("states %v, want %v", states, want)
	}
	if p, ok, err := s.Print("k1"); !ok || err != nil || p.State != Pending {
		t.Errorf("latest run %+v %v %v", p, ok, err)
	}
	class(t, s.Confirm("k2", day2), fault.NotFound)
}

func TestIDsAreNeverReused(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`)}))
	// Good floats before and after the refused one leave no trace.
	list := []Float{float(7, "B2C3D4", `{}`), float(2, "9KYA3C", `{}`), float(8, "E5F6G7", `{}`)}
	err := s.SavePrint(job("k2"), list)
	if !errors.Is(err, ErrTaken) {
		t.Errorf("got %v, want ErrTaken in it", err)
	}
	class(t, s.SavePrint(job("k2"), []Float{float(7, "B2C3D4", `{}`), float(1, "H8J9K2", `{}`)}), fault.Input)
	if f, _ := s.Floats("autumn"); len(f) != 1 {
		t.Errorf("floats %+v, want the first one alone", f)
	}
	if p, _ := s.Prints("autumn"); len(p) != 1 {
		t.Errorf("prints %+v, want the first one alone", p)
	}
	if r, _ := s.Regions("film-white-a4"); len(r) != 1 {
		t.Errorf("regions %+v, want those of the first print", r)
	}
}

func TestOurFaultsAreRefusedBeforeAnythingIsSaved(t *testing.T) {
	s, _ := fresh(t)
	bad := job("k1")
	bad.State = Confirmed
	class(t, s.SavePrint(bad, nil), fault.Ours)
	class(t, s.SavePrint(job(""), nil), fault.Ours)
	class(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{`)}), fault.Ours)
	class(t, s.SavePrint(job("k1"), []Float{float(1, "", `{}`)}), fault.Ours)
	if p, _ := s.Prints("autumn"); len(p) != 0 {
		t.Errorf("prints %+v, want none", p)
	}
}

func TestSettingsAreWrittenOnce(t *testing.T) {
	s, path := fresh(t)
	if v, ok, err := s.Setting("key"); v != "" || ok || err != nil {
		t.Errorf("an unset setting: %q %v %v", v, ok, err)
	}
	must(t, s.SetSetting("key", "00ff"))
	must(t, s.SetSetting("key", "00ff"))
	class(t, s.SetSetting("key", "00fe"), fault.Input)
	r, err := OpenReadOnly(path)
	must(t, err)
	defer r.Close()
	if v, ok, err := r.Setting("key"); v != "00ff" || !ok || err != nil {
		t.Errorf("got %q %v %v", v, ok, err)
	}
	class(t, r.SetSetting("other", "x"), fault.Ours)
}

// A first print sets the workshop's key in its own commit: a refused print
// leaves no key behind.
func TestAPrintsSettingsStandOrFallWithIt(t *testing.T) {
	s, _ := fresh(t)
	clash := []Float{float(1, "9KYA3C", `{}`), float(2, "9KYA3C", `{}`)}
	if err := s.SavePrint(job("k1"), clash, Setting{"key", "00ff"}); !errors.Is(err, ErrTaken) {
		t.Fatalf("got %v, want ErrTaken", err)
	}
	if v, ok, err := s.Setting("key"); ok || err != nil {
		t.Errorf("the refused print left the key %q, %v", v, err)
	}
	must(t, s.SavePrint(job("k1"), clash[:1], Setting{"key", "00ff"}))
	if v, ok, err := s.Setting("key"); v != "00ff" || !ok || err != nil {
		t.Errorf("key %q %v %v", v, ok, err)
	}
	class(t, s.SavePrint(job("k2"), nil, Setting{"key", "00fe"}), fault.Input)
}

// Whatever is saved, in any order and over and over, reads back as a plain map
// of the last versions.
func TestAgainstAMap(t *testing.T) {
	s, _ := fresh(t)
	run := 0
	rapid.Check(t, func(t *rapid.T) {
		run++
		batch := fmt.Sprintf("batch %d %s", run, rapid.String().Draw(t, "name"))
		want, old := map[int]Float{}, map[int]int{}
		for i := range rapid.IntRange(1, 6).Draw(t, "saves") {
			var list []Float
			for n := range rapid.MapOfN(rapid.IntRange(-3, 5), rapid.Bool(), 0, 5).Draw(t, "numbers") {
				data, err := json.Marshal(map[string]any{"v": rapid.IntRange(0, 2).Draw(t, "v"), "s": rapid.String().Draw(t, "s")})
				if err != nil {
					t.Fatal(err)
				}
				f := Float{ID: fmt.Sprintf("%d/%d", run, n), Batch: batch, Number: n, Data: data, Created: fmt.Sprint(i)}
				list = append(list, f)
				if have, ok := want[n]; ok && string(have.Data) == string(data) {
					continue
				} else if ok {
					old[n]++
				}
				want[n] = f
			}
			if err := s.SavePrint(Print{Key: fmt.Sprintf("%d/%d", run, i), Batch: batch}, list); err != nil {
				t.Fatal(err)
			}
		}
		got, err := s.Floats(batch)
		if err != nil || len(got) != len(want) {
			t.Fatalf("%d floats (%v), want %d", len(got), err, len(want))
		}
		for _, f := range got {
			if !reflect.DeepEqual(f, want[f.Number]) {
				t.Fatalf("got %+v, want %+v", f, want[f.Number])
			}
			if h, err := s.History(f.ID); err != nil || len(h) != old[f.Number] {
				t.Fatalf("history of %d versions (%v), want %d", len(h), err, old[f.Number])
			}
		}
	})
}

func TestTwoStoresAtOnce(t *testing.T) {
	print, path := fresh(t)
	serve := open(t, path)
	look, err := OpenReadOnly(path)
	must(t, err)
	defer look.Close()
	const n = 40
	var wg sync.WaitGroup
	errs := make(chan error, 3*n)
	for w, s := range []*Store{print, serve} {
		wg.Go(func() {
			for i := range n {
				p := job(fmt.Sprintf("k%d/%d", w, i))
				errs <- s.SavePrint(p, []Float{float(w*n+i, fmt.Sprintf("id%d/%d", w, i), `{}`)})
			}
		})
	}
	wg.Go(func() {
		for range n {
			f, err := look.Floats("autumn")
			p, err2 := look.Prints("autumn")
			// A float and its print appear together; the prints are read later.
			if err == nil && len(f) > len(p) {
				err = fmt.Errorf("%d floats beside %d prints", len(f), len(p))
			}
			errs <- errors.Join(err, err2)
		}
	})
	wg.Wait()
	close(errs)
	for err := range errs {
		if err != nil {
			t.Error(err)
		}
	}
	if f, err := serve.Floats("autumn"); len(f) != 2*n || err != nil {
		t.Errorf("%d floats (%v), want %d", len(f), err, 2*n)
	}
}
