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
	"floatmark/layouts/wrap"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Code is a code as it lies on its piece.
type Code struct {
	legible.Choice
	Matrix symbol.Matrix
	Flat   wrap.Flat // the piece
	// Theta and S are where its middle lies on the piece: the angle from the centre
	// meridian and the height over the lower edge along the skin, mm.
	Theta, S float64
	Ground   draw.Ink // what it is seen on
	Proved   []string // what the pictures said of it and of those tried before it
}

// Proof is what pictures say of a code on its float.
type Proof struct {
	Grade string // legible.Casual, legible.Aim or "" when it does not read
	Why   string // in a plain sentence
	// Open says that there is no answer yet: the code is laid out as if it read,
	// and the mark is to be laid out again when there is one.
	Open bool
}

// OnCard is the code of the notice that a code goes on the card, and why.
const OnCard = "code-on-card"

// codePlan is a code that the body may carry.
type codePlan struct {
	matrix symbol.Matrix
	choice legible.Choice
	at     Code // where it was drawn
}

// patch is its height with the quiet zone, mm.
func (c codePlan) patch() float64 {
	return float64(c.matrix.N+2*c.choice.Quiet) * c.choice.Module
}

// wide is its length round the body with the quiet zone, mm.
func (c codePlan) wide() float64 {
	return c.choice.Wide(c.matrix.N) + float64(2*c.choice.Quiet)*c.choice.Module
}

// proposeCodes lists the codes that the body and the zone may carry, the one
// liked best first. There are none, and the reason, where it carries none, and
// none without a reason when the piece asks for none.
func (s Spec) proposeCodes(z label.Zone, b band) ([]*codePlan, string) {
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
	m, err := s.Codes.QR(s.Mark.Code)
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
	choices, err := legible.Propose(legible.Ask{N: m.N, Level: m.Level, Diameter: l.diameter(mid), DPI: s.Printer.DPI,
		High: high, Wide: wide, Ground: s.ground(), Limits: s.Limits})
	if err != nil {
		return nil, err.Error()
	}
	all := make([]*codePlan, len(choices))
	for i, c := range choices {
		all[i] = &codePlan{matrix: m, choice: c}
	}
	return all, ""
}

// prove asks whether the code reads where it was laid out. Without pictures the
// closed form decides.
func (l *layout) prove() Proof {
	if l.Prove != nil {
		return l.Prove(l.code.at)
	}
	return Proof{Grade: l.code.choice.Grade, Why: "no pictures were made: by the closed form alone"}
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

// drawCode draws the code with its middle on the meridian theta, never bent to
// the body's own lines, its quiet zone ending at height top, and returns where the quiet zone
// ends below. The group is rigid: calibration moves it to whole printer dots
// and does not stretch it.
func (l *layout) drawCode(theta, top float64) (float64, error) {
	foot := top - l.code.patch()
	if foot < l.lo+edge {
		return 0, fault.New(fault.NoFit, "", "the code needs "+l.Words.Millimetre(unit.Millimetre(l.code.patch()), 0.1)+
			" of height and has "+l.Words.Millimetre(unit.Millimetre(top-l.lo-edge), 0.1), "make the mark higher")
	}
	c := l.code
	c.at = Code{Choice: c.choice, Matrix: c.matrix, Flat: l.flat, Theta: theta, S: (top + foot) / 2, Ground: l.ground()}
	at := l.flat.Frame(theta, c.at.S)
	corner := at.Apply(geom.Point{X: -c.choice.Wide(c.matrix.N) / 2, Y: -float64(c.matrix.N) * c.choice.Module / 2})
	squares := Modules(c.matrix, c.choice.Module)
	if c.choice.Front() {
		squares = Widened(c.matrix, c.choice.Module, c.choice.Columns)
	}
	l.ops = append(l.ops, &draw.Group{Name: "code", Rigid: true, At: geom.Translate(corner.X, corner.Y),
		Ops: []draw.Op{&draw.Fill{Path: squares, Ink: ink}}})
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
