package jobsheet

import (
	"math"
	"strconv"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

const quarter = math.Pi / 2

// column is one column of the table: its head, its share of the width, and
// what stands in it; a column without text is a box to tick.
type column struct {
	head  string
	share float64
	bold  bool
	ours  bool // its text is of Words
	text  func(Row) string
	x, w  float64
}

// columns lays the columns over the width. The shares are the widths of the
// longest usual entries on A4, mm.
func (p *pages) columns() {
	w := p.Words
	p.cols = []column{
		{head: w.Number1, share: 7, bold: true, text: func(r Row) string { return strconv.Itoa(r.Number) }},
		{head: w.ID, share: 15, bold: true, text: func(r Row) string { return r.ID }},
		{head: w.Pattern, share: 22, text: func(r Row) string { return r.Pattern }},
		{head: w.Rating, share: 13, bold: true, text: func(r Row) string { return r.Rating }},
		{head: w.Printed, share: 34, text: func(r Row) string { return strings.Join(r.Printed, dot) }},
		{head: w.Where, share: 22, ours: true, text: func(r Row) string { return r.Where }},
		{head: w.Code, share: 13, ours: true, text: func(r Row) string { return r.Code }},
		{head: w.Cut, share: 8},
		{head: w.Applied, share: 10},
		{head: w.Varnished, share: 12},
		{head: w.Retested, share: 11},
		{head: w.Note, share: 18, text: func(r Row) string { return r.Note }},
	}
	sum := 0.0
	for _, c := range p.cols {
		sum += c.share
	}
	for i := range p.cols {
		p.cols[i].w = (p.right() - p.left()) * p.cols[i].share / sum
	}
	p.widen()
	x := p.left()
	for i := range p.cols {
		p.cols[i].x = x
		x += p.cols[i].w
	}
}

// widen gives columns whose longest word of Words would not fit what it needs,
// from those that have more than they need: words differ in length from language
// to language. Where all have too little they stay, and the word is told.
func (p *pages) widen() {
	const air = 0.01 // mm, for rounding
	short, slack := 0.0, 0.0
	least := make([]float64, len(p.cols))
	for i, c := range p.cols {
		least[i] = p.least(c) + air
		short += max(0, least[i]-c.w)
		slack += max(0, c.w-least[i])
	}
	if short == 0 || slack < short {
		return
	}
	for i := range p.cols {
		c := &p.cols[i]
		c.w = max(c.w, least[i]) - float64(short*max(0, c.w-least[i])/slack)
	}
}

// least is the width at which a column's longest word of Words fits; a word without a
// glyph is told where it is set.
func (p *pages) least(c column) float64 {
	widest := func(text string, f typeset.Font, w float64) float64 {
		for _, word := range unbroken(text) {
			if l, err := typeset.Shape(word, f); err == nil {
				w = max(w, l.Width)
			}
		}
		return w
	}
	w := widest(c.head, typeset.Bold(p.Fonts, floorCap), 0) - headMore
	if c.text == nil {
		return max(w+2*pad, box+2*pad)
	}
	if c.ours { // a maker's own long word does not narrow the rest
		for _, r := range p.Rows {
			w = widest(c.text(r), typeset.Regular(p.Fonts, floorCap), w)
		}
	}
	return w + 2*pad
}

// headMore is how much further a head may reach than a cell, mm.
const headMore = 0.8

// cell is wrapped text with its height.
type cell struct {
	lines []typeset.Line
	pitch float64
}

func (c cell) h() float64 {
	if len(c.lines) == 0 {
		return 0
	}
	return float64(float64(len(c.lines)-1)*c.pitch) + c.lines[0].Cap
}

// draw sets the lines, the first with its capitals' top at y.
func (c cell) draw(x, y float64, a typeset.Align) []draw.Op {
	var ops []draw.Op
	for i, l := range c.lines {
		ops = append(ops, l.Straight(geom.Translate(x, y+l.Cap+float64(float64(i)*c.pitch)), a, draw.Black)...)
	}
	return ops
}

// wrap breaks text at blanks into lines no wider than width; one that fits at
// the floor on a single line shrinks instead. A dot that would end or begin a
// line gives way to the break.
func wrap(text string, f typeset.Font, width float64) (cell, error) {
	c := cell{pitch: f.Cap * (1 + leading) * 1.05}
	if strings.TrimSpace(text) == "" {
		return c, nil
	}
	if l, err := typeset.Fit(text, f, width, floorCap); err == nil {
		c.lines = []typeset.Line{l}
		return c, nil
	} else if fault.ClassOf(err) != fault.NoFit {
		return c, err
	}
	return flow(text, f, width)
}

// flow breaks text at blanks into lines no wider than width, all of one size as
// running text must be; only a word that is still too wide shrinks.
func flow(text string, f typeset.Font, width float64) (cell, error) {
	c := cell{pitch: f.Cap * (1 + leading) * 1.05}
	var broken []string
	for i, phrase := range strings.Split(text, dot) {
		for j, word := range unbroken(phrase) {
			joint := " "
			if j == 0 {
				joint = dot
			}
			if n := len(broken) - 1; n >= 0 && !(i == 0 && j == 0) {
				if l, err := typeset.Shape(broken[n]+joint+word, f); err == nil && l.Width <= width {
					broken[n] += joint + word
					continue
				}
			}
			broken = append(broken, word)
		}
	}
	for _, t := range broken {
		l, err := typeset.Fit(t, f, width, floorCap)
		if err != nil {
			return c, err
		}
		c.lines = append(c.lines, l)
	}
	return c, nil
}

// unbroken splits text at its blanks, but for those behind a number, so that a
// figure stays with its unit and a count with what it counts, and before a mark
// that French sets apart.
func unbroken(text string) []string {
	var all []string
	number := false // the last word is one
	for _, word := range strings.Fields(text) {
		if len(all) > 0 && (number || strings.Trim(word, ":;?!") == "") {
			all[len(all)-1] += " " + word
		} else {
			all = append(all, word)
		}
		number = !number && strings.Trim(word, "0123456789.,") == ""
	}
	return all
}

// table sets every row, with the heads again on each sheet.
func (p *pages) table() error {
	p.fresh()
	if err := p.heads(); err != nil {
		return err
	}
	regular, bold := typeset.Regular(p.Fonts, cellCap), typeset.Bold(p.Fonts, cellCap+0.2)
	for n, r := range p.Rows {
		cells := make([]cell, len(p.cols))
		high := rowHigh
		for i, c := range p.cols {
			if c.text == nil {
				continue
			}
			font := regular
			if c.bold {
				font = bold
			}
			var err error
			if cells[i], err = wrap(c.text(r), font, c.w-2*pad); err != nil {
				return fault.At("float "+strconv.Itoa(r.Number)+", "+c.head, err)
			}
			high = math.Max(high, cells[i].h()+2*pad+1.6)
		}
		if p.y+high > p.foot() {
			p.fresh()
			if err := p.heads(); err != nil {
				return err
			}
		}
		if p.y+high > p.foot() {
			return fault.New(fault.NoFit, "float "+strconv.Itoa(r.Number), "its row is higher than the sheet", "shorten its note")
		}
		p.row(n, high, cells)
		p.y += high
	}
	p.add(bar(p.left(), p.y, p.right()-p.left(), 0.35))
	p.y += 0.35
	return nil
}

// row draws one row at p.y: every second one on a pale ground, so that the eye
// keeps the line across to the boxes.
func (p *pages) row(n int, high float64, cells []cell) {
	if n%2 == 1 {
		p.sheets[len(p.sheets)-1].Add(draw.Ground, &draw.Fill{
			Path: geom.Rectangle(geom.XYWH(p.left(), p.y, p.right()-p.left(), high)), Ink: zebra})
	}
	for i, c := range p.cols {
		if c.text == nil {
			path := geom.Rectangle(geom.XYWH(c.x+(c.w-box)/2, p.y+(high-box)/2, box, box))
			p.add(&draw.Fill{Path: path, Ink: draw.White}, &draw.Stroke{Path: path, Ink: draw.Black, Width: 0.25})
			continue
		}
		p.add(cells[i].draw(c.x+pad, p.y+(high-cells[i].h())/2, typeset.Left)...)
	}
	p.add(&draw.Stroke{Path: geom.LineBetween(geom.Point{X: p.left(), Y: p.y + high}, geom.Point{X: p.right(), Y: p.y + high}), Ink: grey, Width: hair})
}

// heads sets the columns' names over a rule.
func (p *pages) heads() error {
	const high = 6.0
	font := typeset.Bold(p.Fonts, cellCap)
	for _, c := range p.cols {
		text, err := wrap(c.head, font, c.w-2*pad+headMore)
		if err != nil {
			return fault.At("head of the table", err)
		}
		x, a := c.x+pad, typeset.Left
		if c.text == nil {
			x, a = c.x+c.w/2, typeset.Centre
		}
		p.add(text.draw(x, p.y+high-1.4-text.h(), a)...)
	}
	p.y += high
	p.add(bar(p.left(), p.y, p.right()-p.left(), 0.35))
	p.y += 0.35
	return nil
}
