package job

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"testing"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/loading/fault"

	"pgregory.net/rapid"
)

func mustJSON(t testing.TB, v any) json.RawMessage {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Each float is ticked once, whichever way its id is given; what is taken back is
// missing again.
func TestTick(t *testing.T) {
	w := tickShop(t)
	for _, c := range []struct {
		text       string
		undo       bool
		number     int
		already    bool
		done       int
		varnished  bool
		ticksAfter int
	}{
		{"9KYA3C", false, 1, false, 1, true, 1},
		{"https://f.example/9kya3c", false, 1, true, 1, true, 1},
		{spareOn, false, 2, false, 2, true, 1},
		{"CKWB6V", false, 2, true, 2, true, 1},
		{"RDSKJF", true, 3, true, 2, false, 0},
		{"RDSKJF", false, 3, false, 3, true, 1},
		{"CKWB6V", true, 2, false, 2, false, 2},
		{spareOn, true, 2, true, 2, false, 2},
		{spareOn, false, 2, false, 3, true, 3},
	} {
		do := w.Tick
		if c.undo {
			do = w.Untick
		}
		got, err := do(t.Context(), c.text)
		if err != nil {
			t.Fatal(err)
		}
		if got.Number != c.number || got.Already != c.already || got.Done != c.done || got.Of != 3 || (got.Varnished != "") != c.varnished {
			t.Errorf("%+v: %+v", c, got)
		}
		if n := len(storedTicks(t, w, autumn()[c.number-1])); n != c.ticksAfter {
			t.Errorf("%+v: %d ticks are stored", c, n)
		}
	}
	// The spare's id is kept with the tick, which stands under the float's own.
	last := storedTicks(t, w, "CKWB6V")[2]
	var data tickData
	if err := json.Unmarshal(last.Data, &data); err != nil || data != (tickData{1, spareOn}) || last.Step != record.Varnished {
		t.Errorf("%+v %v", last, err)
	}
	if n := len(storedTicks(t, w, spareOn)); n != 0 {
		t.Errorf("%d ticks under the spare's id", n)
	}
}

func storedTicks(t testing.TB, w *Workshop, id string) []record.Tick {
	t.Helper()
	s, err := record.OpenReadOnly(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	all, err := s.Ticks(id)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestTicksRefused(t *testing.T) {
	w := tickShop(t)
	_, err := w.Tick(t.Context(), "9KYA3D")
	faulty(t, err, fault.Input, "is not an id")
	_, err = w.Tick(t.Context(), spareFree)
	faulty(t, err, fault.NotFound, "on no float yet")
	_, err = w.Ticks("spring")
	faulty(t, err, fault.NotFound, "batch spring: there is no batch of that name")
	none, err := Open(filepath.Join(t.TempDir(), "none"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = none.Tick(t.Context(), "9KYA3C")
	faulty(t, err, fault.NotFound, "there is no record here yet")
	_, err = none.Ticks("autumn")
	faulty(t, err, fault.NotFound, "no batch of that name")
	for _, id := range append(autumn(), spareFree) {
		if n := len(storedTicks(t, w, id)); n != 0 {
			t.Errorf("%s has %d ticks", id, n)
		}
	}
}

func TestTicksList(t *testing.T) {
	w := tickShop(t)
	if _, err := w.Tick(t.Context(), "RDSKJF"); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Pack(t.Context(), spareOn, "CKWB6V"); err != nil {
		t.Fatal(err)
	}
	all, err := w.Ticks("autumn")
	if err != nil || len(all) != 3 {
		t.Fatal(all, err)
	}
	for i, l := range all {
		if l.Number != i+1 || l.ID != autumn()[i] || l.Pattern != "Sedge waggler" || l.Rating != "8 g" || (l.Varnished != "") != (i == 2) || (l.Carded != "") != (i == 1) {
			t.Errorf("%+v", l)
		}
	}
	if !reflect.DeepEqual(all[1].Spares, []string{spareOn}) || all[0].Spares != nil {
		t.Errorf("spares %v and %v", all[0].Spares, all[1].Spares)
	}
	if m := Missing(all); len(m) != 2 || m[0].Number != 1 || m[1].Number != 2 {
		t.Errorf("missing: %+v", m)
	}
}

func TestPack(t *testing.T) {
	w := tickShop(t)
	got, err := w.Pack(t.Context(), "9KYA3C", "HTTPS://F.EXAMPLE/9KYA3C")
	if err != nil || got.Already || !got.Unvarnished || got.Carded == "" || got.Number != 1 {
		t.Errorf("%+v %v", got, err)
	}
	got, err = w.Pack(t.Context(), "9KYA3C", "9KYA3C")
	if err != nil || !got.Already || len(storedTicks(t, w, "9KYA3C")) != 1 {
		t.Errorf("%+v %v", got, err)
	}
	if _, err := w.Tick(t.Context(), "CKWB6V"); err != nil {
		t.Fatal(err)
	}
	// The float bears the spare's id, its card its own.
	got, err = w.Pack(t.Context(), spareOn, "CKWB6V")
	if err != nil || got.Unvarnished || got.Number != 2 || got.Spare != spareOn || got.Varnished == "" || got.Carded == "" {
		t.Errorf("%+v %v", got, err)
	}
	_, err = w.Pack(t.Context(), "RDSKJF", "HTTPS://F.EXAMPLE/9KYA3C")
	faulty(t, err, fault.Input, "wrong card: this is float 3 of autumn (RDSKJF, 8 g), the card belongs to float 1 of autumn (9KYA3C, 8 g)")
	_, err = w.Pack(t.Context(), "RDSKJF", "9KYA3D")
	faulty(t, err, fault.Input, "the card: ")
	_, err = w.Pack(t.Context(), spareFree, "RDSKJF")
	faulty(t, err, fault.NotFound, "the float: ")
	if n := len(storedTicks(t, w, "RDSKJF")); n != 0 {
		t.Errorf("%d ticks of a pair that was refused", n)
	}
	// What is taken back is off its card too.
	if _, err := w.Untick(t.Context(), "CKWB6V"); err != nil {
		t.Fatal(err)
	}
	all, err := w.Ticks("autumn")
	if err != nil || all[1].Steps != (Steps{}) {
		t.Errorf("%+v %v", all, err)
	}
}

// Whatever is done in whatever order, the list is what a plain account of it says.
func TestTicksAgreeWithAPlainAccount(t *testing.T) {
	w := tickShop(t)
	varnished, carded := map[int]bool{}, map[int]bool{}
	ids := append(autumn(), spareOn)
	floatOf := []int{1, 2, 3, 2}
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(ids)-1).Draw(t, "float")
		j := rapid.IntRange(0, len(ids)-1).Draw(t, "card")
		n := floatOf[i]
		switch rapid.IntRange(0, 2).Draw(t, "what") {
		case 0:
			got, err := w.Tick(t.Context(), ids[i])
			if err != nil || got.Already != varnished[n] {
				t.Fatalf("%+v %v", got, err)
			}
			varnished[n] = true
		case 1:
			got, err := w.Untick(t.Context(), ids[i])
			if err != nil || got.Already != (!varnished[n] && !carded[n]) {
				t.Fatalf("%+v %v", got, err)
			}
			varnished[n], carded[n] = false, false
		case 2:
			got, err := w.Pack(t.Context(), ids[i], ids[j])
			if (err == nil) != (n == floatOf[j]) {
				t.Fatalf("%s on the card of %s: %+v %v", ids[i], ids[j], got, err)
			}
			if err == nil {
				if got.Already != carded[n] || got.Unvarnished != !varnished[n] {
					t.Fatalf("%+v", got)
				}
				carded[n] = true
			}
		}
		all, err := w.Ticks("autumn")
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range all {
			if (l.Varnished != "") != varnished[l.Number] || (l.Carded != "") != carded[l.Number] {
				t.Fatalf("%+v, want %v %v", l, varnished[l.Number], carded[l.Number])
			}
		}
	})
}

// A tick of a batch of 1,000 floats, with the count of what is left.
func BenchmarkTick(b *testing.B) {
	w, err := Open(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		b.Fatal(err)
	}
	var floats []record.Float
	for n := range 1000 {
		id := string(ident.Make([]byte("bench"), "large", n+1, 0))
		floats = append(floats, record.Float{ID: id, Batch: "large", Number: n + 1, Data: mustJSON(b, label.Entry{Format: 1, ID: id}), Created: ledgerDay})
	}
	if err := s.SavePrint(record.Print{Key: "k", Batch: "large", Made: ledgerDay}, floats); err != nil {
		b.Fatal(err)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	n := 0
	for b.Loop() {
		if _, err := w.Tick(b.Context(), floats[n%1000].ID); err != nil {
			b.Fatal(err)
		}
		n++
	}
}
