package shot

import (
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// 6.8 g is 8½ AAA of 0.8 g; masses from the present-day and the traditional set.
func TestInOneSizeAndRange(t *testing.T) {
	for _, k := range []struct {
		key       string
		target    unit.Gram
		one, span string
	}{
		{"gb-modern", 6.8, "8½ AAA", "4-5 SSG"},
		{"gb-modern", 2.4, "1½ SSG", "3 AAA"},
		{"gb-modern", 2.8, "3½ AAA", "3-4 AAA"},
		{"gb-traditional", 2.43, "3 AAA", "3 AAA"},
		{"gb-modern", 0.06, "1 No.8", ""},
		{"continental", 1.54, "2 no. 3/0", "2 no. 3/0"},
		{"gb-modern", 0, "", ""}, {"gb-modern", 490, "", ""}, {"gb-modern", unit.Gram(math.NaN()), "", ""},
	} {
		c := convention(t, k.key)
		one, ok := InOneSize(k.target, c, Limits{})
		if got := one.Text(); ok != (k.one != "") || ok && got != k.one {
			t.Errorf("%s %v: %q %v, want %q", k.key, k.target, got, ok, k.one)
		}
		if ok && math.Abs(float64(one.Mass()+one.Rest-k.target)) > 1e-9 {
			t.Errorf("%s does not add up", one.Text())
		}
		span, ok := InRange(k.target, c, Limits{})
		if got := span.Text(); ok != (k.span != "") || ok && got != k.span {
			t.Errorf("%s %v: %q %v, want %q", k.key, k.target, got, ok, k.span)
		}
		if from, to := span.Mass(); ok && (k.target < from-0.021 || k.target > to+0.021) {
			t.Errorf("%v is not in %s", k.target, span.Text())
		}
	}
}

// Ranges as they stand in print: "2BB to 3SSG", "3BB to 5AAA", "2-3AAA" (a
// float maker's list and common practice).
func TestParseForms(t *testing.T) {
	c := convention(t, "gb-modern")
	for s, want := range map[string]struct {
		text     string
		from, to unit.Gram
	}{
		"2-3AAA": {"2-3 AAA", 1.6, 2.4}, "3 – 4 aaa": {"3-4 AAA", 2.4, 3.2}, "2BB to 3 SSG": {"2 BB to 3 SSG", 0.8, 4.8},
		"3BB-5AAA": {"3 BB to 5 AAA", 1.2, 4}, "4-6 No.4": {"4-6 No.4", 0.8, 1.2},
	} {
		r, err := ParseRange(s, c)
		from, to := r.Mass()
		if err != nil || r.Text() != want.text || math.Abs(float64(from-want.from))+math.Abs(float64(to-want.to)) > 1e-9 {
			t.Errorf("%q: %v %q %v to %v", s, err, r.Text(), from, to)
		}
	}
	for s, want := range map[string]unit.Gram{"8½ AAA": 6.8, "8 1/2 AAA": 6.8, "8.5AAA": 6.8, "½AAA": 0.4, "0,5 bb": 0.2, "2½ x No.4": 0.5} {
		o, err := ParseOneSize(s, c)
		if err != nil || math.Abs(float64(o.Mass()-want)) > 1e-9 {
			t.Errorf("%q: %v %v, want %v", s, err, o.Mass(), want)
		}
	}
	for _, s := range []string{"", "-", "3-", "-3AAA", "4-3AAA", "3-3AAA", "3AAA", "a-b", "0-2AAA", "3-4 ZZ", "3-1000000000 AAA", "1AAA+1BB-5AAA"} {
		if r, err := ParseRange(s, c); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q is a range: %v %v", s, r, err)
		}
	}
	for _, s := range []string{"", "½", "8 AAA", "8½ ZZ", "8½½ AAA", "199.55 AAA", "999999999½ AAA", "-1½ AAA", "199½ 3SSG"} {
		if o, err := ParseOneSize(s, c); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q is so many halves: %v %v", s, o, err)
		}
	}
}

func FuzzForms(f *testing.F) {
	for _, s := range []string{"8½ AAA", "3-4 AAA", "2BB to 3SSG", "1 1/2 3/0", "--", "½½", "9223372036854775807-1AAA"} {
		f.Add(s)
	}
	c, _ := ByKey("gb-modern")
	f.Fuzz(func(t *testing.T, s string) {
		if r, err := ParseRange(s, c); err == nil {
			if from, to := r.Mass(); !(from > 0 && from < to && to <= maxLoad) {
				t.Fatalf("%q: %v to %v", s, from, to)
			}
			again, err := ParseRange(r.Text(), c)
			if err != nil || again != r {
				t.Fatalf("%q is written %q, which is %v (%v)", s, r.Text(), again, err)
			}
		}
		if o, err := ParseOneSize(s, c); err == nil {
			again, err := ParseOneSize(o.Text(), c)
			if err != nil || again != o {
				t.Fatalf("%q is written %q, which is %v (%v)", s, o.Text(), again, err)
			}
		}
	})
}
