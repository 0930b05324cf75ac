package jobsheet

import (
	"math"
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

const quarter = math.Pi / 2

// Measures of the table, mm. Own choices.
const (
	rowHigh  = 6.9 // least height of a row: a box with some air
	rowAir   = 0.9 // above and under what stands in a row
	noteGap  = 1.4 // above a note
	headAir  = 1.3 // under the columns' names
	footHigh = 4.4 // of the line under the table
)

// setRow is a row of the table, measured.
type setRow struct {
	cells      []rich
	note       rich
	main, high float64 // without the note, and in all
}

// table sets every row, with the heads again on each sheet.
func (p *pages) table() error {
	if err := p.columns(); err != nil {
		return err
	}
	p.fresh()
	if err := p.heads(); err != nil {
		return err
	}
	mapped := false
	for n, r := range p.Rows {
		s, err := p.measure(r)
		if err != nil {
			return err
		}
		if p.y+s.high > p.foot() {
			p.fresh()
			if err := p.heads(); err != nil {
				return err
			}
		}
		if p.y+s.high > p.foot() {
			return fault.New(fault.NoFit, p.Words.Float+" "+strconv.Itoa(r.Number), "its row is higher than the sheet", "shorten its note")
		}
		p.row(n, r, s)
		for _, d := range r.Decals {
			mapped = mapped || d != p.bench.LiesReady && d != p.bench.Jig
		}
	}
	p.add(bar(p.left(), p.y, p.wide(), 0.35))
	p.y += 0.35
	if mapped && len(p.Maps) > 0 && p.y+footHigh <= p.foot() {
		l, err := typeset.Fit(p.bench.PageField, typeset.Regular(p.Fonts, bodyCap), p.wide(), floorCap)
		if err != nil {
			return err
		}
		p.add(l.Straight(geom.Translate(p.left()+pad, p.y+footHigh-1), typeset.Left, draw.Black)...)
		p.y += footHigh
	}
	return nil
}

// noteRoom is where notes stand: under the row's words, left of its boxes.
func (p *pages) noteRoom() (x, width float64) {
	x = p.cols[1].x + pad
	for _, c := range p.cols {
		if c.what == nil {
			return x, c.x - x - pad
		}
	}
	return x, p.right() - x - pad
}

func (p *pages) measure(r Row) (setRow, error) {
	s := setRow{cells: make([]rich, len(p.cols)), main: rowHigh}
	for i, c := range p.cols {
		if c.what == nil {
			continue
		}
		var err error
		if s.cells[i], err = c.what(r).set(c.inner()); err != nil {
			return s, fault.At(p.Words.Float+" "+strconv.Itoa(r.Number)+", "+c.head, err)
		}
		s.main = math.Max(s.main, s.cells[i].h()+2*rowAir)
	}
	s.high = s.main
	if r.Note == "" {
		return s, nil
	}
	_, width := p.noteRoom()
	var err error
	if s.note, err = (passage{{{r.Note, typeset.Regular(p.Fonts, bodyCap), false}}}).set(width); err != nil {
		return s, fault.At(p.Words.Float+" "+strconv.Itoa(r.Number)+", "+p.Words.Note, err)
	}
	s.high += s.note.h() + noteGap
	return s, nil
}

// row draws one row at p.y: every second one on a pale ground, so that the eye
// keeps the line across to the boxes.
func (p *pages) row(n int, r Row, s setRow) {
	sheet := p.sheets[len(p.sheets)-1]
	if n%2 == 1 {
		sheet.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(p.left(), p.y, p.wide(), s.high)), Ink: zebra})
	}
	for i, c := range p.cols {
		if c.what == nil {
			path := geom.Rectangle(geom.XYWH(c.x+(c.w-box)/2, p.y+(s.main-box)/2, box, box))
			p.add(&draw.Fill{Path: path, Ink: draw.White}, &draw.Stroke{Path: path, Ink: draw.Black, Width: 0.25})
			continue
		}
		x, y := c.x+pad, p.y+(s.main-s.cells[i].h())/2
		if c.swatch != nil {
			inks := c.swatch(r)
			for k, ink := range inks { // one to its words
				high := (s.main - 2*rowAir) / float64(len(inks))
				path := geom.Rectangle(geom.XYWH(x, p.y+rowAir+float64(float64(k)*high)+0.3, swatchCell, high-0.6))
				p.add(&draw.Fill{Path: path, Ink: ink}, &draw.Stroke{Path: path, Ink: grey, Width: hair})
			}
			x += swatchRoom
		}
		if c.centre {
			x = c.x + (c.w-s.cells[i].width())/2
		}
		p.add(s.cells[i].draw(x, y)...)
	}
	x, _ := p.noteRoom()
	p.add(s.note.draw(x, p.y+s.main-rowAir+noteGap)...)
	p.y += s.high
	p.add(&draw.Stroke{Path: geom.LineBetween(geom.Point{X: p.left(), Y: p.y}, geom.Point{X: p.right(), Y: p.y}), Ink: grey, Width: hair})
}

// heads sets the columns' names over a rule, those of the boxes upright.
func (p *pages) heads() error {
	font := typeset.Bold(p.Fonts, bodyCap)
	texts := make([]rich, len(p.cols))
	ups := make([]typeset.Line, len(p.cols))
	high := 0.0
	for i, c := range p.cols {
		var err error
		if c.what == nil {
			ups[i], err = typeset.Shape(c.head, font)
			high = math.Max(high, ups[i].Width)
		} else {
			texts[i], err = passage{{{c.head, font, false}}}.set(c.w - 2*pad)
			high = math.Max(high, texts[i].h())
		}
		if err != nil {
			return fault.At(c.head, err)
		}
	}
	p.y += high + headAir
	for i, c := range p.cols {
		if c.what == nil {
			at := geom.Rotate(-quarter).Then(geom.Translate(c.x+(c.w+ups[i].Cap)/2, p.y-headAir))
			p.add(ups[i].Straight(at, typeset.Left, draw.Black)...)
			continue
		}
		x := c.x + pad
		if c.centre {
			x = c.x + (c.w-texts[i].width())/2
		}
		p.add(texts[i].draw(x, p.y-headAir-texts[i].h())...)
	}
	p.add(bar(p.left(), p.y, p.wide(), 0.35))
	p.y += 0.35
	return nil
}
