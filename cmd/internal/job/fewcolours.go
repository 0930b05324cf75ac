package job

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	stdpng "image/png"
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/png"
)

const (
	mostColours = 64 // of a picture that is looked at on a page: sheets bear few inks
	colourBits  = 5  // of each channel that are told apart when colours are counted
)

// fewColours draws a sheet as a PNG of few colours: a fifth of the bytes of one of
// all colours, and on a screen the same. The same sheet, the same bytes.
func fewColours(s *draw.Sheet, dpi float64) ([]byte, error) {
	img, err := png.Render(s, dpi)
	if err != nil {
		return nil, err
	}
	few := quantised(img)
	var buf bytes.Buffer
	err = (&stdpng.Encoder{CompressionLevel: stdpng.DefaultCompression}).Encode(&buf, few)
	return buf.Bytes(), err
}

// quantised takes the colours that most points have, and for all others the
// nearest of them.
func quantised(img *image.RGBA) *image.Paletted {
	key := func(c color.RGBA) int {
		const drop = 8 - colourBits
		return int(c.R>>drop)<<(2*colourBits) | int(c.G>>drop)<<colourBits | int(c.B>>drop)
	}
	const cells = 1 << (3 * colourBits)
	counts, first := make([]int, cells), make([]color.RGBA, cells)
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := img.RGBAAt(x, y)
			k := key(c)
			if counts[k]++; counts[k] == 1 || c == (color.RGBA{A: 255}) || c == (color.RGBA{255, 255, 255, 255}) {
				first[k] = c // pure black and white stay so
			}
		}
	}
	var used []int
	for k, n := range counts {
		if n > 0 {
			used = append(used, k)
		}
	}
	slices.SortFunc(used, func(a, b int) int { return cmp.Or(counts[b]-counts[a], a-b) })
	palette := color.Palette{}
	for _, k := range used[:min(len(used), mostColours)] {
		palette = append(palette, first[k])
	}
	nearest := make([]int16, cells)
	for i := range nearest {
		nearest[i] = -1
	}
	out := image.NewPaletted(b, palette)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := img.RGBAAt(x, y)
			k := key(c)
			if nearest[k] < 0 {
				nearest[k] = int16(palette.Index(first[k]))
			}
			out.Pix[out.PixOffset(x, y)] = uint8(nearest[k])
		}
	}
	return out
}
