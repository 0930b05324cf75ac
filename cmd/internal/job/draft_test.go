package job

import (
	"bytes"
	"context"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/layouts/svg"
	"floatmark/loading/fault"
)

func bench(t *testing.T) *Workshop {
	t.Helper()
	shop, err := Open(filepath.Join(t.TempDir(), "workshop"))
	if err != nil {
		t.Fatal(err)
	}
	shop.newKey = func() ([]byte, error) { return make([]byte, keyBytes), nil }
	shop.Preview = true
	return shop
}

func setTo(path string, v any) func(*batch.Doc) error {
	return func(d *batch.Doc) error { return d.Set(path, v) }
}

// A batch is begun, changed step by step, and each step can be taken back, the
// steps before it too.
func TestDraftUndo(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	if _, err := shop.Draft("26-11"); fault.ClassOf(err) != fault.NotFound {
		t.Fatalf("a batch that nobody began: %v", err)
	}
	d, err := shop.NewDraft(ctx, "26-11", ByBench)
	if err != nil || d.Doc.Text("name") != "26-11" || d.Err == nil || d.Undoes != "" {
		t.Fatalf("%+v, %v", d, err)
	}
	if _, err := shop.NewDraft(ctx, "26-11", ByBench); fault.ClassOf(err) != fault.Input {
		t.Errorf("begun twice: %v", err)
	}
	for i, step := range []string{"a", "b", "c"} {
		if d, err = shop.EditDraft(ctx, "26-11", d.Version, "note "+step, ByBench, setTo("maker/name", step)); err != nil {
			t.Fatal(i, err)
		}
	}
	undo := func(want, undoes string) {
		t.Helper()
		if d.Undoes != undoes {
			t.Errorf("undoing is said to take back %q, want %q", d.Undoes, undoes)
		}
		if d, err = shop.UndoDraft(ctx, "26-11", d.Version, ByBench); err != nil || d.Doc.Text("maker/name") != want {
			t.Fatalf("undone to %q, %v; want %q", d.Doc.Text("maker/name"), err, want)
		}
	}
	undo("b", "note c")
	undo("a", "note b")
	if d, err = shop.EditDraft(ctx, "26-11", d.Version, "note d", ByBench, setTo("maker/name", "d")); err != nil {
		t.Fatal(err)
	}
	undo("a", "note d")
	undo("", "note a")
	if d.Undoes != "" {
		t.Errorf("there is %q to undo", d.Undoes)
	}
	if _, err := shop.UndoDraft(ctx, "26-11", d.Version, ByBench); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("undone past its beginning: %v", err)
	}
}

// Two browsers do not overwrite each other unseen.
func TestDraftChangedMeanwhile(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	d, err := shop.NewDraft(ctx, "26-11", ByBench)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.EditDraft(ctx, "26-11", d.Version, "one", ByBench, setTo("maker/name", "one")); err != nil {
		t.Fatal(err)
	}
	_, err = shop.EditDraft(ctx, "26-11", d.Version, "two", ByPhone, setTo("maker/name", "two"))
	if !IsChanged(err) || fault.ClassOf(err) != fault.Input {
		t.Errorf("on an old version: %v", err)
	}
	if now, err := shop.Draft("26-11"); err != nil || now.Doc.Text("maker/name") != "one" {
		t.Errorf("%v %v", now.Doc, err)
	}
	if _, err := shop.EditDraft(ctx, "26-11", Unseen, "name", ByBench, setTo("name", "other")); fault.ClassOf(err) != fault.Input {
		t.Errorf("another name: %v", err)
	}
}

// What a batch file says as a draft is what it says as a file: the same plan.
func TestDraftPlansAsTheFile(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 3\n")
	if _, err := shop.OpenTankSource(ctx, "few.toml", []byte(few), nil, ByBench); err != nil {
		t.Fatal(err)
	}
	d, err := shop.Draft("26-11")
	if err != nil || d.Err != nil {
		t.Fatal(err, d.Err)
	}
	got, err := shop.PlanDraft(ctx, d, nil)
	if err != nil {
		t.Fatal(err)
	}
	want, err := shop.PlanSource(ctx, "few.toml", []byte(few), nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.Decals {
		if got.Decals[i].Dump() != want.Decals[i].Dump() {
			t.Errorf("sheet %d differs", i+1)
		}
	}
	if len(got.Decals) != len(want.Decals) || len(want.Decals) == 0 {
		t.Errorf("%d sheets, want %d", len(got.Decals), len(want.Decals))
	}
}

// The figures of a draft are those of its whole plan, with nothing laid out.
func TestPlanFigures(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	if _, err := shop.OpenTankSource(ctx, "demo.toml", DemoSource(), nil, ByBench); err != nil {
		t.Fatal(err)
	}
	d, err := shop.Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	some, err := shop.PlanFigures(ctx, d)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := shop.PlanDraft(ctx, d, nil)
	if err != nil {
		t.Fatal(err)
	}
	var plots [2]bytes.Buffer
	for i, p := range []*Plan{some, whole} {
		if err := svg.Write(&plots[i], p.Spread); err != nil {
			t.Fatal(err)
		}
	}
	if !reflect.DeepEqual(some.Graded, whole.Graded) || !bytes.Equal(plots[0].Bytes(), plots[1].Bytes()) {
		t.Errorf("graded %+v, not %+v", some.Graded, whole.Graded)
	}
	for i := range whole.Floats {
		a, b := some.Floats[i], whole.Floats[i]
		if !reflect.DeepEqual(a.Rating, b.Rating) || !reflect.DeepEqual(a.Setups, b.Setups) || !reflect.DeepEqual(a.Shot, b.Shot) || a.Float.ID != b.Float.ID {
			t.Errorf("float %d: %+v, not %+v", b.Float.Number, a.Rating, b.Rating)
		}
		if len(a.Decal.Pieces) > 0 {
			t.Errorf("float %d was laid out", b.Float.Number)
		}
	}
	if len(some.Decals)+len(some.Backers)+len(some.JobSheets) > 0 || some.prover.tried != nil {
		t.Error("sheets or codes were worked out")
	}
	d.Err = fault.Inputf("", "not whole")
	if _, err := shop.PlanFigures(ctx, d); err != d.Err {
		t.Errorf("figures of a batch that is not whole: %v", err)
	}
}
