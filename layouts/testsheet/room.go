package testsheet

import (
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// room knows which square millimetres of a sheet bear nothing. What is drawn as
// one counts by its box, so that nothing is set between the words of a mark.
type room struct {
	wide, high int
	taken      []bool
	sums       []int // of what is taken above and left of each corner; nil until asked for
}

// free returns what a sheet leaves within its margin.
func free(s *draw.Sheet, margin float64) *room {
	r := &room{wide: int(math.Ceil(s.Size.W)), high: int(math.Ceil(s.Size.H))}
	r.taken = make([]bool, r.wide*r.high)
	in := geom.XYWH(0, 0, s.Size.W, s.Size.H).Inset(margin)
	for y := range r.high {
		for x := range r.wide {
			r.taken[y*r.wide+x] = !in.Contains(geom.XYWH(float64(x), float64(y), 1, 1))
		}
	}
	for _, l := range draw.Layers() {
		for _, o := range s.Layers[l] {
			r.take(draw.Bounds([]draw.Op{o}))
		}
	}
	return r
}

// cells returns the square millimetres that a box touches, cut to the sheet.
func (r *room) cells(b geom.Rect) (x0, y0, x1, y1 int) {
	const hair = 1e-9 // a box that ends on a line does not touch what lies beyond
	clip := func(v float64, most int) int { return int(min(max(v, 0), float64(most))) }
	return clip(math.Floor(b.Min.X+hair), r.wide), clip(math.Floor(b.Min.Y+hair), r.high),
		clip(math.Ceil(b.Max.X-hair), r.wide), clip(math.Ceil(b.Max.Y-hair), r.high)
}

func (r *room) take(b geom.Rect) {
	x0, y0, x1, y1 := r.cells(b)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			r.taken[y*r.wide+x] = true
		}
	}
	r.sums = nil
}

// sum adds up, so that any box is judged in four look-ups.
func (r *room) sum() {
	w := r.wide + 1
	r.sums = make([]int, w*(r.high+1))
	for y := range r.high {
		line := 0
		for x := range r.wide {
			if r.taken[y*r.wide+x] {
				line++
			}
			r.sums[(y+1)*w+x+1] = r.sums[y*w+x+1] + line
		}
	}
}

// clear reports whether a box lies on nothing that is taken.
func (r *room) clear(b geom.Rect) bool {
	x0, y0, x1, y1 := r.cells(b)
	return r.none(x0, y0, x1, y1)
}

func (r *room) none(x0, y0, x1, y1 int) bool {
	if r.sums == nil {
		r.sum()
	}
	w := r.wide + 1
	return r.sums[y1*w+x1]-r.sums[y0*w+x1]-r.sums[y1*w+x0]+r.sums[y0*w+x0] == 0
}

// find returns the topmost place, and of those the leftmost, where a box of that
// size is clear, and takes it.
func (r *room) find(size geom.Size) (geom.Point, bool) {
	w, h := int(math.Ceil(size.W)), int(math.Ceil(size.H))
	for y := 0; y+h <= r.high; y++ {
		for x := 0; x+w <= r.wide; x++ {
			if r.none(x, y, x+w, y+h) {
				at := geom.Point{X: float64(x), Y: float64(y)}
				r.take(geom.Rect{Min: at, Max: at.Add(geom.Point{X: size.W, Y: size.H})})
				return at, true
			}
		}
	}
	return geom.Point{}, false
}
