package emblem

import (
	"math"
	"strings"
	"testing"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

const open = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 100 100">`

func file(body string) []byte { return []byte(open + body + "</svg>") }

// inked is the area that the non-zero rule fills, counted on a grid of points:
// slow and plain, and it knows nothing of how rings were turned.
func inked(p geom.Path, n int) float64 {
	b, rings := p.Bounds(), p.Flatten(0.01)
	count := 0
	for i := range n {
		y := b.Min.Y + (float64(i)+0.5)*b.H()/float64(n)
		for j := range n {
			x := b.Min.X + (float64(j)+0.5)*b.W()/float64(n)
			winding := 0
			for _, r := range rings {
				for k, p := range r {
					q := r[(k+1)%len(r)]
					if (p.Y <= y) != (q.Y <= y) && p.X+(y-p.Y)/(q.Y-p.Y)*(q.X-p.X) < x {
						if p.Y < q.Y {
							winding++
						} else {
							winding--
						}
					}
				}
			}
			if winding != 0 {
				count++
			}
		}
	}
	return float64(count) * b.W() * b.H() / float64(n*n)
}

// Inked areas in closed form.
func TestInkOfFiles(t *testing.T) {
	star := `points="50,5 76.45,86.41 7.2,36.09 92.8,36.09 23.55,86.41"` // a pentagram drawn in one line, R 45
	// Ten triangles between the middle, a tip at R and a dent at R·sin 18°/cos 36°.
	whole := 10 * 0.5 * 45 * 45 * math.Sin(math.Pi/10) / math.Cos(math.Pi/5) * math.Sin(math.Pi/5)
	for _, c := range []struct {
		name, body string
		want       float64
	}{
		{"a rectangle", `<rect x="5" y="6" width="20px" height="10"/>`, 200},
		{"rounded", `<rect width="20" height="10" rx="2"/>`, 200 - (4-math.Pi)*4},
		{"rounded to an ellipse", `<rect width="20" height="10" rx="99" ry="99"/>`, math.Pi * 50},
		{"a circle", `<circle cx="50" cy="50" r="20"/>`, math.Pi * 400},
		{"an ellipse", `<ellipse cx="50" cy="50" rx="20" ry="10" fill="#123"/>`, math.Pi * 200},
		{"a polygon", `<polygon points="0,0 30,0 0,40"/>`, 600},
		{"a polyline is closed", `<polyline points="0 0 30 0 0 40"/>`, 600},
		{"a hole, non-zero", `<path d="M0 0h10v10h-10zM2 2v6h6v-6z"/>`, 64},
		{"no hole, non-zero", `<path d="M0 0h10v10h-10zM2 2h6v6h-6z"/>`, 100},
		{"a hole, even-odd", `<path fill-rule="evenodd" d="M0 0h10v10h-10zM2 2h6v6h-6z"/>`, 64},
		{"an island in a hole", `<path style="fill-rule: evenodd" d="M0 0h10v10h-10zM1 1h8v8h-8zM2 2v6h6v-6z"/>`, 100 - 64 + 36},
		{"holes beside each other", `<g fill-rule="evenodd"><path d="M0 0v10h20v-10zM1 1h8v8h-8zM11 1v8h8v-8z"/></g>`, 200 - 128},
		{"rings that touch at a corner", `<path fill-rule="evenodd" d="M0 0h10v10h-10zM10 10h5v5h-5z"/>`, 125},
		{"a mirrored copy laid over", `<rect width="10" height="10"/><rect width="10" height="10" transform="translate(15) scale(-1 1)"/>`, 150},
		{"one that runs the other way laid over", `<path d="M0 0h10v10h-10z"/><path d="M5 0v10h10v-10z"/>`, 150},
		{"a pentagram, non-zero", "<polygon " + star + "/>", whole},
		{"groups", `<g transform="translate(10,20)"><g transform="rotate(30) scale(2 3)"><rect width="5" height="4"/></g></g>`, 120},
		{"a skew keeps the area", `<rect width="5" height="4" transform="skewX(40),skewY(-10) matrix(1 0 0 2 3 4)"/>`, 40},
		{"what is not drawn", `<defs><text>a</text><rect id="r" width="50" height="50"/></defs><title>t</title><g display="none"><text>b</text></g>
			<rect width="90" height="9" visibility="hidden"/><g style="visibility:hidden"><rect width="5" height="2" visibility="visible"/></g>
			<rect fill="none" width="50" height="50"/><rect opacity="0" width="50" height="50"/><rect width="0" height="5"/>`, 10},
		{"a stroke of no width", `<rect width="10" height="10" stroke="red" stroke-width="0"/>`, 100},
	} {
		p, err := FromSVG(file(c.body))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near(t, c.name, inked(p, 300), c.want, c.want*0.012)
	}
	// The even-odd pentagram has a hole that no turning of its one ring makes.
	_, err := FromSVG(file(`<polygon fill-rule="evenodd" ` + star + "/>"))
	if err == nil || !strings.Contains(err.Error(), "cross") {
		t.Errorf("the even-odd pentagram: %v", err)
	}
}

// Transforms by where they put a corner: worked by hand from their matrices.
func TestTransforms(t *testing.T) {
	for _, c := range []struct {
		text string
		want geom.Point // of (2, 1)
	}{
		{"", geom.Point{X: 2, Y: 1}},
		{"translate(5)", geom.Point{X: 7, Y: 1}},
		{"scale(3)", geom.Point{X: 6, Y: 3}},
		{"translate(10 0) scale(2)", geom.Point{X: 14, Y: 2}},
		{"scale(2) translate(10 0)", geom.Point{X: 24, Y: 2}},
		{"rotate(90)", geom.Point{X: -1, Y: 2}},
		{"rotate(90 2,0)", geom.Point{X: 1, Y: 0}},
		{"matrix(1,2,3,4,5,6)", geom.Point{X: 10, Y: 14}},
		{" skewX(45) , skewY( 45 ) ", geom.Point{X: 5, Y: 3}},
	} {
		m, err := parseTransform(c.text)
		if err != nil || m.Apply(geom.Point{X: 2, Y: 1}).Sub(c.want).Len() > 1e-9 {
			t.Errorf("%q takes (2, 1) to %v, want %v; %v", c.text, m.Apply(geom.Point{X: 2, Y: 1}), c.want, err)
		}
	}
	for _, s := range []string{"turn(3)", "rotate(1 2)", "scale()", "scale(2", "scale 2", "translate(1,2,3)", "matrix(1 2 3 4 5)", "scale(2,)", "scale(a)"} {
		if _, err := parseTransform(s); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v, want an input error", s, err)
		}
	}
}

