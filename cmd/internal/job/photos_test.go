package job

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"testing"

	"floatmark/loading/fault"
)

// testPicture is red on the left of its upper half, green on the right, and blue
// below.
func testPicture(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{B: 255, A: 255}
			if y < h/2 {
				c = color.RGBA{R: 255, A: 255}
				if x >= w/2 {
					c = color.RGBA{G: 255, A: 255}
				}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

// jpegFile writes a picture with a segment after its start, nil for none.
func jpegFile(t testing.TB, img image.Image, segment []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return append(append(append([]byte{}, b.Bytes()[:2]...), segment...), b.Bytes()[2:]...)
}

// exif is an APP1 segment with an orientation and a secret beside it.
func exif(order binary.AppendByteOrder, mark string, orientation int) []byte {
	t := []byte(mark)
	t = order.AppendUint16(t, 42)
	t = order.AppendUint32(t, 8)
	t = order.AppendUint16(t, 2)
	t = append(order.AppendUint32(order.AppendUint16(order.AppendUint16(t, 0x010f), 2), 4), "ABC\x00"...) // Make
	t = order.AppendUint32(order.AppendUint16(order.AppendUint16(t, 0x0112), 3), 1)
	t = order.AppendUint16(order.AppendUint16(t, uint16(orientation)), 0)
	t = append(order.AppendUint32(t, 0), "the secret place"...)
	body := append([]byte("Exif\x00\x00"), t...)
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2)), body...)
}

// at tells the colour of a picture at a share of its width and height.
func at(img image.Image, fx, fy float64) string {
	b := img.Bounds()
	r, g, bl, _ := img.At(int(fx*float64(b.Dx())), int(fy*float64(b.Dy()))).RGBA()
	switch most := max(r, g, bl); {
	case most == r && most > g && most > bl:
		return "red"
	case most == g && most > bl:
		return "green"
	}
	return "blue"
}

// A picture that was stored turned or mirrored comes out as testPicture, and
// nothing but the picture is left of the file.
func TestPhotosComeUpright(t *testing.T) {
	for o := 1; o <= 8; o++ {
		// What lies at x, y of the upright picture is stored where the Exif table says:
		// its "row 0" and "column 0" name the sides of the upright picture.
		stored := map[int]func(x, y, w, h int) (int, int){
			1: func(x, y, w, h int) (int, int) { return x, y },
			2: func(x, y, w, h int) (int, int) { return w - 1 - x, y },         // column 0 is the right side
			3: func(x, y, w, h int) (int, int) { return w - 1 - x, h - 1 - y }, // row 0 the bottom, column 0 the right
			4: func(x, y, w, h int) (int, int) { return x, h - 1 - y },         // row 0 the bottom
			5: func(x, y, w, h int) (int, int) { return y, x },                 // row 0 the left, column 0 the top
			6: func(x, y, w, h int) (int, int) { return y, w - 1 - x },         // row 0 the right, column 0 the top
			7: func(x, y, w, h int) (int, int) { return h - 1 - y, w - 1 - x }, // row 0 the right, column 0 the bottom
			8: func(x, y, w, h int) (int, int) { return h - 1 - y, x },         // row 0 the left, column 0 the bottom
		}[o]
		up := testPicture(96, 64)
		w, h := 96, 64
		if o >= 5 {
			w, h = 64, 96
		}
		turned := image.NewRGBA(image.Rect(0, 0, w, h))
		for y := range 64 {
			for x := range 96 {
				sx, sy := stored(x, y, 96, 64)
				turned.Set(sx, sy, up.At(x, y))
			}
		}
		for _, segment := range [][]byte{exif(binary.BigEndian, "MM", o), exif(binary.LittleEndian, "II", o)} {
			p, err := PhotoOf(bytes.NewReader(jpegFile(t, turned, segment)))
			if err != nil {
				t.Fatal(err)
			}
			img, err := jpeg.Decode(bytes.NewReader(p.JPEG))
			if err != nil {
				t.Fatal(err)
			}
			if got := fmt.Sprintf("%v %s %s %s", img.Bounds().Size(), at(img, 0.2, 0.2), at(img, 0.8, 0.2), at(img, 0.5, 0.8)); got != "(96,64) red green blue" || p.Width != 96 || p.Height != 64 {
				t.Errorf("orientation %d: %s, %d by %d", o, got, p.Width, p.Height)
			}
			if bytes.Contains(p.JPEG, []byte("Exif")) || bytes.Contains(p.JPEG, []byte("secret")) || bytes.Contains(p.JPEG, []byte("ABC")) {
				t.Errorf("orientation %d: words of the camera are left", o)
			}
		}
	}
}

