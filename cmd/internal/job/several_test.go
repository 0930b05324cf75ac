package job

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// Two batches go on common sheets: one page for each sheet, with both batches'
// marks, none on the other's.
func TestSeveralBatchesOnOneSheet(t *testing.T) {
	shop := newShop(t)
	dir := t.TempDir()
	few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 8\n")
	var paths []string
	for _, name := range []string{"a", "b"} {
		path := filepath.Join(dir, name+".toml")
		if err := os.WriteFile(path, []byte(strings.Replace(few, `name = "26-11"`, `name = "`+name+`"`, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	out := filepath.Join(dir, "out")
	all, err := shop.PrintSeveral(context.Background(), paths, out, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(all.Pages) != 1 || all.Plans[0].Laid[0].Number != all.Plans[1].Laid[0].Number {
		t.Errorf("pages %v", all.Pages)
	}
	var first []draw.Op
	for i, p := range all.Plans {
		for _, op := range p.Decals[0].Layers[draw.Cut] {
			b := draw.Bounds([]draw.Op{op})
			for _, other := range first {
				if i == 1 && b.Overlaps(draw.Bounds([]draw.Op{other}).Inset(0.01)) {
					t.Errorf("a piece at %v lies on one at %v", b, draw.Bounds([]draw.Op{other}))
				}
			}
		}
		if i == 0 {
			first = p.Decals[0].Layers[draw.Cut]
		}
	}
	for _, name := range []string{"decals.pdf", "a/backers.pdf", "b/jobsheet.pdf"} {
		if _, err := os.Stat(filepath.Join(out, name)); err != nil {
			t.Error(err)
		}
	}
	if _, err := shop.PrintSeveral(context.Background(), []string{paths[0], paths[0]}, out, nil); fault.ClassOf(err) != fault.Input {
		t.Errorf("one batch twice: %v", err)
	}
}
