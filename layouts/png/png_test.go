package png

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image/color"
	stdpng "image/png"
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

func TestSizeAndResolution(t *testing.T) {
	s := &draw.Sheet{Name: "a4", Size: geom.Size{W: 210, H: 297}}
	s.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(100, 100, 10, 10)), Ink: draw.Ink{R: 200}})
	for _, c := range []struct {
		dpi      float64
		w, h     int
		perMetre uint32
	}{ // 210·dpi/25.4 and 297·dpi/25.4, to the nearest; dpi/0.0254
		{300, 2480, 3508, 11811},
		{72, 595, 842, 2835},
		{96, 794, 1123, 3780},
	} {
		var b bytes.Buffer
		if err := Write(&b, s, c.dpi); err != nil {
			t.Fatal(err)
		}
		file := b.Bytes()
		i := bytes.Index(file, []byte("pHYs"))
		if i < 0 || i > bytes.Index(file, []byte("IDAT")) {
			t.Fatal("no pHYs before the picture")
		}
		if x, y, unit := binary.BigEndian.Uint32(file[i+4:]), binary.BigEndian.Uint32(file[i+8:]), file[i+12]; x != c.perMetre || y != x || unit != 1 {
			t.Errorf("%g dpi: %d x %d per unit %d, want %d per metre", c.dpi, x, y, unit, c.perMetre)
		}
		if binary.BigEndian.Uint32(file[i+13:]) != crc32.ChecksumIEEE(file[i:i+13]) {
			t.Error("the chunk's check sum is wrong")
		}
		img, err := stdpng.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if r := img.Bounds(); r.Dx() != c.w || r.Dy() != c.h {
			t.Errorf("%g dpi: %v pixels, want %d x %d", c.dpi, r, c.w, c.h)
		}
		k := c.dpi / 25.4
		if got := color.RGBAModel.Convert(img.At(int(105*k), int(105*k))); got != (color.RGBA{R: 200, A: 255}) {
			t.Errorf("in the middle of the square: %v", got)
		}
		if got := color.RGBAModel.Convert(img.At(int(99*k), int(105*k))); got != (color.RGBA{255, 255, 255, 255}) {
			t.Errorf("beside the square: %v", got)
		}
	}
}

type failing struct{}

