package stock

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// CheckLength is the length of the check line that every sheet carries, mm:
// long enough to show one part in two hundred on a common rule.
const CheckLength = 100.0

// CheckTick is how far the check line's ends reach out to each side, mm.
const CheckTick = 1.5

const checkWidth = 0.15 // mm, of the bar and of its ends

// CheckLine returns a line that is 100 mm long from the outer edge of one end
// to the outer edge of the other, across from at to the right or down from it.
// It is filled, not stroked: what is measured is the ink.
func CheckLine(at geom.Point, down bool) []draw.Op { return Bar(at, CheckLength, down) }

// Bar is a check line of another length, mm.
func Bar(at geom.Point, long float64, down bool) []draw.Op {
	bar := func(x, y, w, h float64) draw.Op {
		if down {
			x, y, w, h = y, x, h, w
		}
		return &draw.Fill{Path: geom.Rectangle(geom.XYWH(at.X+x, at.Y+y, w, h)), Ink: draw.Black}
	}
	const half = checkWidth / 2
	return []draw.Op{
		bar(0, -half, long, checkWidth),
		bar(0, -CheckTick, checkWidth, 2*CheckTick),
		bar(long-checkWidth, -CheckTick, checkWidth, 2*CheckTick),
	}
}
