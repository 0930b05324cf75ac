package testsheet

import (
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/layouts/wrap"
	"floatmark/loading/unit"
)

// The pattern on a band, mm. Lines along the edges show where film lifts or
// buckles, which is where it is too long; parallels bend over a wrinkle, and
// ticks draw together in one.
const (
	edgeLine = 0.35 // width of the lines along the edges and of the seam's
	fineLine = 0.15
	edgeIn   = 0.6 // from the cut to the middle of the edge line: scissors miss by half of it
	fineStep = 2.0 // between parallels
	fineAway = 1.0 // of a parallel from an edge line, at least
	mostTick = 1.2
	tickOf   = 0.12 // of the band's height
	capOf    = 0.4  // of the band's height
	mostCap  = 2.2
	nameAir  = 0.8 // round the name
)

// divisions is how many lines and ticks stand round the whole ball, 5.2 mm apart.
const divisions = 24

// band draws the pattern of the band called by height h on its flat piece.
func (s Spec) band(f wrap.Flat, h unit.Millimetre) (*draw.Sheet, error) {
	mid := f.Slant / 2
	name, err := typeset.Shape(s.name(h), typeset.Bold(s.Fonts, min(mostCap, capOf*f.Slant)))
	if err != nil {
		return nil, err
	}
	p := pattern{f, s.line(edgeLine), s.line(fineLine), nil}
	clear := f.Angle(name.Width/2+nameAir, mid)
	p.edges()
	for _, at := range parallels(f.Slant) {
		if math.Abs(at-mid) < name.Cap/2+nameAir {
			p.parallel(at, p.fine, f.Left(), -clear)
			p.parallel(at, p.fine, clear, math.Pi)
		} else {
			p.parallel(at, p.fine, f.Left(), math.Pi)
		}
	}
	p.across(clear, name.Cap)
	ops := append(p.ops, name.Along(func(x float64) geom.Affine {
		return f.Frame(f.Angle(x, mid), mid-name.Cap/2)
	}, typeset.Centre, draw.Black)...)

	sheet := &draw.Sheet{Name: "band " + h.Text(heightStep, unit.Style{})}
	sheet.Add(draw.Colour, ops...)
	sheet.Add(draw.Cut, &draw.Stroke{Path: f.Outline(), Ink: cutInk, Width: cutWidth, Dash: []float64{1, 0.8}})
	return sheet, nil
}

// line is the width of a line in whole dots, one at least, so that all lines of
// a kind come out alike.
func (s Spec) line(w float64) float64 { return max(s.Printer.Dot(), s.Printer.Snap(w)) }

// parallels returns where the fine lines round the ball run: the middle and
// every fineStep from it.
func parallels(slant float64) []float64 {
	reach := slant/2 - edgeIn - fineAway
	n := int(reach / fineStep)
	var out []float64
	for i := -n; i <= n; i++ {
		out = append(out, slant/2+float64(fineStep*float64(i)))
	}
	return out
}

// pattern is the drawing of one band on its way.
type pattern struct {
	f           wrap.Flat
	thick, fine float64
	ops         []draw.Op
}

func (p *pattern) fill(path geom.Path) {
	p.ops = append(p.ops, &draw.Fill{Path: path, Ink: draw.Black})
}

// parallel draws a line round the ball at s. Lines end at the seam's line, half
// a turn on, where the other end of the band comes to lie: rings then meet.
func (p *pattern) parallel(s, width, from, to float64) {
	p.fill(p.f.Band(s-width/2, s+width/2, from, to))
}

// meridian draws a line up the ball at theta, from s0 to s1.
func (p *pattern) meridian(theta, width, s0, s1 float64) {
	half := p.f.Angle(width/2, p.f.Slant/2)
	p.fill(p.f.Band(s0, s1, theta-half, theta+half))
}

// edges draws the two edge lines and the seam's.
func (p *pattern) edges() {
	top := p.f.Slant - edgeIn
	p.parallel(edgeIn, p.thick, p.f.Left(), math.Pi)
	p.parallel(top, p.thick, p.f.Left(), math.Pi)
	p.meridian(math.Pi, p.thick, edgeIn, top)
}

// across draws lines up the ball: every other one from edge to edge, broken
// about the name, those between as ticks at both edges.
func (p *pattern) across(clear, cap float64) {
	mid, top := p.f.Slant/2, p.f.Slant-edgeIn
	for i := 1 - divisions/2; i < divisions/2; i++ {
		theta, reach := 2*math.Pi*float64(i)/divisions, min(mostTick, tickOf*p.f.Slant)
		switch {
		case i%2 == 0 && math.Abs(theta) > clear:
			p.meridian(theta, p.fine, edgeIn, top)
			continue
		case i%2 == 0:
			reach = max(reach, mid-cap/2-nameAir-edgeIn)
		}
		p.meridian(theta, p.fine, edgeIn, edgeIn+reach)
		p.meridian(theta, p.fine, top-reach, top)
	}
}
