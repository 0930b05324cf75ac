package view

import (
	"math"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Camera is a pinhole that looks at the axis, at the middle of the stretch it
// shows, squarely unless it is tipped. Lengths at the axis are drawn true to one scale; what is
// nearer is a little larger.
type Camera struct {
	// Turn is the body angle that faces the camera, radians: 0 shows the centre
	// meridian of the pieces in the middle.
	Turn float64
	// Tip is how far the camera stands towards the tip's end of the float, radians
	// up to MostTip either way: the float then looks as if its tip were tipped
	// towards the eye. 0 looks squarely at the axis.
	Tip float64
	// From and To are the stretch of the axis that fills the picture, mm above
	// the base end. Both 0 show the whole body with some room about it.
	From, To      unit.Millimetre
	Width, Height int // pixels
	// Distance from the pinhole to the axis, mm; 0 is DefaultDistance.
	Distance unit.Millimetre
	// Upright sets the float with its tip up; else it lies with its tip to the
	// right.
	Upright bool
}

// DefaultDistance, mm, is about arm's length: near enough to parallel that the
// picture can be measured, a float of 10 mm being drawn 0.01 % wider than it is.
const DefaultDistance unit.Millimetre = 600

// MostTip is the farthest a camera is tipped, radians: beyond it a mark is too
// foreshortened to be read (chosen by eye).
const MostTip = math.Pi / 4

const (
	// room is left free of the body at either end, and beside it, as a share of
	// the picture, when the camera chooses what it shows.
	room = 0.04
	// maxPixels bounds a picture: 40 million are 160 MB. More is a slip of the
	// hand (estimate).
	maxPixels = 40e6
	// closest is the least Distance in radii of the body: nearer, the camera
	// sees less of it than a reader would (estimate).
	closest = 1.5
	// farthest, mm, keeps all digits of the rays; a kilometre is parallel enough.
	farthest unit.Millimetre = 1e6
	// leastStretch, mm: less is no view of a float (estimate).
	leastStretch unit.Millimetre = 0.01
)

// lens is a camera that has seen the body: what a point is projected with. Its
// picture axes are along (up the body, from the middle) and across (to the right
// with the tip up), in pixels.
type lens struct {
	k       float64 // pixels per mm at the axis
	mid     float64 // height of the pinhole, mm; unless it is tipped, what it looks at
	d       float64 // pinhole to axis, mm
	focus   float64 // pinhole to picture, pixels
	sin     float64 // of the tip
	cos     float64
	along   int // pixels along the axis
	across  int // and across it
	upright bool
}

func (c Camera) lens(p body.Profile) lens {
	l := c.level(p)
	l.focus = l.k * l.d
	return l.tipped(c.Tip)
}

// tipped moves the pinhole of a level lens on its circle about what it looks at.
func (l lens) tipped(tip float64) lens {
	l.sin, l.cos = math.Sincos(tip)
	l.mid, l.d = l.mid+float64(l.d*l.sin), float64(l.d*l.cos)
	return l
}

// line is what a line of the picture across the axis, up pixels up the body from
// its middle, sees: its rays climb by v for each mm of depth, and a pixel is
// 1/scale mm across for each.
func (l lens) line(up float64) (v, scale float64) {
	scale = float64(l.focus*l.cos) + float64(up*l.sin)
	return (float64(up*l.cos) - float64(l.focus*l.sin)) / scale, scale
}

// level is the lens that looks squarely at the axis.
func (c Camera) level(p body.Profile) lens {
	l := lens{along: c.Width, across: c.Height, d: float64(c.Distance), upright: c.Upright}
	if c.Upright {
		l.along, l.across = c.Height, c.Width
	}
	if l.d == 0 {
		l.d = float64(DefaultDistance)
	}
	if c.From != 0 || c.To != 0 {
		l.mid, l.k = float64(c.From+c.To)/2, float64(l.along)/float64(c.To-c.From)
		return l
	}
	l.mid = float64(p.Base()+p.Top()) / 2
	// What stands out towards the camera looks longer by so much, and the limb,
	// where rays touch the body, lies out by so much.
	r := float64(p.MaxDiameter()) / 2
	near, limb := l.d/(l.d-r), l.d/math.Sqrt((l.d-r)*(l.d+r))
	l.k = (1 - 2*room) * math.Min(float64(l.along)/(near*float64(p.Length())), float64(l.across)/(limb*2*r))
	return l
}

func (c Camera) check(p body.Profile) error {
	switch {
	case !(c.Width >= 1 && c.Height >= 1 && float64(c.Width)*float64(c.Height) <= maxPixels):
		return fault.Inputf("choose a few hundred pixels each way", "a picture of %d x %d pixels cannot be made", c.Width, c.Height)
	case math.IsNaN(c.Turn) || math.IsInf(c.Turn, 0):
		return fault.Inputf("give the turn as an angle", "the camera looks from no direction")
	case !(math.Abs(c.Tip) <= MostTip): // NaN fails
		return fault.Inputf("tip it by 45 degrees at most", "the camera is tipped too far")
	case (c.From != 0 || c.To != 0) && !(c.To-c.From >= leastStretch && c.To-c.From <= farthest): // NaN fails
		return fault.Inputf("give the lower height first, in mm above the base end", "the stretch the camera shows is no length of a float")
	}
	if least := unit.Millimetre(closest/math.Cos(c.Tip)) * p.MaxDiameter() / 2; c.Distance != 0 && !(c.Distance >= least && c.Distance <= farthest) {
		const step = 0.1
		return fault.Inputf("set it off "+least.Text(step, unit.Style{})+" at least", "the camera is not clear of the body, or out of sight of it")
	}
	return nil
}

// Project returns where the point of p's surface at body angle theta and height
// z is in the picture, in pixels from its top left corner; the middle of the
// first pixel is (0.5, 0.5). It is visible when it faces the camera, nothing of
// the body stands before it and it lies in the picture.
func (c Camera) Project(theta float64, z unit.Millimetre, p body.Profile) (x, y float64, visible bool) {
	l := c.lens(p)
	r := float64(p.Diameter(z)) / 2
	sin, cos := math.Sincos(theta - c.Turn)
	right, near, up := r*sin, r*cos, float64(z)-l.mid
	depth := float64((l.d-near)*l.cos) - float64(up*l.sin)
	m := l.focus / depth
	along, across := m*(float64((l.d-near)*l.sin)+float64(up*l.cos)), m*right
	x, y = float64(l.along)/2+along, float64(l.across)/2+across
	if l.upright {
		x, y = float64(l.across)/2+across, float64(l.along)/2-along
	}
	in := x >= 0 && y >= 0 && x <= float64(c.Width) && y <= float64(c.Height)
	return x, y, in && depth > 0 && z >= p.Base() && z <= p.Top() && l.sees(p, right, near, up, float64(p.Slope(z)))
}

// sees reports whether the surface at the point faces the camera and the way to
// it is free. The point has the surface's slope dr/dz.
func (l lens) sees(p body.Profile, right, near, up, slope float64) bool {
	r := math.Hypot(right, near)
	// The outward normal is (right, near, -r·slope); the camera is at near = d.
	if !math.IsInf(slope, 0) && near*(l.d-near)-right*right+float64(r*slope*up) <= 0 {
		return false
	}
	// Look along the ray where it may be inside the body. The last stretch is
	// left out: there it grazes the point's own surroundings.
	const looks, own = 400, 1e-3
	radius := float64(p.MaxDiameter()) / 2
	from := math.Max(0, (l.d-radius)/(l.d-near)) // share of the way from the pinhole
	for i := 0; i < looks; i++ {
		t := from + float64((1-own/l.d-from)*float64(i)/looks)
		z := unit.Millimetre(l.mid + float64(t*up))
		if z < p.Base() || z > p.Top() {
			continue
		}
		if math.Hypot(t*right, l.d-float64(t*(l.d-near))) < float64(p.Diameter(z))/2-own {
			return false
		}
	}
	return true
}
