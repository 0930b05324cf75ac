package proof

import (
	"image"
	"math"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/layouts/geom"
	"floatmark/layouts/view"
)

// Places of marks in a code, squares from its edge (ISO/IEC 18004).
const (
	finder     = 3.5 // middle of a corner mark
	finderSide = 8   // side of a corner mark with its pale edge
	alignment  = 6.5 // middle of the fourth mark, from the far corner
)

// foresee looks along one ray through the middle of every square, at the places
// where a reader expects them that lays a flat grid through the code's corner
// marks, and has what it finds there decoded.
func (st *studio) foresee(p Pose, k int) bool {
	l := p.phone().Aim(st.skin, st.z)
	m := st.d.Codes[k]
	grid, ok := st.grid(l, m.N)
	if !ok {
		return false
	}
	const size, edge = 3, 4 // picture points of a square, squares of pale edge
	side := (m.N + 2*edge) * size
	img := image.NewGray(image.Rect(0, 0, side, side))
	for i := range img.Pix {
		img.Pix[i] = math.MaxUint8
	}
	for r := range m.N {
		guess := math.NaN()
		for c := range m.N {
			dark := m.Dark(c, r)
			if !function(m, c, r) {
				x, y := grid.at(float64(c)+0.5, float64(r)+0.5)
				h, ok := l.Hit(x, y, guess)
				if ok {
					guess = h.Z
					q := st.place(h)
					dark = m.Dark(within(st.xs, q.X), within(st.ys, q.Y))
				} else {
					dark = !dark
				}
			}
			if dark {
				for j := range size {
					at := img.PixOffset((c+edge)*size, (r+edge)*size+j)
					clear(img.Pix[at : at+size])
				}
			}
		}
	}
	text, err := scan.QR(img)
	return err == nil && text == m.Text
}

// function reports whether a square belongs to the marks by which a code is
// found: the reader found them before it laid its grid.
func function(m symbol.Matrix, c, r int) bool {
	far := m.N - finderSide
	if (c < finderSide || c >= far) && r < finderSide || c < finderSide && r >= far || c == finderSide-2 || r == finderSide-2 {
		return true
	}
	const reach = 2.5
	from := float64(m.N) - alignment - reach
	to := from + 2*reach
	in := func(i int) bool { return float64(i) >= from && float64(i) < to }
	return m.Version > 1 && in(c) && in(r)
}

// within returns the square whose edges hold x, -1 or beyond the last off the
// code.
func within(edges []float64, x float64) int {
	if x < edges[0] {
		return -1
	}
	for i := 1; i < len(edges); i++ {
		if x < edges[i] {
			return i - 1
		}
	}
	return len(edges)
}

// homography maps squares of the code to its picture.
type homography [8]float64

func (g homography) at(x, y float64) (px, py float64) {
	w := float64(g[6]*x) + float64(g[7]*y) + 1
	return (float64(g[0]*x) + float64(g[1]*y) + g[2]) / w, (float64(g[3]*x) + float64(g[4]*y) + g[5]) / w
}

// grid is the flat grid through the marks; ok is false where there is none.
func (st *studio) grid(l view.Sight, n int) (homography, bool) {
	far := float64(n) - finder
	marks := [4]geom.Point{{X: finder, Y: finder}, {X: far, Y: finder}, {X: finder, Y: far}, {X: far, Y: far}}
	var seen [4]geom.Point
	for i, q := range marks {
		seen[i] = st.project(l, q)
	}
	if n > 21 { // a fourth mark from version 2 on
		marks[3] = geom.Point{X: float64(n) - alignment, Y: float64(n) - alignment}
		seen[3] = st.project(l, marks[3])
	} else {
		seen[3] = geom.Point{X: seen[1].X + seen[2].X - seen[0].X, Y: seen[1].Y + seen[2].Y - seen[0].Y}
	}
	var a [8][9]float64
	for i, q := range marks {
		x, y, u, v := q.X, q.Y, seen[i].X, seen[i].Y
		a[2*i] = [9]float64{x, y, 1, 0, 0, 0, -u * x, -u * y, u}
		a[2*i+1] = [9]float64{0, 0, 0, x, y, 1, -v * x, -v * y, v}
	}
	return solve(a)
}

// project returns where a place of the code, in squares from its corner, is in
// the picture.
func (st *studio) project(l view.Sight, q geom.Point) geom.Point {
	x, y := between(st.xs, q.X), between(st.ys, q.Y)
	at := st.d.Flat.Frame(st.d.Theta, st.d.S).Apply(geom.Point{X: x, Y: y})
	theta, s := st.d.Flat.Place(at)
	px, py := l.Project(theta-st.d.Theta, st.skin.Height(s+st.foot))
	return geom.Point{X: px, Y: py}
}

// between returns the place of a fractional square.
func between(edges []float64, q float64) float64 {
	i := min(max(int(math.Floor(q)), 0), len(edges)-2)
	return edges[i] + float64((q-float64(i))*(edges[i+1]-edges[i]))
}

// solve is Gauss's elimination with the largest pivot.
func solve(a [8][9]float64) (out homography, ok bool) {
	for c := range len(out) {
		best := c
		for r := c + 1; r < len(out); r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		if a[best][c] == 0 {
			return out, false
		}
		a[c], a[best] = a[best], a[c]
		for r := range len(out) {
			if r == c {
				continue
			}
			f := a[r][c] / a[c][c]
			for i := c; i <= len(out); i++ {
				a[r][i] -= float64(f * a[c][i])
			}
		}
	}
	for i := range out {
		out[i] = a[i][len(out)] / a[i][i]
	}
	return out, true
}
