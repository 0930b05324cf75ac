package readback

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/svg"
)

// A slow reader of SVG that shares nothing with the writer: it answers which ink
// lies at a place, by the text of SVG 1.1 (from memory): chapter 8 for path data,
// 11.4 for strokes (butt caps; mitres up to the limit, else bevels; dashes).

// shape is a path element: its rings and how it is painted.
type shape struct {
	rings  [][]geom.Point
	closed []bool
	fill   string
	stroke string
	width  float64
	limit  float64
	dash   []float64
	layer  string
}

type element struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Kids    []element  `xml:",any"`
}

func (e element) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// readSVG returns the shapes of a file in painting order.
func readSVG(t testing.TB, file []byte) []shape {
	t.Helper()
	var root element
	if err := xml.Unmarshal(file, &root); err != nil {
		t.Fatal(err)
	}
	var out []shape
	var visit func(e element, layer string)
	visit = func(e element, layer string) {
		if id := e.attr("id"); e.XMLName.Local == "g" && id != "" {
			layer = id
		}
		if e.attr("transform") != "" || e.attr("style") != "" {
			t.Fatalf("the reader knows no %v", e.Attrs)
		}
		if e.XMLName.Local == "path" {
			s := shape{fill: e.attr("fill"), stroke: e.attr("stroke"), limit: 4, layer: layer} // 4: SVG 1.1, 11.4
			number := func(name string, into *float64) {
				if v := e.attr(name); v != "" {
					x, err := strconv.ParseFloat(v, 64)
					if err != nil {
						t.Fatal(err)
					}
					*into = x
				}
			}
			number("stroke-width", &s.width)
			number("stroke-miterlimit", &s.limit)
			for _, d := range strings.Fields(e.attr("stroke-dasharray")) {
				x, err := strconv.ParseFloat(d, 64)
				if err != nil {
					t.Fatal(err)
				}
				s.dash = append(s.dash, x)
			}
			if rule := e.attr("fill-rule"); s.fill != "none" && rule != "nonzero" && rule != "" {
				t.Fatalf("the reader knows no rule %q", rule)
			}
			s.read(t, e.attr("d"))
			out = append(out, s)
		}
		for _, k := range e.Kids {
			visit(k, layer)
		}
	}
	visit(root, "")
	return out
}

// read follows absolute path data, curves in short steps.
func (s *shape) read(t testing.TB, d string) {
	for _, v := range "MLCZ" {
		d = strings.ReplaceAll(d, string(v), " "+string(v)+" ")
	}
	words := strings.Fields(d)
	for len(words) > 0 {
		verb := words[0]
		words = words[1:]
		n := map[string]int{"M": 1, "L": 1, "C": 3, "Z": 0}[verb]
		var q [3]geom.Point
		for i := range n {
			if _, err := fmt.Sscan(words[2*i]+" "+words[2*i+1], &q[i].X, &q[i].Y); err != nil {
				t.Fatalf("%q: %v", d, err)
			}
		}
		words = words[2*n:]
		last := len(s.rings) - 1
		switch verb {
		case "M":
			s.rings, s.closed = append(s.rings, []geom.Point{q[0]}), append(s.closed, false)
		case "L":
			s.rings[last] = append(s.rings[last], q[0])
		case "C":
			const steps = 200
			a := s.rings[last][len(s.rings[last])-1]
			for i := 1; i <= steps; i++ {
				u := float64(i) / steps
				w := 1 - u
				s.rings[last] = append(s.rings[last], a.Scale(w*w*w).Add(q[0].Scale(3*w*w*u)).Add(q[1].Scale(3*w*u*u)).Add(q[2].Scale(u*u*u)))
			}
		case "Z":
			s.closed[last] = true
		default:
			t.Fatalf("what is %q in %q", verb, d)
		}
	}
}

// inkAt returns the topmost paint at a place, "" for none.
func inkAt(shapes []shape, p geom.Point) string {
	ink := ""
	for _, s := range shapes {
		if s.fill != "none" && s.winding(p) != 0 {
			ink = s.fill
		}
		if s.stroke != "" && s.stroke != "none" && s.stroked(p) {
			ink = s.stroke
		}
	}
	return ink
}

func (s *shape) winding(p geom.Point) int {
	n := 0
	for _, ring := range s.rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			side := (b.X-a.X)*(p.Y-a.Y) - (p.X-a.X)*(b.Y-a.Y)
			if a.Y <= p.Y && b.Y > p.Y && side > 0 {
				n++
			}
			if a.Y > p.Y && b.Y <= p.Y && side < 0 {
				n--
			}
		}
	}
	return n
}

