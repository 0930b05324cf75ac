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

// Strip is a stretch of a mark that is one colour all round the body: the rating
// band or a ring. Heights are over the mark's lower edge, mm.
type Strip struct {
	From, To float64
	Band     bool // the rating band, which holds the rating; else a ring
}

// Strips stacks the rating band of a full mark and the ring tally under the
// upper edge of a mark of the given height, and returns what is left below
// them, less than nothing when they do not fit. The card's picture shows the
// same stack.
func Strips(style label.Style, tally label.Tally, height float64) (strips []Strip, left float64) {
	s := height - edge
	if style == label.Full {
		h := math.Min(bandMost, math.Max(bandLeast, bandShare*height))
		strips = append(strips, Strip{height - h, height, true})
		s = height - h - ringGap
	}
	for i := 0; i < tally.Thick+tally.Thin; i++ {
		w := thinRing
		if i < tally.Thick {
			w = thickRing
		}
		strips = append(strips, Strip{s - w, s, false})
		s -= w + ringGap
	}
	return strips, s
}

// rings draws band and tally and returns the height that is left below them.
func (l *layout) rings() (float64, error) {
	strips, left := Strips(l.Mark.Style, l.Mark.Tally, l.flat.Slant)
	if least := 2*edge + legible.CapFloor; left < least {
		need := unit.Millimetre(l.flat.Slant - left + least)
		return 0, fault.New(fault.NoFit, "", "rings and band take the whole mark of "+l.Words.Millimetre(unit.Millimetre(l.flat.Slant), 0.1),
			"make the mark at least "+l.Words.Millimetre(need, 1)+" high or let a ring stand for more grams")
	}
	for _, s := range strips {
		if s.Band {
			if err := l.band(s.From, s.To); err != nil {
				return 0, err
			}
			continue
		}
		l.ops = append(l.ops, &draw.Fill{Path: l.flat.Band(s.From, s.To, l.flat.Left(), l.flat.Right()), Ink: ink})
	}
	return left, nil
}

// leastBand is the contrast that big letters need of their ground (WCAG 2, 1.4.3).
const leastBand = 3.0

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
