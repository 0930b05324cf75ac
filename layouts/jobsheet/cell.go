package jobsheet

import (
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// span is a run of words in one font. A whole one is never broken but where it is
// wider than its column.
type span struct {
	text  string
	font  typeset.Font
	whole bool
}

// passage is what stands in a cell: paragraphs of spans.
type passage [][]span

// segment is a piece of a line in one font.
type segment struct {
	line typeset.Line
	x    float64
}

// rich is a passage broken into lines.
type rich struct {
	lines [][]segment
	caps  []float64 // of each line, its highest
}

// lineGap is the air between a line's baseline and the capitals of the next, mm:
// as in running text of 1.9 mm.
const lineGap = 1.2

func (r rich) h() float64 {
	high := 0.0
	for i, c := range r.caps {
		if i > 0 {
			high += lineGap
		}
		high += c
	}
	return high
}

func (r rich) width() float64 {
	w := 0.0
	for _, l := range r.lines {
		last := l[len(l)-1]
		w = max(w, last.x+last.line.Width)
	}
	return w
}

// draw sets the lines, the first with its capitals' top at y.
func (r rich) draw(x, y float64) []draw.Op {
	var ops []draw.Op
	for i, l := range r.lines {
		y += r.caps[i]
		for _, s := range l {
			ops = append(ops, s.line.Straight(geom.Translate(x+s.x, y), typeset.Left, draw.Black)...)
		}
		y += lineGap
	}
	return ops
}

// tokens are what a span may be broken into.
func (s span) tokens() []string {
	if s.whole {
		return []string{s.text}
	}
	return unbroken(s.text)
}

// blank is the width of a space, in capitals of the built-in faces.
const blank = 0.33

// set breaks a passage into lines no wider than width.
func (q passage) set(width float64) (rich, error) {
	var r rich
	for _, spans := range q {
		var now []segment
		cap := 0.0
		end := func() {
			if len(now) > 0 {
				r.lines, r.caps = append(r.lines, now), append(r.caps, cap)
			}
			now, cap = nil, 0
		}
		for _, s := range spans {
			for first, token := range s.tokens() {
				parts, err := broken(token, s.font, width)
				if err != nil {
					return r, err
				}
				for i, l := range parts {
					if n := len(now) - 1; n >= 0 && i == 0 {
						if first > 0 { // one run of words of the same font
							longer, err := typeset.Shape(now[n].line.Text+" "+l.Text, s.font)
							if err != nil {
								return r, err
							}
							if now[n].x+longer.Width <= width {
								now[n].line = longer
								continue
							}
						} else if x := now[n].x + now[n].line.Width + blank*s.font.Cap; x+l.Width <= width {
							now, cap = append(now, segment{l, x}), max(cap, l.Cap)
							continue
						}
					}
					end()
					now, cap = []segment{{l, 0}}, l.Cap
				}
			}
		}
		end()
	}
	return r, nil
}

// broken shapes a word, in parts where it is wider than width: a maker's long word
// must not stop a print.
func broken(word string, f typeset.Font, width float64) ([]typeset.Line, error) {
	l, err := typeset.Shape(word, f)
	if err != nil || l.Width <= width {
		return []typeset.Line{l}, err
	}
	var all []typeset.Line
	runes := []rune(word)
	for len(runes) > 0 {
		n := len(runes)
		for ; n > 1; n-- {
			if l, err = typeset.Shape(strings.TrimSpace(string(runes[:n])), f); err != nil {
				return nil, err
			}
			if l.Width <= width {
				break
			}
		}
		if n == 1 {
			if l, err = typeset.Shape(string(runes[:1]), f); err != nil {
				return nil, err
			}
			if l.Width > width {
				return nil, fault.New(fault.NoFit, "", "its column has no room for a letter", "print it on wider paper")
			}
		}
		all, runes = append(all, l), []rune(strings.TrimSpace(string(runes[n:])))
	}
	return all, nil
}

// cell is running text of one font with its height.
type cell struct {
	lines []typeset.Line
	pitch float64
}

func (c cell) h() float64 {
	if len(c.lines) == 0 {
		return 0
	}
	return float64(float64(len(c.lines)-1)*c.pitch) + c.lines[0].Cap
}

// draw sets the lines, the first with its capitals' top at y.
func (c cell) draw(x, y float64, a typeset.Align) []draw.Op {
	var ops []draw.Op
	for i, l := range c.lines {
		ops = append(ops, l.Straight(geom.Translate(x, y+l.Cap+float64(float64(i)*c.pitch)), a, draw.Black)...)
	}
	return ops
}

// wrap breaks text at blanks into lines no wider than width; one that fits at
// the floor on a single line shrinks instead. A dot that would end or begin a
// line gives way to the break.
func wrap(text string, f typeset.Font, width float64) (cell, error) {
	c := cell{pitch: f.Cap * (1 + leading) * 1.05}
	if strings.TrimSpace(text) == "" {
		return c, nil
	}
	if l, err := typeset.Fit(text, f, width, floorCap); err == nil {
		c.lines = []typeset.Line{l}
		return c, nil
	} else if fault.ClassOf(err) != fault.NoFit {
		return c, err
	}
	return flow(text, f, width)
}

// flow breaks text at blanks into lines no wider than width, all of one size as
// running text must be; only a word that is still too wide shrinks.
func flow(text string, f typeset.Font, width float64) (cell, error) {
	c := cell{pitch: f.Cap * (1 + leading) * 1.05}
	var broken []string
	for i, phrase := range strings.Split(text, dot) {
		for j, word := range unbroken(phrase) {
			joint := " "
			if j == 0 {
				joint = dot
			}
			if n := len(broken) - 1; n >= 0 && !(i == 0 && j == 0) {
				if l, err := typeset.Shape(broken[n]+joint+word, f); err == nil && l.Width <= width {
					broken[n] += joint + word
					continue
				}
			}
			broken = append(broken, word)
		}
	}
	for _, t := range broken {
		l, err := typeset.Fit(t, f, width, floorCap)
		if err != nil {
			return c, err
		}
		c.lines = append(c.lines, l)
	}
	return c, nil
}

// unbroken splits text at its blanks, but for those behind a number, so that a
// figure stays with its unit and a count with what it counts, and before a mark
// that French sets apart.
func unbroken(text string) []string {
	var all []string
	number := false // the last word is one
	for _, word := range strings.Fields(text) {
		if len(all) > 0 && (number || strings.Trim(word, ":;?!") == "") {
			all[len(all)-1] += " " + word
		} else {
			all = append(all, word)
		}
		number = !number && strings.Trim(word, "0123456789.,") == ""
	}
	return all
}
