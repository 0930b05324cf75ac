package record

import (
	"path/filepath"
	"testing"
)

// What a record of any age holds is told by batch.
func TestHolds(t *testing.T) {
	for schema := 1; schema <= len(migrations()); schema++ {
		path := filepath.Join(t.TempDir(), "workshop.db")
		copySample(t, schema, path)
		s, err := OpenReadOnly(path)
		if err != nil {
			t.Fatal(err)
		}
		all, err := s.Holds("batch file")
		if err != nil || len(all) == 0 || all[0].Floats == 0 || all[0].Prints == 0 || all[0].Latest < day1 {
			t.Errorf("schema %d: %+v %v", schema, all, err)
		}
		s.Close()
	}
	s, _ := fresh(t)
	changes(t, s, "bench", "", edit(Subject{Kind: "batch file", Key: "spring"}, "file", `"x"`, 0))
	if all, err := s.Holds("batch file"); err != nil || len(all) != 1 || all[0].Batch != "spring" || all[0].Floats != 0 || all[0].Latest == "" {
		t.Errorf("%+v %v", all, err)
	}
}

// The head of a print is what tells it from others.
func TestPrintHead(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`)}))
	must(t, s.ConfirmPrint(1, day2))
	p, ok, err := s.PrintHead(1)
	if err != nil || !ok || p.Number != 1 || p.Batch != "autumn" || p.State != Confirmed || p.Settled != day2 || p.Made != day1 {
		t.Errorf("%+v %v %v", p, ok, err)
	}
	if _, ok, err := s.PrintHead(2); ok || err != nil {
		t.Errorf("%v %v", ok, err)
	}
}
