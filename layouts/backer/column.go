package backer

import (
	"fmt"
	"math"
	"strings"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Cap heights of the column at its most comfortable, mm, and other measures of
// its parts. Own choices: the order of size is rating, add, its shot, the rest.
const (
	accentHigh  = 3.6 // the bar in the rating's band colour
	makerCap    = 2.0
	patternCap  = 5.4
	kindCap     = 2.1
	ratingCap   = 23.0
	addCap      = 5.6
	builtInCap  = 3.4
	labelCap    = 2.5
	headingCap  = 1.9
	shotCap     = 3.0
	smallCap    = 1.85
	idCap       = 4.2
	priceCap    = 5.0
	heavy       = 0.7 // rule under the rating
	light       = 0.2 // rule under the figures
	most        = 8.0 // air between two groups, beyond which it goes to one place
	apart       = 2.0 // least air between two texts on one line
	steps       = 20  // sizes tried from comfortable to the floor
	unitShare   = 0.5 // of the numeral's height
	beforeShare = 0.3 // "about" before the numeral
)

// item is one step down the column.
type item struct {
	gap     float64 // air above
	stretch bool    // the air above may grow: a group starts here
	foot    bool    // what is left of the air goes above this one
	h       float64
	draw    func(top float64) []block
}

// of makes an item of one block.
func of(name string, gap float64, p piece) item {
	return item{gap: gap, h: p.h, draw: func(top float64) []block {
		ops := p.draw(top)
		return []block{{name: name, layer: draw.Colour, ops: ops, boxes: []geom.Rect{draw.Bounds(ops)}}}
	}}
}

func (i item) group() item { i.stretch = true; return i }

// column sets the words: as big as the card's height allows, never under the
// floor, with the air that is left between the groups.
func (f frame) column() ([]block, error) {
	room := f.foot - f.top
	high := 0.0
	for n := steps; n >= 0; n-- {
		items, err := f.items(float64(n) / steps)
		if err != nil {
			if n > 0 {
				continue
			}
			return nil, err
		}
		high = 0
		groups := 0
		for _, i := range items {
			high += i.gap + i.h
			if i.stretch {
				groups++
			}
		}
		if high <= room {
			return f.place(items, room-high, groups), nil
		}
	}
	mm := func(v float64) string { return f.Words.Millimetre(unit.Millimetre(v), 0.1) }
	return nil, fault.New(fault.NoFit, "", fmt.Sprintf("the words need %s of height in a column of %s and have %s",
		mm(high), mm(f.right-f.left), mm(room)), "use a bigger card, or shorten names, address or cautions")
}

func (f frame) place(items []item, air float64, groups int) []block {
	each := math.Min(most, air/math.Max(1, float64(groups)))
	rest := air - float64(each*float64(groups))
	var blocks []block
	y := f.top
	for _, i := range items {
		y += i.gap
		if i.stretch {
			y += each
		}
		if i.foot {
			y += rest
		}
		blocks = append(blocks, i.draw(y)...)
		y += i.h
	}
	return blocks
}

// items sets every part of the column; t runs from the floor's sizes (0) to the
// comfortable ones (1).
func (f frame) items(t float64) ([]item, error) {
	var all []item
	parts := []func(float64) ([]item, error){f.head, f.rating, f.figures, f.setups, f.shot, f.code, f.foots}
	for _, part := range parts {
		items, err := part(t)
		if err != nil {
			return nil, err
		}
		all = append(all, items...)
	}
	return all, nil
}

func (f frame) width() float64 { return f.right - f.left }

// bold and plain are the column's two voices at a size between floor and most.
func (f frame) bold(t, most float64) setting  { return set(typeset.Bold(f.Fonts, 1), t, most) }
func (f frame) plain(t, most float64) setting { return set(typeset.Regular(f.Fonts, 1), t, most) }

// bar is a full-width rectangle.
func (f frame) bar(h float64, c draw.Ink) piece {
	return piece{h, func(top float64) []draw.Op {
		return []draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(f.left, top, f.width(), h)), Ink: c}}
	}}
}

