package pdf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Decimals of the numbers in a page. Places are in mm: 0.1 micrometre is a
// hundredth of a 2400 dpi dot. Matrix entries multiply lengths up to an em or a
// page and get more; colours are one of 256 steps.
const (
	placeDecimals  = 4
	matrixDecimals = 7
	pointDecimals  = 5
	inkDecimals    = 4
)

// maxNumber bounds what is written: far beyond any page, well inside what
// readers with 32-bit numbers keep exact to a micrometre's order.
const maxNumber = 1e6

// page is a page before it has a file: its operators, size in mm and the
// layers that are not empty.
type page struct {
	w, h   float64
	ops    string
	layers []draw.Layer
}

// writer collects operators; the first thing that cannot be written stays in err.
type writer struct {
	strings.Builder
	used *faces
	err  error
}

// content writes the operators of one sheet and notes its faces and characters.
func content(s *draw.Sheet, used *faces) (page, error) {
	o := &writer{used: used}
	p := page{w: s.Size.W, h: s.Size.H}
	k := points(1)
	// Millimetres with y down become points with y up: here and nowhere else.
	o.op("cm", matrixDecimals, k, 0, 0, -k, 0, points(s.Size.H))
	for _, l := range draw.Layers() {
		if len(s.Layers[l]) == 0 {
			continue
		}
		p.layers = append(p.layers, l)
		fmt.Fprintf(o, "/OC /%s BDC\n", property(l))
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, _ bool) { o.draw(op, at) })
		o.WriteString("EMC\n")
	}
	p.ops = o.String()
	return p, o.err
}

// property is the name by which a page's operators call a layer.
func property(l draw.Layer) string { return "Layer" + strconv.Itoa(int(l)) }

func (o *writer) draw(op draw.Op, at geom.Affine) {
	switch op := op.(type) {
	case *draw.Fill:
		if len(op.Path) > 0 {
			o.ink(op.Ink, "g", "rg")
			o.path(op.Path.Transform(at))
			o.WriteString("f\n")
		}
	case *draw.Stroke:
		if len(op.Path) > 0 {
			o.stroke(op, at)
		}
	case *draw.Glyphs:
		if len(op.Run) > 0 {
			o.glyphs(op, at)
		}
	default:
		o.fail("the op %T is unknown to the PDF writer", op)
	}
}

func (o *writer) stroke(op *draw.Stroke, at geom.Affine) {
	scale, sum := uniform(at.Det()), 0.0
	dash := make([]float64, len(op.Dash))
	for i, d := range op.Dash {
		if d < 0 {
			o.fail("a dash of %g mm", d)
		}
		dash[i], sum = d*scale, sum+d
	}
	if !(op.Width > 0) || (len(dash) > 0 && !(sum > 0)) {
		o.fail("a stroke of width %g mm and dash %v mm", op.Width, op.Dash)
	}
	o.ink(op.Ink, "G", "RG")
	o.op("w", placeDecimals, op.Width*scale)
	o.WriteString("[")
	o.numbers(placeDecimals, dash...)
	o.WriteString("] 0 d\n")
	o.path(op.Path.Transform(at))
	o.WriteString("S\n")
}

// glyphs sets a run as one text object with a matrix for each glyph: a run
// round a body is then still one word to whoever searches it. ActualText names
// the words, whatever readers make of the turned glyphs.
func (o *writer) glyphs(op *draw.Glyphs, at geom.Affine) {
	number, err := o.used.note(op)
	if err != nil {
		if o.err == nil {
			o.err = err
		}
		return
	}
	o.WriteString("/Span <</ActualText <FEFF")
	for _, u := range utf16.Encode([]rune(op.Text)) {
		fmt.Fprintf(o, "%04X", u)
	}
	o.WriteString(">>> BDC\n")
	o.ink(op.Ink, "g", "rg")
	// Size 1: the matrix of each glyph maps its em square, size and all.
	fmt.Fprintf(o, "BT\n/F%d 1 Tf\n", number)
	for _, g := range op.Run {
		m := g.At.Then(at)
		o.op("Tm", matrixDecimals, m.A, m.B, m.C, m.D, m.E, m.F)
		fmt.Fprintf(o, "<%04X> Tj\n", g.ID)
	}
	o.WriteString("ET\nEMC\n")
}

