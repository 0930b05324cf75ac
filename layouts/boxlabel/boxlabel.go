// Package boxlabel lays out the stickers for boxes and tubes of floats: rating or
// range of ratings, how many, pattern, batch and maker, under the colours of the
// ratings' bands.
//
// Lengths are millimetres, origin top left, y down. The package works out nothing:
// it sets the labels it is given, on die-cut sheets one to a label, on others in
// rows with lines to cut along.
package boxlabel

import (
	"fmt"
	"math"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Label is one sticker.
type Label struct {
	Rating  string     // "8 g", or a range
	Count   string     // "7 floats"
	Pattern string     // its name, or how many there are
	Batch   string     // "batch 26-11"
	Numbers string     // of the floats, "1–7"; left out where they do not fit
	Maker   string     //
	Date    string     // calendar text
	Bands   []draw.Ink // of the ratings, lightest first
}

// Spec is a batch's stickers.
type Spec struct {
	Labels []Label
	Stock  stock.Stock
	Fonts  fonts.Set
	Words  words.Words
}

// Usual is the size of a sticker on a sheet that is cut afterwards: three beside
// each other on A4, and readable across a bench. Own choice.
var Usual = geom.Size{W: 64, H: 34}

// Measures of a sticker of the usual size, mm. Own choices; they grow and shrink
// with the label.
const (
	bandHigh  = 4.0
	ratingCap = 6.0
	countCap  = 3.2
	nameCap   = 2.8
	lineCap   = 2.1
	footCap   = 1.9
	floorCap  = 1.5 // of any words: read in the hand
	shrinkTo  = 0.6 // of a line's own size, to fit its width
	air       = 2.2 // between two lines
	drop      = 0.8 // more of it under the rating, whose letters reach far down
	within    = 2.2 // from a label's edge to what is printed: twice the slip of a hand-fed sheet. Estimate
	mostGrow  = 2.5
	usualWide = 54.0 // what rating and count take beside each other
	narrowest = 0.8  // of the usual measures on narrow labels, whose lines shrink one by one
	between   = 2.5  // rating and count
	cutWide   = 0.2
	footRoom  = 9.0 // for the check line of a sheet that is cut afterwards
)

var (
	cutInk  = draw.Ink{R: 130, G: 130, B: 130}
	softInk = draw.Ink{R: 70, G: 74, B: 78}
)

// usualHigh is what the lines of a sticker take at their usual size, and lowHigh
// where batch and maker share one.
const (
	usualHigh = lowHigh + footCap + air
	lowHigh   = bandHigh + ratingCap + drop + nameCap + lineCap + 3*air
)

// Lay draws the stickers, in their order. A label that has no room for its words is
// a NoFit error with both measures.
func Lay(s Spec) ([]*draw.Sheet, error) {
	if s.Stock.Sheetless() {
		return nil, fault.Inputf("name stickers, card or paper: floatmark stocks", "stickers for boxes have no sheet to print on")
	}
	cells := s.cells()
	if len(cells) == 0 {
		return nil, fault.At("stickers for boxes", s.noFit(Usual.W, Usual.H, s.Stock.Size.W-2*s.Stock.Margin, s.Stock.Size.H-2*s.Stock.Margin))
	}
	var all []*draw.Sheet
	for i, l := range s.Labels {
		at := i % len(cells)
		if at == 0 {
			all = append(all, &draw.Sheet{Name: fmt.Sprintf("%s %d", s.Words.Sheet, len(all)+1), Size: s.Stock.Size})
			if s.Stock.Grid == nil {
				if err := s.lines(all[len(all)-1], cells, min(len(cells), len(s.Labels)-i)); err != nil {
					return nil, err
				}
			}
		}
		if err := s.label(all[len(all)-1], l, cells[at]); err != nil {
			return nil, fault.At("stickers for boxes, "+l.Pattern, err)
		}
	}
	return all, nil
}

// cells returns the labels of a sheet: those it is cut in, but for those that lie
// in the blank margin, or as many of the usual size as it holds.
func (s Spec) cells() []geom.Rect {
	page := geom.XYWH(0, 0, s.Stock.Size.W, s.Stock.Size.H).Inset(s.Stock.Margin)
	if s.Stock.Grid != nil {
		var all []geom.Rect
		for _, c := range s.Stock.Grid.Cells() {
			if page.Overlaps(c) {
				all = append(all, c)
			}
		}
		return all
	}
	across := int(page.W() / Usual.W)
	down := int((page.H() - footRoom) / Usual.H)
	if across < 1 || down < 1 {
		return nil
	}
	left := (s.Stock.Size.W - float64(float64(across)*Usual.W)) / 2
	g := stock.Grid{Rows: down, Columns: across, First: geom.Point{X: left, Y: page.Min.Y}, Cell: Usual, Pitch: Usual}
	return g.Cells()
}

// lines draws where the first n labels are cut apart, and the check line.
func (s Spec) lines(sheet *draw.Sheet, cells []geom.Rect, n int) error {
	cut := func(a, b geom.Point) {
		sheet.Add(draw.Cut, &draw.Stroke{Path: geom.LineBetween(a, b), Ink: cutInk, Width: cutWide, Dash: []float64{1.6, 1}})
	}
	across := 1
	for across < len(cells) && cells[across].Min.Y == cells[0].Min.Y {
		across++
	}
	used := cells[0]
	for _, c := range cells[1:n] {
		used = used.Union(c)
	}
	for r := 0; r <= (n-1)/across+1; r++ {
		y := cells[0].Min.Y + float64(float64(r)*Usual.H)
		cut(geom.Point{X: used.Min.X, Y: y}, geom.Point{X: used.Max.X, Y: y})
	}
	for c := 0; c <= min(n, across); c++ {
		x := cells[0].Min.X + float64(float64(c)*Usual.W)
		cut(geom.Point{X: x, Y: used.Min.Y}, geom.Point{X: x, Y: used.Max.Y})
	}
	x, y := cells[0].Min.X, s.Stock.Size.H-s.Stock.Margin-footRoom+2*stock.CheckTick
	long := min(stock.CheckLength, s.Stock.Size.W-2*x)
	sheet.Add(draw.Guide, stock.Bar(geom.Point{X: x, Y: y}, long, false)...)
	text := fmt.Sprintf(s.Words.ThisLineIs, s.Words.Millimetre(unit.Millimetre(long), 0.1)) + " · " + s.Words.ActualSize
	l, err := typeset.Fit(text, typeset.Regular(s.Fonts, footCap), s.Stock.Size.W-x-s.Stock.Margin, floorCap)
	if err != nil {
		return err
	}
	sheet.Add(draw.Guide, l.Straight(geom.Translate(x, y+stock.CheckTick+3), typeset.Left, draw.Black)...)
	return nil
}

// room is the part of a label that is printed on: clear of its edge, of its round
// corners and of the sheet's blank margin.
func (s Spec) room(cell geom.Rect) geom.Rect {
	in := within
	if s.Stock.Grid != nil { // a square's corner within a round one
		in = max(in, s.Stock.Grid.Corner*(1-math.Sqrt2/2)+within/2)
	}
	in = min(in, cell.W()/8, cell.H()/8)
	page := geom.XYWH(0, 0, s.Stock.Size.W, s.Stock.Size.H).Inset(s.Stock.Margin)
	r := cell.Inset(in)
	return geom.Rect{Min: geom.Point{X: max(r.Min.X, page.Min.X), Y: max(r.Min.Y, page.Min.Y)}, Max: geom.Point{X: min(r.Max.X, page.Max.X), Y: min(r.Max.Y, page.Max.Y)}}
}

func (s Spec) noFit(needW, needH, hasW, hasH float64) error {
	mm := func(v float64) string { return s.Words.Millimetre(unit.Millimetre(math.Ceil(v*10)/10), 0.1) }
	return fault.New(fault.NoFit, "", fmt.Sprintf("a label needs %s by %s to print on and has %s by %s", mm(needW), mm(needH), mm(hasW), mm(hasH)), "use larger labels")
}
