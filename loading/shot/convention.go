// Package shot holds the named conventions of shot sizes and finds the shot
// that makes a load.
//
// Masses are grams in air of the convention's own metal. The package knows no
// floats; what a load means on one is the business of the packages above.
package shot

import (
	"strings"
	"unicode"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Size is one size of shot in a convention.
type Size struct {
	Name string    // as the trade writes it: "AAA", "No.4", "3/0"
	Mass unit.Gram // one shot in air, as printed in the source
	// Printed is the mass as the source or the maker wrote it: "0.055 g", "1/64
	// oz"; "" for a weighed size.
	Printed string
	// Source is the key of the page the mass was read on, see Sources.
	Source string
	// Verified is false for a mass no page could be found for: it is shown with
	// the words of Caution and left out of equivalents unless asked for.
	Verified bool
	// Rounding is how far the mass can lie from the printed one by rounding alone:
	// half of the last printed digit. It is given for sizes of SmallShot and less,
	// where it counts; 0 for the others.
	Rounding unit.Gram
	// Weighed is how a maker came to the mass; its zero value for sizes in print.
	Weighed Weighed
}

// SmallShot is the mass, 0.05 g, from which down a size carries its Rounding: a
// printed 0.01 g leaves 10 % of it open and, at No.13, half of the shot.
const SmallShot unit.Gram = 0.05

// Caution returns the words to show beside a size whose mass was not found in
// print, and nothing for any other size.
func (s Size) Caution() string {
	if s.Verified {
		return ""
	}
	return "unverified: weigh before use"
}

// Label returns the size as it stands behind a count: the name, and "no. 3/0"
// where the name is a bare number that would run into the count. A size printed
// in ounces leads with them, "1/64 oz (BB)": its name means another shot
// elsewhere.
func (s Size) Label() string {
	if s.inOunces() {
		return s.Printed + " (" + s.short() + ")"
	}
	return s.short()
}

func (s Size) inOunces() bool { return strings.HasSuffix(s.Printed, " "+ounce) }

func (s Size) short() string {
	if startsWithDigit(s.Name) && !strings.ContainsFunc(s.Name, unicode.IsLetter) {
		return "no. " + s.Name
	}
	return s.Name
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

// Convention is a named, numbered set of shot sizes of one metal. The same
// names mean other masses in other conventions, so a figure in shot words is
// only good together with its convention and revision.
type Convention struct {
	Key, Name string
	Revision  int // counts up when a table is replaced; old revisions stay as they were printed
	Metal     water.Metal
	Sizes     []Size // heaviest first
	// Unit is "g" or "oz" for a convention that is a plain unit of mass and has no
	// sizes; "" for shot.
	Unit string
}

// MassText writes a mass as the convention does: in ounces to the thousandth
// where its unit is the ounce, in grams to the hundredth otherwise.
func (c Convention) MassText(m unit.Gram, st unit.Style) string {
	if c.Unit == ounce {
		return unit.Number(float64(m)/unit.GramsPerOunce, 0.001, st) + " oz"
	}
	return m.Text(0.01, st)
}

// The units of mass that a convention can be.
const (
	gram  = "g"
	ounce = "oz"
)

// Size returns the size of that name. Case, blanks, dots and the words "no",
// "nr" and "#" before a number do not matter. A size printed in ounces answers
// to its fraction and to its Label too.
func (c Convention) Size(name string) (Size, bool) {
	want := fold(name)
	for _, s := range c.Sizes {
		if want != "" && fold(s.Name) == want {
			return s, true
		}
	}
	for _, s := range c.Sizes {
		if s.inOunces() && want != "" && (fold(s.Printed) == want || fold(s.Label()) == want) {
			return s, true
		}
	}
	return Size{}, false
}

// Check returns an Input error when a convention (a maker's own, say) cannot
// be used: no key, no usable metal, no sizes (of shot; a unit of mass has
// none), a mass outside 0 to 500 g, two sizes of one name, or sizes not listed
// heaviest first.
func (c Convention) Check() error {
	plain := c.Unit == gram || c.Unit == ounce
	if c.Key == "" || plain != (len(c.Sizes) == 0) {
		return fault.Inputf("give the convention a key and at least one size", "shot convention %q is empty", c.Key)
	}
	if err := c.Metal.Check(); err != nil {
		return fault.At("shot convention "+c.Key, err)
	}
	seen := map[string]bool{}
	for i, s := range c.Sizes {
		n := fold(s.Name)
		switch {
		case n == "":
			return fault.Inputf("name every size", "shot convention %s has a size without a name", c.Key)
		case seen[n]:
			return fault.Inputf("keep one of them", "shot convention %s has two sizes named %s", c.Key, s.Name)
		case !(s.Mass > 0 && s.Mass <= maxLoad):
			return fault.Inputf("give the mass of one shot, as in \"0.4 g\"", "shot convention %s, size %s has no usable mass", c.Key, s.Name)
		case i > 0 && s.Mass > c.Sizes[i-1].Mass:
			return fault.Inputf("list the heaviest size first", "shot convention %s lists %s after the lighter %s", c.Key, s.Name, c.Sizes[i-1].Name)
		}
		seen[n] = true
	}
	return nil
}

// numeros are the signs of "number" that stand before a size; never changed.
var numeros = strings.NewReplacer("N°", "NO", "Nº", "NO", "№", "NO", "#", "NO")

// fold brings a size name to one form: "no. 4", "N°4", "#4" and "No.4" are
// "4"; letters are upper case. A decimal sign between digits stays, as a point:
// "2,5 g" is not "25 g".
func fold(name string) string {
	n := strings.ToUpper(strings.Join(strings.Fields(name), ""))
	n = numeros.Replace(n)
	n = dots(n)
	for _, p := range []string{"NO", "NR", "N"} {
		if rest, ok := strings.CutPrefix(n, p); ok && startsWithDigit(rest) {
			return rest
		}
	}
	return n
}

// dots takes out every point but those between digits.
func dots(s string) string {
	if !strings.ContainsAny(s, ".,") {
		return s
	}
	digit := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	var b strings.Builder
	for i := range len(s) {
		switch between := digit(i-1) && digit(i+1); {
		case s[i] == '.' && !between:
		case s[i] == ',' && between:
			b.WriteByte('.')
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String()
}
