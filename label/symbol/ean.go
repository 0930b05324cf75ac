package symbol

import (
	"strings"

	"floatmark/loading/fault"

	"github.com/boombuler/barcode/ean"
)

// EANModules is how many modules an EAN-13 is wide, guard bars included and
// quiet zones not: 3 + 6·7 + 5 + 6·7 + 3.
const EANModules = 95

// Bars is an EAN-13 symbol: modules from the left, bars dark. Text is its
// thirteen digits, as they stand under the bars.
type Bars struct {
	Text string
	dark [EANModules]bool
}

// Dark reports whether the module at place i from the left is part of a bar.
// Every place outside the symbol is pale.
func (b Bars) Dark(i int) bool { return i >= 0 && i < EANModules && b.dark[i] }

// Guard reports whether the module belongs to one of the three guard patterns,
// whose bars reach below the others: the first and last three modules and the
// five in the middle.
func (b Bars) Guard(i int) bool {
	const side, left, middle = 3, 3 + 42, 5
	return i >= 0 && i < side || i >= left && i < left+middle || i >= EANModules-side && i < EANModules
}

// EANCheck returns the check digit of the first twelve digits of a number, by
// the modulo-10 sum of the GS1 General Specifications: from the right, every
// second digit is counted three times, and the check digit makes the sum a whole
// ten. Anything but twelve digits is an Input error.
func EANCheck(twelve string) (byte, error) {
	if len(twelve) != 12 || !digits(twelve) {
		return 0, fault.Inputf("give the number without its last digit", "%q is not twelve digits", twelve)
	}
	sum := 0
	for i := range 12 {
		weight := 1
		if i%2 == 1 {
			weight = 3
		}
		sum += weight * int(twelve[i]-'0')
	}
	return byte('0' + (10-sum%10)%10), nil
}

// EAN13 returns the symbol of a trade item number of thirteen digits; blanks
// and hyphens between them are left out. What is no such number, and one whose
// last digit does not agree with the others, is an Input error that names the
// right digit. The number must be one that its maker was given by GS1: that is
// not looked up.
func EAN13(number string) (Bars, error) {
	text := strings.NewReplacer(" ", "", "-", "").Replace(number)
	if len(text) != 13 || !digits(text) {
		return Bars{}, fault.Inputf("write its thirteen digits, as they stand under the bars", "%q is no EAN-13", number)
	}
	check, err := EANCheck(text[:12])
	if err != nil {
		return Bars{}, err
	}
	if text[12] != check {
		return Bars{}, fault.Inputf("compare all thirteen digits with the number you were given: a digit is wrong, or two are swapped",
			"the EAN-13 %q has a wrong digit: after %s the last one is %c", number, text[:12], check)
	}
	code, err := ean.Encode(text)
	if err != nil || code.Bounds().Dx() != EANModules {
		return Bars{}, fault.New(fault.Ours, "", "the EAN-13 "+text+" could not be made", "", err)
	}
	b := Bars{Text: text}
	for i := range b.dark {
		r, _, _, _ := code.At(i, 0).RGBA()
		b.dark[i] = r < 0x8000
	}
	return b, nil
}

func digits(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
}
