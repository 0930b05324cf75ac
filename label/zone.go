package label

import (
	"slices"

	"floatmark/loading/unit"
)

// Part is one thing that a mark can show.
type Part int

// The parts. Band, rings and rule are strips: one colour all round the body.
// The others are words, but for the code and the maker's own mark.
const (
	PartBand Part = iota
	PartRings
	PartRule
	PartRating
	PartBuiltIn
	PartAdd
	PartShot
	PartMetal
	PartEquivalents
	PartID
	PartSetup
	PartCode
	PartMaker
	PartText
	PartDedication
	PartOwnMark
	parts
)

var partNames = [parts]string{"band", "rings", "rule", "rating", "built in", "add", "shot", "metal", "equivalents",
	"id", "set-up", "code", "maker", "text", "dedication", "own mark"}

// String returns the part as batch files name it.
func (p Part) String() string { return partNames[p] }

// PartNames returns the names of all parts, in order.
func PartNames() []string { return partNames[:] }

// ParsePart finds a part by its name.
func ParsePart(name string) (Part, bool) {
	i := slices.Index(partNames[:], name)
	return Part(max(i, 0)), i >= 0
}

// Strip reports whether the part is one colour all round the body.
func (p Part) Strip() bool { return p <= PartRule }

// Role returns the meaning of the part's line; ok is false for strips and the
// code, which are no line.
func (p Part) Role() (r Role, ok bool) {
	switch p {
	case PartRating:
		return RoleRating, true
	case PartBuiltIn:
		return RoleBuiltIn, true
	case PartAdd:
		return RoleAdd, true
	case PartShot:
		return RoleShot, true
	case PartMetal:
		return RoleMetal, true
	case PartEquivalents:
		return RoleEquivalent, true
	case PartID:
		return RoleID, true
	case PartSetup:
		return RoleSetup, true
	case PartMaker:
		return RoleMaker, true
	case PartText:
		return RoleText, true
	case PartDedication:
		return RoleDedication, true
	case PartOwnMark:
		return RoleOwnMark, true
	}
	return 0, false
}

// Show is what a zone shows: strips under its upper edge and over its lower one,
// from the tip's end down, and between them words: on faces side by side round
// the body, or in one row.
type Show struct {
	Top, Foot []Part   // strips
	Faces     [][]Part // each read from one side, from the top down; nil for a row
	Row       []Part   // round the body on one line, or a side each lengthwise
}

// Parts returns every part that is shown.
func (s Show) Parts() []Part {
	all := slices.Concat(s.Top, s.Row, s.Foot)
	for _, f := range s.Faces {
		all = append(all, f...)
	}
	return all
}

// Has reports whether the part is shown.
func (s Show) Has(p Part) bool { return slices.Contains(s.Parts(), p) }

// LeastShow is the mark that tells the least that is true: the default.
func LeastShow() Show {
	return Show{Top: []Part{PartRings}, Row: []Part{PartRating, PartAdd, PartID, PartSetup, PartDedication}}
}

// FullShow adds the band, what is built in, the shot with its metal and the
// code. Its three faces are read without turning the float.
func FullShow() Show {
	return Show{Top: []Part{PartBand, PartRings}, Faces: [][]Part{
		{PartRating, PartBuiltIn, PartAdd},
		{PartCode, PartID},
		{PartSetup, PartShot, PartMetal, PartDedication},
	}}
}

// Fit says how a flat piece goes round the body.
type Fit int

// FitAuto is a full wrap; on a hand-made body that was not measured, a part
// wrap, since its edges would not meet.
const (
	FitAuto  Fit = iota
	FitFull      // edges overlap
	FitButt      // edges leave a gap
	FitPart      // covers an arc, no seam
	FitPatch     // a strip along the axis, no seam
)

// FitNames are the words for a fit, in order.
var fitNames = []string{"auto", "full", "butt", "part", "patch"}

// FitNames returns the words for a fit, in the order of the constants.
func FitNames() []string { return slices.Clone(fitNames) }

// String returns the fit as batch files name it.
func (f Fit) String() string { return fitNames[f] }

// Stretch says what is done where the film would have to stretch more than it
// bears.
type Stretch int

// StretchAuto splits where strips and words can be parted, else shortens.
const (
	StretchAuto Stretch = iota
	StretchSplit
	StretchShorten
)

var stretchNames = []string{"auto", "split", "shorten"}

// StretchNames returns the words for it, in the order of the constants.
func StretchNames() []string { return slices.Clone(stretchNames) }

// The styles of a zone, as batch files and records name them.
const (
	StyleLeast = "least" // LeastShow
	StyleFull  = "full"  // FullShow
	StyleOwn   = "own"   // the maker's own choice and order of parts
)

// ReadyMade returns what a style shows; nothing for StyleOwn.
func ReadyMade(style string) Show {
	switch style {
	case StyleLeast:
		return LeastShow()
	case StyleFull:
		return FullShow()
	}
	return Show{}
}

// Zone is one stretch of the body that bears marks: one flat piece, or several
// where one would not lie flat.
type Zone struct {
	Style  string          // StyleLeast, StyleFull or StyleOwn
	From   unit.Millimetre // its lower edge over the base end
	Height unit.Millimetre // along the axis
	// AtTip says that the maker placed it from the tip's end: FromTip is then
	// what he gave, the distance of its upper edge from the top of the tip.
	AtTip   bool
	FromTip unit.Millimetre
	Show    Show
	Text    string // of PartText
	Turn    Turn
	Repeat  int     // how often the words stand round the body; 0 lets the layout choose
	Floor   float64 // least height of capitals, mm; 0 for the usual one
	Fit     Fit
	Arc     float64 // of a part wrap, degrees; 0 for as much as leaves a safe gap
	Width   float64 // of a patch, mm
	Overlap float64 // of a full wrap, gap of a butt joint, mm; 0 for the batch's
	Stretch Stretch
	Where   string // place in the batch file, for messages
}

// To is the zone's upper edge over the base end.
func (z Zone) To() unit.Millimetre { return z.From + z.Height }

// Shows reports whether any zone of the pattern shows the part.
func (p *Pattern) Shows(part Part) bool {
	return slices.ContainsFunc(p.Zones, func(z Zone) bool { return z.Show.Has(part) })
}

// Main is the zone that the words of a placing speak of: the first that shows
// the rating, else the first.
func (p *Pattern) Main() Zone {
	for _, z := range p.Zones {
		if z.Show.Has(PartRating) {
			return z
		}
	}
	if len(p.Zones) == 0 {
		return Zone{}
	}
	return p.Zones[0]
}
