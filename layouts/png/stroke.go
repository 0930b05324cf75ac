package png

import (
	"math"

	"floatmark/layouts/geom"
)

// miterLimit is the longest mitre in stroke widths; a sharper corner is
// bevelled. The default of PDF (ISO 32000-1, table 52, from memory; a test holds
// it against another program), so that both agree.
const miterLimit = 10

// samePlace is the distance, in pixels, below which two points have no direction
// between them: far below a step of grey, far above rounding.
const samePlace = 1e-9

// line is a polyline in pixels; closed says that it ends where it starts
// (without repeating the point).
type line struct {
	pts    []geom.Point
	closed bool
}

// to goes on to q, unless the line is there already.
func (l *line) to(q geom.Point) {
	if n := len(l.pts); n == 0 || q.Sub(l.pts[n-1]).Len() > samePlace {
		l.pts = append(l.pts, q)
	}
}

// outline turns a stroke into polygons to be filled: one for each piece and a
// wedge for each sharp corner, all turning the same way, so that the non-zero
// rule makes their union. Ends are butt, joins mitred.
func outline(p geom.Path, width float64, dash []float64) [][]geom.Point {
	var out [][]geom.Point
	for _, l := range lines(p) {
		for _, d := range dashes(l, dash) {
			out = appendStroke(out, d, width/2)
		}
	}
	return out
}

// lines flattens each ring or open line of the path. A ring that comes back to
// its start without being closed stays open, as in PDF.
func lines(p geom.Path) []line {
	var out []line
	for from := 0; from < len(p); {
		to := from + 1
		for to < len(p) && p[to].Verb != geom.Move {
			to++
		}
		closed := p[to-1].Verb == geom.Close
		for _, pts := range p[from:to].Flatten(tolerance) {
			l := line{closed: closed}
			for _, q := range pts {
				l.to(q)
			}
			if n := len(l.pts); closed && n > 1 && l.pts[0].Sub(l.pts[n-1]).Len() <= samePlace {
				l.pts = l.pts[:n-1]
			}
			if len(l.pts) > 1 {
				out = append(out, l)
			}
		}
		from = to
	}
	return out
}

// dashes cuts a line into its dashes; lengths alternate on and off, starting on,
// an odd list running on with its meanings swapped (ISO 32000-1, 8.4.3.6).
func dashes(l line, dash []float64) []line {
	if len(dash) == 0 {
		return []line{l}
	}
	pts := l.pts
	if l.closed {
		pts = append(append([]geom.Point{}, pts...), pts[0])
	}
	var out []line
	cur := line{pts: []geom.Point{pts[0]}}
	i, on, left := 0, true, dash[0]
	for j := 1; j < len(pts); j++ {
		a, b := pts[j-1], pts[j]
		length, done := b.Sub(a).Len(), 0.0
		for length-done > left {
			done += left
			q := a.Add(b.Sub(a).Scale(done / length))
			if cur.to(q); on && len(cur.pts) > 1 {
				out = append(out, cur)
			}
			cur = line{pts: []geom.Point{q}}
			i, on = i+1, !on
			left = dash[i%len(dash)]
		}
		left -= length - done
		cur.to(b)
	}
	if on && len(cur.pts) > 1 {
		out = append(out, cur)
	}
	return out
}

// piece is one straight part of a line: its direction (unit length) and length.
type piece struct {
	from, dir geom.Point
	length    float64
}

// appendStroke adds the polygons of one line, half its width to each side.
func appendStroke(out [][]geom.Point, l line, half float64) [][]geom.Point {
	n := len(l.pts)
	if !l.closed {
		n--
	}
	pieces := make([]piece, n)
	for i := range pieces {
		d := l.pts[(i+1)%len(l.pts)].Sub(l.pts[i])
		pieces[i] = piece{l.pts[i], d.Scale(1 / d.Len()), d.Len()}
	}
	for i, p := range pieces {
		start, end := normal(p.dir).Scale(half), normal(p.dir).Scale(half)
		if i > 0 || l.closed {
			if m, ok := seam(pieces[(i+n-1)%n], p, half); ok {
				start = m
			}
		}
		to := p.from.Add(p.dir.Scale(p.length))
		if i < n-1 || l.closed {
			next := pieces[(i+1)%n]
			if m, ok := seam(p, next, half); ok {
				end = m
			} else {
				out = append(out, wedge(to, p.dir, next.dir, half))
			}
		}
		out = append(out, clockwise([]geom.Point{p.from.Add(start), to.Add(end), to.Sub(end), p.from.Sub(start)}))
	}
	return out
}

// seam returns the line along which two pieces meet without gap and overlap, as
// its half; false where they turn too sharply for their length. Pieces of a
// curve always have one: an overlap there would darken thin rings.
func seam(a, b piece, half float64) (geom.Point, bool) {
	cos := a.dir.X*b.dir.X + a.dir.Y*b.dir.Y
	if 1+cos <= 2.0/(miterLimit*miterLimit) {
		return geom.Point{}, false
	}
	m := normal(a.dir).Add(normal(b.dir)).Scale(half / (1 + cos))
	back := math.Sqrt(math.Max(0, m.X*m.X+m.Y*m.Y-half*half)) // how far it reaches along the pieces
	return m, back <= math.Min(a.length, b.length)/2
}

// wedge returns what fills the outer side of the corner at v, from direction d
// to direction e: a mitre, or a bevel beyond the limit.
func wedge(v, d, e geom.Point, half float64) []geom.Point {
	if d.X*e.Y-d.Y*e.X < 0 { // turns left on the page: the outer side is the right
		half = -half
	}
	p, q := v.Add(normal(d).Scale(half)), v.Add(normal(e).Scale(half))
	// The mitre is 1/sin(φ/2) widths long, φ being the angle between the pieces;
	// in the cosine of the turn that squares to 2/(1+cos).
	cos := d.X*e.X + d.Y*e.Y
	if 1+cos > 2.0/(miterLimit*miterLimit) {
		tip := v.Add(p.Sub(v).Add(q.Sub(v)).Scale(1 / (1 + cos)))
		return clockwise([]geom.Point{v, p, tip, q})
	}
	return clockwise([]geom.Point{v, p, q})
}

// normal returns the direction a quarter turn to the left on the page.
func normal(d geom.Point) geom.Point { return geom.Point{X: d.Y, Y: -d.X} }

// clockwise returns the ring turning clockwise on the page.
func clockwise(r []geom.Point) []geom.Point {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += p.X*q.Y - p.Y*q.X
	}
	if sum < 0 {
		for i, j := 0, len(r)-1; i < j; i, j = i+1, j-1 {
			r[i], r[j] = r[j], r[i]
		}
	}
	return r
}
