package words

func germanSteps() Steps {
	const (
		board   = " Die Nummer mit dem Brett vergleichen."
		varnish = "Den Lack zuerst an einem Reststück probieren: Lösemittel greift manche Tinten und Folien an. Erst einen Nebelgang, dann zwei dünne Schichten, über einem Code seidenmatt oder matt."
		mirror  = "Auf Normalpapier, dann auf die Folie drucken, in Originalgröße. Das Blatt ist schon gespiegelt angelegt: im Druckfenster nicht noch einmal spiegeln."
		close   = "Dicht um den Aufdruck schneiden, an der Naht auf der Linie."
	)
	return Steps{
		Test:   "Zuerst im Becken prüfen und einstufen: Körper versiegelt, Gewicht fest eingebaut, Spitze oder ein gleich schwerer Ersatz darin.",
		Rings:  "Wo dieses Blatt Grundringe nennt, sie jetzt sprühen und trocknen lassen.",
		Pencil: "Die Unterkante mit Bleistift anzeichnen: entlang der Achse vom Fuß aus messen. Die Pose in einem Prisma drehen.",
		Retest: "Von jeder Tragkraft eine Pose nachprüfen, dann auf die Karten. Folie und Lack kosten etwa 0,01 g Tragkraft; eine Lackierung nach der Prüfung 0,05 g und mehr.",
		Waterslide: []string{
			"Auf Normalpapier drucken, an eine Pose halten, dann in Originalgröße auf die glänzende Seite der Folie drucken. Tintenstrahl: den unbedruckten Teil des Bogens abschneiden, den Druck 30 Minuten oder länger trocknen lassen, dann mit 2 bis 3 leichten Klarlackschichten im Abstand von 15 bis 30 Minuten versiegeln. Laser: nur Folie für Laserdrucker. Ein angebrochener Bogen läuft sauber ein, gerade Kante voran.",
			"An freien Kanten 0,5 bis 1 mm außerhalb des Aufdrucks schneiden, an der Naht auf der Linie; weiße Folie ringsum auf der Linie.",
			"20 bis 60 Sekunden einweichen, bis die Folie sich bewegt. Den Körper anfeuchten, die Folie aufschieben, Naht gegenüber dem Code, das Wasser von der Mitte nach außen drücken; an engen Rundungen Weichmacher für Folien." + board,
			"Über Nacht trocknen lassen. " + varnish,
		},
		Vinyl: []string{
			"Auf Normalpapier drucken, an eine Pose halten, dann in Originalgröße auf die Etiketten drucken und die Tinte trocknen lassen. Ein angebrochener Bogen läuft mit sauberer, gerader Kante voran ein.",
			"Auf der Linie schneiden. Eine Teilwicklung lässt an der Naht eine Lücke: Dicke Folie löst sich, wo sie auf sich selbst liegt, und jeder Aufkleber auf einem dünnen Stiel.",
			"Den Körper abwischen, das Etikett abziehen, die Mitte auf den Bleistiftstrich legen, die Lücke gegenüber dem Code, und von der Mitte zu den Rändern andrücken." + board,
			varnish + " Der Lack muss die Ränder bedecken: Er versiegelt sie.",
		},
		Tissue: []string{
			"Das Seidenpapier an der Vorderkante auf Normalpapier kleben und in Originalgröße drucken; trocknen lassen. Zuerst einen Rest mit dem Lack benetzen: Die Tinte darf nicht verlaufen.",
			"Dicht um den Aufdruck schneiden; ein gerissener, faseriger Rand fällt am wenigsten auf.",
			"Den Körper dünn mit Lack bestreichen, das Papier auflegen, Naht gegenüber dem Code, und mit dem Pinsel von der Mitte her andrücken, bis es klar und glatt liegt." + board,
			"Hart trocknen lassen. " + varnish,
		},
		RubOn: []string{
			mirror + " Die Tinte trocknen lassen, dann den Kleber auflegen, wie es das Datenblatt der Folie sagt.",
			close,
			"Die Folie mit der Druckseite nach unten auf den Bleistiftstrich legen, Naht gegenüber dem Code, und von der Mitte her mit einem stumpfen, glatten Werkzeug anreiben. Den Träger langsam abheben: Wo die Tinte mitkommt, zurücklegen und noch einmal reiben." + board,
			"Durch das Schutzpapier noch einmal anreiben. " + varnish,
		},
		SkinTransfer: []string{
			mirror + " Die Tinte trocknen lassen, dann die Kleberfolie blasenfrei auflegen, wie es das Datenblatt der Folie sagt.",
			close,
			"Die Abdeckung abziehen, die Folie mit der Druckseite nach unten auf den Bleistiftstrich legen, Naht gegenüber dem Code, die Rückseite mit einem Schwamm anfeuchten, bis das Papier gleitet, etwa eine halbe Minute, das Papier abschieben und die Folie andrücken." + board,
			"Über Nacht trocknen lassen. " + varnish,
		},
		ByHand: []string{
			"Die Schablonen in Originalgröße auf Normalpapier drucken, ihre Prüflinien nachmessen und die Schablonen ausschneiden.",
			"Die Schablone mit den Pfeilen zum Fuß um den Körper legen, die Naht kleben und Ringe und Buchstaben mit weichem Bleistift oder Nadelspitze durchzeichnen.",
			"Die Schablone abnehmen und den Text schreiben, den ihr Blatt für diese Pose nennt." + board,
			"Die Schrift über Nacht trocknen lassen. " + varnish,
		},
	}
}

