package jig

import (
	"math"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// Measures of the sheet's words, mm. Own choices.
const (
	checkCap   = 1.5
	wordsCap   = 1.9
	leastWords = 1.3
)

var checkInk = draw.Ink{R: 90, G: 90, B: 90}

// checkLines draws a line of 100 mm along the top and one down the left side, at
// the printable margin, with the sheet's words behind the upper one, or under it
// where the sheet is too narrow. A long name gives way: how to print stands last
// and stays.
func (s Spec) checkLines(sheet *draw.Sheet, words string) error {
	margin := s.Stock.Margin
	x, y := margin+stock.CheckTick, margin+stock.CheckTick
	left := margin + strip
	sheet.Add(draw.Guide, stock.CheckLine(geom.Point{X: left, Y: y}, false)...)
	sheet.Add(draw.Guide, stock.CheckLine(geom.Point{X: x, Y: left}, true)...)
	note, err := typeset.Shape(s.Words.CheckLine, typeset.Regular(s.Fonts, checkCap))
	if err != nil {
		return err
	}
	sheet.Add(draw.Guide, note.Straight(geom.Translate(left+1, y+stock.CheckTick/2+checkCap), typeset.Left, checkInk)...)
	down := geom.Rotate(-math.Pi / 2).Then(geom.Translate(x+stock.CheckTick/2+checkCap, left+stock.CheckLength-1))
	sheet.Add(draw.Guide, note.Straight(down, typeset.Left, checkInk)...)
	behind, f := left+stock.CheckLength+3, typeset.Regular(s.Fonts, wordsCap)
	line, err := typeset.Fit(words, f, s.Stock.Size.W-margin-behind, leastWords)
	for fault.ClassOf(err) == fault.NoFit && strings.Contains(words, dot) {
		_, words, _ = strings.Cut(words, dot)
		line, err = typeset.Fit(words, f, s.Stock.Size.W-margin-behind, leastWords)
	}
	at := geom.Translate(behind, y+wordsCap/2)
	if fault.ClassOf(err) == fault.NoFit {
		under := left + 1 + note.Width + 3
		if line, err = typeset.Fit(words, f, s.Stock.Size.W-margin-under, leastWords); err == nil {
			at = geom.Translate(under, y+stock.CheckTick+0.3+line.Cap) // clear of the line's ends
		}
	}
	if err != nil {
		return err
	}
	sheet.Add(draw.Guide, line.Straight(at, typeset.Left, checkInk)...)
	return nil
}
