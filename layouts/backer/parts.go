package backer

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/emblem"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// part is one thing a card says, set in a column.
type part func(f *frame, c col) ([]item, error)

// Other measures of the parts. Own choices.
const (
	heavy       = 0.7 // mm, rule under the rating
	light       = 0.2 // mm, rule under the figures
	unitShare   = 0.5 // of the numeral's height
	beforeShare = 0.3 // "about" before the numeral
	emblemHigh  = 3.2 // lines, the maker's own mark
)

// bold and plain are the column's two voices at a size in lines.
func (f *frame) bold(caps float64) setting {
	return f.voice(typeset.Bold(f.Fonts, caps*f.scale.line))
}

func (f *frame) plain(caps float64) setting {
	return f.voice(typeset.Regular(f.Fonts, caps*f.scale.line))
}

func (f *frame) voice(font typeset.Font) setting {
	least := floor(font.Face)
	font.Cap = math.Max(least, font.Cap)
	return setting{font, least, f.ink}
}

// heading is a line of small capitals over a group.
func (f *frame) heading(c col, name, text string) ([]item, error) {
	return c.paragraph(name, strings.ToUpper(text), f.bold(capSmall).tracked(0.1), typeset.Left)
}

func accentBar(f *frame, c col) ([]item, error) {
	return []item{c.bar("accent", f.scale.between(2, 3.6), f.accent)}, nil
}

// brand is the maker's own mark and name.
func brand(f *frame, c col) ([]item, error) {
	var items []item
	if len(f.Emblem) > 0 {
		high := emblemHigh * f.scale.line
		box := geom.XYWH(c.left, 0, math.Min(c.width(), 4*high), high)
		p := emblem.Fit(f.Emblem, box)
		b := p.Bounds()
		p = p.Transform(geom.Translate(c.left-b.Min.X, -b.Max.Y))
		ink := f.ink
		items = append(items, item{name: "emblem", up: b.H(), air: 1, draw: func(base float64) ([]draw.Op, []geom.Rect) {
			moved := p.Transform(geom.Translate(0, base))
			return []draw.Op{&draw.Fill{Path: moved, Ink: ink}}, []geom.Rect{moved.Bounds()}
		}})
	}
	name, err := c.paragraph("maker's name", strings.ToUpper(f.Card.Maker.Name), f.bold(capMaker).tracked(0.12), typeset.Left)
	if len(name) > 0 {
		name[0].air = 0.6
	}
	return append(items, name...), err
}

func pattern(f *frame, c col) ([]item, error) {
	s := f.bold(capPattern)
	// A long name is set smaller before it is broken; three lines of it are a text.
	for cap := s.Cap; cap >= 0.55*s.Cap; cap -= 0.09 * s.Cap {
		t := s
		t.Cap = cap
		items, err := c.paragraph("pattern", f.Card.Pattern.Name, t, typeset.Left)
		if err == nil && len(items) <= 2 {
			items[0].air = 0.4
			return items, nil
		}
	}
	return c.paragraph("pattern", f.Card.Pattern.Name, f.bold(0.55*capPattern), typeset.Left)
}

// about is what kind of float it is, how big, and how the line is fixed.
func about(f *frame, c col) ([]item, error) {
	card := f.Card
	text := joined(card.Kind, card.Length, card.Diameter)
	if card.Pattern.LineFixed != "" {
		text = joined(text, f.Words.LineAt+f.Words.Colon+f.Words.Name(card.Pattern.LineFixed))
	}
	if f.drawn && !f.Style.NoPicture {
		text = joined(text, f.Words.LifeSize)
	}
	return c.paragraph("kind", text, f.plain(capLabel-0.04), typeset.Left)
}

// joined puts phrases together with dots; empty ones are left out.
func joined(phrases ...string) string {
	var all []string
	for _, p := range phrases {
		if p != "" {
			all = append(all, p)
		}
	}
	return strings.Join(all, dot)
}

// rating is the hero numeral and, under it, its rings and what they stand for.
func rating(f *frame, c col) ([]item, error) {
	hero, err := f.hero(c, f.scale.between(capHeroLow, capHero))
	if err != nil {
		return nil, err
	}
	items := opened([]item{hero}, 2)
	if n := f.Card.Tally; n.Thick+n.Thin > 0 {
		rings, err := f.rings(c)
		if err != nil {
			return nil, err
		}
		items = append(items, rings...)
	}
	rule := c.bar("rule under rating", heavy, f.ink)
	rule.air = 1
	return append(items, rule), nil
}

