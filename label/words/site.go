package words

// Site holds what is said on a site of plain files alone, where no server looks an
// id up.
type Site struct {
	Language string // BCP 47, "en"
	// ByHand tells a reader without scripts what to do; it takes an example of an
	// address, "/9KYA3C/".
	ByHand string
}

// SiteFor returns the phrases of a site in a language by its BCP 47 tag, English
// where there are none.
func SiteFor(tag string) Site {
	all := []Site{
		{"en", "Without scripts: write the six characters behind the address of this site, in capitals, as in %s"},
		{"de", "Ohne Skripte: die sechs Zeichen in Großbuchstaben hinter die Adresse dieser Seite schreiben, wie in %s"},
		{"fr", "Sans scripts : écrire les six caractères en majuscules après l’adresse de ce site, comme dans %s"},
		{"it", "Senza script: scrivere i sei caratteri in maiuscolo dopo l’indirizzo di questo sito, come in %s"},
		{"pl", "Bez skryptów: wpisać sześć znaków wielkimi literami za adresem tej strony, jak w %s"},
	}
	language := PageFor(tag).Language
	for _, s := range all {
		if s.Language == language {
			return s
		}
	}
	return all[0]
}
