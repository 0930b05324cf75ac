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
	leastBars                 = 0.45
)

// rings draws the rating's rings as bars, thick ones first, and says what they
// stand for: the count that can be read without colour.
func (f *frame) rings(c col) ([]item, error) {
	high := f.scale.half() * 2
	n := f.Card.Tally
	whole := float64(n.Thick)*(thickBar+barGap) + float64(float64(n.Thin)*(thinBar+barGap)) - barGap
	k := math.Max(leastBars, math.Min(1, c.width()/whole))
	var rows [][]geom.Rect
	x, wide := 0.0, 0.0
	for i := 0; i < n.Thick+n.Thin; i++ {
		w := thinBar * k
		if i < n.Thick {
			w = thickBar * k
		}
		if len(rows) == 0 || x+w > c.width()+1e-9 {
			rows, x = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], geom.XYWH(c.left+x, -high, w, high))
		wide = math.Max(wide, x+w)
		x += w + barGap*k
	}
	small := f.plain(capSmall)
	ink := f.ink
	var items []item
	for i, bars := range rows {
		it := item{name: fmt.Sprintf("rings, row %d", i+1), up: high, air: 0.6}
		it.draw = func(base float64) ([]draw.Op, []geom.Rect) {
			var ops []draw.Op
			for _, b := range bars {
				ops = append(ops, &draw.Fill{Path: geom.Rectangle(b.Move(geom.Point{Y: base})), Ink: ink})
			}
			return ops, []geom.Rect{draw.Bounds(ops)}
		}
		items = append(items, it)
	}
	items[0].air = 1
	if f.Card.Rings == "" {
		return items, nil
	}
	if l, err := typeset.Shape(f.Card.Rings, small.Font); err == nil && len(rows) == 1 && wide+apart+l.Width <= c.width() {
		bars, words := items[0], c.memory.row("rings, words", put{l, c.left + wide + apart, typeset.Left, ink})
		bars.down = words.down
		bars.draw = func(base float64) ([]draw.Op, []geom.Rect) {
			ops, boxes := items[0].draw(base)
			more, box := words.draw(base - (high-small.Cap)/2)
			return append(ops, more...), append(boxes, box...)
		}
		return []item{bars}, nil
	}
	says, err := c.paragraph("what the rings stand for", f.Card.Rings, small, typeset.Left)
	if len(says) > 0 {
		says[0].air = 0.5
	}
	return append(items, says...), err
}

// code is the id with its batch at the left and the code at the right edge, or
// under it in a narrow column.
func code(f *frame, c col) ([]item, error) {
	if len(f.Set) > 0 {
		return f.codesOfSet(c)
	}
	card, w := f.Card, f.Words
	var patch *qr
	if card.Code != "" {
		q, err := f.qr(c)
		if err != nil {
			return nil, err
		}
		patch = &q
	}
	scan := w.ScanForRecord
	if !strings.HasPrefix(strings.ToUpper(card.Code), "HTTP") {
		scan = w.ScanForFigures
	}
	words := func(c col) ([]item, error) {
		id, err := f.bold(capID).tracked(0.06).fit("id", card.ID, c.width())
		if err != nil {
			return nil, err
		}
		items := opened([]item{c.memory.row("id", put{id, c.left, typeset.Left, f.ink})}, 2)
		lines := []string{w.Batch + " " + card.Batch + dot + w.Float + " " + strconv.Itoa(card.Number)}
		if patch != nil {
			lines = append([]string{scan}, lines...)
		}
		for i, l := range lines {
			p, err := c.paragraph([]string{"id and batch", "batch"}[i], l, f.plain(capSmall), typeset.Left)
			if err != nil {
				return nil, err
			}
			items = append(items, p...)
		}
		return items, nil
	}
	if patch == nil {
		return words(c)
	}
	beside := col{c.left, c.right - patch.side + patch.quiet() - apart, c.memory}
	if beside.width() >= besideCode {
		if items, err := words(beside); err == nil {
			// The words hang from the code's upper edge, on the grid.
			r := region{box: geom.Rect{Max: geom.Point{Y: math.Inf(1)}}, items: items}
			bases, end := r.set(f.scale, 0)
			high := f.scale.down(math.Max(end, patch.side-2*patch.quiet()+patch.printer))
			it := item{name: "id and code", up: high, group: true, air: 2}
			it.draw = func(base float64) ([]draw.Op, []geom.Rect) {
				ops, boxes := patch.ops(c.right-patch.side+patch.quiet(), base-high-patch.quiet(), f.paper)
				for i, one := range items {
					more, box := one.draw(base - high + bases[i])
					ops, boxes = append(ops, more...), append(boxes, box...)
				}
				return ops, boxes
			}
			it.clear = 0
			return []item{it}, nil
		}
	}
	items, err := words(c)
	if err != nil {
		return nil, err
	}
	high := patch.side - 2*patch.quiet() + patch.printer
	// Its quiet zone keeps off what stands above and below.
	return append(items, item{name: "code", up: high + patch.quiet(), down: patch.quiet(), air: 0.4, draw: func(base float64) ([]draw.Op, []geom.Rect) {
		return patch.ops(c.left-patch.quiet(), base-high-patch.quiet(), f.paper)
	}}), nil
}

// qr is a code with its module in whole printer dots.
type qr struct {
	matrix  symbol.Matrix
	module  float64
	side    float64 // with the quiet zone
	printer float64 // one dot: what snapping the origin may add
	snap    func(float64) float64
}

func (f *frame) qr(c col) (qr, error) { return f.qrOf(f.matrix, c) }

func (f *frame) qrOf(m symbol.Matrix, c col) (qr, error) {
	dot := f.Printer.Dot()
	want := f.scale.between(leastModule, bestModule)
	dots := math.Max(math.Ceil(leastModule/dot-1e-9), math.Floor(want/dot+1e-9))
	q := qr{matrix: m, module: dots * dot, printer: dot, snap: f.Printer.Snap}
	q.side = float64(m.N+2*quietModules) * q.module
	if q.side-2*q.quiet()+2*dot > c.width() {
		return qr{}, fault.New(fault.NoFit, "code", fmt.Sprintf("a code of %d modules needs %s and has %s", m.N, f.mm(q.side-2*q.quiet()+2*dot), f.mm(c.width())),
			"use a wider card or a shorter host")
	}
	return q, nil
}

// quiet is the width of the quiet zone.
func (q qr) quiet() float64 { return quietModules * q.module }

// ops puts the code, quiet zone first, at a place, moved to a whole dot. Its
// modules stand on the column's edge, as the figures do; the quiet zone may
// reach into the margin, which stays empty anyway. On a tinted ground it brings
// its own white.
func (q qr) ops(x, y float64, paper draw.Ink) ([]draw.Op, []geom.Rect) {
	x, y = q.snap(x-q.printer/2), q.snap(y+q.printer/2)
	path := decal.Modules(q.matrix, q.module).Transform(geom.Translate(q.quiet(), q.quiet()))
	in := []draw.Op{&draw.Fill{Path: path, Ink: draw.Black}}
	if paper != draw.White {
		in = append([]draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, q.side, q.side)), Ink: draw.White}}, in...)
	}
	return []draw.Op{&draw.Group{Name: "code " + q.matrix.Text, At: geom.Translate(x, y), Rigid: true, Ops: in}},
		[]geom.Rect{geom.XYWH(x, y, q.side, q.side).Inset(q.quiet())}
}
