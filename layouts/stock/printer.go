package stock

import (
	"math"
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Printer is a printer as calibrated. ScaleX and ScaleY are printed over
// nominal length; Shear is the angle in radians by which the sheet's vertical
// leans, positive when the bottom is printed too far right.
type Printer struct {
	Name                  string
	DPI                   float64 // dots an inch
	ScaleX, ScaleY, Shear float64
	Margin                float64     // mm it leaves blank along every edge
	Gain                  float64     // mm by which the ink spreads past each edge
	WhiteInk              bool        // it prints white under colours
	Duplex                Offset      // where the back comes out
	Calibrated            string      // calendar date, "2026-11-20"; empty if it never was
	U                     Uncertainty // of what was measured
}

// Offset says where a sheet's back comes out when it is printed on both sides
// and turned over its long edge: as seen from the front, through the sheet.
type Offset struct {
	X, Y float64 // mm, at the middle of the sheet: to the right, down
	Turn float64 // radians about it, clockwise
}

// Uncertainty is how well a printer is known: standard uncertainties, 0 for what
// was not measured.
type Uncertainty struct {
	ScaleX, ScaleY float64 // shares
	Shear          float64 // radians
	Gain           float64 // mm an edge
	Duplex         float64 // mm, of the offset each way
	Turn           float64 // radians
}

// Plain returns a printer nobody has calibrated: 600 dots an inch and true to
// scale.
func Plain() Printer {
	return Printer{Name: "plain", DPI: 600, ScaleX: 1, ScaleY: 1, Margin: edge}
}

// Limits of what a calibration may say; beyond them a reading was wrong or a
// dialogue box has scaled the page. Office printers are off by 1 to 2 % (users'
// threads), a fit to the page by 3 % and more.
const (
	maxScaleError = 0.03
	maxShear      = 2 * math.Pi / 180
	minDPI        = 72
	maxDPI        = 10000
	maxGain       = 0.2 // mm: five times what is told of office toner
	maxMargin     = 30  // mm
	maxOffset     = 6.0 // mm: twice what a cut-sheet printer's manual allows, and some
	maxTurn       = 1.5 * math.Pi / 180
)

// Sound returns an Input fault for a printer that cannot be, nil for any other.
func (p Printer) Sound() error {
	again := "measure the test sheet again, printed at actual size"
	off := func(k float64) bool { return !(math.Abs(k-1) <= maxScaleError) } // NaN is off
	switch {
	case !(p.DPI >= minDPI && p.DPI <= maxDPI):
		return fault.New(fault.Input, "printer "+p.Name, "its resolution of "+unit.Number(p.DPI, 1, unit.Style{})+" dpi cannot be",
			"give its dots an inch, usually 600")
	case off(p.ScaleX) || off(p.ScaleY):
		return fault.New(fault.Input, "printer "+p.Name, "its scale is more than 3 % off", again)
	case !(math.Abs(p.Shear) <= maxShear):
		return fault.New(fault.Input, "printer "+p.Name, "it leans by more than 2 degrees", again)
	case !(p.Gain >= 0 && p.Gain <= maxGain):
		return fault.New(fault.Input, "printer "+p.Name, "its ink cannot spread by "+mm(p.Gain, 0.001), "read the gain test again")
	case !(p.Margin >= 0 && p.Margin <= maxMargin):
		return fault.New(fault.Input, "printer "+p.Name, "it cannot leave "+mm(p.Margin, 0.1)+" blank along the edge", "give what it leaves blank, usually 5 mm")
	case !(math.Abs(p.Duplex.X) <= maxOffset && math.Abs(p.Duplex.Y) <= maxOffset && math.Abs(p.Duplex.Turn) <= maxTurn):
		return fault.New(fault.Input, "printer "+p.Name, "its back is more than "+mm(maxOffset, 0.1)+" or 1.5 degrees off", "read the duplex test again")
	}
	return nil
}

func mm(v, step float64) string {
	return unit.Millimetre(v).Text(unit.Millimetre(step), unit.Style{})
}

// Dot returns the pitch of the printer's dots in mm.
func (p Printer) Dot() float64 { return unit.MillimetresPerInch / p.DPI }

// Dots returns the whole number of dots nearest to a length in mm.
func (p Printer) Dots(mm float64) int { return int(math.Round(mm * p.DPI / unit.MillimetresPerInch)) }

// Snap returns the length or place nearest to mm that is a whole number of dots.
func (p Printer) Snap(mm float64) float64 {
	return float64(p.Dots(mm)) * unit.MillimetresPerInch / p.DPI
}

// Fit returns p with scale and shear taken from a printed rectangle: its
// nominal size, the sides as measured, and its diagonals, falling (top left to
// bottom right) and rising; all mm. The sides of a rectangle of 180 by 250 mm
// read to 0.25 mm give a scale good to 0.08 %. An Input fault if the readings
// cannot be.
func (p Printer) Fit(nominal, sides geom.Size, falling, rising float64) (Printer, error) {
	p.ScaleX, p.ScaleY = sides.W/nominal.W, sides.H/nominal.H
	// Law of cosines for both diagonals of a parallelogram, subtracted.
	p.Shear = math.Asin((falling - rising) * (falling + rising) / (4 * sides.W * sides.H))
	return p, p.Sound()
}

// distortion maps where a point is drawn to where it comes out, both from the
// sheet's top left corner.
func (p Printer) distortion() geom.Affine {
	s, c := math.Sincos(p.Shear)
	return geom.Affine{A: p.ScaleX, C: p.ScaleY * s, D: p.ScaleY * c}
}

// Calibrate returns a copy of s drawn so that this printer prints it true to
// scale: one affine map about the top left corner round everything. A rigid
// group is moved by it, its origin to a whole dot, and not scaled inside: a
// code stays on the dot grid. What is dark in it is drawn narrower by the
// printer's Reduction. A rigid group that is scaled, or turned by
// anything but quarter turns, is a fault of class Ours; a printer that cannot
// be is an Input fault. s is not changed.
func Calibrate(s *draw.Sheet, p Printer) (*draw.Sheet, error) {
	return calibrate(s, p, geom.Identity)
}

// CalibrateBack is Calibrate for the back of a sheet that is turned over its
// long edge: it is moved and turned, too, so that it comes out behind its front.
func CalibrateBack(s *draw.Sheet, p Printer) (*draw.Sheet, error) {
	over := geom.Affine{A: -1, D: 1, E: s.Size.W} // back to front, and its own inverse
	x, y := s.Size.W/2, s.Size.H/2
	out := geom.Translate(-x, -y).Then(geom.Rotate(p.Duplex.Turn)).Then(geom.Translate(x+p.Duplex.X, y+p.Duplex.Y))
	back, ok := out.Inverse()
	if !ok {
		return nil, p.Sound()
	}
	if p.Duplex == (Offset{}) {
		return calibrate(s, p, geom.Identity)
	}
	return calibrate(s, p, over.Then(back).Then(over))
}

// calibrate draws s moved by first, and that calibrated.
func calibrate(s *draw.Sheet, p Printer, first geom.Affine) (*draw.Sheet, error) {
	if err := p.Sound(); err != nil {
		return nil, err
	}
	k, ok := p.distortion().Inverse()
	if !ok {
		return nil, fault.New(fault.Ours, "printer "+p.Name, "its calibration flattens the sheet", "")
	}
	if p.ScaleX == 1 && p.ScaleY == 1 && p.Shear == 0 {
		k = geom.Identity // without the -0 of the inverse
	}
	c := calibration{p, first.Then(k)}
	out := new(*s)
	for _, l := range draw.Layers() {
		ops, err := c.ops(s.Layers[l], geom.Identity)
		if err != nil {
			return nil, fault.At("sheet "+strconv.Quote(s.Name), err)
		}
		out.Layers[l] = ops
	}
	return out, nil
}

type calibration struct {
	printer Printer
	to      geom.Affine
}

// ops returns ops, which lie at at, in the calibrated sheet's own coordinates
// and in their painting order. A run of ops without a rigid group keeps its
// shape inside one group.
func (c calibration) ops(ops []draw.Op, at geom.Affine) ([]draw.Op, error) {
	var out, run []draw.Op
	flush := func() {
		switch m := at.Then(c.to); {
		case len(run) == 0:
		case m == geom.Identity:
			out = append(out, run...)
		default:
			out = append(out, &draw.Group{Name: "calibrated", At: m, Ops: run})
		}
		run = nil
	}
	for _, o := range ops {
		g, ok := o.(*draw.Group)
		if !ok || !rigidInside(g) {
			run = append(run, o)
			continue
		}
		flush()
		here := g.At.Then(at)
		if g.Rigid {
			m, err := c.rigid(here)
			if err != nil {
				return nil, fault.At("group "+strconv.Quote(g.Name), err)
			}
			out = append(out, &draw.Group{Name: g.Name, At: m, Rigid: true, Ops: reduced(g.Ops, c.printer.Reduction(), c.printer.Dot())})
			continue
		}
		inside, err := c.ops(g.Ops, here)
		if err != nil {
			return nil, fault.At("group "+strconv.Quote(g.Name), err)
		}
		out = append(out, &draw.Group{Name: g.Name, At: geom.Identity, Ops: inside})
	}
	flush()
	return out, nil
}

// rigid returns where a rigid group comes to lie: its turn as it is, its origin
// moved to the nearest dot.
func (c calibration) rigid(at geom.Affine) (geom.Affine, error) {
	q := geom.Rotate(math.Round(math.Atan2(at.B, at.A)/(math.Pi/2)) * math.Pi / 2)
	// A billionth over the 100 modules of a large code is far below a dot.
	const slack = 1e-9
	for _, d := range [...]float64{at.A - q.A, at.B - q.B, at.C - q.C, at.D - q.D} {
		if !(math.Abs(d) <= slack) {
			return geom.Affine{}, fault.New(fault.Ours, "", "a rigid group may be moved and turned by quarter turns, not turned otherwise, scaled or mirrored", "")
		}
	}
	o := c.to.Apply(geom.Point{X: at.E, Y: at.F})
	q.E, q.F = c.printer.Snap(o.X), c.printer.Snap(o.Y)
	return q, nil
}

func rigidInside(g *draw.Group) bool {
	if g.Rigid {
		return true
	}
	for _, o := range g.Ops {
		if in, ok := o.(*draw.Group); ok && rigidInside(in) {
			return true
		}
	}
	return false
}
