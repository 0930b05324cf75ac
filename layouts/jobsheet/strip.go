package jobsheet

import (
	"fmt"
	"math"
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/unit"
)

// Board is the maker's drying board: its numbers in order, each with the colour
// of its rating, and how far apart the floats hang, mm. The zero value makes no
// strip.
type Board struct {
	Numbers []int
	Bands   []draw.Ink // of each number
	Pitch   float64    // from one number to the next
}

// BoardGap is the air that the usual pitch leaves between two of the fattest
// bodies, mm: fingers and a drop of varnish pass. Estimate.
const BoardGap = 6.0

// leastPitch is what a number of three figures takes, mm.
const leastPitch = 9.0

// PitchFor returns the usual pitch of a board for bodies of up to that diameter,
// mm, to the whole millimetre above.
func PitchFor(fattest float64) float64 { return max(leastPitch, math.Ceil(fattest+BoardGap)) }

// Measures of the number strip, mm. Own choices.
const (
	stripHigh = 7.6 // of one strip
	stripCap  = 4.0
	stripBand = 1.3 // the rating's colour along its foot
	cutWide   = 0.2
)

// stripDash is a cut line's.
var stripDash = []float64{1.6, 1}

// strips makes the number strip: rows of numbers at life size, each on one pitch,
// so that the strips carry on when taped end to end. A pitch wider than the sheet
// gives one number to a row.
func (p *pages) strips() ([]*draw.Sheet, error) {
	if len(p.Board.Numbers) == 0 {
		return nil, nil
	}
	pitch := min(max(p.Board.Pitch, leastPitch), p.wide())
	per := max(1, int(p.wide()/pitch+fits))
	how := fmt.Sprintf(p.bench.StripHow, p.Words.Millimetre(unit.Millimetre(pitch), 0.1))
	var all []*draw.Sheet
	var b *draw.Sheet
	y := 0.0
	for from := 0; from < len(p.Board.Numbers); from += per {
		to := min(from+per, len(p.Board.Numbers))
		if b == nil || y+stripHigh > p.foot()-p.top() {
			b = &draw.Sheet{Name: p.bench.Strip}
			all = append(all, b)
			var err error
			if y, err = p.heading(b, p.bench.Strip, how, p.wide()); err != nil {
				return nil, err
			}
		}
		if err := p.strip(b, y, pitch, from, to); err != nil {
			return nil, err
		}
		y += stripHigh
		b.Size = geom.Size{W: min(p.wide(), b.Bounds(draw.Layers()...).Max.X+cutWide), H: y + cutWide}
	}
	return all, nil
}

// strip draws the numbers from the index from up to to, from y down.
func (p *pages) strip(b *draw.Sheet, y, pitch float64, from, to int) error {
	long := float64(to-from) * pitch
	cut := func(x0, y0, x1, y1 float64) {
		b.Add(draw.Cut, &draw.Stroke{Path: geom.LineBetween(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1}), Ink: grey, Width: cutWide, Dash: stripDash})
	}
	cut(0, y, long, y)
	cut(0, y+stripHigh, long, y+stripHigh)
	cut(0, y, 0, y+stripHigh)
	cut(long, y, long, y+stripHigh)
	for i := from; i < to; i++ {
		x := float64(float64(i-from) * pitch)
		l, err := typeset.Fit(strconv.Itoa(p.Board.Numbers[i]), typeset.Bold(p.Fonts, stripCap), pitch-2*pad, figureCap)
		if err != nil {
			return err
		}
		b.Add(draw.Colour, l.Straight(geom.Translate(x+pitch/2, y+(stripHigh-stripBand+l.Cap)/2), typeset.Centre, draw.Black)...)
		if i < len(p.Board.Bands) {
			const in = 0.6 // mm: bands of neighbours stay apart
			b.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(x+in, y+stripHigh-stripBand-0.3, pitch-2*in, stripBand)), Ink: p.Board.Bands[i]})
		}
		if i > from {
			b.Add(draw.Colour, &draw.Stroke{Path: geom.LineBetween(geom.Point{X: x, Y: y + stripHigh - 2.6}, geom.Point{X: x, Y: y + stripHigh}), Ink: draw.Black, Width: hair})
		}
	}
	return nil
}
