package words

import (
	"strings"

	"github.com/bojanz/currency"

	"floatmark/loading/fault"
)

// Price writes an amount of money as a reader of the language in Region expects
// it, by Unicode's CLDR: "£6.50", "6,50 €", "27,00 zł". The amount is a plain
// decimal number, the currency its ISO 4217 code. Anything else is an Input
// error.
func (w Words) Price(amount, code string) (string, error) {
	a, err := currency.NewAmount(strings.Replace(amount, ",", ".", 1), code)
	if err != nil || a.IsNegative() {
		return "", fault.Inputf(`write the price as a number, as in "6.50", and the currency as three letters, as in "GBP"`,
			"%q %q is no price", amount, code)
	}
	text := currency.NewFormatter(currency.NewLocale(w.Language + "-" + w.Region)).Format(a)
	// Narrow blanks between thousands are in few faces; the plain one that does
	// not break is in all.
	return strings.ReplaceAll(text, "\u202f", "\u00a0"), nil
}
