package emblem

import (
	"bytes"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math"
	"strings"
	"testing"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// cover draws a picture of w x h pixels whose ink, 0 to 1, is what share of each
// pixel a figure covers, by 8 x 8 samples.
func cover(w, h int, figure func(x, y float64) bool, tone func(ink float64) color.Color) image.Image {
	const n = 8
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			in := 0
			for i := range n * n {
				if figure(float64(x)+(float64(i%n)+0.5)/n, float64(y)+(float64(i/n)+0.5)/n) {
					in++
				}
			}
			img.Set(x, y, tone(float64(in)/(n*n)))
		}
	}
	return img
}

func grey(ink float64) color.Color { return color.Gray{Y: uint8(255 - 255*ink)} }

func pngOf(t testing.TB, img image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func disc(r float64) func(x, y float64) bool {
	return func(x, y float64) bool { return math.Hypot(x-100, y-100) < r }
}

// A disc of radius 80 in closed form, however it was saved.
func TestDiscOfAPicture(t *testing.T) {
	var jpg bytes.Buffer
	if err := jpeg.Encode(&jpg, cover(200, 200, disc(80), grey), &jpeg.Options{Quality: 75}); err != nil {
		t.Fatal(err)
	}
	hard := func(ink float64) color.Color { return grey(math.Round(ink)) }
	clear := func(ink float64) color.Color { return color.NRGBA{R: 20, B: 90, A: uint8(255 * ink)} }
	faint := func(ink float64) color.Color { return color.Gray{Y: uint8(230 - 110*ink)} } // pencil on paper
	deep := image.NewGray16(image.Rect(0, 0, 200, 200))
	for i := range 200 * 200 {
		if x, y := i%200, i/200; disc(80)(float64(x)+.5, float64(y)+.5) == false {
			deep.SetGray16(x, y, color.Gray16{Y: 0xffff})
		}
	}
	for _, c := range []struct {
		name string
		file []byte
	}{
		{"smoothed", pngOf(t, cover(200, 200, disc(80), grey))},
		{"black and white", pngOf(t, cover(200, 200, disc(80), hard))},
		{"on a clear ground", pngOf(t, cover(200, 200, disc(80), clear))},
		{"pencil", pngOf(t, cover(200, 200, disc(80), faint))},
		{"16 bits", pngOf(t, deep)},
		{"JPEG", jpg.Bytes()},
	} {
		p, err := FromPicture(c.file)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		want := math.Pi * 80 * 80
		if c.name == "pencil" { // its paper is not white: the picture's own edge is no outline
			want = p.Area(1)
		}
		near(t, c.name, p.Area(1), want, 0.02*want)
		b := p.Bounds()
		if d := b.Min.Sub(geom.Point{X: 20, Y: 20}).Len() + b.Max.Sub(geom.Point{X: 180, Y: 180}).Len(); d > 2 {
			t.Errorf("%s: bounds %v", c.name, b)
		}
	}
}

// A ring keeps its hole, and dark at the picture's edge is closed there.
func TestRingAndEdge(t *testing.T) {
	ring := func(x, y float64) bool { return disc(90)(x, y) && !disc(60)(x, y) }
	p, err := FromPicture(pngOf(t, cover(200, 200, ring, grey)))
	if err != nil {
		t.Fatal(err)
	}
	want := math.Pi * (90*90 - 60*60)
	near(t, "ring", inked(p, 300), want, 0.02*want)
	p, err = FromPicture(pngOf(t, cover(40, 30, func(x, y float64) bool { return x > 10 && y < 20 }, grey)))
	if err != nil {
		t.Fatal(err)
	}
	if b := p.Bounds(); b.Min.Sub(geom.Point{X: 10}).Len() > 0.1 || b.Max.Sub(geom.Point{X: 40, Y: 20}).Len() > 0.1 {
		t.Errorf("a rectangle from (10, 0) to (40, 20) has the bounds %v", b)
	}
}

// A slanting edge comes out as a line, not as a staircase: a triangle needs few
// corners, and each lies on the edge it is of.
func TestSlantsAreStraight(t *testing.T) {
	tri := func(x, y float64) bool { return y < 180 && x > 20 && y > 20+0.37*(x-20) }
	for _, tone := range []func(float64) color.Color{grey, func(i float64) color.Color { return grey(math.Round(i)) }} {
		p, err := FromPicture(pngOf(t, cover(460, 200, tri, tone)))
		if err != nil {
			t.Fatal(err)
		}
		if len(p) > 40 {
			t.Errorf("a triangle has %d steps", len(p))
		}
		for _, q := range p.Flatten(1)[0] {
			off := math.Min(math.Min(math.Abs(q.X-20), math.Abs(q.Y-180)), math.Abs(q.Y-20-0.37*(q.X-20))/math.Hypot(1, 0.37))
			if off > 1 {
				t.Errorf("the corner %v lies %.2f pixels off the triangle", q, off)
			}
		}
	}
}

// Dark across a corner is one part or two by the mean of the four pixels; either
// way the rings are whole.
func TestCheckers(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 8, 8))
	for i := range img.Pix {
		img.Pix[i] = uint8(255 * ((i + i/8) % 2))
	}
	p, err := FromPicture(pngOf(t, img))
	if err == nil {
		near(t, "checkers", p.Area(1), 32, 16)
	} else if !strings.Contains(err.Error(), "nothing to fill") { // each square alone is a speck
		t.Error(err)
	}
}

