// Package decal lays the mark of one float out on the flat pieces that go round
// its body: strips, words, code, cut outline and the caption outside it.
//
// Lengths are millimetres. A piece lies as wrap develops it: tip up, origin at
// the foot of the centre meridian. Which words a mark has is label's affair; how
// a zone is cut, how big the words are, which way they run and whether the code
// fits is decided here.
package decal

import (
	"fmt"
	"slices"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/label/words"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
	"floatmark/loading"
	"floatmark/loading/body"
	"floatmark/loading/fault"
)

// Spec is what one mark is laid out from.
type Spec struct {
	Mark     label.Mark
	Pattern  *label.Pattern
	Body     body.Profile // the float's own shape; empty for the pattern's
	Measured bool         // Body was measured on this very float
	Fonts    fonts.Set
	Film     stock.Stock
	Printer  stock.Printer
	Overlap  float64 // of the seam, mm; negative leaves a gap
	Limit    float64 // hoop strain that the film bears, 0.02 is 2 %; 0 for UsualLimit
	LimitBy  string  // where the limit comes from, for messages; "" for an estimate
	Floor    float64 // least height of capitals, mm; 0 for legible.CapFloor
	OwnMark  geom.Path
	Caption  string  // what the piece is for, outside the trim; "" for the float's number
	Bleed    float64 // how far colour that meets the cut goes beyond it, mm; 0 where it is cut by hand
	Words    words.Words
	Codes    *symbol.Memory   // remembers codes; nil makes each anew
	Limits   legible.Limits   // what this workshop's phones bear; zero for the model's
	Prove    func(Code) Proof // says whether a code reads on its float; nil leaves it to the closed form
	Want     string           // legible.Casual when a code that must be held square is not wanted
	Cuts     *Cuts            // remembers how zones are cut; nil works each out anew
}

// UsualLimit is the hoop strain of waterslide film with softener: an estimate.
func UsualLimit() float64 {
	l, _ := wrap.LimitOf("waterslide-softener")
	return l.Limit
}

// Piece is one flat piece of a mark.
type Piece struct {
	nest.Piece
	Flat    wrap.Flat
	Zone    label.Zone     // the zone it is of
	Turn    label.Turn     // label.Round or label.Lengthwise; which way its words run
	Repeats int            // how often the words stand round the body
	Printed []label.Line   // the lines that are really on it
	Lines   []legible.Line // how each of its words reads, as they are set: lengthwise what stands together is one
	Code    *Code
	Strain  float64 // what the film must stretch or shrink; 0.02 is 2 %
	Least   float64 // smallest capitals on it, mm; 0 when it has no words
}

// Result is the laid-out mark and what was decided on the way.
type Result struct {
	Pieces  []Piece      // zone by zone in the pattern's order, each from the base end up
	Turn    label.Turn   // of the piece with the rating
	Printed []label.Line // the lines that are really on the float
	CodeOn  bool         // the code is on the float
	Code    *Code
	Rings   []Ring // of pale paint that the mark needs under it
	Notices []loading.Notice
}

// Strain is the largest of the pieces' strains.
func (r Result) Strain() float64 {
	worst := 0.0
	for _, p := range r.Pieces {
		worst = max(worst, p.Strain)
	}
	return worst
}

// Lay lays the mark out. A zone that leaves the body is an Input error; a zone
// that no cut makes lie flat, and words that fit neither way at the least
// capitals, are NoFit errors that say what would do; a mark without words is a
// fault of class Ours. A code that the body cannot carry is no error: the piece
// leaves it out and a notice says so, since the card carries it.
func Lay(s Spec) (Result, error) {
	if len(s.Mark.Lines) == 0 {
		return Result{}, fault.New(fault.Ours, "", "a mark without words", "")
	}
	if len(s.Body.Stations()) == 0 {
		s.Body = s.Pattern.Profile
	}
	if s.Limit == 0 {
		s.Limit = UsualLimit()
	}
	if s.Floor == 0 {
		s.Floor = legible.CapFloor
	}
	r := Result{Turn: label.Round}
	main := s.Pattern.Main().From
	for i, z := range s.Pattern.Zones {
		pieces, notices, err := s.zone(i, z)
		if err != nil {
			return Result{}, fault.At(z.Where, err)
		}
		for _, n := range notices {
			if !slices.Contains(r.Notices, n) { // pieces of one zone may say the same
				r.Notices = append(r.Notices, n)
			}
		}
		for _, p := range pieces {
			r.Printed = append(r.Printed, p.Printed...)
			if p.Code != nil {
				r.CodeOn, r.Code = true, p.Code
			}
			if z.From == main && len(p.Printed) > 0 {
				r.Turn = p.Turn
			}
		}
		r.Pieces = append(r.Pieces, pieces...)
		r.Rings = append(r.Rings, s.ring(z, pieces)...)
	}
	for i := range r.Pieces {
		name := fmt.Sprintf("float %d", s.Mark.Number)
		if len(r.Pieces) > 1 {
			name = fmt.Sprintf("float %d, %d of %d", s.Mark.Number, i+1, len(r.Pieces))
		}
		r.Pieces[i].Name, r.Pieces[i].Drawing.Name = name, name
		r.Pieces[i].Keep = s.Mark.ID // the same on all of them, and on no other float's
	}
	return r, nil
}
