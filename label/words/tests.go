package words

// Tests are the words of the test sheets: titles, what is beside the patterns,
// and steps. What is typed into a command stays as the command has it.
type Tests struct {
	AsMade, Corrected   string // "%s on %s, as the printer makes it"; "%s on %s, corrected by profile %s of %s"
	StoreNamed, StoreIt string // "Store it; %s is what you call this printer:"
	Dots                Counted

	Ruler                                           string
	RulerPrint, RulerMeasure, RulerTrue             string // "True to scale are x %s, y %s, d1 and d2 %s."
	RulerCorrected, RulerOff, RulerMargin           string // "So they should now be, within %s. ..."
	Gain, GainMadeUp                                string // "Ink gain on %s"; by profile, printer, number of dots, the noun
	GainPrint, GainLook, GainDiffer, GainThen       string
	Codes, CodesCompare                             string // "Code sizes on %s"
	CodesPrint, CodesCut, CodesHold, CodesNote      string
	CodesMadeUp                                     string // profile, printer, number of dots, the noun, command
	CodesClosed                                     string // command
	CodesType                                       string // a number of dots, three times
	StripPlain, StripFront, StripOn, StripOff       string // the last two "on %s", "%s off"; FRONT is what its code says too
	Duplex, OfBack                                  string // "%s of the back", top or bottom
	Top, Bottom, Up, Down, Left, Right              string // with the word that is typed
	DuplexPrint, DuplexHold, DuplexRead             string
	DuplexAgain, DuplexExample                      string // the example, after StoreIt
	Proof                                           string
	ProofPrint, ProofMeasure                        string // "... within %s. ..."
	ProofLabels, ProofMirrored, ProofCut, ProofThen string
	Stretch                                         string // "Stretch test: %s"
	StretchPrint, StretchCut                        string
	StretchLook, StretchLimit, StretchStore         string // "Store it. Where %s is the tallest:"
	// How a band is put on the ball.
	LayWaterslide, LayVinyl, LayTissue, LayRubOn, LaySkinTransfer string
}
