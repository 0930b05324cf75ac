package readback

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/klippa-app/go-pdfium/enums"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/pdf"
	"floatmark/layouts/png"
	"floatmark/layouts/typeset"
)

func writeWith(t testing.TB, o pdf.Options, sheets ...*draw.Sheet) (*pdfFile, string) {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.WriteWith(&b, draw.Document{Title: "press", Sheets: sheets}, o); err != nil {
		t.Fatal(err)
	}
	return openPDF(t, b.Bytes()), b.String()
}

// press is a page of 100 x 80 mm with something on each layer.
func press() *draw.Sheet {
	s := &draw.Sheet{Name: "press", Size: geom.Size{W: 100, H: 80}, Trim: geom.XYWH(10, 15, 70, 40), Bleed: geom.XYWH(9, 14, 72, 42)}
	bar := func(y float64) geom.Path { return geom.Rectangle(geom.XYWH(20, y, 30, 4)) }
	s.Add(draw.Ground, &draw.Fill{Path: bar(20), Ink: draw.Ink{R: 255, G: 255}})
	s.Add(draw.Colour, &draw.Fill{Path: bar(26), Ink: red})
	s.Add(draw.Cut, &draw.Stroke{Path: bar(32), Ink: draw.Ink{R: 230, B: 120}, Width: 1})
	s.Add(draw.Crease, &draw.Fill{Path: bar(40), Ink: draw.Black})
	s.Add(draw.Guide, &draw.Fill{Path: bar(46), Ink: draw.Black})
	return s
}

// TestPressPage: PDFium reads the boxes, what stands on which layer, and where,
// in mm; the spot colour's name it does not tell, but paints its alternate.
func TestPressPage(t *testing.T) {
	s := press()
	f, text := writeWith(t, pdf.Options{CutName: "Kerf 2"}, s)
	for name, c := range map[string]struct{ got, want geom.Rect }{"trim": {f.trimBox(0), s.Trim}, "bleed": {f.bleedBox(0), s.Bleed}} {
		if !hasBox([]geom.Rect{c.got}, c.want) {
			t.Errorf("%s box %v, want %v", name, c.got, c.want)
		}
	}
	want := []struct {
		layer string
		box   geom.Rect
	}{
		{"ground", geom.XYWH(20, 20, 30, 4)}, {"colour", geom.XYWH(20, 26, 30, 4)},
		{"cut", geom.XYWH(20, 32, 30, 4)}, {"crease", geom.XYWH(20, 40, 30, 4)}, {"guide", geom.XYWH(20, 46, 30, 4)},
	}
	got := f.objects(0)
	if len(got) != len(want) {
		t.Fatalf("%d objects, want %d", len(got), len(want))
	}
	for i, w := range want {
		if got[i].layer != w.layer {
			t.Errorf("object %d is on layer %q, want %q", i, got[i].layer, w.layer)
		}
		// PDFium's box of a stroke is larger by its width and mitres.
		if b := f.bounds(0, got[i]); w.layer == "cut" && !b.Contains(w.box) || w.layer != "cut" && !hasBox([]geom.Rect{b}, w.box) {
			t.Errorf("%s is at %v, want %v", w.layer, b, w.box)
		}
	}
	if !strings.Contains(text, "/Separation /Kerf#202 /DeviceRGB") {
		t.Error("the cut lines' spot colour is not in the file")
	}
	if ink := f.render(0, opDPI).at(35, 32); ink != (draw.Ink{R: 230, B: 120}) {
		t.Errorf("the cut line looks %v", ink)
	}
	// Magenta of CMYK 0 1 0 0, whatever RGB a reader makes of it, is far from the
	// line's own ink in green and from white.
	cmyk, _ := writeWith(t, pdf.Options{CutCMYK: [4]float64{1, 0, 0, 0}}, press())
	if ink := cmyk.render(0, opDPI).at(35, 32); ink.R > 100 || ink.B < 150 {
		t.Errorf("a cut line in cyan looks %v", ink)
	}
	black, _ := writeWith(t, pdf.Options{BlackOnly: true, Omit: []draw.Layer{draw.Cut}}, press())
	img := black.render(0, opDPI)
	for i := 0; i < len(img.Pix); i += 4 {
		if r, g, b := img.Pix[i], img.Pix[i+1], img.Pix[i+2]; r != g || g != b {
			t.Fatalf("a colour %d %d %d in black alone", r, g, b)
		}
	}
	if n := len(black.objects(0)); n != 4 {
		t.Errorf("%d objects without the cut, want 4", n)
	}
}

