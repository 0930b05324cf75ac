package pdf

import (
	"crypto/sha256"
	"hash"
	"math"
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// A group that is moved, turned or scaled evenly is written in its own
// coordinates under one matrix. The first time it is written in place; when the
// same operators come again, wherever on whichever page, they become a form
// (ISO 32000-1, 8.10) and from then on are only named. What came once costs a
// digest and no object.

// farScale bounds the scale of a group in its own coordinates: between, seven
// decimals are enough for every place. Others are drawn in the outer ones.
const farScale = 1e3

// digest tells groups apart by what they draw.
type digest [16]byte

// minForm is the length in bytes from which a group may become a form: an
// object with its dictionary takes about as much.
const minForm = 300

// node is a page or a group under way.
type node struct {
	scale    float64   // mm on the page to a unit
	decimals int       // of its places
	from     int       // where its operators begin in the buffer
	hashed   int       // up to where they have gone into the digest
	sum      hash.Hash // of its operators; forms and groups in it count by their own digests
	forms    []int     // the forms it shows, each once
}

// enter begins a page or a group.
func (c *content) enter(decimals int) *node {
	if c.depth == len(c.nodes) {
		c.nodes = append(c.nodes, &node{sum: sha256.New()})
	}
	n := c.nodes[c.depth]
	c.depth++
	n.scale, n.decimals, n.from, n.hashed, n.forms = 1, decimals, len(c.buf), len(c.buf), n.forms[:0]
	n.sum.Reset()
	return n
}

func (c *content) current() *node { return c.nodes[c.depth-1] }

// decimals is how many decimals places have in the group under way.
func (c *content) decimals() int { return c.current().decimals }

// top returns the forms of the page under way.
func (c *content) top() []int { return c.nodes[0].forms }

// even reports whether a map scales both ways alike, so that a pen stays round
// under it, and by so little that places keep their decimals.
func even(m geom.Affine) bool {
	const slack = 1e-9 // of the scale: rounding of a turn
	k := uniform(m.Det())
	turned := math.Hypot(m.A-m.D, m.B+m.C) <= slack*k
	mirrored := math.Hypot(m.A+m.D, m.B-m.C) <= slack*k
	return k > 1/farScale && k < farScale && (turned || mirrored)
}

// group draws a group; at maps it to the node under way.
func (c *content) group(ops []draw.Op, at geom.Affine) {
	if len(ops) == 0 {
		return
	}
	outer := c.current()
	if !even(at) {
		c.ops(ops, at)
		return
	}
	start := len(c.buf)
	c.text("q\n")
	if at != geom.Identity {
		c.numbers(matrixDecimals, at.A, at.B, at.C, at.D)
		c.buf = append(c.buf, ' ')
		c.numbers(min(outer.decimals+1, len(tens)-1), at.E, at.F)
		c.text(" cm\n")
	}
	inner := c.enter(0)
	inner.scale = outer.scale * uniform(at.Det())
	inner.decimals = decimalsAt(inner.scale)
	c.ops(ops, geom.Identity)
	c.leave(outer, inner, start, ops)
}

// decimalsAt is how many decimals keep a place to 0.1 micrometre where a unit is
// scale mm.
func decimalsAt(scale float64) int {
	d := placeDecimals + int(math.Ceil(math.Log10(scale)-1e-9))
	return max(0, min(d, len(tens)-1))
}

// leave ends a group: in place, or as a form if its like was there before.
func (c *content) leave(outer, inner *node, start int, ops []draw.Op) {
	c.depth--
	if c.err != nil {
		return
	}
	if len(c.buf)-inner.from < minForm && len(inner.forms) == 0 {
		c.text("Q\n") // it counts as the outer one's own operators
		return
	}
	inner.sum.Write(c.buf[inner.hashed:])
	// The same text means another size at another precision, and its places are
	// then not as exact as they should be.
	inner.sum.Write([]byte{byte(inner.decimals)})
	var d digest
	copy(d[:], inner.sum.Sum(nil))
	// The outer digest takes the matrix and this digest, whether or not the
	// operators stay.
	outer.sum.Write(c.buf[outer.hashed:inner.from])
	outer.sum.Write(d[:])
	form, known := c.forms[d]
	if known && form == 0 {
		form = c.emit(c.buf[inner.from:], formBox(ops), inner.forms)
	}
	c.forms[d] = form
	if form != 0 {
		c.buf = append(c.buf[:inner.from], "/X"...)
		c.buf = strconv.AppendInt(c.buf, int64(form), 10)
		c.text(" Do\nQ\n")
		outer.show(form)
	} else {
		c.text("Q\n")
		for _, f := range inner.forms {
			outer.show(f)
		}
	}
	outer.hashed = len(c.buf)
}

func (n *node) show(form int) {
	for _, f := range n.forms {
		if f == form {
			return
		}
	}
	n.forms = append(n.forms, form)
}

// formBox is the box a form is clipped to: all that it draws and the mitres of
// its strokes, at most ten widths long (ISO 32000-1, table 52, from memory).
func formBox(ops []draw.Op) [4]float64 {
	const mitre = 10.0
	b, widest := draw.Bounds(ops), 0.0
	draw.Walk(ops, func(op draw.Op, at geom.Affine, _ bool) {
		if s, ok := op.(*draw.Stroke); ok {
			widest = math.Max(widest, s.Width*uniform(at.Det()))
		}
	})
	// Rounding must not cut: a hundredth on each side.
	grow := mitre/2*widest + 0.01*math.Max(b.W(), b.H())
	b = b.Inset(-grow)
	return [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y}
}