// Whatever comes, 300 kB is the most that is kept.
func TestPhotosAreMadeSmall(t *testing.T) {
	noise := image.NewRGBA(image.Rect(0, 0, 900, 700))
	r := rand.NewPCG(1, 2)
	for i := 0; i+8 <= len(noise.Pix); i += 8 {
		binary.LittleEndian.PutUint64(noise.Pix[i:], r.Uint64())
	}
	for i := 3; i < len(noise.Pix); i += 4 {
		noise.Pix[i] = 255
	}
	p, err := PhotoOf(bytes.NewReader(jpegFile(t, noise, nil)))
	if err != nil || len(p.JPEG) > photoMostOut || p.Width < 300 {
		t.Errorf("noise: %d bytes, %d points wide, %v", len(p.JPEG), p.Width, err)
	}
	p, err = PhotoOf(bytes.NewReader(jpegFile(t, testPicture(3000, 1000), nil)))
	if err != nil || p.Width != photoSide || p.Height != photoSide/3 {
		t.Errorf("%d by %d %v", p.Width, p.Height, err)
	}
	var b bytes.Buffer
	clear := image.NewNRGBA(image.Rect(0, 0, 40, 30))
	if err := png.Encode(&b, clear); err != nil {
		t.Fatal(err)
	}
	p, err = PhotoOf(&b)
	if err != nil || p.Width != 40 {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(p.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	if r, _, _, _ := img.At(20, 15).RGBA(); r < 0xf000 {
		t.Error("what is clear has become dark")
	}
}

func TestPhotosRefused(t *testing.T) {
	var big bytes.Buffer
	if err := png.Encode(&big, image.NewGray(image.Rect(0, 0, 8, photoMostSide+1))); err != nil {
		t.Fatal(err)
	}
	// A PNG that says it has many points, in a few bytes.
	bomb := append([]byte{}, big.Bytes()...)
	binary.BigEndian.PutUint32(bomb[16:], 16000)
	binary.BigEndian.PutUint32(bomb[20:], 16000)
	good := jpegFile(t, testPicture(60, 40), nil)
	sos := bytes.Index(good, []byte{0xff, 0xda})
	end := len(good) - 2
	many := append([]byte{}, good[:end]...)
	for range photoMostPasses {
		many = append(many, good[sos:end]...)
	}
	many = append(many, good[end:]...)
	if n := passes(good); n != 1 {
		t.Errorf("%d passes of a plain file", n)
	}
	film := append(append([]byte{}, good...), many...) // behind the picture's end
	if _, err := PhotoOf(bytes.NewReader(film)); err != nil {
		t.Errorf("a picture with something behind it: %v", err)
	}
	for what, data := range map[string][]byte{"nothing": nil, "words": []byte("<svg>"), "many passes": many, "half": good[:len(good)/2], "long": big.Bytes(), "bomb": bomb,
		"too big": append(append([]byte{}, good...), make([]byte, photoMostIn)...)} {
		if _, err := PhotoOf(bytes.NewReader(data)); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestAddPhoto(t *testing.T) {
	shop, ids := noted(t, 1)
	data := jpegFile(t, testPicture(60, 40), nil)
	for range 2 { // sent again because nobody heard
		if _, err := shop.AddPhoto(t.Context(), ofFloat(ids[0]), bytes.NewReader(data), " on the bench ", "2026-11-20", ByPhone, "k"); err != nil {
			t.Fatal(err)
		}
	}
	b, _, err := shop.Build(ids[0])
	if err != nil || len(b.Float.Photos) != 1 || b.Float.Photos[0].Value.Caption != "on the bench" || b.Float.Photos[0].Value.Photo != 1 {
		t.Fatalf("%+v %v", b.Float.Photos, err)
	}
	if p, ok, err := shop.Photo(1); err != nil || !ok || len(p) != b.Float.Photos[0].Value.Bytes {
		t.Error(len(p), ok, err)
	}
	v := b.Float.Photos[0].Value
	v.Caption = "in the hand"
	set(t, shop, ofFloat(ids[0]), "photos/1", v)
	v.Photo = 2
	other, _ := Set(ofFloat(ids[0]), "photos/1", v, Unseen)
	if _, err := shop.Change(t.Context(), []BuildChange{other}, ByBench, ""); fault.ClassOf(err) != fault.Input {
		t.Errorf("another picture: %v", err)
	}
	set(t, shop, ofFloat(ids[0]), "photos/1", nil)
	if b, _, _ := shop.Build(ids[0]); len(b.Float.Photos) != 0 {
		t.Errorf("%+v", b.Float.Photos)
	}
	for _, c := range []struct {
		id, date string
		want     fault.Class
	}{{"9KYA3C", "", fault.NotFound}, {ids[0], "yesterday", fault.Input}} {
		if _, err := shop.AddPhoto(t.Context(), ofFloat(c.id), bytes.NewReader(data), "", c.date, ByPhone, ""); err == nil || fault.ClassOf(err) != c.want {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func FuzzOrientation(f *testing.F) {
	f.Add(append([]byte{0xff, 0xd8}, exif(binary.BigEndian, "MM", 6)...))
	f.Add(append([]byte{0xff, 0xd8}, exif(binary.LittleEndian, "II", 8)...))
	f.Add([]byte{0xff, 0xd8, 0xff, 0xff, 0xe1, 0, 2})
	f.Fuzz(func(t *testing.T, data []byte) {
		if o := orientation(data); o < 1 || o > 8 {
			t.Errorf("%d", o)
		}
	})
}

func FuzzPhotoOf(f *testing.F) {
	f.Add(jpegFile(f, testPicture(16, 8), exif(binary.BigEndian, "MM", 6)))
	var b bytes.Buffer
	if err := png.Encode(&b, testPicture(8, 8)); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := PhotoOf(bytes.NewReader(data))
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatal(err)
			}
			return
		}
		if conf, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG)); err != nil || conf.Width != p.Width || conf.Height != p.Height || len(p.JPEG) > photoMostOut {
			t.Fatalf("%+v %v", conf, err)
		}
	})
}
