package emblem

import (
	"math"
	"strconv"
	"unicode/utf8"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/pathdata"
)

// FromSVGPath reads SVG path data (the grammar of SVG 1.1, 8.3, from memory):
// every command, absolute and relative, several subpaths. Arcs become curves and
// each subpath is closed, as filling does. The path is filled by the non-zero
// rule, SVG's own: a hole is a ring that runs the other way.
//
// Data that a browser would draw in part, up to its first mistake, is an Input
// error that names the character; so are data beyond the limits and a path
// without width or height.
func FromSVGPath(d string) (geom.Path, error) {
	p, err := parsePath(d)
	if err != nil {
		return nil, err
	}
	return p, check(p)
}

// operands is how many numbers each command takes.
var operands = map[byte]int{'m': 2, 'l': 2, 'h': 1, 'v': 1, 'c': 6, 's': 4, 'q': 4, 't': 2, 'a': 7, 'z': 0}

// pathReader reads path data. A ring begins at its first line, not at its move,
// so that moves in a row leave nothing behind.
type pathReader struct {
	pathdata.Scanner
	out         geom.Path
	here, start geom.Point
	bend        geom.Point // the last control point, which S and T reflect
	last        byte       // the command before, in small
	open        bool       // a ring is begun
}

func parsePath(d string) (geom.Path, error) {
	if len(d) > MaxBytes {
		return nil, tooMuch()
	}
	p := pathReader{Scanner: pathdata.Scanner{Text: d}}
	if err := p.read(); err != nil {
		return nil, err
	}
	p.close()
	return p.out, nil
}

func (p *pathReader) wrong(do, format string, args ...any) error {
	n := utf8.RuneCountInString(p.Text[:min(p.At, len(p.Text))]) + 1
	return fault.At("path, character "+strconv.Itoa(n), fault.Inputf(do, format, args...))
}

// comma passes blanks with at most one comma among them, and tells of it.
func (p *pathReader) comma() bool {
	p.Blanks("")
	if p.At == len(p.Text) || p.Text[p.At] != ',' {
		return false
	}
	p.At++
	p.Blanks("")
	return true
}

func (p *pathReader) read() error {
	p.Blanks("")
	var command byte
	for p.At < len(p.Text) {
		if c := p.Text[p.At]; operandsKnown(c) {
			if command == 0 && c|0x20 != 'm' {
				return p.wrong("begin with M and the first point", "the path does not begin with a move")
			}
			command, p.At = c, p.At+1
			p.Blanks("")
		} else if !startsNumber(c) {
			r, _ := utf8.DecodeRuneInString(p.Text[p.At:])
			return p.wrong("use the commands M L H V C S Q T A Z and numbers with a point", "%q is no part of path data", r)
		} else if command == 0 || command|0x20 == 'z' {
			return p.wrong("put a command before the number, as in \"M 2 0 L 5 20 Z\"", "a number stands without a command")
		}
		if err := p.step(command); err != nil {
			return err
		}
		if command|0x20 == 'm' {
			command-- // from m to l: more pairs after a move are lines
		}
		if len(p.out) > MaxSegments {
			return tooMuch()
		}
		if p.comma() && (p.At == len(p.Text) || !startsNumber(p.Text[p.At]) || command|0x20 == 'z') {
			return p.wrong("take the comma out, or give the number after it", "a comma is followed by no number")
		}
	}
	return nil
}

func operandsKnown(c byte) bool {
	_, ok := operands[c|0x20]
	return ok && (c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z')
}

func startsNumber(c byte) bool {
	return c >= '0' && c <= '9' || c == '.' || c == '-' || c == '+'
}

// step reads the numbers of one command and draws it.
func (p *pathReader) step(command byte) error {
	var v [7]float64
	c := command | 0x20
	for i := range v[:operands[c]] {
		if i > 0 {
			p.comma()
		}
		var err error
		if c == 'a' && (i == 3 || i == 4) {
			v[i], err = p.flag()
		} else {
			v[i], err = p.number()
		}
		if err != nil {
			return err
		}
	}
	var from geom.Point // what numbers are measured from
	if command >= 'a' {
		from = p.here
	}
	pt := func(i int) geom.Point { return geom.Point{X: from.X + v[i], Y: from.Y + v[i+1]} }
	switch c {
	case 'm':
		p.close()
		p.here = pt(0)
		p.start = p.here
	case 'z':
		p.close()
		p.here = p.start
	case 'l':
		p.line(pt(0))
	case 'h':
		p.line(geom.Point{X: from.X + v[0], Y: p.here.Y})
	case 'v':
		p.line(geom.Point{X: p.here.X, Y: from.Y + v[0]})
	case 'c':
		p.cubic(pt(0), pt(2), pt(4))
	case 's':
		p.cubic(p.reflected("cs"), pt(0), pt(2))
	case 'q':
		p.quadratic(pt(0), pt(2))
	case 't':
		p.quadratic(p.reflected("qt"), pt(0))
	case 'a':
		p.arc(v[0], v[1], v[2]*math.Pi/180, v[3] == 1, v[4] == 1, pt(5))
	}
	p.last = c
	if !(math.Abs(p.here.X) <= maxCoord && math.Abs(p.here.Y) <= maxCoord) {
		return p.wrong("draw the mark near the origin, some hundred units wide", "the path runs out of range")
	}
	return nil
}

func (p *pathReader) number() (float64, error) {
	from := p.At
	v, ok := p.Number()
	switch {
	case !ok && p.At == len(p.Text):
		return 0, p.wrong("the data may have been cut off: copy it whole", "the path ends where a number is due")
	case !ok:
		return 0, p.wrong("give every command its numbers, with a point for decimals", "a number is missing")
	case math.Abs(v) > maxCoord:
		p.At = from
		return 0, p.wrong("draw the mark near the origin, some hundred units wide", "a number is out of range")
	}
	return v, nil
}

// flag reads one of an arc's two flags, a single digit that needs no blank
// after it.
func (p *pathReader) flag() (float64, error) {
	if p.At < len(p.Text) && (p.Text[p.At] == '0' || p.Text[p.At] == '1') {
		p.At++
		return float64(p.Text[p.At-1] - '0'), nil
	}
	return 0, p.wrong("give A its seven numbers: two radii, turn, flag, flag, x, y", "an arc's flag is not 0 or 1")
}
