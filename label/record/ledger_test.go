package record

import (
	"database/sql"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"floatmark/loading/fault"
)

// onSheet is a print that takes a part of one sheet, a fresh one if version is 0.
func onSheet(key string, number, version int) Print {
	p := job(key)
	p.Regions = []Region{{Number: number, Version: version, Stock: "film-white-a4", Feed: "left", Data: json.RawMessage(`{"of":"` + key + `"}`)}}
	return p
}

func overtaken(t *testing.T, err error, says string) {
	t.Helper()
	class(t, err, fault.Machine)
	if !errors.Is(err, ErrMeanwhile) || !strings.Contains(err.Error(), says) {
		t.Errorf("got %v, want ErrMeanwhile that says %q", err, says)
	}
}

func TestSheetIsFilledByOnePrintAfterTheOther(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(onSheet("k1", 1, 0), nil))
	must(t, s.SavePrint(onSheet("k2", 1, 1), nil))
	open, next, err := s.Ledger("film-white-a4")
	must(t, err)
	want := Sheet{Number: 1, Stock: "film-white-a4", Feed: "left", Made: day1, State: SheetOpen, Version: 2,
		Parts: []Part{{Print: 1, Data: json.RawMessage(`{"of":"k1"}`)}, {Print: 2, Data: json.RawMessage(`{"of":"k2"}`)}}}
	if len(open) != 1 || !reflect.DeepEqual(open[0], want) || next != 2 {
		t.Fatalf("%+v, next %d, want %+v", open, next, want)
	}
	if other, _, err := s.Ledger("card"); len(other) != 0 || err != nil {
		t.Errorf("another stock has %v (%v)", other, err)
	}
	if p, ok, err := s.PrintByNumber(2); !ok || err != nil || p.Key != "k2" || len(p.Regions) != 1 || p.Regions[0].Number != 1 || p.Regions[0].Sheet != "1" {
		t.Errorf("print 2: %+v %v %v", p, ok, err)
	}
	must(t, s.SetSheet(1, SheetUsedUp, "nothing more fits", day2))
	if open, err := s.OpenSheets("film-white-a4"); len(open) != 0 || err != nil {
		t.Errorf("a used up sheet is open: %v %v", open, err)
	}
	sh, events, ok, err := s.Sheet(1)
	if err != nil || !ok || sh.State != SheetUsedUp || sh.Note != "nothing more fits" || len(events) != 3 || events[2].At != day2 {
		t.Errorf("%+v %+v %v %v", sh, events, ok, err)
	}
	if _, _, ok, err := s.Sheet(2); ok || err != nil {
		t.Error("an unknown sheet is known", err)
	}
}

func TestWhatCameBetweenPlanAndPrint(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(onSheet("k1", 1, 0), nil))
	overtaken(t, s.SavePrint(onSheet("k2", 1, 0), nil), "another print got this number")
	must(t, s.SavePrint(onSheet("k3", 1, 1), nil))
	overtaken(t, s.SavePrint(onSheet("k4", 1, 1), nil), "another print, number 2, took a part of it")
	must(t, s.CancelPrint(2, nil, day2)) // version 3: what was given back harms no plan from before it, but the print in between does
	overtaken(t, s.SavePrint(onSheet("k4", 1, 1), nil), "number 2")
	must(t, s.SavePrint(onSheet("k4", 1, 2), nil))
	must(t, s.CorrectSheet(1, 0, true, json.RawMessage(`1`), "", day2))
	must(t, s.SavePrint(onSheet("k5", 1, 4), nil))
	must(t, s.CorrectSheet(1, 0, false, json.RawMessage(`2`), "", day2))
	overtaken(t, s.SavePrint(onSheet("k6", 1, 6), nil), "noted as used")
	must(t, s.SetSheet(1, SheetWrittenOff, "wet", day2))
	overtaken(t, s.SavePrint(onSheet("k6", 1, 7), nil), "written off")
	class(t, s.SavePrint(onSheet("k6", 1, 8), nil), fault.Ours)
	class(t, s.SavePrint(onSheet("k6", 1, 9), nil), fault.Ours)
	class(t, s.SavePrint(onSheet("k6", 3, 0), nil), fault.Ours)
	class(t, s.CorrectSheet(1, 8, false, json.RawMessage(`3`), "", day2), fault.Input)
	must(t, s.SetSheet(1, SheetOpen, "dry again", day2))
	overtaken(t, s.CorrectSheet(1, 8, false, json.RawMessage(`3`), "", day2), "meanwhile")
	must(t, s.CorrectSheet(1, 9, false, json.RawMessage(`3`), "", day2))
}

