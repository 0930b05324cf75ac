package job

import (
	"floatmark/layouts/backer"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// PlannedCard is one card of a plan.
type PlannedCard struct {
	Floats []*FloatPlan // one, or a set
	Sides  int          // that are printed
	Size   geom.Size    // of the flat piece, mm
}

// Cards returns the cards in the order they are laid out.
func (p *Plan) Cards() []PlannedCard {
	per := max(p.File.Cards.Set, 1)
	var all []PlannedCard
	for i, l := range p.laidCards {
		c := PlannedCard{Sides: 1, Size: l.Size()}
		if l.Back != nil {
			c.Sides = 2
		}
		for k := i * per; k < (i+1)*per; k++ {
			c.Floats = append(c.Floats, &p.Floats[k])
		}
		all = append(all, c)
	}
	return all
}

// CardPicture draws a side of a card as it will be seen, without what goes beyond
// its trim, as PNG of a few colours. card is its place in Cards, side 0 the front,
// dpi the dots to the inch. NotFound where there is no such side.
func (p *Plan) CardPicture(card, side int, dpi float64) ([]byte, error) {
	face := p.cardFace(card, side)
	if face == nil {
		return nil, fault.New(fault.NotFound, "", "there is no such card", "look at the cards of the batch")
	}
	return fewColours(face, dpi)
}

// CardPage draws a page of Backers by its place, as PNG of a few colours.
func (p *Plan) CardPage(page int, dpi float64) ([]byte, error) {
	if page < 0 || page >= len(p.Backers) {
		return nil, fault.New(fault.NotFound, "", "there is no such page", "look at the cards of the batch")
	}
	return fewColours(p.Backers[page], dpi)
}

// cardFace is a side of a card on card of its colour; nil where there is none.
func (p *Plan) cardFace(card, side int) *draw.Sheet {
	if card < 0 || card >= len(p.laidCards) {
		return nil
	}
	l := p.laidCards[card]
	drawn, areas := l.Front, l.FrontAreas
	switch {
	case side == 1 && l.Back != nil:
		drawn, areas = l.Back, l.BackAreas
	case side != 0:
		return nil
	}
	s := &draw.Sheet{Name: drawn.Name, Size: drawn.Size}
	fill := func(r geom.Rect, ink draw.Ink) {
		s.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(r), Ink: ink})
	}
	fill(geom.XYWH(0, 0, s.Size.W, s.Size.H), p.card.Colour)
	for _, a := range areas {
		fill(within(a, s.Size), a.Ink)
	}
	s.Place(drawn, geom.Translate(0, 0))
	return s
}

// within is the part of an area that is on the card.
func within(a backer.Area, card geom.Size) geom.Rect {
	x, y := max(0, a.Rect.Min.X), max(0, a.Rect.Min.Y)
	return geom.XYWH(x, y, min(card.W, a.Rect.Max.X)-x, min(card.H, a.Rect.Max.Y)-y)
}
