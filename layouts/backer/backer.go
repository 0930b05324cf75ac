// Package backer lays out the card a float is sold on, front only, and several
// cards on a sheet with crop marks.
//
// Lengths are millimetres, origin at the card's top left trim corner, y down.
// The card is bought in its colour: nothing is printed to its edge, so nothing
// bleeds and everything stands inside the safe zone. The package decides where
// a card's words stand and how big they are; which words, label.Card says.
package backer

import (
	"fmt"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// ThirdA4 is the default card: 99 by 210 mm, a third of A4 as the trade names
// it (297/3 by 210, ISO 216).
var ThirdA4 = geom.Size{W: 99, H: 210}

// Least is the smallest card that has room for a float beside its words, mm.
var Least = geom.Size{W: 60, H: 150}

// Measures of a card, mm.
const (
	// Safe is how far print stays from the trim: the usual safe zone of print
	// shops' pages, 3 to 5 mm, at its upper end since a card is cut by hand.
	Safe = 5.0
	// Hole is the hang hole's diameter and HoleDepth its centre under the top
	// edge: an office punch, ISO 838, 6 ± 0.5 mm at 12 ± 1 mm.
	Hole      = 6.0
	HoleDepth = 12.0
	// holeClear keeps words off the hole's rim, whose place may miss by 1 mm,
	// with another millimetre of card to the eye. Own choice.
	holeClear = 2.0
	// smallX is the floor of small print, as the height of a small x: a common
	// floor of the small print on packs, from memory. Nothing here goes under it.
	smallX = 1.2
	// gutter is the air between the float's column and the words. Own choice.
	gutter = 4.0
	// leastColumn is the narrowest column of words worth setting. Own choice.
	leastColumn = 20.0
	// tilt is the share of the card's width at which words begin where the
	// float leaves the choice, and fullColumn the width they do not give up for it.
	tilt       = 0.40
	fullColumn = 50.0
)

// Spec is one card to lay out.
type Spec struct {
	Card    label.Card
	Fonts   fonts.Set
	Size    geom.Size // the zero Size is ThirdA4
	Printer stock.Printer
	Codes   *symbol.Memory // remembers codes; nil makes each anew
	Words   words.Words
}

// Lay draws one card. What does not fit is never cut: it is a NoFit error that
// names the field, its measure and what to change. The guide layer holds the
// drill target of the hang hole.
func Lay(s Spec) (*draw.Sheet, error) {
	if s.Size == (geom.Size{}) {
		s.Size = ThirdA4
	}
	sheet := &draw.Sheet{Name: fmt.Sprintf("card %d", s.Card.Number), Size: s.Size}
	blocks, err := layout(s)
	if err != nil {
		return nil, fault.At(fmt.Sprintf("float %d, card", s.Card.Number), err)
	}
	for _, b := range blocks {
		sheet.Add(b.layer, &draw.Group{Name: b.name, At: geom.Identity, Ops: b.ops})
	}
	return sheet, nil
}

// block is one part of a card with the room it takes.
type block struct {
	name  string
	layer draw.Layer
	ops   []draw.Op
	boxes []geom.Rect // what it covers, mm; several where one would claim too much
	clear float64     // that must stay empty round the boxes, mm; may reach into the safe zone's margin
}

// frame is a card cut up: the axis of the float and the column of words.
type frame struct {
	Spec
	axis        float64 // x of the float's axis
	left, right float64 // of the words
	top, foot   float64 // of the words
	near, far   float64 // of the float's column
}

// layout returns the card's blocks. They are disjoint and inside the safe zone.
func layout(s Spec) ([]block, error) {
	f, err := split(s)
	if err != nil {
		return nil, err
	}
	blocks := []block{f.hole()}
	float, err := f.float()
	if err != nil {
		return nil, err
	}
	blocks = append(blocks, float)
	column, err := f.column()
	if err != nil {
		return nil, err
	}
	return append(blocks, column...), nil
}

// split decides how the card's width is shared.
func split(s Spec) (frame, error) {
	mm := func(v float64) string { return s.Words.Millimetre(unit.Millimetre(v), 0.1) }
	if s.Size.W < Least.W || s.Size.H < Least.H {
		return frame{}, fault.New(fault.NoFit, "", fmt.Sprintf("a card of %s by %s is too small", mm(s.Size.W), mm(s.Size.H)),
			fmt.Sprintf("make it at least %s by %s", mm(Least.W), mm(Least.H)))
	}
	p := s.Card.Pattern
	if p == nil || len(p.Profile.Stations()) == 0 {
		return frame{}, fault.New(fault.Ours, "", "the card has no body to draw", "")
	}
	room := s.Size.H - 2*Safe
	if long := float64(p.Profile.Length()); long > room {
		return frame{}, fault.New(fault.NoFit, "", fmt.Sprintf("the float is %s long and the card has room for %s", mm(long), mm(room)),
			fmt.Sprintf("use a card at least %s high", mm(long+2*Safe)))
	}
	f := frame{Spec: s, right: s.Size.W - Safe, near: Safe,
		top: HoleDepth + Hole/2 + holeClear, foot: s.Size.H - Safe}
	need := floatWidth(p)
	f.left = max(Safe+need+gutter, min(tilt*s.Size.W, f.right-fullColumn))
	f.far = f.left - gutter
	f.axis = (f.near + f.far) / 2
	if w := f.right - f.left; w < leastColumn {
		return frame{}, fault.New(fault.NoFit, "", fmt.Sprintf("the float takes %s of the card's width and leaves %s for the words, which need %s",
			mm(need), mm(max(w, 0)), mm(leastColumn)), fmt.Sprintf("use a card at least %s wide", mm(s.Size.W+leastColumn-w)))
	}
	return f, nil
}

// hole is the drill target of the hang hole on the card's middle.
func (f frame) hole() block {
	const hair, arm = 0.1, 1.5 // line width, half length of the cross
	c := geom.Point{X: f.Size.W / 2, Y: HoleDepth}
	line := func(p geom.Path) draw.Op { return &draw.Stroke{Path: p, Ink: draw.Black, Width: hair} }
	at := func(x, y float64) geom.Point { return c.Add(geom.Point{X: x, Y: y}) }
	return block{name: "hang hole", layer: draw.Guide, clear: holeClear,
		boxes: []geom.Rect{geom.XYWH(c.X-Hole/2, c.Y-Hole/2, Hole, Hole)},
		ops: []draw.Op{line(geom.Circle(c, Hole/2)),
			line(geom.LineBetween(at(-arm, 0), at(arm, 0))), line(geom.LineBetween(at(0, -arm), at(0, arm)))}}
}

// ink turns a paint colour into an ink.
func ink(c label.Colour) draw.Ink { return draw.Ink{R: c.R, G: c.G, B: c.B} }
