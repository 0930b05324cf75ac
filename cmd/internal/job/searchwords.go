package job

import (
	"strings"
	"unicode"
)

// searchWords cuts a text into the words that are searched for: small letters
// and digits, a decimal comma as a point, and a unit joined to its number, so that
// "4,5 g", "4.5g" and "4.5 G" are one word.
func searchWords(text string) []string {
	r := []rune(strings.ToLower(text))
	var words []string
	var word []rune
	end := func() {
		if len(word) > 0 {
			words = append(words, strings.TrimRight(string(word), "."))
			word = word[:0]
		}
	}
	for i, c := range r {
		digitBefore := i > 0 && unicode.IsDigit(r[i-1])
		digitAfter := i+1 < len(r) && unicode.IsDigit(r[i+1])
		switch {
		case unicode.IsLetter(c) || unicode.IsDigit(c) || unicode.IsMark(c):
			word = append(word, c)
		case (c == '.' || c == ',') && digitBefore && digitAfter:
			word = append(word, '.')
		case (c == ' ' || c == '\u00a0' || c == '\u202f') && digitBefore && unitAt(r[i+1:]):
			// the unit goes on with its number
		default:
			end()
		}
	}
	end()
	return words
}

// unitAt reports whether a unit stands here and no longer word.
func unitAt(r []rune) bool {
	for _, u := range []string{"g", "mg", "mm", "oz"} {
		if n := len(u); len(r) >= n && string(r[:n]) == u && (len(r) == n || !unicode.IsLetter(r[n]) && !unicode.IsDigit(r[n])) {
			return true
		}
	}
	return false
}

// alternatives are the ways a word may be meant: an id is read off a float, so
// that a letter O may be a nought.
func alternatives(word string) []string {
	if folded := strings.ToLower(foldID(word)); folded != word {
		return []string{word, folded}
	}
	return []string{word}
}

// foldID writes what may be an id, or its beginning, with the characters that ids
// are made of (ident.Parse).
func foldID(s string) string {
	return strings.NewReplacer("O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(s))
}