// hero sets the rating's number big and its other words smaller, on one
// baseline, no wider than the column.
func (f *frame) hero(c col, caps float64) (item, error) {
	s := f.bold(caps)
	words := strings.Fields(f.Card.Rating)
	if len(words) == 0 {
		return item{}, fault.New(fault.Ours, "rating", "the card has no rating", "")
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
	for err == nil && width > c.width() && cap > s.least {
		cap = math.Max(s.least, cap*math.Min(0.98, c.width()/width))
		lines, width, err = shape(cap)
	}
	if err != nil {
		return item{}, err
	}
	if width > c.width() {
		return item{}, fault.New(fault.NoFit, "rating", fmt.Sprintf("%q needs %s and has %s", f.Card.Rating, f.mm(width), f.mm(c.width())), "use a wider card")
	}
	it := item{name: "rating"}
	for _, l := range lines {
		b := draw.Bounds(l.Straight(geom.Identity, typeset.Left, draw.Black))
		it.up, it.down = math.Max(it.up, -b.Min.Y), math.Max(it.down, b.Max.Y)
	}
	// The big numeral's own white at its left would set it off the edge.
	first := draw.Bounds(lines[0].Straight(geom.Identity, typeset.Left, draw.Black))
	ink := f.ink
	it.draw = func(base float64) ([]draw.Op, []geom.Rect) {
		var ops []draw.Op
		x := c.left - first.Min.X
		for _, l := range lines {
			ops = append(ops, l.Straight(geom.Translate(x, base), typeset.Left, ink)...)
			x += l.Width + heroGap(cap)
		}
		return ops, []geom.Rect{draw.Bounds(ops)}
	}
	return it, nil
}

func heroGap(cap float64) float64 { return 0.12 * cap }

// figures is what is built in and what is to be added. An unloaded float adds
// its whole rating, which is printed once, as the rating.
func figures(f *frame, c col) ([]item, error) {
	if len(f.Set) > 0 {
		return f.tableOfSet(c)
	}
	card, w := f.Card, f.Words
	var items []item
	if card.BuiltIn != "" {
		p, err := c.pair("built in", w.BuiltIn, card.BuiltIn, f.plain(capLabel), f.bold(capBuiltIn))
		if err != nil {
			return nil, err
		}
		p[0].air = 1
		items = append(items, p...)
	}
	if card.BuiltIn != "" || card.Add != card.Rating {
		name := w.Add
		if !strings.ContainsAny(card.Add, "0123456789") {
			name = "" // "nothing to add" says it all
		}
		p, err := c.pair("add", name, card.Add, f.plain(capLabel), f.bold(capAdd))
		if err != nil {
			return nil, err
		}
		p[0].air = 1
		rule := c.bar("rule under figures", light, f.ink)
		rule.air = 1
		items = append(append(items, p...), rule)
	}
	return items, nil
}

// setups is the table of an exchangeable float: every way to fit it, the one its
// body bears first.
func setups(f *frame, c col) ([]item, error) {
	if len(f.Card.Setups) == 0 {
		return nil, nil
	}
	w := f.Words
	items, err := f.heading(c, "set-up heading", w.Setups)
	if err != nil {
		return nil, err
	}
	items = opened(items, 2)
	for i, s := range f.Card.Setups {
		name := fmt.Sprintf("set-up %d", i+1)
		first, err := c.pair(name, s.Name, s.Rating, f.plain(capLabel-0.06), f.bold(capShot))
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
		second, err := c.paragraph(name+", parts", parts, f.plain(capSmall), typeset.Right)
		if err != nil {
			return nil, err
		}
		first[0].air = 0.8
		items = append(append(items, first...), second...)
	}
	return items, nil
}

// shot is the add in each convention, in that convention's own metal, and the
// water it holds for.
func shot(f *frame, c col) ([]item, error) {
	card, w := f.Card, f.Words
	if len(card.Rows) == 0 {
		items, err := c.paragraph("water", card.Water, f.plain(capSmall), typeset.Left)
		return opened(items, 1), err
	}
	items, err := f.heading(c, "shot heading", w.ToAddAsShot)
	if err != nil {
		return nil, err
	}
	items = opened(items, 2)
	for i, r := range card.Rows {
		p, err := f.equivalent(c, fmt.Sprintf("shot %d", i+1), r)
		if err != nil {
			return nil, err
		}
		items = append(items, p...)
	}
	water, err := c.paragraph("water", card.Water+dot+w.EachInItsMetal, f.plain(capSmall), typeset.Left)
	if len(water) > 0 {
		water[0].air = 0.8
	}
	return append(items, water...), err
}

// equivalent is one convention: its name and shot, and under them its grams,
// where the tip then stands and a note.
func (f *frame) equivalent(c col, name string, r label.Row) ([]item, error) {
	small := f.plain(capSmall)
	items, err := c.pair(name, r.Convention, r.Shot, f.plain(capLabel-0.06), f.bold(capShot))
	if err != nil {
		return nil, fault.At("shot of "+r.Convention, err)
	}
	items[0].air = 0.8
	note, under := r.Note, r.Gram
	if r.Shot == r.Gram {
		note, under = f.Words.NoShotPossible, ""
	}
	if r.Tip != "" && under != "" {
		under += dot + r.Tip
	}
	switch {
	case note != "" && under != "":
		second, err := c.pair(name+", note", note, under, small, small)
		if err != nil {
			return nil, fault.At("shot of "+r.Convention, err)
		}
		items = append(items, second...)
	case note+under != "":
		second, err := c.paragraph(name+", grams", note+under, small, typeset.Right)
		if err != nil {
			return nil, fault.At("shot of "+r.Convention, err)
		}
		items = append(items, second...)
	}
	return items, nil
}

// price is the price, the last thing on a front.
func price(f *frame, c col) ([]item, error) {
	if f.Card.Price == "" {
		return nil, nil
	}
	l, err := f.bold(capPrice).fit("price", f.Card.Price, c.width())
	if err != nil {
		return nil, err
	}
	return opened([]item{c.memory.row("price", put{l, c.left, typeset.Left, f.ink})}, 2), nil
}

// cautions are the metal of the built-in weight and what keeps people safe.
func cautions(f *frame, c col) ([]item, error) { return f.texts(c, "cautions", f.Card.Cautions) }

// address says who answers for the float, by post and by wire.
func address(f *frame, c col) ([]item, error) {
	m := f.Card.Maker
	all := append(append([]string{m.Name}, m.Address...), m.Contact)
	return f.texts(c, "address", all)
}

// second says the float in the second language: its name for itself, then all
// that is said in words elsewhere.
func second(f *frame, c col) ([]item, error) {
	if f.Also == nil {
		return nil, nil
	}
	a, w := f.Also, f.Second
	if len(f.Set) > 0 { // the figures of a set are said once, in numbers
		items, err := f.texts(c, "second language", append([]string{joined(a.Rating, a.Water)}, a.Cautions...))
		return items, err
	}
	text := joined(a.Kind, a.Length, a.Diameter, w.Rating+" "+a.Rating)
	if a.BuiltIn != "" {
		text += dot + w.BuiltIn + " " + a.BuiltIn
	}
	if a.BuiltIn != "" || a.Add != a.Rating {
		add := a.Add
		if strings.ContainsAny(add, "0123456789") {
			add = w.Add + " " + add
		}
		text += dot + add
	}
	text += dot + a.Water
	items, err := f.texts(c, "second language", append([]string{text}, a.Cautions...))
	if err != nil || a.Language == "" {
		return items, err
	}
	head, err := f.heading(c, "second language heading", a.Language)
	if err != nil {
		return nil, err
	}
	items[0].group, items[0].air = false, 0.4
	return append(opened(head, 2), items...), nil
}

// texts is a group of lines of small print.
func (f *frame) texts(c col, name string, lines []string) ([]item, error) {
	var items []item
	for _, l := range lines {
		if strings.TrimSpace(l) == "" {
			continue
		}
		n := name
		if len(items) > 0 {
			n += ", " + strconv.Itoa(len(items)+1)
		}
		p, err := c.paragraph(n, l, f.plain(capSmall), typeset.Left)
		if err != nil {
			return nil, err
		}
		items = append(items, p...)
	}
	return opened(items, 2), nil
}

// reference is what a back begins with, so that a card taken apart still tells
// which it is.
func reference(f *frame, c col) ([]item, error) {
	text := f.Card.Pattern.Name + dot + f.Card.Rating
	items, err := c.paragraph("reference", text, f.bold(capLabel), typeset.Left)
	if err != nil {
		return nil, err
	}
	bar := c.bar("accent", 1.2, f.accent)
	items[0].air = 0.6
	return append([]item{bar}, items...), nil
}
