package job

import (
	"context"
	"strings"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// SheetPart names a part of a sheet as a maker measures it with a ruler, the
// sheet lying as it is drawn. One of the fields is set.
type SheetPart struct {
	Top, Bottom, Left, Right string // a strip along that edge, so deep: "60 mm"
	Rect                     string // a rectangle, mm: from the left, from the top, width, height: "10 20 50 30"
	All                      bool   // the whole sheet
}

// path returns the part of a sheet of that size.
func (p SheetPart) path(size geom.Size) (geom.Path, error) {
	given := 0
	var out geom.Rect
	strip := func(text string, room float64, of func(d float64) geom.Rect) error {
		if text == "" {
			return nil
		}
		given++
		d, err := unit.ParseMillimetre(text)
		if err != nil {
			return err
		}
		if d <= 0 || float64(d) > room {
			return fault.Inputf("the sheet is "+millimetres(size.W)+" wide and "+millimetres(size.H)+" high", "a strip of %s is none of this sheet", d.Text(0.1, unit.Style{}))
		}
		out = of(float64(d))
		return nil
	}
	for _, s := range []struct {
		text string
		room float64
		of   func(d float64) geom.Rect
	}{
		{p.Top, size.H, func(d float64) geom.Rect { return geom.XYWH(0, 0, size.W, d) }},
		{p.Bottom, size.H, func(d float64) geom.Rect { return geom.XYWH(0, size.H-d, size.W, d) }},
		{p.Left, size.W, func(d float64) geom.Rect { return geom.XYWH(0, 0, d, size.H) }},
		{p.Right, size.W, func(d float64) geom.Rect { return geom.XYWH(size.W-d, 0, d, size.H) }},
	} {
		if err := strip(s.text, s.room, s.of); err != nil {
			return nil, err
		}
	}
	if p.Rect != "" {
		given++
		var err error
		if out, err = rectangle(p.Rect); err != nil {
			return nil, err
		}
	}
	if p.All {
		given++
		out = geom.XYWH(0, 0, size.W, size.H)
	}
	if given != 1 {
		return nil, fault.Inputf(`give one of --from-top "60 mm", --from-bottom, --from-left, --from-right, --part-mm "10 20 50 30" and --all`, "say which part of the sheet it is, once")
	}
	return geom.Rectangle(out), nil
}

// rectangle reads four lengths in mm.
func rectangle(text string) (geom.Rect, error) {
	bad := fault.Inputf(`write four lengths in mm, from the left, from the top, width and height: "10 20 50 30"`, "%q is no part of a sheet", text)
	fields := strings.Fields(text)
	if len(fields) != 4 {
		return geom.Rect{}, bad
	}
	var v [4]float64
	for i, f := range fields {
		x, ok := unit.Decimal(f)
		if !ok || x < 0 {
			return geom.Rect{}, bad
		}
		v[i] = x
	}
	if v[2] == 0 || v[3] == 0 {
		return geom.Rect{}, bad
	}
	return geom.XYWH(v[0], v[1], v[2], v[3]), nil
}

// UsedPart notes by hand that a part of a sheet is spent. Errors are those of
// CorrectSheet, and Input for a part that is none.
func (w *Workshop) UsedPart(ctx context.Context, sheet int, part SheetPart, note string) error {
	return w.correctPart(ctx, sheet, part, false, note)
}

// FreePart notes by hand that a part of a sheet is blank. Errors are those of
// CorrectSheet, and Input for a part that is none.
func (w *Workshop) FreePart(ctx context.Context, sheet int, part SheetPart, note string) error {
	return w.correctPart(ctx, sheet, part, true, note)
}

func (w *Workshop) correctPart(ctx context.Context, sheet int, part SheetPart, free bool, note string) error {
	d, err := w.Sheet(sheet)
	if err != nil {
		return err
	}
	size, err := d.measures()
	if err != nil {
		return err
	}
	p, err := part.path(size)
	if err != nil {
		return fault.At(sheetName(sheet), err)
	}
	if free {
		return w.CorrectSheet(ctx, sheet, nil, p, note)
	}
	return w.CorrectSheet(ctx, sheet, p, nil, note)
}
