// Package words holds what is printed and shown in words, per language: the
// names of figures, cautions and steps, and how numbers and money are written.
//
// There are five languages, each in files of its own: English, German, French,
// Italian and Polish. Words and what it holds are plain structs of phrases, so
// that two languages can stand on one card and a page can be in the reader's.
// The terms are those anglers and makers use, from general knowledge of the
// languages; where one is unsure, a comment says so.
//
// It holds no layout and decides nothing: a caller asks for a phrase by name.
// Errors and the terminal are English and have no words here.
package words

import (
	"slices"
	"strings"

	"golang.org/x/text/language"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Words are the phrases of one language. Fields in lower case as they stand in
// the middle of a line; a layout changes no letter but for a heading's capitals.
// A phrase with %s is filled in by its caller, in the order of the English one.
type Words struct {
	Language string // BCP 47, "en"
	Region   string // the reader's country, ISO 3166, "GB": how money is written
	Number   unit.Style
	Colon    string // between a name and what it is, with its blanks

	// The figures of a mark. They stand on a thin body: the shortest that an
	// angler understands.
	BuiltIn, Add, About, NothingToAdd, Fresh, Sea string
	// A card.
	ToAddAsShot, EachInItsMetal, ScanForRecord, Batch, Float, Long, Body                                                               string
	BuiltInWeight, NoLead, ContainsLead, Nothing, Waterline, Rings, RingIs                                                             string
	Loaded, Unloaded, SelfCocking, Exchangeable, Setups, With, CodeOnCard, CodeOnFloat, CodeHeldSquare, WeighBeforeUse, NoShotPossible string
	Regraded, MeasuredSum, Tip, High, Low, ByRounding                                                                                  string
	Toy, SmallParts, Children, NeverBite, WashHands                                                                                    string
	// A sheet.
	ActualSize, Sheet, Of, LowerEdge, FromBase, ThisEdgeDown, CheckLine, ThisLineIs, Spare, MarkReady string
	UpperEdge, FromTip, Mirrored                                                                      string
	// The job sheet.
	JobSheet, Number1, ID, Rating, Printed, Where, Cut, Applied, Varnished, Retested, Cautions string
	DayCautions                                                                                []string
	// A card, beside the picture and the code.
	LifeSize, LineAt, ScanForFigures string
	// The job sheet's further headings, and the order of a marking day.
	Date, Maker, Pattern, Code, Note, OrderOfDay, CommonPractice string
	DaySteps                                                     []string

	Names  map[string]string // what the tables of metals, conventions and stocks are called in English -> here; see Name
	Ground GroundRings
	Steps  Steps
	Jig    Jig
	Spread Spread
	Order  Order
	Files  Files
	Tests  Tests
}

// Tags returns the BCP 47 tags of the languages there are words for, English
// first: what a reader gets who asks for none.
func Tags() []string { return []string{"en", "de", "fr", "it", "pl"} }

// For returns the words of the language that a BCP 47 tag names: "de-AT" is German
// for a reader in Austria, "" is English. A tag without a country gets the
// language's largest. Any other language is an Input error that lists Tags, also
// one whose readers mostly know one of these, which CLDR would match: who sets a
// language for print wants that one.
func For(tag string) (Words, error) {
	if tag == "" {
		return english(), nil
	}
	asked, err := language.Parse(tag)
	if err != nil {
		return Words{}, none(tag)
	}
	base, _, region := asked.Raw()
	i := slices.Index(Tags(), base.String())
	if i < 0 {
		return Words{}, none(tag)
	}
	w := [...]func() Words{english, german, french, italian, polish}[i]()
	if region.IsCountry() {
		w.Region = region.String()
		w.Number.Comma = w.Number.Comma && !points(w.Language+"-"+w.Region)
	}
	return w, nil
}

func none(tag string) error {
	return fault.Inputf(`use one of: "`+strings.Join(Tags(), `", "`)+`"`, "there are no words for the language %q", tag)
}

// points reports whether a country writes a decimal point where its language
// has a comma (CLDR).
func points(locale string) bool {
	switch locale {
	case "de-CH", "de-LI", "it-CH":
		return true
	}
	return false
}

// Gram writes a mass rounded to step: "0.85 g".
func (w Words) Gram(g, step unit.Gram) string { return g.Text(step, w.Number) }

// FixedGram writes a mass with every decimal of step: "8.00 g".
func (w Words) FixedGram(g, step unit.Gram) string { return g.FixedText(step, w.Number) }

// Millimetre writes a length rounded to step: "16 mm".
func (w Words) Millimetre(m, step unit.Millimetre) string { return m.Text(step, w.Number) }
