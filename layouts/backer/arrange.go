package backer

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/loading/fault"
)

// panel is one side of a card as it hangs, being set.
type panel struct {
	blocks []block
	areas  []Area
}

// set places a chain of parts in a column between two heights; a
// NoFit error when they find no room at this size.
func (f *frame) set(c col, top, foot float64, parts ...part) ([]block, error) {
	r := region{box: geom.Rect{Min: geom.Point{X: c.left, Y: top}, Max: geom.Point{X: c.right, Y: foot}}}
	for _, p := range parts {
		items, err := p(f, c)
		if err != nil {
			return nil, err
		}
		r.items = append(r.items, items...)
	}
	if len(r.items) == 0 {
		return nil, nil
	}
	blocks, ok := r.fit(f.scale, f.dry)
	if !ok {
		return nil, f.tooHigh(r, f.scale)
	}
	return blocks, nil
}

// atFoot marks the first line of a part as where the column's foot begins.
func atFoot(p part) part {
	return func(f *frame, c col) ([]item, error) {
		items, err := p(f, c)
		if len(items) > 0 {
			items[0].foot = true
		}
		return items, err
	}
}

// twoSided says that there is a back to say what the front need not.
func (f *frame) twoSided() bool {
	switch f.Style.Kind {
	case Fold, Header:
		return true
	}
	return f.Style.Sides == 2
}

// front sets the panel that the buyer sees first, with the floor's error when
// nothing fits.
func (f *frame) front() (panel, error) {
	switch {
	case f.Style.Kind == Header:
		return f.headerFront()
	case f.Style.Kind == Insert:
		return f.beside(accentBar, brand, pattern, about, rating, figures)
	case f.Style.Arrangement == Stream:
		return f.stream()
	case f.Style.Arrangement == Pennant:
		return f.pennant()
	}
	return f.beside(accentBar, brand, pattern, about, rating, figures)
}

// closing are the parts that end the front: on a card printed on one side, all
// that the back would say.
func (f *frame) closing() []part {
	if f.twoSided() {
		return []part{setups, shot, atFoot(price)}
	}
	return []part{setups, shot, atFoot(code), price, ean, cautions, second, address}
}

// beside is one column beside the float.
func (f *frame) beside(parts ...part) (panel, error) {
	c := f.columns[0]
	blocks, err := f.set(c, f.top(c, f.hung), f.h-Safe, append(parts, f.closing()...)...)
	return panel{blocks: blocks}, err
}

// stream stands the float in the middle, in water that is tinted to its
// waterline; words in two columns.
func (f *frame) stream() (panel, error) {
	var p panel
	if f.drawn && hasWaterline(f.profile, f.Card.Pattern) {
		y := f.y(float64(f.Card.Pattern.Waterline))
		p.areas = append(p.areas, Area{geom.XYWH(0, y, f.w, f.h-y), f.tint()})
	}
	wet := *f
	if len(p.areas) > 0 {
		wet.paper = f.tint()
	}
	left, right := f.columns[0], f.columns[len(f.columns)-1]
	top := [2]float64{f.top(left, f.hung), f.top(right, f.hung)}
	above := [2][]part{{brand, pattern, about}, {price}}
	below := [2][]part{{rating, figures}, {setups, shot}}
	if !f.twoSided() {
		below = [2][]part{{rating, figures, atFoot(cautions), address}, {setups, shot, atFoot(code), ean, second}}
	}
	if len(p.areas) > 0 && !f.through {
		// Who and what stand above the water and how much below it; in shallow water
		// only what is at the foot of the card.
		y := p.areas[0].Rect.Min.Y
		foot := [2][]part{nil, {price}}
		if !f.twoSided() {
			foot = [2][]part{{cautions, address}, {code, price, ean, second}}
		}
		ways := [][2][2][]part{
			{above, below},
			{{{brand, pattern}, above[1]}, {append([]part{about}, below[0]...), below[1]}},
			{{{brand, pattern, about, rating, figures}, {setups, shot}}, foot},
		}
		var blocks []block
		var err error
		for _, way := range ways {
			if blocks, err = wet.parted(left, right, top, y, way[0], way[1]); err == nil {
				break
			}
		}
		p.blocks = blocks
		return p, err
	}
	whole := [2][]part{slices.Concat(above[0], below[0]), append(below[1], price)}
	blocks, err := wet.pairOf(left, right, top, f.h-Safe, whole)
	p.blocks = blocks
	return p, err
}