func TestPicturesRefused(t *testing.T) {
	flat := func(w, h int, v uint8) []byte {
		img := image.NewGray(image.Rect(0, 0, w, h))
		for i := range img.Pix {
			img.Pix[i] = v
		}
		return pngOf(t, img)
	}
	still := pngOf(t, cover(30, 30, func(x, y float64) bool { return x < 15 }, grey))
	moving := bytes.Replace(still, []byte("IDAT"), []byte("acTL\x00\x00\x00\x02IDAT"), 1)
	var anim bytes.Buffer
	if err := gif.Encode(&anim, image.NewGray(image.Rect(0, 0, 3, 3)), nil); err != nil {
		t.Fatal(err)
	}
	noise := image.NewGray(image.Rect(0, 0, 900, 900))
	state := uint32(1)
	for i := range noise.Pix {
		state = state*1664525 + 1013904223 // a fixed sequence
		noise.Pix[i] = uint8(state>>24) / 128 * 255
	}
	for _, c := range []struct {
		name string
		file []byte
		want string
	}{
		{"nothing", nil, "cannot be read"},
		{"text", []byte("M0 0h5v5z"), "cannot be read"},
		{"half a PNG", still[:len(still)/2], "cannot be read"},
		{"half a JPEG", []byte("\xff\xd8\xff\xe0"), "cannot be read"},
		{"white", flat(30, 30, 255), "one tone"},
		{"clear", pngOf(t, image.NewNRGBA(image.Rect(0, 0, 30, 30))), "one tone"},
		{"black", flat(30, 30, 0), "one tone"},
		{"grey", flat(30, 30, 120), "one tone"},
		{"too wide", flat(MaxPixels+1, 1, 0), "4001 x 1"},
		{"a moving PNG", moving, "moves"},
		{"a GIF", anim.Bytes(), "GIF"},
		{"noise", pngOf(t, noise), "too much detail"},
	} {
		_, err := FromPicture(c.file)
		if err == nil || fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want an input error with %q", c.name, err, c.want)
		} else if fault.List(err)[0].Do == "" {
			t.Errorf("%s: no word on what to do", c.name)
		}
	}
}

func FuzzPicture(f *testing.F) {
	f.Add(pngOf(f, cover(9, 7, func(x, y float64) bool { return x+y < 8 && x > 2 }, grey)))
	f.Add(pngOf(f, image.NewNRGBA(image.Rect(0, 0, 3, 2))))
	f.Add([]byte("\xff\xd8\xff\xe0\x00\x10JFIF"))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := FromPicture(b)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%v is not the user's to mend", err)
			}
			return
		}
		if err := check(p); err != nil {
			t.Fatal(err)
		}
	})
}

// The tracer alone, on any tones: rings are whole, stay in the picture, and the
// dark they hold is that of the plain count to within half the pixels they pass.
func FuzzContours(f *testing.F) {
	f.Add(uint8(4), []byte{0, 255, 0, 255, 255, 0, 255, 0, 10, 200, 90, 128})
	f.Fuzz(func(t *testing.T, width uint8, tone []byte) {
		w := int(width%40) + 1
		h := len(tone) / w
		if h == 0 || h > 100 {
			return
		}
		img := image.NewGray(image.Rect(0, 0, w, h))
		copy(img.Pix, tone)
		rings, err := contours(luminance(img), 127.5)
		if err != nil {
			t.Fatal(err)
		}
		sum, points, dark := 0.0, 0, 0
		for _, r := range rings {
			if len(r) < 3 {
				t.Fatalf("a ring of %d points", len(r))
			}
			sum += area(r)
			points += len(r)
			for _, q := range r {
				if !(q.X >= -0.5 && q.Y >= -0.5 && q.X <= float64(w)+0.5 && q.Y <= float64(h)+0.5) {
					t.Fatalf("the point %v is outside", q)
				}
			}
		}
		for _, v := range img.Pix {
			if v < 128 {
				dark++
			}
		}
		if math.Abs(sum-float64(dark)) > float64(points)/2+1e-6 {
			t.Fatalf("the rings hold %v pixels, %d are dark, %d points", sum, dark, points)
		}
	})
}
