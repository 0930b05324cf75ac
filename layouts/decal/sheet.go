package decal

import (
	"context"
	"fmt"
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

	Open     []Open      // part-used sheets, filled first
	Next     int         // number of the first fresh sheet; 0 for sheets without numbers
	Keep     []geom.Path // kept clear on fresh sheets, as for registration marks
	Tight    bool        // fill sheets wherever there is room; else a straight strip from one edge is spent
	Together bool        // the pieces of a float share a sheet, if one can hold them
	Quick    bool        // a coarse layout, for a preview
	Feed     nest.Edge   // the edge of a fresh sheet that goes into the printer first
}

// Open is a sheet that was printed on before.
type Open struct {
	Number int
	Feed   nest.Edge
	Taken  []geom.Path // what is spent, mm on the sheet
}

// Laid is one sheet with what it takes.
type Laid struct {
	Sheet  *draw.Sheet
	Number int // of the sheet; 0 without
	Open   int // its index in Order.Open; -1 for a fresh sheet
	Feed   nest.Edge
	Pieces []int       // indices of what lies on it
	Spent  []geom.Path // what is taken of it by this print
}

const (
	pieceGap   = 2.0 // between pieces, mm: room for scissors
	strip      = 6.0 // kept along one edge of a fresh sheet for its words and check line, mm
	capSheet   = 1.9
	leastSheet = 1.3 // of the words in the margin
	leastNote  = 1.0 // of the note that a narrow sheet is mirrored
	separator  = " · "
)

// Sheets places the pieces by their true outlines, part-used sheets first, and
// draws each sheet: the pieces and, on a fresh one, a short check line and the
// words that printing must be at actual size. On a stock that is laid face down
// the pieces are mirrored, and the sheet says so. A stock without a sheet is an
// Input error; other errors are those of nest.Pack.
func Sheets(ctx context.Context, o Order, progress func(done, total int)) ([]Laid, nest.Report, error) {
	if o.Stock.Sheetless() {
		return nil, nest.Report{}, fault.Inputf("name film or stickers: floatmark stocks", "marks by hand have no sheet to print")
	}
	pieces := o.Pieces
	if o.Stock.Medium.Mirrored() {
		pieces = make([]nest.Piece, len(o.Pieces))
		for i, p := range o.Pieces {
			pieces[i] = mirrored(p)
		}
	}
	if o.Stock.Grid != nil {
		return o.onGrid(pieces)
	}
	fresh := nest.Area{Size: o.Stock.Size, Margin: o.Stock.Margin, Taken: append([]geom.Path{geom.Rectangle(o.wordsStrip())}, o.Keep...)}
	var open []nest.Area
	for _, s := range o.Open {
		open = append(open, nest.Area{Size: o.Stock.Size, Margin: o.Stock.Margin, Taken: s.Taken})
	}
	placed, report, err := nest.Pack(ctx, pieces, open, fresh, nest.Options{Gap: pieceGap, Quick: o.Quick, Strip: !o.Tight, Feed: o.Feed, Together: o.Together,
		Grain: o.Stock.Grain.Binds(), Across: o.Stock.Grain == stock.ShortGrain}, progress)
	if err != nil {
		return nil, nest.Report{}, err
	}
	laid := make([]Laid, len(open)+report.Fresh)
	for i := range laid {
		l := Laid{Sheet: &draw.Sheet{Name: fmt.Sprintf("%s %d", o.Words.Sheet, i+1-len(open)), Size: o.Stock.Size}, Open: -1, Feed: o.Feed}
		if i < len(open) {
			l.Open, l.Number, l.Feed = i, o.Open[i].Number, o.Open[i].Feed
		} else {
			l.Spent = []geom.Path{geom.Rectangle(o.wordsStrip())}
			if o.Next > 0 {
				l.Number = o.Next + i - len(open)
			}
		}
		if l.Number > 0 {
			l.Sheet.Name = fmt.Sprintf("%s %d", o.Words.Sheet, l.Number)
		}
		laid[i] = l
	}
	for _, p := range placed {
		l := &laid[p.Sheet]
		l.Sheet.Place(pieces[p.Piece].Drawing, p.At)
		l.Pieces = append(l.Pieces, p.Piece)
		if o.Tight {
			l.Spent = append(l.Spent, pieces[p.Piece].Outline.Transform(p.At))
		}
	}
	if !o.Tight {
		for _, s := range report.Strips {
			laid[s.Sheet].Spent = []geom.Path{geom.Rectangle(s.Part)}
		}
	}
	used := laid[:0]
	for _, l := range laid {
		if len(l.Pieces) > 0 {
			used = append(used, l)
		}
	}
	n := 0
	for i := range used {
		if used[i].Open >= 0 {
			continue
		}
		n++
		if err := o.words(used[i], n, report.Fresh); err != nil {
			return nil, nest.Report{}, err
		}
	}
	return used, report, nil
}

