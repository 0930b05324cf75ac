package png

import (
	"image"
	"image/color"
	"io"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// Indices of a bilevel picture's colours.
const (
	paper = 0
	inked = 1
)

// half is the coverage from which a dot is set, of 255: the area's own half, so
// that an edge goes to the nearest dot and widths are kept on average.
const half = 128

// RenderBilevel draws the sheet in black and white dots, dpi to the inch: a dot
// belongs to an op that covers at least half of it. Inks darker than half
// (brightness by the weights of PDF, ISO 32000-1, 10.3.2, from memory) are
// black, the others white, which clears what lies below. Edges that lie on the
// dots are exact: a code of whole dots to a module has every module alike.
//
// Colour 0 of the picture is white, 1 black. Errors are those of Render.
func RenderBilevel(s *draw.Sheet, dpi float64) (*image.Paletted, error) {
	w, h, err := size(s, dpi)
	if err != nil {
		return nil, err
	}
	img := image.NewPaletted(image.Rect(0, 0, w, h), color.Palette{paper: color.Gray{Y: 255}, inked: color.Gray{}})
	p := &painter{bounds: img.Bounds(), k: dpi / mmPerInch}
	var mask image.Alpha // of one band, used again
	p.lay = func(band image.Rectangle, ink draw.Ink) {
		if n := band.Dx() * band.Dy(); cap(mask.Pix) < n {
			mask.Pix = make([]uint8, n)
		} else {
			mask.Pix = mask.Pix[:n]
			clear(mask.Pix)
		}
		mask.Stride, mask.Rect = band.Dx(), image.Rect(0, 0, band.Dx(), band.Dy())
		p.z.Draw(&mask, mask.Rect, image.Opaque, image.Point{})
		index := uint8(paper)
		if dark(ink) {
			index = inked
		}
		for y := range band.Dy() {
			row := img.Pix[img.PixOffset(band.Min.X, band.Min.Y+y):]
			for x, covered := range mask.Pix[y*mask.Stride : (y+1)*mask.Stride] {
				if covered >= half {
					row[x] = index
				}
			}
		}
	}
	if err := p.sheet(s); err != nil {
		return nil, err
	}
	return img, nil
}

// dark reports whether an ink is darker than half.
func dark(i draw.Ink) bool {
	return float64(0.3*float64(i.R))+float64(0.59*float64(i.G))+float64(0.11*float64(i.B)) < half
}

// WriteBilevel renders the sheet in black and white and writes it as PNG of one
// bit to a dot with its resolution (chunk pHYs). Errors are those of Write.
func WriteBilevel(w io.Writer, s *draw.Sheet, dpi float64) error {
	img, err := RenderBilevel(s, dpi)
	if err != nil {
		return err
	}
	return encode(w, img, dpi)
}

// sheet draws every layer in painting order.
func (p *painter) sheet(s *draw.Sheet) error {
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, rigid bool) {
			if p.err == nil {
				p.draw(op, at, rigid)
			}
		})
	}
	if p.err != nil {
		return fault.At(s.Name, p.err)
	}
	return nil
}
