package emblem

import (
	"math"
	"strings"

	"floatmark/layouts/geom"
)

// begin starts a ring where the pen is.
func (p *pathReader) begin() {
	if !p.open {
		p.out.MoveTo(p.here)
		p.open = true
	}
}

// close ends the ring that is begun.
func (p *pathReader) close() {
	if p.open {
		p.out.Close()
		p.open = false
	}
}

func (p *pathReader) line(to geom.Point) {
	p.begin()
	p.out.LineTo(to)
	p.here = to
}

func (p *pathReader) cubic(a, b, to geom.Point) {
	p.begin()
	p.out.CubicTo(a, b, to)
	p.here, p.bend = to, b
}

// quadratic draws a curve of one control point as the cubic it is.
func (p *pathReader) quadratic(a, to geom.Point) {
	const k = 2.0 / 3
	from := p.here
	p.cubic(from.Add(a.Sub(from).Scale(k)), to.Add(a.Sub(to).Scale(k)), to)
	p.bend = a
}

// reflected is the control point of a smooth curve: the last one seen through
// the pen if the command before was of the same family, else the pen itself.
func (p *pathReader) reflected(family string) geom.Point {
	if p.last == 0 || strings.IndexByte(family, p.last) < 0 {
		return p.here
	}
	return p.here.Scale(2).Sub(p.bend)
}

// flat is the chord of an arc, in radii, under which it is drawn as the chord.
// Its sagitta is then less than a billionth of the chord.
const flat = 1e-9

// arc draws an elliptic arc: radii, turn of the ellipse in radians, the longer
// or the shorter way, clockwise or not. Centre and angles are those of SVG 1.1,
// appendix F.6.5 and F.6.6 (from memory): radii too short to reach are grown
// until they do, and one of 0 makes a line.
func (p *pathReader) arc(rx, ry, turn float64, long, clockwise bool, to geom.Point) {
	rx, ry = math.Abs(rx), math.Abs(ry)
	switch {
	case to == p.here:
		return
	case rx == 0 || ry == 0:
		p.line(to)
		return
	}
	// On the ellipse's own axes, halfway between the ends, as a unit circle.
	half := geom.Rotate(-turn).Apply(p.here.Sub(to).Scale(0.5))
	u := geom.Point{X: half.X / rx, Y: half.Y / ry}
	far := u.Len()
	if far < flat {
		p.line(to)
		return
	}
	if far > 1 {
		rx, ry = rx*far, ry*far
		u, far = u.Scale(1/far), 1
	}
	// The centre lies across the chord, on one side or the other.
	k := math.Sqrt(math.Max(0, 1-far*far)) / far
	if long == clockwise {
		k = -k
	}
	c := geom.Point{X: float64(k * u.Y), Y: -float64(k * u.X)}
	from, end := math.Atan2(u.Y-c.Y, u.X-c.X), math.Atan2(-u.Y-c.Y, -u.X-c.X)
	if clockwise && end < from {
		end += 2 * math.Pi
	} else if !clockwise && end > from {
		end -= 2 * math.Pi
	}
	var unit geom.Path
	unit.Arc(c, 1, from, end)
	middle := p.here.Add(to).Scale(0.5)
	drawn := unit.Transform(geom.Scale(rx, ry).Then(geom.Rotate(turn)).Then(geom.Translate(middle.X, middle.Y)))
	last := p.last
	for i, s := range drawn[1:] { // the move is where the pen is
		if i == len(drawn)-2 {
			s.P[2] = to // no rounding adds up from arc to arc
		}
		p.cubic(s.P[0], s.P[1], s.P[2])
	}
	p.last = last
	p.here = to
}
