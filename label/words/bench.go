package words

// GroundRings are the words of the job sheet's table of rings to paint.
type GroundRings struct {
	Head, How                    string
	Colour, MaskAt, Between, Why string // Between: "%s and %s %s", two heights and FromBase
	Proposed, UnderWhatShows     string // why: "proposed: black does not show on %s"; planned by the maker
}

// Steps are the order of a marking day by medium: Test first, then the first
// step of the medium, Rings and Pencil, the others of the medium, and Retest.
// Common practice, no source; product data sheets win.
type Steps struct {
	Test, Rings, Pencil, Retest                            string
	Waterslide, Vinyl, Tissue, RubOn, SkinTransfer, ByHand []string // how it is printed, cut, put on and varnished
}

// Jig are the words of the paper jigs.
type Jig struct {
	HowTo     string
	NoCode    string // the code is left out
	GoesOn    string // heading of each float's words
	Continued string
}

// Spread are the words of the plot of a batch about its ratings.
type Spread struct {
	Title, Off            string
	Shaded                string // "shaded: within %s"
	Bar, Triangle         string
	NoneTested, OneTested string // "1 tested, %s"
	Tested, Deviation     string // "%s tested, mean %s", "deviation %s"
}

// Order are the words of the note to a print shop: what each line is about, and
// what is wanted.
type Order struct {
	Head, Ask                                                             string
	QuantityDecals, QuantityCards, StockDecals, StockCards                string
	DecalSheets, CardSheets                                               string // "%s sheets, each once ..."
	Grain, Size, Trim, OtherForms, Machine, Bleed, Black, Mirrored, White string
	SizeWant, TrimWant, FormsWant, MachineWant, BleedWant, BlackWant      string
	MirroredWant, WhiteWant                                               string
}

// Files are the titles of the documents, as a reader of PDF shows them.
type Files struct {
	Decals, Proof, Jigs, Backers, JobSheet               string
	PressDecals, BlackDecals, PressBackers, OrderForShop string
}

// Counted is a noun by its number: 1, 2 to 4 in Polish, more.
type Counted struct{ One, Few, Many string }

// Of returns the form that goes with n. Few is for numbers that end in 2 to 4
// but not in 12 to 14, as CLDR has it for Polish; other languages have the same
// word in both.
func (c Counted) Of(n int) string {
	switch {
	case n == 1:
		return c.One
	case n%10 >= 2 && n%10 <= 4 && (n%100 < 12 || n%100 > 14):
		return c.Few
	}
	return c.Many
}