// head is the accent, the maker, the pattern and what kind of float it is.
func (f frame) head(t float64) ([]item, error) {
	c := f.Card
	maker, err := f.bold(t, makerCap).tracked(0.12).fit("maker's name", strings.ToUpper(c.Maker.Name), f.width())
	if err != nil {
		return nil, err
	}
	pattern, err := f.bold(t, patternCap).fit("pattern", c.Pattern.Name, f.width())
	if err != nil {
		return nil, err
	}
	about := c.Kind + dot + c.Length + dot + c.Diameter
	if c.Pattern.LineFixed != "" {
		about += dot + f.Words.LineAt + f.Words.Colon + f.Words.Name(c.Pattern.LineFixed)
	}
	kind, err := f.plain(t, kindCap).paragraph("kind", about+dot+f.Words.LifeSize, f.left, f.width(), typeset.Left)
	if err != nil {
		return nil, err
	}
	return []item{
		of("accent", 0.5, f.bar(2+float64(t*(accentHigh-2)), ink(c.Band))),
		of("maker", 1.2+2.2*t, single(maker, f.left, typeset.Left)),
		of("pattern", 0.8+1.2*t, single(pattern, f.left, typeset.Left)),
		of("kind", 0.6+0.6*t, kind),
	}, nil
}

// rating is the hero numeral and, under it, its rings and what they stand for.
func (f frame) rating(t float64) ([]item, error) {
	hero, err := f.hero(f.bold(t, ratingCap))
	if err != nil {
		return nil, err
	}
	items := []item{of("rating", 1.5+2.5*t, hero).group()}
	if n := f.Card.Tally; n.Thick+n.Thin > 0 {
		rings, err := f.rings(t)
		if err != nil {
			return nil, err
		}
		items = append(items, of("rings", 0.4+0.6*t, rings))
	}
	return append(items, of("rule under rating", 1+1.5*t, f.bar(heavy, draw.Black))), nil
}

// hero sets the rating's number big and its other words smaller, on one
// baseline, no wider than the column.
func (f frame) hero(s setting) (piece, error) {
	words := strings.Fields(f.Card.Rating)
	if len(words) == 0 {
		return piece{}, fault.New(fault.Ours, "rating", "the card has no rating", "")
	}
	shape := func(cap float64) (lines []typeset.Line, width float64, err error) {
		share := beforeShare
		for _, w := range words {
			font := s.Font
			font.Cap = math.Max(cap*share, s.least)
			if strings.ContainsAny(w, "0123456789") {
				font.Cap, share = cap, unitShare
			}
			l, err := typeset.Shape(w, font)
			if err != nil {
				return nil, 0, fault.At("rating", err)
			}
			lines = append(lines, l)
			width += l.Width + heroGap(cap)
		}
		return lines, width - heroGap(cap), nil
	}
	cap := s.Cap
	lines, width, err := shape(cap)
	for err == nil && width > f.width() && cap > s.least {
		cap = math.Max(s.least, cap*math.Min(0.98, f.width()/width))
		lines, width, err = shape(cap)
	}
	if err != nil {
		return piece{}, err
	}
	if width > f.width() {
		mm := func(v float64) string { return f.Words.Millimetre(unit.Millimetre(v), 0.1) }
		return piece{}, fault.New(fault.NoFit, "rating", fmt.Sprintf("%q needs %s and has %s", f.Card.Rating, mm(width), mm(f.width())), "use a wider card")
	}
	up, down := 0.0, 0.0
	for _, l := range lines {
		u, d := extent(l)
		up, down = math.Max(up, u), math.Max(down, d)
	}
	return piece{up + down, func(top float64) []draw.Op {
		var ops []draw.Op
		// The big numeral's own white at its left would set it off the edge.
		first := draw.Bounds(lines[0].Straight(geom.Identity, typeset.Left, draw.Black))
		x := f.left - first.Min.X
		for _, l := range lines {
			ops = append(ops, l.Straight(geom.Translate(x, top+up), typeset.Left, draw.Black)...)
			x += l.Width + heroGap(cap)
		}
		return ops
	}}, nil
}

func heroGap(cap float64) float64 { return 0.12 * cap }

// row is a label at the left edge and a figure at the right one; where both do
// not fit on one line the label shrinks, then stands above the figure.
func (f frame) row(field, name, value string, label, figure setting) (piece, error) {
	v, err := figure.fit(field, value, f.width())
	if err != nil {
		return piece{}, err
	}
	if l, err := label.fit(field, name, f.width()-v.Width-apart); err == nil {
		return pair(l, v, f.left, f.right), nil
	}
	above, err := label.paragraph(field, name, f.left, f.width(), typeset.Left)
	if err != nil {
		return piece{}, err
	}
	return stack(leading*label.Cap, above, single(v, f.right, typeset.Right)), nil
}