func TestTwoPrintsAtOnceOnOneSheet(t *testing.T) {
	a, path := fresh(t)
	must(t, a.SavePrint(onSheet("k0", 1, 0), nil))
	b := open(t, path)
	for round := range 10 {
		var wg sync.WaitGroup
		errs := make([]error, 2)
		for i, s := range []*Store{a, b} {
			wg.Go(func() {
				errs[i] = s.SavePrint(onSheet(string(rune('a'+i))+string(rune('0'+round)), 1, round+1), nil)
			})
		}
		wg.Wait()
		if errs[0] != nil {
			errs[0], errs[1] = errs[1], errs[0]
		}
		must(t, errs[0])
		overtaken(t, errs[1], "took a part of it meanwhile")
	}
	if sh, _, _, err := a.Sheet(1); len(sh.Parts) != 11 || err != nil {
		t.Errorf("%d parts (%v), want 11", len(sh.Parts), err)
	}
}

func TestCancelledPrintsGiveTheirNumbersBack(t *testing.T) {
	s, _ := fresh(t)
	must(t, s.SavePrint(onSheet("k1", 1, 0), nil))
	must(t, s.SavePrint(onSheet("k2", 2, 0), nil))
	must(t, s.CancelPrint(1, nil, day2))
	if open, next, err := s.Ledger("film-white-a4"); len(open) != 1 || next != 3 || err != nil {
		t.Errorf("%v, next %d, %v: sheet 2 is in use", open, next, err)
	}
	class(t, s.CancelPrint(2, []int{1}, day2), fault.Input) // it does not lie on sheet 1
	must(t, s.CancelPrint(2, []int{2, 2}, day2))
	if sh, _, _, err := s.Sheet(2); sh.State != SheetWrittenOff || !strings.Contains(sh.Note, "print 2") || err != nil {
		t.Errorf("%+v %v", sh, err)
	}
	if _, next, err := s.Ledger("film-white-a4"); next != 3 || err != nil {
		t.Errorf("next %d (%v): a lost sheet keeps its number", next, err)
	}
	must(t, s.SavePrint(onSheet("k3", 3, 0), nil))
	must(t, s.Cancel("k3", day2))
	again := onSheet("k4", 3, 0)
	again.Regions[0].Stock = "card"
	must(t, s.SavePrint(again, nil))
	if sh, _, _, err := s.Sheet(3); sh.Stock != "card" || len(sh.Parts) != 1 || err != nil {
		t.Errorf("%+v %v", sh, err)
	}
}

func TestPrintsAreSettledOnce(t *testing.T) {
	s, _ := fresh(t)
	class(t, s.ConfirmPrint(1, day2), fault.NotFound)
	class(t, s.CancelPrint(0, nil, day2), fault.NotFound)
	must(t, s.SavePrint(job("k1"), nil))
	must(t, s.ConfirmPrint(1, day2))
	for _, err := range []error{s.ConfirmPrint(1, day2), s.CancelPrint(1, nil, day2)} {
		class(t, err, fault.Input)
		if !strings.Contains(err.Error(), "print 1: it was confirmed already, on "+clock(day2)) {
			t.Error(err)
		}
	}
	if p, _, err := s.PrintByNumber(1); p.State != Confirmed || p.Settled != day2 || err != nil {
		t.Errorf("%+v %v", p, err)
	}
	class(t, s.SetSheet(7, SheetUsedUp, "", day2), fault.NotFound)
	class(t, s.CorrectSheet(7, 0, false, json.RawMessage(`1`), "", day2), fault.NotFound)
	class(t, s.CorrectSheet(7, 0, false, nil, "", day2), fault.Ours)
	class(t, s.SetSheet(7, "torn", "", day2), fault.Ours)
}

