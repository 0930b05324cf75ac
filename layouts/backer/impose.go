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
	markOffset = 3.0    // between trim and mark: the usual bleed, kept though nothing bleeds
	markLength = 6.0    // as a page quoting the Ghent Workgroup gives it
	leastMark  = 1.0    // a shorter mark cannot be laid a ruler to. Own choice
	leastGap   = 0.3    // a mark never touches a card; half the slip of a hand-fed sheet. Estimate
	hairline   = 0.0882 // 0.25 pt, common practice
	noteRoom   = 12.0   // free height for the check line and its words
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
	gap           float64 // between two cards
	before, after mark
	room          [2]float64 // printable, before the first card and after the last
	whole         bool       // the outer cuts are the sheet's own edges
}

// at returns where card i begins.
func (r run) at(i int) float64 { return r.first + float64(float64(i)*(r.size+r.gap)) }

// cuts returns where the row is cut.
func (r run) cuts() []float64 {
	var at []float64
	for i := range r.n {
		if !r.whole || i > 0 {
			if r.gap > 0 || i == 0 {
				at = append(at, r.at(i))
			}
		}
		if !r.whole || i < r.n-1 {
			at = append(at, r.at(i)+r.size)
		}
	}
	return at
}

func (r run) end() float64 { return r.at(r.n-1) + r.size }

