package job

import (
	"context"
	"errors"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/label"
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

func TestListsOfTheLedger(t *testing.T) {
	ctx := context.Background()
	strip := geom.Rectangle(geom.XYWH(0, 0, 210, 29.7))
	key := FiguresKey("sluice-8", label.Mark{}, []label.Line{{Role: label.RoleRating, Text: "8 g"}, {Role: label.RoleID, Text: "9KYA3C"}, {Role: label.RoleAdd, Text: "add 0.8 g"}})
	w := shopWith(t,
		record.Print{Key: "k1", Regions: []record.Region{takes(t, 1, 0, strip)}, Data: []byte(`{"format":1,"floats":[{"number":1},{"number":2}]}`),
			Spares: []record.Spare{{ID: "9KYA3D", Batch: "autumn", Number: 1, Pattern: "sluice-8", Figures: key}}},
		record.Print{Key: "k2", Regions: []record.Region{takes(t, 2, 0, strip)}})
	if err := w.CancelPrint(ctx, 2, nil); err != nil {
		t.Fatal(err)
	}
	sheets, err := w.Sheets()
	if err != nil || len(sheets) != 2 {
		t.Fatal(sheets, err)
	}
	if s := sheets[0]; s.State != "open" || math.Abs(s.Spent-0.1) > 0.002 || len(s.Prints) != 1 || s.Prints[0] != 1 {
		t.Errorf("%+v, want a tenth spent by print 1", s)
	}
	if s := sheets[1]; s.State != "blank" || s.Spent != 0 || len(s.Prints) != 0 {
		t.Errorf("%+v, want a blank sheet", s)
	}
	prints, err := w.Prints()
	if err != nil || len(prints) != 2 || prints[0].Floats != 2 || prints[0].Spares != 1 || prints[0].State != record.Pending ||
		prints[1].State != record.Cancelled || prints[1].Settled == "" || prints[1].Sheets[0] != 2 {
		t.Errorf("%+v %v", prints, err)
	}
	spares, err := w.SpareList()
	if err != nil || len(spares) != 1 || spares[0].Figures != "8 g · add 0.8 g" || spares[0].State != record.Pending || spares[0].Print != 1 {
		t.Errorf("%+v %v", spares, err)
	}
	faulty(t, w.ClaimSpare(ctx, "9KYA3D", "autumn", 1), fault.Input, "9KYA3D") // its check character is wrong
}

func TestPictureOfASheet(t *testing.T) {
	ctx := context.Background()
	w := shopWith(t, record.Print{Key: "k1", Regions: []record.Region{takes(t, 1, 0, geom.Rectangle(geom.XYWH(0, 257, 105, 40)))}})
	d, err := w.Sheet(1)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := d.Plot()
	if err != nil || len(lines) != 30 { // 297 mm in tens, the last one short
		t.Fatal(len(lines), err)
	}
	for i, l := range lines {
		want := strings.Repeat(".", 42)
		if i >= 26 {
			want = strings.Repeat("#", 21) + strings.Repeat(".", 21)
		}
		if l != want {
			t.Errorf("line %d: %s", i, l)
		}
	}
	path := filepath.Join(t.TempDir(), "sheet.png")
	if _, err := w.WriteSheetPicture(ctx, 1, path); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	at := func(x, y float64) uint32 { // on the sheet, mm
		r, _, _, _ := img.At(int((x+airRound)*sheetDPI/25.4), int((y+airRound)*sheetDPI/25.4)).RGBA()
		return r >> 8
	}
	for _, c := range []struct{ x, y, want float64 }{{50, 270, 0xb4}, {150, 270, 255}, {50, 250, 255}, {105, 297 + 6, 0x3c}} { // the arrow stands on the feed edge
		if got := at(c.x, c.y); got != uint32(c.want) {
			t.Errorf("at %g, %g mm: %x, want %x", c.x, c.y, got, int(c.want))
		}
	}
	if _, err := w.WriteSheetPicture(ctx, 2, path); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("an unknown sheet: %v", err)
	}
}
