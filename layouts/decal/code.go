package decal

import (
	"fmt"
	"math"
	"slices"

	"floatmark/label"
	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
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

// chooseCode finds the largest code that the body and the zone carry. It
// returns nil and the reason when there is none, and nil without a reason when
// the piece asks for none.
func (s Spec) chooseCode(z label.Zone, b band) (*codePlan, string) {
	if s.Mark.Code == "" || !b.show.Has(label.PartCode) {
		return nil, ""
	}
	if s.Film.Sheetless() {
		return nil, "no hand letters a code"
	}
	if v := s.judge(b.show); v.Code == legible.Unreadable {
		return nil, fmt.Sprintf("the ground under it leaves a contrast of %s %%, and %s %% is the least that reads",
			unit.Number(math.Max(0, v.CodeContrast), 1, s.Words.Number), unit.Number(legible.CodeFails, 1, s.Words.Number))
	}
	m, err := symbol.QR(s.Mark.Code)
	if err != nil {
		return nil, err.Error()
	}
	l := &layout{Spec: s, flat: b.flat}
	_, lo, hi := Strips(b.show, s.Mark.Tally, b.flat.Slant)
	// Round the body the id stands under the code; lengthwise it stands beside it.
	high := hi - lo - 2*edge
	if z.Turn != label.Lengthwise && !alone(b.show) {
		high -= s.Floor + 2*edge
	}
	mid := (lo + hi) / 2
	// Three faces leave the code half the girth, since words beside it are
	// narrower; more faces share alike.
	share := math.Max(2, float64(len(b.show.Faces)-1))
	wide := math.Min(b.flat.Hoop(mid)/share, l.reach(mid)) - 2*edge
	choice, err := legible.Choose(m.N, m.Level, l.diameter(mid), s.Printer.DPI, math.Min(high, wide), l.ground())
	if err != nil {
		return nil, err.Error()
	}
	return &codePlan{matrix: m, choice: choice}, ""
}

// alone reports whether the code has a face to itself.
func alone(show label.Show) bool {
	for _, f := range show.Faces {
		if slices.Contains(f, label.PartCode) {
			return len(f) == 1
		}
	}
	return false
}

// drawCode draws the code as a true flat square with its middle on the meridian
// theta, its quiet zone ending at height top, and returns where the quiet zone
// ends below. The group is rigid: calibration moves it to whole printer dots
// and does not stretch it.
func (l *layout) drawCode(theta, top float64) (float64, error) {
	foot := top - l.code.patch()
	if foot < l.lo+edge {
		return 0, fault.New(fault.NoFit, "", "the code needs "+l.Words.Millimetre(unit.Millimetre(l.code.patch()), 0.1)+
			" of height and has "+l.Words.Millimetre(unit.Millimetre(top-l.lo-edge), 0.1), "make the mark higher")
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
	return squares(m, func(c [2]int) geom.Point {
		return geom.Point{X: float64(c[0]) * module, Y: float64(c[1]) * module}
	})
}

// Widened is Modules of a code whose columns have the given edges, as
// legible.FrontColumns gives them; the first lies at the origin.
func Widened(m symbol.Matrix, module float64, columns []float64) geom.Path {
	return squares(m, func(c [2]int) geom.Point {
		return geom.Point{X: columns[c[0]] - columns[0], Y: float64(c[1]) * module}
	})
}

func squares(m symbol.Matrix, at func(corner [2]int) geom.Point) geom.Path {
	var p geom.Path
	for _, ring := range m.Contour() {
		for i, c := range ring {
			if i == 0 {
				p.MoveTo(at(c))
			} else {
				p.LineTo(at(c))
			}
		}
		p.Close()
	}
	return p
}