func germanOrder() Order {
	return Order{
		Head: "AUFTRAG FÜR DIE DRUCKEREI", Ask: "Wenn etwas nicht zu Ihren Maschinen passt: bitte fragen, bevor Sie es ändern.",
		QuantityDecals: "Menge, Abziehbilder", QuantityCards: "Menge, Karten", StockDecals: "Material, Abziehbilder", StockCards: "Material, Karten",
		DecalSheets: "Blätter: %s, jedes einmal: Jede Seite ist anders (decals-press.pdf; decals-black.pdf ist dasselbe nur in Schwarz)",
		CardSheets:  "Blätter: %s, jedes einmal: Jede Karte ist anders (backers-press.pdf)",
		Grain:       "; Laufrichtung entlang der langen Seite",
		Size:        "Größe", Trim: "Beschnitt", OtherForms: "andere Formate", Machine: "Schneidemaschine", Bleed: "Anschnitt", Black: "Schwarz", Mirrored: "gespiegelt", White: "Weiß",
		SizeWant:     "Mit 100 % drucken, nichts anpassen oder verkleinern: Eine Linie auf jedem Blatt muss so lang sein, wie sie sagt.",
		TrimWant:     "Geschnitten wird entlang der Schmuckfarbe %q, die nicht gedruckt wird. Sie ist ein eigener Pfad auf der Ebene cut.",
		FormsWant:    "decals-1.svg und folgende: jede Seite in mm mit benannten Ebenen; decals-1.png und folgende: dasselbe nur in Schwarz und Weiß, Punkt für Punkt der Maschine.",
		MachineWant:  "cut-1.svg und folgende enthalten nur den Schneidpfad jeder Seite, in mm, mit drei Passmarken, die auch die Seite trägt.",
		BleedWant:    "Farbe, die an den Schnitt reicht, geht %s darüber hinaus; sonst hat nichts Anschnitt.",
		BlackWant:    "Text und Codes sind reines Schwarz (K 100 %%) und überdrucken nichts. Codes bestehen aus ganzen Punkten bei %s Punkten je Zoll: nicht skalieren, glätten oder neu rastern.",
		MirroredWant: "Die Blätter sind schon gespiegelt angelegt: nicht noch einmal spiegeln.",
		WhiteWant:    "Keine weiße Farbe: Was weiß ist, ist das Material.",
	}
}

