package body

import "floatmark/loading/unit"

// Curvature returns the Gaussian curvature of the body's skin at height z, per
// mm2: above 0 where it swells, as on a sphere (1/R²), 0 on cones and parallels,
// below 0 in a waist. For a radius r(z) it is -r”/(r(1+r'²)²).
//
// It is not defined, and ok is false, off the body, at an edge (a turn of more
// than 2 degrees) and at a pointed end. Where two runs meet without an edge it
// jumps; there it is that just above, as Slope is.
//
// The fitted cubic is kept monotone, and the price is its second derivative,
// which beside a widest place is wrong by half. So the curvature is that of the
// cubic through the four nearest stations of the run, in r², when the run is
// round, else in r. It follows every reading: a calliper's 0.05 mm on stations
// 5 mm apart is worth 0.008 of r”, as much as a meridian of radius 125 mm.
func (p Profile) Curvature(z unit.Millimetre) (k float64, ok bool) {
	x := float64(z)
	if len(p.pieces) == 0 || !(z >= p.Base() && z <= p.Top()) || p.edgeAt(x) {
		return 0, false
	}
	q := p.at(x)
	if q.kind == Straight {
		return 0, q.radius(x) > 0
	}
	y, d1, d2 := p.nodes(x).at(x)
	if q.kind == Round {
		// The same in y = r², multiplied out: it stays finite at a pole.
		y = max(y, 0)
		w := float64(4*y) + float64(d1*d1)
		return (float64(4*d1*d1) - float64(8*y*d2)) / float64(w*w), w > 0
	}
	if !(q.radius(x) > 0 && y > 0) {
		return 0, false
	}
	w := 1 + float64(d1*d1)
	return -d2 / float64(y*w*w), true
}

// edgeAt reports whether z is a station where the outline turns.
func (p Profile) edgeAt(z float64) bool {
	for i := 1; i < len(p.pieces); i++ {
		if q := p.pieces[i]; q.z0 == z {
			return turns(p.pieces[i-1].slope(z), q.slope(z))
		}
	}
	return false
}

// node is a place the curvature's cubic goes through. Two nodes of one place say
// that it has the slope there.
type node struct{ x, y, slope float64 }

type nodes []node

// nodes returns the four nodes of z's run that lie nearest to z, fewer if the
// run has fewer. An end that flows into a cone or a parallel counts twice, with
// the slope of that.
func (p Profile) nodes(z float64) nodes {
	const most = 4
	st := p.stations
	i, j := 0, 0
	for j < len(st)-1 && (j == 0 || float64(st[j].Z) <= z) {
		for i, j = j, j+1; j < len(st)-1 && st[j].Kind == st[i].Kind && !st[j].Corner; {
			j++
		}
	}
	var all nodes
	for k := i; k <= j; k++ {
		q := p.pieces[min(k, j-1)]
		n := node{x: float64(st[k].Z), y: q.y0}
		if k == j {
			n.y = q.y1
		}
		_, n.slope = q.value(n.x)
		all = append(all, n)
		_, low := tangent(st, i-1, i)
		_, high := tangent(st, j, j)
		if k == i && low || k == j && high {
			all = append(all, n)
		}
	}
	above := 0 // of the nodes, those up to z
	for above < len(all) && all[above].x <= z {
		above++
	}
	from := max(0, min(above-most/2, len(all)-most))
	return all[from:min(len(all), from+most)]
}

// at returns Newton's interpolation through the nodes and its first two
// derivatives.
func (n nodes) at(z float64) (y, d1, d2 float64) {
	a := make([]float64, len(n))
	for i := range n {
		a[i] = n[i].y
	}
	for step := 1; step < len(n); step++ {
		for i := len(n) - 1; i >= step; i-- {
			if w := n[i].x - n[i-step].x; w > 0 {
				a[i] = (a[i] - a[i-1]) / w
			} else {
				a[i] = n[i].slope
			}
		}
	}
	for i := len(n) - 1; i >= 0; i-- { // Horner, each derivative before what it is of
		t := z - n[i].x
		d2 = float64(d2*t) + float64(2*d1)
		d1 = float64(d1*t) + y
		y = float64(y*t) + a[i]
	}
	return y, d1, d2
}
