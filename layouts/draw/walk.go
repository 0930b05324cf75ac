package draw

import (
	"fmt"
	"strings"

	"floatmark/layouts/geom"
)

// Walk calls f for every Fill, Stroke and Glyphs of ops in painting order, with
// the map from the op's own coordinates to those of ops. rigid says whether the
// op lies in a rigid group.
func Walk(ops []Op, f func(op Op, at geom.Affine, rigid bool)) { walk(ops, geom.Identity, false, f) }

func walk(ops []Op, at geom.Affine, rigid bool, f func(Op, geom.Affine, bool)) {
	for _, o := range ops {
		if g, ok := o.(*Group); ok {
			walk(g.Ops, g.At.Then(at), rigid || g.Rigid, f)
			continue
		}
		f(o, at, rigid)
	}
}

// Bounds returns the rectangle that holds the ops of the given layers; strokes
// count by their path, glyphs by their em outline. The zero Rect if nothing is there.
func (s *Sheet) Bounds(of ...Layer) geom.Rect {
	var b geom.Rect
	for _, l := range of {
		b = b.Union(Bounds(s.Layers[l]))
	}
	return b
}

// Bounds returns the rectangle that holds the ops.
func Bounds(ops []Op) geom.Rect {
	var b geom.Rect
	var letter geom.Path // one after another in the same room
	Walk(ops, func(o Op, at geom.Affine, _ bool) {
		switch o := o.(type) {
		case *Fill:
			b = b.Union(o.Path.Transform(at).Bounds())
		case *Stroke:
			b = b.Union(o.Path.Transform(at).Bounds())
		case *Glyphs:
			for _, g := range o.Run {
				if letter = appendGlyph(letter[:0], o.Face, g.ID); len(letter) > 0 {
					letter.TransformInPlace(g.At.Then(at))
					b = b.Union(letter.Bounds())
				}
			}
		}
	})
	return b
}

// Dump writes the sheet as text, one op a line, three decimals of a millimetre:
// the form in which layouts are kept as goldens and compared.
func (s *Sheet) Dump() string {
	var b strings.Builder
	fmt.Fprintf(&b, "sheet %q %s\n", s.Name, nums(s.Size.W, s.Size.H))
	for _, l := range Layers() {
		if len(s.Layers[l]) > 0 {
			fmt.Fprintf(&b, "layer %s\n", l)
			dump(&b, s.Layers[l], "  ")
		}
	}
	return b.String()
}

func dump(b *strings.Builder, ops []Op, indent string) {
	for _, o := range ops {
		switch o := o.(type) {
		case *Fill:
			fmt.Fprintf(b, "%sfill %s %s\n", indent, o.Ink, pathText(o.Path))
		case *Stroke:
			fmt.Fprintf(b, "%sstroke %s width %s dash %s %s\n", indent, o.Ink, nums(o.Width), nums(o.Dash...), pathText(o.Path))
		case *Glyphs:
			fmt.Fprintf(b, "%sglyphs %s %s %q", indent, o.Ink, o.Face.Name(), o.Text)
			if n := len(o.Run); n > 0 {
				first, last := o.Run[0].At, o.Run[n-1].At
				fmt.Fprintf(b, " n %d first [%s] last [%s]", n, affineText(first), affineText(last))
			}
			b.WriteByte('\n')
		case *Group:
			rigid := ""
			if o.Rigid {
				rigid = " rigid"
			}
			fmt.Fprintf(b, "%sgroup %q%s [%s]\n", indent, o.Name, rigid, affineText(o.At))
			dump(b, o.Ops, indent+"  ")
		}
	}
}

// String returns the ink as "#rrggbb".
func (i Ink) String() string { return fmt.Sprintf("#%02x%02x%02x", i.R, i.G, i.B) }

// maxDumped keeps a code's outline, some hundred segments, on a readable line.
const maxDumped = 24

func pathText(p geom.Path) string {
	bb := p.Bounds()
	head := fmt.Sprintf("box %s", nums(bb.Min.X, bb.Min.Y, bb.Max.X, bb.Max.Y))
	if len(p) > maxDumped {
		return fmt.Sprintf("%s segments %d area %s", head, len(p), nums(p.Area(0.01)))
	}
	var parts []string
	for _, s := range p {
		switch s.Verb {
		case geom.Move:
			parts = append(parts, "M "+nums(s.P[0].X, s.P[0].Y))
		case geom.Line:
			parts = append(parts, "L "+nums(s.P[0].X, s.P[0].Y))
		case geom.Cubic:
			parts = append(parts, "C "+nums(s.P[0].X, s.P[0].Y, s.P[1].X, s.P[1].Y, s.P[2].X, s.P[2].Y))
		case geom.Close:
			parts = append(parts, "Z")
		}
	}
	return head + " " + strings.Join(parts, " ")
}

func affineText(m geom.Affine) string { return nums(m.A, m.B, m.C, m.D, m.E, m.F) }

func nums(v ...float64) string {
	parts := make([]string, len(v))
	for i, x := range v {
		t := fmt.Sprintf("%.3f", x)
		if t == "-0.000" {
			t = "0.000"
		}
		parts[i] = t
	}
	return strings.Join(parts, " ")
}
