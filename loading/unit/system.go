package unit

import (
	"math"
	"strconv"
	"strings"

	"floatmark/loading/fault"
)

// System says in which units a workshop measures. What is stored and worked out
// is millimetres, grams and degrees Celsius in either.
type System int

// The systems there are: the International System, and inches and degrees
// Fahrenheit. Loads stay grams in both, as marks bear them.
const (
	Metric System = iota
	Imperial
)

// Systems are the names of the systems in files, Metric first.
func Systems() []string { return []string{"metric", "imperial"} }

// String returns the word that settings have for it.
func (s System) String() string { return Systems()[s] }

// SystemByName finds a system by its name; "" is Metric.
func SystemByName(name string) (System, bool) {
	for i, n := range Systems() {
		if n == name {
			return System(i), true
		}
	}
	return Metric, name == ""
}

// CubicMillimetresPerCubicInch is exact by definition: 25.4 cubed.
const CubicMillimetresPerCubicInch = MillimetresPerInch * MillimetresPerInch * MillimetresPerInch

// Fahrenheit and Celsius by definition (NIST SP 811, appendix B: t/°C = (t/°F -
// 32)/1.8; exact).
const (
	fahrenheitAtZero      = 32.0
	fahrenheitsPerCelsius = 1.8
)

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// inchPlaces is how finely inches are written, decimal places: 0.001 in is 0.0254
// mm, what a calliper reads.
const inchPlaces = 3

// storedStep is how finely a length or a temperature that was given in other
// units is kept, mm or °C: a millionth, far below any reading, so that 0.472 in
// is 11.9888 mm and not 11.988799999999999. 1/64 in, 0.396875 mm, is exact in it.
const storedStep = 1e-6

// Inches writes the length in inches, with three places and without its unit:
// "0.472".
func (m Millimetre) Inches(st Style) string {
	return fixed(float64(m)/MillimetresPerInch, inchPlaces, st)
}

// Fahrenheit writes the temperature in degrees Fahrenheit, to a tenth and without
// its unit: "68" for 20 °C.
func (c Celsius) Fahrenheit(st Style) string {
	const step = 0.1
	return Number(float64(c)*fahrenheitsPerCelsius+fahrenheitAtZero, step, st)
}

// Ounces writes the mass in avoirdupois ounces with three figures: "0.0293 oz".
func (g Gram) Ounces(st Style) string {
	const figures = 3
	v := float64(g) / GramsPerOunce
	places := figures
	if v != 0 {
		places = figures - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	}
	return fixed(v, max(0, min(places, 6)), st) + " oz"
}

// fixed writes a number with all of its places.
func fixed(v float64, places int, st Style) string {
	s := strconv.FormatFloat(Round(v, math.Pow10(-places)), 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	if st.Comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// inchNames are what an inch is called where people type one, in the languages
// there are words for.
var inchNames = map[string]bool{"in": true, "inch": true, "inches": true, "\"": true, "″": true, "”": true, "''": true, "′′": true,
	"zoll": true, "po": true, "pouce": true, "pouces": true, "pollice": true, "pollici": true, "cal": true, "cale": true, "cala": true, "cali": true}

// ParseLength reads a length as people type it: "12", "12,5 mm", "0.472",
// "15/32 in", "1 3/16″", "1-3/16", "-1". A unit that is said holds in either
// system; a number alone is of the given one. Point and comma are the decimal
// sign. A minus sign is taken as it stands: whether a length may be negative is
// the caller's affair. What is no length is an Input error without a place.
func ParseLength(s string, of System) (Millimetre, error) {
	example := "12 mm"
	if of == Imperial {
		example = "0.472 in"
	}
	number, name, sign := quantity(s)
	v, ok := Decimal(number)
	if !ok || v < 0 {
		return 0, fault.Inputf("write a number and its unit, as in "+strconv.Quote(example), "%q is not a length", s)
	}
	switch f, metric := lengthUnits[name]; {
	case inchNames[name] || name == "" && of == Imperial:
		v = kept(v * MillimetresPerInch)
	case metric && f != 1:
		v = kept(v * f)
	case metric:
	case name != "":
		return 0, fault.Inputf("use mm or in, as in "+strconv.Quote(example), "%q has an unknown unit %q", s, name)
	}
	if math.IsInf(v, 0) {
		return 0, fault.Inputf("write a number and its unit, as in "+strconv.Quote(example), "%q is not a length", s)
	}
	if v == 0 {
		return 0, nil // not -0
	}
	return Millimetre(sign * v), nil
}

// ParseCelsius reads a temperature as people type it: "20", "20 °C", "68 °F",
// "-0.5". A unit that is said holds in either system; a number alone is of the
// given one. What is no temperature is an Input error without a place.
func ParseCelsius(s string, of System) (Celsius, error) {
	example := "16 °C"
	if of == Imperial {
		example = "61 °F"
	}
	number, name, sign := quantity(s)
	v, ok := Decimal(number)
	if !ok || v < 0 {
		return 0, fault.Inputf("write a number of degrees, as in "+strconv.Quote(example), "%q is not a temperature", s)
	}
	v *= sign
	switch strings.TrimSpace(strings.TrimPrefix(name, "°")) {
	case "f":
		of = Imperial
	case "c":
		of = Metric
	case "":
	default:
		return 0, fault.Inputf("use °C or °F, as in "+strconv.Quote(example), "%q has an unknown unit %q", s, name)
	}
	if of == Imperial {
		v = kept((v - fahrenheitAtZero) / fahrenheitsPerCelsius)
	}
	return Celsius(v), nil
}

// kept rounds what other units came to; numbers too large for it stay.
func kept(v float64) float64 {
	const most = 1e9 // beyond, a millionth is lost in a float64
	if math.Abs(v) > most {
		return v
	}
	if v = Round(v, storedStep); v == 0 {
		return 0 // not -0
	}
	return v
}

// vulgar are the fractions that have a sign of their own.
var vulgar = strings.NewReplacer("¼", " 1/4", "½", " 1/2", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
	"\u00a0", " ", "\u202f", " ", "⁄", "/", "−", "-")

// quantity takes what was typed apart: its number as Decimal reads it, its unit in
// small letters, and its sign.
func quantity(s string) (number, name string, sign float64) {
	t := strings.TrimSpace(vulgar.Replace(s))
	sign = 1
	if rest, minus := strings.CutPrefix(t, "-"); minus {
		t, sign = strings.TrimSpace(rest), -1
	}
	if short, ok := strings.CutSuffix(t, "."); ok && strings.HasSuffix(strings.ToLower(short), "in") { // "in." is written too
		t = short
	}
	cut := strings.LastIndexFunc(t, func(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == ',' }) + 1
	number, name = strings.TrimSpace(t[:cut]), strings.ToLower(strings.TrimSpace(t[cut:]))
	if whole, part, ok := strings.Cut(number, "-"); ok && strings.Contains(part, "/") { // "1-3/16", as carpenters write it
		number = whole + " " + part
	}
	return strings.Join(strings.Fields(number), " "), name, sign
}
