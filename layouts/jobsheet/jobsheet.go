// Package jobsheet lays out the sheet that lies on the bench on marking day:
// every float in the order of the drying board with what is marked on it, where,
// and what is still to be done, with boxes to tick; then a number strip for the
// board, the map of the decal sheets, where to cut, the order of the day and the
// cautions for its work.
//
// Lengths are millimetres, origin top left, y down. The package works out
// nothing: it sets the rows it is given. It is read at arm's length: figures have
// capitals of 2.5 mm and more, other words of 1.9 mm.
package jobsheet

import (
	"fmt"
	"strconv"
	"strings"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Spec is one batch's job sheet.
type Spec struct {
	Maker, Batch, Date string   // date: calendar text
	Rows               []Row    // in the order of the drying board
	Steps, Cautions    []string // nil for those of Words, whose steps are those of waterslide film
	Fonts              fonts.Set
	Words              words.Words
	Stock              stock.Stock   // paper, portrait; at least 180 mm wide and 200 mm high
	Rings              []Ring        // to paint before the marks go on
	Board              Board         // the number strip
	Plot               *draw.Sheet   // how the batch lies about its ratings; nil for none. PlotWidth is its room
	Maps               []Map         // of the decal sheets, page by page
	Guides             []Guide       // where pieces are cut, life size
	GuideNotes         []string      // how, under the guides' heading
	Plots              []*draw.Sheet // more plots, set last
}

// Measures of the sheet, mm. Own choices but where said.
const (
	side      = 12.0 // page margin, wide enough for the check lines in it
	head      = 5.0  // from the page's margin to what stands on the sheet
	box       = 4.5  // to tick with a pen
	pad       = 0.9  // in a cell
	bodyCap   = 1.9  // least capitals of words, read at arm's length
	figureCap = 2.5  // of figures
	floorCap  = 1.65 // small letters of 1.2 mm in the built-in faces; of the frame's small print alone
	leading   = 0.55 // air between lines, in caps
	hair      = 0.12
	blockGap  = 5.0 // air between blocks, both ways
)

var (
	zebra = draw.Ink{R: 238, G: 238, B: 238}
	grey  = draw.Ink{R: 130, G: 130, B: 130}
)

// Lay draws the sheets of a batch, on as few as they fit: what stands under the
// table goes on the first sheet with room for it. A maker's own word that is too
// long for its column is broken; a row or a table that does not fit is a NoFit
// error with its measure.
func Lay(s Spec) ([]*draw.Sheet, error) {
	if s.Stock.Size.W < leastWide || s.Stock.Size.H < leastHigh {
		mm := func(v float64) string { return s.Words.Millimetre(unit.Millimetre(v), 0.1) }
		return nil, fault.New(fault.NoFit, "job sheet", fmt.Sprintf("the table needs paper of %s by %s and has %s by %s",
			mm(leastWide), mm(leastHigh), mm(s.Stock.Size.W), mm(s.Stock.Size.H)), "print it on A4")
	}
	if s.Steps == nil {
		s.Steps = s.Words.DaySteps
	}
	if s.Cautions == nil {
		s.Cautions = s.Words.DayCautions
	}
	p := &pages{Spec: s, margin: margin(s.Stock), bench: words.BenchSheetFor(s.Words.Language)}
	for _, set := range []func() error{p.table, p.blocks, p.frames} {
		if err := set(); err != nil {
			return nil, fault.At("job sheet", err)
		}
	}
	return p.sheets, nil
}

func margin(paper stock.Stock) float64 { return max(side, paper.Margin+6) }

// PlotWidth returns the width a plot has on a sheet of that paper, mm: what a map
// of a decal sheet beside it leaves, and never less than leastPlot.
func PlotWidth(paper stock.Stock) float64 {
	return max(leastPlot, paper.Size.W-2*margin(paper)-NarrowWidth-blockGap)
}

// NarrowWidth is the width of a map of a decal sheet and of any other narrow
// block, mm: three stand beside each other on A4.
const NarrowWidth = 58.0

// leastPlot is what a plot of a batch needs, mm.
const leastPlot = 120.0

// The smallest paper the table can be set on.
const leastWide, leastHigh = 180.0, 200.0

// pages fills sheets from the top down.
type pages struct {
	Spec
	margin float64
	bench  words.BenchSheet
	cols   []column
	sheets []*draw.Sheet
	taken  [][]geom.Rect // of each sheet, what stands on it
	y      float64       // where the next row begins on the last sheet
}

func (p *pages) left() float64  { return p.margin }
func (p *pages) right() float64 { return p.Stock.Size.W - p.margin }
func (p *pages) wide() float64  { return p.right() - p.left() }

// foot is where a sheet's content ends; the check line lies under it.
func (p *pages) foot() float64 { return p.Stock.Size.H - p.margin }

// top is where a sheet's content begins.
func (p *pages) top() float64 { return p.margin + head }

func (p *pages) add(ops ...draw.Op) { p.sheets[len(p.sheets)-1].Add(draw.Colour, ops...) }

func (p *pages) fresh() {
	p.sheets = append(p.sheets, &draw.Sheet{Name: fmt.Sprintf("job sheet %d", len(p.sheets)+1), Size: p.Stock.Size})
	p.y = p.top()
}

// frames adds what needs the number of sheets: titles, feet and check lines.
func (p *pages) frames() error {
	for i, s := range p.sheets {
		sheet := p.Words.Sheet + " " + strconv.Itoa(i+1) + " " + p.Words.Of + " " + strconv.Itoa(len(p.sheets))
		y := p.margin
		title, err := typeset.Fit(p.Words.Batch+" "+p.Batch, typeset.Bold(p.Fonts, 4.6), p.wide()*0.45, floorCap)
		if err != nil {
			return err
		}
		s.Add(draw.Colour, title.Straight(geom.Translate(p.left(), y), typeset.Left, draw.Black)...)
		x := p.left() + title.Width + 3
		what, err := typeset.Shape(strings.ToUpper(p.Words.JobSheet), typeset.Bold(p.Fonts, 2.2))
		if err != nil {
			return err
		}
		s.Add(draw.Colour, what.Straight(geom.Translate(x, y), typeset.Left, draw.Black)...)
		x += what.Width + 3
		parts := []string{p.Maker, p.Date, sheet}
		for len(parts) > 0 {
			l, err := typeset.Fit(strings.Join(parts, dot), typeset.Regular(p.Fonts, 2.4), p.right()-x, bodyCap)
			if err == nil {
				s.Add(draw.Colour, l.Straight(geom.Translate(p.right(), y), typeset.Right, draw.Black)...)
				break
			}
			if len(parts) == 1 || fault.ClassOf(err) != fault.NoFit {
				return err
			}
			parts = parts[1:] // a maker knows the maker; which sheet it is must stand
		}
		s.Add(draw.Colour, bar(p.left(), y+1.6, p.wide(), 0.7))
		if i == 0 {
			if err := p.checks(s); err != nil {
				return err
			}
		}
	}
	return nil
}

const dot = " · "

// checks draws a 100 mm line in both directions: a printer may stretch the two
// by different amounts.
func (p *pages) checks(s *draw.Sheet) error {
	small := typeset.Regular(p.Fonts, floorCap+0.15)
	x, y := p.left(), p.Stock.Size.H-p.Stock.Margin-stock.CheckTick-1.2
	s.Add(draw.Guide, stock.CheckLine(geom.Point{X: x, Y: y}, false)...)
	c, err := flow(p.Words.CheckLine+dot+p.Words.ActualSize, small, p.wide()-stock.CheckLength-3)
	if err != nil {
		return err
	}
	least := p.Stock.Size.H - p.Stock.Margin - descent*small.Cap - c.h() // on the printed part of the sheet
	s.Add(draw.Guide, c.draw(x+stock.CheckLength+3, min(y-c.h()/2, least), typeset.Left)...)
	up := p.Stock.Margin + stock.CheckTick + 0.5
	y0 := p.top() + 12
	s.Add(draw.Guide, stock.CheckLine(geom.Point{X: up, Y: y0}, true)...)
	l, err := typeset.Fit(p.Words.CheckLine, small, stock.CheckLength, floorCap)
	if err != nil {
		return err
	}
	s.Add(draw.Guide, l.Straight(geom.Rotate(-quarter).Then(geom.Translate(up+0.9+l.Cap, y0+stock.CheckLength/2)), typeset.Centre, draw.Black)...)
	return nil
}

func bar(x, y, w, h float64) draw.Op {
	return &draw.Fill{Path: geom.Rectangle(geom.XYWH(x, y, w, h)), Ink: draw.Black}
}
