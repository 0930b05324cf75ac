package words

func italianSteps() Steps {
	const (
		board   = " Confronta il numero con l’asse."
		varnish = "Prova prima la vernice su un ritaglio: il solvente scioglie certi inchiostri e pellicole. Prima una velatura, poi due mani sottili, satinate o opache sopra un codice."
		mirror  = "Stampa su carta comune, poi sulla pellicola, a grandezza reale. Il foglio è già a specchio: non rifletterlo ancora nella finestra di stampa."
		close   = "Taglia a filo della marcatura, e sulla linea alla giunta."
	)
	return Steps{
		Test:   "Prima la prova in vasca e la classifica: corpo sigillato, zavorra fissata, antenna o un peso uguale al suo posto.",
		Rings:  "Se questo foglio elenca anelli di fondo, spruzzali ora e lasciali asciugare.",
		Pencil: "Segna il bordo inferiore a matita: misura lungo l’asse dalla base. Gira il galleggiante in un prisma a V.",
		Retest: "Riprova un galleggiante di ogni portata, poi mettili sulle schede. Pellicola e vernice tolgono circa 0,01 g di portata; una verniciatura dopo la prova ne toglie 0,05 g e più.",
		Waterslide: []string{
			"Stampa su carta comune, accostala a un galleggiante, poi stampa a grandezza reale sul lato lucido della pellicola. Getto d’inchiostro: taglia via la parte non stampata del foglio, lascia asciugare 30 minuti o più, poi sigilla con 2 o 3 mani leggere di trasparente, a 15-30 minuti una dall’altra. Laser: solo pellicola per stampanti laser. Un foglio iniziato entra pulito, con il bordo dritto in testa.",
			"Taglia da 0,5 a 1 mm fuori dalla marcatura sui bordi liberi, e sulla linea alla giunta; la pellicola bianca sulla linea tutt’intorno.",
			"Immergi da 20 a 60 secondi, finché la pellicola si muove. Bagna il corpo, fai scivolare la pellicola al suo posto, giunta opposta al codice, e spingi via l’acqua dal centro; ammorbidente per pellicole sulle curve strette." + board,
			"Lascia asciugare una notte. " + varnish,
		},
		Vinyl: []string{
			"Stampa su carta comune, accostala a un galleggiante, poi stampa a grandezza reale sulle etichette e lascia asciugare l’inchiostro. Un foglio iniziato entra con un bordo pulito e dritto in testa.",
			"Taglia sulla linea. Un giro parziale lascia un vuoto alla giunta: una pellicola spessa sovrapposta a sé stessa si stacca, e così ogni adesivo su uno stelo sottile.",
			"Pulisci il corpo, stacca l’etichetta, posa il centro sulla riga a matita, il vuoto opposto al codice, e premi dal centro verso i bordi." + board,
			varnish + " La vernice deve coprire i bordi: li sigilla.",
		},
		Tissue: []string{
			"Fissa la velina con nastro, dal bordo d’entrata, su carta comune e stampa a grandezza reale; lascia asciugare. Prima bagna un ritaglio con la vernice: l’inchiostro non deve colare.",
			"Taglia a filo della marcatura; un bordo strappato o sfrangiato si vede di meno.",
			"Stendi una mano sottile di vernice sul corpo, posaci la velina, giunta opposta al codice, e premila col pennello dal centro finché è trasparente e piana." + board,
			"Lascia indurire. " + varnish,
		},
		RubOn: []string{
			mirror + " Lascia asciugare l’inchiostro, poi applica la colla come dice la scheda della pellicola.",
			close,
			"Posa la pellicola con la stampa in giù sulla riga a matita, giunta opposta al codice, e sfregala dal centro con un attrezzo liscio e smussato. Solleva piano il supporto: dove l’inchiostro lo segue, riposalo e sfrega ancora." + board,
			"Sfrega ancora una volta attraverso la carta di protezione. " + varnish,
		},
		SkinTransfer: []string{
			mirror + " Lascia asciugare l’inchiostro, poi applica il foglio di colla senza bolle, come dice la scheda della pellicola.",
			close,
			"Togli la protezione, posa la pellicola con la stampa in giù sulla riga a matita, giunta opposta al codice, bagna il dorso con una spugna finché la carta scivola, circa mezzo minuto, sfila la carta e premi la pellicola." + board,
			"Lascia asciugare una notte. " + varnish,
		},
		ByHand: []string{
			"Stampa le sagome a grandezza reale su carta comune, misura le loro linee di controllo e ritagliale.",
			"Avvolgi la sagoma sul corpo con le frecce verso la base, chiudi la giunta con nastro e ricalca anelli e lettere con una matita morbida o la punta di un ago.",
			"Togli la sagoma e scrivi il testo che il suo foglio riporta per questo galleggiante." + board,
			"Lascia asciugare la scritta una notte. " + varnish,
		},
	}
}