// wordsStrip is what a fresh sheet's words take: along the edge where its strip
// begins, so that the rest stays clean.
func (o Order) wordsStrip() geom.Rect {
	size, m := o.Stock.Size, o.Stock.Margin
	if o.Feed == nest.Bottom {
		return geom.XYWH(0, 0, size.W, m+strip)
	}
	return geom.XYWH(0, size.H-m-strip, size.W, m+strip)
}

// shortLine is the film's own check line, mm; the proof on paper carries the
// long ones.
const shortLine = 50.0

// words sets a fresh sheet's check line and words.
func (o Order) words(l Laid, n, of int) error {
	at := o.wordsStrip()
	y := at.Min.Y + strip/2
	if at.Min.Y == 0 {
		y = o.Stock.Margin + strip/2
	}
	left := o.Stock.Margin + 1
	s := l.Sheet
	s.Add(draw.Guide, stock.Bar(geom.Point{X: left, Y: y}, shortLine, false)...)
	check, err := typeset.Shape(fmt.Sprintf(o.Words.ThisLineIs, o.Words.Millimetre(shortLine, 1)), typeset.Regular(o.Fonts, capCaption))
	if err != nil {
		return err
	}
	s.Add(draw.Guide, check.Straight(geom.Translate(left+1, y+0.6+capCaption), typeset.Left, captionInk)...)
	parts := []string{o.Title, fmt.Sprintf("%s %d %s %d", o.Words.Sheet, n, o.Words.Of, of), o.Words.ActualSize}
	if l.Number > 0 {
		parts[1] = fmt.Sprintf("%s %s %d", o.Words.Sheet, o.Words.Number1, l.Number)
	}
	room := o.Stock.Size.W - o.Stock.Margin - (left + shortLine + 3)
	if o.Stock.Medium.Mirrored() {
		note, err := typeset.Fit(o.Words.Mirrored, typeset.Regular(o.Fonts, capSheet), room, leastNote)
		if err != nil {
			return err
		}
		s.Add(draw.Guide, note.Straight(geom.Translate(left+shortLine+3, y+0.8+capCaption), typeset.Left, draw.Black)...)
		y -= note.Cap / 2
	}
	for len(parts) > 1 {
		line, err := typeset.Fit(strings.Join(parts, separator), typeset.Regular(o.Fonts, capSheet), room, leastSheet)
		if err == nil {
			s.Add(draw.Guide, line.Straight(geom.Translate(left+shortLine+3, y+line.Cap/2), typeset.Left, captionInk)...)
			return nil
		}
		if fault.ClassOf(err) != fault.NoFit {
			return err
		}
		parts = parts[1:] // a long name must not stop a print; how to print stands last and stays
	}
	line, err := typeset.Fit(parts[0], typeset.Regular(o.Fonts, capSheet), room, 0)
	if err != nil {
		return err
	}
	s.Add(draw.Guide, line.Straight(geom.Translate(left+shortLine+3, y+line.Cap/2), typeset.Left, captionInk)...)
	return nil
}
