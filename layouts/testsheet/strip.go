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
	"floatmark/loading/unit"
)

// Measures of the strips, mm. They are ours, chosen by eye.
const (
	stripLap  = 6.0 // of a strip's ends, for tape
	stripGap  = 2.5
	stripEdge = 0.8 // white beyond the code's pale edge
	capStrip  = 1.3
)

// mostText is the characters that a code of 21 squares holds at level M, in
// capitals and figures (ISO/IEC 18004).
const mostText = 20

// stripText is what the code of a strip says: "7 DOTS 10MM FRONT -1".
func stripText(dowel unit.Millimetre, z Size, take int) string {
	end := " " + unit.Number(float64(dowel), 1, unit.Style{}) + "MM"
	if z.Front {
		end += " FRONT"
	}
	if take > 0 {
		end += " -" + whole(take)
	}
	if t := whole(z.Dots) + " DOTS" + end; len(t) <= mostText {
		return t
	}
	return whole(z.Dots) + "D" + end // a printer of fine dots
}

// strip draws one strip, its top left corner at the origin; take dots come off
// the code's dark runs.
func (s Spec) strip(dowel unit.Millimetre, z Size, take int) (*draw.Sheet, error) {
	text := stripText(dowel, z, take)
	m, err := symbol.AtLevel(text, symbol.M)
	if err != nil {
		return nil, err
	}
	dot := s.Printer.Dot()
	high := float64(m.N) * z.Module
	wide, path := high, decal.Modules(m, z.Module)
	if z.Front {
		columns := z.columns(dowel, dot)
		wide, path = columns[m.N]-columns[0], decal.Widened(m, z.Module, columns)
	}
	const edge = 2 * legible.FullQuiet
	patch := wide + edge*z.Module
	one := &draw.Sheet{Name: "strip " + text, Size: geom.Size{W: math.Pi*float64(dowel) + stripLap, H: high + edge*z.Module + 2*stripEdge}}
	corner := geom.Point{X: s.Printer.Snap((one.Size.W - wide) / 2), Y: s.Printer.Snap((one.Size.H - high) / 2)}
	one.Add(draw.Colour, &draw.Group{Name: "code", Rigid: true, At: geom.Translate(corner.X, corner.Y),
		Ops: []draw.Op{&draw.Fill{Path: stock.Reduce(path, take, dot), Ink: draw.Black}}})
	one.Add(draw.Cut, &draw.Stroke{Path: geom.Rectangle(geom.XYWH(0, 0, one.Size.W, one.Size.H)), Ink: cutInk, Width: cutWidth, Dash: []float64{1, 0.8}})

	w := s.Words.Tests
	kind := []string{w.StripPlain}
	if z.Front {
		kind[0] = w.StripFront
	}
	if take > 0 {
		kind = append(kind, fmt.Sprintf(w.StripOff, whole(take)))
	}
	beside := (one.Size.W - patch) / 2
	step := capStrip * leading
	for _, side := range [...]struct {
		x     float64
		names []string
	}{
		{beside / 2, []string{whole(z.Dots) + " " + w.Dots.Of(z.Dots), fmt.Sprintf(w.StripOn, s.Words.Millimetre(dowel, 1))}},
		{one.Size.W - beside/2, kind},
	} {
		y := one.Size.H/2 - step*float64(len(side.names)-1)/2
		for _, n := range side.names {
			l, err := typeset.Fit(n, typeset.Regular(s.Fonts, capStrip), beside-stripEdge, capStrip/2)
			if err != nil {
				return nil, err
			}
			one.Add(draw.Guide, l.Straight(geom.Translate(side.x, y+l.Cap/2), typeset.Centre, draw.Black)...)
			y += step
		}
	}
	return one, nil
}
