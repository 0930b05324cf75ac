package svg

import (
	"fmt"
	"io"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Registration are the marks by which a cutting machine, or an eye over its
// blade, finds a printed sheet again. A mark is a disc with two opposite
// quarters left out, so that its middle is where four corners meet: sharp at any
// size and under any camera. It stands at three corners of the sheet and not at
// the fourth, bottom right, so that a turned sheet is seen.
//
// The zero value has no marks.
type Registration struct {
	Inset    float64 // from the sheet's two edges to a mark's middle, mm
	Diameter float64 // mm
}

// DefaultRegistration suits hand-fed machines: clear of a printer's margin of
// 5 mm, large enough to aim at (estimate).
var DefaultRegistration = Registration{Inset: 10, Diameter: 5}

// At returns the middles of the marks on a sheet of that size in mm: top left,
// top right, bottom left.
func (r Registration) At(size geom.Size) [3]geom.Point {
	return [3]geom.Point{{X: r.Inset, Y: r.Inset}, {X: size.W - r.Inset, Y: r.Inset}, {X: r.Inset, Y: size.H - r.Inset}}
}

// Marks returns the marks for the printed sheet, in black: what WriteCut writes
// for the machine, in the same places. None for the zero value.
func (r Registration) Marks(size geom.Size) []draw.Op {
	if r == (Registration{}) {
		return nil
	}
	var p geom.Path
	for _, c := range r.At(size) {
		for _, from := range []float64{0, math.Pi} {
			p.MoveTo(c)
			p.Arc(c, r.Diameter/2, from, from+math.Pi/2)
			p.Close()
		}
	}
	return []draw.Op{&draw.Fill{Path: p, Ink: draw.Black}}
}

// Identities of the groups of a cut file.
const (
	cutGroup          = "cut"
	registrationGroup = "registration"
)

// cutLine is the width of the lines of a cut file, mm: a machine follows their
// middle (common practice, no source).
const cutLine = 0.1

// WriteCut writes the paths of the layer Cut and the registration marks, nothing
// else: lines without dashes, one element for each, in painting order. A fill of
// that layer is cut round its edge; words are not cut. The paths lie where Write
// puts them.
//
// A sheet without cut paths, and marks that are no marks or do not lie on the
// sheet apart from each other, are Input errors; otherwise as Write.
func WriteCut(w io.Writer, s *draw.Sheet, r Registration) error {
	p := &writer{}
	p.open(s)
	if p.err != nil {
		return fault.At(s.Name, p.err)
	}
	if r != (Registration{}) {
		half := r.Diameter / 2
		if !(half > 0 && r.Inset >= half && 2*(r.Inset+half) < math.Min(s.Size.W, s.Size.H)) {
			return fault.New(fault.Input, s.Name, fmt.Sprintf("marks of %g mm, %g mm from the edges, have no place on a sheet of %g x %g mm", r.Diameter, r.Inset, s.Size.W, s.Size.H),
				"choose smaller marks, or leave them out")
		}
		fmt.Fprintf(&p.out, "<g id=\"%s\">\n", registrationGroup)
		draw.Walk(r.Marks(s.Size), p.draw)
		p.out.WriteString("</g>\n")
	}
	fmt.Fprintf(&p.out, "<g id=\"%s\">\n", cutGroup)
	paths := 0
	line := func(path geom.Path) {
		if len(path) > 0 {
			paths++
			fmt.Fprintf(&p.out, "<path fill=\"none\" stroke=\"%s\" stroke-width=\"%s\" d=\"%s\"/>\n", draw.Black, p.num(cutLine), p.path(path))
		}
	}
	draw.Walk(s.Layers[draw.Cut], func(op draw.Op, at geom.Affine, _ bool) {
		switch op := op.(type) {
		case *draw.Stroke:
			line(op.Path.Transform(at))
		case *draw.Fill:
			line(op.Path.Transform(at))
		case *draw.Glyphs:
		default:
			p.fail("the op %T is unknown to the SVG writer", op)
		}
	})
	p.out.WriteString("</g>\n")
	if paths == 0 && p.err == nil {
		return fault.New(fault.Input, s.Name, "the sheet has nothing to cut", "lay it out with cut lines")
	}
	return p.close(w, s)
}
