package legible

import (
	"math"

	"floatmark/layouts/draw"
	"floatmark/loading/unit"
)

// Weight is which of the two faces a line is set in.
type Weight int

// The weights.
const (
	Bold    Weight = iota // figures and names
	Regular               // what explains them
)

// strokes are what ink must keep of a face, in capitals.
type strokes struct {
	stem float64 // width of the capital I
	bar  float64 // height of the bar of H: the finest stroke
	eye  float64 // height of the hole in e: the first to fill up
}

// Measured once from the outlines of the built-in faces, to 0.001 of a capital.
var weights = [...]strokes{
	Bold:    {stem: 0.202, bar: 0.168, eye: 0.152},
	Regular: {stem: 0.126, bar: 0.108, eye: 0.212},
}

// Floors of lettering. What is Doubtful is told; what is Unreadable is no print
// to hand out.
const (
	// leastCap: 0.9 mm is what Regulation (EU) No 1169/2011, article 13, allows
	// for small letters on packages of less than 80 cm² (from memory; laws
	// change). Borrowed like CapFloor: no rule is known for floats.
	leastCap = 0.9
	// fewDots and leastDots are printer dots to the finest stroke: under two its
	// width depends on where it falls among the dots, under one it has gaps.
	// Estimates, no source.
	fewDots   = 2.0
	leastDots = 1.0
	// leastEye is printer dots that the ink leaves of the hole in e; an estimate,
	// no source.
	leastEye = 1.0
)

// Setting is one line of print as it lies on the body.
type Setting struct {
	Text   string
	Cap    float64 // height of its capitals, mm
	Weight Weight
	Dot    float64  // of the printer, mm; 0 when it is lettered by hand
	Gain   float64  // by which its ink spreads past each edge, mm
	Ink    draw.Ink // as seen on its ground: what Printed returns
	Ground draw.Ink // as seen beside it
	// Half is how far round the body, in degrees off the middle of the line, it
	// ends: its first and last letters, or the head and foot of its capitals if it
	// runs lengthwise. 0 on a card.
	Half       float64
	Lengthwise bool
}

// Line is what one line of print comes to.
type Line struct {
	Text     string
	Cap      float64 // as printed, mm
	Seen     float64 // height of its capitals as seen from the front, mm
	Stroke   float64 // the stem of a capital as drawn, mm
	Dots     float64 // printer dots to its finest stroke; 0 by hand
	Eye      float64 // printer dots that ink leaves open in the hole of e; below 0 when it closes; 0 by hand
	Contrast float64 // 1 to 21
	Edge     float64 // share of its width that is seen at its ends, of its height if Lengthwise; 0 out of sight
	Grade    Grading
	Why      []string // plain sentences on what is not Good, the worst first
}

// JudgeLine judges one line by the height of its capitals, the printer's dots and
// ink, contrast and foreshortening. Ends that lie round the side are at worst
// Doubtful, since a float can be turned. A measure that is no number is
// Unreadable.
func JudgeLine(s Setting) Line {
	w := weights[min(max(s.Weight, Bold), Regular)]
	l := Line{Text: s.Text, Cap: s.Cap, Seen: s.Cap, Stroke: w.stem * s.Cap, Contrast: Contrast(s.Ink, s.Ground)}
	half := s.Half * math.Pi / 180
	l.Edge = math.Max(0, math.Cos(math.Min(half, math.Pi/2)))
	if half >= math.Pi/2 {
		l.Edge = 0 // and not the cosine's rounding
	}
	if s.Lengthwise && half > 0 {
		// The capitals are the arc 2·half of the girth; its chord is seen.
		l.Seen = s.Cap * math.Sin(math.Min(half, math.Pi/2)) / half
	}
	if s.Dot > 0 {
		bar, eye := w.bar*s.Cap, w.eye*s.Cap
		spread := 2 * s.Gain // both edges
		if Reflectance(s.Ink) > Reflectance(s.Ground) {
			// Knocked out of a dark ground, it is the letters that the ink eats.
			bar, spread = bar-spread, 0
		}
		l.Dots, l.Eye = bar/s.Dot, (eye-spread)/s.Dot
	}
	l.judge(s)
	return l
}

// arcSlack is by how many degrees a line may go beyond the arcs: those are round
// figures, and on a cone the middle of letters lies a little further round than
// the feet by which they are sized.
const arcSlack = 2.0

// hair is far below anything printed: a line made to just fit a floor meets it.
const hair = 1e-9

func (l *Line) judge(s Setting) {
	var doubts []string
	say := func(g Grading, why string) {
		switch {
		case g == Unreadable:
			l.Why = append(l.Why, why)
		case g == Doubtful:
			doubts = append(doubts, why)
		}
		l.Grade = max(l.Grade, g)
	}
	look := ""
	if l.Seen < l.Cap-hair {
		look = " as seen round the body"
	}
	say(grade(l.Seen+hair, leastCap, CapFloor), "Its capitals are "+downHundredth(l.Seen)+look+"; "+hundredth(CapFloor)+" or more is wanted.")
	say(grade(l.Contrast, BigContrast, TextContrast), "Its contrast is "+ratio(l.Contrast)+"; "+ratio(TextContrast)+" or more is wanted.")
	if s.Dot > 0 {
		say(grade(l.Dots+hair, leastDots, fewDots), "Its finest strokes are "+downTenth(l.Dots)+" printer dots; "+count(fewDots)+" or more are wanted.")
		switch {
		case l.Eye <= 0:
			say(Unreadable, "The ink closes the holes of its letters: print it larger, or with less ink.")
		case l.Eye < leastEye-hair:
			say(Doubtful, "The ink leaves less than a dot open in the holes of its letters: try one first.")
		}
	}
	most, across := ReadableDegrees/2.0, "Its ends lie "
	if s.Lengthwise {
		most, across = lengthwiseArc/2.0, "Head and foot of its letters lie "
	}
	if !(s.Half <= most+arcSlack) {
		say(Doubtful, across+degreesUp(s.Half)+" round the side, where "+percent(l.Edge)+" is seen of them: the float must be turned to read it.")
	}
	l.Why = append(l.Why, doubts...)
}

// String tells the line in one: what it is, its figures, its grading and what is
// wrong with it.
func (l Line) String() string {
	t := "\"" + l.Text + "\": capitals " + hundredth(l.Cap)
	if l.Seen < l.Cap-told {
		t += " (seen as " + downHundredth(l.Seen) + ")"
	}
	t += ", strokes " + hundredth(l.Stroke)
	if l.Dots != 0 || l.Eye != 0 {
		t += ", the finest " + downTenth(l.Dots) + " dots"
	}
	t += ", contrast " + ratio(l.Contrast) + ", " + percent(l.Edge) + " seen at the ends: " + l.Grade.String()
	for _, w := range l.Why {
		t += ". " + w[:len(w)-1]
	}
	return t
}

// told is the step that millimetres are told to.
const told = 0.01

// downHundredth and downTenth round down, so that what lacks a floor never looks
// as if it met it.
func downHundredth(mm float64) string { return hundredth(math.Floor(mm/told+1e-6) * told) }
func downTenth(v float64) string {
	return unit.Number(math.Floor(10*v+1e-6)/10, 0.1, unit.Style{})
}
func downHundredthOf(v float64) string {
	return unit.Number(math.Floor(100*v+1e-6)/100, 0.01, unit.Style{})
}
func degreesUp(a float64) string { return count(int(math.Ceil(a-1e-9))) + " degrees" }
