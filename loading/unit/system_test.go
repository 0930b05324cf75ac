package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The inch is 25.4 mm and the pound 0.45359237 kg, exact by definition
// (International Yard and Pound agreement, 1959; NIST SP 811, appendix B, and
// Handbook 44, appendix C, which mark both as exact).
func TestExactByDefinition(t *testing.T) {
	if float64(MillimetresPerInch) != 25.4 || GramsPerOunce != 453.59237/16 || math.Abs(CubicMillimetresPerCubicInch-16387.064) > 1e-9 { // Handbook 44: 1 cubic inch is 16.387 064 cm³
		t.Error(MillimetresPerInch, GramsPerOunce, CubicMillimetresPerCubicInch)
	}
	for _, c := range []struct {
		c    Celsius
		want string
	}{{0, "32"}, {100, "212"}, {-40, "-40"}, {37, "98.6"}, {20, "68"}} { // fixed points of both scales
		if got := c.c.Fahrenheit(Style{}); got != c.want {
			t.Errorf("%v °C is %s °F, want %s", float64(c.c), got, c.want)
		}
	}
	for _, c := range []struct {
		g    Gram
		want string
	}{{GramsPerOunce, "1.00 oz"}, {453.59237, "16.0 oz"}, {0.83, "0.0293 oz"}, {8, "0.282 oz"}, {0, "0.000 oz"}} {
		if got := c.g.Ounces(Style{}); got != c.want {
			t.Errorf("%v g is %s, want %s", float64(c.g), got, c.want)
		}
	}
	if got := Millimetre(12).Inches(Style{Comma: true}); got != "0,472" {
		t.Error(got)
	}
}

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		in   string
		of   System
		want float64
	}{
		{"12", Metric, 12}, {"12,5", Metric, 12.5}, {"12 mm", Imperial, 12}, {"1.2cm", Imperial, 12}, {"0.472", Imperial, 11.9888}, {"0,472 in", Metric, 11.9888},
		{"15/32 in", Metric, 11.90625}, {"15/32", Imperial, 11.90625}, {"1 3/16″", Imperial, 30.1625}, {`1-3/16"`, Metric, 30.1625}, {"1½ in.", Metric, 38.1},
		{"-1", Metric, -1}, {"−1/32", Imperial, -0.79375}, {"½ Zoll", Metric, 12.7}, {"0,5 po", Metric, 12.7}, {"2 cale", Metric, 50.8}, {"1/64", Imperial, 0.396875},
		{"0", Imperial, 0}, {".5 in", Metric, 12.7}, {"5. mm", Metric, 5}, {" 3\u00a0mm ", Imperial, 3}, {"IN 5", Metric, math.NaN()},
		{"", Metric, math.NaN()}, {"in", Imperial, math.NaN()}, {"twelve", Metric, math.NaN()}, {"1,000.5", Metric, math.NaN()}, {"3 ft", Imperial, math.NaN()},
		{"1 2 in", Metric, math.NaN()}, {"1e3", Metric, math.NaN()}, {"--1", Metric, math.NaN()}, {"1/0", Imperial, math.NaN()}, {"5-2", Metric, math.NaN()},
	} {
		got, err := ParseLength(c.in, c.of)
		if math.IsNaN(c.want) != (err != nil) || err == nil && float64(got) != c.want {
			t.Errorf("ParseLength(%q, %v) = %v, %v; want %v", c.in, c.of, float64(got), err, c.want)
		}
	}
}

func TestParseCelsius(t *testing.T) {
	for _, c := range []struct {
		in   string
		of   System
		want float64
	}{{"20", Metric, 20}, {"68", Imperial, 20}, {"68 °F", Metric, 20}, {"20°C", Imperial, 20}, {"-40 F", Metric, -40}, {"16,5", Metric, 16.5}, {"32", Imperial, 0},
		{"20 K", Metric, math.NaN()}, {"", Metric, math.NaN()}, {"warm", Imperial, math.NaN()}} {
		got, err := ParseCelsius(c.in, c.of)
		if math.IsNaN(c.want) != (err != nil) || err == nil && float64(got) != c.want {
			t.Errorf("ParseCelsius(%q, %v) = %v, %v; want %v", c.in, c.of, float64(got), err, c.want)
		}
	}
}

// A length that is shown in inches and read again comes back to 0.001 in, and
// from then on does not move.
func TestInchesDoNotDrift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := Millimetre(rapid.Float64Range(-600, 600).Draw(t, "mm"))
		st := Style{Comma: rapid.Bool().Draw(t, "comma")}
		shown := mm.Inches(st)
		once, err := ParseLength(shown, Imperial)
		if err != nil || math.Abs(float64(once-mm)) > 0.0005*MillimetresPerInch+1e-6 {
			t.Fatalf("%v mm is shown as %s and read as %v, %v", float64(mm), shown, float64(once), err)
		}
		if again := once.Inches(st); again != shown {
			t.Fatalf("%s in is shown again as %s", shown, again)
		}
		degrees := Celsius(rapid.Float64Range(-30, 60).Draw(t, "C"))
		told := degrees.Fahrenheit(st)
		if c, err := ParseCelsius(told, Imperial); err != nil || c.Fahrenheit(st) != told {
			t.Fatalf("%s °F is read as %v °C and shown as %s, %v", told, float64(c), c.Fahrenheit(st), err)
		}
	})
}

// FuzzParseLength checks that any text is a finite length or an error, and that
// what was read is read again from what is shown of it.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"12 mm", "15/32 in", "1 3/16″", "1-3/16", "½", "−1", "0,472", "in.", "5.", "9999999999999999999 m"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, inches bool) {
		of := Metric
		if inches {
			of = Imperial
		}
		m, err := ParseLength(s, of)
		if err != nil {
			return
		}
		if math.IsInf(float64(m), 0) || math.IsNaN(float64(m)) {
			t.Fatalf("%q is %v", s, float64(m))
		}
		const readable = 1e6 // mm; a shown figure of more is rounded by the float64
		if math.Abs(float64(m)) > readable {
			return
		}
		if back, err := ParseLength(m.Inches(Style{}), Imperial); err != nil || back.Inches(Style{}) != m.Inches(Style{}) {
			t.Fatalf("%q is shown as %s and that is read as %v, %v", s, m.Inches(Style{}), float64(back), err)
		}
	})
}
