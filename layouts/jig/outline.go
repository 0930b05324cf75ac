package jig

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Widths of the jig's lines, mm: thin, so that a pencil or a needle follows the
// edge and not the line.
const (
	cutWidth  = 0.25
	lineWidth = 0.1
)

var (
	lineInk  = draw.Ink{R: 60, G: 60, B: 60}
	arrowInk = draw.Black
)

// outlined redraws a mark as thin outlines: edges of rings and bands, letters,
// grounds; its cut as a solid line. Captions and the code stay out.
func outlined(p Piece) *draw.Sheet {
	out := &draw.Sheet{Name: "jig"}
	thin := func(path geom.Path) {
		if len(path) > 0 {
			out.Add(draw.Colour, &draw.Stroke{Path: path, Ink: lineInk, Width: lineWidth})
		}
	}
	for _, l := range []draw.Layer{draw.Ground, draw.Colour} {
		draw.Walk(p.Drawing.Layers[l], func(o draw.Op, at geom.Affine, rigid bool) {
			if rigid {
				return
			}
			switch o := o.(type) {
			case *draw.Fill:
				thin(o.Path.Transform(at))
			case *draw.Stroke:
				thin(o.Path.Transform(at))
			case *draw.Glyphs:
				for _, g := range o.Run {
					thin(draw.GlyphPath(o.Face, g.ID).Transform(g.At.Then(at)))
				}
			}
		})
	}
	out.Add(draw.Cut, &draw.Stroke{Path: p.Outline, Ink: draw.Black, Width: cutWidth})
	return out
}

// arrows point from under both ends of the base edge down to the base end, for
// a jig of that width and height.
func arrows(wide, high float64) []draw.Op {
	const barb = 1.2
	var ops []draw.Op
	for _, x := range []float64{barb, wide - barb} {
		top, tip := geom.Point{X: x, Y: high + 1}, geom.Point{X: x, Y: high + 1 + arrow}
		ops = append(ops, &draw.Stroke{Path: geom.LineBetween(top, geom.Point{X: x, Y: tip.Y - barb}), Ink: arrowInk, Width: cutWidth},
			&draw.Fill{Path: geom.Polygon(tip, geom.Point{X: x - barb, Y: tip.Y - 1.5*barb}, geom.Point{X: x + barb, Y: tip.Y - 1.5*barb}), Ink: arrowInk})
	}
	return ops
}

// hasRigid reports whether a code is among the ops.
func hasRigid(ops []draw.Op) bool {
	found := false
	draw.Walk(ops, func(_ draw.Op, _ geom.Affine, rigid bool) { found = found || rigid })
	return found
}
