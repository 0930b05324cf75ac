package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"

	"pgregory.net/rapid"
)

// node is any element of the file.
type node struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Text    string     `xml:",chardata"`
	Nodes   []node     `xml:",any"`
}

func (n node) attr(name string) string {
	for _, a := range n.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// all returns the elements of a name below n, in order.
func (n node) all(name string) (out []node) {
	for _, c := range n.Nodes {
		if c.XMLName.Local == name {
			out = append(out, c)
		}
		out = append(out, c.all(name)...)
	}
	return out
}

func parse(t testing.TB, s *draw.Sheet) node {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s); err != nil {
		t.Fatal(err)
	}
	var root node
	if err := xml.Unmarshal(b.Bytes(), &root); err != nil {
		t.Fatalf("%v in\n%s", err, b.String())
	}
	return root
}

// readPath is a slow reader of the path data, to compare outlines with.
func readPath(d string) (geom.Path, error) {
	for _, verb := range "MLCZ" {
		d = strings.ReplaceAll(d, string(verb), " "+string(verb)+" ")
	}
	var p geom.Path
	words := strings.Fields(d)
	for len(words) > 0 {
		n := map[string]int{"M": 2, "L": 2, "C": 6, "Z": 0}[words[0]]
		if len(words) < n+1 {
			return nil, fmt.Errorf("%q breaks off", d)
		}
		var v [6]float64
		for i := range n {
			if _, err := fmt.Sscan(words[i+1], &v[i]); err != nil {
				return nil, err
			}
		}
		a, b, c := geom.Point{X: v[0], Y: v[1]}, geom.Point{X: v[2], Y: v[3]}, geom.Point{X: v[4], Y: v[5]}
		switch words[0] {
		case "M":
			p.MoveTo(a)
		case "L":
			p.LineTo(a)
		case "C":
			p.CubicTo(a, b, c)
		case "Z":
			p.Close()
		default:
			return nil, fmt.Errorf("what is %q in %q", words[0], d)
		}
		words = words[n+1:]
	}
	return p, nil
}

func near(a, b geom.Rect) bool {
	const tol = 0.0001 // mm, the last decimal written
	return math.Abs(a.Min.X-b.Min.X) < tol && math.Abs(a.Min.Y-b.Min.Y) < tol && math.Abs(a.Max.X-b.Max.X) < tol && math.Abs(a.Max.Y-b.Max.Y) < tol
}

// everyOp is a sheet with every op, moved, turned and in two layers.
func everyOp(t testing.TB) *draw.Sheet {
	t.Helper()
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	line, err := typeset.Shape("8 g & <add>", typeset.Bold(set, 3))
	if err != nil {
		t.Fatal(err)
	}
	turned := geom.Rotate(0.3).Then(geom.Translate(20, 30))
	s := &draw.Sheet{Name: `"all" & more`, Size: geom.Size{W: 60, H: 40.5}}
	s.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(1, 2, 30, 20)), Ink: draw.Ink{R: 1, G: 2, B: 254}})
	s.Add(draw.Colour,
		&draw.Stroke{Path: geom.Circle(geom.Point{X: 30, Y: 20}, 7.25), Ink: draw.Black, Width: 0.3, Dash: []float64{1, 0.5}},
		&draw.Group{Name: "turned", At: turned, Rigid: true, Ops: append(
			line.Straight(geom.Identity, typeset.Left, draw.Black),
			&draw.Group{At: geom.Scale(2, 2), Ops: []draw.Op{&draw.Stroke{Path: geom.LineBetween(geom.Point{}, geom.Point{X: 4, Y: 1}), Ink: draw.White, Width: 0.2}}})})
	return s
}