func spare(number int, id, figures string) Spare {
	return Spare{ID: id, Batch: "autumn", Number: number, Pattern: "sluice 6", Figures: figures, Data: json.RawMessage(`{"lines":["8 g"]}`)}
}

func withSpares(key string, list ...Spare) Print {
	p := job(key)
	p.Spares = list
	return p
}

func TestSparesAndFloatsShareTheirIDs(t *testing.T) {
	s, _ := fresh(t)
	f := float(1, "9KYA3C", `{}`)
	f.Figures = "8 g"
	must(t, s.SavePrint(withSpares("k1", spare(1, "B2C3D4", "8 g")), []Float{f}))
	for id, want := range map[string]bool{"9KYA3C": true, "B2C3D4": true, "ZZZZZZ": false} {
		if got, err := s.Taken(id); got != want || err != nil {
			t.Errorf("Taken(%s) = %v %v", id, got, err)
		}
	}
	for name, err := range map[string]error{
		"a float with the id of a spare": s.SavePrint(job("k2"), []Float{float(2, "B2C3D4", `{}`)}),
		"a spare with the id of a float": s.SavePrint(withSpares("k2", spare(2, "9KYA3C", "8 g")), nil),
		"a spare with that of another":   s.SavePrint(withSpares("k2", spare(2, "B2C3D4", "8 g")), nil),
		"a second id for a spare":        s.SavePrint(withSpares("k2", spare(1, "H8J9K2", "8 g")), nil),
		"other figures on a printed one": s.SavePrint(withSpares("k2", spare(1, "B2C3D4", "6 g")), nil),
		"a float and a spare in one go":  s.SavePrint(withSpares("k2", spare(3, "N5P6Q7", "8 g")), []Float{float(3, "N5P6Q7", `{}`)}),
		"two spares with one id in a go": s.SavePrint(withSpares("k2", spare(4, "R5S6T7", "8 g"), spare(5, "R5S6T7", "8 g")), nil),
		"one spare twice in a go":        s.SavePrint(withSpares("k2", spare(6, "V5W6X7", "8 g"), spare(6, "V5W6X8", "8 g")), nil),
	} {
		if !errors.Is(err, ErrTaken) {
			t.Errorf("%s: %v, want ErrTaken", name, err)
		}
	}
	if all, err := s.AllPrints(); len(all) != 1 || err != nil {
		t.Errorf("the refused prints left %d (%v)", len(all), err)
	}
	if all, err := s.Spares(); len(all) != 1 || err != nil {
		t.Errorf("the refused spares left %d (%v)", len(all), err)
	}
	class(t, s.SavePrint(withSpares("k2", spare(7, "Y5Z6Y7", "")), nil), fault.Ours)
}

