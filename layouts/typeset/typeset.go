// Package typeset turns words into glyph runs and sets them straight, along the
// axis or round an arc. Lengths are millimetres on the flat sheet.
//
// It is the one place where a face's outlines (y up) meet the page (y down).
// It knows no floats and no paper.
package typeset

import (
	"fmt"
	"strings"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Font is what a line is set in: a face, the face that stands in for glyphs the
// first lacks, and the cap height in mm.
type Font struct {
	Face, Fallback *fonts.Face
	Cap            float64 // height of a capital, mm
	Track          float64 // extra space after each glyph, mm
}

// Bold returns the set's bold at a cap height in mm.
func Bold(s fonts.Set, cap float64) Font { return Font{Face: s.Bold, Fallback: s.Fallback, Cap: cap} }

// Regular returns the set's regular at a cap height in mm.
func Regular(s fonts.Set, cap float64) Font {
	return Font{Face: s.Regular, Fallback: s.Fallback, Cap: cap}
}

// Line is one line of text, shaped: each glyph with the place of its origin
// along the baseline. Nothing is placed on a sheet yet.
type Line struct {
	Text   string  // in composed form
	Cap    float64 // cap height, mm
	Width  float64 // from the first origin to the last advance, mm
	glyphs []glyph
}

type glyph struct {
	face       *fonts.Face
	id         fonts.GlyphID
	em         float64 // mm per em
	x, advance float64 // mm
	r          rune
}

// Align says which part of a line sits on its anchor.
type Align int

// The alignments.
const (
	Left Align = iota
	Centre
	Right
)

func (l Line) start(a Align) float64 {
	switch a {
	case Centre:
		return -l.Width / 2
	case Right:
		return -l.Width
	}
	return 0
}

// Straight sets the line on a straight baseline: at maps the line's own frame
// (x along the baseline, y down, anchor at the origin) to the sheet.
func (l Line) Straight(at geom.Affine, a Align, ink draw.Ink) []draw.Op {
	x0 := l.start(a)
	return l.ops(ink, func(g glyph) geom.Affine {
		return geom.Translate(x0+g.x, 0).Then(at)
	})
}

// Along sets the line on a curve, glyph by glyph: frame(x) is the map of a
// frame with x along the baseline, y down, at the distance x mm from the anchor.
// Each glyph stands with the middle of its advance on its frame.
func (l Line) Along(frame func(x float64) geom.Affine, a Align, ink draw.Ink) []draw.Op {
	x0 := l.start(a)
	return l.ops(ink, func(g glyph) geom.Affine {
		return geom.Translate(-g.advance/2, 0).Then(frame(x0 + g.x + g.advance/2))
	})
}

// ops makes one Glyphs op for each run of one face.
func (l Line) ops(ink draw.Ink, place func(glyph) geom.Affine) []draw.Op {
	var out []draw.Op
	var run *draw.Glyphs
	var text strings.Builder
	for _, g := range l.glyphs {
		if run == nil || run.Face != g.face {
			if run != nil {
				run.Text = text.String()
				text.Reset()
			}
			run = &draw.Glyphs{Face: g.face, Ink: ink}
			out = append(out, run)
		}
		// Ems with y up become millimetres with y down: here and nowhere else.
		run.Run = append(run.Run, draw.Glyph{ID: g.id, At: geom.Scale(g.em, -g.em).Then(place(g))})
		text.WriteRune(g.r)
	}
	if run != nil {
		run.Text = text.String()
	}
	return out
}

// Fit returns the largest cap height, at most f.Cap, at which text is no wider
// than width mm, together with the shaped line. It refuses to go under floor
// with a NoFit error that names both measures.
func Fit(text string, f Font, width, floor float64) (Line, error) {
	line, err := Shape(text, f)
	if err != nil || line.Width <= width {
		return line, err
	}
	small := f
	small.Cap, small.Track = f.Cap*width/line.Width, f.Track*width/line.Width
	if small.Cap < floor {
		return Line{}, fault.New(fault.NoFit, "", fmt.Sprintf("%q needs %.1f mm at %.1f mm capitals and has %.1f mm",
			text, line.Width*floor/f.Cap, floor, width), "shorten the text or give it more room")
	}
	return Shape(text, small)
}
