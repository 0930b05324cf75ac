package words

import "floatmark/loading/unit"

// italian are the words for Italian-speaking anglers. "incluso" stands for the
// built-in zavorra, "aggiungi" for the piombatura to be added: an angler reads
// "5+2" in two ways, and these in one. Unsure: "portata" for the rating
// (grammatura is also in use), "prova" for the tank test.
func italian() Words {
	return Words{
		Language: "it", Region: "IT", Colon: ": ", Number: unit.Style{Comma: true},
		BuiltIn: "incluso", Add: "aggiungi", About: "ca.", NothingToAdd: "non aggiungere", Fresh: "acqua dolce", Sea: "acqua di mare",
		ToAddAsShot: "da aggiungere, in pallini", EachInItsMetal: "ogni riga nel suo metallo", ScanForRecord: "inquadra: come è fatto",
		Batch: "serie", Float: "galleggiante", Long: "di lunghezza", Body: "di corpo",
		BuiltInWeight: "zavorra inclusa", NoLead: "senza piombo", ContainsLead: "contiene piombo", Nothing: "nessuna", Waterline: "linea d’acqua",
		Rings: "anelli", RingIs: "anello spesso %s, anello sottile %s",
		Loaded: "zavorrato", Unloaded: "senza zavorra", SelfCocking: "autoportante", Exchangeable: "a parti intercambiabili", Setups: "montaggi", With: "con",
		CodeOnCard: "codice sulla scheda", CodeOnFloat: "codice sul corpo", CodeHeldSquare: "tenere dritto", Regraded: "riclassificato", MeasuredSum: "somma misurata", Tip: "antenna", High: "troppo alta", Low: "troppo bassa", ByRounding: "per arrotondamento",
		WeighBeforeUse: "non verificato: pesare prima dell’uso", NoShotPossible: "nessun pallino ammesso qui va bene",
		Toy: "non è un giocattolo", SmallParts: "parti piccole, punte acuminate", Children: "tenere lontano dai bambini sotto i 3 anni",
		NeverBite: "mai mordere i pallini", WashHands: "lavarsi le mani dopo l’uso",
		ActualSize: "stampare a grandezza reale (100 %), senza adattare alla pagina", Sheet: "foglio", Of: "di",
		LowerEdge: "bordo inferiore", FromBase: "dalla base", UpperEdge: "bordo superiore", FromTip: "dalla punta", ThisEdgeDown: "questo bordo in basso",
		CheckLine: "questa linea misura 100 mm", ThisLineIs: "questa linea misura %s", Spare: "scorta", MarkReady: "marcatura già pronta",
		Mirrored: "stampato a specchio: si legge giusto una volta trasferito",
		JobSheet: "foglio di lavoro", Number1: "n.", ID: "codice id", Rating: "portata", Printed: "stampato", Where: "posizione",
		Cut: "taglio", Applied: "posa", Varnished: "vernice", Retested: "riprova", Cautions: "avvertenze",
		// Common practice, no single source; product data sheets win.
		DayCautions: []string{
			"Spray e solventi: all’aperto o con aspirazione, con la maschera che indica la scheda del prodotto, senza fiamme né scintille.",
			"Spray bicomponenti: solo con la protezione e la pratica abilitata che chiede la loro scheda.",
			"Resina epossidica: guanti e aria fresca; può rendere la pelle sensibile per sempre; mescolane poca, si scalda gelificando.",
			"Piombo: niente carteggiatura o molatura a secco, guanti, lavarsi le mani, tenere polvere e pallini lontano dai bambini; mai mordere i pallini.",
			"Lame e filo tagliato: taglia lontano dal corpo, copri gli spezzoni che saltano, porta occhiali di protezione.",
			"Le regole locali e le schede dei prodotti vengono prima di questo elenco.",
		},
		LifeSize: "a grandezza naturale", LineAt: "filo", ScanForFigures: "inquadra: i suoi valori",
		Date: "data", Maker: "costruttore", Pattern: "modello", Code: "codice", Note: "nota", OrderOfDay: "ordine dei lavori",
		CommonPractice: "uso comune; le schede dei prodotti hanno la precedenza",
		// Common practice, no source; product data sheets win.
		DaySteps: []string{
			"Prima la prova in vasca e la classifica: corpo sigillato, zavorra fissata, antenna o un peso uguale al suo posto.",
			"Stampa su carta comune, accostala a un galleggiante, poi stampa su pellicola. Getto d’inchiostro: lascia asciugare, poi sigilla con mani sottili di trasparente. Laser: pellicola per stampanti laser.",
			"Dove il corpo è scuro, spruzza un anello di fondo chiaro tra due nastri; togli il nastro prima che la vernice sia dura.",
			"Segna il bordo inferiore a matita: misura lungo l’asse dalla base. Gira il galleggiante in un prisma a V.",
			"Taglia da 0,5 a 1 mm fuori dalla marcatura sui bordi liberi, e sulla linea alla giunta.",
			"Immergi finché la pellicola si muove, falla scivolare al suo posto, giunta opposta al codice, e spingi via l’acqua dal centro. Confronta il numero con l’asse.",
			"Lascia asciugare una notte. Prova la vernice su un ritaglio; prima una velatura, poi due mani sottili, satinate o opache sopra un codice.",
			"Riprova un galleggiante di ogni portata, poi mettili sulle schede. Pellicola e vernice tolgono circa 0,01 g di portata; una verniciatura dopo la prova ne toglie 0,05 g e più.",
		},
		Ground: GroundRings{
			Head: "anelli di fondo da dipingere prima della posa",
			How: "Anello chiaro sotto la marcatura: maschera i due bordi, da 1 a 2 mani sottili sul colore asciutto, togli il nastro prima che la vernice sia dura, " +
				"lascia asciugare come dice la sua scheda, e spiana leggermente con abrasivo fine bagnato, perché nessun gradino si veda attraverso la pellicola.",
			Colour: "colore", MaskAt: "maschera a", Between: "%s e %s %s", Why: "perché",
			Proposed: "proposto: il nero non si vede su %s", UnderWhatShows: "sotto ciò che si vede in trasparenza",
		},
		Jig: Jig{
			HowTo:  "Ritaglia, avvolgi sul corpo con le frecce verso la base, chiudi la giunta con nastro e ricalca.",
			NoCode: "Il codice è omesso: va sulla scheda.", GoesOn: "testo di ogni galleggiante", Continued: "segue",
		},
		Spread: Spread{Title: "Somme misurate", Off: "scarto dalla portata", Shaded: "ombreggiato: entro %s", Bar: "barra: incertezza, k = 2",
			Triangle: "triangolo: media, su una deviazione standard", NoneTested: "nessuno provato", OneTested: "1 provato, %s",
			Tested: "%s provati, media %s", Deviation: "deviazione %s"},
		Files: Files{Decals: "decalcomanie", Proof: "prova su carta comune", Jigs: "sagome di carta", Backers: "schede", JobSheet: "foglio di lavoro",
			PressDecals: "decalcomanie per la tipografia", BlackDecals: "decalcomanie in solo nero", PressBackers: "schede per la tipografia", OrderForShop: "ordine per la tipografia"},
		Names: names(pageItalian(), [...]string{"pellicola per decalcomanie ad acqua bianca", "pellicola per decalcomanie ad acqua trasparente", "carta velina sotto vernice", "pellicola trasferibile a sfregamento trasparente", "pellicola trasferibile per la pelle trasparente",
			"vinile adesivo bianco", "carta adesiva bianca", "cartoncino bianco da 300 g/m²", "carta comune da 80 g/m²"}),
		Steps: italianSteps(), Order: italianOrder(), Tests: italianTests(),
	}
}
