package unit

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestParseGram(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
	}{
		{"2.43g", 2.43}, {"2,43 g", 2.43}, {" 0.83\u00a0g ", 0.83}, {"1/8oz", GramsPerOunce / 8},
		{"1 1/2 oz", 1.5 * GramsPerOunce}, {"250 mg", 0.25}, {".5 G", 0.5},
	} {
		got, err := ParseGram(c.in)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-12 {
			t.Errorf("ParseGram(%q) = %v, %v; want %v", c.in, got, err, c.want)
		}
	}
	for _, bad := range []string{"", "g", "0.83", "-1 g", "1.000,5 g", "1,000.5 g", "1e3 g", "3 lb", "NaN g", "Inf g", "1/0 oz", "1 2 g", "0x1p3 g"} {
		if got, err := ParseGram(bad); err == nil {
			t.Errorf("ParseGram(%q) = %v, want an error", bad, got)
		}
	}
}

func TestNumberDropsOnlyTrailingZeros(t *testing.T) {
	for _, c := range []struct {
		v, step float64
		comma   bool
		want    string
	}{
		{0.8, 0.05, false, "0.8"}, {0.85, 0.05, true, "0,85"}, {10, 1, false, "10"}, {100, 0.1, false, "100"},
		{0.125, 0.01, false, "0.13"}, {-0.001, 0.01, false, "0"}, {7.2, 0.02, false, "7.2"}, {1234.5, 0.5, false, "1234.5"},
	} {
		if got := Number(c.v, c.step, Style{Comma: c.comma}); got != c.want {
			t.Errorf("Number(%v, %v) = %q, want %q", c.v, c.step, got, c.want)
		}
	}
}

func TestJSONIsToTheMicrogram(t *testing.T) {
	for _, c := range []struct {
		g    Gram
		want string
	}{{0.1 + 0.2, "0.3"}, {-2.2e-16, "0"}, {7.2, "7.2"}, {0.0000014, "0.000001"}, {500, "500"}} {
		got, err := json.Marshal(c.g)
		if err != nil || string(got) != c.want {
			t.Errorf("%v is %s, %v; want %s", float64(c.g), got, err, c.want)
		}
	}
	if _, err := json.Marshal(Gram(math.NaN())); err == nil {
		t.Error("a mass that is no number was written")
	}
}

func TestStep125(t *testing.T) {
	for _, c := range [][2]float64{{0.03, 0.05}, {0.05, 0.05}, {0.006, 0.01}, {0.011, 0.02}, {0.9, 1}, {1, 1}, {2.1, 5}, {0, 0}} {
		if got := Step125(c[0]); got != c[1] {
			t.Errorf("Step125(%v) = %v, want %v", c[0], got, c[1])
		}
	}
}

// What is printed adds up as printed: a rounded sum less a rounded part is the
// float64 nearest to the decimal difference after one more Round.
func TestRoundIsIdempotentAndNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-200, 200).Draw(t, "v")
		step := rapid.SampledFrom([]float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1}).Draw(t, "step")
		r := Round(v, step)
		if Round(r, step) != r {
			t.Fatalf("Round(%v, %v) = %v is not stable", v, step, r)
		}
		if math.Abs(r-v) > step/2+1e-6 {
			t.Fatalf("Round(%v, %v) = %v is too far", v, step, r)
		}
	})
}

func FuzzParseGram(f *testing.F) {
	for _, s := range []string{"2,43 g", "1/8oz", "1 1/2 oz", "-3g", "g"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		g, err := ParseGram(s)
		if err == nil && (g < 0 || math.IsNaN(float64(g)) || math.IsInf(float64(g), 0)) {
			t.Errorf("ParseGram(%q) = %v without an error", s, g)
		}
	})
}
