// Package chart draws plots as sheets: how the floats of a batch lie about
// their ratings.
//
// Lengths are millimetres, origin top left, y down; masses grams. The package
// works out no figure: it draws the report it is given, in the words it is given.
package chart

import (
	"math"
	"strconv"
	"strings"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Captions are the words of a plot.
type Captions struct {
	Title string // over the plot
	Off   string // what the axis tells: "off the rating"
	// Key explains band, bar and mean under the axis; the mean only where one is
	// drawn.
	Key []string
}

// Spec is how a plot is drawn.
type Spec struct {
	Width    float64                       // of the sheet, mm; 120 at least, 70 for a narrow one
	Narrow   bool                          // each rating and its facts stand over its row, not beside it
	Facts    func(loading.Spread) []string // the lines beside a row, two at most
	Captions Captions
	Fonts    fonts.Set
	Number   unit.Style
}

// Measures, mm. Own choices; capitals as on the job sheet.
const (
	leastWidth = 120.0
	narrowest  = 70.0
	titleCap   = 2.2
	ratingCap  = 3.0
	factCap    = 1.7
	floorCap   = 1.65 // small letters of 1.2 mm in the built-in faces
	factsWide  = 36.0 // column of the ratings and their facts
	gutter     = 5.0
	headHigh   = 6.5 // from the top to the first row
	lane       = 2.4 // pitch of floats above one another
	tickHigh   = 1.5
	tickWide   = 0.5
	barWide    = 0.18
	rowAir     = 1.6 // above and under the lanes of a row
	meanHigh   = 2.6 // strip of a row's mean and deviation
	axisHigh   = 6.0
	keyHigh    = 4.0
	hair       = 0.12
	labelGap   = 0.8
	maxLanes   = 40
)

var (
	ink     = draw.Black
	band    = draw.Ink{R: 232, G: 236, B: 238}
	rule    = draw.Ink{R: 160, G: 160, B: 160}
	soft    = draw.Ink{R: 92, G: 98, B: 102}
	outside = draw.Ink{R: 178, G: 52, B: 36}
)

// reach is how many tolerances the axis shows at most; what lies further is an
// arrow at the edge, or a float regraded by grams would squash all others.
const reach = 6

// Grading draws one row for each rating: each tested float a tick at its
// measured sum less the rating, with its expanded uncertainty as a bar, the
// tolerance as a band behind them, and the numbers of the floats that do not
// keep the rating. A report without a tested float is a NotFound error.
func Grading(r loading.Report, s Spec) (*draw.Sheet, error) {
	p := &plot{Spec: s, report: r, x0: factsWide + gutter, x1: s.Width - gutter}
	least := leastWidth
	if s.Narrow {
		least, p.x0 = narrowest, gutter
	}
	if !(s.Width >= least) {
		return nil, fault.New(fault.NoFit, "plot", "it needs "+unit.Millimetre(least).Text(1, unit.Style{})+" of width", "give it a wider sheet")
	}
	if !p.scale() {
		return nil, fault.New(fault.NotFound, "plot", "no float of the batch was tested itself", "test some of them")
	}
	p.sheet = &draw.Sheet{Name: s.Captions.Title, Size: geom.Size{W: s.Width}}
	p.y = headHigh
	for _, row := range r.Spreads {
		if err := p.row(row); err != nil {
			return nil, fault.At("plot", err)
		}
	}
	for _, draw := range []func() error{p.axis, p.words} {
		if err := draw(); err != nil {
			return nil, fault.At("plot", err)
		}
	}
	p.sheet.Size.H = p.y
	return p.sheet, nil
}

type plot struct {
	Spec
	report loading.Report
	sheet  *draw.Sheet
	x0, x1 float64 // ends of the plotted width
	span   float64 // grams shown to either side
	y      float64 // where the next row begins
	meant  bool    // a mean was drawn
}

// scale chooses what the axis shows; false when nothing was tested.
func (p *plot) scale() bool {
	tol := float64(p.report.Tolerance)
	found := false
	p.span = 1.5 * tol
	for _, g := range p.report.Floats {
		if g.Verdict == loading.Untested {
			continue
		}
		found = true
		if d := math.Abs(off(g)); d <= reach*tol {
			p.span = math.Max(p.span, math.Min(d+float64(g.U), reach*tol)*1.05)
		}
	}
	return found
}

// off is a float's sum less the rating of its row, g.
func off(g loading.Grading) float64 { return float64(g.Sum - g.MadeAs()) }

// at returns the place of a deviation, kept on the axis.
func (p *plot) at(grams float64) float64 {
	share := math.Max(-1, math.Min(1, grams/p.span))
	return (p.x0+p.x1)/2 + float64(share*(p.x1-p.x0)/2)
}

func (p *plot) add(ops ...draw.Op)    { p.sheet.Add(draw.Colour, ops...) }
func (p *plot) ground(ops ...draw.Op) { p.sheet.Add(draw.Ground, ops...) }

func (p *plot) line(x0, y0, x1, y1, width float64, i draw.Ink) draw.Op {
	return &draw.Stroke{Path: geom.LineBetween(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1}), Ink: i, Width: width}
}

