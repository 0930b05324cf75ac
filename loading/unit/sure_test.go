package unit

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// GUM (JCGM 100:2008, from memory): 7.2.2 writes m = 100.02147 g with a standard
// uncertainty of 0.35 mg; 7.2.6 has y = 10.05762 ohm with 27 mohm as 10.058.
func TestSure(t *testing.T) {
	for _, c := range []struct {
		value, u, step Gram
		want           string
	}{
		{100.02147, 0.00035, 0.00001, "100.02147 g ± 0.00035 g"},
		{10.05762, 0.027, 0.00001, "10.058 g ± 0.027 g"},
		{8, 0.03, 0.01, "8.00 g ± 0.03 g"},
		{8, 0.0304, 0.001, "8.000 g ± 0.030 g"},
		{8, 0.126, 0.001, "8.00 g ± 0.13 g"},
		{8, 0.0996, 0.001, "8.00 g ± 0.10 g"},
		{8, 0.1, 0.001, "8.00 g ± 0.10 g"},
		{8, 0.01, 0.001, "8.000 g ± 0.010 g"},
		{0.8, 0.004, 0.01, "0.800 g ± 0.004 g"},
		{0.8, 0, 0.01, "0.80 g ± 0.00 g"},
		{0.85, 0.03, 0.05, "0.85 g ± 0.03 g"},
		{-0.0001, 0.03, 0.01, "0.00 g ± 0.03 g"},
	} {
		if got := c.value.Sure(c.u, c.step, Style{}); got != c.want {
			t.Errorf("%v, %v to %v: %q, want %q", c.value, c.u, c.step, got, c.want)
		}
	}
	if got := Gram(8).Sure(0.03, 0.01, Style{Comma: true}); got != "8,00 g ± 0,03 g" {
		t.Errorf("with a comma: %q", got)
	}
}

func TestSureHasTheSameDecimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := Gram(math.Pow(10, rapid.Float64Range(-4, 2).Draw(t, "log u")))
		v := Gram(rapid.Float64Range(-50, 50).Draw(t, "value"))
		value, uncertainty := v.Apart(u, 0.001, Style{})
		read := func(s string) (float64, int) {
			s = strings.TrimSuffix(s, " g")
			n, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			_, after, _ := strings.Cut(s, ".")
			return n, len(after)
		}
		a, pa := read(value)
		b, pb := read(uncertainty)
		if pa != pb {
			t.Fatalf("%q ± %q", value, uncertainty)
		}
		if half := math.Pow10(-pa)/2 + 1e-9; pb > 0 && (math.Abs(a-float64(v)) > half || math.Abs(b-float64(u)) > half) {
			t.Fatalf("%v, %v are told as %q ± %q", v, u, value, uncertainty)
		}
		if digits := strings.TrimLeft(strings.Replace(uncertainty, ".", "", 1), "0 g"); pb > 0 && len(strings.TrimSuffix(digits, " g")) > 2 {
			t.Fatalf("%q has more than two digits", uncertainty)
		}
	})
}
