// Package svg writes a sheet as SVG: exact outlines in millimetres, one group
// for each layer in painting order; or its cut paths alone, for a machine.
//
// Letters are written as outlines, so that the file looks alike everywhere,
// each run with its words as a title: they are read aloud, found and shown
// under the pointer. Sections of SVG 1.1 are named from memory.
package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// decimals of a millimetre: a tenth of a micrometre, far below a printer's dot.
const decimals = 4

// Write writes the sheet. The same sheet gives the same bytes. A drawing list
// that breaks its own rules is an Ours error and nothing is written; an error of
// w is returned as class Machine.
func Write(w io.Writer, s *draw.Sheet) error {
	p := &writer{}
	p.open(s)
	for _, l := range draw.Layers() {
		if len(s.Layers[l]) == 0 {
			continue
		}
		fmt.Fprintf(&p.out, "<g id=\"%s\">\n", l)
		draw.Walk(s.Layers[l], p.draw)
		p.out.WriteString("</g>\n")
	}
	return p.close(w, s)
}

// open begins the file: its size in mm and its name.
func (p *writer) open(s *draw.Sheet) {
	if !(s.Size.W > 0 && s.Size.H > 0) {
		p.fail("a sheet of %g x %g mm makes no picture", s.Size.W, s.Size.H)
	}
	w, h := p.num(s.Size.W), p.num(s.Size.H)
	fmt.Fprintf(&p.out, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n", w, h, w, h)
	p.title("", s.Name)
}

// close ends the file and hands it over in one piece, if nothing was wrong.
func (p *writer) close(w io.Writer, s *draw.Sheet) error {
	p.out.WriteString("</svg>\n")
	if p.err != nil {
		return fault.At(s.Name, p.err)
	}
	return send(w, p.out.Bytes())
}

func send(w io.Writer, file []byte) error {
	n, err := w.Write(file)
	if err == nil && n < len(file) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fault.New(fault.Machine, "", "the picture could not be written: "+err.Error(), "see that there is room and leave to write", err)
	}
	return nil
}

// writer collects the file; the first error stays in err.
type writer struct {
	out bytes.Buffer
	err error
}

func (p *writer) fail(format string, args ...any) {
	if p.err == nil {
		p.err = fault.New(fault.Ours, "", fmt.Sprintf(format, args...), "")
	}
}

// title writes words as a title element; nothing for none.
func (p *writer) title(indent, words string) {
	if words == "" {
		return
	}
	p.out.WriteString(indent + "<title>")
	if err := xml.EscapeText(&p.out, []byte(words)); err != nil {
		p.fail("the words %q cannot be written: %v", words, err)
	}
	p.out.WriteString("</title>\n")
}

func (p *writer) draw(op draw.Op, at geom.Affine, _ bool) {
	switch op := op.(type) {
	case *draw.Fill:
		p.fill(op.Path.Transform(at), op.Ink)
	case *draw.Stroke:
		// A map that does not scale both ways alike counts by its area, as in
		// the other writers.
		scale := math.Sqrt(math.Abs(at.Det()))
		dash, sum := make([]string, len(op.Dash)), 0.0
		for i, d := range op.Dash {
			if d < 0 {
				sum = math.NaN()
			}
			dash[i], sum = p.num(d*scale), sum+d
		}
		if !(op.Width > 0) || len(dash) > 0 && !(sum > 0) {
			p.fail("a stroke of width %g mm and dash %v mm", op.Width, op.Dash)
			return
		}
		// Joins are mitred up to 10 widths in every writer; SVG's own limit is 4.
		fmt.Fprintf(&p.out, "<path fill=\"none\" stroke=\"%s\" stroke-width=\"%s\" stroke-miterlimit=\"10\"", op.Ink, p.num(op.Width*scale))
		if len(dash) > 0 {
			fmt.Fprintf(&p.out, " stroke-dasharray=\"%s\"", strings.Join(dash, " "))
		}
		fmt.Fprintf(&p.out, " d=\"%s\"/>\n", p.path(op.Path.Transform(at)))
	case *draw.Glyphs:
		var all geom.Path
		for _, g := range op.Run {
			all = append(all, draw.GlyphPath(op.Face, g.ID).Transform(g.At.Then(at))...)
		}
		p.out.WriteString("<g role=\"img\">\n")
		p.title("", op.Text)
		p.fill(all, op.Ink)
		p.out.WriteString("</g>\n")
	default:
		p.fail("the op %T is unknown to the SVG writer", op)
	}
}

func (p *writer) fill(path geom.Path, ink draw.Ink) {
	if len(path) > 0 {
		fmt.Fprintf(&p.out, "<path fill=\"%s\" fill-rule=\"nonzero\" d=\"%s\"/>\n", ink, p.path(path))
	}
}

// path writes path data (SVG 1.1, 8.3), absolute throughout.
func (p *writer) path(path geom.Path) string {
	var b strings.Builder
	started := false
	for _, s := range path {
		if s.Verb != geom.Move && !started {
			p.fail("a path goes on without a start")
			return ""
		}
		started = s.Verb != geom.Close
		points := 1
		switch s.Verb {
		case geom.Move:
			b.WriteByte('M')
		case geom.Line:
			b.WriteByte('L')
		case geom.Cubic:
			b.WriteByte('C')
			points = 3
		case geom.Close:
			b.WriteByte('Z')
			points = 0
		}
		for i := 0; i < points; i++ {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(p.num(s.P[i].X) + " " + p.num(s.P[i].Y))
		}
	}
	return b.String()
}

// far is the farthest a coordinate may lie, mm: beyond any sheet.
const far = 1e6

// num writes a length in mm, trailing zeros dropped.
func (p *writer) num(v float64) string {
	if !(math.Abs(v) < far) {
		p.fail("%g mm has no place on a sheet", v)
		return "0"
	}
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', decimals, 64), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
