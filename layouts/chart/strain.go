package chart

import (
	"math"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// StrainPoint is the hoop strain at one place of a flat piece: S mm up the
// slant, E a share, 0.02 being 2 %, positive where the film must stretch.
type StrainPoint struct{ S, E float64 }

// StrainSpec is how a strain plot is drawn.
type StrainSpec struct {
	Width, Height float64 // of the sheet, mm; 40 by 25 at least
	Limit         float64 // what the film bears, a share; 0 draws no band
	Title         string
	Fonts         fonts.Set
	Number        unit.Style
}

// Measures of the strain plot, mm. Own choices.
const (
	strainWide  = 40.0
	strainHigh  = 25.0
	strainLeft  = 13.0 // column of the figures
	strainTop   = 6.0
	strainFoot  = 6.0
	strainRight = 4.0
	curveWide   = 0.35
	headroom    = 1.25  // of the axis over the largest of strain and limit
	leastStrain = 0.001 // 0.1 %: an axis is never finer, or rounding would look like strain
	strainStep  = 0.1   // per cent, of the figures
	slantStep   = 0.1   // mm
)

// Strain draws the strain along a piece from its lower edge, left, to its upper:
// the curve, over a band of what the film bears to either side, with the largest
// stretch and the largest slack as figures. Parts past the limit are drawn red.
// A sheet that is too small is NoFit; fewer than two points, points that do not
// rise or are no numbers are Input errors.
func Strain(points []StrainPoint, s StrainSpec) (*draw.Sheet, error) {
	if !(s.Width >= strainWide && s.Height >= strainHigh) {
		return nil, fault.New(fault.NoFit, "strain plot", "it needs "+unit.Millimetre(strainWide).Text(1, unit.Style{})+" by "+
			unit.Millimetre(strainHigh).Text(1, unit.Style{}), "give it more room")
	}
	for i, q := range points {
		if math.IsNaN(q.E) || math.IsInf(q.E, 0) || math.IsNaN(q.S) || math.IsInf(q.S, 0) || i > 0 && !(q.S > points[i-1].S) {
			return nil, fault.At("strain plot", fault.Inputf("give them in rising order of slant", "the places are not in order"))
		}
	}
	if len(points) < 2 || !(s.Limit >= 0 && s.Limit < 1) {
		return nil, fault.At("strain plot", fault.Inputf("give two places or more, and a limit as in 0.02", "there is nothing to draw"))
	}
	lo, hi := 0.0, 0.0
	for _, q := range points {
		lo, hi = min(lo, q.E), max(hi, q.E)
	}
	span := headroom * max(-lo, hi, s.Limit, leastStrain)
	x0, x1, top, foot := strainLeft, s.Width-strainRight, strainTop, s.Height-strainFoot
	first, last := points[0].S, points[len(points)-1].S
	at := func(q StrainPoint) geom.Point {
		return geom.Point{X: x0 + (x1-x0)*(q.S-first)/(last-first), Y: (top+foot)/2 - (foot-top)/2*q.E/span}
	}
	height := func(e float64) float64 { return at(StrainPoint{S: first, E: e}).Y }

	p := &plot{Spec: Spec{Fonts: s.Fonts, Number: s.Number, Width: s.Width}, x0: x0, x1: x1}
	p.sheet = &draw.Sheet{Name: s.Title, Size: geom.Size{W: s.Width, H: s.Height}}
	if s.Limit > 0 {
		p.ground(p.rect(x0, height(s.Limit), x1-x0, height(-s.Limit)-height(s.Limit), band))
	}
	p.add(p.line(x0, height(0), x1, height(0), hair, rule), p.line(x0, top, x0, foot, hair, rule))
	for i := 1; i < len(points); i++ {
		a, b, colour := at(points[i-1]), at(points[i]), ink
		if s.Limit > 0 && max(math.Abs(points[i-1].E), math.Abs(points[i].E)) > s.Limit {
			colour = outside
		}
		p.add(p.line(a.X, a.Y, b.X, b.Y, curveWide, colour))
	}
	small := typeset.Regular(s.Fonts, factCap)
	type text struct {
		words string
		f     typeset.Font
		x, y  float64
		side  typeset.Align
		width float64
	}
	mid := factCap / 2
	texts := []text{{s.Title, typeset.Bold(s.Fonts, titleCap), 0, titleCap + 0.6, typeset.Left, s.Width},
		{p.perCent(0), small, x0 - labelGap, height(0) + mid, typeset.Right, x0},
		{unit.Millimetre(0).Text(slantStep, s.Number), small, x0, s.Height - 2, typeset.Left, (x1 - x0) / 2},
		{unit.Millimetre(last-first).Text(slantStep, s.Number), small, x1, s.Height - 2, typeset.Right, (x1 - x0) / 2}}
	for _, e := range []float64{hi, lo} {
		if math.Abs(height(e)-height(0)) > 1.2*factCap { // else the figure would lie on the 0
			texts = append(texts, text{p.perCent(e), small, x0 - labelGap, height(e) + mid, typeset.Right, x0})
		}
	}
	for _, w := range texts {
		if w.words == "" {
			continue
		}
		if err := p.put(w.words, w.f, w.x, w.y, w.side, w.width, ink); err != nil {
			return nil, fault.At("strain plot", err)
		}
	}
	return p.sheet, nil
}

// perCent writes a strain with its sign: "+2.0 %".
func (p *plot) perCent(e float64) string {
	t := unit.Number(math.Abs(100*e), strainStep, p.Number) + " %"
	switch {
	case unit.Round(100*e, strainStep) > 0:
		return "+" + t
	case unit.Round(100*e, strainStep) < 0:
		return "−" + t
	}
	return t
}
