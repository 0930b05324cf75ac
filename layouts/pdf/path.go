package pdf

import (
	"math"

	"floatmark/layouts/geom"
)

// path writes a path in the coordinates of the group under way. Places are
// counted in the last decimal first, so that equal places stay equal and a side
// of a rectangle is the difference of what its corners are.
func (c *content) path(p geom.Path, at geom.Affine) {
	decimals := c.decimals()
	k := tens[decimals]
	if at != geom.Identity {
		c.scratch = c.scratch[:0]
		for _, s := range p {
			for i := range s.P[:arity(s.Verb)] {
				s.P[i] = at.Apply(s.P[i])
			}
			c.scratch = append(c.scratch, s)
		}
		p = c.scratch
	}
	started := false
	var x, y coordinate
	for i := 0; i < len(p); i++ {
		s := &p[i]
		if s.Verb != geom.Move && !started {
			c.fail("a path goes on without a start")
			return
		}
		started = s.Verb != geom.Close
		n := arity(s.Verb)
		for _, q := range s.P[:n] {
			if !(math.Abs(q.X) <= maxNumber && math.Abs(q.Y) <= maxNumber) {
				c.fail("the point (%g, %g) has no place on a page", q.X, q.Y)
				return
			}
		}
		if s.Verb == geom.Move && c.rectangle(p[i:], k, decimals) {
			i, started = i+rectangleSegments-1, false
			continue
		}
		for _, q := range s.P[:n] {
			c.buf = x.append(c.buf, int64(math.Round(q.X*k)), decimals)
			c.buf = y.append(c.buf, int64(math.Round(q.Y*k)), decimals)
		}
		c.buf = append(c.buf, verbs[s.Verb], '\n')
	}
}

// coordinate remembers where in the buffer its last number stands: along an
// upright outline every second one is the same again.
type coordinate struct {
	value    int64
	from, to int
}

// append writes v units of the last decimal and a space.
func (c *coordinate) append(b []byte, v int64, decimals int) []byte {
	if v == c.value && c.to > 0 {
		return append(b, b[c.from:c.to]...)
	}
	c.value, c.from = v, len(b)
	b = append(appendFixed(b, v, decimals), ' ')
	c.to = len(b)
	return b
}

// verbs are the path operators (ISO 32000-1, table 59).
var verbs = [...]byte{geom.Move: 'm', geom.Line: 'l', geom.Cubic: 'c', geom.Close: 'h'}

// arity is how many points a segment has.
func arity(v geom.Verb) int {
	switch v {
	case geom.Move, geom.Line:
		return 1
	case geom.Cubic:
		return 3
	}
	return 0
}

// rectangleSegments is the length of a rectangle as a ring: M L L L Z.
const rectangleSegments = 5

// rectangle writes the ring that p begins with as one operator if it is an
// upright rectangle that starts along x: "re" goes the same way round from the
// same corner, so holes stay holes and dashes start where they did.
func (c *content) rectangle(p geom.Path, k float64, decimals int) bool {
	if len(p) < rectangleSegments || p[1].Verb != geom.Line || p[2].Verb != geom.Line || p[3].Verb != geom.Line || p[4].Verb != geom.Close {
		return false
	}
	a, b, d, e := p[0].P[0], p[1].P[0], p[2].P[0], p[3].P[0]
	if a.Y != b.Y || b.X != d.X || d.Y != e.Y || e.X != a.X || !(math.Abs(d.X) <= maxNumber && math.Abs(d.Y) <= maxNumber) {
		return false
	}
	x, y := int64(math.Round(a.X*k)), int64(math.Round(a.Y*k))
	w, h := int64(math.Round(d.X*k))-x, int64(math.Round(d.Y*k))-y
	for _, v := range [4]int64{x, y, w, h} {
		c.buf = append(appendFixed(c.buf, v, decimals), ' ')
	}
	c.buf = append(c.buf, "re\n"...)
	return true
}
