package jobsheet

import (
	"strconv"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// Measures of the lists under the table, mm. Own choices.
const (
	listCap   = 2.1
	headCap   = 2.2
	number    = 7.0 // width of a step's number
	listGap   = 1.3 // air between two steps
	beforeDay = 7.0 // air above a heading
	headGap   = 2.6 // air under it
)

// day sets the order of the day and the cautions, each whole on one sheet if it
// fits on one.
func (p *pages) day() error {
	if err := p.list(p.Words.OrderOfDay, p.Words.CommonPractice, p.Steps, true); err != nil {
		return err
	}
	return p.list(p.Words.Cautions, "", p.Cautions, false)
}

func (p *pages) list(head, note string, texts []string, numbered bool) error {
	if len(texts) == 0 {
		return nil
	}
	font := typeset.Regular(p.Fonts, listCap)
	x, width := p.left()+number, p.right()-p.left()-number
	var cells []cell
	high := beforeDay + headCap + headGap
	for _, t := range texts {
		c, err := flow(t, font, width)
		if err != nil {
			return fault.At(head, err)
		}
		cells = append(cells, c)
		high += c.h() + listCap*leading + listGap
	}
	if p.y+high > p.foot() {
		p.fresh()
		p.y -= beforeDay // the sheet's own head gives the air
	}
	p.y += beforeDay
	if err := p.heading(head, note); err != nil {
		return err
	}
	for i, c := range cells {
		if p.y+c.h()+listCap*leading > p.foot() {
			p.fresh()
		}
		if numbered {
			l, err := typeset.Shape(strconv.Itoa(i+1), typeset.Bold(p.Fonts, listCap))
			if err != nil {
				return err
			}
			p.add(l.Straight(geom.Translate(p.left(), p.y+listCap), typeset.Left, draw.Black)...)
		} else {
			p.add(bar(p.left(), p.y+listCap/2-0.2, 2.2, 0.4))
		}
		p.add(c.draw(x, p.y, typeset.Left)...)
		p.y += c.h() + listCap*leading + listGap
	}
	return nil
}

// heading sets a heading with a note behind it, and the air under them.
func (p *pages) heading(head, note string) error {
	title, err := typeset.Fit(strings.ToUpper(head), typeset.Bold(p.Fonts, headCap), p.right()-p.left(), floorCap)
	if err != nil {
		return err
	}
	p.add(title.Straight(geom.Translate(p.left(), p.y+headCap), typeset.Left, draw.Black)...)
	if note != "" {
		l, err := typeset.Fit(note, typeset.Regular(p.Fonts, headCap), p.right()-p.left()-title.Width-3, floorCap)
		if err != nil {
			return err
		}
		p.add(l.Straight(geom.Translate(p.left()+title.Width+3, p.y+headCap), typeset.Left, draw.Black)...)
	}
	p.y += headCap + headGap
	return nil
}
