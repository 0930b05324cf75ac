package testsheet

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
)

// Measures of the gain test, mm. They are ours, chosen by eye; all are made
// whole dots.
const (
	slotLong  = 16.0 // a slot
	slotStep  = 9.0  // from slot to slot
	blackEdge = 4.0  // black beyond the slots
	blockGap  = 12.0
	capSlot   = 2.4
)

// block is a field of black with pale slots of 1 to stock.MostSlot dots, each
// wider by more dots, its top left corner at the origin. The slots run down; if
// turned, they run across.
func (s Spec) block(more int, turned bool) (geom.Path, geom.Size) {
	dot := s.Printer.Dot()
	snap := s.Printer.Snap
	size := geom.Size{W: snap(2*blackEdge + slotStep*(stock.MostSlot-1)), H: snap(2*blackEdge + slotLong)}
	p := geom.Rectangle(geom.XYWH(0, 0, size.W, size.H))
	for n := 1; n <= stock.MostSlot; n++ {
		x := snap(blackEdge + slotStep*float64(n-1))
		slot := geom.XYWH(x, snap(blackEdge), float64(n+more)*dot, snap(slotLong))
		p = append(p, geom.Rectangle(slot).Reverse()...)
	}
	if turned {
		p = p.Transform(geom.Affine{B: 1, C: 1}) // x and y change places
		size.W, size.H = size.H, size.W
	}
	return p, size
}

// Gain lays out pale slots of 1 to stock.MostSlot dots in black, down and across:
// the narrowest that the ink leaves open tells the gain. A printer whose gain is
// known gets a second pair, made up for it, in which every slot should be open.
// Errors are Input for stock without a sheet and an impossible printer, NoFit for
// one too small.
func Gain(s Spec) ([]*draw.Sheet, error) {
	if err := s.printed(); err != nil {
		return nil, err
	}
	sheet := &draw.Sheet{Name: "gain", Size: s.Stock.Size}
	room := geom.XYWH(0, 0, sheet.Size.W, sheet.Size.H).Inset(s.Stock.Margin + blackEdge)
	foot, err := s.slots(sheet, room.Min, 0)
	if err != nil {
		return nil, err
	}
	if take := s.Printer.Reduction(); take > 0 {
		const part = 8.0
		at := geom.Point{X: room.Min.X, Y: foot.Y + part}
		if err := s.label(sheet, fmt.Sprintf(s.Words.Tests.GainMadeUp, whole(s.Profile), s.Printer.Name, whole(take), s.Words.Tests.Dots.Of(take)),
			capText, geom.Point{X: at.X, Y: at.Y - capText}, typeset.Left); err != nil {
			return nil, err
		}
		at.Y += capText
		f, err := s.slots(sheet, at, take)
		if err != nil {
			return nil, err
		}
		foot = geom.Point{X: math.Max(foot.X, f.X), Y: f.Y}
	}
	rest := geom.Rect{Min: geom.Point{X: room.Min.X, Y: foot.Y}, Max: room.Max}
	if foot.X > room.Max.X {
		return nil, s.noRoom(foot.X-room.Min.X, foot.Y-room.Min.Y, room)
	}
	if _, err := s.text(sheet, rest, fmt.Sprintf(s.Words.Tests.Gain, s.Words.Name(s.Stock.Name)), s.gainSteps(), s.calibrate("gain=__", false)); err != nil {
		return nil, err
	}
	// The slots show the printer as it is: nothing is made up for here but what
	// slots made.
	out, err := stock.Calibrate(sheet, s.raw())
	if err != nil {
		return nil, err
	}
	return []*draw.Sheet{out}, nil
}

// slots sets a pair of blocks at at, numbered, and returns their lower right
// corner.
func (s Spec) slots(sheet *draw.Sheet, at geom.Point, more int) (geom.Point, error) {
	at.X += 2 * capSlot
	at.Y += 2 * capSlot
	foot := at
	for _, turned := range [...]bool{false, true} {
		path, size := s.block(more, turned)
		sheet.Add(draw.Colour, &draw.Group{Name: "slots", Rigid: true, At: geom.Translate(at.X, at.Y), Ops: []draw.Op{&draw.Fill{Path: path, Ink: draw.Black}}})
		for n := 1; n <= stock.MostSlot; n++ {
			along := blackEdge + slotStep*float64(n-1)
			q := geom.Point{X: at.X + along, Y: at.Y - capSlot}
			if turned {
				q = geom.Point{X: at.X - capSlot, Y: at.Y + along}
			}
			if err := s.label(sheet, whole(n), capSlot, q, typeset.Centre); err != nil {
				return at, err
			}
		}
		foot = geom.Point{X: at.X + size.W, Y: math.Max(foot.Y, at.Y+size.H)}
		at.X += size.W + blockGap
	}
	return foot, nil
}

func (s Spec) gainSteps() []string {
	w := s.Words.Tests
	return []string{w.GainPrint, w.GainLook, w.GainDiffer, w.GainThen + " " + s.naming()}
}
