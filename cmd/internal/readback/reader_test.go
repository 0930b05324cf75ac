package readback

import (
	"bytes"
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

// bleedBox returns a page's bleed box in mm; fails without one.
func (f *pdfFile) bleedBox(page int) geom.Rect {
	f.t.Helper()
	r, err := pdfiumInstance.FPDFPage_GetBleedBox(&requests.FPDFPage_GetBleedBox{Page: f.page(page)})
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

// object is a path, a run of letters or the like on a page, in forms too.
type object struct {
	ref   references.FPDF_PAGEOBJECT
	kind  enums.FPDF_PAGEOBJ
	at    geom.Affine // from its own coordinates to the page's points, y up
	layer string      // name of the optional content it belongs to, empty for none
	form  bool        // it stands in a form
}

// objects returns a page's objects in drawing order; instead of a form, what
// is in it.
func (f *pdfFile) objects(page int) []object {
	f.t.Helper()
	count, err := pdfiumInstance.FPDFPage_CountObjects(&requests.FPDFPage_CountObjects{Page: f.page(page)})
	if err != nil {
		f.t.Fatal(err)
	}
	var out []object
	for i := range count.Count {
		o, err := pdfiumInstance.FPDFPage_GetObject(&requests.FPDFPage_GetObject{Page: f.page(page), Index: i})
		if err != nil {
			f.t.Fatal(err)
		}
		out = f.appendObject(out, object{ref: o.PageObject, at: geom.Identity, layer: f.layer(o.PageObject)})
	}
	return out
}

func (f *pdfFile) appendObject(out []object, o object) []object {
	f.t.Helper()
	kind, err := pdfiumInstance.FPDFPageObj_GetType(&requests.FPDFPageObj_GetType{PageObject: o.ref})
	if err != nil {
		f.t.Fatal(err)
	}
	if o.kind = kind.Type; o.kind != enums.FPDF_PAGEOBJ_FORM {
		return append(out, o)
	}
	inside := f.matrix(o.ref).Then(o.at)
	count, err := pdfiumInstance.FPDFFormObj_CountObjects(&requests.FPDFFormObj_CountObjects{PageObject: o.ref})
	if err != nil {
		f.t.Fatal(err)
	}
	for i := range count.Count {
		r, err := pdfiumInstance.FPDFFormObj_GetObject(&requests.FPDFFormObj_GetObject{PageObject: o.ref, Index: uint64(i)})
		if err != nil {
			f.t.Fatal(err)
		}
		out = f.appendObject(out, object{ref: r.PageObject, at: inside, layer: o.layer, form: true})
	}
	return out
}

// matrix returns an object's own matrix.
func (f *pdfFile) matrix(o references.FPDF_PAGEOBJECT) geom.Affine {
	f.t.Helper()
	r, err := pdfiumInstance.FPDFPageObj_GetMatrix(&requests.FPDFPageObj_GetMatrix{PageObject: o})
	if err != nil {
		f.t.Fatal(err)
	}
	m := r.Matrix
	return geom.Affine{A: float64(m.A), B: float64(m.B), C: float64(m.C), D: float64(m.D), E: float64(m.E), F: float64(m.F)}
}

// layer returns the name of the optional content that an object is marked with.
func (f *pdfFile) layer(o references.FPDF_PAGEOBJECT) string {
	f.t.Helper()
	count, err := pdfiumInstance.FPDFPageObj_CountMarks(&requests.FPDFPageObj_CountMarks{PageObject: o})
	if err != nil {
		f.t.Fatal(err)
	}
	for i := range count.Count {
		m, err := pdfiumInstance.FPDFPageObj_GetMark(&requests.FPDFPageObj_GetMark{PageObject: o, Index: uint64(i)})
		if err != nil {
			f.t.Fatal(err)
		}
		tag, err := pdfiumInstance.FPDFPageObjMark_GetName(&requests.FPDFPageObjMark_GetName{PageObjectMark: m.Mark})
		if err != nil {
			f.t.Fatal(err)
		}
		if tag.Name != "OC" {
			continue
		}
		name, err := pdfiumInstance.FPDFPageObjMark_GetParamStringValue(&requests.FPDFPageObjMark_GetParamStringValue{PageObjectMark: m.Mark, Key: "Name"})
		if err != nil {
			f.t.Fatal(err)
		}
		return name.Value
	}
	return ""
}

// bounds returns the upright rectangle in mm that holds an object. A filled path
// has its own bounds; those of a stroke hold its width too.
func (f *pdfFile) bounds(page int, o object) geom.Rect {
	f.t.Helper()
	b, err := pdfiumInstance.FPDFPageObj_GetBounds(&requests.FPDFPageObj_GetBounds{PageObject: o.ref})
	if err != nil {
		f.t.Fatal(err)
	}
	r := geom.Rectangle(geom.Rect{Min: geom.Point{X: float64(b.Left), Y: float64(b.Bottom)}, Max: geom.Point{X: float64(b.Right), Y: float64(b.Top)}}).Transform(o.at).Bounds()
	return f.rect(page, float32(r.Min.X), float32(r.Min.Y), float32(r.Max.X), float32(r.Max.Y))
}

// paths returns the bounds in mm of a page's paths, in drawing order.
func (f *pdfFile) paths(page int) []geom.Rect {
	f.t.Helper()
	var out []geom.Rect
	for _, o := range f.objects(page) {
		if o.kind == enums.FPDF_PAGEOBJ_PATH {
			out = append(out, f.bounds(page, o))
		}
	}
	return out
}
