// Package proof tells whether a code will read on the float it is printed for:
// it makes simulated phone pictures of that very design on that body, over a
// frozen list of poses, and has them read by a reader that knows nothing of how
// they were made.
//
// Lengths are millimetres, angles radians, reflectances shares of 1. It chooses
// no size and lays nothing out; the closed form of layouts/legible proposes and
// this decides. It is a model: no real phone took part, and what it leaves out
// is told at Verdict. Same design, same pictures, same verdict.
package proof

import (
	"context"
	"image"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/layouts/draw"
	"floatmark/layouts/stock"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/fault"
)

// Design is a code on a float.
type Design struct {
	Profile body.Profile
	Flat    wrap.Flat // the piece it is printed on
	// Codes are samples of what is printed so, all of one size and level: the
	// pictures take them in turn, PosesPerCode to each, so that those beyond
	// MaxCodes are not looked at.
	Codes  []symbol.Matrix
	Module float64 // mm to a square
	// Columns are the edges of the columns for a code that is widened sideways
	// so as to look square from the front: one more than squares to a side, mm
	// from the code's middle, rising. nil is a plain square of Module.
	Columns  []float64
	Theta, S float64 // place of the code's middle on Flat; it stands square to its meridian
	Quiet    int     // squares of pale edge
	// Film is the colour of the film, or its tint if it is Clear, and Paint what
	// lies under it. The code is black.
	Film, Paint draw.Ink
	Clear       bool
	// Gloss is how the varnish shines, 0 (matt) to 1. In a third of the pictures
	// a window is mirrored beside the code: a line of 1.2 times white at 1; satin
	// is about SatinGloss. A line across a code spoils it whatever the design,
	// and is the hand's to avoid.
	Gloss   float64
	Printer stock.Printer // its dots, and the spread of its ink
}

// SatinGloss is the Gloss of a satin varnish: a highlight of 0.3 of white
// (estimate).
const SatinGloss = 0.25

const (
	// PosesPerCode is how many pictures in a row show the same code.
	PosesPerCode = 4
	// MaxCodes is how many different codes the pictures of a set show.
	MaxCodes = len(frozen) / PosesPerCode
)

// Grade is how carelessly the phone may be held.
type Grade string

// The grades: Casual within 20 degrees of square either way, Aim within 10.
const (
	Casual Grade = "casual"
	Aim    Grade = "aim"
	None   Grade = "none"
)

// Picture is one phone picture, cut out round the code.
type Picture struct {
	Grade Grade // the set it belongs to
	Pose  Pose
	Text  string // what the code says
	Image *image.Gray
}

// Score is what was read of one set of pictures.
type Score struct {
	Grade    Grade
	Read, Of int
	// Foreseen is how many a look along single rays through the middle of every
	// square expects to read: it errs on the side of yes.
	Foreseen int
	// Skipped says that so few were foreseen that no picture was made.
	Skipped bool
}

// Pass reports whether enough was read: as many as the grade's Needed.
func (s Score) Pass() bool { return s.Of > 0 && s.Read >= s.Grade.Needed() }

// Needed is how many of the 16 pictures of a grade must read: 15. Of 96 random
// designs about their smallest bodies 83 pass so; the best of three other readers
// reads 15 or more of the same pictures in 81 of them and 12 in the worst, and
// the next best 13 and more in all. Were 14 enough at Casual, it would be 15 or
// more in 33 of the 40 that pass there.
func (g Grade) Needed() int {
	if g == Casual {
		return neededCasual
	}
	return neededAim
}

const (
	neededAim    = 15
	neededCasual = 15
)

// Verdict is what the pictures say. The model has no sharpening, no JPEG, no
// shake of the hand, no distortion of the lens and no stretch of the film
// across; with 16 pictures to a set the smallest body that passes scatters by
// about 1 mm.
type Verdict struct {
	Grade    Grade     // the best that was reached, of those asked for
	Scores   []Score   // one of each set looked at, Aim first
	Pictures []Picture // those that did not read, in the order of the poses
}

// Score returns the score of one grade; ok is false if it was not looked at.
func (v Verdict) Score(g Grade) (s Score, ok bool) {
	for _, s := range v.Scores {
		if s.Grade == g {
			return s, true
		}
	}
	return Score{}, false
}

// Prove makes the pictures and has them read: those of Aim, and when Casual is
// wanted and Aim was reached those of Casual. progress, if not nil, is told how
// many of the pictures are done. A design that cannot be is an Input error, one
// whose code does not lie on the body NoFit; the context's error is returned
// when it ends.
func Prove(ctx context.Context, d Design, want Grade, progress func(done, total int)) (Verdict, error) {
	sets, err := setsFor(want)
	if err != nil {
		return Verdict{}, err
	}
	st, err := newStudio(d)
	if err != nil {
		return Verdict{}, err
	}
	v := Verdict{Grade: None}
	total, done := len(sets)*len(Poses(Aim)), 0
	tell := func(n int) {
		if done += n; progress != nil {
			progress(done, total)
		}
	}
	for _, g := range sets {
		s, pictures, err := st.set(ctx, g, tell)
		if err != nil {
			return Verdict{}, err
		}
		v.Scores = append(v.Scores, s)
		v.Pictures = append(v.Pictures, pictures...)
		if !s.Pass() {
			break
		}
		v.Grade = g
	}
	if done < total {
		tell(total - done)
	}
	return v, nil
}

func setsFor(want Grade) ([]Grade, error) {
	switch want {
	case Aim:
		return []Grade{Aim}, nil
	case Casual:
		return []Grade{Aim, Casual}, nil
	}
	return nil, fault.New(fault.Ours, "", "a code was to be proved for a grade that does not exist", "")
}

// set makes and reads the pictures of one grade.
func (st *studio) set(ctx context.Context, g Grade, tell func(int)) (Score, []Picture, error) {
	poses := Poses(g)
	s := Score{Grade: g, Of: len(poses)}
	for i, p := range poses {
		if st.foresee(p, st.code(i)) {
			s.Foreseen++
		}
	}
	s.Skipped = !st.all && s.Foreseen < g.Needed()-spare
	var failed []Picture
	for i, p := range poses {
		if err := ctx.Err(); err != nil {
			return Score{}, nil, err
		}
		if s.Skipped && len(failed) == shown {
			break
		}
		img := st.picture(p, st.code(i))
		text := st.matrix(i).Text
		if got, err := scan.QR(img); err == nil && got == text {
			s.Read++
		} else {
			failed = append(failed, Picture{Grade: g, Pose: p, Text: text, Image: img})
		}
		tell(1)
	}
	return s, failed, nil
}

const (
	// spare: when even the look along single rays falls short of Needed by more
	// than this, the pictures are not all made. It says no to 1 in a hundred
	// that read.
	spare = 2
	// shown is how many pictures are kept of a set that is not all made.
	shown = 3
)
