package shot

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"

	"pgregory.net/rapid"
)

func TestParseLoad(t *testing.T) {
	for _, c := range []struct {
		in, key  string
		want     float64
		fromShot bool
	}{
		{"2.43g", "gb-modern", 2.43, false}, {"2,43 g", "gb-modern", 2.43, false},
		{"1/8oz", "us-split", unit.GramsPerOunce / 8, false},
		{"3AAA", "gb-modern", 2.4, true}, {"3AAA", "gb-traditional", 2.43, true},
		{"3AAA+2No4", "gb-modern", 2.8, true}, {"3 aaa + 2 no. 4", "gb-modern", 2.8, true}, {"3xAAA + 2 × #4", "gb-modern", 2.8, true},
		{"AAA", "gb-modern", 0.8, true}, {"AAA+AAA", "gb-modern", 1.6, true}, {"2SSG", "gb-modern", 3.2, true},
		{"3/0", "continental", 0.77, true}, {"2 x 3/0", "continental", 1.54, true}, {"2no3/0", "continental", 1.54, true},
		{"BB", "us-split", unit.GramsPerOunce / 64, true}, {"4 x 4", "continental", 0.64, true},
	} {
		m, metal, fromShot, err := ParseLoad(c.in, convention(t, c.key))
		if err != nil || math.Abs(float64(m)-c.want) > 1e-9 || fromShot != c.fromShot || metal != convention(t, c.key).Metal {
			t.Errorf("ParseLoad(%q, %s) = %v, %s, %v, %v", c.in, c.key, m, metal.Key, fromShot, err)
		}
	}
	gb := convention(t, "gb-modern")
	for _, bad := range []string{"", "0g", "-1g", "501g", "3XYZ", "0AAA", "201AAA", "3AAA+", "+", "AAA++BB", "3 4", "2.5AAA", "-3AAA", "2.43", "99999999999999999999AAA", "200 SSG + 200 3SSG"} {
		if m, _, _, err := ParseLoad(bad, gb); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("ParseLoad(%q) = %v, %v", bad, m, err)
		}
	}
	// The error speaks of what was meant.
	if _, _, _, err := ParseLoad("2.43", gb); !strings.Contains(err.Error(), "no unit") {
		t.Error(err)
	}
	if _, _, _, err := ParseLoad("3XYZ", gb); !strings.Contains(err.Error(), "gb-modern") {
		t.Error(err)
	}
}

// What is printed reads back as what it was.
func TestCountsTextReadsBack(t *testing.T) {
	all := Conventions()
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(all).Draw(t, "convention")
		var counts []Count
		for _, s := range c.Sizes {
			if rapid.IntRange(0, 5).Draw(t, s.Name) == 0 {
				counts = append(counts, Count{s, rapid.IntRange(1, 9).Draw(t, "n")})
			}
		}
		if len(counts) == 0 {
			return
		}
		back, err := ParseCounts(CountsText(counts), c)
		if err != nil || fmt.Sprint(back) != fmt.Sprint(counts) {
			t.Fatalf("%q read back as %v, %v", CountsText(counts), back, err)
		}
	})
}

func ExampleParseLoad() {
	for _, key := range []string{"gb-modern", "gb-traditional"} {
		c, _ := ByKey(key)
		m, metal, _, _ := ParseLoad("3AAA+2No4", c)
		fmt.Println(m.Text(0.01, unit.Style{}), "of", metal.Name)
	}
	// Output:
	// 2.8 g of tin
	// 2.77 g of lead
}

func FuzzParseLoad(f *testing.F) {
	for _, s := range []string{"3AAA+2No4", "2,43 g", "1/8oz", "3/0", "2 x 3/0", "n°4", "+", "×"} {
		f.Add(s)
	}
	all := Conventions()
	f.Fuzz(func(t *testing.T, s string) {
		for _, c := range all {
			m, _, _, err := ParseLoad(s, c)
			if err == nil && !(m > 0 && m <= maxLoad) {
				t.Errorf("ParseLoad(%q, %s) = %v", s, c.Key, m)
			}
			if err != nil && fault.ClassOf(err) != fault.Input {
				t.Errorf("ParseLoad(%q): %v is %v", s, err, fault.ClassOf(err))
			}
		}
	})
}