// stroked reports whether p is under the pen: beside a straight piece where the
// dash is on, or in the corner between two.
func (s *shape) stroked(p geom.Point) bool {
	h := s.width / 2
	dot := func(a, b geom.Point) float64 { return a.X*b.X + a.Y*b.Y }
	for r, ring := range s.rings {
		pts := ring
		if s.closed[r] {
			pts = append(append([]geom.Point{}, ring...), ring[0])
		}
		run := 0.0
		var before *geom.Point // direction of the piece before
		if s.closed[r] && len(s.dash) == 0 {
			d := direction(pts[len(pts)-2], pts[len(pts)-1])
			before = &d
		}
		for i := 1; i < len(pts); i++ {
			length := pts[i].Sub(pts[i-1]).Len()
			if length == 0 {
				continue
			}
			d := direction(pts[i-1], pts[i])
			v := p.Sub(pts[i-1])
			along, off := dot(v, d), dot(v, geom.Point{X: -d.Y, Y: d.X})
			if along >= 0 && along <= length && math.Abs(off) <= h && s.on(run+along) {
				return true
			}
			if before != nil && s.on(run) && s.corner(v, *before, d) {
				return true
			}
			run += length
			before = &d
		}
	}
	return false
}

func direction(a, b geom.Point) geom.Point { return b.Sub(a).Scale(1 / b.Sub(a).Len()) }

// corner reports whether v, from the corner, lies in the join of directions d
// and e.
func (s *shape) corner(v, d, e geom.Point) bool {
	h := s.width / 2
	n1, n2 := geom.Point{X: -d.Y, Y: d.X}, geom.Point{X: -e.Y, Y: e.X}
	dot := func(a, b geom.Point) float64 { return a.X*b.X + a.Y*b.Y }
	if dot(v, d) < 0 || dot(v, e) > 0 || math.Abs(dot(v, n1)) > h || math.Abs(dot(v, n2)) > h {
		return false
	}
	// The mitre is width/sin(φ/2) long, φ the angle between the pieces.
	sin := math.Sqrt((1 + dot(d, e)) / 2)
	if 1/sin <= s.limit {
		return true
	}
	// Bevel: not beyond the line between the outer corners.
	out := d.Sub(e)
	out = out.Scale(1 / out.Len())
	return dot(v, out) <= h*sin
}

// on reports whether a dash is on, so far along the path.
func (s *shape) on(at float64) bool {
	if len(s.dash) == 0 {
		return true
	}
	for i := 0; ; i++ {
		d := s.dash[i%len(s.dash)]
		if at < d {
			return i%2 == 0
		}
		at -= d
	}
}

// TestEveryOpInSVG holds the SVG writer to the same places of the same ops.
func TestEveryOpInSVG(t *testing.T) {
	for _, c := range opCases(t) {
		s := &draw.Sheet{Name: c.name, Size: opSheet}
		s.Add(draw.Crease, c.ops...)
		var b bytes.Buffer
		if err := svg.Write(&b, s); err != nil {
			t.Fatal(err)
		}
		shapes := readSVG(t, b.Bytes())
		for _, p := range c.probes {
			want := p.ink.String()
			if p.ink == draw.White {
				want = ""
			}
			if got := inkAt(shapes, geom.Point{X: p.x, Y: p.y}); got != want {
				t.Errorf("%s: at (%g, %g) mm %q, want %q", c.name, p.x, p.y, got, want)
			}
		}
		for _, sh := range shapes {
			if sh.layer != "crease" {
				t.Errorf("%s: a path on layer %q", c.name, sh.layer)
			}
		}
	}
}

// TestCutFileLiesOnThePrint: the cut file's lines are where the SVG of the whole
// sheet and PDFium's page have the cut, and its marks where the print's are.
func TestCutFileLiesOnThePrint(t *testing.T) {
	s := press()
	s.Layers[draw.Cut] = []draw.Op{&draw.Group{At: geom.Rotate(0.2).Then(geom.Translate(30, 25)), Ops: []draw.Op{
		&draw.Stroke{Path: geom.Circle(geom.Point{X: 8, Y: 6}, 5), Ink: red, Width: 0.01, Dash: []float64{1, 1}}}}}
	marks := svg.DefaultRegistration.Marks(s.Size)
	s.Layers[draw.Guide] = marks
	var b bytes.Buffer
	if err := svg.WriteCut(&b, s, svg.DefaultRegistration); err != nil {
		t.Fatal(err)
	}
	var cut, found []geom.Rect
	for _, sh := range readSVG(t, b.Bytes()) {
		box := geom.Rect{}
		for _, ring := range sh.rings {
			box = box.Union(geom.Polygon(ring...).Bounds())
		}
		if sh.layer == "cut" {
			cut = append(cut, box)
		} else {
			found = append(found, box)
		}
	}
	if len(cut) != 1 || len(found) != 1 {
		t.Fatalf("%d cut lines, %d paths of marks", len(cut), len(found))
	}
	f := writeAndOpen(t, s)
	for _, o := range f.objects(0) {
		switch box := f.bounds(0, o); o.layer {
		case "cut":
			if b := cut[0]; !near((b.Min.X+b.Max.X)/2, (box.Min.X+box.Max.X)/2) || !near((b.Min.Y+b.Max.Y)/2, (box.Min.Y+box.Max.Y)/2) || !box.Contains(b) {
				t.Errorf("cut at %v, printed at %v", b, box)
			}
		case "guide":
			if !hasBox(found, box) {
				t.Errorf("marks at %v, printed at %v", found, box)
			}
		}
	}
}
