package backer

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"floatmark/label/symbol"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Measures of the code and the rings, mm.
const (
	// leastModule is the smallest module of a code on a card, and bestModule
	// the one taken where there is room: card is flat and matt, so a phone at
	// arm's length reads both. Own choice, well above what a float's body gets.
	leastModule = 0.40
	bestModule  = 0.55
	// quietModules is the quiet zone that ISO/IEC 18004 asks of a QR code.
	quietModules = 4
	// besideCode is the narrowest column of words beside the code. Own choice.
	besideCode = 18.0
	// The rings as bars, and how far they may be shrunk to stay in one row.
	thickBar, thinBar, barGap = 2.1, 0.7, 0.9
	barHigh                   = 4.4
	leastBars                 = 0.45
)

// rings draws the rating's rings as bars, thick ones first, and says what they
// stand for: the count that can be read without colour.
func (f frame) rings(t float64) (piece, error) {
	text := f.Card.Rings
	bars := f.bars(barHigh * (0.6 + 0.4*t))
	if text == "" {
		return bars.piece, nil
	}
	small := f.plain(t, smallCap)
	if l, err := typeset.Shape(text, small.Font); err == nil && bars.rows == 1 && bars.w+2*apart+l.Width <= f.width() {
		up, down := extent(l)
		h := math.Max(bars.h, up+down)
		return piece{h, func(top float64) []draw.Op {
			ops := bars.draw(top + (h-bars.h)/2)
			return append(ops, l.Straight(geom.Translate(f.left+bars.w+2*apart, top+(h-up-down)/2+up), typeset.Left, draw.Black)...)
		}}, nil
	}
	says, err := small.paragraph("what the rings stand for", text, f.left, f.width(), typeset.Left)
	return stack(leading*small.Cap+0.4, bars.piece, says), err
}

type barRows struct {
	piece
	w    float64
	rows int
}

// bars sets the bars in one row, shrunk within reason, else in several.
func (f frame) bars(high float64) barRows {
	n := f.Card.Tally
	whole := float64(n.Thick)*(thickBar+barGap) + float64(float64(n.Thin)*(thinBar+barGap)) - barGap
	k := math.Max(leastBars, math.Min(1, f.width()/whole))
	type bar struct{ x, w, row float64 }
	var all []bar
	x, row, wide := 0.0, 0.0, 0.0
	for i := 0; i < n.Thick+n.Thin; i++ {
		w := thinBar * k
		if i < n.Thick {
			w = thickBar * k
		}
		if x+w > f.width()+1e-9 {
			x, row = 0, row+1
		}
		all = append(all, bar{x, w, row})
		wide = math.Max(wide, x+w)
		x += w + barGap*k
	}
	pitch := high + barGap
	return barRows{piece{row*pitch + high, func(top float64) []draw.Op {
		var ops []draw.Op
		for _, b := range all {
			ops = append(ops, &draw.Fill{Path: geom.Rectangle(geom.XYWH(f.left+b.x, top+float64(b.row*pitch), b.w, high)), Ink: draw.Black})
		}
		return ops
	}}, wide, int(row) + 1}
}

// code is the id with its batch at the left and the code at the right edge, or
// under it on a narrow card.
func (f frame) code(t float64) ([]item, error) {
	c, w := f.Card, f.Words
	var patch *qr
	if c.Code != "" {
		q, err := f.qr(t)
		if err != nil {
			return nil, err
		}
		patch = &q
	}
	scan := w.ScanForRecord
	if !strings.HasPrefix(strings.ToUpper(c.Code), "HTTP") {
		scan = w.ScanForFigures
	}
	words := func(width float64) (piece, error) {
		id, err := f.bold(t, idCap).tracked(0.06).fit("id", c.ID, width)
		if err != nil {
			return piece{}, err
		}
		small := f.plain(t, smallCap)
		parts := []piece{single(id, f.left, typeset.Left)}
		lines := []string{w.Batch + " " + c.Batch + dot + w.Float + " " + strconv.Itoa(c.Number)}
		if patch != nil {
			lines = append([]string{scan}, lines...)
		}
		for _, l := range lines {
			p, err := small.paragraph("id and batch", l, f.left, width, typeset.Left)
			if err != nil {
				return piece{}, err
			}
			parts = append(parts, p)
		}
		return stack(leading*small.Cap+0.3*t, parts...), nil
	}
	gap := 1.2 + t
	if patch == nil {
		p, err := words(f.width())
		i := of("id", gap, p).group()
		i.foot = true
		return []item{i}, err
	}
	if beside := f.width() - patch.side + patch.quiet() - apart; beside >= besideCode {
		if p, err := words(beside); err == nil {
			h := math.Max(p.h, patch.side+patch.printer)
			return []item{{gap: gap, stretch: true, foot: true, h: h, draw: func(top float64) []block {
				return append(of("id", 0, p).draw(top+(h-p.h)/2), patch.block(f.right-patch.side+patch.quiet(), top))
			}}}, nil
		}
	}
	p, err := words(f.width())
	if err != nil {
		return nil, err
	}
	first := of("id", gap, p).group()
	first.foot = true
	return []item{first, {gap: 0.6, h: patch.side + patch.printer, draw: func(top float64) []block {
		return []block{patch.block(f.left-patch.quiet(), top)}
	}}}, nil
}

