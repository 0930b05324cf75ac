package jobsheet

import (
	"strconv"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// Measures of headings and lists, mm. Own choices.
const (
	headCap   = 2.2
	headTop   = 0.6 // over a heading, as the plots have it
	headGap   = 2.6 // air under a heading
	number    = 5.0 // width of a step's number
	listGap   = 1.2 // air between two steps, beside that between lines
	leastList = 60.0
)

// day makes the order of the day and the cautions, beside each other.
func (p *pages) day() ([]*draw.Sheet, error) {
	wide := p.wide() - NarrowWidth - blockGap
	if wide < leastList {
		wide = p.wide()
	}
	steps, err := p.list(p.Words.OrderOfDay, p.Words.CommonPractice, p.Steps, true, wide)
	if err != nil {
		return nil, err
	}
	cautions, err := p.list(p.Words.Cautions, "", p.Cautions, false, NarrowWidth)
	return append(steps, cautions...), err
}

// list sets numbered steps or points under a heading, in as many blocks as it
// takes for each to fit a sheet.
func (p *pages) list(head, note string, texts []string, numbered bool, width float64) ([]*draw.Sheet, error) {
	if len(texts) == 0 {
		return nil, nil
	}
	font := typeset.Regular(p.Fonts, bodyCap)
	var all []*draw.Sheet
	var b *draw.Sheet
	y := 0.0
	for i, t := range texts {
		q, err := passage{{{t, font, false}}}.set(width - number)
		if err != nil {
			return nil, fault.At(head, err)
		}
		if b == nil || y+q.h() > p.foot()-p.top() {
			b = &draw.Sheet{Name: head}
			all = append(all, b)
			if y, err = p.heading(b, head, note, width); err != nil {
				return nil, err
			}
		}
		if numbered {
			l, err := typeset.Shape(strconv.Itoa(i+1), typeset.Bold(p.Fonts, bodyCap))
			if err != nil {
				return nil, err
			}
			b.Add(draw.Colour, l.Straight(geom.Translate(0, y+bodyCap), typeset.Left, draw.Black)...)
		} else {
			b.Add(draw.Colour, bar(0, y+bodyCap/2-0.2, 2.2, 0.4))
		}
		b.Add(draw.Colour, q.draw(number, y)...)
		y += q.h() + lineGap + listGap
		b.Size = geom.Size{W: width, H: y - lineGap - listGap + descent*bodyCap}
	}
	return all, nil
}

// descent is how far letters reach under their line, in capitals: enough for the
// built-in faces.
const descent = 0.35

// heading sets a heading with a note behind it, or under it where there is no
// room, and returns where what it heads begins.
func (p *pages) heading(b *draw.Sheet, head, note string, width float64) (float64, error) {
	title, err := typeset.Fit(strings.ToUpper(head), typeset.Bold(p.Fonts, headCap), width, floorCap)
	if err != nil {
		return 0, err
	}
	b.Add(draw.Colour, title.Straight(geom.Translate(0, headTop+headCap), typeset.Left, draw.Black)...)
	y := headTop + headCap + headGap
	if note == "" {
		return y, nil
	}
	const behind = 3.0
	l, err := typeset.Shape(note, typeset.Regular(p.Fonts, bodyCap))
	if err != nil {
		return 0, err
	}
	if title.Width+behind+l.Width <= width {
		b.Add(draw.Colour, l.Straight(geom.Translate(title.Width+behind, headTop+headCap), typeset.Left, draw.Black)...)
		return y, nil
	}
	q, err := passage{{{note, typeset.Regular(p.Fonts, bodyCap), false}}}.set(width)
	if err != nil {
		return 0, err
	}
	b.Add(draw.Colour, q.draw(0, headTop+headCap+lineGap)...)
	return headTop + headCap + lineGap + q.h() + headGap, nil
}
