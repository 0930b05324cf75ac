package decal

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// Strip is a stretch of a mark that is one colour all round the body: the rating
// band, a ring or a rule. Heights are over the mark's lower edge, mm.
type Strip struct {
	From, To float64
	Band     bool // the rating band, which holds the rating; else black
}

// Strips stacks the strips that a piece of the given height shows, and returns
// what they leave for words: the heights lo to hi, upside down when they do not
// fit. A band at an edge reaches the cut. The card's picture shows the same stack.
func Strips(show label.Show, tally label.Tally, height float64) (strips []Strip, lo, hi float64) {
	strips, hi = stack(show.Top, tally, height, height)
	if len(show.Foot) == 0 {
		return strips, 0, hi
	}
	_, low := stack(show.Foot, tally, height, 0)
	start := -low - ringGap // the height of the block, with the edge that its top takes off
	if show.Foot[len(show.Foot)-1] != label.PartBand {
		start += edge
	}
	foot, _ := stack(show.Foot, tally, height, start)
	if len(foot) > 0 {
		lo = foot[0].To + ringGap
	}
	return append(strips, foot...), lo, hi
}

// stack lays strips from the height s down and returns where the next one would
// begin. The first keeps clear of the edge unless it is the band.
func stack(parts []label.Part, tally label.Tally, height, s float64) (strips []Strip, next float64) {
	if len(parts) > 0 && parts[0] != label.PartBand {
		s -= edge
	}
	put := func(w float64, band bool) {
		strips = append(strips, Strip{s - w, s, band})
		s -= w + ringGap
	}
	for _, p := range parts {
		switch p {
		case label.PartBand:
			put(math.Min(bandMost, math.Max(bandLeast, bandShare*height)), true)
		case label.PartRings:
			for i := 0; i < tally.Thick+tally.Thin; i++ {
				w := thinRing
				if i < tally.Thick {
					w = thickRing
				}
				put(w, false)
			}
		case label.PartRule:
			put(thinRing, false)
		}
	}
	return strips, s
}

// strips draws band and rings and notes the room they leave.
func (l *layout) strips() error {
	strips, lo, hi := Strips(l.show, l.Mark.Tally, l.flat.Slant)
	least := 0.0
	if len(l.lines) > 0 {
		least = 2*edge + l.Floor
	}
	if hi-lo < least || hi < lo-ringGap {
		return fault.New(fault.NoFit, "", "rings and band take the whole mark of "+l.mm(l.flat.Slant),
			"make the mark at least "+l.mm(math.Ceil(l.flat.Slant-(hi-lo)+least))+" high or let a ring stand for more grams")
	}
	for _, s := range strips {
		if s.Band {
			if err := l.band(s.From, s.To); err != nil {
				return err
			}
			continue
		}
		l.ops = append(l.ops, &draw.Fill{Path: l.bled(s.From, s.To), Ink: ink})
	}
	l.lo, l.hi = lo, hi
	return nil
}

// bled is a strip between two heights, from edge to edge of the piece and as far
// beyond the cut as colour bleeds.
func (l *layout) bled(s0, s1 float64) geom.Path {
	const meets = 1e-9 // mm
	aside := l.flat.Angle(l.Bleed, (s0+s1)/2)
	if s0 < meets {
		s0 -= l.Bleed
	}
	if s1 > l.flat.Slant-meets {
		s1 += l.Bleed
	}
	return l.flat.Band(s0, s1, l.flat.Left()-aside, l.flat.Right()+aside)
}

// band draws the rating band with the rating knocked out of it once on each
// face. The letters are holes, not white ink: what shows is the film.
func (l *layout) band(s0, s1 float64) error {
	path := l.bled(s0, s1)
	clockwise := path.Area(woundTol) > 0
	cap := 0.58 * (s1 - s0)
	width := l.reach(s0)/faces - 2*facePad
	if cap >= l.Floor && l.Mark.Rating != "" {
		line, err := typeset.Fit(l.Mark.Rating, typeset.Bold(l.Fonts, cap), width, l.Floor)
		if err != nil && fault.ClassOf(err) != fault.NoFit {
			return err
		}
		if err == nil {
			base := s0 + (s1-s0-line.Cap)/2
			for _, theta := range l.angles(faces, -1) {
				for _, o := range line.Along(l.hoopFrame(theta, base, line.Cap), centre, ink) {
					g := o.(*draw.Glyphs)
					for _, one := range g.Run {
						path = append(path, wound(draw.GlyphPath(g.Face, one.ID).Transform(one.At), !clockwise)...)
					}
				}
			}
		}
	}
	l.ops = append(l.ops, &draw.Fill{Path: path, Ink: draw.Ink(l.Mark.Band)})
	return nil
}

// woundTol is near enough to tell which way round an outline runs, mm.
const woundTol = 0.1

// wound returns a glyph with its outer rings running clockwise or not: against
// those of the ground it is cut from it is, by the non-zero rule, a hole.
func wound(glyph geom.Path, clockwise bool) geom.Path {
	if (glyph.Area(woundTol) > 0) != clockwise {
		return glyph.Reverse()
	}
	return glyph
}
