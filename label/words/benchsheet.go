package words

import "strings"

// BenchSheet are the words of the job sheet's table, map, number strip and cutting
// guide, and of the stickers for boxes and tubes, beside those of Words.
//
// How film is cut is common practice, no source; product data sheets win.
type BenchSheet struct {
	Language string // BCP 47, "en"

	// The table's columns, as short as they can be understood.
	Tank, ToMark, Trim, Ring, Decal, Edge string
	NotTested                             string // in place of a tank result
	TakeOff, FitMore                      string // mass, off or onto the built-in weight
	ReadAnyhow, OnCard                    string // how the code is read; where it is when not on the float
	LiesReady, Jig                        string // in place of a decal's page and field
	PageField                             string // what "1 B3" means, under the table's map

	// Stretch heads a plot of what is asked of the film: pattern and height.
	Stretch string

	// The map of the decal sheets.
	Map, Page, SpentBefore string // Page: number of the page in decals.pdf

	// The number strip for the drying board.
	Strip, StripHow string // length from one number to the next

	// The cutting guide.
	Guide, AtSeam         string
	FreeEdges             string // two lengths: "0.5" and "1 mm"
	AllOnLine, CloseRound string // white film and labels; other media

	// Stickers for boxes and tubes.
	BoxLabels string // the file's title
	Floats    Counted
	Patterns  Counted
}

// BenchSheetFor returns the words in a language by its BCP 47 tag, English where
// there are none.
func BenchSheetFor(tag string) BenchSheet {
	all := []BenchSheet{benchEnglish(), benchGerman(), benchFrench(), benchItalian(), benchPolish()}
	language := PageFor(tag).Language
	for _, b := range all {
		if b.Language == language {
			return b
		}
	}
	return all[0]
}

// Filled puts the texts into a phrase in their order, each for one %s.
func Filled(phrase string, texts ...string) string {
	for _, t := range texts {
		phrase = strings.Replace(phrase, "%s", t, 1)
	}
	return phrase
}

func benchEnglish() BenchSheet {
	return BenchSheet{Language: "en", Stretch: "stretch: %s, %s",
		Tank: "in the tank", ToMark: "to mark", Trim: "trim", Ring: "ground ring", Decal: "decal", Edge: "edge sits at",
		NotTested: "not tested", TakeOff: "take off %s", FitMore: "fit %s more",
		ReadAnyhow: "read anyhow", OnCard: "on the card", LiesReady: "lies ready", Jig: "jig",
		PageField: "decal: page of the decals, then field of its map", Map: "which decal lies where", Page: "page %s", SpentBefore: "grey: spent before",
		Strip: "numbers for the drying board", StripHow: "life size, %s from one number to the next; cut on the lines, tape the strips end to end",
		Guide: "where to cut, life size", AtSeam: "thick line: seam, cut on the line", FreeEdges: "dashes: free edges, cut %s to %s outside the mark",
		AllOnLine: "cut on the line all round: outside the mark the sheet's white would show", CloseRound: "dashes: free edges, cut close round the mark",
		BoxLabels: "labels for boxes and tubes", Floats: Counted{"%s float", "%s floats", "%s floats"}, Patterns: Counted{"%s pattern", "%s patterns", "%s patterns"},
	}
}

func benchGerman() BenchSheet {
	return BenchSheet{Language: "de", Stretch: "Dehnung: %s, %s",
		Tank: "im Becken", ToMark: "Aufdruck", Trim: "Trimmen", Ring: "Grundring", Decal: "Bild", Edge: "Kante sitzt bei",
		NotTested: "nicht geprüft", TakeOff: "%s abnehmen", FitMore: "%s zugeben",
		ReadAnyhow: "lesbar wie gehalten", OnCard: "auf der Karte", LiesReady: "liegt bereit", Jig: "Schablone",
		PageField: "Bild: Seite der Abziehbilder, dann Feld ihres Plans", Map: "welches Bild wo liegt", Page: "Seite %s", SpentBefore: "grau: schon verbraucht",
		Strip: "Nummern für das Trockenbrett", StripHow: "Originalgröße, %s von Nummer zu Nummer; auf den Linien schneiden, Streifen aneinanderkleben",
		Guide: "wo geschnitten wird, Originalgröße", AtSeam: "dicke Linie: Naht, auf der Linie schneiden", FreeEdges: "Striche: freie Kanten, %s bis %s außerhalb schneiden",
		AllOnLine: "rundum auf der Linie schneiden: außerhalb bliebe das Weiß des Bogens sichtbar", CloseRound: "Striche: freie Kanten, knapp am Aufdruck schneiden",
		BoxLabels: "Etiketten für Kästen und Röhren", Floats: Counted{"%s Pose", "%s Posen", "%s Posen"}, Patterns: Counted{"%s Modell", "%s Modelle", "%s Modelle"},
	}
}