func TestFilesRefused(t *testing.T) {
	rect := `<rect width="5" height="5"/>`
	for _, c := range [][2]string{
		{``, "no filled shape"},
		{`<rect fill="none" width="5" height="5"/>`, "no filled shape"},
		{rect + `<text>Withy</text>`, "text"},
		{rect + "\n\n<g><use xlink:href=\"#a\"/></g>", "line 3: the mark holds a copy"},
		{`<path d="M0 0h5v5" stroke="black"/>`, "stroke"},
		{`<g stroke="red"><path d="M0 0h5" fill="none"/></g>`, "stroke"},
		{`<line x2="5" y2="5"/>`, "a line"},
		{`<rect width="5" height="5" fill="url(#g)"/>`, "gradient"},
		{`<rect width="5" height="5" fill=" White"/>`, "white shape"},
		{`<rect width="5" height="5" style="fill:rgb(255, 255, 255)"/>`, "white shape"},
		{`<g opacity=".5">` + rect + `</g>`, "half-tone"},
		{`<rect width="5" height="5" fill-opacity="50%"/>`, "half-tone"},
		{`<style>.a{fill:none}</style>` + rect, "style sheet"},
		{`<defs><style><![CDATA[.a{fill:none}]]></style></defs>` + rect, "style sheet"},
		{`<g clip-path="url(#c)">` + rect + `</g>`, "clip-path"},
		{`<g style="mask:url(#c)">` + rect + `</g>`, "mask"},
		{`<image href="a.png"/>`, "a picture"},
		{`<svg>` + rect + `</svg>`, "drawing within"},
		{`<star/>`, "element \"star\""},
		{`<rect width="5mm" height="5"/>`, "width: the length \"5mm\""},
		{`<rect width="5" height="5" transform="turn(3)"/>`, "transform"},
		{`<rect width="5" height="5" fill-rule="odd"/>`, "fill rule"},
		{`<polygon points="1 2 3"/>`, "no y"},
		{`<path d="M0 0h5v5x"/>`, "line 1: path, character 9"},
		{`<rect width="5" height="5" transform="scale(1000000)"/>`, "out of range"},
		{strings.Repeat("<g>", 101) + strings.Repeat("</g>", 101), "deep"},
		{`<g>` + rect, "well-formed"},
		{`&logo;`, "well-formed"},
	} {
		p, err := FromSVG(file(c[0]))
		if err == nil || fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%.60q: %d steps, %v, want an input error with %q", c[0], len(p), err, c[1])
			continue
		}
		if fault.List(err)[0].Do == "" {
			t.Errorf("%.60q: no word on what to do", c[0])
		}
	}
	for _, s := range []string{"", "<html></html>", "\x89PNG\r\n", "<svg", "<?xml version='1.0' encoding='UTF-16'?><svg/>"} {
		if _, err := FromSVG([]byte(s)); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v, want an input error", s, err)
		}
	}
}

