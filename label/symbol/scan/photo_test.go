package scan_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/loading/fault"
)

const (
	aLink       = "HTTPS://F.EXAMPLE/9KYA3C"
	anotherLink = "HTTPS://F.EXAMPLE/B2C3D4"
)

// held is a code as it lies in a photograph.
type held struct {
	text  string
	x, y  float64 // of its middle, as shares of the picture
	width float64 // points, without the pale edge
	turn  float64 // degrees in the picture
	lean  float64 // how much nearer one edge is than the other, as a share
	bow   float64 // radius of the body it is on, in widths of the code; 0 for flat
	dark  float64 // of its ink, 0 to 255
}

// photographed makes a photograph: a bench of uneven light, codes on a pale film
// on it, blurred over so many points, with noise.
func photographed(t testing.TB, w, h int, blur, noise float64, codes ...held) *image.Gray {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 9))
	img := image.NewGray(image.Rect(0, 0, w, h))
	shade := func(x, y float64) float64 { // light from one side, boards across
		return 60 + 50*x/float64(w) + 20*math.Sin(y/float64(h)*40)
	}
	for y := range h {
		for x := range w {
			img.Pix[y*img.Stride+x] = byte(shade(float64(x), float64(y)))
		}
	}
	for _, c := range codes {
		m, err := symbol.QR(c.text)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(m.N)
		light := func(x, y float64) float64 { // of one place in the picture
			dx, dy := (x-c.x*float64(w))/c.width, (y-c.y*float64(h))/c.width
			s, k := math.Sincos(c.turn * math.Pi / 180)
			u, v := k*dx+s*dy, k*dy-s*dx
			far := 1 + c.lean*v // a projective map: parallels meet
			u, v = u/far, v/far
			if c.bow > 0 {
				if math.Abs(u) >= c.bow {
					return shade(x, y)
				}
				u = c.bow * math.Asin(u/c.bow)
			}
			mx, my := (u+0.5)*n, (v+0.5)*n
			sun := 0.75 + 0.25*x/float64(w)
			switch {
			case mx < -4 || my < -4 || mx > n+4 || my > n+4:
				return shade(x, y)
			case mx >= 0 && my >= 0 && mx < n && my < n && m.Dark(int(mx), int(my)):
				return sun * max(c.dark, 25)
			}
			return sun * 230
		}
		r := c.width * 0.95 * (1 + math.Abs(c.lean)) // to the corners of the pale edge
		for y := max(0, int(c.y*float64(h)-r)); y < min(h, int(c.y*float64(h)+r)); y++ {
			for x := max(0, int(c.x*float64(w)-r)); x < min(w, int(c.x*float64(w)+r)); x++ {
				sum := 0.0
				for i := range 4 {
					sum += light(float64(x)+0.5+blur*(float64(i%2)-0.5), float64(y)+0.5+blur*(float64(i/2)-0.5))
				}
				img.Pix[y*img.Stride+x] = byte(sum / 4)
			}
		}
	}
	for i, p := range img.Pix {
		// Three even draws added are near enough to a bell.
		e := noise * 2 * (rng.Float64() + rng.Float64() + rng.Float64() - 1.5)
		img.Pix[i] = byte(min(255, max(0, float64(p)+e)))
	}
	return img
}

func asJPEG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// enlarged has four points for each, which spares drawing twelve megapixels.
func enlarged(g *image.Gray) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, 2*g.Rect.Dx(), 2*g.Rect.Dy()))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			out.Pix[y*out.Stride+x] = g.Pix[y/2*g.Stride+x/2]
		}
	}
	return out
}

// A phone's photograph of 12 megapixels reads where its code is 200 to 1,500
// points wide, flat or round a float, turned, sharp or not.
func TestPhotographsOfTwelveMegapixels(t *testing.T) {
	for _, c := range []struct {
		name        string
		blur, noise float64
		code        held
	}{
		{"200 points", 1, 8, held{text: aLink, x: 0.3, y: 0.6, width: 100, turn: 10}},
		{"1500 points, unsharp", 12, 12, held{text: aLink, x: 0.5, y: 0.5, width: 750, turn: 33, bow: 0.9}},
	} {
		data := asJPEG(t, enlarged(photographed(t, 2000, 1500, c.blur, c.noise, c.code)))
		start := time.Now()
		got, err := scan.Photo(t.Context(), bytes.NewReader(data))
		t.Logf("%s: %v", c.name, time.Since(start))
		if err != nil || got != aLink {
			t.Errorf("%s: %q, %v", c.name, got, err)
		}
	}
}

