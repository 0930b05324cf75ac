package svg

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// A cut file holds the cut and crease paths, the marks, and nothing that is
// printed. Read by encoding/xml, which knows nothing of the writer.
func TestWriteCut(t *testing.T) {
	s := &draw.Sheet{Name: "sheet 1", Size: geom.Size{W: 210, H: 297}}
	s.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(20, 20, 50, 20)), Ink: draw.Ink{R: 200}})
	s.Add(draw.Cut, &draw.Group{At: geom.Translate(10, 5), Ops: []draw.Op{
		&draw.Stroke{Path: geom.Rectangle(geom.XYWH(20, 20, 50, 20)), Ink: draw.Ink{R: 120, G: 120, B: 120}, Width: 0.1, Dash: []float64{1, 0.8}}}})
	var b bytes.Buffer
	if err := WriteCut(&b, s); err != nil {
		t.Fatal(err)
	}
	groups, paths := map[string]int{}, map[string]string{}
	var at string
	d := xml.NewDecoder(&b)
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			switch {
			case e.Name.Local == "g" && a.Name.Local == "id":
				at = a.Value
				groups[at] = 0
			case e.Name.Local == "path" && a.Name.Local == "d":
				groups[at]++
				paths[at] = a.Value
			case a.Name.Local == "stroke-dasharray":
				t.Error("a cut line is dashed: a machine would cut dashes")
			}
		}
	}
	if len(groups) != 2 || groups["cut"] != 1 || groups["registration"] != 3 {
		t.Errorf("groups %v", groups)
	}
	if !strings.HasPrefix(paths["cut"], "M30 25") {
		t.Errorf("the cut begins at %q, want 30 25", paths["cut"])
	}
}

// The marks tell which way up the sheet lies: turned by half, they differ.
func TestRegistrationTellsWhichWayUp(t *testing.T) {
	size := geom.Size{W: 210, H: 297}
	seen := map[geom.Point]bool{}
	for _, o := range Registration(size) {
		b := draw.Bounds([]draw.Op{o})
		seen[geom.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}] = true
	}
	turned := 0
	for p := range seen {
		if seen[geom.Point{X: size.W - p.X, Y: size.H - p.Y}] {
			turned++
		}
	}
	if len(seen) != 3 || turned == 3 {
		t.Errorf("marks at %v", seen)
	}
}
