package job

import (
	"context"
	"testing"
	"time"

	"floatmark/loading/fault"
)

// A batch that was only begun can be taken off the list and brought back; its name is
// free again. What was read at the tank stays.
func TestRemoveDraft(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	d, err := shop.NewDraft(ctx, "26-1l", ByBench)
	if err != nil {
		t.Fatal(err)
	}
	if d, err = shop.EditDraft(ctx, "26-1l", d.Version, "x", ByBench, setTo("maker/name", "a")); err != nil {
		t.Fatal(err)
	}
	if err := shop.RemoveDraft(ctx, "26-1l", d.Version-1, ByBench); !IsChanged(err) {
		t.Errorf("removed on an older version: %v", err)
	}
	there := func(want bool) {
		t.Helper()
		_, err := shop.Draft("26-1l")
		all, err2 := shop.TankBatches()
		if err2 != nil || (err == nil) != want || (len(all) == 1) != want {
			t.Errorf("%v, %v, %v; there %v", err, all, err2, want)
		}
	}
	if err := shop.RemoveDraft(ctx, "26-1l", d.Version, ByBench); err != nil {
		t.Fatal(err)
	}
	there(false)
	if err := shop.BringBackDraft(ctx, "26-1l", ByBench); err != nil {
		t.Fatal(err)
	}
	there(true)
	if d, err = shop.Draft("26-1l"); err != nil || d.Doc.Text("maker/name") != "a" || d.Undoes != "" {
		t.Errorf("%v, %q", err, d.Undoes)
	}
	if _, err := shop.UndoDraft(ctx, "26-1l", d.Version, ByBench); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("undone past its beginning: %v", err)
	}
	if err := shop.RemoveDraft(ctx, "26-1l", d.Version, ByBench); err != nil {
		t.Fatal(err)
	}
	if d, err = shop.NewDraft(ctx, "26-1l", ByBench); err != nil || d.Doc.Text("maker/name") != "" || d.Undoes != "" {
		t.Errorf("begun anew: %v, %q", err, d.Undoes)
	}
	there(true)
	if err := shop.BringBackDraft(ctx, "nobody's", ByBench); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("one that never was: %v", err)
	}
}

// A batch that was printed is listed as printed, whatever was changed since, and it
// cannot be removed.
func TestPrintedBatchStays(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	d := twoOfTheDemo(t, shop)
	if _, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, nil); err != nil {
		t.Fatal(err)
	}
	time.Sleep(time.Until(time.Now().Truncate(time.Second).Add(time.Second))) // records tell seconds apart
	d, err := shop.EditDraft(ctx, "26-11", d.Version, "x", ByBench, setTo("maker/name", "a"))
	if err != nil {
		t.Fatal(err)
	}
	if all, err := shop.TankBatches(); err != nil || len(all) != 1 || !all[0].Printed || all[0].Known != "opened" {
		t.Errorf("%+v, %v", all, err)
	}
	if err := shop.RemoveDraft(ctx, "26-11", d.Version, ByBench); fault.ClassOf(err) != fault.Input {
		t.Errorf("it was printed, and can be removed: %v", err)
	}
}
