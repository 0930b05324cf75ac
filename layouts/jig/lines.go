package jig

import (
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// columns is where words are set: count columns of that height from x, y on.
type columns struct {
	x, y, wide, high float64
	count            int
}

// columnsOf returns columns as wide as the widest line.
func columnsOf(lines [][]typeset.Line) columns {
	var c columns
	for _, float := range lines {
		for _, l := range float {
			c.wide = max(c.wide, l.Width)
		}
	}
	return c
}

const (
	pitch    = lineCap * leading
	apart    = 0.6           // more between two floats, mm
	headRoom = lineCap + 0.8 // over the first line, mm
)

// even returns the height at which so many columns hold the floats, about
// equally long.
func even(floats [][]typeset.Line, count int) float64 {
	total, highest := 0.0, 0.0
	for _, f := range floats {
		high := float64(float64(len(f))*pitch) + apart
		total += high
		highest = max(highest, high)
	}
	return headRoom + total/float64(max(1, count)) + highest
}

// rows breaks every float's words; what breaks stays together.
func (s Spec) rows(texts []string) ([][]typeset.Line, error) {
	var out [][]typeset.Line
	for _, t := range texts {
		l, err := s.wrap(t, lineCap, widest)
		if err != nil {
			return nil, err
		}
		if len(l) > 0 {
			out = append(out, l)
		}
	}
	return out, nil
}

// set fills the columns and returns the floats that had no room.
func (s Spec) set(sheet *draw.Sheet, floats [][]typeset.Line, c columns) ([][]typeset.Line, error) {
	if len(floats) == 0 || c.count < 1 {
		return floats, nil
	}
	head, err := typeset.Fit(s.Words.Jig.GoesOn, typeset.Bold(s.Fonts, lineCap), max(c.wide, 30), floorCap)
	if err != nil {
		return nil, err
	}
	for n := range c.count {
		x, y := c.x+float64(float64(n)*(c.wide+beside)), c.y
		if n == 0 {
			sheet.Add(draw.Guide, head.Straight(geom.Translate(x, y+lineCap), typeset.Left, draw.Black)...)
		}
		y += headRoom
		for len(floats) > 0 {
			high := float64(float64(len(floats[0])) * pitch)
			if y+high > c.y+c.high {
				break
			}
			for _, l := range floats[0] {
				y += pitch
				sheet.Add(draw.Guide, l.Straight(geom.Translate(x, y), typeset.Left, draw.Black)...)
			}
			y += apart
			floats = floats[1:]
		}
	}
	return floats, nil
}

// wrap breaks text at blanks into lines no wider than width; a word that is
// wider shrinks down to the floor, and under it is a NoFit error.
func (s Spec) wrap(text string, cap, width float64) ([]typeset.Line, error) {
	font := typeset.Regular(s.Fonts, cap)
	var out []typeset.Line
	line := ""
	flush := func() error {
		// A dot between two figures gives way to the break.
		line = strings.TrimSuffix(strings.TrimPrefix(line, "· "), " ·")
		if line == "" {
			return nil
		}
		l, err := typeset.Fit(line, font, width, floorCap)
		out = append(out, l)
		return err
	}
	for _, word := range strings.Fields(text) {
		longer := strings.TrimPrefix(line+" "+word, " ")
		l, err := typeset.Shape(longer, font)
		if err != nil {
			return nil, err
		}
		if l.Width <= width || line == "" {
			line = longer
			continue
		}
		if err := flush(); err != nil {
			return nil, err
		}
		line = word
	}
	if err := flush(); err != nil {
		return nil, fault.At(text, err)
	}
	return out, nil
}
