package job

import (
	"bytes"
	"context"
	"image/png"
	"testing"

	"floatmark/loading/fault"
)

// What a second print takes lies beside what the first took, on the same sheet:
// the figures say so and the picture shows the first in grey.
func TestLaidSheets(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	d := twoOfTheDemo(t, shop)
	p, err := shop.PlanDraft(ctx, d, nil)
	if err != nil {
		t.Fatal(err)
	}
	fresh, use := p.LaidSheets(), p.FilmUse()
	if len(fresh) != 1 || fresh[0].PartUsed || fresh[0].Number != 1 || fresh[0].Before != 0 || fresh[0].After < 0.01 || fresh[0].Feed != "top" {
		t.Errorf("%+v", fresh)
	}
	if use.Fresh != 1 || use.PartUsed != 0 || use.FromPartUsed != 0 || use.OnFloats <= 0 || use.OnFloats > 1 || use.Left < 150 || use.Left > 297 {
		t.Errorf("%+v", use)
	}
	grey := func(data []byte, err error) (n int) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if r, g, b, _ := img.At(x, y).RGBA(); uint8(r>>8) == spentInk.R && uint8(g>>8) == spentInk.G && uint8(b>>8) == spentInk.B {
					n++
				}
			}
		}
		return n
	}
	if n := grey(p.LaidPNG(1, 48)); n > 20 {
		t.Errorf("%d grey points on a fresh sheet", n)
	}
	if _, err := shop.PrintDraft(ctx, d, PrintOrder{Coarse: true}, nil); err != nil {
		t.Fatal(err)
	}
	if err := shop.ConfirmPrint(ctx, 1); err != nil {
		t.Fatal(err)
	}
	shop.Only = []int{1}
	if p, err = shop.PlanDraft(ctx, d, nil); err != nil {
		t.Fatal(err)
	}
	next, use := p.LaidSheets(), p.FilmUse()
	if len(next) != 1 || !next[0].PartUsed || next[0].Before != fresh[0].After || next[0].After <= next[0].Before {
		t.Errorf("%+v after %+v", next, fresh)
	}
	if use.PartUsed != 1 || use.Fresh != 0 || use.FromPartUsed != 1 || use.Left != 0 {
		t.Errorf("%+v", use)
	}
	if n := grey(p.LaidPNG(1, 48)); n < 500 {
		t.Errorf("%d grey points on a part-used sheet", n)
	}
	if n := grey(shop.SheetPNG(1)); n < 500 {
		t.Errorf("%d grey points in the picture of the sheet", n)
	}
	if data, err := p.LaidSVG(1); err != nil || !bytes.HasPrefix(data, []byte("<?xml")) && !bytes.HasPrefix(data, []byte("<svg")) {
		t.Errorf("%.40s, %v", data, err)
	}
	for _, page := range []int{0, 2} {
		if _, err := p.LaidPNG(page, 48); fault.ClassOf(err) != fault.NotFound {
			t.Errorf("page %d: %v", page, err)
		}
	}
}
