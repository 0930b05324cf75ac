package job

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// twoOfTheDemo is the demonstration with its first two floats.
func twoOfTheDemo(t *testing.T, shop *Workshop) Draft {
	t.Helper()
	few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 3\n")
	if _, err := shop.OpenTankSource(context.Background(), "few.toml", []byte(few), nil, ByBench); err != nil {
		t.Fatal(err)
	}
	d, err := shop.Draft("26-11")
	if err != nil || d.Err != nil {
		t.Fatal(err, d.Err)
	}
	return d
}

// A draft is printed into a folder of its number, once; spoilt floats are printed
// again by themselves, and what the records say of a print is what lies there.
func TestPrintDraft(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	d := twoOfTheDemo(t, shop)
	first, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := filepath.Join(shop.Dir, "prints", "26-11", "1"); first.Number != 1 || first.Dir != want {
		t.Fatalf("print %d lies in %s, want %s", first.Number, first.Dir, want)
	}
	again, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, nil)
	if err != nil || again.Number != 1 {
		t.Fatalf("the same marks are print %d, %v", again.Number, err)
	}
	if err := shop.ConfirmPrint(ctx, 1); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, nil); fault.ClassOf(err) != fault.Input {
		t.Errorf("printed once more though it came out right: %v", err)
	}
	if _, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true, Only: []int{2}, Shop: &ForShop{}}, nil); err != nil {
		t.Fatal(err)
	}
	all, err := shop.BatchPrints("26-11")
	if err != nil || len(all) != 2 {
		t.Fatal(len(all), err)
	}
	one, two := all[0], all[1]
	if one.State != "confirmed" || !slices.Equal(one.Floats, []int{1, 2}) || one.ForShop || len(one.Sheets) != 1 || one.Sheets[0].PartUsed || one.Sheets[0].Feed != "top" {
		t.Errorf("%+v", one)
	}
	if two.State != "pending" || !slices.Equal(two.Floats, []int{2}) || !two.ForShop || len(two.Sheets) != 0 {
		t.Errorf("%+v", two)
	}
	for _, p := range all {
		for _, f := range p.Files {
			data, err := shop.ReadPrintFile("26-11", p.Number, f.Name)
			if err != nil || len(data) != f.Bytes || !f.There {
				t.Errorf("print %d, %+v: %d bytes, %v", p.Number, f, len(data), err)
			}
		}
	}
	if _, err := shop.ReadPrintFile("26-11", 1, "../../../workshop.db"); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("out of its folder: %v", err)
	}
	left, err := os.ReadDir(filepath.Join(shop.Dir, "prints", "26-11"))
	if err != nil || len(left) != 2 {
		t.Errorf("%v lie there, %v", left, err)
	}
}

// A print that is stopped leaves nothing.
func TestPrintDraftStopped(t *testing.T) {
	shop := bench(t)
	d := twoOfTheDemo(t, shop)
	ctx, stop := context.WithCancel(context.Background())
	_, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, func(stage string, _, _ int) {
		if stage == "files" {
			stop()
		}
	})
	if err == nil {
		t.Fatal("it was printed")
	}
	if _, err := os.Stat(filepath.Join(shop.Dir, "prints")); !os.IsNotExist(err) {
		t.Errorf("a folder is left: %v", err)
	}
	if all, err := shop.BatchPrints("26-11"); err != nil || len(all) != 0 {
		t.Errorf("%v, %v", all, err)
	}
}

func TestFolderName(t *testing.T) {
	for name, want := range map[string]string{"26-11": "26-11", "../a": "_a", "a/b\\c": "a_b_c", "..": "batch", "": "batch", "Kö nig": "Kö nig", ".x.": "x", "a:b\n": "a_b_"} {
		if got := FolderName(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}

// Before anything is printed, plans of one opened workshop agree on the ids, and
// the first print keeps them.
func TestProvisionalIDsStay(t *testing.T) {
	ctx := context.Background()
	shop, err := Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	shop.Preview = true
	d := twoOfTheDemo(t, shop)
	var ids [3]string
	for i := range 2 {
		p, err := shop.PlanDraft(ctx, d, nil)
		if err != nil || !p.Provisional {
			t.Fatal(p, err)
		}
		ids[i] = string(p.Floats[0].Float.ID)
	}
	if _, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, nil); err != nil {
		t.Fatal(err)
	}
	all, _, err := shop.FloatsOf("26-11", 1)
	if err != nil || len(all) != 1 {
		t.Fatal(all, err)
	}
	if ids[2] = all[0].Key; ids[0] != ids[1] || ids[1] != ids[2] {
		t.Errorf("the first float was %v", ids)
	}
	other, err := Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	if p, err := other.PlanDraft(ctx, d, nil); err != nil || string(p.Floats[0].Float.ID) == ids[0] {
		t.Errorf("another workshop has the same ids, %v", err)
	}
}
