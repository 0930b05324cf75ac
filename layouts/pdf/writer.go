package pdf

import (
	"crypto/sha256"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"

	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// Writer writes a document sheet by sheet. It keeps none of the sheets, only
// where its objects lie and what characters were set, so that memory does not
// grow with their drawings. A Writer is not safe for concurrent use.
type Writer struct {
	out     file
	doc     draw.Document
	options Options
	omitted map[draw.Layer]bool
	c       content
	pages   []int // the pages' objects
	used    map[draw.Layer]bool
	err     error
	closed  bool
}

// Objects of every file. Those after the page tree are shared by the pages and
// written last, when it is known what they hold.
const (
	catalogID = 1 + iota
	pageTreeID
	fontsID
	layersID
	cutID
	overprintID
	firstFreeID
)

// NewWriter begins a document on w. Of doc its title, author, subject and date
// count; its sheets are not written: give each to Sheet, then call Close. What
// has been written before an error is no PDF.
func NewWriter(w io.Writer, doc draw.Document, o Options) (*Writer, error) {
	if err := checkDocument(doc); err != nil {
		return nil, err
	}
	o, err := o.checked()
	if err != nil {
		return nil, err
	}
	p := &Writer{doc: doc, options: o, omitted: map[draw.Layer]bool{}, used: map[draw.Layer]bool{}}
	p.doc.Sheets = nil // they are not kept alive
	for _, l := range o.Omit {
		p.omitted[l] = true
	}
	p.out = file{w: w, sum: sha256.New(), at: make([]int, firstFreeID)}
	p.c = content{faces: newFaces(), forms: map[digest]int{}, black: o.BlackOnly}
	p.c.emit = p.form
	// Bytes above 127 tell programs that copy the file that it is not text (ISO
	// 32000-1, 7.5.2).
	p.out.text("%%PDF-1.7\n%%\xe2\xe3\xcf\xd3\n")
	return p, failed(p.out.err)
}

// Sheet writes one page. Its errors are those of Write; the writer is then of
// no more use.
func (p *Writer) Sheet(s *draw.Sheet) error {
	if p.err == nil {
		p.err = p.sheet(s)
	}
	return p.err
}

func (p *Writer) sheet(s *draw.Sheet) error {
	where := s.Name
	if where == "" {
		where = fmt.Sprintf("sheet %d", len(p.pages)+1)
	}
	if err := checkSheet(s, where); err != nil {
		return err
	}
	p.c.begin()
	k := points(1)
	// Millimetres with y down become points with y up: here and nowhere else.
	p.c.numbers(matrixDecimals, k, 0, 0, -k, 0, points(s.Size.H))
	p.c.operator("cm")
	for _, l := range draw.Layers() {
		if len(s.Layers[l]) > 0 && !p.omitted[l] {
			p.used[l] = true
			p.c.layer(l, s.Layers[l])
		}
	}
	if p.c.err != nil {
		return fault.At(where, p.c.err)
	}
	contents := p.out.stream("", p.c.buf)
	trim, bleed := boxes(s)
	h := s.Size.H
	box := func(x0, y0, x1, y1 float64) string {
		b := []byte("[")
		for i, mm := range []float64{x0, h - y1, x1, h - y0} {
			if i > 0 {
				b = append(b, ' ')
			}
			b = appendNumber(b, points(mm), pointDecimals)
		}
		return string(append(b, ']'))
	}
	p.pages = append(p.pages, p.out.add(fmt.Sprintf("<< /Type /Page /Parent %d 0 R /Resources %s /Contents %d 0 R /MediaBox %s /TrimBox %s /BleedBox %s >>",
		pageTreeID, resources(p.c.top()), contents, box(0, 0, s.Size.W, h),
		box(trim.Min.X, trim.Min.Y, trim.Max.X, trim.Max.Y), box(bleed.Min.X, bleed.Min.Y, bleed.Max.X, bleed.Max.Y))))
	return failed(p.out.err)
}

// resources is what a page or a form may name: the shared dictionaries and the
// forms it shows itself.
func resources(forms []int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<< /Font %d 0 R /Properties %d 0 R /ColorSpace << /%s %d 0 R >> /ExtGState << /%s %d 0 R >>",
		fontsID, layersID, cutName, cutID, overprintName, overprintID)
	if len(forms) > 0 {
		b.WriteString(" /XObject <<")
		for _, id := range forms {
			fmt.Fprintf(&b, " /X%d %d 0 R", id, id)
		}
		b.WriteString(" >>")
	}
	return b.String() + " >>"
}

