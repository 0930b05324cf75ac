package job

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/label/record"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

const ledgerDay = "2026-11-20T09:00:00Z"

// shopWith makes a workshop whose record holds these prints of batch "autumn".
func shopWith(t *testing.T, prints ...record.Print) *Workshop {
	t.Helper()
	w, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, p := range prints {
		f := record.Float{ID: "9KYA3C", Batch: "autumn", Number: 1, Pattern: "sluice-8", Figures: "8 g", Created: ledgerDay}
		p.Batch, p.Made = "autumn", ledgerDay
		if err := s.SavePrint(p, []record.Float{f}); err != nil {
			t.Fatal(err)
		}
	}
	return w
}

func takes(t *testing.T, number, version int, path geom.Path) record.Region {
	t.Helper()
	return record.Region{Number: number, Version: version, Stock: "a4-film-white", Feed: "bottom", Data: aPart(t, false, path).Data}
}

func faulty(t *testing.T, err error, c fault.Class, says string) {
	t.Helper()
	var e *fault.Error
	if !errors.As(err, &e) || e.Class != c || !strings.Contains(err.Error(), says) || e.Do == "" {
		t.Errorf("got %v of class %v, want %v that says %q and what to do", err, fault.ClassOf(err), c, says)
	}
}

func TestSheetsAreCorrectedByHand(t *testing.T) {
	ctx := context.Background()
	strip := geom.Rectangle(geom.XYWH(0, 0, 210, 60))
	w := shopWith(t, record.Print{Key: "k1", Regions: []record.Region{takes(t, 1, 0, strip), takes(t, 2, 0, strip)}})
	area := func(sheet int) float64 {
		t.Helper()
		open, err := w.OpenSheets("a4-film-white")
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range open {
			if p.Number == sheet {
				sum := 0.0
				for _, ring := range p.Taken {
					sum += ring.Area(0.01)
				}
				if p.Feed != "bottom" {
					t.Errorf("fed from the %s", p.Feed)
				}
				return sum
			}
		}
		return -1
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	if got := area(1); got != 210*60 {
		t.Errorf("%g mm² spent", got)
	}
	must(w.CorrectSheet(ctx, 1, geom.Rectangle(geom.XYWH(0, 100, 50, 20)), nil, "cut out"))
	must(w.CorrectSheet(ctx, 1, nil, geom.Rectangle(geom.XYWH(0, 40, 210, 20)), "not printed so far down"))
	if got, want := area(1), 210*40+50*20.0; got != want {
		t.Errorf("%g mm² spent, want %g", got, want)
	}
	must(w.UseUp(ctx, 1, ""))
	if area(1) != -1 {
		t.Error("a used up sheet is offered")
	}
	faulty(t, w.CorrectSheet(ctx, 1, strip, nil, ""), fault.Input, "sheet 1: it is used up")
	must(w.Reopen(ctx, 1, "a corner is left"))
	if area(1) != 210*40+50*20 {
		t.Error("it is not what it was")
	}
	must(w.WriteOff(ctx, 2, "wet"))
	if area(2) != -1 {
		t.Error("a sheet written off is offered")
	}
	faulty(t, w.WriteOff(ctx, 7, ""), fault.NotFound, "sheet 7")
	faulty(t, w.CorrectSheet(ctx, 7, strip, nil, ""), fault.NotFound, "sheet 7")
	faulty(t, w.CorrectSheet(ctx, 1, geom.Rectangle(geom.XYWH(0, 300, 10, 10)), nil, ""), fault.Input, "beside the sheet")
	faulty(t, w.CorrectSheet(ctx, 1, nil, sector(geom.Point{X: 50, Y: 50}, 20, 30, 1, 3), ""), fault.Input, "hollows")
	if err := w.CorrectSheet(ctx, 1, strip, strip, ""); fault.ClassOf(err) != fault.Ours || err == nil {
		t.Errorf("both at once: %v", err)
	}
	gone, stop := context.WithCancel(ctx)
	stop()
	if err := w.WriteOff(gone, 1, ""); !errors.Is(err, context.Canceled) || area(1) < 0 {
		t.Errorf("stopped: %v", err)
	}
}

func TestPrintsAreConfirmedAndCancelled(t *testing.T) {
	ctx := context.Background()
	strip := geom.Rectangle(geom.XYWH(0, 0, 210, 60))
	w := shopWith(t,
		record.Print{Key: "k1", Regions: []record.Region{takes(t, 1, 0, strip), takes(t, 2, 0, strip)},
			Spares: []record.Spare{{ID: "9KYA3C"[:5] + "D", Batch: "autumn", Number: 1, Pattern: "sluice-8", Figures: "8 g"}}},
		record.Print{Key: "k2", Regions: []record.Region{takes(t, 1, 1, geom.Rectangle(geom.XYWH(0, 60, 210, 30)))}})
	if err := w.CancelPrint(ctx, 1, []int{2}); err != nil {
		t.Fatal(err)
	}
	open, err := w.OpenSheets("a4-film-white")
	if err != nil || len(open) != 1 || open[0].Number != 1 || len(open[0].Taken) != 1 || open[0].Taken[0].Bounds().Min.Y != 60 {
		t.Errorf("%+v %v: print 2 alone is on sheet 1, sheet 2 is lost", open, err)
	}
	if err := w.ConfirmPrint(ctx, 2); err != nil {
		t.Fatal(err)
	}
	faulty(t, w.ConfirmPrint(ctx, 2), fault.Input, "confirmed already")
	faulty(t, w.ConfirmPrint(ctx, 9), fault.NotFound, "print 9")
	empty, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	faulty(t, empty.ConfirmPrint(ctx, 1), fault.NotFound, "no record here yet")
	if open, err := empty.OpenSheets("a4-film-white"); len(open) != 0 || err != nil {
		t.Errorf("%v %v", open, err)
	}
	if left, _ := filepath.Glob(filepath.Join(empty.Dir, "*")); len(left) > 0 {
		t.Errorf("asking made %v", left)
	}
}
