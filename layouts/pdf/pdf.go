// Package pdf writes a document of sheets as PDF, true to scale: one sheet is
// one page, a millimetre of the drawing list is a millimetre of the page, and
// the page asks the viewer not to scale it.
//
// Lengths are millimetres, origin top left, y down; one matrix at the start of
// each page makes points with y up of them. Text is set in embedded subsets and
// stays searchable; layers are optional content of their names; cut lines are a
// spot colour; a group that comes again is a shared form. The same document
// gives the same bytes.
//
// The package places nothing, breaks no lines and knows no printers. A rigid
// group is drawn like any other: who calibrates has moved it already.
// Sections of ISO 32000-1 are named from memory; other programs read the files
// in the tests.
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"time"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// maxSide is the longest side of a page in mm: 14400 units of 1/72 inch, the
// limit of common readers (ISO 32000-1, annex C.2, from memory).
const maxSide = 14400 * 25.4 / 72

// DefaultCut is the name of the cut lines' spot colour where a shop names none.
const DefaultCut = "Cut"

// Options are what a print shop may ask for. The zero value is the workshop's
// own print.
type Options struct {
	// CutName is the name of the spot colour (Separation) of the layer Cut, as the
	// shop's cutting machine looks for it; empty for DefaultCut. Names of the
	// process inks, "All" and "None" are refused: they mean plates.
	CutName string
	// CutCMYK is how the cut lines look where no plate has their name: cyan,
	// magenta, yellow and black, 0 to 1. All 0: the RGB ink of the first cut line.
	CutCMYK [4]float64
	// BlackOnly writes every ink with the black plate alone: text and codes black
	// or white, everything else as a grey of its brightness. Cut lines keep their
	// spot colour.
	BlackOnly bool
	// Omit names layers that are not written.
	Omit []draw.Layer
}

// Write writes the document to w in one piece, after all of it has been made:
// on an error of the document nothing is written. A sheet without ops becomes
// an empty page.
//
// An Input error: a date that is no calendar date, a face that cannot be
// embedded. An Ours error: a drawing list that breaks its own rules. An error
// of w is returned as class Machine.
func Write(w io.Writer, doc draw.Document) error { return WriteWith(w, doc, Options{}) }

// WriteWith is Write with options. A name that no spot colour may have and a
// share of ink outside 0 to 1 are Input errors.
func WriteWith(w io.Writer, doc draw.Document, o Options) error {
	if len(doc.Sheets) == 0 {
		return fault.New(fault.Ours, doc.Title, "a document needs a sheet", "")
	}
	var b bytes.Buffer
	p, err := NewWriter(&b, doc, o)
	if err != nil {
		return err
	}
	for _, s := range doc.Sheets {
		if err := p.Sheet(s); err != nil {
			return err
		}
	}
	if err := p.Close(); err != nil {
		return err
	}
	n, err := w.Write(b.Bytes())
	if err == nil && n < b.Len() {
		err = io.ErrShortWrite
	}
	return failed(err)
}

// failed makes a Machine error of what the file's writer says; nil of nil.
func failed(err error) error {
	if err == nil {
		return nil
	}
	return fault.New(fault.Machine, "", "the PDF could not be written: "+err.Error(), "see that there is room and leave to write", err)
}

func checkDocument(doc draw.Document) error {
	if doc.Date != "" {
		if _, err := time.Parse(time.DateOnly, doc.Date); err != nil {
			return fault.New(fault.Input, doc.Title, fmt.Sprintf("%q is no calendar date", doc.Date), "write it as year-month-day, such as 2026-11-20", err)
		}
	}
	return nil
}

// checkSheet looks at a sheet's size and boxes: the trim lies in the bleed and
// the bleed on the page (ISO 32000-1, 14.11.2).
func checkSheet(s *draw.Sheet, where string) error {
	for _, side := range []float64{s.Size.W, s.Size.H} {
		if !(side > 0 && side <= maxSide) {
			return fault.New(fault.Ours, where, fmt.Sprintf("a page of %g x %g mm cannot be written", s.Size.W, s.Size.H), "")
		}
	}
	trim, bleed := boxes(s)
	if !(trim.W() > 0 && trim.H() > 0) || !bleed.Contains(trim) || !pageBox(s).Contains(bleed) {
		return fault.New(fault.Ours, where, fmt.Sprintf("trim %v and bleed %v do not lie on a page of %g x %g mm", trim, bleed, s.Size.W, s.Size.H), "")
	}
	return nil
}

func pageBox(s *draw.Sheet) geom.Rect { return geom.XYWH(0, 0, s.Size.W, s.Size.H) }

// boxes returns a sheet's trim and bleed in mm: the page where there is no
// trim, the trim where there is no bleed.
func boxes(s *draw.Sheet) (trim, bleed geom.Rect) {
	trim, bleed = s.Trim, s.Bleed
	if trim == (geom.Rect{}) {
		trim = pageBox(s)
	}
	if bleed == (geom.Rect{}) {
		bleed = trim
	}
	return trim, bleed
}

// points turns millimetres into PDF's unit, 1/72 inch.
func points(mm float64) float64 { return mm * 72 / 25.4 }

// uniform returns the factor on lengths of a map that scales both ways alike;
// of any other, the one that keeps areas.
func uniform(det float64) float64 { return math.Sqrt(math.Abs(det)) }
