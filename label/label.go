// Package label is the model of the job: makers, patterns, batches, floats and
// what is printed on one float, as data.
//
// It knows figures and words, but no paper, no ink and no place on a sheet:
// layouts decide where a mark's lines stand and how big they are.
package label

import (
	"fmt"
	"strconv"
	"strings"

	"floatmark/label/ident"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Maker is who answers for the floats.
type Maker struct {
	Name     string
	Address  []string // postal address, one line each
	Contact  string   // electronic address
	Host     string   // host of the link in a code, "" for none
	Language string   // BCP 47
	Market   string   // where the batch is sold: "GB", "EU", "US", "" for not said
	Currency string   // ISO 4217
}

// Colour is an sRGB colour of paint or of a band.
type Colour struct{ R, G, B uint8 }

// ParseColour reads "#c8402f".
func ParseColour(s string) (Colour, error) {
	v, err := strconv.ParseUint(strings.TrimPrefix(s, "#"), 16, 32)
	if err != nil || len(s) != 7 || s[0] != '#' {
		return Colour{}, fault.Inputf(`write it as six hexadecimal digits, as in "#c8402f"`, "%q is no colour", s)
	}
	return Colour{uint8(v >> 16), uint8(v >> 8), uint8(v)}, nil
}

// String returns the colour as "#c8402f".
func (c Colour) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Turn says which way the words of a mark run.
type Turn int

// Auto lets the layout choose: round the body where the words are then big
// enough to read, lengthwise where not.
const (
	Auto Turn = iota
	Round
	Lengthwise
)

// Pattern is a float's design.
type Pattern struct {
	Key, Name string
	Kind      loading.Kind
	Profile   body.Profile      // the whole float, from its base end to the top of its tip
	Waterline unit.Millimetre   // height of the target waterline over the base end
	TipFrom   unit.Millimetre   // height at which the coloured tip begins
	LineFixed string            // how the line is fixed: "bottom end", "top and bottom", "sliding"
	Material  []loading.Stretch // what it is made of from the base end up; nil when not said
	Body, Tip Colour            // paint
	Ground    Colour            // what lies under the mark: a pale ring of paint, or the film's own colour

	EAN string // its trade item number, thirteen digits; "" for none or where its ratings have theirs

	Varnish  Varnish // over the mark
	HandMade bool    // no two are alike: a full wrap needs the float's own diameters

	Zones []Zone // what is marked where; at least one

	Where string // place in the batch file, for messages
}

// TipDiameter is the diameter at the waterline, which decides how far the tip
// moves for a gram.
func (p *Pattern) TipDiameter() unit.Millimetre { return p.Profile.Diameter(p.Waterline) }

// Rating is what a batch says of one of its ratings.
type Rating struct {
	Nominal unit.Gram
	Band    Colour
	Price   string // plain decimal amount in the maker's currency, "" for none
	EAN     string // the maker's trade item number, thirteen digits; "" for none
}

// Float is one float of a batch.
type Float struct {
	Number  int // its place on the drying board, and in the batch
	ID      ident.ID
	Pattern *Pattern
	Nominal unit.Gram
	Weight  *loading.Weight // nil when nothing is built in
	Reading *tank.Reading   // with the weight fitted; nil when not tested
	Bare    *tank.Reading   // capacity before loading; nil when not tested
	Note    string
	Where   string // place in the batch file, for messages

	Profile  body.Profile // its own shape, by its own diameters; zero for the pattern's
	Measured bool         // that diameters or girths were taken on it

	Dedication string // a line for whom it is made for; "" for none

	// Setups are the ways an exchangeable float can be fitted; the first is the
	// one its body bears, and Weight, Reading and Bare are that one's. Empty for
	// other kinds.
	Setups []Setup
}

// Setup is one way an exchangeable float can be fitted.
type Setup struct {
	Name    string
	Nominal unit.Gram
	Weight  *loading.Weight
	Reading *tank.Reading
	Bare    *tank.Reading
}

// KindFitted is what a float is with that weight in it: exchangeable floats are
// rated set-up by set-up.
func KindFitted(k loading.Kind, w *loading.Weight) loading.Kind {
	switch {
	case k != loading.Exchangeable:
		return k
	case w == nil:
		return loading.Unloaded
	}
	return loading.Loaded
}

// Batch is one batch in the order of the drying board.
type Batch struct {
	Name, Date string // date: calendar text, "2026-11-20"
	Maker      Maker
	Convention shot.Convention   // of the marks
	Cards      []shot.Convention // rows of the card, in order
	Water      water.Water       // what the figures hold for
	Step       unit.Gram         // the maker's own printing step, 0 to take it from the uncertainty
	Tolerance  unit.Gram         // how far a float may be off its rating when the batch is graded; 0 for the coarsest printing step
	Ring       unit.Gram         // what a thin ring stands for; a thick one is five
	Ratings    []Rating
	Patterns   []*Pattern
	Floats     []Float
}

// RatingOf returns what the batch says of a rating; the zero band and no price
// for a rating it does not name.
func (b *Batch) RatingOf(nominal unit.Gram) Rating {
	for _, r := range b.Ratings {
		if r.Nominal == nominal {
			return r
		}
	}
	return Rating{Nominal: nominal}
}
