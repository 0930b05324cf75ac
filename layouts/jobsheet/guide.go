package jobsheet

import (
	"slices"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
)

// Guide is a piece at life size with where to cut it.
type Guide struct {
	Title string      // which it is
	Where string      // where it sits
	Print []draw.Op   // what is printed on it, mm in its own coordinates
	Mark  geom.Path   // its edge, as printed
	Cut   geom.Path   // where the scissors go
	Seams []geom.Path // the parts of it that are cut on the line, drawn thick
}

// Measures of the guide, mm. Own choices.
const (
	guideSeam = 0.5
	guideCut  = 0.2
	guideAir  = 5.0  // between two pieces
	leastText = 26.0 // of a piece's title
	lyingFrom = 2.0  // times as high as wide: such a piece is laid on its side
)

var guideDash = []float64{1, 0.8}

// set is a guide ready to be placed.
type set struct {
	*draw.Sheet
	above float64 // of its height, what is the piece
}

// guides draws the pieces in rows, the high ones first. A piece that is wider than
// the sheet or a narrow upright strip is turned; one that is too long both ways is left out, for life size
// is all it is there for.
func (p *pages) guides() ([]*draw.Sheet, error) {
	var sets []set
	for _, g := range p.Guides {
		s, err := p.guide(g)
		if err != nil {
			return nil, err
		}
		if s.Size.W <= p.wide() && s.Size.H <= p.foot()-p.top()-20 {
			sets = append(sets, s)
		}
	}
	if len(sets) == 0 {
		return nil, nil
	}
	slices.SortStableFunc(sets, func(a, b set) int {
		switch {
		case a.above > b.above+guideAir: // much the same is the same: they keep their order
			return -1
		case a.above < b.above-guideAir:
			return 1
		}
		return 0
	})
	var all []*draw.Sheet
	var b *draw.Sheet
	x, y, high := 0.0, 0.0, 0.0
	for _, s := range sets {
		if b != nil && x+s.Size.W > p.wide()+fits {
			x, y, high = 0, y+high+guideAir, 0
		}
		if b == nil || y+s.Size.H > p.foot()-p.top() {
			b = &draw.Sheet{Name: p.bench.Guide}
			all = append(all, b)
			var err error
			if y, err = p.heading(b, p.bench.Guide, strings.Join(p.GuideNotes, dot), p.wide()); err != nil {
				return nil, err
			}
			b.Size.W = b.Bounds(draw.Colour).Max.X
			x, high = 0, 0
		}
		b.Place(s.Sheet, geom.Translate(x, y))
		x, high = x+s.Size.W+guideAir, max(high, s.Size.H)
		b.Size = geom.Size{W: max(b.Size.W, x-guideAir), H: y + high}
	}
	return all, nil
}

func (p *pages) guide(g Guide) (set, error) {
	s := set{Sheet: &draw.Sheet{Name: g.Title}}
	turn := geom.Identity
	around := g.Cut.Bounds().Union(g.Mark.Bounds())
	if around.W() > p.wide() || around.H() > lyingFrom*around.W() && around.H() <= p.wide() {
		turn = geom.Rotate(quarter)
		around = geom.Rectangle(around).Transform(turn).Bounds()
	}
	around = around.Inset(-guideSeam)
	at := turn.Then(geom.Translate(-around.Min.X, -around.Min.Y))
	s.Add(draw.Colour, &draw.Group{Name: g.Title, At: at, Ops: loose(g.Print)},
		&draw.Stroke{Path: g.Mark.Transform(at), Ink: fieldInk, Width: hair})
	cut := &draw.Stroke{Path: g.Cut.Transform(at), Ink: draw.Black, Width: guideCut}
	if len(g.Seams) > 0 || g.Cut.Bounds() != g.Mark.Bounds() {
		cut.Dash = guideDash
	}
	s.Add(draw.Cut, cut)
	for _, seam := range g.Seams {
		s.Add(draw.Cut, &draw.Stroke{Path: seam.Transform(at), Ink: draw.Black, Width: guideSeam})
	}
	s.above = around.H()
	width := max(around.W(), leastText)
	q, err := passage{{{g.Title, typeset.Bold(p.Fonts, bodyCap), false}}, {{g.Where, typeset.Regular(p.Fonts, bodyCap), false}}}.set(width)
	if err != nil {
		return s, err
	}
	s.Add(draw.Colour, q.draw(0, s.above+1)...)
	s.Size = geom.Size{W: width, H: s.above + 1 + q.h() + descent*bodyCap}
	return s, nil
}

// loose returns ops as a picture: their words are outlines, so that no search finds
// a float's figures here, and calibration may scale its groups, for a code on the
// guide is there to be looked at and its piece must stay whole.
func loose(ops []draw.Op) []draw.Op {
	out := make([]draw.Op, len(ops))
	for i, o := range ops {
		switch o := o.(type) {
		case *draw.Group:
			out[i] = &draw.Group{Name: o.Name, At: o.At, Ops: loose(o.Ops)}
		case *draw.Glyphs:
			var path geom.Path
			for _, g := range o.Run {
				path = append(path, draw.GlyphPath(o.Face, g.ID).Transform(g.At)...)
			}
			out[i] = &draw.Fill{Path: path, Ink: o.Ink}
		default:
			out[i] = o
		}
	}
	return out
}
