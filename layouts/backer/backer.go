// Package backer lays out the card a float is sold on, front and back, with its
// hang hole, its holds and its folds, and several cards on a sheet with crop marks.
//
// Lengths are millimetres, origin at the card's top left trim corner, y down;
// what bleeds reaches beyond the trim, everything else stays in the safe zone or
// its cuts. Masses are grams. Words stand on a baseline grid. The package decides
// where a card's words stand and how big they are; which words, label.Card says.
package backer

import (
	"fmt"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/label/words"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/body"
	"floatmark/loading/fault"
)

// ThirdA4 is the default card: 99 by 210 mm, a third of A4 as the trade names
// it (297/3 by 210, ISO 216).
var ThirdA4 = geom.Size{W: 99, H: 210}

// HeaderPanel is the default front of a header card, mm. Own choice.
var HeaderPanel = geom.Size{W: 99, H: 85}

// Least is the smallest card that is laid out, mm. Own choice.
var Least = geom.Size{W: 60, H: 70}

// Measures of a card, mm.
const (
	// Safe is how far print stays from the trim: the usual safe zone of print
	// shops' pages, 3 to 5 mm, at its upper end since a card is cut by hand.
	Safe = 5.0
	// Bleed is how far a ground that meets the trim goes beyond it: the usual 3 mm
	// (1/8 in) of print shops' pages.
	Bleed = 3.0
	// Hole is the hang hole's diameter and HoleDepth its centre under the top
	// edge: an office punch, ISO 838, 6 ± 0.5 mm at 12 ± 1 mm.
	Hole      = 6.0
	HoleDepth = 12.0
	// holeClear keeps words off the hole's rim, whose place may miss by 1 mm,
	// with another millimetre of card to the eye. Own choice.
	holeClear = 2.0
	// smallX is the floor of small print, as the height of a small x: a common
	// floor of the small print on packs, from memory. Nothing here goes under it.
	smallX = 1.2
	// gutter is the air between the float's column and the words. Own choice.
	gutter = 4.0
	// leastColumn is the narrowest column of words worth setting. Own choice.
	leastColumn = 20.0
	// gram is the usual board of a card, g/m².
	gram = 300.0
)

// Kind is how a card is made up.
type Kind int

// The kinds.
const (
	Flat   Kind = iota // one piece, printed on the front or on both sides
	Fold               // folded along its left edge: front and back printed on one side
	Header             // folded over the mouth of a bag; the float is in the bag
	Insert             // rolled into a clear tube; the float is in the tube
)

// KindNames are the words batch files have for them, in order.
func KindNames() []string { return []string{"flat", "fold", "header", "insert"} }

// Arrangement is how a card's parts stand to each other.
type Arrangement int

// The arrangements, our own.
const (
	Bank    Arrangement = iota // the float at the left like a rod on its rest, the words beside it
	Stream                     // the float stands in the middle, in water to its waterline
	Pennant                    // a flag in the rating's colour hangs from the top edge, the float at the right
)

// ArrangementNames are the words batch files have for them, in order.
func ArrangementNames() []string { return []string{"bank", "stream", "pennant"} }

// Style is how a maker wants cards. The zero value is a flat card printed on its
// front.
type Style struct {
	Kind        Kind
	Arrangement Arrangement
	Sides       int // 1 or 2 of a flat card or an insert; 0 is 1
	Hang        Hang
	NoHolds     bool
	NoPicture   bool      // the float is not drawn: it lies there itself
	Overhang    float64   // mm that a float may stand out below its card
	Corner      float64   // radius of the corners, mm; 0 is square
	Ground      *draw.Ink // of the whole card; nil for the card as bought
	Ink         *draw.Ink // of the words; nil is black
	Accent      *draw.Ink // nil for the rating's band
	Grammage    float64   // of the board, g/m²; 0 for 300
}

// Spec is one card to lay out.
type Spec struct {
	Card    label.Card
	Also    *label.Card   // the same float's, in a second language; nil for one language
	Body    body.Profile  // the float's own shape; zero for the pattern's
	Set     []Member      // the floats of a set, Card then speaking for all; nil for one float
	Pieces  []decal.Piece // of its mark, drawn where they sit; nil for the mark's strips
	Emblem  geom.Path     // the maker's own mark, in units of its own; nil for none
	Fonts   fonts.Set
	Size    geom.Size // of the card as it hangs, folded; the zero Size is ThirdA4
	Printer stock.Printer
	Codes   *symbol.Memory // remembers codes; nil makes each anew
	Memory  *Memory        // of a whole batch's cards; nil for this card's own
	Words   words.Words
	Second  words.Words // of Also
	Style   Style
	// Step is the largest step of the grid's size to try, 0 the most comfortable:
	// what another card of the batch came to, for both to look alike.
	Step int
}

// Area is a ground that may meet the trim. Where it does it bleeds, on the sides
// that have room for it.
type Area struct {
	Rect geom.Rect
	Ink  draw.Ink
}

// FoldLine is a fold across a whole piece: from one edge to the other.
type FoldLine struct{ From, To geom.Point }

// Notice is what a maker is told of a card: a stable code and one line.
type Notice struct{ Code, Text string }

// The codes of notices.
const (
	NoticeOverhang = "card-overhang" // the float stands out below its card
	NoticeTilt     = "card-tilt"     // the card hangs askew
	NoticeSlot     = "card-slot"     // check the slot against its standard
	NoticeHold     = "card-hold"     // a hold found no place near 20 to 25 % from its end
	NoticeGrain    = "card-grain"    // the fold runs across the grain
	NoticeSize     = "card-size"     // a larger card was taken
	NoticeSet      = "card-set"      // a set's floats are not told in every convention
)

// Laid is a card laid out: one piece of card, flat. Areas and what the sheets
// draw are in the piece's own mm; nothing but an Area goes beyond the trim.
type Laid struct {
	Front, Back           *draw.Sheet // Back is nil when it is printed on one side
	FrontAreas, BackAreas []Area
	Folds                 []FoldLine
	Corner                float64
	Holds                 []Hold
	Hung                  geom.Point // middle of the hang hole on the front panel; the zero Point for none
	Step                  int        // of the grid's size, 0 the most comfortable
	Tilt                  float64    // radians by which it leans, hung up with its float
	Notices               []Notice
}

// Size returns the size of the flat piece.
func (l Laid) Size() geom.Size { return l.Front.Size }

// Lay lays out one card. What does not fit is never cut: it is a NoFit error that
// names the field, its measure and what to change. The guide layer holds the
// drill target of the hang hole, the cut layer the cuts of the holds.
func Lay(s Spec) (Laid, error) {
	l, err := lay(s)
	if err != nil {
		return Laid{}, fault.At(fmt.Sprintf("float %d, card", s.Card.Number), err)
	}
	return l, nil
}

// block is one part of a card with the room it takes.
type block struct {
	name  string
	layer draw.Layer
	ops   []draw.Op
	boxes []geom.Rect // what it covers, mm; several where one would claim too much
	clear float64     // that must stay empty round the boxes, mm; may reach into the safe zone's margin
}

// ink turns a paint colour into an ink.
func ink(c label.Colour) draw.Ink { return draw.Ink{R: c.R, G: c.G, B: c.B} }
