package body

import (
	"math"
	"strconv"

	"floatmark/loading/fault"
	"floatmark/loading/pathdata"
)

// point is a place on the drawing, in its own units, y down.
type point struct{ x, y float64 }

// between returns the point at t of the way from a to b.
func between(a, b point, t float64) point {
	return point{a.x + float64((b.x-a.x)*t), a.y + float64((b.y-a.y)*t)}
}

// operands is how many numbers each command takes, by its capital letter.
var operands = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'Q': 4, 'Z': 0}

const (
	// maxPoints is how many points a flattened path may have: a thousand times
	// what a body needs.
	maxPoints = 20000
	// maxCoordinate bounds the numbers of a path, so that sums of them stay exact
	// enough; no drawing of a float is a million units wide.
	maxCoordinate = 1e6
)

// path reads one SVG path data string (the grammar of SVG 1.1, 8.3, from
// memory) of one subpath, with curves flattened to within flat units.
type path struct {
	pathdata.Scanner
	flat   float64
	points []point
	closed bool
}

func (p *path) wrong(do, format string, args ...any) error {
	return fault.At("path, character "+strconv.Itoa(p.At+1), fault.Inputf(do, format, args...))
}

// read reads the whole path.
func (p *path) read() error {
	var command byte
	for {
		p.Blanks("")
		if p.At == len(p.Text) {
			return nil
		}
		if c := p.Text[p.At]; c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
			if err := p.allow(c); err != nil {
				return err
			}
			command, p.At = c, p.At+1
			if c|0x20 == 'z' {
				p.closed = true
				continue
			}
		} else if command == 0 || p.closed {
			return p.wrong("give path data, as in \"M 2 0 L 5 20\"", "a command is missing before %q", c)
		}
		if err := p.step(command); err != nil {
			return err
		}
		switch command { // more pairs after a move are lines
		case 'M':
			command = 'L'
		case 'm':
			command = 'l'
		}
	}
}

func (p *path) allow(c byte) error {
	_, known := operands[c&^0x20]
	switch {
	case c|0x20 == 'a':
		return p.wrong("turn arcs into curves (the drawing program's \"object to path\")", "the path has an arc, %q", c)
	case !known:
		return p.wrong("use M, L, H, V, C, Q and Z; turn other curves into these", "the path has a command %q that is not read here", c)
	case p.closed || len(p.points) > 0 && c|0x20 == 'm':
		return p.wrong("give one side of the outline as one line", "the path has a second part")
	case len(p.points) == 0 && c|0x20 != 'm':
		return p.wrong("begin with M and the first point", "the path does not begin with a move")
	}
	return nil
}

// step reads the numbers of one command and adds its points.
func (p *path) step(command byte) error {
	var v [6]float64
	n, relative := operands[command&^0x20], command >= 'a'
	var here point
	if len(p.points) > 0 {
		here = p.points[len(p.points)-1]
	}
	for i := range v[:n] {
		x, err := p.number()
		if err != nil {
			return err
		}
		switch {
		case relative && (i%2 == 1 || command == 'v'):
			x += here.y
		case relative:
			x += here.x
		}
		if v[i] = x; !(math.Abs(x) <= maxCoordinate) {
			return p.wrong("draw the float in mm or in points, near the origin", "a coordinate is out of range")
		}
	}
	a, b, c := point{v[0], v[1]}, point{v[2], v[3]}, point{v[4], v[5]}
	switch command | 0x20 {
	case 'h':
		a = point{v[0], here.y}
	case 'v':
		a = point{here.x, v[0]}
	case 'q': // as the cubic it is
		return p.cubic(here, between(here, a, 2.0/3), between(b, a, 2.0/3), b)
	case 'c':
		return p.cubic(here, a, b, c)
	}
	return p.add(a)
}

func (p *path) add(a point) error {
	if len(p.points) >= maxPoints {
		return p.wrong("simplify the outline, or allow a wider tolerance", "the path has more than %d points", maxPoints)
	}
	p.points = append(p.points, a)
	return nil
}

// cubic adds a curve in n chords. A chord of a cubic over 1/n of it lies within
// |B”|/8n² of it, and |B”| is at most six times the larger second difference
// of the control points.
func (p *path) cubic(a, b, c, d point) error {
	bend := max(math.Hypot(a.x-2*b.x+c.x, a.y-2*b.y+c.y), math.Hypot(b.x-2*c.x+d.x, b.y-2*c.y+d.y))
	n := max(1, math.Ceil(math.Sqrt(6*bend/(8*p.flat))))
	for i := 1.0; i < n; i++ {
		t := i / n
		ab, bc, cd := between(a, b, t), between(b, c, t), between(c, d, t)
		if err := p.add(between(between(ab, bc, t), between(bc, cd, t), t)); err != nil {
			return err
		}
	}
	return p.add(d)
}

// number reads a number and the blanks and the comma before it.
func (p *path) number() (float64, error) {
	p.Blanks(",")
	v, ok := p.Number()
	if !ok {
		return 0, p.wrong("give every command its numbers", "a number is missing")
	}
	return v, nil
}
