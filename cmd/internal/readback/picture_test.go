package readback

import (
	"image"
	"image/color"
	stddraw "image/draw"

	"github.com/klippa-app/go-pdfium/requests"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// picture is a drawn page. PDFium rounds a picture up to whole pixels and
// stretches the page to it, so the scale is the picture's own, not the dpi.
type picture struct {
	*image.RGBA
	kx, ky float64 // pixels per mm
}

// render draws a page at about dpi dots per inch.
func (f *pdfFile) render(page, dpi int) picture {
	f.t.Helper()
	r, err := pdfiumInstance.RenderPageInDPI(&requests.RenderPageInDPI{Page: f.page(page), DPI: dpi})
	if err != nil {
		f.t.Fatal(err)
	}
	defer r.Cleanup()
	src := r.Result.RenderedImage
	img := image.NewRGBA(src.Bounds()) // its pixels are gone after Cleanup
	stddraw.Draw(img, img.Bounds(), image.NewUniform(color.White), image.Point{}, stddraw.Src)
	stddraw.Draw(img, img.Bounds(), src, src.Bounds().Min, stddraw.Over)
	return scaled(img, f.size(page))
}

// scaled makes a picture of any writer's image of a sheet of that size.
func scaled(img *image.RGBA, size geom.Size) picture {
	return picture{img, float64(img.Bounds().Dx()) / size.W, float64(img.Bounds().Dy()) / size.H}
}

// at returns the colour of the pixel at a place in mm.
func (p picture) at(x, y float64) draw.Ink {
	c := p.RGBAAt(int(x*p.kx), int(y*p.ky))
	return draw.Ink{R: c.R, G: c.G, B: c.B}
}
