package chart

import (
	"math"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading"
)

// mark is one float on its row.
type mark struct {
	g          loading.Grading
	x          float64       // of its tick
	lo, hi     float64       // ends of what it takes up along the row: bar and label
	beyond     int           // -1 or 1 when it lies off the axis
	label      *typeset.Line // nil for a float that keeps its rating
	labelX     float64
	labelAlign typeset.Align
	lane       int
}

// row draws one rating from p.y down.
func (p *plot) row(s loading.Spread) error {
	marks, lanes, err := p.marks(s)
	if err != nil {
		return err
	}
	high := 2*rowAir + float64(lane*float64(lanes)) + meanHigh
	if p.Narrow {
		if err := p.over(s); err != nil {
			return err
		}
	} else if least := ratingCap + 2*(factCap+1.2) + 2*rowAir; high < least {
		high = least
	}
	top, tol := p.y, float64(p.report.Tolerance)
	p.ground(p.rect(p.at(-tol), top, p.at(tol)-p.at(-tol), high, band))
	p.add(p.line(0, top, p.x1, top, hair, rule), p.line(p.at(0), top, p.at(0), top+high, 0.25, soft))
	p.mean(s, top+high-rowAir/2)
	// The lanes stand in the middle of what is left over the mean.
	first := top + (high-meanHigh-float64(lane*float64(lanes)))/2 + lane/2
	for _, m := range marks {
		p.mark(m, first+float64(lane*float64(m.lane)))
	}
	p.y += high
	if p.Narrow {
		return nil
	}
	return p.facts(s, top)
}

const digits = 0.001 // a rating as it is, no digit dropped

// over sets a rating and its facts over its row.
func (p *plot) over(s loading.Spread) error {
	y := p.y + 2*rowAir + ratingCap
	if err := p.put(s.Rating.Text(digits, p.Number), typeset.Bold(p.Fonts, ratingCap), 0, y, typeset.Left, factsWide/2, ink); err != nil {
		return err
	}
	if p.Facts != nil {
		if err := p.put(strings.Join(p.Facts(s), keyDot), typeset.Regular(p.Fonts, factCap), p.Width, y, typeset.Right, p.Width-factsWide/2, soft); err != nil {
			return err
		}
	}
	p.y = y + rowAir
	return nil
}

func (p *plot) facts(s loading.Spread, top float64) error {
	y := top + rowAir + ratingCap
	if err := p.put(s.Rating.Text(digits, p.Number), typeset.Bold(p.Fonts, ratingCap), 0, y, typeset.Left, factsWide, ink); err != nil {
		return err
	}
	if p.Facts == nil {
		return nil
	}
	for _, text := range p.Facts(s) {
		y += factCap + 1.2
		if err := p.put(text, typeset.Regular(p.Fonts, factCap), 0, y, typeset.Left, factsWide, soft); err != nil {
			return err
		}
	}
	return nil
}

// mean draws the mean as a triangle on a bar of one standard deviation to
// either side, standing on y.
func (p *plot) mean(s loading.Spread, y float64) {
	if s.N < 2 {
		return // the tick says it all
	}
	m, d := float64(s.Mean-s.Rating), float64(s.Deviation)
	if math.Abs(m) > p.span {
		return
	}
	p.meant = true
	const half, up = 0.9, 1.3
	a, b := p.at(m-d), p.at(m+d)
	p.add(p.rect(a, y-0.35, b-a, 0.35, rule))
	x := p.at(m)
	p.add(&draw.Fill{Path: geom.Polygon(geom.Point{X: x, Y: y - up}, geom.Point{X: x + half, Y: y}, geom.Point{X: x - half, Y: y}), Ink: soft})
}

// marks places the floats of a rating: each in the uppermost lane in which it
// meets no other.
func (p *plot) marks(s loading.Spread) ([]mark, int, error) {
	var all []mark
	var ends [][][2]float64 // of each lane, what is taken
	for _, g := range p.report.Floats {
		if g.Verdict == loading.Untested || g.MadeAs() != s.Rating {
			continue
		}
		m, err := p.one(g)
		if err != nil {
			return nil, 0, err
		}
		for m.lane = 0; m.lane < len(ends) && m.lane < maxLanes && taken(ends[m.lane], m); m.lane++ {
		}
		if m.lane == maxLanes {
			m.lane = len(all) % maxLanes // more than anybody can tell apart
		}
		if m.lane == len(ends) {
			ends = append(ends, nil)
		}
		ends[m.lane] = append(ends[m.lane], [2]float64{m.lo, m.hi})
		all = append(all, m)
	}
	return all, len(ends), nil
}

func taken(ends [][2]float64, m mark) bool {
	for _, e := range ends {
		if m.lo < e[1]+labelGap && e[0] < m.hi+labelGap {
			return true
		}
	}
	return false
}

// one works out where a float's tick, bar and number go.
func (p *plot) one(g loading.Grading) (mark, error) {
	d, u := off(g), float64(g.U)
	m := mark{g: g, x: p.at(d)}
	m.lo, m.hi = math.Min(p.at(d-u), m.x-tickWide/2), math.Max(p.at(d+u), m.x+tickWide/2)
	if math.Abs(d) > p.span {
		m.beyond = 1
		if d < 0 {
			m.beyond = -1
		}
		m.lo, m.hi = m.x-arrow, m.x+arrow
	}
	if g.Verdict == loading.Keeps {
		return m, nil
	}
	text, font := number(g.Number), typeset.Bold(p.Fonts, floorCap)
	if m.beyond != 0 {
		text += "  " + p.grams(d, 0.01)
	}
	l, err := typeset.Shape(text, font)
	if err != nil {
		return mark{}, err
	}
	m.label, m.labelX = &l, m.hi+labelGap
	if d > 0 { // towards the middle of the plot, where there is room
		m.labelAlign, m.labelX = typeset.Right, m.lo-labelGap
		m.lo -= labelGap + l.Width
	} else {
		m.hi += labelGap + l.Width
	}
	return m, nil
}

// arrow is the length of the arrow of a float off the axis, mm.
const arrow = 1.6

// mark draws a float with the middle of its lane at y.
func (p *plot) mark(m mark, y float64) {
	colour, thin := ink, soft
	if m.label != nil {
		colour, thin = outside, outside
		p.add(m.label.Straight(geom.Translate(m.labelX, y+m.label.Cap/2), m.labelAlign, colour)...)
	}
	if m.beyond != 0 {
		tip, back := m.x, m.x-float64(m.beyond)*arrow
		p.add(&draw.Fill{Path: geom.Polygon(geom.Point{X: tip, Y: y}, geom.Point{X: back, Y: y - tickHigh/2}, geom.Point{X: back, Y: y + tickHigh/2}), Ink: colour})
		return
	}
	d, u := off(m.g), float64(m.g.U)
	if a, b := p.at(d-u), p.at(d+u); b > a {
		p.add(p.line(a, y, b, y, barWide, thin))
	}
	p.add(p.rect(m.x-tickWide/2, y-tickHigh/2, tickWide, tickHigh, colour))
}