// parted sets the parts above and below a height.
func (f *frame) parted(left, right col, top [2]float64, y float64, above, below [2][]part) ([]block, error) {
	clear := f.scale.half()
	a, err := f.pairOf(left, right, top, y-clear, above)
	if err != nil {
		return nil, err
	}
	b, err := f.pairOf(left, right, [2]float64{math.Max(top[0], y+clear), math.Max(top[1], y+clear)}, f.h-Safe, below)
	return append(a, b...), err
}

// pairOf sets two columns beside each other.
func (f *frame) pairOf(left, right col, top [2]float64, foot float64, parts [2][]part) ([]block, error) {
	a, err := f.set(left, top[0], foot, parts[0]...)
	if err != nil {
		return nil, err
	}
	b, err := f.set(right, top[1], foot, parts[1]...)
	return append(a, renamed(b, "right: ")...), err
}

// tintShare is how much of the accent is in the water: pale enough for small
// print to stand on it. Own choice.
const tintShare = 0.14

// tint is the accent mixed into the card's own colour, paler where words would
// not be told from it.
func (f *frame) tint() draw.Ink {
	mix := func(a, b uint8, k float64) uint8 { return uint8(float64(a) + float64((float64(b)-float64(a))*k) + 0.5) }
	for k := tintShare; ; k /= 2 {
		t := draw.Ink{R: mix(f.paper.R, f.accent.R, k), G: mix(f.paper.G, f.accent.G, k), B: mix(f.paper.B, f.accent.B, k)}
		if k < 0.01 || legible.Contrast(f.ink, t) >= legible.TextContrast {
			return t
		}
	}
}

// knockedOut is the ink of words on the accent: white or black, whichever is
// told from it better; one of the two always is (4.5 and 4.5 make 21).
func knockedOut(ground draw.Ink) draw.Ink {
	if legible.Contrast(draw.White, ground) >= legible.TextContrast {
		return draw.White
	}
	return draw.Black
}

// Measures of the flag, mm. Own choices.
const (
	flagPad   = 4.0
	flagNotch = 5.0 // deep
	flagLap   = 1.0 // by which its tail lies on it, so that no seam shows
)

// pennant hangs a flag in the accent's colour from the top edge, with the maker,
// the pattern and the rating on it; the rest stands below.
func (f *frame) pennant() (panel, error) {
	c := f.columns[0]
	in := col{c.left + flagPad, c.right - flagPad, c.memory}
	if in.width() < leastColumn {
		return panel{}, fault.New(fault.NoFit, "", fmt.Sprintf("the flag has %s for its words and needs %s", f.mm(in.width()), f.mm(leastColumn)),
			fmt.Sprintf("use a card at least %s wide, or another arrangement", f.mm(f.w+leastColumn-in.width())))
	}
	g := *f
	g.ink, g.paper = knockedOut(f.accent), f.accent
	flag := func(f *frame, c col) ([]item, error) {
		hero, err := f.hero(c, f.scale.between(capHeroLow, capHero))
		return opened([]item{hero}, 2), err
	}
	var items []item
	for _, p := range []part{brand, pattern, flag} {
		some, err := p(&g, in)
		if err != nil {
			return panel{}, err
		}
		items = append(items, some...)
	}
	top := f.top(c, f.hung)
	r := region{box: geom.Rect{Min: geom.Point{X: in.left, Y: top}, Max: geom.Point{X: in.right, Y: f.h}}, items: items}
	bases, end := r.set(f.scale, 0)
	foot := f.scale.down(end + flagPad/2)
	p := panel{areas: []Area{{geom.XYWH(c.left, 0, c.width(), foot), f.accent}}}
	var tail geom.Path
	tail = append(tail, geom.Polygon(geom.Point{X: c.left, Y: foot - flagLap}, geom.Point{X: c.right, Y: foot - flagLap}, geom.Point{X: c.right, Y: foot + flagNotch},
		geom.Point{X: (c.left + c.right) / 2, Y: foot}, geom.Point{X: c.left, Y: foot + flagNotch})...)
	p.blocks = append(p.blocks, block{name: "flag", layer: draw.Ground, ops: []draw.Op{&draw.Fill{Path: tail, Ink: f.accent}}, boxes: []geom.Rect{tail.Bounds()}})
	for i, it := range items {
		if f.dry {
			break
		}
		ops, boxes := it.draw(bases[i])
		p.blocks = append(p.blocks, block{name: it.name, layer: draw.Colour, ops: ops, boxes: boxes, clear: it.clear})
	}
	counted := func(f *frame, c col) ([]item, error) {
		if n := f.Card.Tally; n.Thick+n.Thin == 0 {
			return nil, nil
		}
		items, err := f.rings(c)
		return opened(items, 1), err
	}
	parts := append([]part{about, counted, figures}, f.closing()...)
	rest, err := f.set(c, foot+flagNotch+f.scale.half(), f.h-Safe, parts...)
	p.blocks = append(p.blocks, rest...)
	return p, err
}

