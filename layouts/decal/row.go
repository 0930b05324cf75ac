package decal

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/legible"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// row sets the lines side by side on one baseline, as often as asked for; where
// nothing is asked for, twice if that costs little of their size.
func (l *layout) row() error {
	lines := l.ordered(l.show.Row)
	size, err := l.rowSize(lines)
	if err != nil {
		return err
	}
	if l.zone.Repeat == 0 {
		twice, err := l.rowSize(append(lines[:len(lines):len(lines)], lines...))
		if err != nil {
			return err
		}
		if twice >= keepSize*size && twice*rowShare(lines[len(lines)-1].Role) >= easyCap {
			l.repeats = 2
		}
	}
	n := len(lines)
	for r := 1; r < l.repeats; r++ {
		lines = append(lines, lines[:n]...)
	}
	if size, err = l.rowSize(lines); err != nil {
		return err
	}
	return l.setRow(lines, size)
}

// keepSize is how much of their size words must keep for being repeated.
const keepSize = 0.8

// ordered returns the lines in the order of the parts.
func (l *layout) ordered(parts []label.Part) []label.Line {
	var all []label.Line
	for _, p := range parts {
		if role, ok := p.Role(); ok {
			all = append(all, l.find(role)...)
		}
	}
	return all
}

// rowSize is the largest capital of the rating at which a row of these lines
// fits. Sizes keep their order of importance at one common scale. Where the row
// lies depends on its size and how long the hoop is there on both: a few rounds
// settle it, since a row moves by a fraction of what it grows.
func (l *layout) rowSize(lines []label.Line) (float64, error) {
	sum, widest := 0.0, 0.0
	for _, line := range lines {
		one, err := l.shaped(line, rowShare(line.Role))
		if err != nil {
			return 0, err
		}
		sum += one.Width
		widest = math.Max(widest, one.Width)
	}
	most := math.Min(maxRating, l.rowRoom()/(1+descender+airAbove))
	scale := most
	for range rowRounds {
		base := l.rowBase(scale)
		scale = math.Min(most, math.Min(legible.ReadableArc(l.diameter(base), legible.ReadableDegrees)/widest,
			(l.reach(base)-float64(len(lines))*2*facePad)/sum))
	}
	return scale, nil
}

const rowRounds = 12

// rowRoom is the height that a row may take.
func (l *layout) rowRoom() float64 { return l.hi - l.lo - 2*edge }

// rowBase is the height of a row's baseline: the row stands in the middle.
func (l *layout) rowBase(scale float64) float64 {
	return l.lo + edge + descender*scale + (l.rowRoom()-scale*(1+descender+airAbove))/2
}

// setRow draws the row; gaps are even all round.
func (l *layout) setRow(lines []label.Line, scale float64) error {
	n := float64(len(lines))
	base := l.rowBase(scale)
	sets := make([]set, len(lines))
	sum := 0.0
	for i, line := range lines {
		cap := scale * rowShare(line.Role)
		if cap < l.Floor && line.Role != label.RoleOwnMark {
			return fault.New(fault.NoFit, "", "the words round the body would have capitals of "+
				l.Words.Millimetre(unit.Millimetre(max(0, cap)), 0.1), "turn the mark lengthwise or give it more height")
		}
		t, err := l.shaped(line, cap)
		if err != nil {
			return err
		}
		sets[i] = t
		sum += t.Width
	}
	gap := (l.reach(base) - sum) / n
	x := -l.reach(base)/2 + gap/2
	for _, t := range sets {
		l.hoop(t, l.flat.Angle(x+t.Width/2, base), base)
		x += t.Width + gap
	}
	return nil
}

// airAbove keeps words off the rings above them, as a share of the cap height.
const airAbove = 0.3
