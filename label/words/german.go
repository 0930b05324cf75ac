package words

import "floatmark/loading/unit"

// german are the words for German-speaking anglers. "eingebaut" and "dazu" stand
// for the trade's Vorbebleiung and the shot to be added: they are as short, and
// hold for weights that are no lead. Unsure: "Reserve" for a spare mark, "Fuß"
// for the base end (Posenfuß is in use).
func german() Words {
	return Words{
		Language: "de", Region: "DE", Colon: ": ", Number: unit.Style{Comma: true},
		BuiltIn: "eingebaut", Add: "dazu", About: "etwa", NothingToAdd: "nichts dazu", Fresh: "Süßwasser", Sea: "Meerwasser",
		ToAddAsShot: "dazu, in Schrot", EachInItsMetal: "jede Zeile in ihrem Metall", ScanForRecord: "scannen: wie sie gebaut wurde",
		Batch: "Serie", Float: "Pose", Long: "lang", Body: "Körper",
		BuiltInWeight: "eingebautes Gewicht", NoLead: "ohne Blei", ContainsLead: "enthält Blei", Nothing: "keines", Waterline: "Wasserlinie",
		Rings: "Ringe", RingIs: "dicker Ring %s, dünner Ring %s",
		Loaded: "vorbeschwert", Unloaded: "unbeschwert", SelfCocking: "selbststellend", Exchangeable: "mit Wechselteilen", Setups: "Bestückungen", With: "mit",
		CodeOnCard: "Code auf der Karte", CodeOnFloat: "Code auf der Pose", CodeHeldSquare: "gerade halten", Regraded: "umgestuft", MeasuredSum: "gemessene Summe", Tip: "Spitze", High: "zu hoch", Low: "zu tief", ByRounding: "durch Runden",
		WeighBeforeUse: "nicht belegt: vor Gebrauch wiegen", NoShotPossible: "kein hier erlaubtes Schrot ergibt das",
		Toy: "kein Spielzeug", SmallParts: "Kleinteile, spitze Teile", Children: "von Kindern unter 3 Jahren fernhalten",
		NeverBite: "nie auf Schrot beißen", WashHands: "nach dem Anfassen Hände waschen",
		ActualSize: "in Originalgröße drucken (100 %), nicht an die Seite anpassen", Sheet: "Blatt", Of: "von",
		LowerEdge: "Unterkante", FromBase: "ab Fuß", UpperEdge: "Oberkante", FromTip: "ab Spitze", ThisEdgeDown: "diese Kante nach unten",
		CheckLine: "diese Linie ist 100 mm lang", ThisLineIs: "diese Linie ist %s lang", Spare: "Reserve", MarkReady: "Aufdruck liegt bereit",
		Mirrored: "spiegelbildlich gedruckt: angerieben liest es sich richtig",
		JobSheet: "Arbeitsblatt", Number1: "Nr.", ID: "Kennung", Rating: "Tragkraft", Printed: "Aufdruck", Where: "wo er sitzt",
		Cut: "Schnitt", Applied: "geklebt", Varnished: "lackiert", Retested: "geprüft", Cautions: "Vorsicht",
		// Common practice, no single source; product data sheets win.
		DayCautions: []string{
			"Sprühlacke und Lösemittel: im Freien oder mit Absaugung, mit der Maske, die das Datenblatt des Produkts nennt, ohne Flamme und Funken.",
			"Zweikomponentenlacke zum Sprühen: nur mit dem Schutz und der zugelassenen Arbeitsweise, die ihr Datenblatt verlangt.",
			"Epoxid: Handschuhe und frische Luft; es kann die Haut lebenslang empfindlich machen; kleine Mengen mischen, es erhitzt sich beim Gelieren.",
			"Blei: weder von Hand noch mit der Maschine trocken schleifen, Handschuhe, Hände waschen, Staub und Schrot von Kindern fernhalten; nie auf Schrot beißen.",
			"Klingen und abgekniffener Draht: vom Körper weg schneiden, wegfliegende Enden abdecken, Schutzbrille tragen.",
			"Örtliche Vorschriften und die Datenblätter der Produkte gehen dieser Liste vor.",
		},
		LifeSize: "in natürlicher Größe", LineAt: "Schnur", ScanForFigures: "scannen: ihre Werte",
		Date: "Datum", Maker: "Hersteller", Pattern: "Modell", Code: "Code", Note: "Notiz", OrderOfDay: "Ablauf des Tages",
		CommonPractice: "übliche Praxis; Datenblätter der Produkte gehen vor",
		// Common practice, no source; product data sheets win.
		DaySteps: []string{
			"Zuerst im Becken prüfen und einstufen: Körper versiegelt, Gewicht fest eingebaut, Spitze oder ein gleich schwerer Ersatz darin.",
			"Auf Normalpapier drucken, an eine Pose halten, dann auf Folie drucken. Tintenstrahl: trocknen lassen, dann mit dünnen Klarlackschichten versiegeln. Laser: nur Folie für Laserdrucker.",
			"Wo der Körper dunkel ist, zwischen zwei Klebebändern einen hellen Grundring sprühen; das Band abziehen, bevor die Farbe hart ist.",
			"Die Unterkante mit Bleistift anzeichnen: entlang der Achse vom Fuß aus messen. Die Pose in einem Prisma drehen.",
			"An freien Kanten 0,5 bis 1 mm außerhalb des Aufdrucks schneiden, an der Naht auf der Linie.",
			"Einweichen, bis die Folie sich bewegt, aufschieben, Naht gegenüber dem Code, das Wasser von der Mitte nach außen drücken. Die Nummer mit dem Brett vergleichen.",
			"Über Nacht trocknen lassen. Den Lack an einem Reststück probieren; erst einen Nebelgang, dann zwei dünne Schichten, über einem Code seidenmatt oder matt.",
			"Von jeder Tragkraft eine Pose nachprüfen, dann auf die Karten. Folie und Lack kosten etwa 0,01 g Tragkraft; eine Lackierung nach der Prüfung 0,05 g und mehr.",
		},
		Ground: GroundRings{
			Head: "Grundringe, vor dem Aufbringen zu lackieren",
			How: "Heller Ring unter dem Aufdruck: beide Kanten abkleben, 1 bis 2 dünne Schichten auf die trockene Farbe, das Band abziehen, bevor die Farbe hart ist, " +
				"trocknen lassen, wie es ihr Datenblatt sagt, und leicht mit feinem Nassschleifpapier glätten, damit sich keine Stufe durch die Folie abzeichnet.",
			Colour: "Farbe", MaskAt: "abkleben bei", Between: "%s und %s %s", Why: "wozu",
			Proposed: "vorgeschlagen: Schwarz ist auf %s nicht zu sehen", UnderWhatShows: "unter dem, wo er durchscheint",
		},
		Jig: Jig{
			HowTo:  "Ausschneiden, mit den Pfeilen zum Fuß um den Körper legen, die Naht kleben und durchzeichnen.",
			NoCode: "Der Code fehlt hier: Er kommt auf die Karte.", GoesOn: "Text jeder Pose", Continued: "Fortsetzung",
		},
		Spread: Spread{Title: "Gemessene Summen", Off: "neben der Tragkraft", Shaded: "schattiert: innerhalb %s", Bar: "Strich: Unsicherheit, k = 2",
			Triangle: "Dreieck: Mittel, auf einer Standardabweichung", NoneTested: "keine geprüft", OneTested: "1 geprüft, %s",
			Tested: "%s geprüft, Mittel %s", Deviation: "Abweichung %s"},
		Files: Files{Decals: "Abziehbilder", Proof: "Probe auf Normalpapier", Jigs: "Papierschablonen", Backers: "Karten", JobSheet: "Arbeitsblatt",
			PressDecals: "Abziehbilder für die Druckerei", BlackDecals: "Abziehbilder nur in Schwarz", PressBackers: "Karten für die Druckerei", OrderForShop: "Auftrag für die Druckerei"},
		Names: names(pageGerman(), [...]string{"weißer Wasserschiebefilm", "klarer Wasserschiebefilm", "Seidenpapier unter Lack", "klare Anreibefolie", "klare Hautübertragungsfolie",
			"weiße Vinyl-Klebefolie", "weißes Klebepapier", "weißer Karton 300 g/m²", "Normalpapier 80 g/m²"}),
		Steps: germanSteps(), Order: germanOrder(), Tests: germanTests(),
	}
}
