package job

import (
	"testing"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

func TestPartsOfASheet(t *testing.T) {
	size := geom.Size{W: 210, H: 297}
	for _, c := range []struct {
		part SheetPart
		want geom.Rect // none: refused
	}{
		{SheetPart{Top: "60 mm"}, geom.XYWH(0, 0, 210, 60)},
		{SheetPart{Bottom: "6,5 cm"}, geom.XYWH(0, 232, 210, 65)},
		{SheetPart{Left: "1in"}, geom.XYWH(0, 0, 25.4, 297)},
		{SheetPart{Right: "210 mm"}, geom.XYWH(0, 0, 210, 297)},
		{SheetPart{Rect: " 10 20,5 50 1/2 "}, geom.XYWH(10, 20.5, 50, 0.5)},
		{SheetPart{All: true}, geom.XYWH(0, 0, 210, 297)},
		{SheetPart{}, geom.Rect{}},
		{SheetPart{Top: "60 mm", Left: "10 mm"}, geom.Rect{}},
		{SheetPart{Top: "0 mm"}, geom.Rect{}},
		{SheetPart{Right: "210.1 mm"}, geom.Rect{}},
		{SheetPart{Rect: "10 20 50"}, geom.Rect{}},
		{SheetPart{Rect: "10 20 50 0"}, geom.Rect{}},
		{SheetPart{Rect: "-10 20 50 5"}, geom.Rect{}},
		{SheetPart{Rect: "a b c d"}, geom.Rect{}},
	} {
		got, err := c.part.path(size)
		if c.want == (geom.Rect{}) {
			if fault.ClassOf(err) != fault.Input || err == nil || fault.List(err)[0].Do == "" {
				t.Errorf("%+v: %v, want an input error that says what to do", c.part, err)
			}
			continue
		}
		if b := got.Bounds(); err != nil || !b.Inset(-1e-9).Contains(c.want) || !c.want.Inset(-1e-9).Contains(b) {
			t.Errorf("%+v: %v %v, want %v", c.part, b, err, c.want)
		}
	}
}
