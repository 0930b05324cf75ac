package nest

import (
	"math"
	"math/bits"

	"floatmark/layouts/geom"
)

// run is a run of pixels, both ends included.
type run struct{ a, b int }

// mask is a shape in one turn on the raster, grown so that two masks with no
// pixel in common are shapes with the gap between them: each pixel whose centre
// lies within half the gap and half a pixel's diagonal of the shape is set. (A
// gap too small leaves a disc wider than that diagonal in both grown shapes,
// and such a disc holds a centre.) Pixel (0, 0) has its corner at the top left
// corner of the shape's box, so runs start left of 0.
type mask struct {
	top   int     // row of the first line, below 0
	rows  [][]run // by line
	probe []int   // lines in the order of trying: ends and middles first
	w, h  float64 // of the shape itself, mm
	area  float64 // of the grown shape, mm², for sorting
	sink  float64 // how far below its top the shape's centre of area lies, mm
}

// growth is how far masks are grown for a gap at a pixel size, all in mm.
func growth(gap, res float64) float64 {
	return gap/2 + res/math.Sqrt2 + flatness + slack
}

// padding is how many pixels a mask may reach beyond its shape.
func padding(gap, res float64) int { return int(math.Ceil(growth(gap, res)/res)) + 1 }

// newMask rasters rings whose box has its top left corner at the origin.
func newMask(rings [][]geom.Point, size geom.Size, gap, res float64) *mask {
	pad := padding(gap, res)
	m := &mask{top: -pad, w: size.W, h: size.H}
	n := int(math.Ceil(size.H/res)) + 2*pad
	m.rows = pixels(grown(rings, growth(gap, res), (float64(m.top)+0.5)*res, res, n), res)
	m.finish(res)
	return m
}

// pixels turns stretches into runs of the pixels whose centres they hold.
func pixels(lines [][]stretch, res float64) [][]run {
	out := make([][]run, len(lines))
	for i, line := range lines {
		for _, s := range line {
			a, b := int(math.Ceil(s.a/res-0.5)), int(math.Floor(s.b/res-0.5))
			if n := len(out[i]); n > 0 && a <= out[i][n-1].b+1 {
				out[i][n-1].b = max(b, out[i][n-1].b)
			} else if a <= b {
				out[i] = append(out[i], run{a, b})
			}
		}
	}
	return out
}

// finish drops empty lines at both ends and sets what follows from the lines.
func (m *mask) finish(res float64) {
	for len(m.rows) > 0 && len(m.rows[0]) == 0 {
		m.rows, m.top = m.rows[1:], m.top+1
	}
	for n := len(m.rows); n > 0 && len(m.rows[n-1]) == 0; n-- {
		m.rows = m.rows[:n-1]
	}
	m.probe = bisecting(len(m.rows))
	count, moment := 0, 0
	for i, row := range m.rows {
		for _, r := range row {
			count += r.b - r.a + 1
			moment += (r.b - r.a + 1) * (2*(i+m.top) + 1)
		}
	}
	m.area = float64(count) * res * res
	if count > 0 {
		m.sink = float64(moment) / float64(2*count) * res
	}
}

// bisecting lists 0 … n-1 so that each next one is far from those before.
func bisecting(n int) []int {
	out := make([]int, 0, n)
	seen := make([]bool, n)
	add := func(i int) {
		if i < n && !seen[i] {
			seen[i] = true
			out = append(out, i)
		}
	}
	step := 1
	for step < n {
		step *= 2
	}
	add(n - 1)
	for ; step >= 1; step /= 2 {
		for i := 0; i < n; i += step {
			add(i)
		}
	}
	return out
}

// grid is the raster of the usable part of a sheet, with a border of pad pixels
// for what masks reach beyond it. A set bit is spent.
type grid struct {
	pad, words, lines int
	bits              []uint64
}

// newGrid returns a free grid for a usable part in mm.
func newGrid(room geom.Size, gap, res float64) *grid {
	pad := padding(gap, res)
	w, h := int(math.Ceil(room.W/res))+2*pad+2, int(math.Ceil(room.H/res))+2*pad+2
	g := &grid{pad: pad, words: (w + 63) / 64, lines: h}
	g.bits = make([]uint64, g.words*h)
	return g
}

func (g *grid) clone() *grid {
	c := *g
	c.bits = append([]uint64(nil), g.bits...)
	return &c
}

// spend sets a mask's pixels at (u, v); what lies outside the grid is left out.
func (g *grid) spend(m *mask, u, v int) {
	for i, row := range m.rows {
		y := v + m.top + i + g.pad
		if y < 0 || y >= g.lines {
			continue
		}
		line := g.bits[y*g.words : (y+1)*g.words]
		for _, r := range row {
			a, b := max(0, u+r.a+g.pad), min(64*g.words-1, u+r.b+g.pad)
			for a <= b {
				word, end := a/64, min(b, a|63)
				line[word] |= (^uint64(0) << (a % 64)) & (^uint64(0) >> (63 - end%64))
				a = end + 1
			}
		}
	}
}

// last returns the last set bit of line from a to b, -1 if there is none.
func (g *grid) last(line []uint64, a, b int) int {
	first, word := a/64, b/64
	w := line[word] & (^uint64(0) >> (63 - b%64))
	for {
		if word == first {
			w &= ^uint64(0) << (a % 64)
		}
		if w != 0 {
			return word*64 + 63 - bits.LeadingZeros64(w)
		}
		if word == first {
			return -1
		}
		word--
		w = line[word]
	}
}

// spot is a place on the raster: of the top left corner of a shape's box.
type spot struct{ u, v int }

// find returns the first spot, line by line, at or after from where the mask
// meets nothing spent, u up to most.u and v up to most.v. A spent pixel under a
// run rules out every place up to the one where the run starts behind it, so
// that most places are never looked at.
func (g *grid) find(m *mask, from, most spot) (spot, bool) {
	n, k := len(m.rows), 0
	for u, v := from.u, from.v; v <= most.v; u, v = 0, v+1 {
		free := 0
		for u <= most.u {
			i := m.probe[k]
			y := v + m.top + i + g.pad
			line := g.bits[y*g.words : (y+1)*g.words]
			next := -1
			for _, r := range m.rows[i] {
				if x := g.last(line, u+r.a+g.pad, u+r.b+g.pad); x >= 0 {
					next = max(next, x-g.pad-r.a+1)
				}
			}
			if next >= 0 {
				u, free = next, 0
				continue
			}
			if free++; free == n {
				return spot{u, v}, true
			}
			if k++; k == n {
				k = 0
			}
		}
	}
	return spot{}, false
}
