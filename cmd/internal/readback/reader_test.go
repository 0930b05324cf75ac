package readback

import (
	"bytes"
	"image"
	"image/color"
	stddraw "image/draw"
	"testing"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/pdf"
)

// The reader: what a test may ask of a PDF. Every call fails the test on an
// error; pages count from 0.

// mmPerPoint is PDF's unit in mm.
const mmPerPoint = 25.4 / 72

// pdfFile is a PDF as PDFium sees it.
type pdfFile struct {
	t   testing.TB
	doc references.FPDF_DOCUMENT
}

// openPDF opens a file; it is closed at the end of the test.
func openPDF(t testing.TB, file []byte) *pdfFile {
	t.Helper()
	r, err := pdfiumInstance.OpenDocument(&requests.OpenDocument{File: &file})
	if err != nil {
		t.Fatalf("PDFium refuses the file: %v", err)
	}
	t.Cleanup(func() {
		if _, err := pdfiumInstance.FPDF_CloseDocument(&requests.FPDF_CloseDocument{Document: r.Document}); err != nil {
			t.Error(err)
		}
	})
	return &pdfFile{t, r.Document}
}

// writeAndOpen writes sheets as one document and opens it.
func writeAndOpen(t testing.TB, sheets ...*draw.Sheet) *pdfFile {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, draw.Document{Title: "readback", Date: "2026-11-20", Sheets: sheets}); err != nil {
		t.Fatal(err)
	}
	return openPDF(t, b.Bytes())
}

func (f *pdfFile) page(i int) requests.Page {
	return requests.Page{ByIndex: &requests.PageByIndex{Document: f.doc, Index: i}}
}

// pages returns how many pages there are.
func (f *pdfFile) pages() int {
	r, err := pdfiumInstance.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: f.doc})
	if err != nil {
		f.t.Fatal(err)
	}
	return r.PageCount
}

// size returns a page's size in mm.
func (f *pdfFile) size(page int) geom.Size {
	f.t.Helper()
	r, err := pdfiumInstance.FPDF_GetPageSizeByIndexF(&requests.FPDF_GetPageSizeByIndexF{Document: f.doc, Index: page})
	if err != nil {
		f.t.Fatal(err)
	}
	return geom.Size{W: float64(r.Size.Width) * mmPerPoint, H: float64(r.Size.Height) * mmPerPoint}
}

// trimBox returns a page's trim box in mm; fails without one.
func (f *pdfFile) trimBox(page int) geom.Rect {
	f.t.Helper()
	r, err := pdfiumInstance.FPDFPage_GetTrimBox(&requests.FPDFPage_GetTrimBox{Page: f.page(page)})
	if err != nil {
		f.t.Fatal(err)
	}
	return f.rect(page, r.Left, r.Bottom, r.Right, r.Top)
}

// rect turns PDF's points with y up into mm with y down.
func (f *pdfFile) rect(page int, left, bottom, right, top float32) geom.Rect {
	h := f.size(page).H
	return geom.Rect{
		Min: geom.Point{X: float64(left) * mmPerPoint, Y: h - float64(top)*mmPerPoint},
		Max: geom.Point{X: float64(right) * mmPerPoint, Y: h - float64(bottom)*mmPerPoint},
	}
}

// text returns a page's text in PDFium's reading order.
func (f *pdfFile) text(page int) string {
	f.t.Helper()
	r, err := pdfiumInstance.GetPageText(&requests.GetPageText{Page: f.page(page)})
	if err != nil {
		f.t.Fatal(err)
	}
	return r.Text
}

// find returns how often a text is found as whole words, as a person's search
// in a viewer would; case counts.
func (f *pdfFile) find(page int, text string) int {
	f.t.Helper()
	tp, err := pdfiumInstance.FPDFText_LoadPage(&requests.FPDFText_LoadPage{Page: f.page(page)})
	if err != nil {
		f.t.Fatal(err)
	}
	s, err := pdfiumInstance.FPDFText_FindStart(&requests.FPDFText_FindStart{TextPage: tp.TextPage, Find: text,
		Flags: requests.FPDFText_FindStartFlag_MATCHCASE | requests.FPDFText_FindStartFlag_MATCHWHOLEWORD})
	if err != nil {
		f.t.Fatal(err)
	}
	n := 0
	for {
		r, err := pdfiumInstance.FPDFText_FindNext(&requests.FPDFText_FindNext{Search: s.Search})
		if err != nil {
			f.t.Fatal(err)
		}
		if !r.GotMatch {
			break
		}
		n++
	}
	if _, err := pdfiumInstance.FPDFText_FindClose(&requests.FPDFText_FindClose{Search: s.Search}); err != nil {
		f.t.Fatal(err)
	}
	if _, err := pdfiumInstance.FPDFText_ClosePage(&requests.FPDFText_ClosePage{TextPage: tp.TextPage}); err != nil {
		f.t.Fatal(err)
	}
	return n
}

// paths returns the bounds in mm of a page's paths, in drawing order. A filled
// path has its own bounds; those of a stroke hold its width too.
func (f *pdfFile) paths(page int) []geom.Rect {
	f.t.Helper()
	count, err := pdfiumInstance.FPDFPage_CountObjects(&requests.FPDFPage_CountObjects{Page: f.page(page)})
	if err != nil {
		f.t.Fatal(err)
	}
	var out []geom.Rect
	for i := range count.Count {
		o, err := pdfiumInstance.FPDFPage_GetObject(&requests.FPDFPage_GetObject{Page: f.page(page), Index: i})
		if err != nil {
			f.t.Fatal(err)
		}
		kind, err := pdfiumInstance.FPDFPageObj_GetType(&requests.FPDFPageObj_GetType{PageObject: o.PageObject})
		if err != nil {
			f.t.Fatal(err)
		}
		if kind.Type != enums.FPDF_PAGEOBJ_PATH {
			continue
		}
		b, err := pdfiumInstance.FPDFPageObj_GetBounds(&requests.FPDFPageObj_GetBounds{PageObject: o.PageObject})
		if err != nil {
			f.t.Fatal(err)
		}
		out = append(out, f.rect(page, b.Left, b.Bottom, b.Right, b.Top))
	}
	return out
}

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
