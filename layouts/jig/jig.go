// Package jig lays out the life-size paper jigs for marks put on by hand: the
// mark of a pattern as a strip with its rings and letters in thin outline, to
// cut out, wrap round the body and mark through, and the words that each float
// gets.
//
// Lengths are millimetres, origin top left, y down. It decides nothing about a
// mark: it redraws the piece it is given. A code cannot be written by hand and
// is left out.
package jig

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

// Piece is one jig: that of a pattern.
type Piece struct {
	Title   string      // the pattern, and where the jig sits
	Outline geom.Path   // where it is cut, mm; the base end is below
	Drawing *draw.Sheet // the mark, in the coordinates of Outline; its captions are not taken over
	Lines   []string    // what each float gets, one line a float
}

// Spec is a batch's jigs.
type Spec struct {
	Pieces  []Piece
	Stock   stock.Stock // paper
	Printer stock.Printer
	Title   string // batch and maker, in the margin
	Fonts   fonts.Set
	Words   words.Words
}

// Measures of the sheet, mm. Own choices.
const (
	strip    = 6.0 // left of and above the jigs, for check lines and words
	jigGap   = 6.0
	beside   = 7.0 // between a jig and the words beside it, and between their columns
	titleCap = 2.6
	noteCap  = 1.8
	lineCap  = 2.0
	floorCap = 1.65 // small letters of 1.2 mm in the built-in faces
	leading  = 1.8  // from line to line, in capitals
	arrow    = 4.0  // length of an arrow under the base edge
	// widest is how wide the words of one float may run before they break.
	widest = 75.0
)

// Lay draws the sheets, calibrated for the printer: several jigs on each, with
// check lines of 100 mm. Words that are longer than the room beside their jig
// follow in columns of their own.
//
// Stock that is no paper or card, and a printer that cannot be, are Input
// errors; a jig larger than the sheet is a NoFit error with its measure; a piece
// without outline or drawing is a fault of class Ours.
func Lay(s Spec) ([]*draw.Sheet, error) {
	if !s.Stock.ForCards() {
		return nil, fault.Inputf("print it on paper, as on a4-paper", "jigs are not printed on %q", s.Stock.Key)
	}
	m := s.Stock.Margin
	inner := geom.Size{W: s.Stock.Size.W - strip, H: s.Stock.Size.H - strip}
	room := geom.Size{W: inner.W - 2*m, H: inner.H - 2*m}
	var blocks []nest.Piece
	for _, p := range s.Pieces {
		b, err := s.blocks(p, room)
		if err != nil {
			return nil, fault.At(p.Title, err)
		}
		blocks = append(blocks, b...)
	}
	placed, _, err := nest.Rows(blocks, inner, m, jigGap)
	if err != nil {
		return nil, err
	}
	var sheets []*draw.Sheet
	for _, p := range placed {
		for len(sheets) <= p.Sheet {
			sheets = append(sheets, &draw.Sheet{Name: fmt.Sprintf("jig %d", len(sheets)+1), Size: s.Stock.Size})
		}
		sheets[p.Sheet].Place(blocks[p.Piece].Drawing, p.At.Then(geom.Translate(strip, strip)))
	}
	for i, sheet := range sheets {
		w := strings.Join([]string{s.Title, fmt.Sprintf("%s %d %s %d", s.Words.Sheet, i+1, s.Words.Of, len(sheets)), s.Words.ActualSize}, dot)
		if err := s.checkLines(sheet, w); err != nil {
			return nil, err
		}
		if sheets[i], err = stock.Calibrate(sheet, s.Printer); err != nil {
			return nil, err
		}
	}
	return sheets, nil
}

const dot = " · "

// blocks draws one pattern's jig with its words beside it, and what of them has
// no room there.
func (s Spec) blocks(p Piece, room geom.Size) ([]nest.Piece, error) {
	if len(p.Outline) == 0 || p.Drawing == nil {
		return nil, fault.New(fault.Ours, "", "a jig without outline or drawing", "")
	}
	sheet := &draw.Sheet{Name: p.Title}
	at := p.Outline.Bounds()
	title, err := typeset.Fit(p.Title, typeset.Bold(s.Fonts, titleCap), room.W, floorCap)
	if err != nil {
		return nil, err
	}
	sheet.Place(outlined(p), geom.Translate(-at.Min.X, -at.Min.Y))
	sheet.Add(draw.Guide, title.Straight(geom.Translate(0, -titleCap), typeset.Left, draw.Black)...)
	foot := at.H() + arrow + 1.5
	sheet.Add(draw.Guide, arrows(at.W(), at.H())...)
	edge, err := typeset.Fit(s.Words.ThisEdgeDown, typeset.Regular(s.Fonts, noteCap), math.Max(at.W()-4*arrow, 25), floorCap)
	if err != nil {
		return nil, err
	}
	x, align := at.W()/2, typeset.Centre
	if edge.Width+4*arrow > at.W() { // beside the arrows of a narrow strip
		x, align = at.W()+arrow, typeset.Left
	}
	sheet.Add(draw.Guide, edge.Straight(geom.Translate(x, at.H()+1+arrow/2+noteCap/2), align, draw.Black)...)
	notes := s.Words.Jig.HowTo
	if hasRigid(p.Drawing.Layers[draw.Colour]) {
		notes += " " + s.Words.Jig.NoCode
	}
	how, err := s.wrap(notes, noteCap, math.Max(at.W(), 60))
	if err != nil {
		return nil, err
	}
	for _, l := range how {
		foot += noteCap * leading
		sheet.Add(draw.Guide, l.Straight(geom.Translate(0, foot), typeset.Left, draw.Black)...)
	}
	left := sheet.Bounds(draw.Layers()...)
	lines, err := s.rows(p.Lines)
	if err != nil {
		return nil, err
	}
	c := columnsOf(lines)
	c.x, c.y = math.Max(left.Max.X, at.W())+beside, 0
	c.high = math.Max(left.Max.Y, 40) // a low jig still has a column worth reading beside it
	c.count = int((room.W - c.x + beside) / (c.wide + beside))
	rest, err := s.set(sheet, lines, c)
	if err != nil {
		return nil, err
	}
	out := []nest.Piece{block(sheet, p.Title, &p)}
	for len(rest) > 0 {
		more := &draw.Sheet{Name: p.Title + ", " + s.Words.Jig.Continued}
		c.x, c.y, c.count = 0, 0, int((room.W+beside)/(c.wide+beside))
		c.high = math.Min(room.H-3*titleCap, even(rest, c.count))
		head, err := typeset.Fit(more.Name, typeset.Bold(s.Fonts, titleCap), room.W, floorCap)
		if err != nil {
			return nil, err
		}
		more.Add(draw.Guide, head.Straight(geom.Translate(0, -titleCap), typeset.Left, draw.Black)...)
		before := len(rest)
		if rest, err = s.set(more, rest, c); err != nil {
			return nil, err
		}
		if len(rest) == before {
			return nil, fault.New(fault.NoFit, "", "the words are wider than the sheet", "use larger paper")
		}
		out = append(out, block(more, more.Name, nil))
	}
	return out, nil
}

// block is a drawing as a piece to be placed. The jig's outline goes with it.
func block(s *draw.Sheet, name string, p *Piece) nest.Piece {
	const air = 0.5 // strokes have a width
	b := nest.Piece{Name: name, Box: s.Bounds(draw.Layers()...).Inset(-air), Drawing: s}
	if p != nil {
		at := p.Outline.Bounds()
		b.Outline = p.Outline.Transform(geom.Translate(-at.Min.X, -at.Min.Y))
	}
	return b
}
