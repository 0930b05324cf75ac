package scan_test

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"strings"
	"testing"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/loading/fault"

	"pgregory.net/rapid"
)

// picture draws a code plainly: px points to a square, quiet squares of pale
// edge all round.
func picture(m symbol.Matrix, px, quiet int) *image.Gray {
	side := (m.N + 2*quiet) * px
	img := image.NewGray(image.Rect(0, 0, side, side))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for y := range m.N {
		for x := range m.N {
			if m.Dark(x, y) {
				r := image.Rect(x+quiet, y+quiet, x+quiet+1, y+quiet+1)
				r.Min, r.Max = r.Min.Mul(px), r.Max.Mul(px)
				draw.Draw(img, r, image.Black, image.Point{}, draw.Src)
			}
		}
	}
	return img
}

func TestReadsWhatSymbolWrites(t *testing.T) {
	texts := []string{"9KYA3C", "HTTPS://F.EXAMPLE/9KYA3C", "8G ADD 0.8G 9KYA3C", "https://f.example/9KYA3C", "0123456789",
		"Withy Sluice Floats, 8 g", "Żółw ½ g × 3", "四匁の浮子", strings.Repeat("HTTPS://F.EXAMPLE/", 12), strings.Repeat("8 g; ", 80)}
	for i := range 60 {
		texts = append(texts, fmt.Sprintf("HTTPS://F.EXAMPLE/%06d", i*7919))
	}
	for i, text := range texts {
		for l := symbol.L; l <= symbol.H; l++ {
			m, err := symbol.AtLevel(text, l)
			if err != nil {
				t.Fatal(err)
			}
			px := 4 + (i+int(l))%5 // 4 to 8
			if got, err := scan.QR(picture(m, px, 4)); err != nil || got != text {
				t.Errorf("%q at %v, version %d, %d points a square: %q, %v", text, l, m.Version, px, got, err)
			}
		}
	}
}

// Texts of random length and character go round through every packing.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.StringMatching(`[0-9]{1,60}`),
			rapid.StringMatching(`[0-9A-Z $%*+./:-]{1,60}`),
			rapid.StringMatching(`[ -~]{1,60}`),
		).Draw(t, "text")
		m, err := symbol.QR(text)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := scan.QR(picture(m, 4, 4)); err != nil || got != text {
			t.Fatalf("%q at %d-%v reads %q, %v", text, m.Version, m.Level, got, err)
		}
	})
}

// A quarter turn and a narrow pale edge change nothing; no code, no light or a
// wrong square too many is told and never guessed.
func TestPictures(t *testing.T) {
	const text = "HTTPS://F.EXAMPLE/9KYA3C"
	m, err := symbol.QR(text)
	if err != nil {
		t.Fatal(err)
	}
	plain := picture(m, 6, 2)
	turned := image.NewGray(plain.Bounds())
	for y := range plain.Rect.Dy() {
		for x := range plain.Rect.Dx() {
			turned.SetGray(plain.Rect.Dx()-1-y, x, plain.GrayAt(x, y))
		}
	}
	if got, err := scan.QR(turned); err != nil || got != text {
		t.Errorf("turned: %q, %v", got, err)
	}
	moved := &image.Gray{Pix: plain.Pix, Stride: plain.Stride, Rect: plain.Rect.Add(image.Pt(-40, 17))}
	if got, err := scan.QR(moved); err != nil || got != text {
		t.Errorf("with an origin of its own: %q, %v", got, err)
	}
	spoilt := picture(m, 6, 4)
	draw.Draw(spoilt, image.Rect(12*6, 12*6, 22*6, 22*6), image.NewUniform(color.Gray{}), image.Point{}, draw.Src)
	blank := image.NewGray(image.Rect(0, 0, 100, 100))
	for name, img := range map[string]image.Image{"spoilt": spoilt, "blank": blank, "one point": image.NewGray(image.Rect(0, 0, 1, 1))} {
		got, err := scan.QR(img)
		var e *fault.Error
		if got != "" || !errors.As(err, &e) || e.Class != fault.NotFound || e.Do == "" {
			t.Errorf("%s: %q, %v; want not found", name, got, err)
		}
	}
	for _, img := range []image.Image{nil, image.NewGray(image.Rectangle{})} {
		if _, err := scan.QR(img); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("an empty picture: %v", err)
		}
	}
}

// Whatever the points are, QR returns.
func FuzzQR(f *testing.F) {
	m, err := symbol.QR("9KYA3C")
	if err != nil {
		f.Fatal(err)
	}
	p := picture(m, 2, 2)
	f.Add(p.Pix, p.Stride)
	f.Add([]byte{0, 255, 0}, 1)
	f.Fuzz(func(t *testing.T, pix []byte, w int) {
		if w < 1 || w > len(pix) || w > 200 || len(pix) > 40_000 {
			return
		}
		h := len(pix) / w
		got, err := scan.QR(&image.Gray{Pix: pix, Stride: w, Rect: image.Rect(0, 0, w, h)})
		if err != nil && (got != "" || fault.ClassOf(err) != fault.NotFound) {
			t.Fatalf("%q, class %v", got, fault.ClassOf(err))
		}
	})
}

func BenchmarkQR(b *testing.B) {
	m, err := symbol.QR("HTTPS://F.EXAMPLE/9KYA3C")
	if err != nil {
		b.Fatal(err)
	}
	img := picture(m, 6, 4)
	for b.Loop() {
		if _, err := scan.QR(img); err != nil {
			b.Fatal(err)
		}
	}
}
