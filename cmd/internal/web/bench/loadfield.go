package bench

import (
	"strings"

	"floatmark/label/words"
	"floatmark/loading/unit"
)

// loadShown is a load of a file as its field shows it, "0,85 g" where a comma is
// written; counted shot and what is no load as it stands.
func loadShown(m words.Measures, text string) string {
	if _, err := unit.ParseGram(text); err == nil && m.Number.Comma {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// ouncesShown is a load of a file in ounces, for who measures in inches; "" for
// others, and where it is written in ounces itself.
func ouncesShown(m words.Measures, text string) string {
	if g, err := unit.ParseGram(text); err == nil && m.Imperial() && !strings.Contains(text, "oz") {
		return g.Ounces(m.Number)
	}
	return ""
}

// figureShown is a number that a file has as text, such as a price, in the reader's
// decimal sign; what is no number as it stands.
func figureShown(m words.Measures, text string) string {
	if _, ok := unit.Decimal(text); ok && m.Number.Comma {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// pointed is the way back: a number with a point, as files have it.
func pointed(text string) string {
	text = strings.TrimSpace(text)
	if _, ok := unit.Decimal(text); ok {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

// loadTyped is what a file is to have of a load that was typed: a bare number is
// grams, as the pages say.
func loadTyped(m words.Measures, text string, old any) any {
	text = strings.TrimSpace(text)
	if was, ok := old.(string); ok && text != "" && text == loadShown(m, was) {
		return old
	}
	v := grams(text)
	if s, ok := v.(string); ok && strings.Contains(s, ",") {
		if _, err := unit.ParseGram(s); err == nil {
			return strings.Replace(s, ",", ".", 1)
		}
	}
	return v
}
