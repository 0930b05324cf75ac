// Package unit holds the quantities the rest of the project is written in:
// grams and millimetres, how they are read and how they are printed, and inches,
// ounces and degrees Fahrenheit for those who measure in them.
//
// A quantity is rounded once, when it is printed. Nothing else formats one.
package unit

import (
	"math"
	"strconv"
	"strings"

	"floatmark/loading/fault"
)

// Gram is a mass, or the pull of a mass, in grams.
type Gram float64

// Millimetre is a length in millimetres.
type Millimetre float64

// GramsPerOunce is the avoirdupois ounce: 1/16 of the pound of 0.45359237 kg
// (International Yard and Pound agreement, 1959; exact).
const GramsPerOunce = 28.349523125

// MillimetresPerInch is exact (same agreement).
const MillimetresPerInch = 25.4

// Style says how numbers are written for a reader.
type Style struct {
	Comma bool // decimal comma in place of the point
}

// Number returns v with as many decimals as step needs, trailing zeros dropped:
// Number(0.80, 0.05) is "0.8". A step of 0 keeps three decimals.
func Number(v, step float64, st Style) string {
	d := decimals(step)
	s := strconv.FormatFloat(Round(v, step), 'f', d, 64)
	if d > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	if st.Comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

func decimals(step float64) int {
	if step <= 0 {
		return 3
	}
	for d := 0; d < 6; d++ {
		p := step * math.Pow10(d)
		if math.Abs(p-math.Round(p)) < 1e-6 {
			return d
		}
	}
	return 6
}

// Round returns v rounded to the nearest multiple of step, halves away from
// zero; v itself when step is 0 or less. The result is the float64 nearest to
// the decimal number, so that figures add up as printed.
func Round(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	// The small nudge lets 0.125 counted as 0.12499999999 round as written.
	n := math.Round(v/step + math.Copysign(1e-9, v))
	p := math.Pow10(decimals(step))
	return math.Round(n*step*p) / p
}

// Step125 returns the smallest number of the series 1, 2, 5 times a power of
// ten that is at least min: Step125(0.03) is 0.05. A min of 0 or less gives 0.
func Step125(min float64) float64 {
	if min <= 0 {
		return 0
	}
	e := int(math.Floor(math.Log10(min))) - 1
	for ; ; e++ {
		for _, m := range [...]float64{1, 2, 5} {
			v := m * math.Pow10(e)
			if e < 0 {
				v = m / math.Pow10(-e) // the float64 nearest to the decimal
			}
			if v >= min*(1-1e-9) {
				return v
			}
		}
	}
}

// Text returns the mass with its unit, "0.85 g".
func (g Gram) Text(step Gram, st Style) string {
	return Number(float64(g), float64(step), st) + " g"
}

// Text returns the length with its unit, "16 mm", rounded to step.
func (m Millimetre) Text(step Millimetre, st Style) string {
	return Number(float64(m), float64(step), st) + " mm"
}

// MarshalJSON writes the mass to the microgram: the last binary digits of a sum
// are no information and differ between ways of adding.
func (g Gram) MarshalJSON() ([]byte, error) {
	const steps = 1e6
	v := math.Round(float64(g)*steps) / steps
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fault.New(fault.Ours, "", "a mass is no number", "")
	}
	if v == 0 {
		v = 0 // not -0
	}
	return strconv.AppendFloat(nil, v, 'f', -1, 64), nil
}

var (
	massUnits = map[string]float64{"g": 1, "gr": 1, "gram": 1, "grams": 1, "mg": 0.001, "kg": 1000,
		"oz": GramsPerOunce, "ounce": GramsPerOunce, "ounces": GramsPerOunce}
	lengthUnits = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": MillimetresPerInch, "inch": MillimetresPerInch}
)

// ParseGram reads a mass with its unit as people write it: "2.43g", "2,43 g",
// "1/8oz", "1 1/2 oz". A comma or a point is the decimal sign, never a
// thousands mark. A missing unit, a negative or a senseless number is an Input
// error without a place.
func ParseGram(s string) (Gram, error) {
	v, err := parse(s, massUnits, "a mass", "g", "0.83 g")
	return Gram(v), err
}

// ParseMillimetre reads a length with its unit: "16 mm", "1,6 cm", "5/8 in".
func ParseMillimetre(s string) (Millimetre, error) {
	v, err := parse(s, lengthUnits, "a length", "mm", "16 mm")
	return Millimetre(v), err
}

func parse(s string, units map[string]float64, what, unit, example string) (float64, error) {
	t := strings.TrimSpace(strings.ReplaceAll(s, "\u00a0", " "))
	if t == "" {
		return 0, fault.Inputf("write it with its unit, as in "+strconv.Quote(example), "%s is empty", what)
	}
	cut := strings.LastIndexFunc(t, func(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == ',' }) + 1
	number, name := strings.TrimSpace(t[:cut]), strings.ToLower(strings.TrimSpace(t[cut:]))
	v, ok := Decimal(number)
	if !ok {
		return 0, fault.Inputf("write a number and its unit, as in "+strconv.Quote(example), "%q is not %s", s, what)
	}
	if name == "" {
		return 0, fault.Inputf("write "+strconv.Quote(number+" "+unit), "%q has no unit", s)
	}
	f, ok := units[name]
	if !ok {
		return 0, fault.Inputf("use "+unit+", as in "+strconv.Quote(example), "%q has an unknown unit %q", s, name)
	}
	if v < 0 {
		return 0, fault.Inputf("write it without the minus sign", "%q is negative", s)
	}
	return v * f, nil
}

// Decimal reads a plain number with a point or a comma, a fraction "1/8" or a
// mixed number "1 1/2". It reports false for anything else, also for infinite
// values and for numbers with two decimal signs.
func Decimal(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if whole, rest, ok := strings.Cut(s, " "); ok {
		w, ok1 := plain(whole)
		f, ok2 := fraction(strings.TrimSpace(rest))
		return w + f, ok1 && ok2 && w >= 0 && w == math.Trunc(w) && f < 1
	}
	if strings.Contains(s, "/") {
		return fraction(s)
	}
	return plain(s)
}

func fraction(s string) (float64, bool) {
	a, b, ok := strings.Cut(s, "/")
	if !ok {
		return 0, false
	}
	n, ok1 := plain(strings.TrimSpace(a))
	d, ok2 := plain(strings.TrimSpace(b))
	if !ok1 || !ok2 || d == 0 {
		return 0, false
	}
	return n / d, true
}

func plain(s string) (float64, bool) {
	if s == "" || strings.ContainsAny(s, "eExXpP_nN+") || strings.Count(s, ",")+strings.Count(s, ".") > 1 {
		return 0, false
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, false
	}
	return v, true
}
