package backer

import (
	"fmt"
	"math"
	"strconv"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Measures of crop marks and margin notes, mm.
const (
	markOffset = 3.0  // between trim and mark: the usual bleed, kept though nothing bleeds
	markLength = 6.0  // as a page quoting the Ghent Workgroup gives it
	leastMark  = 1.0  // a shorter mark cannot be laid a ruler to. Own choice
	leastGap   = 0.3  // a mark never touches a card; half the slip of a hand-fed sheet. Estimate
	hairline   = 0.09 // 0.25 pt, common practice
	noteRoom   = 12.0 // free height for the check line and its words
	noteCap    = 1.9
)

// Imposition is how cards go on a stock.
type Imposition struct {
	Stock stock.Stock
	Fonts fonts.Set
	Words words.Words
	Batch string // for the margin note
}

// run is a row of cards along one side of a sheet.
type run struct {
	n             int
	first, size   float64 // where the first card begins; the card's length
	before, after mark
	whole         bool // the outer cuts are the sheet's own edges
}

// cuts returns where the row is cut.
func (r run) cuts() []float64 {
	var at []float64
	for i := 0; i <= r.n; i++ {
		if !r.whole || i > 0 && i < r.n {
			at = append(at, r.first+float64(float64(i)*r.size))
		}
	}
	return at
}

func (r run) end() float64 { return r.first + float64(float64(r.n)*r.size) }

// mark is the gap and the length of crop marks at one end; length 0 is none.
type mark struct{ offset, length float64 }

func (m mark) reach() float64 { return m.offset + m.length }

// markIn fits a crop mark into the printable room outside the trim.
func markIn(room float64) mark {
	if room < leastGap+leastMark-1e-9 {
		return mark{}
	}
	offset := math.Max(leastGap, math.Min(markOffset, math.Min(room/3, room-leastMark)))
	return mark{offset, math.Min(markLength, room-offset)}
}

// along puts n cards along a sheet's side, every cut where it can be printed.
// The block stands in the middle where both ends then have room for marks, else
// against the blank margin, so that one end has. early leaves the spare room
// behind the cards. Cards as long as the sheet need no cut at its edges, if
// their safe zone covers the blank margin. It reports false when they do not fit.
func along(n int, sheet, card, margin float64, early bool) (run, bool) {
	const exact = 0.01
	r := run{n: n, size: card}
	spare := sheet - float64(float64(n)*card)
	if spare <= exact {
		r.whole = true
		return r, spare >= -exact && margin <= Safe
	}
	full := margin + markOffset + markLength
	switch {
	case early && spare >= 2*full:
		r.first = full
	case markIn(spare/2-margin).length > 0:
		r.first = spare / 2
	default:
		r.first = margin
	}
	r.before, r.after = markIn(r.first-margin), markIn(spare-r.first-margin)
	return r, spare >= 2*margin
}

// marked says that there is room for marks at one end at least.
func (r run) marked() bool { return r.before.length+r.after.length > 0 }

// PerSheet returns how many cards of a size go on a sheet of the stock; a NoFit
// error when none does.
func PerSheet(size geom.Size, s stock.Stock) (int, error) {
	across, down, err := grid(size, s)
	return across.n * down.n, err
}

func grid(size geom.Size, s stock.Stock) (across, down run, err error) {
	// The cuts across are marked above and below the block, those down at its
	// sides: the most cards whose every cut has a mark.
	for n := int(s.Size.W/size.W + 1); n > 0; n-- {
		a, ok := along(n, s.Size.W, size.W, s.Margin, false)
		if !ok {
			continue
		}
		for m := int(s.Size.H/size.H + 1); m > 0; m-- {
			d, ok := along(m, s.Size.H, size.H, s.Margin, true)
			if ok && n*m > across.n*down.n && (a.marked() || len(d.cuts()) == 0) && (d.marked() || len(a.cuts()) == 0) {
				across, down = a, d
			}
		}
	}
	if across.n*down.n == 0 {
		mm := func(v float64) string { return unit.Millimetre(v).Text(0.1, unit.Style{}) }
		err = fault.New(fault.NoFit, s.Name, fmt.Sprintf("a card of %s by %s with its crop marks does not fit on %s by %s with a blank margin of %s",
			mm(size.W), mm(size.H), mm(s.Size.W), mm(s.Size.H), mm(s.Margin)), "use a bigger stock or a smaller card")
	}
	return across, down, err
}

// Impose puts cards of one size on sheets of the stock, in order, row by row,
// with crop marks outside the trim, and notes in the margin where it has room:
// a 100 mm check line, the batch and the sheet's number.
func Impose(cards []*draw.Sheet, o Imposition) ([]*draw.Sheet, error) {
	if len(cards) == 0 {
		return nil, nil
	}
	size := cards[0].Size
	for _, c := range cards {
		if c.Size != size {
			return nil, fault.New(fault.Ours, c.Name, "cards of two sizes on one sheet", "")
		}
	}
	across, down, err := grid(size, o.Stock)
	if err != nil {
		return nil, err
	}
	per := across.n * down.n
	of := (len(cards) + per - 1) / per
	var sheets []*draw.Sheet
	for i := 0; i < of; i++ {
		s := &draw.Sheet{Name: fmt.Sprintf("cards %d", i+1), Size: o.Stock.Size}
		for k, c := range cards[i*per : min(len(cards), (i+1)*per)] {
			s.Place(c, geom.Translate(across.first+float64(float64(k%across.n)*size.W), down.first+float64(float64(k/across.n)*size.H)))
		}
		s.Add(draw.Cut, cropMarks(across, down)...)
		notes, err := o.notes(across, down, i+1, of)
		if err != nil {
			return nil, err
		}
		s.Add(draw.Guide, notes...)
		sheets = append(sheets, s)
	}
	return sheets, nil
}

// cropMarks marks every cut outside the block of cards.
func cropMarks(across, down run) []draw.Op {
	var ops []draw.Op
	line := func(x0, y0, x1, y1 float64) {
		ops = append(ops, &draw.Stroke{Path: geom.LineBetween(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1}), Ink: draw.Black, Width: hairline})
	}
	for _, x := range across.cuts() {
		if m := down.before; m.length > 0 {
			line(x, down.first-m.reach(), x, down.first-m.offset)
		}
		if m := down.after; m.length > 0 {
			line(x, down.end()+m.offset, x, down.end()+m.reach())
		}
	}
	for _, y := range down.cuts() {
		if m := across.before; m.length > 0 {
			line(across.first-m.reach(), y, across.first-m.offset, y)
		}
		if m := across.after; m.length > 0 {
			line(across.end()+m.offset, y, across.end()+m.reach(), y)
		}
	}
	return ops
}

