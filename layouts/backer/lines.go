package backer

import (
	"fmt"
	"math"
	"strings"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// A line's room above and below its baseline, in cap heights: tall small
// letters and descenders of the built-in faces. A line that reaches further,
// with an accent on a capital, takes what it needs.
const (
	ascent  = 1.06
	descent = 0.34
	apart   = 2.0 // least air between two texts on one line, mm
)

// floor is the cap height, in mm, at which a face's small letters stand smallX high.
func floor(f *fonts.Face) float64 {
	if f.XHeight() <= 0 {
		return smallX
	}
	return smallX * f.CapHeight() / f.XHeight()
}

// setting is a font with the floor its size may shrink to, and its ink.
type setting struct {
	typeset.Font
	least float64
	ink   draw.Ink
}

// tracked returns the setting with extra space between its letters, in caps.
func (s setting) tracked(caps float64) setting { s.Track = caps * s.Cap; return s }

// fit shapes one line no wider than width, shrinking it to the floor at most.
func (s setting) fit(field, text string, width float64) (typeset.Line, error) {
	l, err := typeset.Fit(text, s.Font, width, s.least)
	return l, fault.At(field, err)
}

// extent returns how far a line's ink reaches above and below its baseline, and
// its box from its origin.
func (m *Memory) extent(l typeset.Line) (up, down float64, box geom.Rect) {
	b := m.reach(l.Straight(geom.Identity, typeset.Left, draw.Black))
	return math.Max(ascent*l.Cap, -b.Min.Y), math.Max(descent*l.Cap, b.Max.Y), b
}

// put is a shaped line at a place across the column.
type put struct {
	line  typeset.Line
	x     float64
	align typeset.Align
	ink   draw.Ink
}

// row is lines on one baseline as an item.
func (m *Memory) row(name string, puts ...put) item {
	it := item{name: name}
	for i, p := range puts {
		u, d, b := m.extent(p.line)
		// A letter whose ink begins left of its origin would leave the column.
		if p.align == typeset.Left && b.Min.X < 0 {
			puts[i].x -= b.Min.X
		} else if over := b.Max.X - p.line.Width; p.align == typeset.Right && over > 0 {
			puts[i].x -= over
		}
		it.up, it.down = math.Max(it.up, u), math.Max(it.down, d)
	}
	it.draw = func(base float64) ([]draw.Op, []geom.Rect) {
		var ops []draw.Op
		for _, p := range puts {
			ops = append(ops, p.line.Straight(geom.Translate(p.x, base), p.align, p.ink)...)
		}
		return ops, []geom.Rect{m.reach(ops)}
	}
	return it
}

// col is the span of a column, mm.
type col struct {
	left, right float64
	memory      *Memory
}

func (c col) width() float64 { return c.right - c.left }

// at returns where a line of that alignment is anchored.
func (c col) at(a typeset.Align) float64 {
	switch a {
	case typeset.Right:
		return c.right
	case typeset.Centre:
		return (c.left + c.right) / 2
	}
	return c.left
}

// paragraph breaks text into lines no wider than the column: at dots between
// phrases first, then at blanks, then before the @ of an address. A word that
// is still too wide shrinks to the floor, and is refused there.
func (c col) paragraph(name, text string, s setting, a typeset.Align) ([]item, error) {
	lines, err := s.wrap(name, text, c.width())
	if err != nil {
		return nil, err
	}
	var items []item
	for i, l := range lines {
		n := name
		if i > 0 {
			n = fmt.Sprintf("%s, line %d", name, i+1)
		}
		items = append(items, c.memory.row(n, put{l, c.at(a), a, s.ink}))
	}
	return items, nil
}

const dot = " · "

func (s setting) wrap(field, text string, width float64) ([]typeset.Line, error) {
	fits := func(t string) bool {
		l, err := typeset.Shape(t, s.Font)
		return err == nil && l.Width <= width
	}
	var broken []string
	// add appends a part to the last line with its joint, or starts a new one.
	add := func(part, joint string, fresh bool) {
		if n := len(broken) - 1; !fresh && n >= 0 && fits(broken[n]+joint+part) {
			broken[n] += joint + part
			return
		}
		broken = append(broken, part)
	}
	for i, phrase := range strings.Split(text, dot) {
		if fits(phrase) {
			add(phrase, dot, i == 0)
			continue
		}
		for j, word := range unbroken(phrase) {
			name, host, mail := strings.Cut(word, "@")
			if !mail || fits(word) || name == "" {
				add(word, " ", j == 0)
				continue
			}
			add(name, " ", j == 0)
			add("@"+host, "", false)
		}
	}
	var lines []typeset.Line
	for _, t := range broken {
		l, err := s.fit(field, t, width)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	return lines, nil
}

// unbroken are the words of a phrase; a figure keeps its unit, and a short one the
// word before it.
func unbroken(phrase string) []string {
	const short = 2 // letters: "g", "mm"; "3"
	const figures = "0123456789"
	var all []string
	for _, w := range strings.Fields(phrase) {
		if n := len(all) - 1; n >= 0 && len(w) <= short && (strings.ContainsAny(all[n][len(all[n])-1:], figures) || strings.ContainsAny(w, figures)) {
			all[n] += " " + w
			continue
		}
		all = append(all, w)
	}
	return all
}

// pair is a label at the left edge and a figure at the right one; where both do
// not fit on one line the label shrinks, then stands above the figure.
func (c col) pair(field, name, value string, label, figure setting) ([]item, error) {
	v, err := figure.fit(field, value, c.width())
	if err != nil {
		return nil, err
	}
	right := put{v, c.right, typeset.Right, figure.ink}
	// A little smaller passes beside its fellows; much smaller looks like a mistake.
	const passes = 0.92
	label.least = math.Max(label.least, passes*label.Cap)
	if name == "" {
		return []item{c.memory.row(field, right)}, nil
	}
	if l, err := label.fit(field, name, c.width()-v.Width-apart); err == nil {
		return []item{c.memory.row(field, put{l, c.left, typeset.Left, label.ink}, right)}, nil
	}
	above, err := c.paragraph(field+", name", name, label, typeset.Left)
	if err != nil {
		return nil, err
	}
	return append(above, c.memory.row(field, right)), nil
}

// bar is a rectangle across the column; it hangs from its baseline up.
func (c col) bar(name string, high float64, ink draw.Ink) item {
	return item{name: name, up: high, draw: func(base float64) ([]draw.Op, []geom.Rect) {
		r := geom.XYWH(c.left, base-high, c.width(), high)
		return []draw.Op{&draw.Fill{Path: geom.Rectangle(r), Ink: ink}}, []geom.Rect{r}
	}}
}
