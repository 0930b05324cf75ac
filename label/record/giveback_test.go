package record

import (
	"testing"

	"floatmark/loading/fault"
)

// A spare that was bound to the wrong float is ready again, bears that in its
// history, and goes on another float of the same figures.
func TestGivingASpareBack(t *testing.T) {
	s, _ := fresh(t)
	one, two, other := float(1, "9KYA3C", `{}`), float(2, "E5F6G7", `{}`), float(3, "H8J9K2", `{}`)
	one.Figures, two.Figures, other.Figures = "8 g", "8 g", "6 g"
	must(t, s.SavePrint(withSpares("k1", spare(1, "B2C3D4", "8 g")), []Float{one, two, other}))
	must(t, s.ConfirmPrint(1, day1))
	class(t, s.GiveBackSpare("B2C3D4", "bench", day2), fault.Input)
	class(t, s.GiveBackSpare("ZZZZZZ", "bench", day2), fault.NotFound)
	sp, _, err := s.Spare("B2C3D4")
	must(t, err)
	fits, err := s.FloatsBearing(sp.Pattern, sp.Figures, 10)
	if err != nil || len(fits) != 2 || fits[0].Number != 2 || fits[1].ID != "9KYA3C" {
		t.Errorf("%+v %v", fits, err)
	}
	if fits, err := s.FloatsBearing(sp.Pattern, sp.Figures, 1); err != nil || len(fits) != 1 {
		t.Errorf("%+v %v", fits, err)
	}
	must(t, s.ClaimSpare("B2C3D4", "autumn", 1, day2))
	before, err := s.Summary()
	must(t, err)
	must(t, s.GiveBackSpare("B2C3D4", "bench", day2))
	if after, err := s.Summary(); err != nil || after.Rows < before.Rows {
		t.Errorf("%d rows after %d: a backup of before would be taken for the newer", after.Rows, before.Rows)
	}
	if sp, _, err := s.Spare("B2C3D4"); err != nil || sp.State != Unclaimed || sp.ClaimID != "" {
		t.Errorf("%+v %v", sp, err)
	}
	if _, ok, err := s.FloatOf("B2C3D4"); ok || err != nil {
		t.Error("it still stands for the float", err)
	}
	past, err := s.Changes(Subject{Kind: "spare", Key: "B2C3D4"})
	if err != nil || len(past) != 1 || past[0].By != "bench" || string(past[0].After) != `{"claimed":"`+day2+`","float":"9KYA3C"}` {
		t.Errorf("%+v %v", past, err)
	}
	must(t, s.ClaimSpare("B2C3D4", "autumn", 2, day2))
}
