package words

import "strings"

// Card is what a sales card says beside the words of its mark, its figures and
// the page, in one language.
type Card struct {
	Language string // BCP 47
	Hook     string // at the foot of the shotting picture
	Stop     string // of a sliding float
	Set      string // how many floats are on one card
	Own      string // the language in itself
}

// Cards lists the languages of cards, English first.
func Cards() []Card {
	return []Card{
		{Language: "en", Hook: "hook", Stop: "stop", Set: "set of %s", Own: "English"},
		{Language: "de", Hook: "Haken", Stop: "Stopper", Set: "Satz zu %s", Own: "Deutsch"},
		{Language: "fr", Hook: "hameçon", Stop: "stop", Set: "lot de %s", Own: "Français"},
		{Language: "it", Hook: "amo", Stop: "stopper", Set: "serie da %s", Own: "Italiano"},
		{Language: "pl", Hook: "haczyk", Stop: "stoper", Set: "zestaw: %s", Own: "Polski"},
	}
}

// CardFor returns the phrases of a card in a language by its BCP 47 tag, English
// where there are none.
func CardFor(tag string) Card {
	base, _, _ := strings.Cut(strings.ToLower(tag), "-")
	all := Cards()
	for _, c := range all {
		if c.Language == base {
			return c
		}
	}
	return all[0]
}