func TestClaimingASpare(t *testing.T) {
	s, _ := fresh(t)
	one, two, bare := float(1, "9KYA3C", `{}`), float(2, "E5F6G7", `{}`), float(3, "H8J9K2", `{}`)
	one.Figures, two.Figures = "8 g", "6 g"
	must(t, s.SavePrint(withSpares("k1", spare(1, "B2C3D4", "8 g")), []Float{one, two, bare}))
	refused := func(err error, c fault.Class, says string) {
		t.Helper()
		class(t, err, c)
		if !strings.Contains(err.Error(), says) {
			t.Errorf("%v does not say %q", err, says)
		}
	}
	refused(s.ClaimSpare("B2C3D4", "autumn", 1, day2), fault.Input, "print, number 1, is not confirmed")
	must(t, s.ConfirmPrint(1, day1))
	refused(s.ClaimSpare("ZZZZZZ", "autumn", 1, day2), fault.NotFound, "no spare of that id")
	refused(s.ClaimSpare("B2C3D4", "spring", 1, day2), fault.NotFound, "no such float")
	refused(s.ClaimSpare("B2C3D4", "autumn", 2, day2), fault.Input, "its figures are not those of float 2 of autumn")
	refused(s.ClaimSpare("B2C3D4", "autumn", 3, day2), fault.Input, "does not say what is printed on float 3")
	if _, ok, err := s.FloatOf("B2C3D4"); ok || err != nil {
		t.Error("an unclaimed spare stands for a float", err)
	}
	must(t, s.ClaimSpare("B2C3D4", "autumn", 1, day2))
	must(t, s.ClaimSpare("B2C3D4", "autumn", 1, day2)) // the same once more
	refused(s.ClaimSpare("B2C3D4", "autumn", 3, day2), fault.Input, "on float 1 of autumn already")
	for _, id := range []string{"B2C3D4", "9KYA3C"} {
		if f, ok, err := s.FloatOf(id); !ok || err != nil || f.ID != "9KYA3C" {
			t.Errorf("FloatOf(%s) = %+v %v %v", id, f, ok, err)
		}
	}
	if sp, ok, err := s.Spare("B2C3D4"); !ok || err != nil || sp.State != Claimed || sp.ClaimID != "9KYA3C" || sp.ClaimedAt != day2 {
		t.Errorf("%+v %v %v", sp, ok, err)
	}
	if err := s.SavePrint(withSpares("k2", spare(1, "B2C3D4", "8 g")), nil); !errors.Is(err, ErrTaken) {
		t.Errorf("a claimed spare is printed again: %v", err)
	}
	must(t, s.SavePrint(withSpares("k3", spare(2, "K5L6M7", "8 g")), nil))
	must(t, s.CancelPrint(2, nil, day2))
	refused(s.ClaimSpare("K5L6M7", "autumn", 1, day2), fault.Input, "was cancelled")
	must(t, s.SavePrint(withSpares("k4", spare(2, "K5L6M7", "6 g")), nil)) // nothing of it is left
}

func TestMarksPrintedAhead(t *testing.T) {
	s, _ := fresh(t)
	ready := func(want int) {
		t.Helper()
		all, err := s.MarksReady()
		must(t, err)
		got := 0
		for _, m := range all {
			got += m.Count
		}
		if got != want {
			t.Errorf("%d ready, want %d", got, want)
		}
	}
	move := func(key string, n int) Print {
		p := job(key)
		p.Marks = []Marks{{"film-white-a4", "sluice 6", "8 g", n}}
		return p
	}
	must(t, s.SavePrint(move("k1", 5), nil))
	ready(0)
	overtaken(t, s.SavePrint(move("k2", -1), nil), "1 of them were planned on, 0 lie ready")
	must(t, s.ConfirmPrint(1, day1))
	ready(5)
	must(t, s.SavePrint(move("k2", -3), nil))
	ready(2)
	overtaken(t, s.SavePrint(move("k3", -3), nil), "3 of them were planned on, 2 lie ready")
	must(t, s.CancelPrint(2, nil, day2))
	ready(5)
	class(t, s.MoveMarks(Marks{"film-white-a4", "sluice 6", "8 g", -6}, "", day2), fault.Input)
	must(t, s.MoveMarks(Marks{"film-white-a4", "sluice 6", "8 g", -4}, "eaten by moths", day2))
	ready(1)
	class(t, s.MoveMarks(Marks{Count: 1}, "", day2), fault.Ours)
}

