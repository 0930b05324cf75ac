package view

import (
	"math"
	"slices"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// knot is one height of the body's table.
type knot struct {
	z, r float64 // height and radius, mm
	s    float64 // slant distance from the base end, mm
}

// shape is the body as a row of short frusta between knots: fine enough that no
// pixel tells it from the profile, plain enough that a ray meets each in closed
// form.
type shape []knot

const (
	// cellPixels is the height of a frustum in pixels, or its step in radius if
	// that is more. An arc as tight as 5
	// pixels departs from its chord by cell²/8r = 0.006 of one.
	cellPixels = 0.5
	// maxCells bounds the table between two stations however near the camera is.
	maxCells = 4000
)

// tabulate makes the table for k pixels per mm. The edges of pieces become
// knots, so that what is on them is measured from their own edge. Knots crowd
// towards both ends of an interval, where a round pole is steep.
func tabulate(p body.Profile, k float64, edges []unit.Millimetre) shape {
	stops := append([]unit.Millimetre{}, edges...)
	for _, st := range p.Stations() {
		stops = append(stops, st.Z)
	}
	slices.Sort(stops)
	stops = slices.Compact(stops)
	at := func(z unit.Millimetre, s float64) knot { return knot{float64(z), float64(p.Diameter(z)) / 2, s} }
	out := shape{at(stops[0], 0)}
	for i := 1; i < len(stops); i++ {
		a, b := stops[i-1], stops[i]
		rise := max(b-a, p.Diameter(b)/2-p.Diameter(a)/2, p.Diameter(a)/2-p.Diameter(b)/2)
		n := int(math.Ceil(math.Min(maxCells, float64(rise)*k/cellPixels)))
		if p.IsCone(a, b) {
			n = 1
		}
		last := a
		for j := 1; j <= n; j++ {
			z := b
			if j < n {
				z = a + (b-a)*unit.Millimetre(0.5-0.5*math.Cos(math.Pi*float64(j)/float64(n)))
			}
			if z <= last {
				continue
			}
			out = append(out, at(z, out[len(out)-1].s+p.Meridian(last, z)))
			last = z
		}
	}
	return out
}

// find returns the cell that holds z, the first or the last for a z beyond.
func (sh shape) find(z float64) int {
	i, _ := slices.BinarySearchFunc(sh, z, func(k knot, z float64) int {
		if k.z <= z {
			return -1
		}
		return 1
	})
	return min(max(i-1, 0), len(sh)-2)
}

// slant returns s at the height z.
func (sh shape) slant(z float64) float64 {
	i := sh.find(z)
	a, b := sh[i], sh[i+1]
	return a.s + (b.s-a.s)*min(max((z-a.z)/(b.z-a.z), 0), 1)
}

// span is a stretch of a plane of rays that lies in one cell: between the
// depths t0 and t1 from the pinhole the radius is a + b·t, mm.
type span struct {
	t0, t1 float64
	a, b   float64
	cell   int
	slope  float64 // dr/dz
}

// plane is all rays that make one line of the picture across the axis: they
// climb by v per mm of depth. Its spans are in the order a ray meets them.
type plane struct {
	v     float64
	spans []span
	// wide is the silhouette: the largest |u| that meets the body, u being the
	// way across per mm of depth; 0 where no ray does.
	wide  float64
	scale float64 // pixels across for each mm per mm of depth
	// ends says that the first span is entered through a flat end of the body.
	ends bool
}

// plane cuts the body by the rays of one line. It reuses buf.
func (sh shape) plane(l lens, v, radius float64, buf []span) plane {
	p := plane{v: v, spans: buf[:0]}
	near, far := l.d-radius, l.d+radius
	z0, z1 := l.mid+float64(v*near), l.mid+float64(v*far)
	first, last := sh.find(z0), sh.find(z1)
	step := 1
	if last < first || first == last && v < 0 {
		step = -1
	}
	for i := first; ; i += step {
		lo, hi := sh[i], sh[i+1]
		slope := (hi.r - lo.r) / (hi.z - lo.z)
		s := span{t0: near, t1: far, cell: i, slope: slope, b: float64(v * slope)}
		s.a = lo.r + float64((l.mid-lo.z)*slope)
		if v != 0 {
			t0, t1 := (lo.z-l.mid)/v, (hi.z-l.mid)/v
			s.t0, s.t1 = max(near, min(t0, t1)), min(far, max(t0, t1))
		} else if l.mid < lo.z || l.mid > hi.z {
			s.t1 = s.t0
		}
		if s.t1 > s.t0 {
			if len(p.spans) == 0 {
				p.ends = s.t0 > near
			}
			p.spans = append(p.spans, s)
			p.wide = max(p.wide, s.wide(l.d))
		}
		if i == last {
			return p
		}
	}
}

// wide is the largest u of a ray that meets the body in the span. With w = 1/t
// the square of u is (a·w+b)² - (d·w-1)², a parabola.
func (s span) wide(d float64) float64 {
	bow := float64(d*d) - float64(s.a*s.a)
	w := 1 / s.t1
	if bow > 0 {
		w = min(max((float64(s.a*s.b)+d)/bow, w), 1/s.t0)
	} else if at := s.reach(d, 1/s.t0); at > s.reach(d, w) {
		w = 1 / s.t0
	}
	return math.Sqrt(max(0, s.reach(d, w)))
}

func (s span) reach(d, w float64) float64 {
	x, y := float64(s.a*w)+s.b, float64(d*w)-1
	return float64(x*x) - float64(y*y)
}

// meet returns the depth at which the ray u first meets the body, looking from
// span *at on and leaving there the span it was met in: rays further out never
// meet it nearer. face says that it is met on a flat end.
func (p plane) meet(u, d float64, at *int) (t float64, face, ok bool) {
	for ; *at < len(p.spans); *at++ {
		s := p.spans[*at]
		// u²t² + (d-t)² = (a+bt)²
		A, B, C := float64(u*u)+1-float64(s.b*s.b), d+float64(s.a*s.b), float64(d*d)-float64(s.a*s.a)
		if *at == 0 && p.ends {
			if in := float64(s.t0*(float64(A*s.t0)-2*B)) + C; in < 0 {
				return s.t0, true, true
			}
		}
		disc := float64(B*B) - float64(A*C)
		if disc < 0 {
			continue
		}
		q := B + math.Copysign(math.Sqrt(disc), B) // both roots, neither by a difference
		near, far := C/q, q/A
		if near > far {
			near, far = far, near
		}
		for _, t := range [2]float64{near, far} {
			if t >= s.t0-slack && t <= s.t1+slack {
				return t, false, true
			}
		}
	}
	return 0, false, false
}

// slack, mm, keeps a ray from slipping through between two frusta.
const slack = 1e-9
