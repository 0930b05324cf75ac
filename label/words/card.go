package words

import "strings"

// Card is what a sales card says beside the words of its mark, its figures and
// the page, in one language. Phrases with a %s take what stands in their comment.
type Card struct {
	Language string // BCP 47
	Hook     string // at the foot of the shotting picture
	Stop     string // of a sliding float
	Overhang string // length: how far the float stands out below its card
	Set      string // how many floats are on one card
	FoldBack string // beside a fold mark
	Own      string // the language in itself
}

// Cards lists the languages of cards, English first.
func Cards() []Card {
	return []Card{
		{Language: "en", Hook: "hook", Stop: "stop", Overhang: "stands out %s below the card", Set: "set of %s", FoldBack: "fold back", Own: "English"},
		{Language: "de", Hook: "Haken", Stop: "Stopper", Overhang: "steht unten %s über", Set: "Satz zu %s", FoldBack: "nach hinten falten", Own: "Deutsch"},
		{Language: "fr", Hook: "hameçon", Stop: "stop", Overhang: "dépasse de %s en bas", Set: "lot de %s", FoldBack: "plier vers l’arrière", Own: "Français"},
		{Language: "it", Hook: "amo", Stop: "stopper", Overhang: "sporge di %s in basso", Set: "serie da %s", FoldBack: "piega all’indietro", Own: "Italiano"},
		{Language: "pl", Hook: "haczyk", Stop: "stoper", Overhang: "wystaje %s poniżej karty", Set: "zestaw: %s", FoldBack: "zagiąć do tyłu", Own: "Polski"},
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