func italianOrder() Order {
	return Order{
		Head: "ORDINE PER LA TIPOGRAFIA", Ask: "Se qualcosa non va bene per le vostre macchine: chiedete prima di cambiarlo.",
		QuantityDecals: "quantità, decalcomanie", QuantityCards: "quantità, schede", StockDecals: "supporto, decalcomanie", StockCards: "supporto, schede",
		DecalSheets: "Fogli: %s, ognuno una volta: ogni pagina è diversa (decals-press.pdf; decals-black.pdf è lo stesso in solo nero)",
		CardSheets:  "Fogli: %s, ognuno una volta: ogni scheda è diversa (backers-press.pdf)",
		Grain:       "; fibra lungo il lato lungo",
		Size:        "misura", Trim: "taglio", OtherForms: "altri formati", Machine: "macchina da taglio", Bleed: "abbondanza", Black: "nero", Mirrored: "a specchio", White: "bianco",
		SizeWant:     "Stampare al 100 %, senza adattare né ridurre: una linea su ogni foglio deve misurare quanto dice.",
		TrimWant:     "I pezzi si tagliano lungo la tinta piatta %q, che non si stampa. È un tracciato a sé sul livello cut.",
		FormsWant:    "decals-1.svg e seguenti: ogni pagina in mm con livelli nominati; decals-1.png e seguenti: lo stesso in solo bianco e nero, punto per punto della macchina.",
		MachineWant:  "cut-1.svg e seguenti contengono solo il tracciato di taglio di ogni pagina, in mm, con tre crocini di registro che anche la pagina porta.",
		BleedWant:    "Il colore che tocca il taglio lo supera di %s; nient’altro ha abbondanza.",
		BlackWant:    "Testi e codici sono in solo nero (K 100 %%), senza sovrastampa. I codici sono fatti di punti interi a %s punti per pollice: non scalare, smussare né retinare di nuovo.",
		MirroredWant: "I fogli sono già a specchio: non rifletterli ancora.",
		WhiteWant:    "Niente inchiostro bianco: ciò che è bianco è il supporto.",
	}
}

