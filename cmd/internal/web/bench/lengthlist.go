package bench

import (
	"slices"
	"strconv"
	"strings"

	"floatmark/label/words"
)

// sidesShown writes lengths beside one another, "99 × 210".
func sidesShown(m words.Measures, list any) string {
	all, _ := list.([]any)
	var parts []string
	for _, v := range all {
		parts = append(parts, aLength.shown(m, v))
	}
	return strings.Join(parts, " × ")
}

// sidesTyped reads what sidesShown writes, also with blanks alone between them.
func sidesTyped(m words.Measures, text string, old any) any {
	sides := strings.FieldsFunc(text, func(r rune) bool { return r == '×' || r == 'x' || r == ';' })
	if len(sides) == 1 {
		sides = lengthsOf(text)
	}
	var all []any
	for _, one := range sides {
		all = append(all, aLength.whole(m, one, item(old, len(all))))
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// pairsShown writes a list of heights and what was measured there: "30 16.1; 54
// 13.5".
func pairsShown(m words.Measures, list any) string {
	all, _ := list.([]any)
	var parts []string
	for _, one := range all {
		pair, ok := one.([]any)
		if !ok {
			pair = []any{one}
		}
		var cells []string
		for _, v := range pair {
			cells = append(cells, aLength.shown(m, v))
		}
		parts = append(parts, strings.Join(cells, " "))
	}
	return strings.Join(parts, "; ")
}

// pairsTyped reads what pairsShown writes: pairs apart by semicolons or lines.
// What is no length stays text, and reading the batch tells it.
func pairsTyped(m words.Measures, text string, old any) any {
	var all []any
	for one := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		var pair []any
		for i, w := range lengthsOf(one) {
			pair = append(pair, aLength.whole(m, w, item(item(old, len(all)), i)))
		}
		if len(pair) > 0 {
			all = append(all, pair)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// lengthsOf takes apart lengths that stand one after another, a blank between
// them. A unit goes with the figure before it, and so does a fraction with a whole
// number, as long as two lengths are left.
func lengthsOf(text string) []string {
	var all []string
	for _, w := range strings.Fields(text) {
		if n := len(all); n > 0 && !strings.ContainsAny(w, "0123456789"+fractions) {
			all[n-1] += " " + w
			continue
		}
		all = append(all, w)
	}
	joined := func(i int) bool { // a whole number and the fraction behind it are one
		if i+1 >= len(all) {
			return false
		}
		_, err := strconv.Atoi(all[i])
		return err == nil && strings.ContainsAny(all[i+1], fractions)
	}
	for i := 0; i < len(all) && len(all) > 2; i++ {
		if joined(i) {
			all[i] += " " + all[i+1]
			all = slices.Delete(all, i+1, i+2)
		}
	}
	return all
}

// fractions are the signs that a fraction of an inch is typed with.
const fractions = "/⁄¼½¾⅛⅜⅝⅞"
