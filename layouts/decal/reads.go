package decal

import (
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
)

// noteLine notes how a line lies. One that repeats is noted once.
func (l *layout) noteLine(s legible.Setting) {
	if !l.Film.Sheetless() { // lettered by hand there are no dots
		s.Dot, s.Gain = l.Printer.Dot(), l.Printer.Gain
	}
	s.Ink, s.Ground = l.printed(), l.Spec.ground()
	const same = 1e-6 // mm and degrees: rounding
	for i, o := range l.settled {
		if d := s.Half - o.Half; o.Text == s.Text && o.Cap == s.Cap && d > -same && d < same {
			l.settled[i].Half = max(o.Half, s.Half)
			return
		}
	}
	l.settled = append(l.settled, s)
}

// printed is what the words look like on the float.
func (s Spec) printed() draw.Ink {
	return legible.Printed(ink, s.Film.Colour, s.Film.Clear, draw.Ink(s.Pattern.Ground))
}

// judged says how each line reads, the worst first.
func (l *layout) judged() []legible.Line {
	var all []legible.Line
	for _, s := range l.settled {
		all = append(all, legible.JudgeLine(s))
	}
	slices.SortStableFunc(all, func(a, b legible.Line) int { return int(b.Grade) - int(a.Grade) })
	return all
}
