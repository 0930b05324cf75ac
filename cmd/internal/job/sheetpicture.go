package job

import (
	"bytes"
	"context"
	"strings"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/png"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// The picture of a sheet: what is spent in grey, on the sheet's white.
const (
	sheetDPI   = 96.0 // A4 then is 794 × 1123 pixels, a screen's height
	airRound   = 12.0 // mm, for the words outside the sheet
	capPicture = 4.0  // mm
	edgeLine   = 0.4  // mm
	feedArrow  = 6.0  // mm, on the feed edge, pointing the way the sheet goes
)

var (
	spentInk = draw.Ink{R: 0xb4, G: 0xb9, B: 0xbe}
	edgeInk  = draw.Ink{R: 0x3c, G: 0x44, B: 0x4c}
)

// WriteSheetPicture writes a picture (PNG) of what is spent of a sheet to the
// file path, whole or not at all. Errors: NotFound for an unknown sheet or one
// of a stock that is not known any more; Machine.
func (w *Workshop) WriteSheetPicture(ctx context.Context, number int, path string) (Output, error) {
	d, err := w.Sheet(number)
	if err != nil {
		return Output{}, err
	}
	size, err := d.measures()
	if err != nil {
		return Output{}, err
	}
	sheet, err := d.picture(size)
	if err != nil {
		return Output{}, err
	}
	var buf bytes.Buffer
	if err := png.Write(&buf, sheet, sheetDPI); err != nil {
		return Output{}, err
	}
	return writeWhole(ctx, path, buf.Bytes())
}

// measures returns the sheet's size; NotFound where nobody knows it any more.
func (d SheetDetail) measures() (geom.Size, error) {
	if d.size == (geom.Size{}) {
		return geom.Size{}, fault.New(fault.NotFound, sheetName(d.Number), "its stock "+d.Stock+" is not known any more", "put the stock back among your own")
	}
	return d.size, nil
}

func (d SheetDetail) picture(size geom.Size) (*draw.Sheet, error) {
	out := &draw.Sheet{Name: sheetName(d.Number), Size: geom.Size{W: size.W + 2*airRound, H: size.H + 2*airRound}}
	at := geom.Translate(airRound, airRound)
	whole := geom.XYWH(airRound, airRound, size.W, size.H)
	for _, p := range paths(d.Taken) {
		out.Add(draw.Colour, &draw.Fill{Path: p.Transform(at), Ink: spentInk}, &draw.Stroke{Path: p.Transform(at), Ink: edgeInk, Width: edgeLine / 2})
	}
	out.Add(draw.Colour, &draw.Stroke{Path: geom.Rectangle(whole), Ink: edgeInk, Width: edgeLine},
		&draw.Fill{Path: arrow(whole, edgeOf(d.Feed)), Ink: edgeInk})
	set, err := fonts.Default()
	if err != nil {
		return nil, err
	}
	words := sheetName(d.Number) + ", " + d.Stock + ", " + d.State
	line, err := typeset.Fit(words, typeset.Regular(set, capPicture), size.W, 0)
	if err != nil {
		return nil, err
	}
	out.Add(draw.Colour, line.Straight(geom.Translate(airRound, airRound-2), typeset.Left, draw.Black)...)
	return out, nil
}

// arrow stands outside the edge that goes into the printer first and points the
// way the sheet goes.
func arrow(sheet geom.Rect, feed nest.Edge) geom.Path {
	mid := geom.Point{X: (sheet.Min.X + sheet.Max.X) / 2, Y: (sheet.Min.Y + sheet.Max.Y) / 2}
	tip, across := geom.Point{}, geom.Point{}
	switch feed {
	case nest.Right:
		tip, across = geom.Point{X: sheet.Max.X + airRound - 1, Y: mid.Y}, geom.Point{X: -1, Y: 1}
	case nest.Bottom:
		tip, across = geom.Point{X: mid.X, Y: sheet.Max.Y + airRound - 1}, geom.Point{X: 1, Y: -1}
	case nest.Left:
		tip, across = geom.Point{X: sheet.Min.X - airRound + 1, Y: mid.Y}, geom.Point{X: 1, Y: 1}
	default:
		// The words stand above the left half.
		tip, across = geom.Point{X: sheet.Max.X - airRound, Y: sheet.Min.Y - airRound + 1}, geom.Point{X: 1, Y: 1}
	}
	a, b := tip.Add(across.Scale(feedArrow)), tip
	if feed == nest.Left || feed == nest.Right {
		b = b.Add(geom.Point{X: across.X, Y: -across.Y}.Scale(feedArrow))
	} else {
		b = b.Add(geom.Point{X: -across.X, Y: across.Y}.Scale(feedArrow))
	}
	return geom.Polygon(tip, a, b)
}

// A character of a terminal is about twice as high as wide.
const cellWide, cellHigh = 5.0, 10.0 // mm

// Plot draws in characters what is spent of the sheet (#) and what is free (.),
// each of them 5 × 10 mm, by the middle of each. NotFound for a stock that is
// not known any more.
func (d SheetDetail) Plot() ([]string, error) {
	size, err := d.measures()
	if err != nil {
		return nil, err
	}
	var lines []string
	taken := paths(d.Taken)
	for y := cellHigh / 2; y < size.H; y += cellHigh {
		spans := spansAt(taken, y, size.W)
		var line strings.Builder
		for x := cellWide / 2; x < size.W; x += cellWide {
			c := byte('.')
			for _, span := range spans {
				if span[0] <= x && x <= span[1] {
					c = '#'
				}
			}
			line.WriteByte(c)
		}
		lines = append(lines, line.String())
	}
	return lines, nil
}
