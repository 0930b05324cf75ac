package words

import (
	"regexp"
	"strconv"
	"strings"

	"floatmark/loading/unit"
)

// Measures say how lengths, temperatures and loads are written for a reader and
// read from him: in the workshop's units, with the decimal sign of his language.
// What they give back is millimetres and degrees Celsius in either system, so
// that nothing else needs to know of the other.
type Measures struct {
	Units  unit.System
	Number unit.Style
	inch   string // what an inch is called behind a figure
}

// MeasuresFor returns the measures of a reader; a language without words is
// English.
func MeasuresFor(language string, of unit.System) Measures {
	m := Measures{Units: of, inch: "in"}
	if w, err := For(language); err == nil {
		m.Number = w.Number
		m.inch = map[string]string{"de": "Zoll", "fr": "po", "pl": "cala"}[w.Language]
		if m.inch == "" {
			m.inch = "in"
		}
	}
	return m
}

// Imperial reports whether lengths are in inches.
func (m Measures) Imperial() bool { return m.Units == unit.Imperial }

// Length writes a length with its unit: in millimetres rounded to step, or in
// inches with three places, "0.472 in".
func (m Measures) Length(v, step unit.Millimetre) string {
	if m.Imperial() {
		return v.Inches(m.Number) + " " + m.inch
	}
	return v.Text(step, m.Number)
}

// LengthSign is the unit of a length that stands alone, "mm" or "in".
func (m Measures) LengthSign() string {
	if m.Imperial() {
		return m.inch
	}
	return "mm"
}

// Bare writes a length without its unit, as it stands in a field that names its
// unit beside it; in millimetres every digit that is kept.
func (m Measures) Bare(v unit.Millimetre) string {
	if m.Imperial() {
		return v.Inches(m.Number)
	}
	return m.Plain(float64(v))
}

// Plain writes a number with all of its digits.
func (m Measures) Plain(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if m.Number.Comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// Volume writes a volume in cubic centimetres to a hundredth, or in cubic inches
// to a thousandth, which is 0.016 cm³.
func (m Measures) Volume(cubicMillimetres float64) string {
	if m.Imperial() {
		return unit.Number(cubicMillimetres/unit.CubicMillimetresPerCubicInch, 0.001, m.Number) + " " + m.inch + "³"
	}
	return unit.Number(cubicMillimetres/1000, 0.01, m.Number) + " cm³"
}

// Degrees writes a temperature without its unit, as it stands in a field; in
// degrees Celsius every digit that is kept.
func (m Measures) Degrees(c unit.Celsius) string {
	if m.Imperial() {
		return c.Fahrenheit(m.Number)
	}
	return m.Plain(float64(c))
}

// DegreesSign is the unit of a temperature, "°C" or "°F".
func (m Measures) DegreesSign() string {
	if m.Imperial() {
		return "°F"
	}
	return "°C"
}

// Load writes a load rounded to step, as marks bear it; for who measures in
// inches with its ounces behind, "0.85 g (0.0300 oz)".
func (m Measures) Load(g, step unit.Gram) string {
	return m.Beside(g.Text(step, m.Number), g)
}

// Beside writes a load that was written already, for who measures in inches with
// its ounces behind.
func (m Measures) Beside(text string, g unit.Gram) string {
	if !m.Imperial() {
		return text
	}
	return text + " (" + g.Ounces(m.Number) + ")"
}

// ReadLength reads a length that was typed: a number alone is in the reader's
// units, a unit that is said holds. What is none is an Input error without a
// place.
func (m Measures) ReadLength(text string) (unit.Millimetre, error) {
	return unit.ParseLength(text, m.Units)
}

// ReadDegrees reads a temperature that was typed, likewise.
func (m Measures) ReadDegrees(text string) (unit.Celsius, error) {
	return unit.ParseCelsius(text, m.Units)
}

var (
	// Millimetres, and a number before them that is of the same unit: "28 to 53 mm".
	toldMillimetres = regexp.MustCompile(`(^|[^\pL\pN.,])(?:(\d+(?:[.,]\d+)?)( ?[–×x] ?| (?:to|bis|à|a|do) ))?(\d+(?:[.,]\d+)?)[ \x{a0}]?mm([\pL\pN]?)`)
	toldPoint       = regexp.MustCompile(`(^|[^\pL\pN.,])(\d+)\.(\d+)([ \x{a0}](?:mm|cm|g|oz|cm³|%|°C)(?:[^\pL\pN]|$))`)
	toldInches      = regexp.MustCompile(`(^|[^\pL\pN.,/])((?:\d+[ -])?\d+/\d+|\d+(?:[.,]\d+)?)[ \x{a0}]?(?i:inches|inch|in|zoll|po|cala|″|")(\pL|)`)
)

// Told turns the quantities of a finished text, "it begins at 12.3 mm", into the
// reader's units and decimal sign: "it begins at 0.484 in". Numbers without a unit
// stay as they are, and so does what is quoted.
func (m Measures) Told(text string) string {
	var b strings.Builder
	at := 0
	for _, q := range quoted.FindAllStringIndex(text, -1) { // names and what was typed
		b.WriteString(m.told(text[at:q[0]]))
		b.WriteString(text[q[0]:q[1]])
		at = q[1]
	}
	b.WriteString(m.told(text[at:]))
	return b.String()
}

// quoted is what stands in quotation marks, in any of the languages.
var quoted = regexp.MustCompile(`"[^"]*"|“[^”]*”|„[^“”]*[“”]|«[^»]*»`)

func (m Measures) told(text string) string {
	if m.Imperial() {
		text = toldMillimetres.ReplaceAllStringFunc(text, func(one string) string {
			p := toldMillimetres.FindStringSubmatch(one)
			v, err := unit.ParseLength(p[4], unit.Metric)
			if err != nil || p[5] != "" { // of another unit that begins so, or of none
				return one
			}
			if p[2] != "" {
				first, err := unit.ParseLength(p[2], unit.Metric)
				if err != nil {
					return one
				}
				p[1] += m.Bare(first) + p[3]
			}
			return p[1] + m.Length(v, 0)
		})
	}
	if m.Number.Comma {
		text = toldPoint.ReplaceAllString(text, "$1$2,$3$4")
	}
	return text
}

// Kept is the way back from Told for a text that is stored where it was so: inches
// in it become millimetres, with a point, those that nobody changed the very ones
// that stood there.
func (m Measures) Kept(text, was string) string {
	stood := map[string]string{}
	for _, p := range toldMillimetres.FindAllStringSubmatch(was, -1) {
		if v, err := unit.ParseLength(p[4], unit.Metric); err == nil {
			stood[m.Length(v, 0)] = p[4] + " mm"
		}
	}
	return toldInches.ReplaceAllStringFunc(text, func(one string) string {
		p := toldInches.FindStringSubmatch(one)
		v, err := unit.ParseLength(p[2], unit.Imperial)
		if err != nil || p[3] != "" { // a word that begins so
			return one
		}
		if mm, ok := stood[strings.TrimPrefix(one, p[1])]; ok {
			return p[1] + mm
		}
		return p[1] + strconv.FormatFloat(float64(v), 'f', -1, 64) + " mm"
	})
}
