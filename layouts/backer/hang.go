package backer

import (
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Hang is what a card hangs by.
type Hang int

// The ways a card hangs.
const (
	RoundHole Hang = iota // an office punch's
	EuroSlot              // the slot of a shop's double hook
	NoHang                // tube inserts, and cards that lie
)

// HangNames are the words batch files have for them, in order.
func HangNames() []string { return []string{"hole", "slot", "none"} }

// Measures of the slot, mm.
const (
	// SlotWide, SlotHigh and SlotOver are its width, the height of its straight
	// part and the height over its middle bump: 32 by 6.5 by 9 mm, as an
	// encyclopedia's article on the slot gives them by EN 13010 (2003). The
	// standard itself was not read: check it before a card is called to standard.
	SlotWide, SlotHigh, SlotOver = 32.0, 6.5, 9.0
	// SlotEdge is the least card above it: 1/4 in, a card-packaging firm's tips.
	SlotEdge = 6.35
	// holeEdge is the least card round a hole of 6 mm in 300 g/m²: a hang-tag
	// maker's table, rated 12 to 15 N.
	holeEdge = 3.0
)

// Mass is a thing on a card with its centre of gravity: g and mm.
type Mass struct {
	Gram float64
	At   geom.Point
}

// CentreOfGravity returns the centre of gravity of things hung together; the
// first one's where they weigh nothing.
func CentreOfGravity(all ...Mass) geom.Point {
	var sum geom.Point
	m := 0.0
	for _, one := range all {
		sum.X += float64(one.Gram * one.At.X)
		sum.Y += float64(one.Gram * one.At.Y)
		m += one.Gram
	}
	if !(m > 0) {
		if len(all) == 0 {
			return geom.Point{}
		}
		return all[0].At
	}
	return sum.Scale(1 / m)
}

// Tilt returns the angle in radians by which a card leans when it hangs from a
// point: atan of how far its centre of gravity is off the vertical over how deep
// it lies under the point. Derived; positive when the foot swings to the right
// of where it is printed, which is when the centre lies to the left.
func Tilt(hung, centre geom.Point) float64 {
	return math.Atan2(hung.X-centre.X, centre.Y-hung.Y)
}

// ToldTilt is the lean that is told: an eye sees a degree against the edge of a
// shelf. Own choice.
const ToldTilt = math.Pi / 180

// hangBox is what a hang hole cuts out round its place.
func (h Hang) box(at geom.Point) geom.Rect {
	switch h {
	case EuroSlot:
		return geom.Rect{Min: geom.Point{X: at.X - SlotWide/2, Y: at.Y - SlotHigh/2 - (SlotOver - SlotHigh)}, Max: geom.Point{X: at.X + SlotWide/2, Y: at.Y + SlotHigh/2}}
	case NoHang:
		return geom.Rect{}
	}
	return geom.XYWH(at.X-Hole/2, at.Y-Hole/2, Hole, Hole)
}

// depth is how deep its middle lies under the top edge: the hole's by an office
// punch, the slot's so that the card above it bears.
func (h Hang) depth() float64 {
	if h == EuroSlot {
		return SlotEdge + SlotOver - SlotHigh + SlotHigh/2
	}
	return HoleDepth
}

// margin is how far its middle must stay from a side edge.
func (h Hang) margin() float64 {
	if h == EuroSlot {
		return SlotWide/2 + Safe
	}
	return Hole/2 + math.Max(holeEdge, Safe)
}

// outline is the edge of what is cut out, grown by that much: the face of a fold
// has the smaller hole.
func (h Hang) outline(at geom.Point, grown float64) geom.Path {
	if h != EuroSlot {
		return geom.Circle(at, Hole/2+grown)
	}
	// A long hole with round ends; over its middle a bump whose circle is as high
	// as the whole. Its true curve was not found in print: derived.
	r, bump := SlotHigh/2+grown, SlotOver/2+grown
	half := SlotWide/2 - SlotHigh/2
	mid := geom.Point{X: at.X, Y: at.Y + SlotHigh/2 - SlotOver/2}
	// Where the bump's circle leaves the straight upper edge.
	up := (at.Y - r) - mid.Y
	x := math.Sqrt(math.Max(0, bump*bump-up*up))
	a := math.Atan2(up, -x)
	if a < 0 {
		a += 2 * math.Pi
	}
	b := math.Atan2(up, x)
	if b < 0 {
		b += 2 * math.Pi
	}
	if b < a {
		b += 2 * math.Pi
	}
	var p geom.Path
	p.Arc(geom.Point{X: at.X - half, Y: at.Y}, r, math.Pi/2, 3*math.Pi/2)
	p.Arc(mid, bump, a, b)
	p.Arc(geom.Point{X: at.X + half, Y: at.Y}, r, -math.Pi/2, math.Pi/2)
	p.Close()
	return p
}

// target draws where to punch: the edge and a cross in its middle, all of which
// goes with the waste.
func (h Hang) target(at geom.Point, grown float64) []draw.Op {
	const hair, arm = 0.1, 1.5 // line width, half length of the cross
	line := func(p geom.Path) draw.Op { return &draw.Stroke{Path: p, Ink: draw.Black, Width: hair} }
	return []draw.Op{line(h.outline(at, grown)),
		line(geom.LineBetween(geom.Point{X: at.X - arm, Y: at.Y}, geom.Point{X: at.X + arm, Y: at.Y})),
		line(geom.LineBetween(geom.Point{X: at.X, Y: at.Y - arm}, geom.Point{X: at.X, Y: at.Y + arm}))}
}
