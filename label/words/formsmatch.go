package words

import "strings"

// match returns what fills the places of a form in a text that has its form: as
// little as can be in each, but no half of a quotation and no figure without its
// unit.
func (f *form) match(text string) ([]string, bool) {
	first, last := f.fixed[0], f.fixed[len(f.fixed)-1]
	if len(text) < len(first)+len(last) || !strings.HasPrefix(text, first) || !strings.HasSuffix(text, last) {
		return nil, false
	}
	rest := text[len(first) : len(text)-len(last)]
	if len(f.fixed) == 2 && first != "" && first[0] == '[' && last == "" && strings.Contains(rest, " ") {
		return nil, false // "[maker] name" is a key in its table, "[maker] name is missing" is a sentence about it
	}
	between := f.fixed[1 : len(f.fixed)-1]
	at := rest
	for _, part := range between { // most texts fall here
		i := strings.Index(at, part)
		if i < 0 {
			return nil, false
		}
		at = at[i+len(part):]
	}
	fills := make([]string, 0, len(between)+1)
	tries := mostTries
	if got, ok := parted(rest, between, fills, &tries); ok {
		return got, true
	}
	for _, part := range between { // quotations that do not end
		before, after, _ := strings.Cut(rest, part)
		fills, rest = append(fills, before), after
	}
	return append(fills, rest), true
}

// mostTries bounds the search for a good parting of a text.
const mostTries = 64

func parted(rest string, between, fills []string, tries *int) ([]string, bool) {
	if *tries--; *tries < 0 {
		return nil, false
	}
	if len(between) == 0 {
		return append(fills, rest), quotesEnd(rest)
	}
	part := between[0]
	for from := 0; from <= len(rest); {
		i := strings.Index(rest[from:], part)
		if i < 0 {
			return nil, false
		}
		i += from
		from = i + 1
		if !quotesEnd(rest[:i]) || part == " " && beforeUnit(rest[:i], rest[i+1:]) {
			continue
		}
		if got, ok := parted(rest[i+len(part):], between[1:], append(fills, rest[:i]), tries); ok {
			return got, true
		}
	}
	return nil, false
}

// quotesEnd reports whether every quotation that begins in s ends in it.
func quotesEnd(s string) bool {
	in := false
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case '"':
			in = !in
		}
	}
	return !in
}

// units follow a figure after a blank.
var units = map[string]bool{"mm": true, "cm": true, "g": true, "mg": true, "kg": true, "oz": true, "in": true, "°C": true, "°F": true, "%": true,
	"dpi": true, "kB": true, "MB": true, "mm²": true, "cm³": true, "g/cm³": true, "g/cm3": true, "degrees": true}

// beforeUnit reports whether a figure ends where its unit begins.
func beforeUnit(before, after string) bool {
	if before == "" || before[len(before)-1] < '0' || before[len(before)-1] > '9' {
		return false
	}
	word, _, _ := strings.Cut(after, " ")
	return units[strings.TrimRight(word, ",;:.)")]
}
