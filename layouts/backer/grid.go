package backer

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// The baseline grid. Every line of a card stands on whole half lines counted from
// the top edge of the trim, front and back alike. A line is what small print needs
// from one baseline to the next; all sizes of type are shares of it, so a card is
// made tighter by one figure.
const (
	mostLine  = 3.60 // mm: comfortable
	leastLine = 2.78 // at which small print reaches its floor
	lineSteps = 16   // sizes tried between the two
)

// The type scale: cap heights in lines. Own choices, by the order of size:
// rating, then add, then its shot, then the rest.
const (
	capSmall   = 0.585
	capMaker   = 0.60
	capLabel   = 0.70
	capShot    = 0.86
	capBuiltIn = 0.95
	capID      = 1.15
	capPrice   = 1.45
	capAdd     = 1.60
	capPattern = 1.62
	capHero    = 6.60
	capHeroLow = 3.20 // where the card has little room
)

// scale is the grid at one size: the line in mm, and how generous big type and
// air are, 0 to 1.
type scale struct {
	line  float64
	roomy float64
}

// scales are what is tried, from the most comfortable down.
func scales() []scale {
	var all []scale
	for i := range lineSteps + 1 {
		t := 1 - float64(i)/lineSteps
		all = append(all, scale{leastLine + float64(t*(mostLine-leastLine)), t})
	}
	return all
}

func (s scale) half() float64 { return s.line / 2 }

// up returns the next place of the grid at or below y.
func (s scale) down(y float64) float64 {
	const slack = 1e-6
	return math.Ceil(y/s.half()-slack) * s.half()
}

// between is a measure that shrinks with the room.
func (s scale) between(low, high float64) float64 { return low + float64(s.roomy*(high-low)) }

// item is one line of a column, or one picture: it stands on a baseline.
type item struct {
	name     string
	up, down float64 // of its ink over and under the baseline, mm
	air      float64 // least white above it, in half lines
	group    bool    // more air may go above it
	foot     bool    // what is left of the air goes above this one
	clear    float64 // that must stay empty round it, mm
	draw     func(base float64) ([]draw.Op, []geom.Rect)
}

// opened marks where a group of lines begins, with that many half lines of air.
func opened(items []item, air float64) []item {
	if len(items) > 0 {
		items[0].group, items[0].air = true, air
	}
	return items
}

// region is a column of a card: where lines go, in mm.
type region struct {
	box   geom.Rect
	items []item
}

// set puts the lines on the grid with so many half lines of air above each group;
// it returns the baselines and where the last line ends.
func (r region) set(s scale, air float64) (bases []float64, end float64) {
	y := r.box.Min.Y
	for i, it := range r.items {
		gap := it.air
		if it.group && i > 0 {
			gap += air
		}
		if i == 0 {
			gap = 0
		}
		base := s.down(y + float64(gap*s.half()) + it.up)
		bases = append(bases, base)
		y = base + it.down
	}
	return bases, y
}

// mostAir is how many half lines of air go between two groups before the rest
// goes to one place.
const mostAir = 6

// fit places the lines; false when they are higher than the region. A dry run
// draws nothing.
func (r region) fit(s scale, dry bool) ([]block, bool) {
	const slack = 1e-6
	bases, end := r.set(s, 0)
	if end > r.box.Max.Y+slack {
		return nil, false
	}
	if dry {
		return nil, true
	}
	for air := mostAir * s.roomy; air > 0; air -= 0.5 {
		if b, e := r.set(s, math.Floor(air)); e <= r.box.Max.Y+slack {
			bases, end = b, e
			break
		}
	}
	drop := math.Floor((r.box.Max.Y-end)/s.half()+slack) * s.half()
	moved := 0.0
	var blocks []block
	for i, it := range r.items {
		if it.foot && moved == 0 {
			moved = drop
		}
		ops, boxes := it.draw(bases[i] + moved)
		blocks = append(blocks, block{name: it.name, layer: draw.Colour, ops: ops, boxes: boxes, clear: it.clear})
	}
	return blocks, true
}

// tooHigh tells of a region whose lines find no room even at the floor.
func (f *frame) tooHigh(r region, s scale) error {
	_, end := r.set(s, 0)
	mm := func(v float64) string { return f.Words.Millimetre(unit.Millimetre(v), 0.1) }
	return fault.New(fault.NoFit, "", fmt.Sprintf("the words need %s of height in a column of %s and have %s",
		mm(end-r.box.Min.Y), mm(r.box.W()), mm(r.box.H())), "use a bigger card, print it on both sides, or shorten names, address or cautions")
}