// form writes a form of its own operators (ISO 32000-1, 8.10). It is called from
// within a page's content, whose bytes are not in the file yet.
func (p *Writer) form(body []byte, box [4]float64, forms []int) int {
	dict := []byte("/Type /XObject /Subtype /Form /BBox [")
	for i, v := range box {
		if i > 0 {
			dict = append(dict, ' ')
		}
		dict = appendNumber(dict, v, placeDecimals)
	}
	return p.out.stream(string(dict)+"] /Resources "+resources(forms)+" ", body)
}

// Close writes what the pages share and ends the file; it does not close w. A
// face that cannot be embedded is an Input error.
func (p *Writer) Close() error {
	if p.err != nil || p.closed {
		return p.err
	}
	p.closed = true
	p.err = p.close()
	return p.err
}

func (p *Writer) close() error {
	if len(p.pages) == 0 {
		return fault.New(fault.Ours, p.doc.Title, "a document needs a sheet", "")
	}
	fonts, err := embedded(p.c.faces)
	if err != nil {
		return err
	}
	p.out.put(fontsID, p.fonts(fonts))
	layers, shown := p.layers()
	p.out.put(layersID, layers)
	p.out.put(cutID, p.options.separation(p.c.cutInk))
	p.out.put(overprintID, "<< /Type /ExtGState /OP true /op true /OPM 1 >>")
	var kids strings.Builder
	for _, id := range p.pages {
		fmt.Fprintf(&kids, " %d 0 R", id)
	}
	p.out.put(pageTreeID, fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s ] >>", len(p.pages), kids.String()))
	p.out.put(catalogID, fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R /ViewerPreferences << /PrintScaling /None >>%s >>", pageTreeID, shown))
	p.out.trailer(p.out.add(information(p.doc)))
	return failed(p.out.err)
}

// layers adds an optional content group for each layer in use: all shown, all
// printed, in painting order. It returns their names for the pages and what the
// catalog says of them.
func (p *Writer) layers() (names, catalog string) {
	var properties, refs strings.Builder
	for _, l := range draw.Layers() {
		if p.used[l] {
			id := p.out.add(fmt.Sprintf("<< /Type /OCG /Name (%s) >>", l))
			fmt.Fprintf(&properties, " /%s %d 0 R", property(l), id)
			fmt.Fprintf(&refs, " %d 0 R", id)
		}
	}
	if refs.Len() > 0 {
		list := "[" + refs.String() + " ]"
		catalog = fmt.Sprintf(" /OCProperties << /OCGs %s /D << /Name (layers) /BaseState /ON /Order %s >> >>", list, list)
	}
	return "<<" + properties.String() + " >>", catalog
}

// information is the document's info dictionary; the date is the batch's, never
// the clock's.
func information(doc draw.Document) string {
	var b strings.Builder
	b.WriteString("<< /Producer (floatmark)")
	for _, e := range []struct{ key, text string }{{"Title", doc.Title}, {"Author", doc.Author}, {"Subject", doc.Subject}} {
		if e.text != "" {
			fmt.Fprintf(&b, " /%s <FEFF", e.key)
			for _, c := range utf16.Encode([]rune(e.text)) {
				fmt.Fprintf(&b, "%04X", c)
			}
			b.WriteString(">")
		}
	}
	if doc.Date != "" {
		fmt.Fprintf(&b, " /CreationDate (D:%s)", strings.ReplaceAll(doc.Date, "-", ""))
	}
	b.WriteString(" >>")
	return b.String()
}