// qr is a code with its module in whole printer dots.
type qr struct {
	matrix  symbol.Matrix
	module  float64
	side    float64 // with the quiet zone
	printer float64 // one dot: what snapping the origin may add
	snap    func(float64) float64
}

func (f frame) qr(t float64) (qr, error) {
	m, err := f.Codes.QR(f.Card.Code)
	if err != nil {
		return qr{}, fault.At("code", err)
	}
	dot := f.Printer.Dot()
	want := leastModule + float64(t*(bestModule-leastModule))
	dots := math.Max(math.Ceil(leastModule/dot-1e-9), math.Floor(want/dot+1e-9))
	q := qr{matrix: m, module: dots * dot, printer: dot, snap: f.Printer.Snap}
	q.side = float64(m.N+2*quietModules) * q.module
	if q.side-2*q.quiet()+2*dot > f.width() {
		mm := func(v float64) string { return f.Words.Millimetre(unit.Millimetre(v), 0.1) }
		return qr{}, fault.New(fault.NoFit, "code", fmt.Sprintf("a code of %d modules needs %s and has %s", m.N, mm(q.side-2*q.quiet()+2*dot), mm(f.width())),
			"use a wider card or a shorter host")
	}
	return q, nil
}

// quiet is the width of the quiet zone.
func (q qr) quiet() float64 { return quietModules * q.module }

// block puts the code, quiet zone first, at a place, moved to a whole dot. Its
// modules stand on the column's edge, as the figures do; the quiet zone may
// reach into the margin, which stays empty anyway.
func (q qr) block(x, y float64) block {
	x, y = q.snap(x-q.printer/2), q.snap(y+q.printer/2)
	path := decal.Modules(q.matrix, q.module).Transform(geom.Translate(q.quiet(), q.quiet()))
	return block{name: "code", layer: draw.Colour, clear: q.quiet(),
		boxes: []geom.Rect{geom.XYWH(x, y, q.side, q.side).Inset(q.quiet())},
		ops: []draw.Op{&draw.Group{Name: "code " + q.matrix.Text, At: geom.Translate(x, y), Rigid: true,
			Ops: []draw.Op{&draw.Fill{Path: path, Ink: draw.Black}}}}}
}

// foots is the price, the cautions and who answers for the float.
func (f frame) foots(t float64) ([]item, error) {
	c := f.Card
	var items []item
	if c.Price != "" {
		l, err := f.bold(t, priceCap).fit("price", c.Price, f.width())
		if err != nil {
			return nil, err
		}
		items = append(items, of("price", 1+t, single(l, f.left, typeset.Left)).group())
	}
	small := f.plain(t, smallCap)
	texts := func(name string, gap float64, lines []string) error {
		var parts []piece
		for _, l := range lines {
			if strings.TrimSpace(l) == "" {
				continue
			}
			p, err := small.paragraph(name, l, f.left, f.width(), typeset.Left)
			if err != nil {
				return err
			}
			parts = append(parts, p)
		}
		if len(parts) > 0 {
			items = append(items, of(name, gap, stack(leading*small.Cap, parts...)).group())
		}
		return nil
	}
	if err := texts("cautions", 1.2+t, c.Cautions); err != nil {
		return nil, err
	}
	address := append([]string{c.Maker.Name}, c.Maker.Address...)
	err := texts("address", 1.2+t, append(address, c.Maker.Contact))
	return items, err
}