func germanTests() Tests {
	const (
		round  = "rund um die Mitte eines Tischtennisballs von 40 mm, das Ende auf die dicke Querlinie"
		print  = "In Originalgröße (100 %) auf das drucken, worauf Codes gedruckt werden, mit denselben Einstellungen"
		smooth = ". Von der Mitte zu den Rändern andrücken und "
	)
	return Tests{
		AsMade: "%s auf %s, wie der Drucker druckt", Corrected: "%s auf %s, korrigiert mit Profil %s von %s",
		StoreNamed: "Speichern; %s ist der Name, den du diesem Drucker gibst:", StoreIt: "Speichern:", Dots: Counted{"Punkt", "Punkte", "Punkte"},

		Ruler:      "Lineal",
		RulerPrint: "In Originalgröße (100 %) drucken, nicht an die Seite angepasst, aus dem Fach und mit den Einstellungen, mit denen Aufdrucke gedruckt werden.",
		RulerMeasure: "Mit einem Stahllineal auf einen Viertelmillimeter messen, immer von der Mitte der einen Linie zur Mitte der anderen: " +
			"x entlang der Oberseite, y an der linken Seite hinab, d1 von oben links nach unten rechts, d2 von unten links nach oben rechts.",
		RulerTrue:      "Maßgetreu sind x %s, y %s, d1 und d2 %s.",
		RulerCorrected: "So sollten sie jetzt sein, auf %s genau. Wenn ja, ist nichts zu tun; wenn nicht:",
		RulerOff:       "Dein Drucker wird ein wenig abweichen. Sind es 3 % oder mehr, wurde die Seite ans Papier angepasst: noch einmal drucken.",
		RulerMargin:    "Rand (margin): 1 bis 10 mm von jeder Kante des Blattes stehen Linien. Die kleinste Zahl notieren, deren Linie an allen vier Kanten ganz ist.",

		Gain: "Tintenzuwachs auf %s", GainMadeUp: "Ausgeglichen für die Tinte nach Profil %s von %s, %s %s: Hier sollte jeder Schlitz offen sein.",
		GainPrint:  print + ", und trocknen lassen.",
		GainLook:   "Tinte läuft über jede Kante und schließt helle Schlitze. Die oberen sind 1 bis 6 Punkte breit. Durch eine Lupe schauen: Welcher ist der schmalste, der von Ende zu Ende offen ist?",
		GainDiffer: "Wo die senkrechten und die waagrechten Schlitze sich unterscheiden, gilt die größere Zahl. Ist keiner offen, mit weniger Tinte oder auf anderem Papier noch einmal drucken.",
		GainThen:   "Codes werden dann um so viele Punkte dünner gezeichnet, wie die Tinte hinzufügt.",

		Codes: "Codegrößen auf %s", CodesCompare: "Zum Vergleich: dieselben Streifen, wie sie gezeichnet sind, ohne Abzug für die Tinte.",
		CodesPrint:  print + ".",
		CodesCut:    "Die Streifen ausschneiden. Jeden um ein Rundholz, einen Bohrerschaft oder eine Pose mit dem genannten Durchmesser legen, die Enden hinten, und mit Klebeband halten.",
		CodesHold:   "Das Telefon 12 cm entfernt gerade vor den Code halten, dann 2 cm höher, tiefer und zu beiden Seiten, ihm zugewandt. Er ist lesbar, wenn es jedes Mal binnen zwei Sekunden sagt, was auf dem Streifen steht. Jedes Telefon probieren, das deine Kunden haben könnten.",
		CodesNote:   "Für jede Größe der Quadrate das dünnste Rundholz notieren, das jedes Telefon liest; none, wenn es keines gibt. Das für einfache Streifen und getrennt für die mit front: Ihre Codes sind verbreitert, damit sie von vorn quadratisch aussehen.",
		CodesMadeUp: "Diese Streifen sind für die Tinte ausgeglichen, nach Profil %s von %s, %s %s weniger, wie Aufdrucke. Die zum Vergleich sollten nicht besser lesbar sein: Sind sie es, die Tintenprobe noch einmal ablesen: %s",
		CodesClosed: "Sind die größten Quadrate auf 12 mm und mehr nicht lesbar, schließt Tinte sie. Herausfinden, um wie viele Punkte, dann dieses Blatt noch einmal drucken: %s",
		CodesType:   "Eintippen, was du gefunden hast; Codes werden dann danach gewählt. %s=10 heißt, dass einfache Quadrate von %s Punkten bis hinab zu 10 mm lesbar sind, %sf=8, dass die mit front es bis 8 mm sind:",
		StripPlain:  "einfach", StripFront: "front", StripOn: "auf %s", StripOff: "%s ab",

		Duplex: "Vorder- und Rückseite", OfBack: "%s, Rückseite",
		Top: "oben (top)", Bottom: "unten (bottom)", Up: "hinauf (up)", Down: "hinab (down)", Left: "links (left)", Right: "rechts (right)",
		DuplexPrint:   "Beide Seiten in Originalgröße (100 %) auf die zwei Seiten eines Blattes drucken, über die lange Kante gewendet.",
		DuplexHold:    "Das Blatt gegen eine Lampe oder ein Fenster halten, diese Seite zu dir und aufrecht. Karton lässt kein Licht durch: mit einer Nadel durch die Mitte beider Kreuze der Rückseite stechen.",
		DuplexRead:    "Beide Kreuze der Rückseite zeigen sich auf den Skalen hier, deren Striche %s auseinander liegen. Wie weit liegt jede Mitte daneben, auf einen Viertelmillimeter, und in welcher Richtung? Ablesen, wie du es von dieser Seite siehst.",
		DuplexAgain:   "Liegt die Rückseite mehr als 5 mm daneben, wurde nicht über die lange Kante gewendet oder eine Seite angepasst: noch einmal drucken.",
		DuplexExample: "Hier liegt die obere Mitte %s rechts und %s hinauf, die untere %s links und weder hinauf noch hinab. Schreib deine eigenen Werte.",

		Proof:      "Probe auf Normalpapier",
		ProofPrint: "Dies in Originalgröße (100 %) auf Normalpapier drucken, mit den Einstellungen, mit denen die Aufdrucke gedruckt werden.",
		ProofMeasure: "Die Prüflinien mit einem Stahllineal messen: Jede muss so lang sein, wie sie sagt, auf %s genau. " +
			"An den Linealen entlang der Kanten lässt sich jede Länge messen, in beiden Richtungen.",
		ProofLabels:   "Auf einen Bogen Etiketten legen und beide gegen das Licht halten: Jeder Aufdruck muss in seinem Etikett liegen.",
		ProofMirrored: "Einen Aufdruck ausschneiden und um seine Pose halten, die bedruckte Seite zur Pose, wie später die Folie: Seine Enden müssen sich treffen wie geplant.",
		ProofCut:      "Einen Aufdruck ausschneiden und um seine Pose halten: Seine Enden müssen sich treffen wie geplant.",
		ProofThen:     "Dann die Aufdrucke selbst drucken: Sie liegen an denselben Stellen. Ist eine Linie zu lang oder zu kurz, zuerst den Drucker kalibrieren:",

		Stretch:         "Dehnprobe: %s",
		StretchPrint:    "In Originalgröße (100 %) drucken: Die Prüflinien sind dann 100 mm lang.",
		StretchCut:      "Auf den gestrichelten Linien schneiden.",
		StretchLook:     "Beide Kanten entlang schauen: Eine Falte, ein Fältchen oder eine abstehende Kante ist zu viel.",
		StretchLimit:    "Das höchste Band, das ohne Falte glatt liegt, ist die Grenze deiner Folie. Wo zwei Versuche sich unterscheiden, gilt der niedrigere.",
		StretchStore:    "Speichern. Wenn %s das höchste ist:",
		LayWaterslide:   "Jedes Band einweichen, mit dem Weichmacher, den du für Aufdrucke nimmst, und auflegen, " + round + smooth + "trocknen lassen.",
		LayVinyl:        "Jedes Band abziehen und auflegen, " + round + smooth + "einen Tag liegen lassen.",
		LayTissue:       "Jedes Band mit dem Lack aufkleben, den du benutzt, " + round + smooth + "trocknen lassen.",
		LayRubOn:        "Jedes Band auflegen, bedruckte Seite zum Ball, " + round + ". Von der Mitte zu den Rändern anreiben und den Träger abnehmen.",
		LaySkinTransfer: "Jedes Band abziehen und auflegen, bedruckte Seite zum Ball, " + round + ". Von hinten anfeuchten, das Papier abschieben und trocknen lassen.",
	}
}
