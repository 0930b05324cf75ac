package svg

import (
	"bytes"
	"encoding/xml"
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

func parseCut(t testing.TB, s *draw.Sheet, r Registration) node {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCut(&b, s, r); err != nil {
		t.Fatal(err)
	}
	var root node
	if err := xml.Unmarshal(b.Bytes(), &root); err != nil {
		t.Fatal(err)
	}
	return root
}

// TestCutFile: the cut paths of a sheet with everything, moved as the sheet
// moves them, without dashes; three marks and none at the fourth corner.
func TestCutFile(t *testing.T) {
	s := everyOp(t)
	s.Size = geom.Size{W: 100, H: 80}
	ring := geom.Circle(geom.Point{X: 5, Y: 5}, 4)
	s.Add(draw.Cut,
		&draw.Group{At: geom.Scale(2, 2).Then(geom.Translate(30, 20)), Ops: []draw.Op{&draw.Stroke{Path: ring, Ink: draw.Ink{R: 200}, Width: 0.3, Dash: []float64{1, 1}}}},
		&draw.Fill{Path: geom.Rectangle(geom.XYWH(60, 50, 10, 5))})
	s.Add(draw.Cut, s.Layers[draw.Colour]...) // words among the cut lines
	root := parseCut(t, s, DefaultRegistration)
	if root.attr("width") != "100mm" || root.attr("viewBox") != "0 0 100 80" {
		t.Errorf("root %v", root.Attrs)
	}
	if len(root.Nodes) != 3 || root.Nodes[1].attr("id") != "registration" || root.Nodes[2].attr("id") != "cut" {
		t.Fatalf("nodes %v", root.Nodes)
	}
	cuts := root.Nodes[2].all("path")
	if len(cuts) != 4 { // the two, and the two strokes beside the words
		t.Fatalf("%d cut paths", len(cuts))
	}
	for i, want := range []geom.Rect{geom.XYWH(32, 22, 16, 16), geom.XYWH(60, 50, 10, 5)} {
		p, err := readPath(cuts[i].attr("d"))
		if err != nil || !near(p.Bounds(), want) {
			t.Errorf("cut %d is %v, want %v (%v)", i, p.Bounds(), want, err)
		}
	}
	for _, c := range cuts {
		if c.attr("fill") != "none" || c.attr("stroke-dasharray") != "" || c.attr("stroke-width") != "0.1" {
			t.Errorf("%v", c.Attrs)
		}
	}
	marks := root.Nodes[1].all("path")
	if len(marks) != 1 {
		t.Fatalf("%d paths of marks", len(marks))
	}
	p, err := readPath(marks[0].attr("d"))
	if err != nil {
		t.Fatal(err)
	}
	// Inset 10, 5 across: two quarters of a disc each.
	if want := geom.XYWH(7.5, 7.5, 85, 65); !near(p.Bounds(), want) {
		t.Errorf("marks cover %v, want %v", p.Bounds(), want)
	}
	if got, want := p.Area(0.0001), 3*math.Pi*2.5*2.5/2; math.Abs(got-want) > 0.01 {
		t.Errorf("marks of %g mm², want %g", got, want)
	}
	for _, ringPts := range p.Flatten(0.001) {
		for _, q := range ringPts {
			if q.X > 50 && q.Y > 40 {
				t.Fatalf("a mark at %v: the fourth corner must be free", q)
			}
		}
	}
}

// TestMarksMeet: at the middle of a mark, ink and film change places on every
// small circle, twice each.
func TestMarksMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Registration{Inset: rapid.Float64Range(5, 20).Draw(t, "inset"), Diameter: rapid.Float64Range(1, 10).Draw(t, "diameter")}
		size := geom.Size{W: rapid.Float64Range(60, 400).Draw(t, "w"), H: rapid.Float64Range(60, 400).Draw(t, "h")}
		fill := r.Marks(size)[0].(*draw.Fill)
		for _, c := range r.At(size) {
			for i := range 8 {
				a := (float64(i) + 0.5) * math.Pi / 4
				q := c.Add(geom.Point{X: math.Cos(a), Y: math.Sin(a)}.Scale(r.Diameter / 4))
				if got, want := inside(fill.Path, q), i/2%2 == 0; got != want {
					t.Fatalf("at %v, %g round from %v: ink %v", q, a, c, got)
				}
			}
		}
	})
}

// inside is a slow winding test.
func inside(p geom.Path, q geom.Point) bool {
	turns := 0.0
	for _, ring := range p.Flatten(0.001) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			u, v := a.Sub(q), b.Sub(q)
			turns += math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)
		}
	}
	return math.Abs(turns) > math.Pi
}

func TestCutErrors(t *testing.T) {
	size := geom.Size{W: 40, H: 30}
	cut := &draw.Sheet{Name: "cut", Size: size}
	cut.Add(draw.Cut, &draw.Stroke{Path: geom.Rectangle(geom.XYWH(5, 5, 10, 10)), Width: 0.1})
	broken := &draw.Sheet{Size: size}
	broken.Add(draw.Cut, &draw.Fill{Path: geom.LineBetween(geom.Point{X: math.NaN()}, geom.Point{})})
	for name, c := range map[string]struct {
		s     *draw.Sheet
		r     Registration
		class fault.Class
	}{
		"nothing to cut":     {sheet(size, &draw.Fill{Path: geom.Rectangle(geom.XYWH(1, 1, 1, 1))}), Registration{}, fault.Input},
		"marks off the edge": {cut, Registration{Inset: 2, Diameter: 5}, fault.Input},
		"marks that meet":    {cut, Registration{Inset: 13, Diameter: 4}, fault.Input},
		"marks of no size":   {cut, Registration{Inset: 5}, fault.Input},
		"marks of no number": {cut, Registration{Inset: math.NaN(), Diameter: 5}, fault.Input},
		"no size":            {&draw.Sheet{}, Registration{}, fault.Ours},
		"broken path":        {broken, Registration{}, fault.Ours},
	} {
		var b bytes.Buffer
		if err := WriteCut(&b, c.s, c.r); err == nil || fault.ClassOf(err) != c.class || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
	if err := WriteCut(failing{}, cut, Registration{}); fault.ClassOf(err) != fault.Machine {
		t.Errorf("a full disc gives %v", err)
	}
	if n := len(parseCut(t, cut, Registration{}).Nodes); n != 2 {
		t.Errorf("without marks: %d nodes, want a title and the cuts", n)
	}
}
