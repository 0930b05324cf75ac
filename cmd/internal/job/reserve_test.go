package job

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label/record"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// printAs prints the first floats of the demo under another name, with keys
// changed.
func printAs(t *testing.T, shop *Workshop, name string, change ...string) (*Plan, error) {
	t.Helper()
	// Seven floats: a sheet then takes more than one batch.
	few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 8\n")
	src := strings.NewReplacer(append([]string{`name = "26-11"`, `name = "` + name + `"`}, change...)...).Replace(few)
	dir := t.TempDir()
	path := filepath.Join(dir, "b.toml")
	if err := os.WriteFile(path, []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	plan, err := shop.Plan(context.Background(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	_, err = shop.Print(context.Background(), plan, dir, nil)
	return plan, err
}

func newShop(t *testing.T) *Workshop {
	t.Helper()
	shop, _, err := preview(Demo(t.TempDir()))
	if err != nil {
		t.Fatal(err)
	}
	return shop
}

// The next batch fills the part-used sheet first and prints on nothing that was
// printed on: checked on the printed outlines themselves.
func TestPartUsedSheetsAreFilledFirst(t *testing.T) {
	shop := newShop(t)
	on := map[int][]geom.Rect{} // what lies on each sheet
	numbers := map[int]bool{}
	for _, name := range []string{"a", "b", "c"} {
		plan, err := printAs(t, shop, name)
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range plan.Laid {
			if numbers[l.Number] == (l.Open < 0) {
				t.Errorf("batch %s page %d: sheet %d is told as open %d", name, i+1, l.Number, l.Open)
			}
			if name != "a" && i == 0 && l.Open < 0 {
				t.Errorf("batch %s opens sheet %d before a part-used one", name, l.Number)
			}
			// Each piece's cut is a group of its own on the sheet.
			for _, op := range l.Sheet.Layers[draw.Cut] {
				mine := draw.Bounds([]draw.Op{op})
				for _, theirs := range on[l.Number] {
					if mine.Overlaps(theirs.Inset(0.01)) {
						t.Errorf("batch %s prints on %v of sheet %d, where %v is spent", name, mine, l.Number, theirs)
					}
				}
			}
			for _, s := range l.Spent {
				on[l.Number] = append(on[l.Number], s.Bounds())
			}
		}
		for _, l := range plan.Laid {
			numbers[l.Number] = true
		}
	}
}

// A print that is not settled comes out again as it was, though another took
// place meanwhile; one that came out right is refused unless it is asked for
// again, and then goes on other film; a cancelled one gives its film back.
func TestTheSameMarksAgain(t *testing.T) {
	shop := newShop(t)
	ctx := context.Background()
	first, err := printAs(t, shop, "a")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := printAs(t, shop, "b"); err != nil {
		t.Fatal(err)
	}
	again, err := printAs(t, shop, "a")
	if err != nil || again.Number != first.Number || again.Decals[0].Dump() != first.Decals[0].Dump() {
		t.Fatalf("print %d came out again as %d: %v", first.Number, again.Number, err)
	}
	if err := shop.ConfirmPrint(ctx, first.Number); err != nil {
		t.Fatal(err)
	}
	if _, err := printAs(t, shop, "a"); fault.ClassOf(err) != fault.Input || !strings.Contains(fault.List(err)[0].Do, "--again") {
		t.Errorf("what came out right is printed once more: %v", err)
	}
	shop.Again = true
	more, err := printAs(t, shop, "a")
	if err != nil || more.Number == first.Number {
		t.Fatalf("asked for again: print %d, %v", more.Number, err)
	}
	shop.Again = false
	if err := shop.CancelPrint(ctx, more.Number, nil); err != nil {
		t.Fatal(err)
	}
	// A jam costs nothing: the next print lies where the cancelled one lay.
	next, err := printAs(t, shop, "d")
	if err != nil || next.Laid[0].Number != more.Laid[0].Number {
		t.Errorf("after a cancelled print sheet %d is used, before %d: %v", next.Laid[0].Number, more.Laid[0].Number, err)
	}
}

// Two plans on one sheet: the second to print is refused and nothing is written.
func TestTwoPrintsAtOnceOnOneSheet(t *testing.T) {
	shop := newShop(t)
	if _, err := printAs(t, shop, "a"); err != nil {
		t.Fatal(err)
	}
	var plans []*Plan
	for _, name := range []string{"b", "c"} {
		dir := t.TempDir()
		path := filepath.Join(dir, "b.toml")
		few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 8\n")
		src := strings.Replace(few, `name = "26-11"`, `name = "`+name+`"`, 1)
		if err := os.WriteFile(path, []byte(src), 0o644); err != nil {
			t.Fatal(err)
		}
		plan, err := shop.Plan(context.Background(), path, nil)
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, plan)
	}
	if _, err := shop.Print(context.Background(), plans[0], t.TempDir(), nil); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if _, err := shop.Print(context.Background(), plans[1], dir, nil); !errors.Is(err, record.ErrMeanwhile) {
		t.Errorf("two prints take one part of a sheet: %v", err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("the refused print left %v, %v", left, err)
	}
}

// Spares: figures and an id of their own; claimed for a float that bears the
// same figures, refused for any other.
func TestSpares(t *testing.T) {
	shop := newShop(t)
	ctx := context.Background()
	plan, err := printAs(t, shop, "a", `overlap_mm = 1.0`, "spares = 1\noverlap_mm = 1.0")
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Spares) < 3 {
		t.Fatalf("%d spares", len(plan.Spares))
	}
	ids := map[string]bool{}
	for _, f := range plan.Floats {
		ids[string(f.Float.ID)] = true
	}
	sp := plan.Spares[0]
	for _, one := range plan.Spares {
		if ids[string(one.ID)] {
			t.Errorf("the id %s stands twice", one.ID)
		}
		ids[string(one.ID)] = true
		if one.Mark.Code != "" && !strings.HasSuffix(one.Mark.Code, string(one.ID)) {
			t.Errorf("spare %d leads to %s", one.Number, one.Mark.Code)
		}
	}
	if err := shop.ClaimSpare(ctx, string(sp.ID), "a", sp.Like); fault.ClassOf(err) != fault.Input {
		t.Errorf("a spare is claimed before its print came out: %v", err)
	}
	if err := shop.ConfirmPrint(ctx, plan.Number); err != nil {
		t.Fatal(err)
	}
	other := 0
	for _, f := range plan.Floats {
		if FiguresKey(f.Float.Pattern.Key, f.Mark, f.Decal.Printed) != sp.Figures {
			other = f.Float.Number
		}
	}
	if err := shop.ClaimSpare(ctx, string(sp.ID), "a", other); fault.ClassOf(err) != fault.Input {
		t.Errorf("a spare goes on a float of other figures: %v", err)
	}
	if err := shop.ClaimSpare(ctx, string(sp.ID), "a", sp.Like); err != nil {
		t.Errorf("claiming: %v", err)
	}
	e, ok, err := shop.Entry(string(sp.ID))
	if err != nil || !ok || e.Number != sp.Like {
		t.Errorf("the spare's code leads to float %d, %v, %v", e.Number, ok, err)
	}
}

// One mark that was spoilt is printed again on what is left of the film.
func TestOnlyOneFloat(t *testing.T) {
	shop := newShop(t)
	first, err := printAs(t, shop, "a")
	if err != nil {
		t.Fatal(err)
	}
	if err := shop.ConfirmPrint(context.Background(), first.Number); err != nil {
		t.Fatal(err)
	}
	shop.Only = []int{3}
	again, err := printAs(t, shop, "a")
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Laid) != 1 || len(again.Laid[0].Pieces) != 1 || again.Laid[0].Number != first.Laid[0].Number || again.Laid[0].Open < 0 {
		t.Errorf("%d sheets, %+v", len(again.Laid), again.Laid)
	}
	if d := again.Decals[0].Dump(); !strings.Contains(d, string(again.Floats[2].Float.ID)) || strings.Contains(d, string(again.Floats[3].Float.ID)) {
		t.Error("another float's mark is on the sheet, or its own is not")
	}
	shop.Only = []int{99}
	path := filepath.Join(t.TempDir(), "b.toml")
	if err := os.WriteFile(path, batch.Demo(), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Plan(context.Background(), path, nil); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("a float that is not there: %v", err)
	}
}

// Unnumbered marks: printed ahead, ready once their print came out, and used
// before any is printed.
func TestMarksPrintedAhead(t *testing.T) {
	shop := newShop(t)
	ctx := context.Background()
	// The reed of the demo with its figures alone.
	src := func(name, ahead string) string {
		head, floats, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 17\n")
		head, _, _ = strings.Cut(head, "[[float]]\n")
		floats, _, _ = strings.Cut(floats, "[[float]]\nnumber = 19\n")
		return strings.NewReplacer(`name = "26-11"`, `name = "`+name+`"`, `show = ["rings", "rating", "add", "id"]`, `show = ["rings", "rating"]`,
			"overlap_mm = 1.0", "overlap_mm = 1.0"+ahead, `4.24 g`, `4.26 g`).Replace(head + "[[float]]\nnumber = 17\n" + floats)
	}
	run := func(name, ahead string) *Plan {
		t.Helper()
		dir := t.TempDir()
		path := filepath.Join(dir, "b.toml")
		if err := os.WriteFile(path, []byte(src(name, ahead)), 0o644); err != nil {
			t.Fatal(err)
		}
		plan, _, err := shop.PrintFile(ctx, path, dir, nil)
		if err != nil {
			t.Fatal(err)
		}
		return plan
	}
	count := func() (n int) {
		t.Helper()
		list, err := shop.ReadyList()
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range list {
			n += l.Count
		}
		return n
	}
	first := run("a", "\nahead = 3")
	if len(first.Floats) != 2 || len(first.Ahead) != 1 || count() != 0 {
		t.Fatalf("%d floats, %+v ahead, %d ready before the print came out", len(first.Floats), first.Ahead, count())
	}
	if err := shop.ConfirmPrint(ctx, first.Number); err != nil {
		t.Fatal(err)
	}
	if count() != 3 {
		t.Fatalf("%d lie ready, want 3", count())
	}
	second := run("b", "")
	if !second.Floats[0].Ready || !second.Floats[1].Ready || len(second.Laid) != 0 || count() != 1 {
		t.Errorf("two floats: %v, %v from ready, %d sheets, %d left", second.Floats[0].Ready, second.Floats[1].Ready, len(second.Laid), count())
	}
	if again := run("b", ""); again.Number != second.Number || count() != 1 {
		t.Errorf("printed once more as %d, %d left", again.Number, count())
	}
	third := run("c", "")
	if !third.Floats[0].Ready || third.Floats[1].Ready || len(third.Laid) != 1 {
		t.Errorf("the last one ready: %v, %v", third.Floats[0].Ready, third.Floats[1].Ready)
	}
	if err := shop.CancelPrint(ctx, second.Number, nil); err != nil || count() != 2 {
		t.Errorf("a cancelled print gives its two back: %d, %v", count(), err)
	}
}

// A ledger goes into a print and comes out of it unchanged.
func TestLedgerRoundTrip(t *testing.T) {
	want := Ledger{Next: 4, Open: []PartUsed{{Number: 3, Version: 2, Feed: "left", Taken: []geom.Path{geom.Rectangle(geom.XYWH(0, 200, 210, 97))}}}}
	data, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got Ledger
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	if got.Next != 4 || len(got.Open) != 1 || got.Open[0].Feed != "left" || got.Open[0].Taken[0].Bounds() != want.Open[0].Taken[0].Bounds() {
		t.Errorf("%s became %+v", data, got)
	}
}
