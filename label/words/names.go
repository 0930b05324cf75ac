package words

import "strings"

// stuffs are what the built-in stocks are made of, as their names begin.
func stuffs() [9]string {
	return [...]string{"white waterslide film", "clear waterslide film", "tissue under varnish", "clear rub-on film", "clear skin-transfer film",
		"white self-adhesive vinyl", "white self-adhesive paper", "white card of 300 g/m²", "plain paper of 80 g/m²"}
}

// How a line is fixed, as a batch file has it.
const bottomEnd, topAndBottom, sliding = "bottom end", "top and bottom", "sliding"

// names gathers what the built-in tables call metals, conventions, stuffs and ways
// to fix the line, in English -> in the language of a page, whose stuffs are given in order.
func names(p Page, own [9]string) map[string]string {
	english, all := pageEnglish(), map[string]string{}
	for key, name := range english.Metals {
		all[name] = p.Metals[key]
	}
	for key, name := range english.Conventions {
		all[name] = p.Conventions[key]
	}
	for i, name := range stuffs() {
		all[name] = own[i]
	}
	if p.Language == english.Language {
		p.FixedBottom, p.FixedBoth, p.FixedSliding = bottomEnd, topAndBottom, sliding
	}
	all[bottomEnd], all[topAndBottom], all[sliding] = p.FixedBottom, p.FixedBoth, p.FixedSliding
	return all
}

// Name returns what a metal, a convention, a stock of the built-in tables or a way
// to fix the line is called, and a maker's own names as they are: "plain paper of 80 g/m², A4" is
// "Normalpapier 80 g/m², A4".
func (w Words) Name(english string) string {
	if n, ok := w.Names[english]; ok {
		return n
	}
	if i := strings.LastIndex(english, ", "); i >= 0 { // a name may have commas of its own
		if n, ok := w.Names[english[:i]]; ok {
			last := english[i+2:]
			if m, ok := w.Names[last]; ok {
				last = m
			}
			return n + ", " + last
		}
	}
	return english
}