func (p *plot) rect(x, y, w, h float64, i draw.Ink) draw.Op {
	return &draw.Fill{Path: geom.Rectangle(geom.XYWH(x, y, w, h)), Ink: i}
}

// put sets a line of text, shrunk to the width it has.
func (p *plot) put(text string, f typeset.Font, x, y float64, a typeset.Align, width float64, i draw.Ink) error {
	l, err := typeset.Fit(text, f, width, math.Min(floorCap, f.Cap))
	if err != nil {
		return err
	}
	p.add(l.Straight(geom.Translate(x, y), a, i)...)
	return nil
}

// grams writes a deviation with its sign and every decimal of step: "+0.10 g".
func (p *plot) grams(v, step float64) string {
	t := unit.Gram(math.Abs(v)).FixedText(unit.Gram(step), p.Number)
	switch {
	case unit.Round(v, step) > 0:
		return "+" + t
	case unit.Round(v, step) < 0:
		return "−" + t
	}
	return t
}

// axis draws the scale under the rows.
func (p *plot) axis() error {
	parts, off, at := 8.0, typeset.Right, factsWide
	y := p.y + 1.8 + factCap
	if p.Narrow { // fewer figures, and what they are stands under them
		parts, off, at = 4, typeset.Centre, (p.x0+p.x1)/2
		y += keyLine
	}
	step := unit.Step125(p.span / (parts/2 + 0.5))
	p.add(p.line(p.x0, p.y, p.x1, p.y, 0.25, ink))
	font := typeset.Regular(p.Fonts, factCap)
	for i := -int(p.span / step); i <= int(p.span/step); i++ {
		v := float64(i) * step
		x := p.at(v)
		p.add(p.line(x, p.y, x, p.y+1, 0.25, ink))
		if err := p.put(p.grams(v, step), font, x, p.y+1.8+factCap, typeset.Centre, (p.x1-p.x0)/parts, ink); err != nil {
			return err
		}
	}
	if err := p.put(p.Captions.Off, font, at, y, off, factsWide, soft); err != nil {
		return err
	}
	p.y = y + axisHigh - 1.8 - factCap
	return nil
}

// words sets the title and the key.
func (p *plot) words() error {
	if err := p.put(strings.ToUpper(p.Captions.Title), typeset.Bold(p.Fonts, titleCap), 0, titleCap+0.6, typeset.Left, p.Width, ink); err != nil {
		return err
	}
	key := p.Captions.Key
	if !p.meant && len(key) > 2 { // no mean lies on the axis
		key = key[:2]
	}
	if len(key) == 0 {
		return nil
	}
	// Over the plotted width if it holds the whole key, else on lines from the edge.
	font := typeset.Regular(p.Fonts, factCap)
	lines, x := []string{strings.Join(key, keyDot)}, p.x0
	if p.Narrow {
		x = 0
	}
	if l, err := typeset.Shape(lines[0], font); err != nil || l.Width > p.x1-x {
		lines, x = nil, 0
		for _, phrase := range key {
			if n := len(lines) - 1; n >= 0 {
				longer := lines[n] + keyDot + phrase
				if l, err := typeset.Shape(longer, font); err == nil && l.Width <= p.x1 {
					lines[n] = longer
					continue
				}
			}
			lines = append(lines, phrase)
		}
	}
	for i, text := range lines {
		if err := p.put(text, font, x, p.y+float64(float64(i)*keyLine)+factCap+0.6, typeset.Left, p.x1-x, soft); err != nil {
			return err
		}
	}
	p.y += keyHigh + float64(float64(len(lines)-1)*keyLine)
	return nil
}

// keyDot parts the phrases of the key, and keyLine is from one of its lines to the
// next, mm.
const (
	keyDot  = " · "
	keyLine = 2.8
)

func number(n int) string { return strconv.Itoa(n) }
