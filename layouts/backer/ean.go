package backer

import (
	"fmt"
	"math"

	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// Measures of an EAN-13, as pages of GS1 offices and of bar code suppliers give
// them from the GS1 General Specifications, which were not read themselves. In mm
// at 100 %, or in modules X.
const (
	eanX     = 0.330 // a module at 100 %
	eanLeast = 0.264 // 80 %
	eanMost  = 0.660 // 200 %
	eanHigh  = 22.85 // bars, at 100 %
	eanAll   = 25.93 // bars and digits, at 100 %
	// The white that must be left of the first bar and right of the last, X; 113 X
	// in all are 37.29 mm at 100 %.
	eanLeft, eanRight = 11, 7
	// Guard bars reach 5 X below the others (from memory).
	eanGuard = 5
	// eanDigits is the height of the digits at 100 %: 2.75 mm in OCR-B, or other
	// digits that are as clear; they stand half a module under the bars (from
	// memory). Ours are lower so that the whole keeps its 25.93 mm.
	eanDigits = 2.45
)

// eanSize is an EAN-13 at a module of whole printer dots.
type eanSize struct {
	bars   symbol.Bars
	module float64
}

// factor is its size over the nominal one.
func (e eanSize) factor() float64 { return e.module / eanX }

// size is what it takes with its quiet zones and digits.
func (e eanSize) size() geom.Size {
	return geom.Size{W: (eanLeft + symbol.EANModules + eanRight) * e.module, H: eanAll * e.factor()}
}

// eanModules are the modules that a printer can print, from the one nearest to
// nominal down to 80 %, and then up.
func eanModules(dot float64) []float64 {
	var all []float64
	for n := math.Round(eanX / dot); n*dot >= eanLeast-1e-9 && n > 0; n-- {
		all = append(all, n*dot)
	}
	if n := math.Ceil(eanLeast / dot); len(all) == 0 && n*dot <= eanMost {
		all = append(all, n*dot)
	}
	return all
}

// ean is the maker's trade item number as bars, upright where the column has
// room, else on its side.
func ean(f *frame, c col) ([]item, error) {
	if f.Card.EAN == "" {
		return nil, nil
	}
	bars, err := symbol.EAN13(f.Card.EAN)
	if err != nil {
		return nil, err
	}
	dot := f.Printer.Dot()
	modules := eanModules(dot)
	if len(modules) == 0 {
		return nil, fault.New(fault.NoFit, "EAN-13", fmt.Sprintf("a printer of %.0f dots an inch has no dot between %s and %s", f.Printer.DPI, f.mm(eanLeast), f.mm(eanMost)), "use a finer printer")
	}
	for _, turned := range []bool{false, true} {
		for _, m := range modules {
			e := eanSize{bars, m}
			across := e.size().W
			if turned {
				across = e.size().H
			}
			if across+dot <= c.width() {
				it, err := f.eanItem(c, e, turned)
				return []item{it}, err
			}
		}
	}
	least := eanSize{bars, modules[len(modules)-1]}.size()
	return nil, fault.New(fault.NoFit, "EAN-13", fmt.Sprintf("it needs %s by %s at %.0f %% of its nominal size and has %s", f.mm(least.W), f.mm(least.H), 100*least.W/37.29, f.mm(c.width())),
		"use a wider card, or print it on both sides")
}

// eanItem draws the symbol in a rigid group, its first bar on a whole dot.
func (f *frame) eanItem(c col, e eanSize, turned bool) (item, error) {
	size, k := e.size(), e.factor()
	var bars geom.Path
	left := eanLeft * e.module
	for i := 0; i < symbol.EANModules; i++ {
		if !e.bars.Dark(i) {
			continue
		}
		n := 1
		for e.bars.Dark(i+n) && e.bars.Guard(i+n) == e.bars.Guard(i) {
			n++
		}
		high := eanHigh * k
		if e.bars.Guard(i) {
			high += eanGuard * e.module
		}
		bars = append(bars, geom.Rectangle(geom.XYWH(left+float64(float64(i)*e.module), 0, float64(n)*e.module, high))...)
		i += n - 1
	}
	ops := []draw.Op{&draw.Fill{Path: bars, Ink: draw.Black}}
	if f.paper != draw.White {
		ops = append([]draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, size.W, size.H)), Ink: draw.White}}, ops...)
	}
	// One digit before the bars, six under each half.
	font := typeset.Regular(f.Fonts, math.Max(floor(f.Fonts.Regular), eanDigits*k))
	const halfModules, first, second = 42, 3, 50
	for _, group := range []struct {
		text   string
		from   float64 // X from the first bar
		across float64
	}{{e.bars.Text[:1], -eanLeft, eanLeft - 2}, {e.bars.Text[1:7], first, halfModules}, {e.bars.Text[7:], second, halfModules}} {
		pitch := group.across / float64(len(group.text))
		for j, r := range group.text {
			l, err := typeset.Shape(string(r), font)
			if err != nil {
				return item{}, fault.At("EAN-13", err)
			}
			x := left + float64((group.from+float64(pitch*(float64(j)+0.5)))*e.module)
			ops = append(ops, l.Straight(geom.Translate(x, size.H-0.05), typeset.Centre, draw.Black)...)
		}
	}
	high, wide := size.H, size.W
	turn := geom.Identity
	if turned {
		high, wide = size.W, size.H
		turn = geom.Rotate(math.Pi / 2).Then(geom.Translate(size.H, 0))
	}
	dot := f.Printer.Dot()
	it := item{name: "EAN-13", up: high + dot, group: true, air: 2}
	it.draw = func(base float64) ([]draw.Op, []geom.Rect) {
		x, y := f.Printer.Snap(c.left+dot/2), f.Printer.Snap(base-high-dot/2)
		at := turn.Then(geom.Translate(x, y))
		return []draw.Op{&draw.Group{Name: "EAN-13 " + e.bars.Text, At: at, Rigid: true, Ops: ops}}, []geom.Rect{geom.XYWH(x, y, wide, high)}
	}
	return it, nil
}
