package backer

import (
	"fmt"
	"math"
	"strings"

	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/body"
	"floatmark/loading/fault"
)

// Member is one float of a set on one card.
type Member struct {
	Card   label.Card
	Body   body.Profile  // its own shape; zero for its pattern's
	Pieces []decal.Piece // of its mark
}

// setGap is the air between two floats of a set, and between their codes, mm. Own
// choice.
const setGap = 2.0

// MostOfSet is the most floats on one card: more are a box. Own choice.
const MostOfSet = 6

// lieBeside places the other floats of a set, each with holds of its own.
func (f *frame) lieBeside() error {
	f.whole = f.need
	for i, m := range f.Set {
		if i == 0 {
			continue
		}
		g := *f
		g.Card, g.Body, g.Pieces, g.profile = m.Card, m.Body, m.Pieces, m.Body
		g.holds, g.notices, g.mates = nil, nil, nil
		if len(g.profile.Stations()) == 0 && m.Card.Pattern != nil {
			g.profile = m.Card.Pattern.Profile
		}
		if err := g.lie(); err != nil {
			return fault.At(fmt.Sprintf("float %d of the set", i+1), err)
		}
		f.whole += setGap + g.need
		f.notices = append(f.notices, g.notices...)
		f.mates = append(f.mates, &g)
	}
	return nil
}

// spread gives each float of a set its axis within the floats' column.
func (f *frame) spread() {
	if len(f.mates) == 0 {
		return
	}
	x := (f.near+f.far)/2 - f.whole/2
	for _, g := range append([]*frame{f}, f.mates...) {
		g.near, g.far, g.axis = x, x+g.need, x+g.need/2
		x += g.need + setGap
	}
}

// conventions is in how many conventions the floats of a set know their shot.
func (f *frame) conventions() int {
	n := 0
	for _, m := range f.Set {
		n = max(n, len(m.Card.Rows))
	}
	return n
}

// makes is what makes a float of a set: its shot in each convention that is told,
// one below the other.
func (f *frame) makes(c col, name string, rows []label.Row) ([]item, error) {
	var items []item
	small := f.plain(capSmall)
	for i, r := range rows[:min(f.told, len(rows))] {
		said := r.Convention
		if r.Note != "" && r.Shot != r.Gram {
			said += dot + r.Note
		}
		line, err := c.pair(fmt.Sprintf("%s, shot %d", name, i+1), said, r.Shot, small, f.bold(capSmall))
		if err != nil {
			return nil, err
		}
		items = append(items, line...)
	}
	return items, nil
}

// fewer tells a set's floats in as many conventions as there is room for with the
// smallest type, one at least; fits tries it.
func (f *frame) fewer(fits func() error) error {
	all := f.told
	err := fits()
	for err != nil && f.told > 1 {
		f.told--
		err = fits()
	}
	if err == nil && f.told < all {
		f.tell(NoticeSet, "the card of a set has room for %d of the %d shot conventions: a larger card tells them all", f.told, all)
	}
	return err
}

// tableOfSet is the figures of each float of a set: its id and rating, and under
// them what is built in, what to add and the shot that makes it.
func (f *frame) tableOfSet(c col) ([]item, error) {
	w := f.Words
	var items []item
	for i, m := range f.Set {
		name := fmt.Sprintf("float %d of the set", i+1)
		first, err := c.pair(name, m.Card.ID, m.Card.Rating, f.plain(capLabel), f.bold(capBuiltIn))
		if err != nil {
			return nil, err
		}
		var said []string
		if m.Card.BuiltIn != "" {
			said = append(said, w.BuiltIn+" "+m.Card.BuiltIn)
		}
		switch {
		case !strings.ContainsAny(m.Card.Add, "0123456789"):
			said = append(said, m.Card.Add)
		case m.Card.Add != m.Card.Rating:
			said = append(said, w.Add+" "+m.Card.Add)
		}
		first[0].air = 1
		items = append(items, first...)
		if len(said) > 0 {
			second, err := c.paragraph(name+", parts", strings.Join(said, dot), f.plain(capSmall), typeset.Right)
			if err != nil {
				return nil, err
			}
			items = append(items, second...)
		}
		third, err := f.makes(c, name, m.Card.Rows)
		if err != nil {
			return nil, err
		}
		items = append(items, third...)
	}
	rule := c.bar("rule under figures", light, f.ink)
	rule.air = 1
	return append(items, rule), nil
}

// codesOfSet is each float's code with its id under it, side by side.
func (f *frame) codesOfSet(c col) ([]item, error) {
	w := f.Words
	small := f.plain(capSmall)
	batch, err := c.paragraph("batch", w.Batch+" "+f.Card.Batch, small, typeset.Left)
	if err != nil {
		return nil, err
	}
	var items []item
	x, rows := c.left, 0
	var line []*item
	for i, m := range f.Set {
		if m.Card.Code == "" {
			continue
		}
		q, err := f.qrOf(f.setCodes[i], c)
		if err != nil {
			return nil, err
		}
		id, err := small.fit("id", m.Card.ID, q.side)
		if err != nil {
			return nil, err
		}
		side := q.side - 2*q.quiet()
		if x > c.left && x+side > c.right {
			x, line = c.left, nil
		}
		at := x
		up, down, _ := c.memory.extent(id)
		draws := func(base float64) ([]draw.Op, []geom.Rect) {
			ops, boxes := q.ops(at-q.quiet(), base-f.scale.down(up)-q.quiet()-side-q.printer-1, f.paper)
			words := id.Straight(geom.Translate(at, base), typeset.Left, f.ink)
			return append(ops, words...), append(boxes, c.memory.reach(words))
		}
		if line == nil {
			rows++
			items = append(items, item{name: fmt.Sprintf("codes, row %d", rows), up: side + q.printer + 1 + q.quiet() + f.scale.down(up), down: down, air: 1,
				draw: func(float64) ([]draw.Op, []geom.Rect) { return nil, nil }})
			line = []*item{}
		}
		it := &items[len(items)-1]
		before := it.draw
		it.draw = func(base float64) ([]draw.Op, []geom.Rect) {
			ops, boxes := before(base)
			more, box := draws(base)
			return append(ops, more...), append(boxes, box...)
		}
		line = append(line, it)
		x += math.Max(side+2*q.quiet(), id.Width+setGap)
	}
	return opened(append(items, batch...), 2), nil
}

// codesMade makes every member's code once.
func (f *frame) codesMade() error {
	for i, m := range f.Set {
		var one symbol.Matrix
		if m.Card.Code != "" {
			var err error
			if one, err = f.Codes.QR(m.Card.Code); err != nil {
				return fault.At(fmt.Sprintf("float %d of the set, code", i+1), err)
			}
		}
		f.setCodes = append(f.setCodes, one)
	}
	return nil
}