// Small pictures, every quarter turn, mirrored, tall or wide, both formats and
// every kind of point.
func TestSmallPhotographs(t *testing.T) {
	for turn := 0.0; turn < 360; turn += 45 {
		img := photographed(t, 900, 600, 1, 6, held{text: aLink, x: 0.4, y: 0.5, width: 180, turn: turn, bow: 1.2, dark: 40})
		if got, err := scan.Photo(t.Context(), bytes.NewReader(asPNG(t, img))); err != nil || got != aLink {
			t.Errorf("turned %g: %q, %v", turn, got, err)
		}
	}
	// As far as a code of 8 mm leans that is tilted by 30° at 10 cm: 8/100 · sin 30°.
	for _, turn := range []float64{0, 70, 200} {
		img := photographed(t, 1000, 750, 2, 12, held{text: aLink, x: 0.6, y: 0.4, width: 300, turn: turn, lean: 0.04})
		if got, err := scan.Photo(t.Context(), bytes.NewReader(asJPEG(t, img))); err != nil || got != aLink {
			t.Errorf("leaning, turned %g: %q, %v", turn, got, err)
		}
	}
	for _, width := range []float64{60, 75, 120, 300} { // 2.4 points to a square and more
		img := photographed(t, 400, 500, 0.5, 3, held{text: aLink, x: 0.5, y: 0.5, width: width})
		if got, err := scan.Photo(t.Context(), bytes.NewReader(asPNG(t, img))); err != nil || got != aLink {
			t.Errorf("%g points wide: %q, %v", width, got, err)
		}
	}
	grey := photographed(t, 400, 300, 1, 3, held{text: aLink, x: 0.5, y: 0.5, width: 150})
	b := grey.Bounds()
	nrgba, deep, seen := image.NewNRGBA(b), image.NewNRGBA64(b), image.NewPaletted(b, color.Palette{color.Black, color.Transparent})
	mirrored := image.NewGray(b)
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := grey.GrayAt(x, y)
			nrgba.Set(x, y, color.RGBA{c.Y, c.Y, c.Y / 2, 255})
			deep.Set(x, y, c)
			mirrored.SetGray(b.Dx()-1-x, y, c)
			if c.Y > 110 {
				seen.SetColorIndex(x, y, 1)
			}
		}
	}
	for name, data := range map[string][]byte{"grey JPEG": asJPEG(t, grey), "colour JPEG": asJPEG(t, nrgba), "colour PNG": asPNG(t, nrgba), "deep PNG": asPNG(t, deep),
		"PNG that shows through": asPNG(t, seen), "mirrored": asPNG(t, mirrored), "with an EXIF notice of a turn": withNotice(asJPEG(t, grey))} {
		if got, err := scan.Photo(t.Context(), bytes.NewReader(data)); err != nil || got != aLink {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
}

// withNotice puts an EXIF segment after the start of a JPEG: orientation 6, a
// quarter turn (EXIF 2.3, tag 0x0112).
func withNotice(data []byte) []byte {
	exif := "Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"
	n := len(exif) + 2
	return append(append(append([]byte{}, data[:2]...), append([]byte{0xff, 0xe1, byte(n >> 8), byte(n)}, exif...)...), data[2:]...)
}

// Two codes of different texts are told by both; the same text twice is one. They
// may be of one size in line, which tempts the reader to mix their corners.
func TestSeveralCodes(t *testing.T) {
	for _, c := range []struct {
		name     string
		x, y, w2 float64
	}{{"side by side", 0.7, 0.5, 150}, {"one under the other", 0.3, 0.85, 120}, {"one larger", 0.72, 0.5, 220}, {"one smaller", 0.7, 0.4, 90}} {
		for _, second := range []string{aLink, anotherLink} {
			img := photographed(t, 1000, 700, 1, 5, held{text: aLink, x: 0.3, y: 0.4, width: 150}, held{text: second, x: c.x, y: c.y, width: c.w2})
			got, err := scan.Photo(t.Context(), bytes.NewReader(asPNG(t, img)))
			if second == aLink {
				if err != nil || got != aLink {
					t.Errorf("%s, the same twice: %q, %v", c.name, got, err)
				}
				continue
			}
			if got != "" || fault.ClassOf(err) != fault.Input || err == nil || !strings.Contains(err.Error(), aLink) || !strings.Contains(err.Error(), anotherLink) {
				t.Errorf("%s: %q, %v", c.name, got, err)
			}
		}
	}
}

// What is no picture with a code is refused, quickly, with what to do.
func TestPhotosRefused(t *testing.T) {
	good := asJPEG(t, photographed(t, 300, 300, 1, 3, held{text: aLink, x: 0.5, y: 0.5, width: 150}))
	goodPNG := asPNG(t, photographed(t, 300, 300, 1, 3))
	huge := append([]byte{}, goodPNG...)
	copy(huge[16:], []byte{0, 0, 0x40, 0, 0, 0, 0x40, 0}) // IHDR: 16384 × 16384
	sumIHDR(huge)
	widest := append([]byte{}, goodPNG...)
	copy(widest[16:], []byte{0x7f, 0xff, 0xff, 0xff, 0, 0, 0, 1})
	sumIHDR(widest)
	zero := append([]byte{}, goodPNG...)
	copy(zero[16:], []byte{0, 0, 0, 0, 0, 0, 0, 1})
	sumIHDR(zero)
	deep := asPNG(t, image.NewNRGBA64(image.Rect(0, 0, 8, 8)))
	copy(deep[16:], []byte{0, 0, 0x1b, 0x58, 0, 0, 0x1b, 0x58}) // 7000 × 7000 of 8 bytes
	sumIHDR(deep)
	var moving bytes.Buffer
	if err := gif.Encode(&moving, image.NewGray(image.Rect(0, 0, 9, 9)), nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		data  []byte
		class fault.Class
		says  string
	}{
		{"nothing", nil, fault.Input, "empty"},
		{"text", []byte("9KYA3C\n"), fault.Input, "no picture"},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), fault.Input, "HEIC"},
		{"WebP", []byte("RIFF\x10\x00\x00\x00WEBPVP8 "), fault.Input, "WebP"},
		{"GIF", moving.Bytes(), fault.Input, "GIF"},
		{"PDF", []byte("%PDF-1.7\n"), fault.Input, "PDF"},
		{"huge", huge, fault.Input, "16384 × 16384"},
		{"widest", widest, fault.Input, "2147483647 × 1 "},
		{"zero", zero, fault.Input, ""},
		{"deep", deep, fault.Input, "sixteen bits"},
		{"half a JPEG", good[:len(good)/2], fault.Input, "ends too soon"},
		{"the beginning of a JPEG", good[:20], fault.Input, "ends too soon"},
		{"half a PNG", goodPNG[:len(goodPNG)/2], fault.Input, "ends too soon"},
		{"a signature alone", goodPNG[:8], fault.Input, "ends too soon"},
		{"a spoilt PNG", append(append([]byte{}, goodPNG[:60]...), make([]byte, 5000)...), fault.Input, "broken"},
		{"too many bytes", append(append([]byte{}, good...), make([]byte, 41<<20)...), fault.Input, "40 MB"},
		{"no code", goodPNG, fault.NotFound, "no code"},
		{"one point", asPNG(t, image.NewGray(image.Rect(0, 0, 1, 1))), fault.NotFound, "no code"},
		{"a line", asPNG(t, image.NewGray(image.Rect(0, 0, 3000, 1))), fault.NotFound, "no code"},
	} {
		start := time.Now()
		got, err := scan.Photo(t.Context(), bytes.NewReader(c.data))
		var e *fault.Error
		if got != "" || !errors.As(err, &e) || e.Class != c.class || !strings.Contains(e.What, c.says) || e.Do == "" {
			t.Errorf("%s: %q, %v of class %v", c.name, got, err, fault.ClassOf(err))
		}
		if took := time.Since(start); took > 5*time.Second {
			t.Errorf("%s took %v", c.name, took)
		}
	}
}

