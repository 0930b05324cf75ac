package bench

import (
	"fmt"
	"html/template"
	"net/http"
	"regexp"
	"strings"

	"floatmark/label/words"
	"floatmark/loading/unit"
)

// unitsField is the field of a form that says in which units it was shown, so that
// it is read in them even when the workshop's were changed meanwhile.
const unitsField = "units"

// measures are how the request's reader is shown quantities and types them.
func (s *server) measures(r *http.Request) words.Measures {
	of := s.shop().Units()
	files := strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/")
	if files && r.MultipartForm == nil { // a form that was not read yet, or is too large to be
		return words.MeasuresFor(s.language(r), of)
	}
	if name := r.FormValue(unitsField); name != "" {
		if said, ok := unit.SystemByName(name); ok {
			of = said
		}
	}
	return words.MeasuresFor(s.language(r), of)
}

// ofUnit is where a text would be broken between a number and its unit.
var ofUnit = regexp.MustCompile(`(\d) (mm|in|g|oz|%)(\PL|$)`)

// joined keeps numbers on the line of their units.
func joined(text string) string { return ofUnit.ReplaceAllString(text, "$1\u00a0$2$3") }

// inWords are what templates write measures with: "length" of a value and how
// finely, "tell" of a message of the program and "tellMetric" where its lengths are
// read off a printed scale, "named" of a name of the built-in tables, "lengthSign" and "degreesSign" for labels.
func inWords(language string, m words.Measures) template.FuncMap {
	metric, tell := words.Measures{Number: m.Number}, words.Told(language)
	return template.FuncMap{
		"units": m.Units.String, "named": words.Named(language), "lengthSign": m.LengthSign, "degreesSign": m.DegreesSign, "tell": func(text string) string { return m.Told(tell(text)) }, "joined": joined, "tellMetric": func(text string) string { return metric.Told(tell(text)) }, "imperial": m.Imperial, "lengthKeys": func() string { return lengthKeys(m) }, "comma": func() bool { return m.Number.Comma },
		"figure": func(text string) string { return figureShown(m, text) },
		"load":   func(text string) string { return loadShown(m, text) }, "ounces": func(text string) string { return ouncesShown(m, text) },
		"length": func(v any, step float64) (string, error) {
			switch v := v.(type) {
			case unit.Millimetre:
				return m.Length(v, unit.Millimetre(step)), nil
			case float64:
				return m.Length(unit.Millimetre(v), unit.Millimetre(step)), nil
			}
			return "", fmt.Errorf("%v is no length", v)
		},
	}
}