// bleed returns how far card i may bleed before and after: into half a gap, or at
// an outer side up to the crop marks. Two cards that share a cut do not bleed there.
func (r run) bleed(i int) (before, after float64) {
	outer := func(m mark, room float64) float64 {
		if m.length > 0 {
			room = m.offset
		}
		return math.Max(0, math.Min(Bleed, room))
	}
	before, after = math.Min(Bleed, r.gap/2), math.Min(Bleed, r.gap/2)
	if i == 0 {
		before = outer(r.before, r.room[0])
	}
	if i == r.n-1 {
		after = outer(r.after, r.room[1])
	}
	return before, after
}

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
func along(n int, sheet, card, margin, gap float64, early bool) (run, bool) {
	const exact = 0.01
	r := run{n: n, size: card, gap: gap}
	spare := sheet - float64(float64(n)*card) - float64(float64(n-1)*gap)
	if spare <= exact {
		r.whole = true
		return r, spare >= -exact && margin <= Safe && gap == 0
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
	r.room = [2]float64{r.first - margin, spare - r.first - margin}
	r.before, r.after = markIn(r.room[0]), markIn(r.room[1])
	return r, spare >= 2*margin
}

// marked says that there is room for marks at one end at least.
func (r run) marked() bool { return r.before.length+r.after.length > 0 }

// PerSheet returns how many cards of a size go on a sheet of the stock; a NoFit
// error when none does.
func PerSheet(size geom.Size, s stock.Stock) (int, error) {
	across, down, err := grid(size, s, 0, 0)
	return across.n * down.n, err
}

// grid finds the most cards on a sheet; of two ways with as many, the one with
// the gaps that bleeds ask for.
func grid(size geom.Size, s stock.Stock, gapAcross, gapDown float64) (across, down run, err error) {
	// The cuts across are marked above and below the block, those down at its
	// sides: the most cards whose every cut has a mark.
	for _, gaps := range [][2]float64{{gapAcross, gapDown}, {0, gapDown}, {gapAcross, 0}, {0, 0}} {
		for n := int(s.Size.W/size.W + 1); n > 0; n-- {
			a, ok := along(n, s.Size.W, size.W, s.Margin, gaps[0], false)
			if !ok {
				continue
			}
			for m := int(s.Size.H/size.H + 1); m > 0; m-- {
				d, ok := along(m, s.Size.H, size.H, s.Margin, gaps[1], true)
				if ok && n*m > across.n*down.n && (a.marked() || len(d.cuts()) == 0) && (d.marked() || len(a.cuts()) == 0) {
					across, down = a, d
				}
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

// Sheet is a sheet of cards: its front and, of cards printed on both sides, its
// back, as it is printed when the sheet is turned over its long edge.
type Sheet struct{ Front, Back *draw.Sheet }

// Impose puts cards of one size on sheets of the stock, in order, row by row,
// with crop and fold marks outside the trim on the front, and notes in the margin
// where it has room: a 100 mm check line, the batch and the sheet's number. A
// card's back lies behind its front.
func Impose(cards []Laid, o Imposition) ([]Sheet, error) {
	if len(cards) == 0 {
		return nil, nil
	}
	size := cards[0].Size()
	var gap [2]float64
	two := false
	for _, c := range cards {
		if c.Size() != size {
			return nil, fault.New(fault.Ours, c.Front.Name, "cards of two sizes on one sheet", "")
		}
		across, down := c.bleeding()
		if across {
			gap[0] = 2 * Bleed
		}
		if down {
			gap[1] = 2 * Bleed
		}
		two = two || c.Back != nil
	}
	across, down, err := grid(size, o.Stock, gap[0], gap[1])
	if err != nil {
		return nil, err
	}
	per := across.n * down.n
	of := (len(cards) + per - 1) / per
	var sheets []Sheet
	for i := range of {
		s := &draw.Sheet{Name: fmt.Sprintf("cards %d", i+1), Size: o.Stock.Size}
		back := &draw.Sheet{Name: fmt.Sprintf("cards %d, back", i+1), Size: o.Stock.Size}
		for k, c := range cards[i*per : min(len(cards), (i+1)*per)] {
			x, y := across.at(k%across.n), down.at(k/across.n)
			var b Sides
			b.Left, b.Right = across.bleed(k % across.n)
			b.Top, b.Bottom = down.bleed(k / across.n)
			putCard(s, c.Front, c.FrontAreas, b, x, y)
			s.Add(draw.Crease, foldMarks(c.Folds, geom.Point{X: x, Y: y}, outside(across, down, k%across.n, k/across.n))...)
			if c.Back != nil { // seen from behind: left is right
				b.Left, b.Right = b.Right, b.Left
				putCard(back, c.Back, c.BackAreas, b, o.Stock.Size.W-x-size.W, y)
			}
		}
		s.Add(draw.Cut, cropMarks(across, down)...)
		notes, err := o.notes(across, down, i+1, of)
		if err != nil {
			return nil, err
		}
		s.Add(draw.Guide, notes...)
		one := Sheet{Front: s}
		if two {
			one.Back = back
		}
		sheets = append(sheets, one)
	}
	return sheets, nil
}

// putCard places one side of a card.
func putCard(on, card *draw.Sheet, areas []Area, bleed Sides, x, y float64) {
	if g := grounds(areas, card.Size, bleed); len(g) > 0 {
		on.Add(draw.Ground, &draw.Group{Name: card.Name + ", grounds", At: geom.Translate(x, y), Ops: g})
	}
	on.Place(card, geom.Translate(x, y))
}

// outside is how much room fold marks have round a card in column i of row j:
// that of the crop marks at the sheet's sides, none between two cards.
func outside(across, down run, i, j int) Sides {
	var s Sides
	if i == 0 {
		s.Left = across.before.reach()
	}
	if i == across.n-1 {
		s.Right = across.after.reach()
	}
	if j == 0 {
		s.Top = down.before.reach()
	}
	if j == down.n-1 {
		s.Bottom = down.after.reach()
	}
	return s
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
	var memory *Memory
	face := typeset.Regular(o.Fonts, noteCap)
	font := setting{face, floor(face.Face), draw.Black}
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
		up, down, _ := memory.extent(l)
		if y+up+down > last {
			return nil, nil
		}
		return l.Straight(geom.Translate(across.first+clear, last-down), typeset.Left, draw.Black), nil
	}
	mid := o.Stock.Size.W / 2
	y := top + stock.CheckTick + 1
	ops := stock.CheckLine(geom.Point{X: mid - stock.CheckLength/2, Y: y}, false)
	for _, text := range []string{w.CheckLine + dot + w.ActualSize, batch} {
		l, err := font.fit("sheet note", text, wide)
		if err != nil {
			return nil, err
		}
		up, down, _ := memory.extent(l)
		ops = append(ops, l.Straight(geom.Translate(mid, y+stock.CheckTick+0.8+up), typeset.Centre, draw.Black)...)
		y += up + down + 0.4
	}
	return ops, nil
}
