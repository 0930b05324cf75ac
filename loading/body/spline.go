package body

import "math"

// piece is the body between two stations: a cubic of y, where y is the radius,
// or the radius squared when the piece is round.
type piece struct {
	z0, h  float64 // lower end and height, mm
	kind   Kind
	y0, y1 float64    // y at the two ends
	c      [4]float64 // y = c0 + c1 t + c2 t² + c3 t³, t = (z-z0)/h
}

// value returns y and dy/dz at z, held within the piece.
func (p piece) value(z float64) (y, dy float64) {
	t := min(max((z-p.z0)/p.h, 0), 1)
	c := p.c
	dy = (c[1] + float64(t*(2*c[2]+float64(3*c[3]*t)))) / p.h
	switch t {
	case 0:
		return p.y0, dy
	case 1:
		return p.y1, dy // the sum of the four would miss a pole by a rounding
	}
	y = c[0] + float64(t*(c[1]+float64(t*(c[2]+float64(t*c[3])))))
	return max(y, 0), dy
}

func (p piece) radius(z float64) float64 {
	y, _ := p.value(z)
	if p.kind == Round {
		return math.Sqrt(y)
	}
	return y
}

func (p piece) slope(z float64) float64 {
	y, dy := p.value(z)
	switch {
	case p.kind != Round || dy == 0:
		return dy
	case y == 0:
		return math.Copysign(math.Inf(1), dy)
	default:
		return dy / (2 * math.Sqrt(y))
	}
}

// pieces fits the body. Every longest row of intervals of one kind without a
// corner inside is one run with its own slopes, so that an edge never makes a
// curve beside it swing.
func pieces(st []Station) []piece {
	out := make([]piece, 0, len(st)-1)
	for i := 0; i < len(st)-1; {
		j := i + 1
		for j < len(st)-1 && st[j].Kind == st[i].Kind && !st[j].Corner && st[i].Kind != Straight {
			j++
		}
		out = append(out, run(st, i, j)...)
		i = j
	}
	return out
}

// run fits the stations i to j, all of one kind.
func run(st []Station, i, j int) []piece {
	kind := st[i].Kind
	x, y := make([]float64, j-i+1), make([]float64, j-i+1)
	for k := range x {
		r := float64(st[i+k].D) / 2
		x[k], y[k] = float64(st[i+k].Z), r
		if kind == Round {
			y[k] = r * r
		}
	}
	m := slopes(x, y)
	if kind != Straight {
		n := len(m) - 1
		if d, ok := tangent(st, i-1, i); ok {
			m[0] = limit(inY(kind, d, st[i]), (y[1]-y[0])/(x[1]-x[0]))
		}
		if d, ok := tangent(st, j, j); ok {
			m[n] = limit(inY(kind, d, st[j]), (y[n]-y[n-1])/(x[n]-x[n-1]))
		}
	}
	out := make([]piece, j-i)
	for k := range out {
		h, rise := x[k+1]-x[k], y[k+1]-y[k]
		a, b := h*m[k], h*m[k+1]
		out[k] = piece{z0: x[k], h: h, kind: kind, y0: y[k], y1: y[k+1],
			c: [4]float64{y[k], a, float64(3*rise) - float64(2*a) - b, a + b - float64(2*rise)}}
	}
	return out
}

// tangent returns the slope dr/dz of the straight interval above station k, and
// false if there is none or if station at is a corner.
func tangent(st []Station, k, at int) (float64, bool) {
	if k < 0 || k >= len(st)-1 || st[at].Corner || st[k].Kind != Straight {
		return 0, false
	}
	return float64(st[k+1].D-st[k].D) / 2 / float64(st[k+1].Z-st[k].Z), true
}

// inY turns a slope of the radius at station s into one of y.
func inY(kind Kind, d float64, s Station) float64 {
	if kind == Round {
		return d * float64(s.D) // (r²)' = 2 r r'
	}
	return d
}

// limit keeps an end slope where the cubic stays monotone: the sign of the
// secant and at most three times its size (Fritsch and Carlson, SIAM J. Numer.
// Anal. 17 (1980), from memory).
func limit(d, secant float64) float64 {
	switch {
	case d*secant <= 0:
		return 0
	case math.Abs(d) > 3*math.Abs(secant):
		return 3 * secant
	default:
		return d
	}
}

// slopes returns the monotone cubic's slopes as SciPy's documentation of PCHIP
// states them (after Fritsch and Butland, 1984): inside, the harmonic mean of
// the two secants weighted by w1 = 2h(k)+h(k-1), w2 = h(k)+2h(k-1), and 0 where
// they differ in sign; at the ends, a one-sided three-point slope.
func slopes(x, y []float64) []float64 {
	n := len(x) - 1
	h, d := make([]float64, n), make([]float64, n)
	for k := range h {
		h[k] = x[k+1] - x[k]
		d[k] = (y[k+1] - y[k]) / h[k]
	}
	if n == 1 {
		return []float64{d[0], d[0]}
	}
	m := make([]float64, n+1)
	for k := 1; k < n; k++ {
		if d[k-1]*d[k] <= 0 {
			continue
		}
		w1, w2 := 2*h[k]+h[k-1], h[k]+2*h[k-1]
		m[k] = (w1 + w2) / (w1/d[k-1] + w2/d[k])
	}
	m[0] = endSlope(h[0], h[1], d[0], d[1])
	m[n] = endSlope(h[n-1], h[n-2], d[n-1], d[n-2])
	return m
}

func endSlope(h0, h1, d0, d1 float64) float64 {
	m := (float64((2*h0+h1)*d0) - float64(h0*d1)) / (h0 + h1)
	if m*d0 <= 0 {
		return 0
	}
	if d0*d1 <= 0 && math.Abs(m) > 3*math.Abs(d0) {
		return 3 * d0
	}
	return m
}
