package proof

import (
	"math"

	"floatmark/layouts/view"
)

// Pose is one way of holding the phone.
type Pose struct {
	Yaw, Pitch, Roll float64 // degrees, as view.Phone has them
	Distance         float64 // mm from the pupil to the code
	Focus            float64 // share by which the autofocus is off
	// Window is the side on which a window is mirrored beside the code: -1 left,
	// 1 right, 0 none.
	Window int
	Seed   uint32 // of the noise
}

// pose is a Pose as a share of its grade's tilt.
type pose struct {
	yaw, pitch float64 // shares of the tilt
	roll       float64 // degrees
	distance   float64 // mm
	focus      float64
	window     int
}

// frozen is the list. It is never tuned: what it says must not change with what
// one would like to hear. Yaw, pitch, distance (90 to 115 mm) and roll are the
// Halton points 1 to 16 in bases 2, 3, 5 and 7; roll goes to 15 degrees either
// way, and to 180 in every third. The autofocus errs by 3 % this way and that.
var frozen = [...]pose{
	{0.0000, -0.3333, -10.71, 95.0, 0.03, 0},
	{-0.5000, 0.3333, -6.43, 100.0, -0.03, 0},
	{0.5000, -0.7778, -25.71, 105.0, 0.03, 1},
	{-0.7500, -0.1111, 2.14, 110.0, -0.03, 0},
	{0.2500, 0.5556, 6.43, 91.0, 0.03, 0},
	{-0.2500, -0.5556, 128.57, 96.0, -0.03, -1},
	{0.7500, 0.1111, -14.39, 101.0, 0.03, 0},
	{-0.8750, 0.7778, -10.10, 106.0, -0.03, 0},
	{0.1250, -0.9259, -69.80, 111.0, 0.03, 1},
	{-0.3750, -0.2593, -1.53, 92.0, -0.03, 0},
	{0.6250, 0.4074, 2.76, 97.0, 0.03, 0},
	{-0.6250, -0.7037, 84.49, 102.0, -0.03, -1},
	{0.3750, -0.0370, 11.33, 107.0, 0.03, 0},
	{-0.1250, 0.6296, -13.78, 112.0, -0.03, 0},
	{0.8750, -0.4815, -113.88, 93.0, 0.03, 1},
	{-0.9375, 0.1852, -5.20, 98.0, -0.03, 0},
}

// tilt of a grade, degrees; 0 for None.
func (g Grade) tilt() float64 {
	switch g {
	case Casual:
		return 20
	case Aim:
		return 10
	}
	return 0
}

// Poses returns the frozen list of a grade, 16 of them; None is held square to
// the code in all.
func Poses(g Grade) []Pose {
	out := make([]Pose, len(frozen))
	for i, p := range frozen {
		out[i] = Pose{Yaw: p.yaw * g.tilt(), Pitch: p.pitch * g.tilt(), Roll: p.roll, Distance: p.distance,
			Focus: p.focus, Window: p.window, Seed: uint32(i+1) + uint32(g.tilt())*seedStep}
	}
	return out
}

// seedStep keeps the seeds of the grades apart.
const seedStep = 1000

// focal is the focal length, in picture points, of a usual main camera: 67
// degrees across in a picture 1920 points wide (from memory, no maker's figure).
const focal = 1440

func (p Pose) phone() view.Phone {
	const degree = math.Pi / 180
	return view.Phone{Yaw: p.Yaw * degree, Pitch: p.Pitch * degree, Roll: p.Roll * degree, Distance: p.Distance, Focal: focal}
}