// A program that dies at any moment leaves all of a print or nothing: the files
// are copied as they lie on the disc before and after the commit.
func TestAPrintThatDiesHalfWay(t *testing.T) {
	s, path := fresh(t)
	must(t, s.SavePrint(onSheet("k1", 1, 0), nil))
	died := func() *Store {
		dir := t.TempDir()
		for _, end := range []string{"", "-wal"} { // the third file is made anew
			data, err := os.ReadFile(path + end)
			must(t, err)
			must(t, os.WriteFile(filepath.Join(dir, "workshop.db"+end), data, 0o600))
		}
		return open(t, filepath.Join(dir, "workshop.db"))
	}
	state := func(s *Store) (parts, prints, spares, marks, next int) {
		open, next, err := s.Ledger("film-white-a4")
		must(t, err)
		all, err := s.AllPrints()
		must(t, err)
		sp, err := s.Spares()
		must(t, err)
		m, err := s.MarksReady()
		must(t, err)
		return len(open[0].Parts), len(all), len(sp), len(m), next
	}
	p := onSheet("k2", 1, 1)
	p.Regions = append(p.Regions, Region{Number: 2, Stock: "film-white-a4", Feed: "top", Data: json.RawMessage(`1`)})
	p.Spares = []Spare{spare(1, "B2C3D4", "8 g")}
	p.Marks = []Marks{{"film-white-a4", "sluice 6", "8 g", 5}}
	var before *Store
	must(t, s.commit(func(tx *sql.Tx) error {
		seq, err := savePrint(tx, p)
		must(t, err)
		must(t, saveSpares(tx, p.Spares, seq))
		must(t, moveMarks(tx, p.Marks, seq, "", day1))
		must(t, settlePrint(tx, seq, Confirmed, day1))
		before = died()
		return nil
	}))
	for name, c := range map[string]struct {
		s    *Store
		want [5]int
	}{"before its commit": {before, [5]int{1, 1, 0, 0, 2}}, "after it": {died(), [5]int{2, 2, 1, 1, 3}}} {
		var got [5]int
		got[0], got[1], got[2], got[3], got[4] = state(c.s)
		if got != c.want {
			t.Errorf("%s: parts, prints, spares, marks, next sheet %v, want %v", name, got, c.want)
		}
	}
	must(t, before.SavePrint(p, nil)) // and goes on from there
}

// While another program holds the database a change of the ledger waits, then
// says so and has changed nothing.
func TestLedgerWhileAnotherWrites(t *testing.T) {
	s, path := fresh(t)
	p := onSheet("k1", 1, 0)
	p.Spares = []Spare{spare(1, "B2C3D4", "8 g")}
	must(t, s.SavePrint(p, []Float{float(1, "9KYA3C", `{}`)}))
	second := open(t, path, Busy(20*time.Millisecond))
	must(t, s.commit(func(*sql.Tx) error {
		for name, err := range map[string]error{
			"confirm": second.ConfirmPrint(1, day2), "cancel": second.CancelPrint(1, []int{1}, day2),
			"set": second.SetSheet(1, SheetUsedUp, "", day2), "correct": second.CorrectSheet(1, 0, false, json.RawMessage(`1`), "", day2),
			"claim": second.ClaimSpare("B2C3D4", "autumn", 1, day2), "move": second.MoveMarks(Marks{"film", "p", "8 g", 1}, "", day2),
		} {
			class(t, err, fault.Machine)
			if !strings.Contains(err.Error(), "busy") {
				t.Errorf("%s: %v does not say busy", name, err)
			}
		}
		if open, _, err := second.Ledger("film-white-a4"); len(open) != 1 || err != nil {
			t.Errorf("a reader waits for a writer: %v %v", open, err)
		}
		return nil
	}))
	if sh, _, _, err := second.Sheet(1); err != nil || sh.Version != 1 {
		t.Errorf("%+v %v", sh, err)
	}
	must(t, second.ConfirmPrint(1, day2))
}