var errFull = errors.New("disc full")

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestErrors(t *testing.T) {
	ok := &draw.Sheet{Size: geom.Size{W: 10, H: 10}}
	if err := Write(failing{}, ok, 100); !errors.Is(err, errFull) || fault.ClassOf(err) != fault.Machine {
		t.Errorf("a full disc gives %v", err)
	}
	for _, dpi := range []float64{0, -1, math.NaN(), math.Inf(1), 1e6} {
		if _, err := Render(ok, dpi); fault.ClassOf(err) != fault.Input {
			t.Errorf("%g dpi: %v", dpi, err)
		}
	}
	bar := geom.Rectangle(geom.XYWH(0, 0, 1, 1))
	for name, op := range map[string]draw.Op{
		"infinite":           &draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, math.Inf(1), 1))},
		"infinite group":     &draw.Group{At: geom.Affine{A: math.NaN(), D: 1}, Ops: []draw.Op{&draw.Stroke{Path: bar, Width: 1, Dash: []float64{1}}}},
		"path without start": &draw.Fill{Path: geom.Path{{Verb: geom.Cubic}}},
		"no width":           &draw.Stroke{Path: bar},
		"empty dash":         &draw.Stroke{Path: bar, Width: 1, Dash: []float64{0}},
		"negative dash":      &draw.Stroke{Path: bar, Width: 1, Dash: []float64{-1, 3}},
	} {
		s := &draw.Sheet{Size: geom.Size{W: 10, H: 10}}
		s.Add(draw.Cut, op)
		if _, err := Render(s, 100); err == nil || fault.ClassOf(err) != fault.Ours {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestBands draws an op larger than a band and looks at its rows one by one:
// bands must meet without a seam.
func TestBands(t *testing.T) {
	s := &draw.Sheet{Size: geom.Size{W: 254, H: 254}}
	s.Add(draw.Ground, &draw.Fill{Path: geom.Polygon(geom.Point{X: 10, Y: 5}, geom.Point{X: 250, Y: 5}, geom.Point{X: 230, Y: 250}, geom.Point{X: 10, Y: 250}), Ink: draw.Black})
	img, err := Render(s, 300) // 3000 x 3000 pixels, the op 2834 x 2894: two bands
	if err != nil {
		t.Fatal(err)
	}
	k := 300 / 25.4
	for y := int(5*k) + 1; y < int(250*k); y++ {
		if c := img.RGBAAt(int(100*k), y); c != (color.RGBA{A: 255}) {
			t.Fatalf("row %d: %v", y, c)
		}
	}
	if c := img.RGBAAt(int(5*k), int(100*k)); c.R != 255 {
		t.Errorf("outside: %v", c)
	}
}

// coverage is the ink on a picture in pixels: the area of what was drawn, if
// it is black and nothing lies over another.
func coverage(t interface{ Fatal(...any) }, op draw.Op) float64 {
	s := &draw.Sheet{Size: geom.Size{W: 200, H: 200}}
	s.Add(draw.Colour, op)
	img, err := Render(s, 25.4) // a pixel is a millimetre
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for i := 0; i < len(img.Pix); i += 4 {
		sum += 1 - float64(img.Pix[i])/255
	}
	return sum
}

// TestStrokeArea: the ink of a stroke is its length times its width, wherever
// it lies and however it is dashed; of a ring, the area between its offsets.
func TestStrokeArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		a := geom.Point{X: n("x", 20, 180), Y: n("y", 20, 180)}
		b := geom.Point{X: n("u", 20, 180), Y: n("v", 20, 180)}
		w, on, off := n("w", 0.3, 8), n("on", 0.5, 20), n("off", 0.5, 20)
		length := b.Sub(a).Len()
		// Greys are whole steps: each pixel along the edge may be off by one of 255.
		slack := 0.02 + (2*length+2*w+8)*1.5/255
		if got := coverage(t, &draw.Stroke{Path: geom.LineBetween(a, b), Width: w}); math.Abs(got-length*w) > slack {
			t.Fatalf("a line of %g x %g covers %g", length, w, got)
		}
		whole, rest := math.Floor(length/(on+off)), math.Mod(length, on+off)
		inked := float64(whole*on) + math.Min(rest, on)
		slack += (whole + 1) * (w + 2) * 3 / 255 // the ends of the dashes are edges too
		if got := coverage(t, &draw.Stroke{Path: geom.LineBetween(a, b), Width: w, Dash: []float64{on, off}}); math.Abs(got-inked*w) > slack {
			t.Fatalf("a line of %g x %g dashed %g %g covers %g, want %g", length, w, on, off, got, inked*w)
		}
		r := n("r", 10, 70)
		got := coverage(t, &draw.Stroke{Path: geom.Circle(geom.Point{X: 100, Y: 100}, r), Width: w})
		if want := 2 * math.Pi * r * w; math.Abs(got-want) > 0.01*want+0.3 {
			t.Fatalf("a ring of radius %g and width %g covers %g, want %g", r, w, got, want)
		}
	})
}

// TestMitre: a corner of angle φ adds a mitre up to ten widths long and a bevel
// beyond. The length of a mitre is width/sin(φ/2) (ISO 32000-1, 8.4.3.5), so
// ten widths are reached at φ = 11.48 degrees.
func TestMitre(t *testing.T) {
	const w, arm = 4.0, 60.0
	for _, c := range []struct {
		degrees float64
		mitred  bool
	}{{150, true}, {90, true}, {45, true}, {20, true}, {12, true}, {11, false}, {5, false}} {
		phi := c.degrees * math.Pi / 180
		// The corner points left; its arms open to the right about the axis.
		var p geom.Path
		corner := geom.Point{X: 60, Y: 100}
		p.MoveTo(corner.Add(geom.Point{X: arm * math.Cos(phi/2), Y: arm * math.Sin(phi/2)}))
		p.LineTo(corner)
		p.LineTo(corner.Add(geom.Point{X: arm * math.Cos(phi/2), Y: -arm * math.Sin(phi/2)}))
		left := math.Inf(1)
		for _, ring := range outline(p, w, nil) {
			for _, q := range ring {
				left = math.Min(left, q.X)
			}
		}
		want := w / 2 / math.Sin(phi/2) // the outer half of the mitre
		if !c.mitred {
			want = w / 2 * math.Sin(phi/2) // the bevel's middle, where the offsets' corners stand
		}
		if got := corner.X - left; math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g degrees the corner reaches %g beyond its point, want %g", c.degrees, got, want)
		}
	}
}
