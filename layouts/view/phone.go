package view

import (
	"math"

	"floatmark/loading/unit"
)

// Phone is a hand-held camera aimed at one place of a body. Yaw walks it round
// the body (to the right as seen from outside with the tip up), Pitch tips it
// along the axis (towards the tip), Roll turns it about its own line of sight
// (clockwise as it looks); all radians, 0 being square to the skin at that
// place. Distance is from its pupil to the place, mm. Focal is its focal length
// in picture points.
type Phone struct {
	Yaw, Pitch, Roll float64
	Distance         float64
	Focal            float64
}

// Sight is a Phone looking at a Skin. Its picture has the place aimed at in its
// origin, x to the right and y down, in picture points. Its values may be used
// by several goroutines at once.
type Sight struct {
	skin            *Skin
	focal           float64
	z0              float64 // height aimed at, mm
	eye             vector  // the pupil
	right, up, back vector  // the camera's own axes; back points from the place to it
}

// vector is right, near, up: the place aimed at lies on the near side of the
// axis at angle 0.
type vector [3]float64

func (v vector) dot(w vector) float64 {
	return float64(v[0]*w[0]) + float64(v[1]*w[1]) + float64(v[2]*w[2])
}

// mix returns a·v + b·w.
func mix(a float64, v vector, b float64, w vector) vector {
	var out vector
	for i := range out {
		out[i] = float64(a*v[i]) + float64(b*w[i])
	}
	return out
}

// Aim sets the phone before the skin at the height z. Angles round the body are
// counted from the meridian it is aimed at.
func (p Phone) Aim(s *Skin, z unit.Millimetre) Sight {
	r, slope := s.at(float64(z))
	n := 1 / math.Sqrt(1+float64(slope*slope))
	out, rise, side := vector{0, n, -slope * n}, vector{0, slope * n, n}, vector{1, 0, 0}
	siny, cosy := math.Sincos(p.Yaw)
	sinp, cosp := math.Sincos(p.Pitch)
	ahead := mix(cosy, out, siny, side)
	l := Sight{skin: s, focal: p.Focal, z0: float64(z), back: mix(cosp, ahead, sinp, rise)}
	right, up := mix(cosy, side, -siny, out), mix(cosp, rise, -sinp, ahead)
	sinr, cosr := math.Sincos(p.Roll)
	// A camera turned clockwise has its right hand lower.
	l.right, l.up = mix(cosr, right, -sinr, up), mix(cosr, up, sinr, right)
	l.eye = mix(1, vector{0, r, float64(z)}, p.Distance, l.back)
	return l
}

// Project returns where in the picture the skin's point at the angle phi and
// the height z lies, were nothing before it.
func (l Sight) Project(phi float64, z unit.Millimetre) (x, y float64) {
	r, _ := l.skin.at(float64(z))
	sin, cos := math.Sincos(phi)
	to := mix(1, vector{r * sin, r * cos, float64(z)}, -1, l.eye)
	depth := -to.dot(l.back)
	return l.focal * to.dot(l.right) / depth, -l.focal * to.dot(l.up) / depth
}

// Hit is where a ray meets the skin.
type Hit struct {
	Phi    float64 // angle from the meridian aimed at, radians
	Z      float64 // height, mm
	S      float64 // slant distance from the skin's foot, mm
	Depth  float64 // from the pupil along the line of sight, mm
	Normal [3]float64
}

// Back is the direction from the place aimed at to the pupil, and Up the
// camera's own up, in the axes of Hit.Normal: right, near and up, the place
// aimed at being on the near side.
func (l Sight) Back() [3]float64 { return l.back }

// Up is told at Back.
func (l Sight) Up() [3]float64 { return l.up }

// rounds bounds the search for where a ray meets a bent skin; each round is
// exact on a cone, so that two or three do.
const rounds = 8

// hitSlack, mm, is as well as a hit needs be known: a thousandth of a picture point.
const hitSlack = 1e-5

// Hit traces the ray through the picture's point (x, y). guess is a height, mm,
// near which it is looked for, such as that of the last hit; NaN is the place
// aimed at. It finds no hit where the ray passes the body, or meets it off the
// skin's stretch. Whether another part of the body stands before it is not
// looked at: a phone held within 30 degrees of square sees all of a code.
func (l Sight) Hit(x, y, guess float64) (h Hit, ok bool) {
	s := l.skin
	d := mix(x/l.focal, l.right, -y/l.focal, l.up)
	d = mix(1, d, -1, l.back)
	o := l.eye
	z := guess
	if math.IsNaN(z) {
		z = l.z0
	}
	flat := float64(d[0]*d[0]) + float64(d[1]*d[1])
	toAxis := float64(o[0]*d[0]) + float64(o[1]*d[1])
	off := float64(o[0]*o[0]) + float64(o[1]*o[1])
	for range rounds {
		i := s.cell(z)
		k := s.slope(i)
		// The cone through the cell has the radius c at the eye's height.
		c := s.r[i] + float64(k*(o[2]-s.height(i)))
		kd := k * d[2]
		A, B, C := flat-float64(kd*kd), toAxis-float64(c*kd), off-float64(c*c)
		disc := float64(B*B) - float64(A*C)
		if disc < 0 {
			// Passes this cone; perhaps not the one where it comes nearest.
			next := o[2] - float64(B/A*d[2])
			if s.cell(next) == i {
				return Hit{}, false
			}
			z = next
			continue
		}
		t := C / (math.Sqrt(disc) - B) // the nearer root, free of cancelling
		last := z
		z = o[2] + float64(t*d[2])
		if math.Abs(z-last) > hitSlack && s.cell(z) != i {
			continue
		}
		if !(z >= s.from && z <= s.to) {
			return Hit{}, false
		}
		px, py := o[0]+float64(t*d[0]), o[1]+float64(t*d[1])
		r := math.Hypot(px, py)
		n := 1 / math.Sqrt(1+float64(k*k))
		h = Hit{Phi: math.Atan2(px, py), Z: z, S: s.slant(i, z), Depth: t,
			Normal: [3]float64{n * px / r, n * py / r, -k * n}}
		return h, true
	}
	return Hit{}, false
}