// A whole file of the project's own writer.
func TestFileOfTheWriter(t *testing.T) {
	ring := append(geom.Circle(geom.Point{X: 50, Y: 50}, 20), geom.Circle(geom.Point{X: 50, Y: 50}, 10).Reverse()...)
	p, err := FromSVG([]byte(written(t, ring)))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a ring", p.Area(1e-6), math.Pi*300, 1e-2)
}

func FuzzSVG(f *testing.F) {
	for _, s := range []string{`<rect x="5" y="6" width="20px" height="10"/>`, `<g transform="rotate(30 1 2)"><path fill-rule="evenodd" d="M0 0h9v9zM1 2h3v1z"/></g>`,
		`<circle r="4"/><text/>`, `<polygon style="fill:#fff;opacity:1" points="1,2 3,4 5,0"/>`} {
		f.Add(file(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := FromSVG(b)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%q: %v is not the user's to mend", b, err)
			}
			return
		}
		if err := check(p); err != nil {
			t.Fatalf("%q gave a path beyond the limits: %v", b, err)
		}
	})
}

// A file as a drawing program saves it, with its own name spaces, views and
// style lists: written for this test in the manner of one.
func TestFileOfADrawingProgram(t *testing.T) {
	p, err := FromSVG([]byte("\ufeff" + `<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd">
<!-- drawn by hand -->
<svg:svg width="30mm" height="20mm" viewBox="0 0 30 20" version="1.1" fill="none" xml:space="preserve"
   xmlns:draw="http://f.example/draw" xmlns:svg="http://www.w3.org/2000/svg" xmlns:rdf="http://f.example/rdf">
  <draw:view pagecolor="#ffffff"><draw:grid stroke="red"/></draw:view>
  <svg:defs><svg:clipPath id="c"><svg:rect width="9" height="9"/></svg:clipPath><svg:style type="text/css"> </svg:style></svg:defs>
  <svg:metadata><rdf:RDF><rdf:text>x</rdf:text></rdf:RDF></svg:metadata>
  <svg:g draw:label="Layer 1" id="layer1" style="display:inline" transform="translate(-2,-3)">
    <svg:path id="p1" draw:nodetypes="ccc" class="st0"
       style="fill:#1a1a1a;fill-opacity:1;fill-rule:evenodd;stroke:none;stroke-width:0.26;stroke-linecap:butt;stroke-opacity:1"
       d="m 5,5 h 10 v 10 h -10 z m 2,2 h 6 v 6 h -6 z" />
    <svg:ellipse id="e" cx="25" cy="10" rx="2" ry="3" fill="black" clip-path="none"/>
    <svg:rect width="99" height="99"/>
  </svg:g>
</svg:svg>`))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ink", inked(p, 400), 64+math.Pi*6, 1)
	if b := p.Bounds(); b.Min.Sub(geom.Point{X: 3, Y: 2}).Len() > 1e-6 || b.Max.Sub(geom.Point{X: 25, Y: 12}).Len() > 1e-6 {
		t.Errorf("bounds %v", b)
	}
}
