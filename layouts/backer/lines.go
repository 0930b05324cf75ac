package backer

import (
	"math"
	"strings"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// A line's room above and below its baseline, in cap heights: tall small
// letters and descenders of the built-in faces. A line that reaches further,
// with an accent on a capital, takes what it needs.
const (
	ascent  = 1.06
	descent = 0.34
	leading = 0.26 // air between two lines of one paragraph
)

// floor is the cap height, in mm, at which a face's small letters stand smallX high.
func floor(f *fonts.Face) float64 {
	if f.XHeight() <= 0 {
		return smallX
	}
	return smallX * f.CapHeight() / f.XHeight()
}

// setting is a font with the floor its size may shrink to.
type setting struct {
	typeset.Font
	least float64
}

// set returns a setting whose capitals run from the floor (t 0) to most (t 1).
// A most under the floor is raised to it.
func set(f typeset.Font, t, most float64) setting {
	least := floor(f.Face)
	f.Cap = least + float64(t*math.Max(0, most-least))
	return setting{f, least}
}

// tracked returns the setting with extra space between its letters, in caps.
func (s setting) tracked(caps float64) setting { s.Track = caps * s.Cap; return s }

// fit shapes one line no wider than width, shrinking it to the floor at most.
func (s setting) fit(field, text string, width float64) (typeset.Line, error) {
	l, err := typeset.Fit(text, s.Font, width, s.least)
	return l, fault.At(field, err)
}

// extent returns how far a line's ink reaches above and below its baseline.
func extent(l typeset.Line) (up, down float64) {
	b := draw.Bounds(l.Straight(geom.Identity, typeset.Left, draw.Black))
	return math.Max(ascent*l.Cap, -b.Min.Y), math.Max(descent*l.Cap, b.Max.Y)
}

// piece is ink that can be put at any height: its top at the given y.
type piece struct {
	h    float64
	draw func(top float64) []draw.Op
}

// single is one line of text as a piece, anchored at x.
func single(l typeset.Line, x float64, a typeset.Align) piece {
	up, down := extent(l)
	return piece{up + down, func(top float64) []draw.Op {
		return l.Straight(geom.Translate(x, top+up), a, draw.Black)
	}}
}

// pair is two lines on one baseline, one at each edge.
func pair(left, right typeset.Line, x0, x1 float64) piece {
	u0, d0 := extent(left)
	u1, d1 := extent(right)
	up := math.Max(u0, u1)
	return piece{up + math.Max(d0, d1), func(top float64) []draw.Op {
		ops := left.Straight(geom.Translate(x0, top+up), typeset.Left, draw.Black)
		return append(ops, right.Straight(geom.Translate(x1, top+up), typeset.Right, draw.Black)...)
	}}
}

// stack puts pieces one under the other with air between them.
func stack(air float64, parts ...piece) piece {
	h := 0.0
	for i, p := range parts {
		if i > 0 {
			h += air
		}
		h += p.h
	}
	return piece{h, func(top float64) []draw.Op {
		var ops []draw.Op
		for _, p := range parts {
			ops = append(ops, p.draw(top)...)
			top += p.h + air
		}
		return ops
	}}
}

// paragraph breaks text into lines no wider than width: at dots between
// phrases first, then at blanks, then before the @ of an address. A word that
// is still too wide shrinks to the floor, and is refused there.
func (s setting) paragraph(field, text string, x, width float64, a typeset.Align) (piece, error) {
	lines, err := s.wrap(field, text, width)
	if err != nil {
		return piece{}, err
	}
	var parts []piece
	for _, l := range lines {
		parts = append(parts, single(l, x, a))
	}
	return stack(leading*s.Cap, parts...), nil
}

const dot = " · "

func (s setting) wrap(field, text string, width float64) ([]typeset.Line, error) {
	fits := func(t string) bool {
		l, err := typeset.Shape(t, s.Font)
		return err == nil && l.Width <= width
	}
	var broken []string
	// add appends a part to the last line with its joint, or starts a new one.
	add := func(part, joint string, fresh bool) {
		if n := len(broken) - 1; !fresh && n >= 0 && fits(broken[n]+joint+part) {
			broken[n] += joint + part
			return
		}
		broken = append(broken, part)
	}
	for i, phrase := range strings.Split(text, dot) {
		if fits(phrase) {
			add(phrase, dot, i == 0)
			continue
		}
		for j, word := range strings.Fields(phrase) {
			name, host, mail := strings.Cut(word, "@")
			if !mail || fits(word) || name == "" {
				add(word, " ", j == 0)
				continue
			}
			add(name, " ", j == 0)
			add("@"+host, "", false)
		}
	}
	var lines []typeset.Line
	for _, t := range broken {
		l, err := s.fit(field, t, width)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	return lines, nil
}
