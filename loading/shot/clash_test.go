package shot

import (
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// The charts as printed: the marks of light floats on a Russian page, which are
// 3 and 4 of one unit mass each, and a British trade chart of pole floats.
func TestPoleSizesArePublished(t *testing.T) {
	for size, want := range map[string][]float64{
		"3x7": {0.03}, "4x7": {0.04}, "3x8": {0.051}, "4x8": {0.068}, "3x9": {0.075}, "4x9": {0.1}, "3x11": {0.144}, "4x11": {0.192},
		"3x12": {0.192}, "3x14": {0.3}, "3x16": {0.375},
		"3x10": {0.105, 0.1}, "4x10": {0.14, 0.15}, "4x12": {0.256, 0.2}, "4x14": {0.4, 0.4}, "4x16": {0.5, 0.5}, "4x18": {0.75}, "4x20": {1},
	} {
		p, ok := ParsePoleSize(size)
		if !ok || len(p.Readings) != len(want) {
			t.Errorf("%s: %v, %+v", size, ok, p)
			continue
		}
		for i, m := range want {
			if math.Abs(float64(p.Readings[i].Mass)-m) > 1e-9 {
				t.Errorf("%s: reading %d is %v, want %v", size, i, p.Readings[i].Mass, m)
			}
		}
	}
	for size, want := range map[string]string{
		"4x14":   "4x14: near 0.4 g",
		"4 × 12": "4x12: near 0.256 g (4 no. 12 of the rising styl scale) or 0.2 g (a chart of pole floats)",
		"4X20":   "4x20: near 1 g (from memory)",
	} {
		if p, ok := ParsePoleSize(size); !ok || p.Text(unit.Style{}) != want {
			t.Errorf("%s: %q, want %q", size, p.Text(unit.Style{}), want)
		}
	}
	for _, bad := range []string{"", "x", "4x", "x14", "4x99", "0x14", "-4x14", "9x14", "4x14x2", "4xAAA", "4.5x14", "4x13"} {
		if p, ok := ParsePoleSize(bad); ok {
			t.Errorf("%q is read as %+v", bad, p)
		}
	}
}

func TestReadLoadTellsWhatElseItCanMean(t *testing.T) {
	for _, c := range []struct {
		in, key string
		mass    float64
		near    bool
		told    []string // each in some notice, in order; none: no notice at all
	}{
		{"4.2 g", "gb-modern", 4.2, false, nil},
		{"3AAA", "gb-modern", 2.4, false, []string{"AAA is 0.8 g in British present-day, but 0.81 g in British traditional, English pellet scale"}},
		{"SG", "gb-traditional", 1.6, false, []string{"3.56 g in English pellet scale"}},
		{"SSG", "gb-modern", 1.6, false, []string{"1.89 g in British traditional; 1.9 g in English pellet scale"}},
		{"BB", "us-split", 0.443, false, []string{"0.4 g in British present-day, British traditional", "0.41 g"}},
		// In one it is the size; apart it is two of the smaller, and no clash of cuts.
		{"2SSG", "gb-modern", 3.2, false, []string{"2SSG is unverified: weigh before use", `"2SSG" is read as 1 x 2SSG, 3.2 g: it could be 2 SSG, 3.2 g`,
			"2SSG is 3.2 g in British present-day, but 3.78 g in British traditional; 3.8 g in English pellet scale"}},
		{"10 No.12", "gb-modern", 0.2, false, []string{"10 No.12: the printed mass leaves ±0.05 g open", "No.12 is 0.02 g"}},
		{"2SSG", "gb-traditional", 3.78, false, []string{"SSG is 1.89 g"}},
		{"2B", "japan", 0.8, false, []string{`"2B" is read as 1 x 2B, 0.8 g: it could be 2 B, 1.1 g`}},
		{"2 B", "japan", 1.1, false, []string{"B is 0.55 g in Japanese"}},
		{"2xB", "japan", 1.1, false, []string{"B is 0.55 g in Japanese"}},
		{"32SSG", "gb-modern", 51.2, false, []string{`it could be 3 x 2SSG, 9.6 g`}},
		// A pole size is near, and so is what looks like one.
		{"4x14", "gb-modern", 0.4, true, []string{"4x14: near 0.4 g, of lead"}},
		{"4x12", "gb-traditional", 0.228, true, []string{"0.256 g", "or 0.2 g"}},
		{"4x10", "gb-modern", 0.145, true, []string{"4x10: near 0.14 g", `"4x10" is read as the size of a pole float; 4 No.10, 0.16 g, is written "4 No.10"`}},
		{"4 No.10", "gb-modern", 0.16, false, []string{"No.10 is 0.04 g"}},
		{"4x10", "continental", 0.16, false, []string{`"4x10" is read as 4 no. 10, 0.16 g: as the size of a pole float 4x10: near 0.14 g`}},
		{"4x14", "styl-rising", 0.4, false, []string{"14 is 0.1 g in Styl leads, rising scale, but 0.004 g in Styl leads, falling scale"}},
	} {
		l, err := ReadLoad(c.in, convention(t, c.key))
		if err != nil || math.Abs(float64(l.Mass)-c.mass) > 0.0005 || l.Near != c.near || (len(l.Notices) == 0) != (len(c.told) == 0) {
			t.Errorf("ReadLoad(%q, %s) = %+v, %v", c.in, c.key, l, err)
			continue
		}
		all := strings.Join(l.Notices, "\n")
		for _, want := range c.told {
			_, rest, ok := strings.Cut(all, want)
			if !ok {
				t.Errorf("ReadLoad(%q, %s): %q is not told in %q", c.in, c.key, want, l.Notices)
			}
			all = rest
		}
	}
	for _, bad := range []string{"", "4x99", "3XYZ", "24"} {
		if _, err := ReadLoad(bad, convention(t, "gb-modern")); fault.ClassOf(err) != fault.Input {
			t.Errorf("ReadLoad(%q): %v", bad, err)
		}
	}
}

// Every name with two masses among the built-in conventions is told from either
// side, whatever is added to the tables.
func TestNoNameClashesSilently(t *testing.T) {
	all := Conventions()
	clashing := 0
	for _, a := range all {
		for _, s := range a.Sizes {
			told := map[string]bool{}
			for _, k := range Clashes(CountsText([]Count{{s, 1}}), a) {
				told[k.Key] = true
			}
			for _, b := range all {
				other, ok := b.Size(s.Name)
				if want := ok && other.Mass != s.Mass; told[b.Key] != want {
					t.Errorf("%s %s against %s: told %v, want %v", a.Key, s.Name, b.Key, told[b.Key], want)
				} else if want {
					clashing++
				}
			}
		}
	}
	if clashing < 50 {
		t.Errorf("only %d clashes found", clashing)
	}
}

func FuzzReadLoad(f *testing.F) {
	for _, s := range []string{"2SSG", "4x14", "4×12", "3AAA+2No4", "2B+B", "0002AAA", "x", "2,5 g", "no.10.5", "3 x 0.25 g"} {
		f.Add(s)
	}
	all := Conventions()
	f.Fuzz(func(t *testing.T, s string) {
		for _, c := range all {
			l, err := ReadLoad(s, c)
			if err != nil {
				if fault.ClassOf(err) != fault.Input {
					t.Errorf("ReadLoad(%q, %s): %v is %v", s, c.Key, err, fault.ClassOf(err))
				}
				continue
			}
			if !(l.Mass > 0 && l.Mass <= maxLoad) || l.Near && len(l.Notices) == 0 || l.Near && l.Counts != nil {
				t.Errorf("ReadLoad(%q, %s) = %+v", s, c.Key, l)
			}
		}
	})
}
