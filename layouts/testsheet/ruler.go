package testsheet

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/unit"
)

// Measures of the ruler, mm. They are ours, chosen by eye, unless a source is
// named.
const (
	asideRuler = 30.0 // left beside the rectangle: 15 at each side, for its names and the margin's lines
	aboveRuler = 47.0 // and above and below it, together
	leastRuler = 50.0 // a shorter side tells the scale no better than to 0.6 %
	reach      = 4.0  // of the sides beyond the corners, so that the middle of the line is found
	tickMM     = 2.0
	tickFive   = 3.0
	tickTen    = 4.5
	capTick    = 1.5
	capSide    = 2.6
	marginMost = 10  // mm from the edge, of the last line that tells the margin
	marginLine = 5.0 // long
	marginStep = 6.0 // from one to the next
	marginText = 12.6
)

// RulerSize returns the size of the ruler's rectangle on a stock, mm: 180 x 250
// on A4. It is nothing where the stock is too small for one.
func RulerSize(s stock.Stock) geom.Size {
	z := geom.Size{W: grid * math.Floor((s.Size.W-asideRuler)/grid), H: grid * math.Floor((s.Size.H-aboveRuler)/grid)}
	if !(z.W >= leastRuler && z.H >= leastRuler) {
		return geom.Size{}
	}
	return z
}

// Ruler lays out a rectangle of RulerSize with ticks of a millimetre and both
// diagonals, from which stock.Printer's scales and shear are read, and lines
// near the edges of the sheet, from which its margin is. With s.Profile it is
// corrected by the printer's profile and has no such lines. Errors are Input for stock without a sheet
// and an impossible printer, NoFit for one too small.
func Ruler(s Spec) ([]*draw.Sheet, error) {
	if err := s.printed(); err != nil {
		return nil, err
	}
	sheet := &draw.Sheet{Name: "ruler", Size: s.Stock.Size}
	size := RulerSize(s.Stock)
	box := geom.XYWH((sheet.Size.W-size.W)/2, (sheet.Size.H-size.H)/2, size.W, size.H)
	if size == (geom.Size{}) {
		return nil, s.noRoom(asideRuler+leastRuler, aboveRuler+leastRuler, geom.XYWH(0, 0, sheet.Size.W, sheet.Size.H))
	}
	b := s.bars()
	if err := s.sides(sheet, b, box); err != nil {
		return nil, err
	}
	measured := "x=____,y=____,d1=____,d2=____"
	if s.Profile == 0 { // corrected lines would not stand where they say
		measured += ",margin=__"
		if err := s.margins(sheet, b); err != nil {
			return nil, err
		}
	}
	words, err := s.text(sheet, box.Inset(tickTen+2*capTick), s.title(s.Words.Tests.Ruler), s.rulerSteps(size), s.calibrate(measured, true))
	if err != nil {
		return nil, err
	}
	if err := s.diagonals(sheet, b, box, words); err != nil {
		return nil, err
	}
	sheet.Add(draw.Colour, b.fill())
	sheet, err = stock.Calibrate(sheet, s.printer())
	if err != nil {
		return nil, err
	}
	return []*draw.Sheet{sheet}, nil
}

func (s Spec) rulerSteps(size geom.Size) []string {
	mm := func(v float64) string { return s.Words.Millimetre(unit.Millimetre(v), 0.01) }
	w := s.Words.Tests
	steps := []string{w.RulerPrint, w.RulerMeasure}
	right := fmt.Sprintf(w.RulerTrue, mm(size.W), mm(size.H), mm(math.Hypot(size.W, size.H)))
	if s.Profile > 0 {
		return append(steps, right+" "+fmt.Sprintf(w.RulerCorrected, mm(0.5)), s.naming())
	}
	return append(steps, right+" "+w.RulerOff, w.RulerMargin, s.naming())
}

