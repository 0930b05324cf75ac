package scan

import (
	"image"
	"image/color"
	"image/draw"
)

// greyOf turns a picture into shades of grey with its corner at 0, 0; what shows
// through is white behind.
func greyOf(img image.Image) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	rows := func(pix []byte, stride int) {
		for y := range b.Dy() {
			copy(out.Pix[y*out.Stride:(y+1)*out.Stride], pix[y*stride:])
		}
	}
	switch m := img.(type) {
	case *image.Gray:
		rows(m.Pix, m.Stride)
	case *image.YCbCr: // a photograph: its first plane is just that
		rows(m.Y, m.YStride)
	default:
		// In bands, so that a large picture is not in memory twice more.
		const band = 64
		buf := image.NewRGBA(image.Rect(0, 0, b.Dx(), band))
		for y := 0; y < b.Dy(); y += band {
			draw.Draw(buf, buf.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
			draw.Draw(buf, buf.Rect, img, image.Pt(b.Min.X, b.Min.Y+y), draw.Over)
			for i := range min(band, b.Dy()-y) * b.Dx() {
				// Weights of ITU-R BT.601 in 1/256, as JPEG has them.
				p := buf.Pix[4*i : 4*i+3]
				out.Pix[y*out.Stride+i] = byte((77*int(p[0]) + 150*int(p[1]) + 29*int(p[2]) + 128) >> 8)
			}
		}
	}
	return out
}

// halved is a picture of half the points each way, four averaged to one.
func halved(g *image.Gray) *image.Gray {
	w, h := g.Rect.Dx()/2, g.Rect.Dy()/2
	out := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		a, b := g.Pix[2*y*g.Stride:], g.Pix[(2*y+1)*g.Stride:]
		row := out.Pix[y*out.Stride:]
		for x := range w {
			row[x] = byte((int(a[2*x]) + int(a[2*x+1]) + int(b[2*x]) + int(b[2*x+1]) + 2) / 4)
		}
	}
	return out
}

// doubled is a picture of twice the points each way, those between averaged: the
// reader finds squares of two points in it that it passes over otherwise.
func doubled(g *image.Gray) *image.Gray {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, 2*w, 2*h))
	at := func(x, y int) int { return int(g.Pix[min(y, h-1)*g.Stride+min(x, w-1)]) }
	for y := range 2 * h {
		for x := range 2 * w {
			x0, y0 := x/2, y/2
			x1, y1 := x0+x&1, y0+y&1
			out.Pix[y*out.Stride+x] = byte((at(x0, y0) + at(x1, y0) + at(x0, y1) + at(x1, y1) + 2) / 4)
		}
	}
	return out
}

// turned is a picture turned a quarter clockwise: its left side is on top.
func turned(g *image.Gray) *image.Gray {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, h, w))
	for y := range h {
		row := g.Pix[y*g.Stride : y*g.Stride+w]
		for x, v := range row {
			out.Pix[x*out.Stride+h-1-y] = v
		}
	}
	return out
}
