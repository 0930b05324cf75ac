package backer

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
)

// backGrown is what the back's hole of a folded card is larger by at its edge, so
// that the punch through both meets the face's: of a fold-over card's two holes the
// one in its face is the smaller (a card-packaging firm's tips); by how much, own
// choice.
const backGrown = 1.0

// lay makes the flat piece of a card.
func lay(s Spec) (Laid, error) {
	m, err := compose(s)
	if err != nil {
		return Laid{}, err
	}
	f := m.frame
	l := Laid{Corner: f.Style.Corner, Holds: f.holds, Step: m.step, Hung: f.hung, Notices: f.notices}
	if f.Style.Hang != NoHang {
		l.Tilt = Tilt(f.hung, f.centre)
	}
	name := fmt.Sprintf("card %d", s.Card.Number)
	size := geom.Size{W: f.w, H: f.h}
	hung := geom.Point{X: f.w - f.hung.X, Y: f.hung.Y}
	switch f.Style.Kind {
	case Fold:
		// The back stands at the left of the front, and goes behind it.
		l.Front = &draw.Sheet{Name: name, Size: geom.Size{W: 2 * f.w, H: f.h}}
		m.back.blocks = append(m.back.blocks, f.hole(hung, backGrown)...)
		l.FrontAreas = m.back.on(l.Front, geom.Identity)
		l.FrontAreas = append(l.FrontAreas, m.front.on(l.Front, geom.Translate(f.w, 0))...)
		l.Folds = []FoldLine{{geom.Point{X: f.w}, geom.Point{X: f.w, Y: f.h}}}
	case Header:
		// The back stands over the front on its head, and goes behind it.
		l.Front = &draw.Sheet{Name: name, Size: geom.Size{W: f.w, H: 2 * f.h}}
		m.back.blocks = append(m.back.blocks, f.hole(hung, backGrown)...)
		l.FrontAreas = m.back.on(l.Front, geom.Rotate(math.Pi).Then(geom.Translate(f.w, f.h)))
		l.FrontAreas = append(l.FrontAreas, m.front.on(l.Front, geom.Translate(0, f.h))...)
		l.Folds = []FoldLine{{geom.Point{Y: f.h}, geom.Point{X: f.w, Y: f.h}}}
	default:
		l.Front = &draw.Sheet{Name: name, Size: size}
		l.FrontAreas = m.front.on(l.Front, geom.Identity)
		if m.sides == 2 {
			l.Back = &draw.Sheet{Name: name + ", back", Size: size}
			l.BackAreas = m.back.on(l.Back, geom.Identity)
		}
	}
	if l.Corner > 0 {
		l.Front.Add(draw.Cut, corners(l.Front.Size, l.Corner)...)
	}
	return l, nil
}

// on puts a panel on a piece and returns its areas there.
func (p panel) on(s *draw.Sheet, at geom.Affine) []Area {
	for _, b := range p.blocks {
		if len(b.ops) > 0 {
			s.Add(b.layer, &draw.Group{Name: b.name, At: at, Ops: b.ops})
		}
	}
	var all []Area
	for _, a := range p.areas {
		all = append(all, Area{geom.Rectangle(a.Rect).Transform(at).Bounds(), a.Ink})
	}
	return all
}

// corners are the cuts of round corners.
func corners(size geom.Size, r float64) []draw.Op {
	var ops []draw.Op
	in := geom.XYWH(0, 0, size.W, size.H).Inset(r)
	for i, c := range []geom.Point{in.Max, {X: in.Min.X, Y: in.Max.Y}, in.Min, {X: in.Max.X, Y: in.Min.Y}} {
		var p geom.Path
		p.Arc(c, r, float64(i)*math.Pi/2, float64(i+1)*math.Pi/2)
		ops = append(ops, &draw.Stroke{Path: p, Ink: cutInk, Width: cutLine})
	}
	return ops
}

// Sides are lengths at the four sides of a card, mm.
type Sides struct{ Left, Top, Right, Bottom float64 }

// even is the same length at every side.
func even(d float64) Sides { return Sides{d, d, d, d} }

// grounds draws areas; where one meets the trim it goes beyond it by the bleed of
// that side.
func grounds(areas []Area, size geom.Size, bleed Sides) []draw.Op {
	const meets = 1e-6
	var ops []draw.Op
	for _, a := range areas {
		r := a.Rect
		if r.Min.X < meets {
			r.Min.X -= bleed.Left
		}
		if r.Min.Y < meets {
			r.Min.Y -= bleed.Top
		}
		if r.Max.X > size.W-meets {
			r.Max.X += bleed.Right
		}
		if r.Max.Y > size.H-meets {
			r.Max.Y += bleed.Bottom
		}
		ops = append(ops, &draw.Fill{Path: geom.Rectangle(r), Ink: a.Ink})
	}
	return ops
}

