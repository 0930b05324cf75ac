package decal

import (
	"fmt"
	"math"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
)

// Order is a batch's pieces on the way to sheets.
type Order struct {
	Pieces []nest.Piece
	Stock  stock.Stock
	Title  string // batch and maker, in the margin
	Fonts  fonts.Set
	Words  words.Words
}

const (
	pieceGap   = 2.0   // between pieces, mm: room for scissors
	checkLine  = 100.0 // mm, both ways
	strip      = 6.0   // kept at the left and the top for check lines and words, mm
	tick       = 2.0
	guideWidth = 0.15
	capSheet   = 1.9
)

// Sheets places the pieces and draws each sheet: the pieces, a check line of
// 100 mm in both directions, and the words that printing must be at actual size.
func Sheets(o Order) ([]*draw.Sheet, nest.Used, error) {
	m := o.Stock.Margin
	inner := geom.Size{W: o.Stock.Size.W - strip, H: o.Stock.Size.H - strip}
	placed, used, err := nest.Rows(o.Pieces, inner, m, pieceGap)
	if err != nil {
		return nil, nest.Used{}, err
	}
	var sheets []*draw.Sheet
	for _, p := range placed {
		for len(sheets) <= p.Sheet {
			sheets = append(sheets, &draw.Sheet{Name: fmt.Sprintf("%s %d", o.Words.Sheet, len(sheets)+1), Size: o.Stock.Size})
		}
		sheets[p.Sheet].Place(o.Pieces[p.Piece].Drawing, p.At.Then(geom.Translate(strip, strip)))
	}
	for i, s := range sheets {
		words := fmt.Sprintf("%s · %s %d %s %d · %s", o.Title, o.Words.Sheet, i+1, o.Words.Of, len(sheets), o.Words.ActualSize)
		if err := CheckLines(s, m, words, o.Words.CheckLine, o.Fonts); err != nil {
			return nil, nest.Used{}, err
		}
	}
	return sheets, used, nil
}

// CheckLines draws a line of 100 mm along the top and one down the left side,
// at the printable margin, with the sheet's words behind the upper one.
func CheckLines(s *draw.Sheet, margin float64, words, check string, f fonts.Set) error {
	x, y := margin+tick/2, margin+tick/2
	bar := func(a, b geom.Point) {
		d := b.Sub(a)
		n := geom.Point{X: -d.Y, Y: d.X}.Scale(tick / 2 / d.Len())
		s.Add(draw.Guide, &draw.Stroke{Path: geom.LineBetween(a, b), Ink: draw.Black, Width: guideWidth})
		for _, end := range []geom.Point{a, b} {
			s.Add(draw.Guide, &draw.Stroke{Path: geom.LineBetween(end.Sub(n), end.Add(n)), Ink: draw.Black, Width: guideWidth})
		}
	}
	left := margin + strip
	bar(geom.Point{X: left, Y: y}, geom.Point{X: left + checkLine, Y: y})
	bar(geom.Point{X: x, Y: left}, geom.Point{X: x, Y: left + checkLine})
	note, err := typeset.Shape(check, typeset.Regular(f, capCaption))
	if err != nil {
		return err
	}
	s.Add(draw.Guide, note.Straight(geom.Translate(left+1, y+tick/2+capCaption), typeset.Left, captionInk)...)
	down := geom.Rotate(-math.Pi / 2).Then(geom.Translate(x+tick/2+capCaption, left+checkLine-1))
	s.Add(draw.Guide, note.Straight(down, typeset.Left, captionInk)...)
	room := s.Size.W - margin - (left + checkLine + 3)
	line, err := typeset.Fit(words, typeset.Regular(f, capSheet), room, 0.5*capSheet)
	if err != nil {
		return err
	}
	s.Add(draw.Guide, line.Straight(geom.Translate(left+checkLine+3, y+capSheet/2), typeset.Left, captionInk)...)
	return nil
}
