// Package emblem reads a maker's own mark: SVG path data, an SVG file or a
// picture, each made into one path of one ink, filled by the non-zero rule.
//
// A path keeps the units of what it was read from, SVG's own or pixels, y down;
// Fit brings it to millimetres. The package knows no film, no ink and no place
// on a float, and reads no files: it is handed their bytes.
package emblem

import (
	"math"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Limits of what is read. No sources: a mark a few millimetres wide has a
// hundredth of them, and what passes them is a photograph or a mishap.
const (
	MaxSegments = 20000   // steps of a path, after arcs have become curves
	MaxBytes    = 8 << 20 // of path data, an SVG file or a picture
	MaxPixels   = 4000    // along a side of a picture
	maxCoord    = 1e6     // of a drawing, in its own units
)

// Fit scales a path, keeping its proportion, to the largest that lies in box,
// mm, and sets it in the box's middle. A path of no extent comes back empty.
func Fit(p geom.Path, box geom.Rect) geom.Path {
	b := extent(p)
	k := math.Min(ratio(box.W(), b.W()), ratio(box.H(), b.H()))
	if !(k > 0) || math.IsInf(k, 0) {
		return nil
	}
	middle := func(r geom.Rect) geom.Point { return r.Min.Add(r.Max).Scale(0.5) }
	c, to := middle(b), middle(box)
	return p.Transform(geom.Translate(-c.X, -c.Y).Then(geom.Scale(k, k)).Then(geom.Translate(to.X, to.Y)))
}

// extent returns the bounds. They are taken at a scale near 1, by a power of two
// and so without rounding: a drawing's units may be thousands wide, and geom
// tells a curve that is all but quadratic by millimetres.
func extent(p geom.Path) geom.Rect {
	most := 0.0
	for _, s := range p {
		for _, q := range s.P {
			most = max(most, math.Abs(q.X), math.Abs(q.Y))
		}
	}
	_, exp := math.Frexp(most)
	k := math.Ldexp(1, exp)
	b := p.Transform(geom.Scale(1/k, 1/k)).Bounds()
	return geom.Rect{Min: b.Min.Scale(k), Max: b.Max.Scale(k)}
}

// ratio is room over need; a side of no need sets no limit.
func ratio(room, need float64) float64 {
	if need == 0 {
		return math.Inf(1)
	}
	return room / need
}

// check refuses a path that leaves nothing to print or cannot be reckoned with.
func check(p geom.Path) error {
	if len(p) > MaxSegments {
		return tooMuch()
	}
	for _, s := range p {
		for _, q := range s.P {
			if !(math.Abs(q.X) <= maxCoord && math.Abs(q.Y) <= maxCoord) { // NaN fails
				return fault.Inputf("draw the mark near the origin, some hundred units wide", "the mark has a coordinate out of range")
			}
		}
	}
	if b := extent(p); !(b.W() > 0 && b.H() > 0) {
		return fault.Inputf("give closed, filled shapes; turn lines into outlines first", "the mark has nothing to fill")
	}
	return nil
}

func tooMuch() error {
	return fault.Inputf("simplify the mark: it is a few millimetres wide on a float", "the mark has more than %d steps", MaxSegments)
}
