package stock

import (
	"math"
	"strings"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// believable returns an Input fault for readings of the ruler that no printer
// makes, named as on the sheet: x, y, d1, d2. u is the standard uncertainty of
// one length.
func (r Readings) believable(u float64) error {
	if !(r.Nominal.W > 0 && r.Nominal.H > 0) {
		return fault.New(fault.Ours, "", "a rectangle of no size was measured", "")
	}
	diagonal := math.Hypot(r.Nominal.W, r.Nominal.H)
	all := []reading{{"x", r.Sides.W, r.Nominal.W}, {"y", r.Sides.H, r.Nominal.H}, {"d1", r.Falling, diagonal}, {"d2", r.Rising, diagonal}}
	var missing []string
	for _, one := range all {
		if one.value == 0 {
			missing = append(missing, one.name)
		}
	}
	if len(missing) > 0 {
		return fault.New(fault.Input, strings.Join(missing, ", "), "the reading is missing",
			"measure all four lengths of the ruler: both sides x and y, both diagonals d1 and d2")
	}
	for _, one := range all {
		if err := one.believable(all); err != nil {
			return err
		}
	}
	return r.closes(u)
}

// reading is one length, what it is called on the sheet and what it should be.
type reading struct {
	name           string
	value, nominal float64
}

func (one reading) believable(all []reading) error {
	near := func(v, want float64) bool { return math.Abs(v/want-1) <= maxScaleError }
	refuse := func(do string) error {
		return fault.New(fault.Input, one.name, "it cannot be "+mm(one.value, 0.001)+": it should be about "+mm(one.nominal, 0.1), do)
	}
	if near(one.value, one.nominal) {
		return nil
	}
	for _, slip := range [...]struct {
		factor float64
		do     string
	}{
		{-1, "write it without the minus sign"},
		{0.1, "these look like centimetres: write millimetres, or the unit, as in 18.1cm"},
		{1 / unit.MillimetresPerInch, "these look like inches: write millimetres, or the unit, as in 7.1in"},
		{10, "the decimal point has slipped: write millimetres"},
		{100, "the decimal point has slipped: write millimetres"},
	} {
		if near(one.value, one.nominal*slip.factor) {
			return refuse(slip.do)
		}
	}
	for _, other := range all {
		if other.nominal != one.nominal && near(one.value, other.nominal) {
			return refuse("that is nearly " + other.name + ": look which is which on the sheet")
		}
	}
	return refuse("print the sheet at actual size (100 %), not fitted to the page, name its paper, and measure again")
}

// closes checks sides against diagonals: in a parallelogram the squares of both
// diagonals are those of all four sides.
func (r Readings) closes(u float64) error {
	gap := Closing(r.Sides, r.Falling, r.Rising)
	// The mean of the diagonals is known to u/√2, what the sides make of it to u.
	const beyond = 4 // standard uncertainties: of honest readings none in ten thousand
	if most := beyond * u * math.Sqrt(1.5); !(math.Abs(gap) <= most) {
		return fault.New(fault.Input, "x, y, d1, d2", "the readings do not go together: by the sides, the diagonals are "+mm(math.Abs(gap), 0.01)+" too "+longer(gap),
			"measure all four again, each from the middle of one line to the middle of the other")
	}
	return nil
}

func longer(gap float64) string {
	if gap > 0 {
		return "long"
	}
	return "short"
}

// Closing returns by how much the diagonals of a rectangle, as measured, are
// longer than its sides let them be, mm: how well it was measured.
func Closing(sides geom.Size, falling, rising float64) float64 {
	return math.Sqrt((falling*falling+rising*rising)/2) - math.Hypot(sides.W, sides.H)
}