// Every outline is where the drawing list says, in its ink and its layer, and
// every word can be read.
func TestEveryOp(t *testing.T) {
	s := everyOp(t)
	root := parse(t, s)
	if root.XMLName.Local != "svg" || root.attr("width") != "60mm" || root.attr("height") != "40.5mm" || root.attr("viewBox") != "0 0 60 40.5" {
		t.Errorf("root %v", root.Attrs)
	}
	if len(root.Nodes) != 3 || root.Nodes[0].Text != s.Name || root.Nodes[1].attr("id") != "ground" || root.Nodes[2].attr("id") != "colour" {
		t.Fatalf("want a title and the two layers in painting order: %v", root.Nodes)
	}
	paths := root.all("path")
	want := 0
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, _ bool) {
			got := paths[want]
			want++
			p, err := readPath(got.attr("d"))
			if err != nil {
				t.Fatal(err)
			}
			if b := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{op}}}); !near(p.Bounds(), b) {
				t.Errorf("path %d covers %v, want %v", want, p.Bounds(), b)
			}
			switch op := op.(type) {
			case *draw.Fill:
				if got.attr("fill") != "#0102fe" {
					t.Errorf("fill %q", got.attr("fill"))
				}
			case *draw.Stroke:
				width := map[draw.Ink]string{draw.Black: "0.3", draw.White: "0.4"}[op.Ink]
				if got.attr("stroke") != op.Ink.String() || got.attr("fill") != "none" || got.attr("stroke-width") != width {
					t.Errorf("stroke %v", got.Attrs)
				}
				if len(op.Dash) > 0 && got.attr("stroke-dasharray") != "1 0.5" {
					t.Errorf("dash %q", got.attr("stroke-dasharray"))
				}
			}
		})
	}
	if want != len(paths) || want != 4 {
		t.Errorf("%d paths, %d ops", len(paths), want)
	}
	titles := root.all("title")
	if n := len(titles); n != 2 || titles[1].Text != "8 g & <add>" {
		t.Errorf("titles %v", titles)
	}
}

func TestSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	if err := errors.Join(Write(&a, everyOp(t)), Write(&b, everyOp(t))); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same sheet gives other bytes")
	}
}

// Any path comes back within the last decimal written, and any words make a
// file that can be read.
func TestAnyPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "points")
		coord := rapid.Float64Range(-3000, 3000)
		var p geom.Path
		for i := range n {
			q := geom.Point{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}
			switch {
			case i == 0:
				p.MoveTo(q)
			case rapid.Bool().Draw(t, "curve"):
				p.CubicTo(geom.Point{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}, geom.Point{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}, q)
			default:
				p.LineTo(q)
			}
		}
		s := &draw.Sheet{Name: rapid.String().Draw(t, "name"), Size: geom.Size{W: 10, H: 10}}
		s.Add(draw.Cut, &draw.Fill{Path: p})
		var b bytes.Buffer
		if err := Write(&b, s); err != nil {
			t.Fatal(err)
		}
		var root node
		if err := xml.Unmarshal(b.Bytes(), &root); err != nil {
			t.Fatal(err)
		}
		back, err := readPath(root.all("path")[0].attr("d"))
		if err != nil || len(back) != len(p) {
			t.Fatal(len(back), err)
		}
		for i := range p {
			for j := range p[i].P {
				if back[i].P[j].Sub(p[i].P[j]).Len() > 0.0001 {
					t.Fatalf("segment %d: %v, want %v", i, back[i], p[i])
				}
			}
		}
	})
}

type failing struct{ short bool }

func (f failing) Write(p []byte) (int, error) {
	if f.short {
		return len(p) - 1, nil
	}
	return 0, io.ErrClosedPipe
}

func TestErrors(t *testing.T) {
	for _, w := range []io.Writer{failing{}, failing{short: true}} {
		if err := Write(w, everyOp(t)); fault.ClassOf(err) != fault.Machine {
			t.Errorf("%v", err)
		}
	}
	size := geom.Size{W: 10, H: 10}
	line := geom.LineBetween(geom.Point{}, geom.Point{X: 1})
	for name, s := range map[string]*draw.Sheet{
		"no size":        {},
		"infinite size":  {Size: geom.Size{W: math.Inf(1), H: 1}},
		"no width":       sheet(size, &draw.Stroke{Path: line}),
		"NaN width":      sheet(size, &draw.Stroke{Path: line, Width: math.NaN()}),
		"negative dash":  sheet(size, &draw.Stroke{Path: line, Width: 1, Dash: []float64{2, -1}}),
		"empty dash":     sheet(size, &draw.Stroke{Path: line, Width: 1, Dash: []float64{0, 0}}),
		"no start":       sheet(size, &draw.Fill{Path: geom.Path{{Verb: geom.Line}}}),
		"NaN point":      sheet(size, &draw.Fill{Path: geom.LineBetween(geom.Point{X: math.NaN()}, geom.Point{})}),
		"point too far":  sheet(size, &draw.Fill{Path: geom.LineBetween(geom.Point{X: 1e9}, geom.Point{})}),
		"infinite group": sheet(size, &draw.Group{At: geom.Translate(math.Inf(-1), 0), Ops: []draw.Op{&draw.Fill{Path: line}}}),
	} {
		var b bytes.Buffer
		if err := Write(&b, s); err == nil || fault.ClassOf(err) != fault.Ours || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
}

func sheet(size geom.Size, ops ...draw.Op) *draw.Sheet {
	s := &draw.Sheet{Name: "broken", Size: size}
	s.Add(draw.Colour, ops...)
	return s
}
