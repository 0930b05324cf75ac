package decal

import (
	"fmt"
	"math"
	"strings"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/nest"
	"floatmark/layouts/wrap"
	"floatmark/loading"
	"floatmark/loading/unit"
)

// Measures of the design, mm. They are ours, chosen by eye on printed pieces
// unless a source is named.
const (
	edge       = 0.8  // clear of the cut on every side
	facePad    = 0.9  // between the words of two faces, each side
	maxRating  = 7.0  // capitals of the rating: bigger only shouts
	leading    = 0.55 // between two lines, as a share of their mean cap height; clears descenders
	cutWidth   = 0.1
	capCaption = 1.5
	captionGap = 1.0
	thickRing  = 1.1
	thinRing   = 0.38
	ringGap    = 0.42
	bandShare  = 0.17 // of the piece's height
	bandLeast  = 2.6
	bandMost   = 4.2
)

// cutInk and captionInk are greys: they are cut away or lie outside the trim.
var (
	cutInk     = draw.Ink{R: 120, G: 120, B: 120}
	captionInk = draw.Ink{R: 90, G: 90, B: 90}
)

// layout is a piece on its way: what is decided and what is drawn.
type layout struct {
	Spec
	zone    label.Zone
	flat    wrap.Flat
	show    label.Show
	turn    label.Turn
	code    *codePlan
	lines   []label.Line
	repeats int

	lo, hi  float64   // what the strips leave for words, over the lower edge
	ops     []draw.Op // colour layer
	notices []loading.Notice
	least   float64           // the smallest capitals on the piece, mm; 0 when there are none
	settled []legible.Setting // how each line lies, once for those that repeat
}

func (l *layout) noteCap(cap float64) {
	if l.least == 0 || cap < l.least {
		l.least = cap
	}
}

func (l *layout) notice(code, text string) {
	l.notices = append(l.notices, loading.Notice{Code: code, Text: text})
}

// span is the angle of the body that words may take, even to both sides of the
// centre meridian: a gap at the right edge is kept free at the left too.
func (l *layout) span() float64 {
	return 2 * math.Min(math.Pi, math.Min(l.flat.Right(), -l.flat.Left()))
}

// reach is the length round the body at s that the piece covers, mm.
func (l *layout) reach(s float64) float64 { return l.flat.Hoop(s) * l.span() / (2 * math.Pi) }

// diameter is that of the body at s, the film's own thickness included.
func (l *layout) diameter(s float64) float64 { return l.flat.Hoop(s) / math.Pi }

func (l *layout) lay() error {
	if err := l.strips(); err != nil {
		return err
	}
	l.repeats = max(1, l.zone.Repeat)
	switch {
	case len(l.lines) == 0 && l.code == nil:
		return nil
	case l.turn == label.Lengthwise:
		return l.lengthwise()
	case len(l.show.Faces) > 0:
		return l.faces()
	}
	return l.row()
}

// finish puts the drawing, the cut outline and the caption together.
func (l *layout) finish(b band) Piece {
	outline := l.flat.Outline()
	sheet := &draw.Sheet{}
	sheet.Add(draw.Colour, l.ops...)
	sheet.Add(draw.Cut, &draw.Stroke{Path: outline, Ink: cutInk, Width: cutWidth, Dash: []float64{1, 0.8}})
	box, beside := l.caption(sheet, outline.Bounds())
	p := Piece{Flat: l.flat, Zone: l.zone, Turn: l.turn, Repeats: l.repeats, Printed: l.lines, Strain: b.strain, Least: l.least, Lines: l.judged()}
	if l.turn == label.Auto {
		p.Turn = label.Round
	}
	if l.code != nil {
		p.Code = &l.code.at
	}
	p.Piece = nest.Piece{Outline: outline, Box: box, Beside: beside, Drawing: sheet, Turns: []int{0, 1, 2, 3}}
	return p
}

// Place says where a piece sits, in words: from the end that the maker placed
// it from.
func (s Spec) Place(z label.Zone, flat wrap.Flat) string {
	const step = 0.1
	if z.AtTip {
		return s.Words.UpperEdge + " " + s.Words.Millimetre(s.Body.Top()-flat.To, step) + " " + s.Words.FromTip
	}
	return s.Words.LowerEdge + " " + s.Words.Millimetre(flat.From, step) + " " + s.Words.FromBase
}

// caption writes, outside the trim, which float the piece is for, where it sits
// and which end is up. It breaks at the dots so that it is not much wider than
// the piece. beside is what of the box it takes.
func (l *layout) caption(sheet *draw.Sheet, piece geom.Rect) (box geom.Rect, beside geom.Path) {
	what := l.Caption
	if what == "" {
		what = fmt.Sprintf("%s %d", l.Words.Float, l.Mark.Number)
	}
	parts := []string{what, l.Mark.ID, l.Place(l.zone, l.flat), l.Words.ThisEdgeDown}
	if l.Mark.ID == "" {
		parts = append(parts[:1], parts[2:]...) // a mark without a record
	}
	f := regular(l.Fonts, capCaption)
	box = piece
	y := piece.Max.Y + captionGap + capCaption
	for len(parts) > 0 {
		line, n := shape(parts[0], f), 1
		for ; n < len(parts); n++ {
			longer := shape(strings.Join(parts[:n+1], " · "), f)
			if longer.Width > piece.W() {
				break
			}
			line = longer
		}
		mid := (piece.Min.X + piece.Max.X) / 2
		ops := line.Straight(geom.Translate(mid, y), centre, captionInk)
		sheet.Add(draw.Guide, ops...)
		box = box.Union(whole(draw.Bounds(ops), mid))
		beside = append(beside, geom.Rectangle(whole(draw.Bounds(ops), mid))...)
		y += capCaption * 1.75
		parts = parts[n:]
	}
	return box, beside
}

// captionStep, mm: captions are given room in whole steps, so that the pieces of
// a pattern, whose ids differ in width by a letter, have one shape and nest as one.
const captionStep = 1.0

// whole widens a caption's box evenly about its middle.
func whole(b geom.Rect, mid float64) geom.Rect {
	half := math.Ceil(math.Max(mid-b.Min.X, b.Max.X-mid)/captionStep) * captionStep
	return geom.Rect{Min: geom.Point{X: mid - half, Y: math.Floor(b.Min.Y)}, Max: geom.Point{X: mid + half, Y: math.Ceil(b.Max.Y)}}
}

// mm writes a length in messages.
func (l *layout) mm(v float64) string { return l.Words.Millimetre(unit.Millimetre(v), 0.1) }
