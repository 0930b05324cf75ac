package jobsheet

import (
	"fmt"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// Ring is a ground ring that a pattern needs painted before its mark goes on.
type Ring struct {
	Pattern  string
	From, To string   // where to mask, along the axis from the base: "27 mm"
	Colour   draw.Ink // of the paint, shown as a swatch
	Why      string   // what it is for: "words on clear film over green"
}

// Measures of the rings' table, mm. Own choices.
const (
	swatchWide, swatchHigh = 9.0, 4.0
	ringHigh               = 5.6 // least height of a row
)

// ringColumn is a column of the rings' table: its head, its share of the width
// and its text; the first is the swatch.
type ringColumn struct {
	head  string
	share float64
	text  func(Ring) string
	x, w  float64
}

func (p *pages) ringColumns() []ringColumn {
	w := p.Words.Ground
	cols := []ringColumn{
		{head: w.Colour, share: 26, text: func(r Ring) string { return r.Colour.String() }},
		{head: p.Words.Pattern, share: 40, text: func(r Ring) string { return r.Pattern }},
		{head: w.MaskAt, share: 50, text: func(r Ring) string { return fmt.Sprintf(w.Between, r.From, r.To, p.Words.FromBase) }},
		{head: w.Why, share: 70, text: func(r Ring) string { return r.Why }},
	}
	sum := 0.0
	for _, c := range cols {
		sum += c.share
	}
	x := p.left()
	for i := range cols {
		c := &cols[i]
		c.x, c.w = x, (p.right()-p.left())*c.share/sum
		x += c.w
	}
	cols[0].x += swatchWide + 1
	cols[0].w -= swatchWide + 1
	return cols
}

// rings sets the table of ground rings; nothing when there are none.
func (p *pages) rings() error {
	if len(p.Rings) == 0 {
		return nil
	}
	cols := p.ringColumns()
	font := typeset.Regular(p.Fonts, bodyCap)
	rows := make([][]cell, len(p.Rings))
	highs := make([]float64, len(p.Rings))
	for i, r := range p.Rings {
		highs[i] = ringHigh
		for _, c := range cols {
			text, err := wrap(c.text(r), font, c.w-2*pad)
			if err != nil {
				return fault.At(p.Words.Ground.Head+", "+r.Pattern+", "+c.head, err)
			}
			rows[i] = append(rows[i], text)
			highs[i] = max(highs[i], text.h()+2*pad)
		}
	}
	how, err := passage{{{p.Words.Ground.How, typeset.Regular(p.Fonts, bodyCap), false}}}.set(p.wide())
	if err != nil {
		return err
	}
	top := &draw.Sheet{Name: p.Words.Ground.Head}
	y, err := p.heading(top, p.Words.Ground.Head, p.Words.CommonPractice, p.wide())
	if err != nil {
		return err
	}
	top.Add(draw.Colour, how.draw(0, y)...)
	y += how.h() + bodyCap
	// The head must not stand alone at the foot of a sheet.
	if p.y+blockGap+y+headsHigh+highs[0] > p.foot() {
		p.fresh()
	} else {
		p.y += blockGap
	}
	p.sheets[len(p.sheets)-1].Place(top, geom.Translate(p.left(), p.y))
	p.y += y
	if err := p.ringHeads(cols); err != nil {
		return err
	}
	for i := range rows {
		if p.y+highs[i] > p.foot() {
			p.fresh()
			if err := p.ringHeads(cols); err != nil {
				return err
			}
		}
		p.ringRow(p.Rings[i].Colour, cols, rows[i], highs[i])
	}
	return nil
}

// headsHigh is the height of the columns' names with the rule under them, mm.
const headsHigh = 5.0

func (p *pages) ringHeads(cols []ringColumn) error {
	for i, c := range cols {
		x := c.x + pad
		if i == 0 {
			x = p.left() // over the swatch
		}
		l, err := typeset.Fit(c.head, typeset.Bold(p.Fonts, bodyCap), c.w+pad, floorCap)
		if err != nil {
			return fault.At(p.Words.Ground.Head, err)
		}
		p.add(l.Straight(geom.Translate(x, p.y+headsHigh-1.6), typeset.Left, draw.Black)...)
	}
	p.y += headsHigh
	p.add(bar(p.left(), p.y-0.35, p.right()-p.left(), 0.35))
	return nil
}

func (p *pages) ringRow(colour draw.Ink, cols []ringColumn, cells []cell, high float64) {
	swatch := geom.Rectangle(geom.XYWH(p.left(), p.y+(high-swatchHigh)/2, swatchWide, swatchHigh))
	p.add(&draw.Fill{Path: swatch, Ink: colour}, &draw.Stroke{Path: swatch, Ink: grey, Width: hair})
	for i, c := range cols {
		p.add(cells[i].draw(c.x+pad, p.y+(high-cells[i].h())/2, typeset.Left)...)
	}
	p.y += high
	p.add(&draw.Stroke{Path: geom.LineBetween(geom.Point{X: p.left(), Y: p.y}, geom.Point{X: p.right(), Y: p.y}), Ink: grey, Width: hair})
}
