package svg

import (
	"bytes"
	"io"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// Registration marks of a cut file, mm: discs that a cutting machine's camera
// finds, at three corners, so that a sheet put in upside down is noticed. They are
// on the printed sheet too (Registration). Own choices.
const (
	markAcross = 5.0
	markInset  = 8.0  // of their middles from the edges of the sheet
	cutHair    = 0.05 // width of a cut line: machines go along its middle
)

// Registration returns the marks of a sheet of that size: all corners but the
// lower right.
func Registration(size geom.Size) []draw.Op {
	var all []draw.Op
	for _, c := range []geom.Point{{X: markInset, Y: markInset}, {X: size.W - markInset, Y: markInset}, {X: markInset, Y: size.H - markInset}} {
		all = append(all, &draw.Fill{Path: geom.Circle(c, markAcross/2), Ink: draw.Black})
	}
	return all
}

// WriteCut writes what a cutting machine needs of a sheet: the paths of its layers
// cut and crease as solid hairlines, each layer a group of its name, and the
// registration marks as a group "registration". Fills on these layers are cut
// along their outlines. Errors are those of Write.
func WriteCut(w io.Writer, s *draw.Sheet) error {
	only := &draw.Sheet{Name: s.Name, Size: s.Size}
	for _, l := range []draw.Layer{draw.Cut, draw.Crease} {
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, _ bool) {
			var p geom.Path
			switch op := op.(type) {
			case *draw.Stroke:
				p = op.Path
			case *draw.Fill:
				p = op.Path
			default:
				return
			}
			only.Add(l, &draw.Stroke{Path: p.Transform(at), Ink: draw.Black, Width: cutHair})
		})
	}
	var b bytes.Buffer
	if err := Write(&b, only); err != nil {
		return err
	}
	// The marks go in a group of their own: no layer is for them.
	p := &writer{}
	p.out.WriteString("<g id=\"registration\">\n")
	draw.Walk(Registration(s.Size), p.draw)
	p.out.WriteString("</g>\n</svg>\n")
	if p.err != nil {
		return p.err
	}
	file := append(bytes.TrimSuffix(b.Bytes(), []byte("</svg>\n")), p.out.Bytes()...)
	return send(w, file)
}