// notes are the words in the margin under the cards: with the check line below
// the crop marks, else between two of them, else none.
func (o Imposition) notes(across, down run, number, of int) ([]draw.Op, error) {
	w := o.Words
	batch := w.Sheet + " " + strconv.Itoa(number) + " " + w.Of + " " + strconv.Itoa(of)
	if o.Batch != "" {
		batch = w.Batch + " " + o.Batch + dot + batch
	}
	last := o.Stock.Size.H - o.Stock.Margin
	top := down.end() + down.after.reach()
	wide := o.Stock.Size.W - 2*o.Stock.Margin
	font := set(typeset.Regular(o.Fonts, 1), 1, noteCap)
	if last-top < noteRoom || wide < stock.CheckLength {
		// Between the first two marks, clear of both.
		const clear = 2.0
		y := down.end() + leastGap
		l, err := font.fit("sheet note", batch, across.size-2*clear)
		if fault.ClassOf(err) == fault.NoFit {
			return nil, nil // the card bears the batch too
		}
		if err != nil {
			return nil, err
		}
		p := single(l, across.first+clear, typeset.Left)
		if y+p.h > last {
			return nil, nil
		}
		return p.draw(last - p.h), nil
	}
	mid := o.Stock.Size.W / 2
	y := top + stock.CheckTick + 1
	ops := stock.CheckLine(geom.Point{X: mid - stock.CheckLength/2, Y: y}, false)
	for _, text := range []string{w.CheckLine + dot + w.ActualSize, batch} {
		l, err := font.fit("sheet note", text, wide)
		if err != nil {
			return nil, err
		}
		p := single(l, mid, typeset.Centre)
		ops = append(ops, p.draw(y+stock.CheckTick+0.8)...)
		y += p.h + 0.4
	}
	return ops, nil
}
