// Package jobsheet lays out the sheet that lies on the bench on marking day:
// every float in the order of the drying board with what goes on it and where,
// boxes to tick, then the order of the day and the cautions for its work.
//
// Lengths are millimetres, origin top left, y down. The package works out
// nothing: it sets the rows it is given.
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

// Row is one float of the table.
type Row struct {
	Number  int
	ID      string
	Pattern string
	Rating  string   // "8 g"
	Printed []string // the lines that are really on the mark, in order
	Where   string   // where its lower edge sits: "18 mm from base"
	Code    string   // "on float" or "on card"
	Note    string
}

// Spec is one batch's job sheet.
type Spec struct {
	Maker, Batch, Date string   // date: calendar text
	Rows               []Row    // in the order of the drying board
	Steps, Cautions    []string // nil for those of Words, whose steps are those of waterslide film
	Fonts              fonts.Set
	Words              words.Words
	Stock              stock.Stock   // paper, portrait; at least 180 mm wide and 200 mm high
	Plot               *draw.Sheet   // set after the cautions; nil for none. PlotWidth is its room
	Rings              []Ring        // to paint before the marks go on; set under the table
	Plots              []*draw.Sheet // more plots, set after Plot, beside each other where the width holds them
}

// Measures of the sheet, mm. Own choices but where said.
const (
	side      = 12.0 // page margin, wide enough for the upright check line in it
	head      = 20.0 // from the page's margin to the table
	rowHigh   = 7.5  // least height of a row: a box of 4.5 mm can be ticked with a pen
	box       = 4.5
	pad       = 1.0 // in a cell
	cellCap   = 1.9
	floorCap  = 1.65 // small letters of 1.2 mm in the built-in faces
	leading   = 0.55 // air between lines, in caps
	footNote  = 4.0  // kept free for the sheet's foot
	checkRoom = 8.0  // height of the level check line with its words
	hair      = 0.12
)

var (
	zebra = draw.Ink{R: 238, G: 238, B: 238}
	grey  = draw.Ink{R: 130, G: 130, B: 130}
)

// Lay draws the sheets of a batch. Text that is too wide for its cell shrinks
// to the floor, then breaks; a word that is still too wide is a NoFit error
// with its measure.
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
	p := &pages{Spec: s, margin: margin(s.Stock)}
	p.columns()
	if err := p.table(); err != nil {
		return nil, fault.At("job sheet", err)
	}
	if err := p.rings(); err != nil {
		return nil, fault.At("job sheet", err)
	}
	if err := p.day(); err != nil {
		return nil, fault.At("job sheet", err)
	}
	p.plots()
	if err := p.frames(); err != nil {
		return nil, fault.At("job sheet", err)
	}
	return p.sheets, nil
}

func margin(paper stock.Stock) float64 { return max(side, paper.Margin+6) }

// PlotWidth returns the width a plot has on a sheet of that paper, mm.
func PlotWidth(paper stock.Stock) float64 { return paper.Size.W - 2*margin(paper) }

// The smallest paper the table can be set on.
const leastWide, leastHigh = 180.0, 200.0

// pages fills sheets from the top down.
type pages struct {
	Spec
	margin float64
	cols   []column
	sheets []*draw.Sheet
	y      float64 // where the next thing begins on the last sheet
}

func (p *pages) left() float64  { return p.margin }
func (p *pages) right() float64 { return p.Stock.Size.W - p.margin }

// foot is where a sheet's content ends: above its foot note and, on the first,
// the check line.
func (p *pages) foot() float64 {
	f := p.Stock.Size.H - p.margin - footNote
	if len(p.sheets) == 1 {
		f -= checkRoom
	}
	return f
}

func (p *pages) add(ops ...draw.Op) { p.sheets[len(p.sheets)-1].Add(draw.Colour, ops...) }

func (p *pages) fresh() {
	p.sheets = append(p.sheets, &draw.Sheet{Name: fmt.Sprintf("job sheet %d", len(p.sheets)+1), Size: p.Stock.Size})
	p.y = p.margin + head
}

// frames adds what needs the number of sheets: titles, feet and check lines.
func (p *pages) frames() error {
	w := p.Words
	of := len(p.sheets)
	for i, s := range p.sheets {
		put := func(text string, f typeset.Font, x, y float64, a typeset.Align, width float64) error {
			l, err := typeset.Fit(text, f, width, floorCap)
			if err != nil {
				return err
			}
			s.Add(draw.Colour, l.Straight(geom.Translate(x, y), a, draw.Black)...)
			return nil
		}
		sheet := w.Sheet + " " + strconv.Itoa(i+1) + " " + w.Of + " " + strconv.Itoa(of)
		wide := p.right() - p.left()
		top := p.margin
		if err := put(strings.ToUpper(w.JobSheet), typeset.Bold(p.Fonts, 2.2), p.left(), top+3, typeset.Left, wide*0.4); err != nil {
			return err
		}
		if err := put(sheet, typeset.Regular(p.Fonts, 2.4), p.right(), top+3, typeset.Right, wide*0.4); err != nil {
			return err
		}
		if err := put(w.Batch+" "+p.Batch, typeset.Bold(p.Fonts, 4.6), p.left(), top+11, typeset.Left, wide*0.45); err != nil {
			return err
		}
		if err := put(p.Maker+dot+p.Date, typeset.Regular(p.Fonts, 2.4), p.right(), top+11, typeset.Right, wide*0.5); err != nil {
			return err
		}
		s.Add(draw.Colour, bar(p.left(), top+14.2, wide, 0.7))
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
	x, y := p.left(), p.Stock.Size.H-p.margin-checkRoom+stock.CheckTick
	s.Add(draw.Guide, stock.CheckLine(geom.Point{X: x, Y: y}, false)...)
	l, err := typeset.Fit(p.Words.CheckLine+dot+p.Words.ActualSize, small, p.right()-p.left(), floorCap)
	if err != nil {
		return err
	}
	s.Add(draw.Guide, l.Straight(geom.Translate(x, y+stock.CheckTick+3), typeset.Left, draw.Black)...)
	up := p.Stock.Margin + stock.CheckTick + 0.5
	y0 := p.margin + head
	s.Add(draw.Guide, stock.CheckLine(geom.Point{X: up, Y: y0}, true)...)
	l, err = typeset.Fit(p.Words.CheckLine, small, stock.CheckLength, floorCap)
	if err != nil {
		return err
	}
	s.Add(draw.Guide, l.Straight(geom.Rotate(-quarter).Then(geom.Translate(up+0.9+l.Cap, y0+stock.CheckLength/2)), typeset.Centre, draw.Black)...)
	return nil
}

func bar(x, y, w, h float64) draw.Op {
	return &draw.Fill{Path: geom.Rectangle(geom.XYWH(x, y, w, h)), Ink: draw.Black}
}
