package decal

import (
	"fmt"
	"math"
	"strings"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
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
	pieceGap   = 2.0 // between pieces, mm: room for scissors
	strip      = 6.0 // kept at the left and the top for check lines and words, mm
	capSheet   = 1.9
	leastSheet = 1.3 // of the words in the margin
	separator  = " · "
)

// Sheets places the pieces and draws each sheet: the pieces, a check line of
// 100 mm in both directions, and the words that printing must be at actual size.
// On a stock that is laid face down the pieces are mirrored, and the sheet says
// so. A stock without a sheet is an Input error.
func Sheets(o Order) ([]*draw.Sheet, nest.Used, error) {
	if o.Stock.Sheetless() {
		return nil, nest.Used{}, fault.Inputf("name film or stickers: floatmark stocks", "marks by hand have no sheet to print")
	}
	pieces := o.Pieces
	if o.Stock.Medium.Mirrored() {
		pieces = make([]nest.Piece, len(o.Pieces))
		for i, p := range o.Pieces {
			pieces[i] = mirrored(p)
		}
	}
	m := o.Stock.Margin
	inner := geom.Size{W: o.Stock.Size.W - strip, H: o.Stock.Size.H - strip}
	placed, used, err := nest.Rows(pieces, inner, m, pieceGap)
	if err != nil {
		return nil, nest.Used{}, err
	}
	var sheets []*draw.Sheet
	for _, p := range placed {
		for len(sheets) <= p.Sheet {
			sheets = append(sheets, &draw.Sheet{Name: fmt.Sprintf("%s %d", o.Words.Sheet, len(sheets)+1), Size: o.Stock.Size})
		}
		sheets[p.Sheet].Place(pieces[p.Piece].Drawing, p.At.Then(geom.Translate(strip, strip)))
	}
	for i, s := range sheets {
		words := strings.Join([]string{o.Title, fmt.Sprintf("%s %d %s %d", o.Words.Sheet, i+1, o.Words.Of, len(sheets)), o.Words.ActualSize}, separator)
		note := ""
		if o.Stock.Medium.Mirrored() {
			note = mirroredNote
		}
		if err := checkLines(s, m, words, note, o.Words.CheckLine, o.Fonts); err != nil {
			return nil, nest.Used{}, err
		}
	}
	return sheets, used, nil
}

// CheckLines draws a line of 100 mm along the top and one down the left side,
// at the printable margin, with the sheet's words behind the upper one, or under
// it where the sheet is too narrow.
func CheckLines(s *draw.Sheet, margin float64, words, check string, f fonts.Set) error {
	return checkLines(s, margin, words, "", check, f)
}

// checkLines sets more under the upper line, if there is any.
func checkLines(s *draw.Sheet, margin float64, words, more, check string, f fonts.Set) error {
	x, y := margin+stock.CheckTick, margin+stock.CheckTick
	left := margin + strip
	s.Add(draw.Guide, stock.CheckLine(geom.Point{X: left, Y: y}, false)...)
	s.Add(draw.Guide, stock.CheckLine(geom.Point{X: x, Y: left}, true)...)
	note, err := typeset.Shape(check, typeset.Regular(f, capCaption))
	if err != nil {
		return err
	}
	s.Add(draw.Guide, note.Straight(geom.Translate(left+1, y+stock.CheckTick/2+capCaption), typeset.Left, captionInk)...)
	down := geom.Rotate(-math.Pi / 2).Then(geom.Translate(x+stock.CheckTick/2+capCaption, left+stock.CheckLength-1))
	s.Add(draw.Guide, note.Straight(down, typeset.Left, captionInk)...)
	room := s.Size.W - margin - (left + stock.CheckLength + 3)
	line, err := typeset.Fit(words, typeset.Regular(f, capSheet), room, leastSheet)
	for fault.ClassOf(err) == fault.NoFit && strings.Contains(words, separator) {
		// A long name must not stop a print; how to print stands last and stays.
		_, words, _ = strings.Cut(words, separator)
		line, err = typeset.Fit(words, typeset.Regular(f, capSheet), room, leastSheet)
	}
	switch {
	case err == nil:
		s.Add(draw.Guide, line.Straight(geom.Translate(left+stock.CheckLength+3, y+capSheet/2), typeset.Left, captionInk)...)
	case fault.ClassOf(err) != fault.NoFit:
		return err
	case more == "":
		more = words
	default:
		more = words + separator + more
	}
	if more == "" {
		return nil
	}
	x = left + 1 + note.Width + 3
	under, err := typeset.Fit(more, typeset.Regular(f, capSheet), s.Size.W-margin-x, leastSheet)
	if err != nil {
		return err
	}
	// Clear of the line's ends.
	s.Add(draw.Guide, under.Straight(geom.Translate(x, y+stock.CheckTick+0.3+under.Cap), typeset.Left, draw.Black)...)
	return nil
}
