package water

import (
	"strings"
	"unicode"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// maxMetalName is the longest name a metal can be given, in characters: it
// stands in a row of a card.
const maxMetalName = 24

// ParseMetal reads a metal: a key of Metals ("tin"), or any name with its
// density in g/cm3, as in "putty 9.0", "putty:9,0" or "pewter: 7.3 g/cm3".
// Tungsten putty is far lighter than tungsten and differs by product, so that
// it has to come with its density; a known metal may too, since alloys vary.
// A metal given so has the key "putty:9", which reads back as the same metal.
// Input error for an unknown name without a density, and for a density outside
// 1.5 to 22.7 g/cm3.
func ParseMetal(s string) (Metal, error) {
	if m, ok := MetalByKey(s); ok {
		return m, nil
	}
	name, number := cutDensity(s)
	if number == "" {
		do := "use one of " + keys() + `, or a name and a density in g/cm3, as in "putty:9.0"`
		if strings.EqualFold(name, "putty") {
			do = `write it with the density its maker gives or you measured, in g/cm3, as in "putty:9.0"`
		}
		return Metal{}, fault.Inputf(do, "there is no metal %q", strings.TrimSpace(s))
	}
	if !goodName(name) {
		return Metal{}, fault.Inputf(`write a short name and a density, as in "putty:9.0"`, "%q is no name of a metal", name)
	}
	density, ok := unit.Decimal(number)
	if !ok {
		return Metal{}, fault.Inputf(`write its density in g/cm3, as in "putty:9.0"`, "%q is no density", number)
	}
	name = strings.ToLower(name)
	figure := unit.Number(density, metalDigits, unit.Style{})
	m := Metal{Key: name + ":" + figure, Name: name + " (" + figure + " g/cm³)", Source: "density as given by the user"}
	if err := (Metal{Name: name, Density: density}).Check(); err != nil {
		return Metal{}, err
	}
	m.Density = unit.Round(density, metalDigits)
	// Any lead by name counts as lead: a rule on lead must not be lost by
	// stating an alloy's own density.
	known, ok := MetalByKey(name)
	m.Lead = ok && known.Lead || strings.Contains(name, "lead")
	return m, nil
}

// metalDigits is the last digit of a density that is kept, in g/cm3: finer
// than any putty is known.
const metalDigits = 0.001

// cutDensity cuts "putty: 9.0 g/cm3" into name and number; without a number
// all of it is the name.
func cutDensity(s string) (name, number string) {
	s = strings.TrimSpace(s)
	for _, u := range []string{"g/cm3", "g/cm³", "g/cc", "kg/l"} {
		if n := len(s) - len(u); n > 0 && strings.EqualFold(s[n:], u) {
			s = strings.TrimSpace(s[:n])
			break
		}
	}
	if a, b, ok := strings.Cut(s, ":"); ok {
		return strings.TrimSpace(a), strings.TrimSpace(b)
	}
	i := strings.LastIndexFunc(s, unicode.IsSpace)
	if i < 0 || !strings.ContainsAny(s[i:], "0123456789") && !strings.EqualFold(strings.TrimSpace(s[i:]), "nan") {
		return s, ""
	}
	return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i:])
}

func goodName(s string) bool {
	if s == "" || len([]rune(s)) > maxMetalName {
		return false
	}
	for i, x := range s {
		letter := x >= 'a' && x <= 'z' || x >= 'A' && x <= 'Z'
		if !letter && (i == 0 || x != '-' && x != ' ' && (x < '0' || x > '9')) {
			return false
		}
	}
	return true
}

func keys() string {
	var all []string
	for _, m := range Metals() {
		all = append(all, m.Key)
	}
	return strings.Join(all, ", ")
}