// staple is how much of a header's foot the bag and its staples take. Own choice.
const staple = 8.0

// headerFront is the panel over a bag: who and what at the left, how much at the
// right.
func (f *frame) headerFront() (panel, error) {
	left, right := f.columns[0], f.columns[1]
	a, err := f.set(left, f.top(left, f.hung), f.h-staple, accentBar, brand, pattern, about, atFoot(price))
	if err != nil {
		return panel{}, err
	}
	b, err := f.set(right, f.top(right, f.hung), f.h-staple, rating, figures, shot)
	return panel{blocks: append(a, renamed(b, "right: ")...)}, err
}

// back sets the other panel: seen from behind, so what lies at the left of the
// front lies at its right. Words stand behind the front's words, not behind the
// holds; behind the float is the shotting picture.
func (f *frame) back() (panel, error) {
	var p panel
	hung := geom.Point{X: f.w - f.hung.X, Y: f.hung.Y}
	foot := f.h - Safe
	if f.Style.Kind == Header {
		foot = f.h - staple
	}
	var cols []col
	for _, c := range slices.Backward(f.columns) {
		cols = append(cols, col{f.w - c.right, f.w - c.left, c.memory})
	}
	if len(cols) == 2 {
		a, err := f.set(cols[0], f.top(cols[0], hung), foot, reference, shotting, atFoot(cautions), second, address)
		if err != nil {
			return p, err
		}
		b, err := f.set(cols[1], f.top(cols[1], hung), foot, atFoot(code), ean)
		p.blocks = append(a, renamed(b, "right: ")...)
		return p, err
	}
	blocks, err := f.set(cols[0], f.top(cols[0], hung), foot, reference, shotting, atFoot(code), ean, cautions, second, address)
	p.blocks = blocks
	return p, err
}

// renamed tells the blocks of a second column from those of the first.
func renamed(all []block, prefix string) []block {
	for i := range all {
		all[i].name = prefix + all[i].name
	}
	return all
}

// made is a card set, block by block.
type made struct {
	frame       *frame
	front, back panel
	sides       int
	step        int // of the grid's size
}

// compose sets both sides at the largest size of the grid at which everything on
// them fits.
func compose(s Spec) (made, error) {
	if s.Size == (geom.Size{}) {
		s.Size = ThirdA4
	}
	f, err := cut(s)
	if err != nil {
		return made{}, err
	}
	at := func(sc scale, dry bool) (made, error) {
		g := *f
		g.scale, g.dry = sc, dry
		m := made{frame: &g, sides: 1}
		var err error
		if m.front, err = g.front(); err != nil {
			return m, err
		}
		if g.twoSided() {
			m.sides = 2
			m.back, err = g.back()
		}
		return m, err
	}
	all := scales()
	// The largest that fits, by halving: what fits at one size fits at a smaller.
	last := len(all) - 1
	if err := f.fewer(func() error {
		f.through = false
		_, err := at(all[last], true)
		if err != nil && f.Style.Arrangement == Stream {
			f.through = true
			_, err = at(all[last], true)
		}
		return err
	}); err != nil {
		return made{}, err
	}
	first := min(max(s.Step, 0), last)
	hi := first + sort.Search(last-first, func(i int) bool {
		_, err := at(all[first+i], true)
		return err == nil
	})
	m, err := at(all[hi], false)
	if err != nil {
		return m, err
	}
	m.step = hi
	return m, m.furnish()
}

// furnish adds the float, the hole and the holds to the front.
func (m *made) furnish() error {
	f := m.frame
	var first []block
	if f.drawn {
		for i, g := range append([]*frame{f}, f.mates...) {
			g.scale = f.scale
			float, err := g.float()
			if err != nil {
				return err
			}
			of := append(g.cuts(), float)
			if i > 0 {
				of = renamed(of, fmt.Sprintf("float %d: ", i+1))
			}
			first = append(first, of...)
		}
	}
	first = append(first, f.hole(f.hung, 0)...)
	m.front.blocks = append(first, m.front.blocks...)
	if g := f.Style.Ground; g != nil {
		m.front.areas = append([]Area{{geom.XYWH(0, 0, f.w, f.h), *g}}, m.front.areas...)
		if m.sides == 2 {
			m.back.areas = append([]Area{{geom.XYWH(0, 0, f.w, f.h), *g}}, m.back.areas...)
		}
	}
	return nil
}
