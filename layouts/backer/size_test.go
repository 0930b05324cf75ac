package backer

import (
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Named sizes: those of ISO 216 as its table has them, each card by its own name,
// from the smallest area up.
func TestFormats(t *testing.T) {
	area := 0.0
	seen := map[string]bool{}
	for _, f := range Formats() {
		if f.Key == "" || f.Source == "" || seen[f.Key] || f.Size.W > f.Size.H || f.Size.W*f.Size.H < area {
			t.Errorf("%+v", f)
		}
		seen[f.Key], area = true, f.Size.W*f.Size.H
		if got, ok := FormatByKey(f.Key); !ok || got != f {
			t.Errorf("%s is found as %+v", f.Key, got)
		}
	}
	for key, want := range map[string]geom.Size{"a5": {W: 148, H: 210}, "a6": {W: 105, H: 148}, "a7": {W: 74, H: 105}, "third-a4": ThirdA4} {
		if f, ok := FormatByKey(key); !ok || f.Size != want {
			t.Errorf("%s is %v, want %v", key, f.Size, want)
		}
	}
	if _, ok := FormatByKey("a1"); ok {
		t.Error("a1 is no card")
	}
	if n, ok := Next(ThirdA4, 240); !ok || n.Key != "long" {
		t.Errorf("the next card for 240 mm is %+v", n)
	}
	if n, ok := Next(ThirdA4, 300); ok {
		t.Errorf("%+v has no room for 300 mm", n)
	}
}

// A float longer than its card: refused with the next size by name; or it stands
// out below, drawn to the edge and no further, by what is told, with no hold on
// what stands out.
func TestLongFloat(t *testing.T) {
	c := sedge(t)
	p := *c.Pattern
	p.Profile = profile(t, at(0, 3), at(20, 12), at(60, 5), at(230, 3))
	p.Waterline, p.TipFrom, p.Zones = 210, 214, []label.Zone{{Show: label.LeastShow(), From: 70, Height: 20}}
	c.Pattern = &p
	s := spec(t, c)
	_, err := Lay(s)
	if fault.ClassOf(err) != fault.NoFit || err == nil || !strings.Contains(fault.List(err)[0].Do, `"long" of 99 mm by 270 mm`) || !strings.Contains(fault.List(err)[0].Do, "overhang_mm = 35") {
		t.Errorf("got %v", fault.List(err))
	}
	s.Style.Overhang = 40
	m, err := compose(s)
	if err != nil {
		t.Fatal(err)
	}
	f := m.frame
	// 230 mm on 200 mm of room, and 5 mm more to clear the safe zone.
	if f.base != 245 || len(f.notices) == 0 || f.notices[0].Code != NoticeOverhang || !strings.Contains(f.notices[0].Text, "35 mm below") {
		t.Errorf("base at %v, %v", f.base, f.notices)
	}
	if err := sound(s); err != nil {
		t.Error(err)
	}
	for _, h := range f.holds {
		if lo, _ := h.reach(); lo < 35+Safe {
			t.Errorf("%+v is over the edge", h)
		}
	}
	s.Size = geom.Size{W: 99, H: 270}
	if _, err := Lay(s); err != nil {
		t.Error(err)
	}
}