func (o *writer) path(p geom.Path) {
	started := false
	for _, s := range p {
		if s.Verb != geom.Move && !started {
			o.fail("a path goes on without a start")
			return
		}
		started = s.Verb != geom.Close
		switch q := s.P; s.Verb {
		case geom.Move:
			o.op("m", placeDecimals, q[0].X, q[0].Y)
		case geom.Line:
			o.op("l", placeDecimals, q[0].X, q[0].Y)
		case geom.Cubic:
			o.op("c", placeDecimals, q[0].X, q[0].Y, q[1].X, q[1].Y, q[2].X, q[2].Y)
		case geom.Close:
			o.WriteString("h\n")
		}
	}
}

// ink sets a colour. Equal parts are written as grey, so that black is the
// black toner alone.
func (o *writer) ink(c draw.Ink, grey, rgb string) {
	part := func(v uint8) float64 { return float64(v) / 255 }
	if c.R == c.G && c.G == c.B {
		o.op(grey, inkDecimals, part(c.R))
		return
	}
	o.op(rgb, inkDecimals, part(c.R), part(c.G), part(c.B))
}

func (o *writer) op(operator string, decimals int, v ...float64) {
	o.numbers(decimals, v...)
	o.WriteString(" " + operator + "\n")
}

func (o *writer) numbers(decimals int, v ...float64) {
	for i, x := range v {
		if math.IsNaN(x) || math.Abs(x) > maxNumber {
			o.fail("the number %g has no place on a page", x)
			x = 0
		}
		if i > 0 {
			o.WriteByte(' ')
		}
		o.WriteString(number(x, decimals))
	}
}

// number writes x with at most so many decimals and no useless zeros: short
// numbers pack far better.
func number(x float64, decimals int) string {
	t := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" {
		return "0"
	}
	return t
}

func (o *writer) fail(format string, args ...any) {
	if o.err == nil {
		o.err = fault.New(fault.Ours, "", fmt.Sprintf(format, args...), "")
	}
}

// faces are the faces of a document in the order they are first met, each with
// the characters that are set in it.
type faces struct {
	list  []*subset
	known map[*fonts.Face]*subset
}

// subset is one face and what is used of it.
type subset struct {
	face   *fonts.Face
	number int                    // of the font resource: /F1, /F2 ...
	text   []rune                 // characters in order of first use
	glyphs map[fonts.GlyphID]rune // the character each glyph stands for
}

func newFaces() *faces { return &faces{known: map[*fonts.Face]*subset{}} }

// of returns the subset of a face. A face parsed twice is one face.
func (f *faces) of(face *fonts.Face) *subset {
	if s := f.known[face]; s != nil {
		return s
	}
	for _, s := range f.list {
		if s.face.Name() == face.Name() && bytes.Equal(s.face.TTF(), face.TTF()) {
			f.known[face] = s
			return s
		}
	}
	s := &subset{face: face, number: len(f.list) + 1, glyphs: map[fonts.GlyphID]rune{}}
	f.known[face], f.list = s, append(f.list, s)
	return s
}

// note adds a run to its face's subset and returns the font's number. The
// subset is cut by characters, so each glyph must be the face's own for one of
// the run's characters.
func (f *faces) note(op *draw.Glyphs) (int, error) {
	s := f.of(op.Face)
	for _, r := range op.Text {
		id, ok := op.Face.Glyph(r)
		if _, seen := s.glyphs[id]; !ok || seen {
			continue
		}
		if r > 0xFFFF {
			return 0, fault.Inputf("leave the character out", "%q (U+%04X) of %q cannot be embedded", r, r, op.Text)
		}
		s.glyphs[id] = r
		s.text = append(s.text, r)
	}
	for _, g := range op.Run {
		if _, ok := s.glyphs[g.ID]; !ok {
			return 0, fault.New(fault.Ours, op.Face.Name(), fmt.Sprintf("glyph %d stands for no character of %q", g.ID, op.Text), "")
		}
	}
	return s.number, nil
}