// sides draws the rectangle with its ticks and the names of its sides.
func (s Spec) sides(sheet *draw.Sheet, b *bars, box geom.Rect) error {
	b.across(box.Min.Y, box.Min.X-reach, box.Max.X+reach)
	b.across(box.Max.Y, box.Min.X-reach, box.Max.X+reach)
	b.down(box.Min.X, box.Min.Y-reach, box.Max.Y+reach)
	b.down(box.Max.X, box.Min.Y-reach, box.Max.Y+reach)
	tick := func(i int) float64 {
		switch {
		case i%10 == 0:
			return tickTen
		case i%5 == 0:
			return tickFive
		}
		return tickMM
	}
	for i := 1; i < int(box.W()); i++ {
		b.down(box.Min.X+float64(i), box.Min.Y, box.Min.Y+tick(i))
		if i%10 == 0 {
			if err := s.label(sheet, whole(i), capTick, geom.Point{X: box.Min.X + float64(i), Y: box.Min.Y + tickTen + capTick}, typeset.Centre); err != nil {
				return err
			}
		}
	}
	for i := 1; i < int(box.H()); i++ {
		b.across(box.Min.Y+float64(i), box.Min.X, box.Min.X+tick(i))
		if i%10 == 0 && i > 10 && i < int(box.H())-10 { // the diagonals pass there
			if err := s.label(sheet, whole(i), capTick, geom.Point{X: box.Min.X + tickTen + 1, Y: box.Min.Y + float64(i)}, typeset.Left); err != nil {
				return err
			}
		}
	}
	const quarter = 0.25 // along the side, clear of the margin's numbers
	if err := s.label(sheet, "x", capSide, geom.Point{X: box.Min.X + quarter*box.W(), Y: box.Min.Y - capSide}, typeset.Centre); err != nil {
		return err
	}
	return s.label(sheet, "y", capSide, geom.Point{X: box.Min.X - capSide, Y: box.Min.Y + quarter*box.H()}, typeset.Centre)
}

// diagonals draws both diagonals but for where the words stand, and their names.
func (s Spec) diagonals(sheet *draw.Sheet, b *bars, box, words geom.Rect) error {
	falling := box.Max.Sub(box.Min)
	// The words stand in the middle, so a diagonal meets them and leaves them
	// alike from both ends.
	clear := math.Min(0.5, math.Max((words.Min.X-box.Min.X)/box.W(), (words.Min.Y-box.Min.Y)/box.H()))
	named := clear / 2
	for _, d := range [...]struct {
		name string
		from geom.Point
		way  geom.Point
	}{{"d1", box.Min, falling}, {"d2", geom.Point{X: box.Min.X, Y: box.Max.Y}, geom.Point{X: falling.X, Y: -falling.Y}}} {
		to := d.from.Add(d.way)
		b.slant(d.from, d.from.Add(d.way.Scale(clear)))
		b.slant(to.Sub(d.way.Scale(clear)), to)
		if err := s.label(sheet, d.name, capSide, d.from.Add(d.way.Scale(named)).Add(geom.Point{X: capSide}), typeset.Left); err != nil {
			return err
		}
	}
	return nil
}

// margins draws lines of 1 to 10 mm from each edge, in stairs about its middle,
// with their numbers where every printer prints.
func (s Spec) margins(sheet *draw.Sheet, b *bars) error {
	w, h := sheet.Size.W, sheet.Size.H
	for k := 1; k <= marginMost; k++ {
		d := float64(k)
		off := (d - (marginMost+1)/2.0) * marginStep
		x, y := w/2+off, h/2+off
		b.across(d, x-marginLine/2, x+marginLine/2)
		b.across(h-d, x-marginLine/2, x+marginLine/2)
		b.down(d, y-marginLine/2, y+marginLine/2)
		b.down(w-d, y-marginLine/2, y+marginLine/2)
		for _, at := range [...]geom.Point{{X: x, Y: marginText}, {X: x, Y: h - marginText}, {X: marginText, Y: y}, {X: w - marginText, Y: y}} {
			if err := s.label(sheet, whole(k), capTick, at, typeset.Centre); err != nil {
				return err
			}
		}
	}
	return nil
}
