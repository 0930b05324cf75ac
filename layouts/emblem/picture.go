package emblem

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"

	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// minContrast is how far apart, of 255, the mean tones of ink and ground must
// lie. No source: pencil on paper has about 100, the grain of a photograph of
// white paper 20.
const minContrast = 48

// maxCrossings is how often the outline of a picture may pass between two pixels.
// No source: a screened photograph has more, a drawn mark a tenth.
const maxCrossings = 1 << 18

// FromPicture traces the dark parts of a PNG or JPEG picture, in pixels, as
// closed rings of straight lines; a ring round a hole runs the other way.
// Transparent parts count as white. Where dark ends is half way between the mean
// tone of the dark and that of the pale pixels, which Otsu's threshold parts
// (IEEE Trans. Systems, Man, Cybernetics 9 (1979) 62-66, from memory); the line
// runs between the pixels by their tones, so that a smoothed edge is not a
// staircase. Points within a third of a pixel of the line that remains are left
// out, and so are specks of less than a pixel. A picture of hard pixels has steps
// that no tones tell of; its lines are evened out, which rounds corners by about
// half a pixel.
//
// Input errors: a picture of another kind, a moving one, one of more than
// MaxPixels a side, one of a single tone, and one of too much detail, as a
// photograph is.
func FromPicture(file []byte) (geom.Path, error) {
	img, err := decode(file)
	if err != nil {
		return nil, err
	}
	tones := luminance(img)
	dark, light := classes(tones)
	if light-dark < minContrast {
		return nil, fault.Inputf("give a dark mark on a white or transparent ground", "the picture is all of one tone")
	}
	rings, err := contours(tones, (dark+light)/2)
	if err != nil {
		return nil, err
	}
	hard := tones.hard(dark, light)
	var p geom.Path
	for _, r := range rings {
		tol := thirdOfPixel
		if hard {
			r, tol = even(r), stepHeight
		}
		if r = simplify(r, tol); area(r) < -speck || area(r) > speck {
			p = append(p, geom.Polygon(r...)...)
		}
		if len(p) > MaxSegments {
			return nil, busy()
		}
	}
	return p, check(p)
}

const (
	thirdOfPixel = 1.0 / 3
	stepHeight   = 0.6 // pixels: more than a pixel's step strays from the line it stands for
	speck        = 1.0 // square pixels
)

func busy() error {
	return fault.Inputf("give line art of one colour on white: no photograph, no screen, no shading", "the picture has too much detail for a mark")
}

// decode reads the picture, its size first.
func decode(file []byte) (image.Image, error) {
	wrongKind := func(err error) error {
		return fault.New(fault.Input, "", "the picture cannot be read", "save it as PNG or JPEG", err)
	}
	config, full := png.DecodeConfig, png.Decode
	switch {
	case len(file) > MaxBytes:
		return nil, fault.Inputf("make it smaller: a mark needs some hundred pixels a side", "the picture file is too large")
	case bytes.HasPrefix(file, []byte("\x89PNG")):
		// The chunk acTL, before the first of the picture's own, makes a PNG move.
		head, _, _ := bytes.Cut(file, []byte("IDAT"))
		if bytes.Contains(head, []byte("acTL")) {
			return nil, fault.Inputf("save one still of it as PNG", "the picture moves")
		}
	case bytes.HasPrefix(file, []byte("\xff\xd8")):
		config, full = jpeg.DecodeConfig, jpeg.Decode
	case bytes.HasPrefix(file, []byte("GIF8")):
		return nil, fault.Inputf("save it as PNG", "the picture is a GIF, which may move")
	default:
		return nil, wrongKind(nil)
	}
	c, err := config(bytes.NewReader(file))
	if err != nil {
		return nil, wrongKind(err)
	}
	if c.Width > MaxPixels || c.Height > MaxPixels {
		return nil, fault.Inputf("make it smaller: a mark needs some hundred pixels a side",
			"the picture has %d x %d pixels; at most %d a side are read", c.Width, c.Height, MaxPixels)
	}
	img, err := full(bytes.NewReader(file))
	if err != nil {
		return nil, wrongKind(err)
	}
	return img, nil
}

// tones is a picture in greys, 0 black to 255 white, with one white pixel added
// on every side so that no outline runs out of it.
type tones struct {
	w, h int
	tone []uint8 // row by row
}

// luminance weighs the colours by ITU-R BT.601, as grey pictures are made
// (from memory), over white.
func luminance(img image.Image) tones {
	b := img.Bounds()
	t := tones{w: b.Dx() + 2, h: b.Dy() + 2}
	t.tone = bytes.Repeat([]byte{255}, t.w*t.h)
	flat := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(flat, flat.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), img, b.Min, draw.Over)
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := flat.Pix[y*flat.Stride+4*x:]
			t.tone[(y+1)*t.w+x+1] = uint8((299*int(c[0]) + 587*int(c[1]) + 114*int(c[2])) / 1000)
		}
	}
	return t
}

// classes parts the picture's own tones in two by Otsu's threshold, which makes
// the means of the two lie furthest apart for their numbers, and returns the
// means: both 0 for a picture of one tone.
func classes(t tones) (dark, light float64) {
	var count [256]float64
	n, sum := 0.0, 0.0
	for y := 1; y < t.h-1; y++ {
		for _, v := range t.tone[y*t.w+1 : (y+1)*t.w-1] {
			count[v]++
			n++
			sum += float64(v)
		}
	}
	best, below, belowSum := -1.0, 0.0, 0.0
	for v, c := range count {
		below += c
		belowSum += float64(float64(v) * c)
		if below == 0 || below == n {
			continue
		}
		d, l := belowSum/below, (sum-belowSum)/(n-below)
		if between := below * (n - below) * (l - d) * (l - d); between > best {
			best, dark, light = between, d, l
		}
	}
	return dark, light
}

// hard reports whether the picture has next to no tones between its dark and its
// pale: fewer than a tenth as many as its dark and pale neighbours.
func (t tones) hard(dark, light float64) bool {
	const share = 0.1
	edges, between := 0, 0
	for i := 1; i < len(t.tone); i++ {
		a, b := float64(t.tone[i-1]), float64(t.tone[i])
		if (a < (dark+light)/2) != (b < (dark+light)/2) {
			edges++
		}
		if a > dark+float64((light-dark)/4) && a < light-float64((light-dark)/4) {
			between++
		}
	}
	return float64(between) < share*float64(edges)
}
