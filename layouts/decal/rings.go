package decal

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// rings draws the rating band of a full mark and the ring tally at the upper
// edge, and returns the height that is left below them.
func (l *layout) rings() (float64, error) {
	s := l.flat.Slant
	if l.Mark.Style == label.Full {
		h := math.Min(bandMost, math.Max(bandLeast, bandShare*s))
		if err := l.band(s-h, s); err != nil {
			return 0, err
		}
		s -= h + ringGap
	} else {
		s -= edge
	}
	for i := 0; i < l.Mark.Tally.Thick+l.Mark.Tally.Thin; i++ {
		w := thinRing
		if i < l.Mark.Tally.Thick {
			w = thickRing
		}
		l.ops = append(l.ops, &draw.Fill{Path: l.flat.Band(s-w, s, l.flat.Left(), l.flat.Right()), Ink: ink})
		s -= w + ringGap
	}
	if least := 2*edge + legible.CapFloor; s < least {
		need := unit.Millimetre(l.flat.Slant - s + least)
		return 0, fault.New(fault.NoFit, "", "rings and band take the whole mark of "+l.Words.Millimetre(unit.Millimetre(l.flat.Slant), 0.1),
			"make the mark at least "+l.Words.Millimetre(need, 1)+" high or let a ring stand for more grams")
	}
	return s, nil
}

// band draws the rating band with the rating knocked out of it once on each
// face. The letters are holes, not white ink: what shows is the film.
func (l *layout) band(s0, s1 float64) error {
	path := l.flat.Band(s0, s1, l.flat.Left(), l.flat.Right())
	rating := l.Mark.Find(label.RoleRating)
	cap := 0.58 * (s1 - s0)
	width := l.flat.Hoop(s0)/faces - 2*facePad
	if cap >= legible.CapFloor {
		line, err := typeset.Fit(rating, typeset.Bold(l.Fonts, cap), width, legible.CapFloor)
		if err != nil && fault.ClassOf(err) != fault.NoFit {
			return err
		}
		if err == nil {
			base := s0 + (s1-s0-line.Cap)/2
			for _, theta := range faceAngles(faces) {
				for _, o := range line.Along(l.hoopFrame(theta, base, line.Cap), centre, ink) {
					g := o.(*draw.Glyphs)
					for _, one := range g.Run {
						path = append(path, wound(draw.GlyphPath(g.Face, one.ID).Transform(one.At), path)...)
					}
				}
			}
		}
	}
	b := l.Mark.Band
	l.ops = append(l.ops, &draw.Fill{Path: path, Ink: draw.Ink(b)})
	return nil
}

// wound returns a glyph turned so that its outer rings run against those of the
// ground it is cut from: by the non-zero rule it is then a hole.
func wound(glyph, ground geom.Path) geom.Path {
	const tol = 0.02
	if glyph.Area(tol)*ground.Area(tol) > 0 {
		return glyph.Reverse()
	}
	return glyph
}