// figures is what is built in and what is to be added. An unloaded float adds
// its whole rating, which is printed once, as the rating.
func (f frame) figures(t float64) ([]item, error) {
	c, w := f.Card, f.Words
	var items []item
	if c.BuiltIn != "" {
		p, err := f.row("built in", w.BuiltIn, c.BuiltIn, f.plain(t, labelCap), f.bold(t, builtInCap))
		if err != nil {
			return nil, err
		}
		items = append(items, of("built in", 1+1.2*t, p))
	}
	if c.BuiltIn != "" || c.Add != c.Rating {
		name := w.Add
		if !strings.ContainsAny(c.Add, "0123456789") {
			name = "" // "nothing to add" says it all
		}
		p, err := f.row("add", name, c.Add, f.plain(t, labelCap), f.bold(t, addCap))
		if err != nil {
			return nil, err
		}
		items = append(items, of("add", 0.8+1.2*t, p), of("rule under figures", 0.8+t, f.bar(light, draw.Black)))
	}
	return items, nil
}

// setups is the table of an exchangeable float: every way to fit it, the one its
// body bears first.
func (f frame) setups(t float64) ([]item, error) {
	c, w := f.Card, f.Words
	if len(c.Setups) == 0 {
		return nil, nil
	}
	head, err := f.bold(t, headingCap).tracked(0.1).paragraph("heading of the set-ups", strings.ToUpper(w.Setups), f.left, f.width(), typeset.Left)
	if err != nil {
		return nil, err
	}
	items := []item{of("set-up heading", 1.2+1.2*t, head).group()}
	for i, s := range c.Setups {
		first, err := f.row("set-up "+s.Name, s.Name, s.Rating, f.plain(t, labelCap*0.88), f.bold(t, shotCap))
		if err != nil {
			return nil, err
		}
		parts := s.Add // "nothing to add" says it all
		if strings.ContainsAny(s.Add, "0123456789") {
			parts = w.Add + " " + s.Add
		}
		if s.BuiltIn != "" {
			parts = w.BuiltIn + " " + s.BuiltIn + dot + parts
		}
		small := f.plain(t, smallCap)
		second, err := small.paragraph("set-up "+s.Name, parts, f.right, f.width(), typeset.Right)
		if err != nil {
			return nil, err
		}
		items = append(items, of(fmt.Sprintf("set-up %d", i+1), 0.7+1.1*t, stack(0.3*small.Cap, first, second)))
	}
	return items, nil
}

// shot is the add in each convention, in that convention's own metal.
func (f frame) shot(t float64) ([]item, error) {
	c, w := f.Card, f.Words
	if len(c.Rows) == 0 {
		p, err := f.plain(t, smallCap).paragraph("water", c.Water, f.left, f.width(), typeset.Left)
		return []item{of("water", 1+t, p)}, err
	}
	head, err := f.bold(t, headingCap).tracked(0.1).paragraph("heading of the shot", strings.ToUpper(w.ToAddAsShot), f.left, f.width(), typeset.Left)
	if err != nil {
		return nil, err
	}
	items := []item{of("shot heading", 1.2+1.2*t, head).group()}
	for i, r := range c.Rows {
		p, err := f.equivalent(t, r)
		if err != nil {
			return nil, err
		}
		items = append(items, of(fmt.Sprintf("shot %d", i+1), 0.7+1.1*t, p))
	}
	water, err := f.plain(t, smallCap).paragraph("water", c.Water+dot+w.EachInItsMetal, f.left, f.width(), typeset.Left)
	return append(items, of("water", 0.9+1.3*t, water)), err
}

// equivalent is one convention: its name and shot, and under them its grams,
// where the tip then stands and a note.
func (f frame) equivalent(t float64, r label.Row) (piece, error) {
	small := f.plain(t, smallCap)
	field := "shot of " + r.Convention
	first, err := f.row(field, r.Convention, r.Shot, f.plain(t, labelCap*0.88), f.bold(t, shotCap))
	if err != nil {
		return piece{}, err
	}
	note, under := r.Note, r.Gram
	if r.Shot == r.Gram {
		note, under = f.Words.NoShotPossible, ""
	}
	if r.Tip != "" && under != "" {
		under += dot + r.Tip
	}
	parts := []piece{first}
	switch {
	case note != "" && under != "":
		second, err := f.row(field, note, under, small, small)
		if err != nil {
			return piece{}, err
		}
		parts = append(parts, second)
	case note+under != "":
		second, err := small.paragraph(field, note+under, f.right, f.width(), typeset.Right)
		if err != nil {
			return piece{}, err
		}
		parts = append(parts, second)
	}
	return stack(0.3*small.Cap, parts...), nil
}
