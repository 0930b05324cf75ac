package job

import (
	"testing"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// A reading that is struck out counts no more, stays in the list, and counts again
// when it is let; nothing of the table is ever changed.
func TestStrikeReading(t *testing.T) {
	shop := phoneShop(t)
	slip := TankEntry{Key: "slip", Number: 3, Reading: "0.35"}
	send(t, shop, TankEntry{Key: "good", Number: 3, Reading: "0.85"}, slip, TankEntry{Key: "other", Number: 4, Reading: "0.8"})
	mean := func() (n int, mass float64) {
		r, err := shop.Tank("26-11")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Floats {
			if f.Number == 3 {
				return len(f.Readings), float64(f.Mass)
			}
		}
		return 0, 0
	}
	before, both := mean()
	if before != 2 {
		t.Fatalf("%d readings", before)
	}
	list, err := shop.TankReadings("26-11")
	if err != nil || len(list) != 3 || list[0].Noted != "0.85 g" || list[1].Noted != "0.35 g" || list[2].Number != 4 {
		t.Fatalf("%+v %v", list, err)
	}
	raw := func() (all []record.Reading) {
		s, err := shop.records()
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		if all, err = s.Readings("26-11"); err != nil {
			t.Fatal(err)
		}
		return all
	}
	old := raw()
	for range 2 { // the second says nothing new
		if err := shop.StrikeReading(t.Context(), "26-11", list[1].Key, true, ByPhone); err != nil {
			t.Fatal(err)
		}
	}
	if n, mass := mean(); n != 1 || mass < 0.849 || mass > 0.851 {
		t.Errorf("without the slip: %d readings, %v g", n, mass)
	}
	if a := send(t, shop, slip).Readings[0]; a.State != TankIsKnown {
		t.Errorf("sent again it is %q", a.State)
	}
	if n, err := shop.TankCount("26-11"); err != nil || n != 4 {
		t.Errorf("what was worked out is not worked out anew: %d, %v", n, err)
	}
	if list, err := shop.TankReadings("26-11"); err != nil || len(list) != 3 || !list[1].Struck || list[0].Struck {
		t.Errorf("%+v %v", list, err)
	}
	// All of a float: it was not read.
	if err := shop.StrikeReading(t.Context(), "26-11", list[2].Key, true, ByPhone); err != nil {
		t.Fatal(err)
	}
	if all, err := shop.readNumbers("26-11"); err != nil || len(all) != 1 || all[0] != 3 {
		t.Errorf("read are %v, %v", all, err)
	}
	if err := shop.StrikeReading(t.Context(), "26-11", list[1].Key, false, ByBench); err != nil {
		t.Fatal(err)
	}
	if n, mass := mean(); n != 2 || mass != both {
		t.Errorf("counting again: %d readings, %v g and not %v g", n, mass, both)
	}
	now := raw()
	for _, one := range old {
		found := false
		for _, r := range now {
			found = found || r.Key == one.Key && string(r.Data) == string(one.Data) && r.Made == one.Made
		}
		if !found {
			t.Errorf("%s was changed", one.Key)
		}
	}
	for _, r := range now {
		if s, ok := struckOf(r); ok {
			// What is struck out is no reading that could be struck out, and a program
			// that does not know of it refuses it.
			if err := shop.StrikeReading(t.Context(), "26-11", r.Key, true, ByPhone); fault.ClassOf(err) != fault.NotFound {
				t.Errorf("%+v: %v", s, err)
			}
			if _, _, err := readingOf(r); fault.ClassOf(err) != fault.Input {
				t.Errorf("taken for a reading: %v", err)
			}
		}
	}
	if err := shop.StrikeReading(t.Context(), "26-11", "nothing", true, ByPhone); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("%v", err)
	}
}
