package job

import (
	"context"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// A batch begun like another has what stays the same from board to board, and none
// of its floats; a file goes with the pattern that names it.
func TestDraftLike(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	if _, err := shop.OpenTankSource(ctx, "demo.toml", DemoSource(), nil, ByBench); err != nil {
		t.Fatal(err)
	}
	was, err := shop.Draft("26-11")
	if err != nil {
		t.Fatal(err)
	}
	was, err = shop.EditDraftWith(ctx, "26-11", was.Version, "x", ByBench, map[string][]byte{"a.svg": []byte("first")}, setTo("pattern/1/outline", map[string]any{"file": "dir/a.svg"}))
	if err != nil {
		t.Fatal(err)
	}
	d, err := shop.NewDraftLike(ctx, "26-12", "26-11", ByBench)
	if err != nil {
		t.Fatal(err)
	}
	if d.Doc.Len("pattern") != was.Doc.Len("pattern") || d.Doc.Len("rating") != was.Doc.Len("rating") || d.Doc.Len("pattern") == 0 || d.Doc.Len("float") != 0 ||
		d.Doc.Text("name") != "26-12" || d.Doc.Text("print/film") != was.Doc.Text("print/film") {
		t.Errorf("begun like 26-11 it is\n%s", d.Doc.Source())
	}
	if data, ok := d.Kept("a.svg"); !ok || string(data) != "first" {
		t.Error("the file that a pattern names did not come along")
	}
	if _, err := shop.NewDraftLike(ctx, "26-12", "26-11", ByBench); fault.ClassOf(err) != fault.Input {
		t.Errorf("begun twice: %v", err)
	}
	for _, name := range []string{".", ".."} { // no address ends with them
		_, plain := shop.NewDraft(ctx, name, ByBench)
		_, like := shop.NewDraftLike(ctx, name, "26-11", ByBench)
		if fault.ClassOf(plain) != fault.Input || fault.ClassOf(like) != fault.Input {
			t.Errorf("a batch %q: %v, %v", name, plain, like)
		}
	}
	if _, err := shop.NewDraftLike(ctx, "27-01", "26-10", ByBench); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("like a batch that is not there: %v", err)
	}

	// In a batch that has another file of its name it gets a name of its own.
	d, err = shop.EditDraftWith(ctx, "26-12", d.Version, "x", ByBench, map[string][]byte{"a.svg": []byte("second")}, func(*batch.Doc) error { return nil })
	if err != nil {
		t.Fatal(err)
	}
	p, files, err := was.PatternFor(d, 1)
	if err != nil || len(files) != 1 || string(files["2-a.svg"]) != "first" || p["outline"].(map[string]any)["file"] != "2-a.svg" {
		t.Errorf("%v, %v, %v", p["outline"], files, err)
	}
	if was.Doc.Text("pattern/1/outline/file") != "dir/a.svg" {
		t.Error("taking a pattern over changed the batch it is of")
	}
	if _, _, err := was.PatternFor(d, 99); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("a pattern that is not there: %v", err)
	}
}
