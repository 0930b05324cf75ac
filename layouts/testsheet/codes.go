package testsheet

import (
	"fmt"
	"math"

	"floatmark/label/symbol"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Dowels returns the diameters that the strips of CodeSize are for, mm: those of
// bodies on which a code is at its limits.
func Dowels() []unit.Millimetre { return []unit.Millimetre{6, 8, 10, 12, 14, 16} }

// Measures of the strips, mm. They are ours, chosen by eye.
const (
	stripLap  = 6.0 // of a strip's ends, for tape
	stripGap  = 2.5
	stripEdge = 0.8 // white beyond the code's pale edge
	capStrip  = 1.3
)

// CodeSize lays out strips that go round the dowels of Dowels, with a code of 21
// squares in each of the sizes that legible.Ladder has for the printer, whose
// text is what the strip is. A printer whose gain is known gets each once more,
// made up for it. Errors are Input for stock without a sheet, an impossible
// printer and one too coarse for any code, NoFit for stock too small.
func CodeSize(s Spec) ([]*draw.Sheet, error) {
	if err := s.printed(); err != nil {
		return nil, err
	}
	rungs := legible.Ladder(s.Printer.DPI)
	if len(rungs) == 0 {
		return nil, fault.Inputf("give the printer's dots an inch, usually 600", "no code can be made of dots of %s dpi", unit.Number(s.Printer.DPI, 1, unit.Style{}))
	}
	sheet := &draw.Sheet{Name: "codes", Size: s.Stock.Size}
	room := geom.XYWH(0, 0, sheet.Size.W, sheet.Size.H).Inset(s.Stock.Margin)
	takes := []int{0}
	if take := s.Printer.Reduction(); take > 0 {
		takes = append(takes, take)
	}
	at, foot := room.Min, room.Min.Y
	for _, take := range takes {
		for _, d := range Dowels() {
			for _, r := range rungs {
				one, err := s.strip(d, r, take)
				if err != nil {
					return nil, err
				}
				if at.X+one.Size.W > room.Max.X && at.X > room.Min.X {
					at = geom.Point{X: room.Min.X, Y: foot + stripGap}
				}
				if at.X+one.Size.W > room.Max.X {
					return nil, s.noRoom(one.Size.W, one.Size.H, room)
				}
				// The code's squares stay on dots, wherever the strip lies.
				sheet.Place(one, geom.Translate(s.Printer.Snap(at.X), s.Printer.Snap(at.Y)))
				at.X += one.Size.W + stripGap
				foot = math.Max(foot, at.Y+one.Size.H)
			}
		}
	}
	rest := geom.Rect{Min: geom.Point{X: room.Min.X, Y: foot}, Max: room.Max}
	if _, err := s.text(sheet, rest, "Code sizes on "+s.Stock.Name, s.codeSteps(len(takes) > 1), s.codeCommand()); err != nil {
		return nil, err
	}
	out, err := stock.Calibrate(sheet, s.raw())
	if err != nil {
		return nil, err
	}
	return []*draw.Sheet{out}, nil
}

// strip draws one strip, its top left corner at the origin; take dots come off
// the code's dark runs.
func (s Spec) strip(dowel unit.Millimetre, r legible.Rung, take int) (*draw.Sheet, error) {
	says := fmt.Sprintf("%d DOTS %s MM", r.Dots, unit.Number(float64(dowel), 1, unit.Style{}))
	names := []string{whole(r.Dots) + " dots", "on " + s.Words.Millimetre(dowel, 1)}
	if take > 0 {
		says += fmt.Sprintf(" -%d", take)
		names = append(names, whole(take)+" off")
	}
	m, err := symbol.QR(says)
	if err != nil {
		return nil, err
	}
	patch := float64(m.N+2*legible.FullQuiet) * r.Module
	one := &draw.Sheet{Name: "strip " + says, Size: geom.Size{W: math.Pi*float64(dowel) + stripLap, H: patch + 2*stripEdge}}
	side := float64(m.N) * r.Module
	corner := geom.Point{X: s.Printer.Snap((one.Size.W - side) / 2), Y: s.Printer.Snap((one.Size.H - side) / 2)}
	one.Add(draw.Colour, &draw.Group{Name: "code", Rigid: true, At: geom.Translate(corner.X, corner.Y),
		Ops: []draw.Op{&draw.Fill{Path: stock.Reduce(decal.Modules(m, r.Module), take, s.Printer.Dot()), Ink: draw.Black}}})
	one.Add(draw.Cut, &draw.Stroke{Path: geom.Rectangle(geom.XYWH(0, 0, one.Size.W, one.Size.H)), Ink: cutInk, Width: cutWidth, Dash: []float64{1, 0.8}})
	beside := (one.Size.W - patch) / 2
	step := capStrip * leading
	y := one.Size.H/2 - step*float64(len(names)-1)/2
	for _, n := range names {
		l, err := typeset.Fit(n, typeset.Regular(s.Fonts, capStrip), beside-stripEdge, capStrip/2)
		if err != nil {
			return nil, err
		}
		one.Add(draw.Guide, l.Straight(geom.Translate(beside/2, y+l.Cap/2), typeset.Centre, draw.Black)...)
		y += step
	}
	return one, nil
}

func (s Spec) codeSteps(reduced bool) []string {
	steps := []string{
		"Print at actual size (100 %) on what codes are printed on, with the same settings.",
		"Cut the strips out. Wrap each round a dowel, a drill's shank or a float of the diameter it names, the ends behind, and hold them with tape.",
		"Read each with the phones your customers have, from a hand's length, held square to it. It reads if it says what the strip says within two seconds, three times in a row.",
	}
	if reduced {
		return append(steps,
			"Strips with dots off are made up for the ink, by profile "+whole(s.Profile)+" of "+s.Printer.Name+". They should read where the plain ones do, and on thinner dowels. If they read worse, read the gain test again:")
	}
	return append(steps, "Marks get the largest size that their body bears. If the largest does not read on dowels of 12 mm and more, ink closes the squares; find out how many dots it takes:")
}

// codeCommand is what to type when strips do not read.
func (s Spec) codeCommand() string {
	c := "floatmark testsheet gain --out gain.pdf"
	if s.calls() != unnamed {
		return c + " --printer " + s.calls()
	}
	if s.Printer.DPI != stock.Plain().DPI {
		c += " --dpi " + unit.Number(s.Printer.DPI, 0.01, unit.Style{})
	}
	return c
}
