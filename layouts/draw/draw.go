// Package draw is the drawing list: what is on a sheet, as plain data, in
// millimetres, origin top left, y down. Every writer reads this list and
// nothing else; a layout is finished when its list is.
//
// Ops carry their own ink and width, so no writer has a state to be left in.
package draw

import (
	"floatmark/fonts"
	"floatmark/layouts/geom"
)

// Layer says what an op is for. Writers paint the layers in this order.
type Layer int

// The layers of a sheet, from the bottom up.
const (
	Ground Layer = iota // white or coloured grounds under the print
	Colour              // what is printed
	Cut                 // where to cut
	Crease              // where to fold
	Guide               // captions, check lines, marks for the bench
	layers
)

// Layers lists every layer in painting order.
func Layers() []Layer {
	all := make([]Layer, layers)
	for i := range all {
		all[i] = Layer(i)
	}
	return all
}

// String returns the layer's name, as the PDF's layer list and goldens show it.
func (l Layer) String() string {
	switch l {
	case Ground:
		return "ground"
	case Colour:
		return "colour"
	case Cut:
		return "cut"
	case Crease:
		return "crease"
	case Guide:
		return "guide"
	}
	return "unknown"
}

// Ink is an opaque sRGB colour.
type Ink struct{ R, G, B uint8 }

// Black is the ink of text and codes: pure black, so that a printer uses one toner.
var Black = Ink{}

// White is unprinted film or card where a ground must be covered.
var White = Ink{255, 255, 255}

// Op is one drawing operation: *Fill, *Stroke, *Glyphs or *Group. A fifth kind
// needs a reason, since every writer must learn it.
type Op interface{ op() }

// Fill paints the inside of a compound path by the non-zero rule.
type Fill struct {
	Path geom.Path
	Ink  Ink
}

// Stroke draws along a path. Width and Dash are in mm; an empty Dash is a solid
// line. Ends are butt, joins are mitred.
type Stroke struct {
	Path  geom.Path
	Ink   Ink
	Width float64
	Dash  []float64
}

// Glyph is one glyph of a face. At maps the face's em square (1 = one em, y up,
// origin on the baseline) to the sheet, so size, turn and the flip of y are in
// it and nowhere else.
type Glyph struct {
	ID fonts.GlyphID
	At geom.Affine
}

// Glyphs is a run of glyphs of one face and the words they stand for, so that
// text stays searchable.
type Glyphs struct {
	Face *fonts.Face
	Run  []Glyph
	Ink  Ink
	Text string
}

// Group is a list moved as one. A Rigid group is moved by the printer's
// calibration to the nearest dot and not scaled inside: codes are rigid.
type Group struct {
	Name  string // for goldens: what the group is
	At    geom.Affine
	Rigid bool
	Ops   []Op
}

func (*Fill) op()   {}
func (*Stroke) op() {}
func (*Glyphs) op() {}
func (*Group) op()  {}

// Sheet is one side of one physical sheet, or any other single picture. Trim is
// where a print shop cuts the sheet, Bleed how far the print goes beyond that,
// both in mm on the sheet; the zero Rect is the whole sheet, and for Bleed the
// same as Trim.
type Sheet struct {
	Name   string
	Size   geom.Size
	Trim   geom.Rect
	Bleed  geom.Rect
	Layers [layers][]Op
}

// Add appends ops to a layer.
func (s *Sheet) Add(l Layer, ops ...Op) { s.Layers[l] = append(s.Layers[l], ops...) }

// Place appends every layer of other to s, moved by at, each layer as one
// group of that name.
func (s *Sheet) Place(other *Sheet, at geom.Affine) {
	for _, l := range Layers() {
		if len(other.Layers[l]) > 0 {
			s.Add(l, &Group{Name: other.Name, At: at, Ops: other.Layers[l]})
		}
	}
}

// Document is what a writer that knows pages writes.
type Document struct {
	Title, Author, Subject string
	Date                   string // calendar text of the batch, "2026-11-20"; empty for none
	Sheets                 []*Sheet
}
