package words

// TankPage is what the page beside the test tank says, in one language. Phrases
// with a %s take what stands in their comment.
type TankPage struct {
	Language string // BCP 47, "en"

	// The batches to choose from.
	Title, Lead                     string
	Opened, Printed, OnlyRead       string // date, date
	FromFile, FromFileHint, InHouse string
	Open, Batches                   string

	// One float.
	Number                    string // its place on the drying board: "no. 7"
	Before, After             string // the float before, the float after
	AddSoFar                  string
	SoFar                     string // mass built in, mass with the add so far
	NothingYet                string
	Undo, ReadsHere, Whose    string
	Weighed                   string // metal: "grams, weighed, of lead"
	Unsure                    string
	Shot                      string // the set that hangs
	AllFloats, Read, BySetups string // Read takes mass, stage
	Last                      string // the batch is through
	Earlier                   string // the batch file is being written

	// Where its tip stands, and how far it was made.
	TipStands, AtMark, Above, Below string // length, length
	Higher, Lower                   string
	Stage                           string
	Stages                          map[string]string // by the word of tank.Stage
	Back, Save                      string

	// What waits on the phone.
	AllSent, Waiting, Sending      string // Waiting takes a number
	NoNetwork, Locked, Unlock      string
	Anew, OpenAnew, NotKept        string
	OnPhone, Refused               string
	Correct, Drop, DropSure        string
	Kept, TakeBack                 string // number of the float, what was read
	Float, Reading, ReadingHint    string
	TipAbove, FloatsOwn, NotStored string // TipAbove: the unit
}

// TankPages lists the languages of the page in the order of Pages.
func TankPages() []TankPage {
	return []TankPage{tankEnglish(), tankGerman(), tankFrench(), tankItalian(), tankPolish()}
}

// TankPageFor returns the phrases of the page beside the tank in a language by its
// BCP 47 tag, English where there are none.
func TankPageFor(tag string) TankPage {
	language := PageFor(tag).Language
	all := TankPages()
	for _, p := range all {
		if p.Language == language {
			return p
		}
	}
	return all[0]
}

func tankEnglish() TankPage {
	return TankPage{
		Language: "en",
		Title:    "test tank", Lead: "Choose the batch that lies on the drying board.",
		Opened: "opened %s", Printed: "printed %s", OnlyRead: "open its batch file first",
		FromFile: "open a batch file", FromFileHint: "the batch file, together with the files it names", InHouse: "in the workshop folder",
		Open: "open", Batches: "other batches",
		Number: "no. %s", Before: "the float before", After: "the next float",
		AddSoFar: "add so far", SoFar: "%s built in, %s so far", NothingYet: "press the shot that hangs",
		Undo: "undo", ReadsHere: "reads here", Whose: "shot that hangs",
		Weighed: "grams, weighed: %s", Unsure: "? mass not found in print: weigh it", Shot: "shot",
		AllFloats: "all floats", Read: "read: %s, %s", BySetups: "Exchangeable: its readings go into the batch file, each in its set-up.",
		Last: "That was the last float of the batch.", Earlier: "The batch file is not whole at present: the floats are as it had them before.",
		TipStands: "where the tip stands", AtMark: "at its mark", Above: "%s above its mark", Below: "%s below its mark",
		Higher: "higher", Lower: "lower", Stage: "stage",
		Stages: map[string]string{"bare": "bare", "beneath": "weight beneath", "fitted": "weight fitted", "varnished": "varnished"},
		Back:   "back", Save: "save, next float",
		AllSent: "everything is stored", Waiting: "waiting on this phone: %s", Sending: "sending",
		NoNetwork: "No connection. Go on: readings are kept on this phone and sent later.",
		Locked:    "The records are locked. Go on: readings are kept on this phone until you unlock.", Unlock: "unlock",
		Anew: "Open this page anew. What was read is kept on this phone.", OpenAnew: "open anew",
		NotKept: "This phone keeps nothing for this page: leave it open until everything is stored.",
		OnPhone: "on this phone", Refused: "refused", Correct: "correct", Drop: "throw away", DropSure: "really throw away",
		Kept: "kept: no. %s, %s", TakeBack: "take back",
		Float: "float", Reading: "what hung", ReadingHint: "grams, or shot as in 3AAA+2No4", TipAbove: "tip above its mark, %s; below it is negative",
		FloatsOwn: "as the batch file says", NotStored: "not stored",
	}
}

func tankGerman() TankPage {
	return TankPage{
		Language: "de",
		Title:    "Testbecken", Lead: "Bitte die Serie wählen, die auf dem Trockenbrett liegt.",
		Opened: "geöffnet am %s", Printed: "gedruckt am %s", OnlyRead: "erst ihre Seriendatei öffnen",
		FromFile: "eine Seriendatei öffnen", FromFileHint: "die Seriendatei, zusammen mit den Dateien, die sie nennt", InHouse: "im Ordner der Werkstatt",
		Open: "öffnen", Batches: "andere Serien",
		Number: "Nr. %s", Before: "die Pose davor", After: "die nächste Pose",
		AddSoFar: "Zugabe bisher", SoFar: "%s eingebaut, bisher %s", NothingYet: "das Schrot antippen, das hängt",
		Undo: "zurücknehmen", ReadsHere: "steht richtig", Whose: "Schrot, das hängt",
		Weighed: "Gramm, gewogen: %s", Unsure: "? Masse nirgends gedruckt gefunden: wiegen", Shot: "Schrot",
		AllFloats: "alle Posen", Read: "gemessen: %s, %s", BySetups: "Wechselbar: ihre Messungen gehören in die Seriendatei, jede in ihre Ausstattung.",
		Last: "Das war die letzte Pose der Serie.", Earlier: "Die Seriendatei ist gerade nicht vollständig: die Posen sind, wie sie vorher darin standen.",
		TipStands: "wo die Spitze steht", AtMark: "an ihrer Marke", Above: "%s über ihrer Marke", Below: "%s unter ihrer Marke",
		Higher: "höher", Lower: "tiefer", Stage: "Zustand",
		Stages: map[string]string{"bare": "leer", "beneath": "Gewicht darunter", "fitted": "Gewicht eingebaut", "varnished": "lackiert"},
		Back:   "zurück", Save: "sichern, weiter",
		AllSent: "alles gespeichert", Waiting: "wartet auf diesem Telefon: %s", Sending: "wird gesendet",
		NoNetwork: "Keine Verbindung. Einfach weitermachen: Messungen bleiben auf diesem Telefon und werden später gesendet.",
		Locked:    "Die Bücher sind gesperrt. Einfach weitermachen: Messungen bleiben auf diesem Telefon bis zum Entsperren.", Unlock: "entsperren",
		Anew: "Bitte diese Seite neu öffnen. Was gemessen wurde, bleibt auf diesem Telefon.", OpenAnew: "neu öffnen",
		NotKept: "Dieses Telefon hebt für diese Seite nichts auf: offen lassen, bis alles gespeichert ist.",
		OnPhone: "auf diesem Telefon", Refused: "abgelehnt", Correct: "berichtigen", Drop: "verwerfen", DropSure: "wirklich verwerfen",
		Kept: "gesichert: Nr. %s, %s", TakeBack: "zurückholen",
		Float: "Pose", Reading: "was hing", ReadingHint: "Gramm, oder Schrot wie in 3AAA+2No4", TipAbove: "Spitze über ihrer Marke, %s; darunter negativ",
		FloatsOwn: "wie die Seriendatei sagt", NotStored: "nicht gespeichert",
	}
}
