package pdf

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf16"

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

// content collects the operators of a page; the first thing that cannot be
// written stays in err.
type content struct {
	buf     []byte
	faces   *faces
	forms   map[digest]int // groups met before: the form's object, 0 while there is none
	emit    func(body []byte, box [4]float64, forms []int) int
	nodes   []*node // from the page to the group under way, then spare ones
	depth   int
	black   bool
	spot    bool // in the layer Cut
	rigid   bool
	cutInk  *draw.Ink // of the first cut line
	scratch geom.Path
	err     error
}

// begin empties the content for a new page. Forms and faces are kept: they are
// the document's.
func (c *content) begin() {
	c.buf, c.err, c.depth = c.buf[:0], nil, 0
	c.enter(placeDecimals)
}

// layer writes one layer as optional content.
func (c *content) layer(l draw.Layer, ops []draw.Op) {
	c.buf = append(append(append(c.buf, "/OC /"...), property(l)...), " BDC\n"...)
	if c.spot = l == draw.Cut; c.spot {
		c.text("q\n/" + overprintName + " gs\n")
	}
	c.ops(ops, geom.Identity)
	if c.spot {
		c.text("Q\n")
	}
	c.text("EMC\n")
}

// property is the name by which a page's operators call a layer.
func property(l draw.Layer) string { return "Layer" + strconv.Itoa(int(l)) }

// ops draws a list; at maps its coordinates to those of the group under way.
func (c *content) ops(ops []draw.Op, at geom.Affine) {
	for _, op := range ops {
		if c.err != nil {
			return
		}
		switch op := op.(type) {
		case *draw.Group:
			outer := c.rigid
			c.rigid = c.rigid || op.Rigid
			c.group(op.Ops, op.At.Then(at))
			c.rigid = outer
		case *draw.Fill:
			if len(op.Path) > 0 {
				c.ink(op.Ink, c.rigid, false)
				c.path(op.Path, at)
				c.text("f\n")
			}
		case *draw.Stroke:
			if len(op.Path) > 0 {
				c.stroke(op, at)
			}
		case *draw.Glyphs:
			if len(op.Run) > 0 {
				c.glyphs(op, at)
			}
		default:
			c.fail("the op %T is unknown to the PDF writer", op)
		}
	}
}

func (c *content) stroke(op *draw.Stroke, at geom.Affine) {
	scale, sum := uniform(at.Det()), 0.0
	dash := make([]float64, len(op.Dash))
	for i, d := range op.Dash {
		if d < 0 {
			c.fail("a dash of %g mm", d)
		}
		dash[i], sum = d*scale, sum+d
	}
	if !(op.Width > 0) || (len(dash) > 0 && !(sum > 0)) {
		c.fail("a stroke of width %g mm and dash %v mm", op.Width, op.Dash)
	}
	c.ink(op.Ink, c.rigid, true)
	c.numbers(c.decimals(), op.Width*scale)
	c.text(" w\n[")
	c.numbers(c.decimals(), dash...)
	c.text("] 0 d\n")
	c.path(op.Path, at)
	c.text("S\n")
}

// glyphs sets a run as one text object with a matrix for each glyph: a run
// round a body is then still one word to whoever searches it. ActualText names
// the words, whatever readers make of the turned glyphs.
func (c *content) glyphs(op *draw.Glyphs, at geom.Affine) {
	number, err := c.faces.note(op)
	if err != nil {
		if c.err == nil {
			c.err = err
		}
		return
	}
	c.text("/Span <</ActualText <FEFF")
	for _, u := range utf16.Encode([]rune(op.Text)) {
		c.buf = appendHex(c.buf, u)
	}
	c.text(">>> BDC\n")
	spot := c.spot
	c.spot = false // words beside a cut line are print
	c.ink(op.Ink, true, false)
	c.spot = spot
	// Size 1: the matrix of each glyph maps its em square, size and all.
	c.text("BT\n/F" + strconv.Itoa(number) + " 1 Tf\n")
	for _, g := range op.Run {
		m := g.At.Then(at)
		c.numbers(matrixDecimals, m.A, m.B, m.C, m.D, m.E, m.F)
		c.text(" Tm\n<")
		c.buf = appendHex(c.buf, uint16(g.ID))
		c.text("> Tj\n")
	}
	c.text("ET\nEMC\n")
}

// ink sets a colour. Equal parts are written as grey, so that black is the
// black toner alone. sharp is text or a code: with one plate it is black or
// white, since a screened grey frays.
func (c *content) ink(i draw.Ink, sharp, stroke bool) {
	if c.spot {
		if c.cutInk == nil {
			c.cutInk = &draw.Ink{R: i.R, G: i.G, B: i.B}
		}
		if stroke {
			c.text("/" + cutName + " CS\n1 SCN\n")
		} else {
			c.text("/" + cutName + " cs\n1 scn\n")
		}
		return
	}
	grey := i.R == i.G && i.G == i.B
	brightness := share(i.R)
	if c.black && !grey {
		// RGB to grey (ISO 32000-1, 10.3.2, from memory).
		brightness = float64(0.3*share(i.R)) + float64(0.59*share(i.G)) + float64(0.11*share(i.B))
	}
	if c.black && sharp {
		brightness = math.Round(brightness)
	}
	switch {
	case (grey || c.black) && stroke:
		c.numbers(inkDecimals, brightness)
		c.text(" G\n")
	case grey || c.black:
		c.numbers(inkDecimals, brightness)
		c.text(" g\n")
	default:
		c.numbers(inkDecimals, share(i.R), share(i.G), share(i.B))
		if stroke {
			c.text(" RG\n")
		} else {
			c.text(" rg\n")
		}
	}
}

// share is a part of an ink from 0 to 1.
func share(v uint8) float64 { return float64(v) / math.MaxUint8 }

func (c *content) text(s string) { c.buf = append(c.buf, s...) }

func (c *content) operator(s string) { c.buf = append(append(append(c.buf, ' '), s...), '\n') }

func (c *content) numbers(decimals int, v ...float64) {
	for i, x := range v {
		if !(math.Abs(x) <= maxNumber) {
			c.fail("the number %g has no place on a page", x)
			x = 0
		}
		if i > 0 {
			c.buf = append(c.buf, ' ')
		}
		c.buf = appendNumber(c.buf, x, decimals)
	}
}

func (c *content) fail(format string, args ...any) {
	if c.err == nil {
		c.err = fault.New(fault.Ours, "", fmt.Sprintf(format, args...), "")
	}
}