// sumIHDR writes the check sum of a PNG's first part anew, so that it is refused
// for its size and not for its sum.
func sumIHDR(data []byte) {
	crc := uint32(0xffffffff) // PNG specification, annex D
	for _, b := range data[12:29] {
		crc ^= uint32(b)
		for range 8 {
			crc = crc>>1 ^ 0xedb88320&-(crc&1)
		}
	}
	crc = ^crc
	copy(data[29:], []byte{byte(crc >> 24), byte(crc >> 16), byte(crc >> 8), byte(crc)})
}

// crowded is a picture full of what looks like corner squares.
func crowded(w, h int) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			cx, cy := x%10-4, y%10-4
			ring := max(cx, -cx, cy, -cy)
			if ring != 2 && ring < 4 {
				img.Pix[y*img.Stride+x] = 20
			} else {
				img.Pix[y*img.Stride+x] = 235
			}
		}
	}
	return img
}

// A picture that means harm neither keeps the search busy nor outlives its time.
func TestTimeIsBounded(t *testing.T) {
	data := asPNG(t, crowded(4000, 3000))
	start := time.Now()
	if _, err := scan.Photo(t.Context(), bytes.NewReader(data)); fault.ClassOf(err) != fault.NotFound || err == nil {
		t.Errorf("%v", err)
	}
	t.Logf("crowded, 12 megapixels: %v", time.Since(start))
	if took := time.Since(start); took > 20*time.Second {
		t.Errorf("took %v", took)
	}
	ctx, stop := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer stop()
	start = time.Now()
	if _, err := scan.Photo(ctx, bytes.NewReader(data)); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("past its time: %v", err)
	}
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("took %v to stop", took)
	}
}