// TestFormsReadBack: a design shown many times, on two pages, turned, mirrored,
// scaled and within a group, reads back as it would drawn in place: outlines in
// mm, words found, pictures alike.
func TestFormsReadBack(t *testing.T) {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	line, err := typeset.Shape("12 g", typeset.Bold(set, 3))
	if err != nil {
		t.Fatal(err)
	}
	design := append(line.Straight(geom.Translate(1, 5), typeset.Left, draw.Black),
		&draw.Fill{Path: geom.Circle(geom.Point{X: 5, Y: 10}, 2.5), Ink: red},
		&draw.Stroke{Path: geom.Rectangle(geom.XYWH(0, 0, 10, 14)), Ink: draw.Black, Width: 0.5})
	at := []geom.Affine{geom.Translate(5, 5), geom.Translate(20.1234, 5), geom.Rotate(math.Pi / 2).Then(geom.Translate(50, 5)),
		geom.Scale(-1, 1).Then(geom.Translate(65, 5)), geom.Scale(1.5, 1.5).Then(geom.Translate(5, 40)), geom.Rotate(0.3).Then(geom.Translate(40, 40))}
	shared, once := &draw.Sheet{Size: opSheet}, &draw.Sheet{Size: opSheet}
	for _, m := range at {
		shared.Add(draw.Colour, &draw.Group{Name: "design", At: m, Ops: design})
		draw.Walk(design, func(op draw.Op, in geom.Affine, _ bool) {
			once.Add(draw.Colour, &draw.Group{At: in.Then(m), Ops: []draw.Op{op}})
		})
	}
	f := writeAndOpen(t, shared, shared)
	for page := range 2 {
		objects, forms := f.objects(page), 0
		var rings []geom.Rect
		for _, o := range objects {
			if o.form {
				forms++
			}
			if o.layer != "colour" {
				t.Errorf("an object is on layer %q", o.layer)
			}
			if o.kind == enums.FPDF_PAGEOBJ_PATH {
				rings = append(rings, f.bounds(page, o))
			}
		}
		// On the first page all but the first of each size are shown from a form: the
		// larger one has its places to another decimal. On the second, all are.
		if per := len(objects) / len(at); forms != (len(at)-2+2*page)*per {
			t.Errorf("page %d: %d of %d objects stand in forms", page, forms, len(objects))
		}
		for i, m := range at {
			c := m.Apply(geom.Point{X: 5, Y: 10})
			r := 2.5 * math.Sqrt(math.Abs(m.Det()))
			if m.B != 0 && m.A != 0 {
				continue // the box of a turned box is larger
			}
			if !hasBox(rings, geom.XYWH(c.X-r, c.Y-r, 2*r, 2*r)) {
				t.Errorf("page %d: no disc of radius %g about %v of design %d in %v", page, r, c, i, rings)
			}
		}
		if n := f.find(page, "12 g"); n != len(at) {
			t.Errorf("page %d: the words are found %d times, want %d", page, n, len(at))
		}
	}
	plain, err := png.Render(once, opDPI)
	if err != nil {
		t.Fatal(err)
	}
	got, off, ink := f.render(1, opDPI), 0.0, 0.0
	for i := range plain.Pix {
		off += math.Abs(float64(plain.Pix[i]) - float64(got.Pix[i]))
		ink += 255 - float64(plain.Pix[i])
	}
	if off > 0.03*ink { // as TestWritersAgree
		t.Errorf("shown from forms it differs by %.4f of the ink", off/ink)
	}
}

// TestEveryOpInDots holds the black and white picture to the same places: every
// ink of the cases is darker than half.
func TestEveryOpInDots(t *testing.T) {
	for _, c := range opCases(t) {
		s := &draw.Sheet{Name: c.name, Size: opSheet}
		s.Add(draw.Colour, c.ops...)
		img, err := png.RenderBilevel(s, opDPI)
		if err != nil {
			t.Fatal(err)
		}
		k := opDPI / 25.4
		for _, p := range c.probes {
			r, _, _, _ := img.At(int(p.x*k), int(p.y*k)).RGBA()
			if white := p.ink == draw.White; white != (r > 0) {
				t.Errorf("%s: at (%g, %g) mm white is %v", c.name, p.x, p.y, r > 0)
			}
		}
	}
}
