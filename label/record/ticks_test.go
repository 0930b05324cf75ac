package record

import (
	"encoding/json"
	"reflect"
	"testing"

	"floatmark/loading/fault"
)

// Ticks come back in the order they were made and only for the float they are of.
func TestTicks(t *testing.T) {
	s, path := fresh(t)
	if all, err := s.Ticks("9KYA3C"); len(all) != 0 || err != nil {
		t.Fatal(all, err)
	}
	want := []Tick{
		{"9KYA3C", Varnished, day2, json.RawMessage(`{"format":1}`)},
		{"9KYA3C", TakenBack, day1, nil},
		{"9KYA3C", Varnished, day2, nil},
		{"9KYA3C", Carded, day2, nil},
	}
	for i, tick := range want {
		must(t, s.AddTick(tick))
		must(t, s.AddTick(Tick{"B2C3D4", Varnished, day1, nil}))
		if got, err := s.Ticks("9KYA3C"); err != nil || !reflect.DeepEqual(got, want[:i+1]) {
			t.Errorf("%+v %v", got, err)
		}
	}
	must(t, s.Close())
	r, err := OpenReadOnly(path)
	must(t, err)
	defer r.Close()
	if got, err := r.Ticks("B2C3D4"); err != nil || len(got) != len(want) {
		t.Errorf("%+v %v", got, err)
	}
}

func TestTicksRefused(t *testing.T) {
	s, _ := fresh(t)
	for _, tick := range []Tick{{}, {ID: "9KYA3C", Step: Varnished}, {At: day1, Step: Varnished}, {ID: "9KYA3C", At: day1, Step: "sold"},
		{ID: "9KYA3C", At: day1, Step: Carded, Data: json.RawMessage("{")}} {
		if err := s.AddTick(tick); fault.ClassOf(err) != fault.Ours || err == nil {
			t.Errorf("%+v: %v", tick, err)
		}
	}
	for _, c := range []CodeSizes{{}, {Made: day1}, {Made: day1, Data: json.RawMessage("{")}, {Data: json.RawMessage("{}")}} {
		if err := s.SetCodeSizes(c); fault.ClassOf(err) != fault.Ours || err == nil {
			t.Errorf("%+v: %v", c, err)
		}
	}
	if all, err := s.Ticks("9KYA3C"); len(all) != 0 || err != nil {
		t.Errorf("%v %v", all, err)
	}
	if _, ok, err := s.CodeSizes(); ok || err != nil {
		t.Errorf("%v %v", ok, err)
	}
}

// The latest answer counts, by the order of noting and not by its date.
func TestTheLatestCodeSizesCount(t *testing.T) {
	s, _ := fresh(t)
	later := CodeSizes{day1, json.RawMessage(`{"format":1,"sizes":[]}`)}
	must(t, s.SetCodeSizes(CodeSizes{day2, json.RawMessage(`{"format":1}`)}))
	must(t, s.SetCodeSizes(later))
	if got, ok, err := s.CodeSizes(); !ok || err != nil || !reflect.DeepEqual(got, later) {
		t.Errorf("%+v %v %v", got, ok, err)
	}
}