// A file with some bytes spoilt is read or refused, and never takes long.
func TestSpoiltPhotographs(t *testing.T) {
	img := photographed(t, 120, 90, 0, 3, held{text: "9KYA3C", x: 0.5, y: 0.5, width: 63})
	rng := rand.New(rand.NewPCG(1, 2))
	read, refused := 0, 0
	for _, whole := range [][]byte{asJPEG(t, img), asPNG(t, img)} {
		for i := range 200 {
			data := append([]byte{}, whole...)
			for range 1 + i%4 { // more of them near the beginning, where the sizes stand
				data[rng.IntN(len(data)/(1+i%7))] = byte(rng.Uint32())
			}
			start := time.Now()
			got, err := scan.Photo(t.Context(), bytes.NewReader(data))
			if took := time.Since(start); took > 10*time.Second {
				t.Errorf("took %v", took)
			}
			var e *fault.Error
			switch {
			case err == nil && got == "9KYA3C":
				read++
			case got == "" && errors.As(err, &e) && (e.Class == fault.Input || e.Class == fault.NotFound):
				refused++
			default:
				t.Errorf("%q, %v", got, err)
			}
		}
	}
	if read == 0 || refused == 0 {
		t.Errorf("%d read, %d refused", read, refused)
	}
}

// Whatever the file is, Photo returns a text or a fault that says what to do.
func FuzzPhoto(f *testing.F) {
	img := photographed(f, 120, 90, 0, 3, held{text: "9KYA3C", x: 0.5, y: 0.5, width: 63})
	f.Add(asJPEG(f, img))
	f.Add(asPNG(f, img))
	f.Add([]byte("\xff\xd8\xff"))
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		got, err := scan.Photo(t.Context(), bytes.NewReader(data))
		var e *fault.Error
		if err != nil && (got != "" || !errors.As(err, &e) || e.Do == "" || e.Class != fault.Input && e.Class != fault.NotFound) {
			t.Fatalf("%q, %v", got, err)
		}
	})
}

func BenchmarkPhoto(b *testing.B) {
	for _, width := range []float64{200, 800} {
		data := asJPEG(b, photographed(b, 4000, 3000, 3, 8, held{text: aLink, x: 0.5, y: 0.5, width: width, bow: 1}))
		b.Run(fmt.Sprintf("12MP/%g", width), func(b *testing.B) {
			for b.Loop() {
				if _, err := scan.Photo(b.Context(), bytes.NewReader(data)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