func benchFrench() BenchSheet {
	return BenchSheet{Language: "fr", Stretch: "étirement : %s, %s",
		Tank: "en cuve", ToMark: "à marquer", Trim: "réglage", Ring: "anneau de fond", Decal: "décal", Edge: "bord placé à",
		NotTested: "non testé", TakeOff: "ôter %s", FitMore: "ajouter %s",
		ReadAnyhow: "lu à main levée", OnCard: "sur la carte", LiesReady: "déjà prête", Jig: "gabarit",
		PageField: "décal : page des décalcomanies, puis case du plan", Map: "où se trouve chaque décalcomanie", Page: "page %s", SpentBefore: "gris : déjà utilisé",
		Strip: "numéros pour la planche de séchage", StripHow: "grandeur réelle, %s d’un numéro à l’autre ; couper sur les traits, coller les bandes bout à bout",
		Guide: "où couper, grandeur réelle", AtSeam: "trait épais : joint, couper sur le trait", FreeEdges: "tirets : bords libres, couper %s à %s à l’extérieur",
		AllOnLine: "couper sur le trait tout autour : au-delà, le blanc de la feuille se verrait", CloseRound: "tirets : bords libres, couper au ras du marquage",
		BoxLabels: "étiquettes pour boîtes et tubes", Floats: Counted{"%s flotteur", "%s flotteurs", "%s flotteurs"}, Patterns: Counted{"%s modèle", "%s modèles", "%s modèles"},
	}
}

func benchItalian() BenchSheet {
	return BenchSheet{Language: "it", Stretch: "allungamento: %s, %s",
		Tank: "in vasca", ToMark: "da marcare", Trim: "taratura", Ring: "anello di fondo", Decal: "decal", Edge: "bordo a",
		NotTested: "non provato", TakeOff: "togliere %s", FitMore: "aggiungere %s",
		ReadAnyhow: "si legge comunque", OnCard: "sulla scheda", LiesReady: "già pronta", Jig: "sagoma",
		PageField: "decal: pagina delle decalcomanie, poi casella della mappa", Map: "dove si trova ogni decalcomania", Page: "pagina %s", SpentBefore: "grigio: già usato",
		Strip: "numeri per la tavola di asciugatura", StripHow: "a grandezza naturale, %s da un numero all’altro; tagliare sulle linee, unire le strisce con nastro",
		Guide: "dove tagliare, a grandezza naturale", AtSeam: "linea spessa: giunta, tagliare sulla linea", FreeEdges: "tratti: bordi liberi, tagliare da %s a %s all’esterno",
		AllOnLine: "tagliare sulla linea tutto intorno: oltre si vedrebbe il bianco del foglio", CloseRound: "tratti: bordi liberi, tagliare a filo della stampa",
		BoxLabels: "etichette per scatole e tubi", Floats: Counted{"%s galleggiante", "%s galleggianti", "%s galleggianti"}, Patterns: Counted{"%s modello", "%s modelli", "%s modelli"},
	}
}

func benchPolish() BenchSheet {
	return BenchSheet{Language: "pl", Stretch: "rozciągnięcie: %s, %s",
		Tank: "w zbiorniku", ToMark: "do nadruku", Trim: "dowaga", Ring: "pierścień tła", Decal: "kalka", Edge: "krawędź na",
		NotTested: "nie zbadany", TakeOff: "ująć %s", FitMore: "dodać %s",
		ReadAnyhow: "czyta się z ręki", OnCard: "na karcie", LiesReady: "leży gotowa", Jig: "szablon",
		PageField: "kalka: strona kalkomanii, potem pole jej planu", Map: "która kalkomania gdzie leży", Page: "strona %s", SpentBefore: "szare: już zużyte",
		Strip: "numery na deskę do suszenia", StripHow: "w naturalnej wielkości, numer co %s; ciąć po liniach, paski skleić końcami",
		Guide: "gdzie ciąć, w naturalnej wielkości", AtSeam: "gruba linia: szew, ciąć po linii", FreeEdges: "kreski: wolne krawędzie, ciąć od %s do %s na zewnątrz",
		AllOnLine: "ciąć dookoła po linii: poza nią widać byłoby biel arkusza", CloseRound: "kreski: wolne krawędzie, ciąć tuż przy nadruku",
		BoxLabels: "etykiety na pudełka i tuby", Floats: Counted{"%s spławik", "%s spławiki", "%s spławików"}, Patterns: Counted{"%s model", "%s modele", "%s modeli"},
	}
}
