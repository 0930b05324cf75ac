package decal

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
)

// mirrored returns the piece as its back is seen: all that goes on the float and
// the cut are mirrored left to right about the outline's middle, and the caption
// outside the trim stays readable. The piece given is not changed.
func mirrored(p nest.Piece) nest.Piece {
	around := p.Outline.Bounds()
	if len(p.Outline) == 0 {
		around = p.Box
	}
	flip := geom.Affine{A: -1, D: 1, E: around.Min.X + around.Max.X}
	out := p
	out.Outline = p.Outline.Transform(flip)
	// The caption stays where it is and the rest changes sides: the box holds both.
	out.Box = p.Box.Union(geom.Rectangle(p.Box).Transform(flip).Bounds())
	out.Drawing = &draw.Sheet{Name: p.Drawing.Name, Size: p.Drawing.Size}
	for _, l := range draw.Layers() {
		if l == draw.Guide {
			out.Drawing.Layers[l] = p.Drawing.Layers[l]
			continue
		}
		out.Drawing.Layers[l] = flipped(p.Drawing.Layers[l], geom.Identity, flip)
	}
	return out
}

// flipped returns ops, which lie at at, mirrored by flip, in painting order. A
// rigid group must stay one that is moved and turned, not mirrored, so that
// calibration can set its origin on a whole dot: its content is mirrored within
// its own box instead, and the group moved to where that box then lies.
func flipped(ops []draw.Op, at, flip geom.Affine) []draw.Op {
	var out, run []draw.Op
	flush := func() {
		if len(run) > 0 {
			out = append(out, &draw.Group{Name: "mirrored", At: at.Then(flip), Ops: run})
		}
		run = nil
	}
	for _, o := range ops {
		g, ok := o.(*draw.Group)
		if !ok || !holdsRigid(g) {
			run = append(run, o)
			continue
		}
		flush()
		here := g.At.Then(at)
		if !g.Rigid {
			out = append(out, &draw.Group{Name: g.Name, At: geom.Identity, Ops: flipped(g.Ops, here, flip)})
			continue
		}
		b := draw.Bounds(g.Ops)
		inside := geom.Affine{A: -1, D: 1, E: b.Min.X + b.Max.X} // its own inverse
		out = append(out, &draw.Group{Name: g.Name, At: inside.Then(here).Then(flip), Rigid: true,
			Ops: []draw.Op{&draw.Group{Name: "mirrored", At: inside, Ops: g.Ops}}})
	}
	flush()
	return out
}

func holdsRigid(g *draw.Group) bool {
	if g.Rigid {
		return true
	}
	for _, o := range g.Ops {
		if in, ok := o.(*draw.Group); ok && holdsRigid(in) {
			return true
		}
	}
	return false
}
