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
	x := 0.0
	for i := range cols {
		c := &cols[i]
		c.x, c.w = x, p.wide()*c.share/sum
		x += c.w
	}
	cols[0].x += swatchWide + 1
	cols[0].w -= swatchWide + 1
	return cols
}

// rings makes the table of ground rings, parted where no sheet holds it whole;
// nothing when there are none.
func (p *pages) rings() ([]*draw.Sheet, error) {
	if len(p.Rings) == 0 {
		return nil, nil
	}
	cols := p.ringColumns()
	b := &draw.Sheet{Name: p.Words.Ground.Head}
	y, err := p.heading(b, p.Words.Ground.Head, p.Words.CommonPractice, p.wide())
	if err != nil {
		return nil, err
	}
	font := typeset.Regular(p.Fonts, bodyCap)
	how, err := passage{{{p.Words.Ground.How, font, false}}}.set(p.wide())
	if err != nil {
		return nil, err
	}
	b.Add(draw.Colour, how.draw(0, y)...)
	if y, err = p.ringHeads(b, cols, y+how.h()+bodyCap); err != nil {
		return nil, err
	}
	all := []*draw.Sheet{b}
	for _, r := range p.Rings {
		high := ringHigh
		var cells []cell
		for _, c := range cols {
			text, err := wrap(c.text(r), font, c.w-2*pad)
			if err != nil {
				return nil, fault.At(p.Words.Ground.Head+", "+r.Pattern+", "+c.head, err)
			}
			cells, high = append(cells, text), max(high, text.h()+2*pad)
		}
		if y+high > p.foot()-p.top() {
			b = &draw.Sheet{Name: p.Words.Ground.Head}
			all = append(all, b)
			if y, err = p.ringHeads(b, cols, 0); err != nil {
				return nil, err
			}
		}
		p.ringRow(b, y, r.Colour, cols, cells, high)
		y += high
		b.Size = geom.Size{W: p.wide(), H: y + hair}
	}
	return all, nil
}

// headsHigh is the height of the columns' names with the rule under them, mm.
const headsHigh = 5.0

// ringHeads sets the columns' names and returns where the rows begin.
func (p *pages) ringHeads(b *draw.Sheet, cols []ringColumn, y float64) (float64, error) {
	for i, c := range cols {
		x := c.x + pad
		if i == 0 {
			x = 0 // over the swatch
		}
		l, err := typeset.Fit(c.head, typeset.Bold(p.Fonts, bodyCap), c.w+pad, floorCap)
		if err != nil {
			return 0, fault.At(p.Words.Ground.Head, err)
		}
		b.Add(draw.Colour, l.Straight(geom.Translate(x, y+headsHigh-1.6), typeset.Left, draw.Black)...)
	}
	b.Add(draw.Colour, bar(0, y+headsHigh-0.35, p.wide(), 0.35))
	return y + headsHigh, nil
}

func (p *pages) ringRow(b *draw.Sheet, y float64, colour draw.Ink, cols []ringColumn, cells []cell, high float64) {
	swatch := geom.Rectangle(geom.XYWH(0, y+(high-swatchHigh)/2, swatchWide, swatchHigh))
	b.Add(draw.Colour, &draw.Fill{Path: swatch, Ink: colour}, &draw.Stroke{Path: swatch, Ink: grey, Width: hair})
	for i, c := range cols {
		b.Add(draw.Colour, cells[i].draw(c.x+pad, y+(high-cells[i].h())/2, typeset.Left)...)
	}
	b.Add(draw.Colour, &draw.Stroke{Path: geom.LineBetween(geom.Point{Y: y + high}, geom.Point{X: p.wide(), Y: y + high}), Ink: grey, Width: hair})
}
