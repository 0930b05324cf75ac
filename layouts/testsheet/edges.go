package testsheet

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
)

// Measures of the rules along the edges of a proof, mm: by eye.
const (
	edgeMM   = 1.0 // ticks
	edgeFive = 1.7
	edgeTen  = 2.6
	edgeCap  = 1.3
	edgeAir  = 0.5 // from a tick to its number
	edgeKeep = 1.5 // at least, from a tick or a number to marks and what is written beside them

	edgeFrom  = 1.0 // from the margin to the zero of a rule, so that all of its tick is printed
	edgeClear = 4.0 // to the zero of the rule that goes down, clear of the other
)

// rules draws a millimetre rule along the upper or the lower edge and one along
// the left or the right, whichever shows more, and takes what they need. They keep
// their distance from what marks leaves no room for, to its edge.
func (s Spec) rules(sheet *draw.Sheet, b *bars, r, marks *room, margin float64) error {
	in := geom.XYWH(0, 0, sheet.Size.W, sheet.Size.H).Inset(margin)
	x, y := in.Min.X+edgeFrom, in.Min.Y+edgeClear
	wide, high := in.Max.X-edgeFrom-x, in.Max.Y-edgeFrom-y
	for _, pair := range [...][2]rule{
		{{geom.Point{X: x, Y: in.Min.Y}, wide, false, 1, marks}, {geom.Point{X: x, Y: in.Max.Y}, wide, false, -1, marks}},
		{{geom.Point{X: in.Min.X, Y: y}, high, true, 1, marks}, {geom.Point{X: in.Max.X, Y: y}, high, true, -1, marks}},
	} {
		best := pair[0]
		if pair[1].shown(r) > best.shown(r) {
			best = pair[1]
		}
		if err := s.rule(sheet, b, r, best); err != nil {
			return err
		}
	}
	return nil
}

// rule is a rule along an edge, from its zero to the right or down; its ticks
// reach inwards, by in = 1 or -1.
type rule struct {
	at   geom.Point
	long float64
	down bool
	in   float64
	off  *room // what it keeps its distance from
}

// box returns what lies from a to b along the rule and from near to far inwards.
func (u rule) box(a, b, near, far float64) geom.Rect {
	if u.in < 0 {
		near, far = -far, -near
	}
	if u.down {
		return geom.Rect{Min: u.at.Add(geom.Point{X: near, Y: a}), Max: u.at.Add(geom.Point{X: far, Y: b})}
	}
	return geom.Rect{Min: u.at.Add(geom.Point{X: a, Y: near}), Max: u.at.Add(geom.Point{X: b, Y: far})}
}

func tickLong(i int) float64 {
	switch {
	case i%10 == 0:
		return edgeTen
	case i%5 == 0:
		return edgeFive
	}
	return edgeMM
}

// tick returns the box of tick i with a hair of air.
func (u rule) tick(i int) geom.Rect {
	return u.box(float64(i)-thin, float64(i)+thin, 0, tickLong(i))
}

// clear reports whether a tick or a number has room, and its distance from marks.
func (u rule) clear(r *room, b geom.Rect) bool {
	return r.clear(b) && u.off.clear(b.Inset(-edgeKeep))
}

// shown counts the ticks that have room.
func (u rule) shown(r *room) int {
	n := 0
	for i := 0; i <= int(u.long); i++ {
		if u.clear(r, u.tick(i).Inset(thin/2)) {
			n++
		}
	}
	return n
}

func (s Spec) rule(sheet *draw.Sheet, b *bars, r *room, u rule) error {
	type number struct {
		i  int
		at geom.Rect
	}
	var spent []geom.Rect
	var numbers []number
	for i := 0; i <= int(u.long); i++ {
		t := u.tick(i)
		if !u.clear(r, t.Inset(thin/2)) {
			continue
		}
		x := float64(i)
		if line := u.box(x, x, 0, tickLong(i)); u.down {
			b.across(line.Min.Y, line.Min.X, line.Max.X)
		} else {
			b.down(line.Min.X, line.Min.Y, line.Max.Y)
		}
		spent = append(spent, t)
		const half = 1.4 // of three figures, mm
		n := u.box(x-half, x+half, edgeTen, edgeTen+edgeAir+edgeCap)
		if u.down {
			n = u.box(x-edgeCap/2, x+edgeCap/2, edgeTen, edgeTen+edgeAir+2*half)
		}
		if i%10 == 0 && i > 0 && u.clear(r, n) {
			numbers = append(numbers, number{i, n})
		}
	}
	for _, n := range numbers {
		at, a := geom.Point{X: u.at.X + float64(n.i), Y: u.at.Y + u.in*(edgeTen+edgeAir+edgeCap/2)}, typeset.Centre
		if u.down {
			at, a = geom.Point{X: u.at.X + u.in*(edgeTen+edgeAir), Y: u.at.Y + float64(n.i)}, typeset.Left
			if u.in < 0 {
				a = typeset.Right
			}
		}
		if err := s.label(sheet, whole(n.i), edgeCap, at, a); err != nil {
			return err
		}
		spent = append(spent, n.at)
	}
	for _, t := range spent {
		r.take(t)
	}
	return nil
}