// bleeding reports on which sides an area meets the trim.
func (l Laid) bleeding() (across, down bool) {
	const meets = 1e-6
	size := l.Size()
	for _, a := range append(append([]Area(nil), l.FrontAreas...), l.BackAreas...) {
		across = across || a.Rect.Min.X < meets || a.Rect.Max.X > size.W-meets
		down = down || a.Rect.Min.Y < meets || a.Rect.Max.Y > size.H-meets
	}
	return across, down
}

// slug is what a card's own page has round its trim: the bleed, the marks outside
// it, and a millimetre of paper.
const slug = markOffset + markLength + 1

// Single returns a card on pages of its own, as a print shop takes it: the front
// with crop and fold marks outside the trim, and the back without. Trim and Bleed
// of the pages are set.
func (l Laid) Single() []*draw.Sheet {
	size := l.Size()
	page := func(s *draw.Sheet, areas []Area) *draw.Sheet {
		out := &draw.Sheet{Name: s.Name, Size: geom.Size{W: size.W + 2*slug, H: size.H + 2*slug}}
		out.Trim = geom.XYWH(slug, slug, size.W, size.H)
		out.Bleed = out.Trim.Inset(-Bleed)
		at := geom.Translate(slug, slug)
		if g := grounds(areas, size, even(Bleed)); len(g) > 0 {
			out.Add(draw.Ground, &draw.Group{Name: "grounds", At: at, Ops: g})
		}
		out.Place(s, at)
		return out
	}
	front := page(l.Front, l.FrontAreas)
	one := run{n: 1, first: slug, before: mark{markOffset, markLength}, after: mark{markOffset, markLength}}
	across, down := one, one
	across.size, down.size = size.W, size.H
	front.Add(draw.Cut, cropMarks(across, down)...)
	front.Add(draw.Crease, foldMarks(l.Folds, geom.Point{X: slug, Y: slug}, even(slug-1))...)
	pages := []*draw.Sheet{front}
	if l.Back != nil {
		pages = append(pages, page(l.Back, l.BackAreas))
	}
	return pages
}

// foldMarks are dashed lines that go on where a fold ends, outside the trim, as far
// as there is room at that side.
func foldMarks(folds []FoldLine, at geom.Point, room Sides) []draw.Op {
	var ops []draw.Op
	line := func(from, to geom.Point, high float64) {
		if high <= markOffset {
			return
		}
		d := to.Sub(from)
		d = d.Scale(1 / d.Len())
		far := math.Min(high, markOffset+markLength)
		ops = append(ops, &draw.Stroke{Path: geom.LineBetween(to.Add(d.Scale(markOffset)), to.Add(d.Scale(far))), Ink: draw.Black, Width: hairline, Dash: []float64{1, 0.7}})
	}
	for _, f := range folds {
		a, b := f.From.Add(at), f.To.Add(at)
		if f.From.X == f.To.X {
			line(b, a, room.Top)
			line(a, b, room.Bottom)
			continue
		}
		line(b, a, room.Left)
		line(a, b, room.Right)
	}
	return ops
}

// Channel is the width of the channel that a crease is pressed into, mm, for a
// card of a thickness and a rule: 1.5 times the card and the rule (a
// creasing-matrix calculator); about 1.3 mm for 0.4 mm and a rule of 0.7 mm.
func Channel(thick, rule float64) float64 { return 1.5*thick + rule }

// Rule is the usual rule of a crease, mm.
const Rule = 0.7

// GrainOf tells when a card's folds run across the grain of its stock: a fold
// cracks there, and lies flat along it (a print shop's guide: fold with the grain).
func GrainOf(l Laid, s stock.Stock) (Notice, bool) {
	if len(l.Folds) == 0 || !s.Grain.Binds() {
		return Notice{}, false
	}
	upright := l.Folds[0].From.X == l.Folds[0].To.X
	if upright == (s.Grain == stock.LongGrain) {
		return Notice{}, false
	}
	return Notice{NoticeGrain, fmt.Sprintf("the fold runs across the grain of %s: score it, or take card with the other grain", s.Name)}, true
}