func italianTests() Tests {
	const (
		round  = "intorno alla metà di una pallina da ping pong da 40 mm, la fine sulla linea trasversale spessa"
		print  = "Stampa a grandezza reale (100 %) su ciò che porta i codici, con le stesse impostazioni"
		smooth = ". Premila dal centro verso i bordi e "
	)
	return Tests{
		AsMade: "%s su %s, senza correzione della stampante", Corrected: "%s su %s, con la correzione del profilo %s di %s",
		StoreNamed: "Memorizza; %s è il nome che dai a questa stampante:", StoreIt: "Memorizza:", Dots: Counted{"punto", "punti", "punti"},

		Ruler:      "Riga",
		RulerPrint: "Stampa a grandezza reale (100 %), senza adattare alla pagina, con il cassetto e le impostazioni delle marcature.",
		RulerMeasure: "Misura con una riga d’acciaio al quarto di millimetro, sempre dal centro di una linea al centro dell’altra: " +
			"x lungo il lato alto, y lungo il lato sinistro, d1 da in alto a sinistra a in basso a destra, d2 da in basso a sinistra a in alto a destra.",
		RulerTrue:      "In scala sono x %s, y %s, d1 e d2 %s.",
		RulerCorrected: "Così dovrebbero essere ora, entro %s. Se lo sono, non c’è nulla da fare; se no:",
		RulerOff:       "La tua stampante se ne scosterà un poco. Se lo scarto è del 3 % o più, la pagina è stata adattata alla carta: stampala di nuovo.",
		RulerMargin:    "Margine (margin): ci sono linee da 1 a 10 mm da ogni bordo del foglio. Annota il numero più basso la cui linea è intera su tutti e quattro i bordi.",

		Gain: "Ingrossamento dell’inchiostro su %s", GainMadeUp: "Compensato per l’inchiostro secondo il profilo %s di %s, %s %s: qui ogni fessura dovrebbe essere aperta.",
		GainPrint:  print + ", e lascia asciugare.",
		GainLook:   "L’inchiostro supera ogni bordo e chiude le fessure chiare. Quelle in alto sono larghe da 1 a 6 punti. Guarda con una lente: qual è la più stretta aperta da un capo all’altro?",
		GainDiffer: "Se le fessure verticali e orizzontali differiscono, prendi il numero più grande. Se nessuna è aperta, usa meno inchiostro o un’altra carta e stampa di nuovo.",
		GainThen:   "I codici si disegnano poi più sottili di tanti punti quanti ne aggiunge l’inchiostro.",

		Codes: "Misure dei codici su %s", CodesCompare: "Per confronto: le stesse strisce come sono disegnate, senza togliere nulla per l’inchiostro.",
		CodesPrint:  print + ".",
		CodesCut:    "Ritaglia le strisce. Avvolgi ognuna su un tondino, il gambo di una punta da trapano o un galleggiante del diametro indicato, con le estremità dietro, e fissale con nastro.",
		CodesHold:   "Tieni il telefono a 12 cm, diritto davanti al codice, poi 2 cm più in alto, più in basso e da ogni lato, rivolto verso di esso. Si legge se ogni volta entro due secondi dice ciò che dice la striscia. Prova ogni telefono che i tuoi clienti possono avere.",
		CodesNote:   "Per ogni misura dei quadrati annota il tondino più sottile che ogni telefono legge; none se non ce n’è. Fallo per le strisce semplici e, a parte, per quelle che dicono front: i loro codici sono allargati per sembrare quadrati di fronte.",
		CodesMadeUp: "Queste strisce sono compensate per l’inchiostro secondo il profilo %s di %s, %s %s in meno, come le marcature. Quelle di confronto non dovrebbero leggersi meglio: se lo fanno, rileggi la prova dell’inchiostro: %s",
		CodesClosed: "Se i quadrati più grandi non si leggono su 12 mm e più, l’inchiostro li chiude. Trova di quanti punti, poi stampa di nuovo questo foglio: %s",
		CodesType:   "Scrivi ciò che hai trovato; i codici si scelgono poi così. %s=10 dice che i quadrati semplici di %s punti si leggono fino a 10 mm, %sf=8 che quelli che dicono front si leggono fino a 8 mm:",
		StripPlain:  "semplice", StripFront: "front", StripOn: "su %s", StripOff: "%s meno",

		Duplex: "Fronte e retro", OfBack: "%s del retro",
		Top: "alto (top)", Bottom: "basso (bottom)", Up: "in su (up)", Down: "in giù (down)", Left: "sinistra (left)", Right: "destra (right)",
		DuplexPrint:   "Stampa le due pagine a grandezza reale (100 %) sui due lati di un foglio, voltato sul lato lungo.",
		DuplexHold:    "Tieni il foglio contro una lampada o una finestra, questo lato verso di te e diritto. Il cartoncino non lascia passare luce: bucalo con un ago al centro delle due croci del retro.",
		DuplexRead:    "Le due croci del retro si vedono sulle scale di qui, con tacche ogni %s. Di quanto è spostato ogni centro, al quarto di millimetro, e da che parte? Leggilo come lo vedi da questo lato.",
		DuplexAgain:   "Se il retro è spostato di più di 5 mm, il foglio non è stato voltato sul lato lungo o un lato è stato adattato: stampa di nuovo.",
		DuplexExample: "qui quello alto è %s a destra e %s in su, quello basso %s a sinistra e né in su né in giù. Scrivi i tuoi valori.",

		Proof:      "Prova su carta comune",
		ProofPrint: "Stampa questo su carta comune a grandezza reale (100 %), con le impostazioni delle marcature.",
		ProofMeasure: "Misura le linee di controllo con una riga d’acciaio: ognuna deve essere lunga quanto dice, entro %s. " +
			"Sulle righe lungo i bordi si misura ogni lunghezza, nei due sensi.",
		ProofLabels:   "Posala su un foglio di etichette e tieni i due contro la luce: ogni marcatura deve cadere nella sua etichetta.",
		ProofMirrored: "Ritaglia una marcatura e tienila intorno al suo galleggiante, lato stampato verso il galleggiante come sarà la pellicola: le estremità devono incontrarsi come previsto.",
		ProofCut:      "Ritaglia una marcatura e tienila intorno al suo galleggiante: le estremità devono incontrarsi come previsto.",
		ProofThen:     "Poi stampa le marcature stesse: stanno negli stessi posti. Se una linea è troppo lunga o troppo corta, calibra prima la stampante:",

		Stretch:         "Prova di allungamento: %s",
		StretchPrint:    "Stampa a grandezza reale (100 %): le linee di controllo misurano allora 100 mm.",
		StretchCut:      "Taglia sulle linee tratteggiate.",
		StretchLook:     "Guarda lungo i due bordi: una piega, una grinza o un bordo sollevato è di troppo.",
		StretchLimit:    "La striscia più alta che resta piana senza pieghe è il limite della tua pellicola. Se due prove differiscono, prendi la più bassa.",
		StretchStore:    "Memorizza. Se %s è la più alta:",
		LayWaterslide:   "Immergi ogni striscia, con l’ammorbidente che usi per le marcature, e posala " + round + smooth + "lasciala asciugare.",
		LayVinyl:        "Stacca ogni striscia e posala " + round + smooth + "lasciala un giorno.",
		LayTissue:       "Incolla ogni striscia con la vernice che usi, " + round + smooth + "lasciala asciugare.",
		LayRubOn:        "Posa ogni striscia, lato stampato verso la pallina, " + round + ". Sfregala dal centro verso i bordi e togli il supporto.",
		LaySkinTransfer: "Stacca ogni striscia e posala, lato stampato verso la pallina, " + round + ". Bagnala da dietro, sfila la carta e lasciala asciugare.",
	}
}
