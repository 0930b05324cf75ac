package png

import (
	"bytes"
	"encoding/binary"
	stdpng "image/png"
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// TestCodeOnTheDots: a code of whole dots to a module that lies on the dots is
// the module pattern and nothing else, dot by dot, turned by quarters too.
func TestCodeOnTheDots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dpi := rapid.SampledFrom([]float64{203, 300, 600, 720, 1200}).Draw(t, "dpi")
		n, dots := rapid.IntRange(4, 25).Draw(t, "modules"), rapid.IntRange(1, 8).Draw(t, "dots")
		x0, y0 := rapid.IntRange(0, 400).Draw(t, "x"), rapid.IntRange(0, 400).Draw(t, "y")
		dot := mmPerInch / dpi
		on := make(map[[2]int]bool)
		var path geom.Path
		for y := range n {
			for x := range n {
				if rapid.Bool().Draw(t, "dark") {
					on[[2]int{x, y}] = true
					m := dot * float64(dots)
					path = append(path, geom.Rectangle(geom.XYWH(float64(x)*m, float64(y)*m, m, m))...)
				}
			}
		}
		turned := rapid.Bool().Draw(t, "turned")
		at := geom.Translate(dot*float64(x0), dot*float64(y0))
		if turned { // by a quarter about the code's own corner, and back to the right of it
			at = geom.Rotate(math.Pi / 2).Then(geom.Translate(dot*float64(x0+n*dots), dot*float64(y0)))
		}
		side := dot * float64(400+n*dots)
		s := &draw.Sheet{Size: geom.Size{W: side, H: side}}
		s.Add(draw.Colour, &draw.Group{Rigid: true, At: at, Ops: []draw.Op{&draw.Fill{Path: path}}})
		img, err := RenderBilevel(s, dpi)
		if err != nil {
			t.Fatal(err)
		}
		for py := range img.Bounds().Dy() {
			for px := range img.Bounds().Dx() {
				x, y := floorDiv(px-x0, dots), floorDiv(py-y0, dots)
				if turned {
					x, y = y, n-1-x
				}
				want := uint8(paper)
				if on[[2]int{x, y}] {
					want = inked
				}
				if got := img.ColorIndexAt(px, py); got != want {
					t.Fatalf("dot (%d, %d) is %d, want %d", px, py, got, want)
				}
			}
		}
	})
}

func floorDiv(a, b int) int { return int(math.Floor(float64(a) / float64(b))) }

// TestHalfCovered: a bar's edges go to the nearest dot.
func TestHalfCovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// In dots; a dot covered by one half within rounding may go either way.
		x, w := rapid.Float64Range(1, 40).Draw(t, "x"), rapid.Float64Range(1, 40).Draw(t, "w")
		unsure := func(v float64) bool { return math.Abs(v-math.Floor(v)-0.5) < 0.01 }
		if unsure(x) || unsure(x+w) {
			t.Skip("on the half")
		}
		s := &draw.Sheet{Size: geom.Size{W: 100, H: 3}}
		s.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(x, 0, w, 3)), Ink: draw.Ink{R: 160, G: 40}})
		img, err := RenderBilevel(s, mmPerInch) // a dot is a millimetre
		if err != nil {
			t.Fatal(err)
		}
		for px := range 100 {
			want := uint8(paper)
			if float64(px) >= math.Round(x) && float64(px) < math.Round(x+w) {
				want = inked
			}
			if got := img.ColorIndexAt(px, 1); got != want {
				t.Fatalf("%g + %g: dot %d is %d, want %d", x, w, px, got, want)
			}
		}
	})
}

func TestBilevelFile(t *testing.T) {
	s := &draw.Sheet{Size: geom.Size{W: 50, H: 30}}
	s.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(geom.XYWH(5, 5, 40, 20)), Ink: draw.Ink{R: 20, G: 60, B: 90}})
	s.Add(draw.Colour, &draw.Fill{Path: geom.Circle(geom.Point{X: 25, Y: 15}, 6), Ink: draw.Ink{R: 255, G: 230}})
	var b bytes.Buffer
	if err := WriteBilevel(&b, s, 600); err != nil {
		t.Fatal(err)
	}
	file := b.Bytes()
	// IHDR (PNG specification, 11.2.2): width, height, depth and kind; 3 is a palette.
	if depth, kind := file[24], file[25]; depth != 1 || kind != 3 {
		t.Errorf("%d bits, kind %d", depth, kind)
	}
	i := bytes.Index(file, []byte("pHYs"))
	if i < 0 || binary.BigEndian.Uint32(file[i+4:]) != 23622 { // 600/0.0254
		t.Error("no resolution of 600 dpi")
	}
	img, err := stdpng.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if r := img.Bounds(); r.Dx() != 1181 || r.Dy() != 709 { // 50 and 30 mm · 600/25.4
		t.Errorf("%v", r)
	}
	k, black := 600/mmPerInch, 0.0
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r == 0 {
				black++
			}
		}
	}
	// The ground less the disc, which is light and clears it.
	if want := (40*20 - math.Pi*36) * k * k; math.Abs(black-want) > 0.002*want {
		t.Errorf("%g black dots, want %g", black, want)
	}
	for _, dpi := range []float64{0, math.NaN(), 1e6} {
		if err := WriteBilevel(&b, s, dpi); fault.ClassOf(err) != fault.Input {
			t.Errorf("%g dpi: %v", dpi, err)
		}
	}
	s.Add(draw.Cut, &draw.Stroke{Path: geom.Rectangle(geom.XYWH(0, 0, 1, 1))})
	if err := WriteBilevel(&b, s, 100); fault.ClassOf(err) != fault.Ours {
		t.Errorf("a stroke of no width: %v", err)
	}
}
