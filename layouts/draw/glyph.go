package draw

import (
	"slices"

	"floatmark/fonts"
	"floatmark/layouts/geom"
)

// GlyphPath returns a glyph's outline as a path in ems, y up: map it with the
// glyph's At to get it on the sheet. TrueType's quadratic curves become cubics.
func GlyphPath(f *fonts.Face, id fonts.GlyphID) geom.Path { return appendGlyph(nil, f, id) }

// appendGlyph is GlyphPath added to a path.
func appendGlyph(p geom.Path, f *fonts.Face, id fonts.GlyphID) geom.Path {
	outline := f.Outline(id)
	const rings = 4 // most letters have no more to close
	p = slices.Grow(p, len(outline)+rings)
	var at geom.Point
	pt := func(q [2]float64) geom.Point { return geom.Point{X: q[0], Y: q[1]} }
	open := false
	for _, s := range outline {
		switch s.Verb {
		case 'M':
			if open {
				p.Close()
			}
			at, open = pt(s.P[0]), true
			p.MoveTo(at)
		case 'L':
			at = pt(s.P[0])
			p.LineTo(at)
		case 'Q':
			c, q := pt(s.P[0]), pt(s.P[1])
			p.CubicTo(at.Add(c.Sub(at).Scale(2.0/3)), q.Add(c.Sub(q).Scale(2.0/3)), q)
			at = q
		case 'C':
			at = pt(s.P[2])
			p.CubicTo(pt(s.P[0]), pt(s.P[1]), at)
		}
	}
	if open {
		p.Close()
	}
	return p
}
