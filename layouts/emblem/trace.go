package emblem

import (
	"math"

	"floatmark/layouts/geom"
)

// A crossing is where the outline passes between two neighbouring pixels: the
// pair that begins at a pixel and goes to the right (even) or down (odd).
type crossing int32

// contours traces where the tone passes a level, with the dark on the right
// hand: outer rings run clockwise on the page (marching squares: Lorensen and
// Cline's method in the plane, from memory). Coordinates are pixels from the
// picture's top left corner.
//
// Where dark meets dark only across a corner, the mean of the four decides
// whether they join.
func contours(t tones, level float64) ([][]geom.Point, error) {
	next := map[crossing]crossing{}
	var order []crossing
	dark := func(i int) bool { return float64(t.tone[i]) < level }
	for y := range t.h - 1 {
		for x := range t.w - 1 {
			i := y*t.w + x
			// The four pixels clockwise from the top left, and the pairs between them.
			at := [4]int{i, i + 1, i + t.w + 1, i + t.w}
			side := [4]crossing{crossing(2 * i), crossing(2*(i+1) + 1), crossing(2 * (i + t.w)), crossing(2*i + 1)}
			in := [4]bool{dark(at[0]), dark(at[1]), dark(at[2]), dark(at[3])}
			saddle := in[0] == in[2] && in[1] == in[3] && in[0] != in[1]
			joined := false
			if saddle {
				sum := 0.0
				for _, p := range at {
					sum += float64(t.tone[p])
				}
				joined = sum/4 < level
			}
			for k := range 4 {
				// Clockwise round the four, the line leaves where pale turns to dark
				// and has come in where dark turns to pale: of two such sides the
				// next if each dark pixel stands alone, the last if they join.
				if in[k] || !in[(k+1)%4] {
					continue
				}
				came := k
				for step := 1; step < 4; step++ {
					j := (k + step) % 4
					if in[j] && !in[(j+1)%4] {
						came = j
						if !joined {
							break
						}
					}
				}
				if _, seen := next[side[came]]; !seen {
					order = append(order, side[came])
				}
				next[side[came]] = side[k]
			}
			if len(order) > maxCrossings {
				return nil, busy()
			}
		}
	}
	var rings [][]geom.Point
	for _, first := range order {
		if _, left := next[first]; !left {
			continue
		}
		var ring []geom.Point
		for c := first; ; {
			ring = append(ring, place(t, c, level))
			to, ok := next[c]
			if !ok {
				break
			}
			delete(next, c)
			if c = to; c == first {
				break
			}
		}
		rings = append(rings, ring)
	}
	return rings, nil
}

// place is where between its two pixels' middles a crossing lies.
func place(t tones, c crossing, level float64) geom.Point {
	i := int(c) / 2
	j, across := i+1, true
	if c%2 == 1 {
		j, across = i+t.w, false
	}
	a, b := float64(t.tone[i]), float64(t.tone[j])
	f := (level - a) / (b - a)
	const middle = 0.5 - 1 // of a pixel, without the added white one
	p := geom.Point{X: float64(i%t.w) + middle, Y: float64(i/t.w) + middle}
	if across {
		p.X += f
	} else {
		p.Y += f
	}
	return p
}

// evenings is how often the points of a hard picture's ring are evened out:
// enough to take the steps out of slants of up to four pixels a step.
const evenings = 4

// even moves each point of a ring half the way to the middle of its neighbours.
func even(ring []geom.Point) []geom.Point {
	for range evenings {
		out := make([]geom.Point, len(ring))
		for i, q := range ring {
			a, b := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
			out[i] = q.Scale(0.5).Add(a.Add(b).Scale(0.25))
		}
		ring = out
	}
	return ring
}

// simplify leaves out the points of a ring that lie within tol of the line that
// remains (Douglas and Peucker, The Canadian Cartographer 10 (1973), from
// memory), beginning with the first and the point furthest from it.
func simplify(ring []geom.Point, tol float64) []geom.Point {
	n := len(ring)
	far, most := 0, 0.0
	for i, q := range ring {
		if d := q.Sub(ring[0]).Len(); d > most {
			far, most = i, d
		}
	}
	keep := make([]bool, n)
	keep[0], keep[far] = true, true
	for todo := [][2]int{{0, far}, {far, n}}; len(todo) > 0; {
		i, j := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		worst, at := tol, -1
		for k := i + 1; k < j; k++ {
			if d := distance(ring[k], ring[i], ring[j%n]); d > worst {
				worst, at = d, k
			}
		}
		if at >= 0 {
			keep[at] = true
			todo = append(todo, [2]int{i, at}, [2]int{at, j})
		}
	}
	var out []geom.Point
	for i, q := range ring {
		if keep[i] {
			out = append(out, q)
		}
	}
	return out
}

// distance is that of q from the stretch from a to b.
func distance(q, a, b geom.Point) float64 {
	d, e := b.Sub(a), q.Sub(a)
	l2 := float64(d.X*d.X) + float64(d.Y*d.Y)
	if l2 == 0 {
		return e.Len()
	}
	t := math.Min(1, math.Max(0, (float64(e.X*d.X)+float64(e.Y*d.Y))/l2))
	return e.Sub(d.Scale(t)).Len()
}

// area is a ring's signed area, clockwise on the page positive.
func area(ring []geom.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += float64(p.X*q.Y) - float64(q.X*p.Y)
	}
	return sum / 2
}
