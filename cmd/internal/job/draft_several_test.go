package job

import (
	"bytes"
	"context"
	"image/png"
	"os"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// twoDrafts are two batches of two floats each on one film, without codes.
func twoDrafts(t *testing.T, shop *Workshop) []Draft {
	t.Helper()
	return fewDrafts(t, shop, "26-11", "26-12")
}

func fewDrafts(t *testing.T, shop *Workshop, names ...string) []Draft {
	t.Helper()
	few, _, _ := strings.Cut(string(batch.Demo()), "[[float]]\nnumber = 3\n")
	few = strings.Replace(few, `mark = "full" `, `mark = "least"`, 1)
	var all []Draft
	for _, name := range names {
		src := strings.Replace(few, `name = "26-11"`, `name = "`+name+`"`, 1)
		if _, err := shop.OpenTankSource(context.Background(), "few.toml", []byte(src), nil, ByBench); err != nil {
			t.Fatal(err)
		}
		d, err := shop.Draft(name)
		if err != nil || d.Err != nil {
			t.Fatal(err, d.Err)
		}
		all = append(all, d)
	}
	return all
}

// What is planned for several batches is what is then printed: on the same sheets,
// at the same places, one page for each sheet.
func TestPrintDrafts(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	shop.Preview = true
	drafts := twoDrafts(t, shop)
	before, err := os.ReadDir(shop.Dir)
	if err != nil {
		t.Fatal(err)
	}
	planned, err := shop.PlanDrafts(ctx, drafts, nil)
	if err != nil {
		t.Fatal(err)
	}
	if now, err := os.ReadDir(shop.Dir); err != nil || len(now) != len(before) {
		t.Errorf("planning wrote something: %v %v", now, err)
	}
	if len(planned.Sheets) != 1 || len(planned.Sheets[0].Batches) != 2 || planned.Sheets[0].PartUsed || planned.Sheets[0].Before != 0 || planned.Sheets[0].Number != 1 {
		t.Fatalf("%+v", planned.Sheets)
	}
	if alone, err := shop.PlanDraft(ctx, drafts[1], nil); err != nil || alone.Laid[0].Open >= 0 {
		t.Errorf("by itself it lies on a part-used sheet, %v", err)
	}
	seen := pointsOf(t, planned)
	if seen[tints[0]] < 100 || seen[tints[1]] < 100 {
		t.Errorf("the batches are not told apart: %d and %d points", seen[tints[0]], seen[tints[1]])
	}
	key, err := shop.PrintDrafts(ctx, drafts, PrintOrder{Coarse: true}, nil)
	if err != nil || key != "1-2" {
		t.Fatalf("%q %v", key, err)
	}
	for i, d := range drafts {
		made, err := shop.PlanDraft(ctx, d, nil) // as it was printed
		if err != nil {
			t.Fatal(err)
		}
		if number, _, ok := made.Before(); !ok || number != i+1 || made.Laid[0].Sheet.Dump() != planned.Plans[i].Laid[0].Sheet.Dump() {
			t.Errorf("%s was planned elsewhere than it was printed", d.Name)
		}
	}
	all, err := shop.TogetherPrints()
	if err != nil || len(all) != 1 || len(all[0].Prints) != 2 || all[0].Prints[1].Batch != "26-12" || all[0].Bytes == 0 {
		t.Errorf("%+v %v", all, err)
	}
	if pdf, err := shop.TogetherFile("1-2"); err != nil || !bytes.HasPrefix(pdf, []byte("%PDF-")) || bytes.Count(pdf, []byte("/Type /Page\n")) > 1 {
		t.Errorf("%.10s %v", pdf, err)
	}
	for _, no := range []string{"1", "2-1", "../26-11/1", ""} {
		if _, err := shop.TogetherFile(no); fault.ClassOf(err) != fault.NotFound {
			t.Errorf("%q: %v", no, err)
		}
	}
}

// pointsOf counts the points of each colour in the picture of the first sheet.
func pointsOf(t *testing.T, planned *Together) map[draw.Ink]int {
	t.Helper()
	data, err := planned.SheetPNG(0, 48)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[draw.Ink]int{}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			r, g, b, _ := img.At(x, y).RGBA()
			seen[draw.Ink{R: uint8(r >> 8), G: uint8(g >> 8), B: uint8(b >> 8)}]++
		}
	}
	return seen
}

// What was spent of a sheet before is nobody's part of it: a strip is told whole,
// from the edge.
func TestTogetherOnAPartUsedSheet(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	shop.Preview = true
	drafts := fewDrafts(t, shop, "26-11", "26-12", "27-01")
	if _, err := shop.PrintDraft(ctx, drafts[0], PrintOrder{Coarse: true}, nil); err != nil {
		t.Fatal(err)
	}
	planned, err := shop.PlanDrafts(ctx, drafts[1:], nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(planned.Sheets) != 1 || !planned.Sheets[0].PartUsed {
		t.Fatalf("%+v", planned.Sheets)
	}
	seen := pointsOf(t, planned)
	before, first, second := seen[spentInk], seen[tints[0]], seen[tints[1]]
	if before < 1000 || first < 100 || second < 100 || first > 2*second || second > 2*first {
		t.Errorf("%d points spent before, %d and %d of the batches, which are alike", before, first, second)
	}
}

// What does not go together is refused before anything is printed.
func TestDraftsApart(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	shop.Preview = true
	drafts := twoDrafts(t, shop)
	other, err := shop.EditDraft(ctx, "26-12", drafts[1].Version, "film", ByBench, func(d *batch.Doc) error { return d.Set("print/film", "a5-film-white") })
	if err != nil || other.Err != nil {
		t.Fatal(err, other.Err)
	}
	for _, all := range [][]Draft{{drafts[0], drafts[0]}, {drafts[0], other}} {
		if _, err := shop.PlanDrafts(ctx, all, nil); fault.ClassOf(err) != fault.Input {
			t.Errorf("planned: %v", err)
		}
		if _, err := shop.PrintDrafts(ctx, all, PrintOrder{}, nil); fault.ClassOf(err) != fault.Input {
			t.Errorf("printed: %v", err)
		}
	}
	if prints, err := shop.Prints(); err != nil || len(prints) != 0 {
		t.Errorf("%+v %v", prints, err)
	}
}
