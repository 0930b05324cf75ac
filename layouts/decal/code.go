package decal

import (
	"floatmark/label"
	"fmt"
	"math"

	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// codePlan is a code that the body can carry.
type codePlan struct {
	matrix symbol.Matrix
	choice legible.Choice
}

// side is the length of the symbol's side, mm.
func (c codePlan) side() float64 { return float64(c.matrix.N) * c.choice.Module }

// patch is the side with the quiet zone, mm.
func (c codePlan) patch() float64 {
	return float64(c.matrix.N+2*c.choice.Quiet) * c.choice.Module
}

// thin says that a body is too thin for its words.
func thin(l *layout, diameter float64, sides int) error {
	need := unit.Millimetre(float64(sides) * ((1+descender)*legible.CapFloor + 2*sidePad) / math.Pi)
	return fault.New(fault.NoFit, "", fmt.Sprintf("%d lines lengthwise do not fit round a body of %s", sides,
		l.Words.Millimetre(unit.Millimetre(diameter), 0.1)),
		"move the mark to where the body is at least "+l.Words.Millimetre(need, 0.1)+" thick")
}

// chooseCode finds the largest code that the body and the zone carry. It
// returns nil and the reason when there is none, and nil without a reason when
// the mark asks for none.
func chooseCode(s Spec, flat wrap.Flat) (*codePlan, string) {
	if s.Mark.Code == "" {
		return nil, ""
	}
	m, err := symbol.QR(s.Mark.Code)
	if err != nil {
		return nil, err.Error()
	}
	dry := &layout{Spec: s, flat: flat}
	top, err := dry.rings()
	if err != nil {
		return nil, err.Error()
	}
	// Round the body the id stands under the code; lengthwise it stands beside it.
	high := top - 2*edge
	if s.Pattern.Turn != label.Lengthwise {
		high -= idUnderCode
	}
	wide := flat.Hoop(top/2)/2 - 2*edge
	diameter := flat.Hoop(top/2) / math.Pi
	choice, err := legible.Choose(m.N, m.Level, diameter, s.Printer.DPI, math.Min(high, wide), ground(s))
	if err != nil {
		return nil, err.Error()
	}
	return &codePlan{matrix: m, choice: choice}, ""
}

// idUnderCode is the height kept for the id under the code, mm.
const idUnderCode = legible.CapFloor + 2*edge

// ground is what the code lies on: white film covers the paint, clear film
// shows it.
func ground(s Spec) draw.Ink {
	if s.Film.Clear {
		return draw.Ink(s.Pattern.Ground)
	}
	return s.Film.Colour
}

// drawCode draws the code as a true flat square with its middle on the meridian
// theta, its quiet zone ending at height top, and returns where the quiet zone
// ends below. The group is rigid: calibration moves it to whole printer dots
// and does not stretch it.
func (l *layout) drawCode(theta, top float64) (float64, error) {
	foot := top - l.code.patch()
	if foot < edge {
		return 0, fault.New(fault.NoFit, "", "the code needs "+l.Words.Millimetre(unit.Millimetre(l.code.patch()), 0.1)+
			" of height and has "+l.Words.Millimetre(unit.Millimetre(top-edge), 0.1), "make the mark higher")
	}
	side := l.code.side()
	at := l.flat.Frame(theta, (top+foot)/2)
	corner := at.Apply(geom.Point{X: -side / 2, Y: -side / 2})
	l.ops = append(l.ops, &draw.Group{Name: "code", Rigid: true, At: geom.Translate(corner.X, corner.Y),
		Ops: []draw.Op{&draw.Fill{Path: Modules(l.code.matrix, l.code.choice.Module), Ink: ink}}})
	return foot, nil
}

// Modules returns a symbol's dark modules as one compound path, its top left
// corner at the origin, module mm a side: one path has no seams.
func Modules(m symbol.Matrix, module float64) geom.Path {
	var p geom.Path
	for _, ring := range m.Contour() {
		for i, c := range ring {
			q := geom.Point{X: float64(c[0]) * module, Y: float64(c[1]) * module}
			if i == 0 {
				p.MoveTo(q)
			} else {
				p.LineTo(q)
			}
		}
		p.Close()
	}
	return p
}
