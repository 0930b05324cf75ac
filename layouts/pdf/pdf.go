// Package pdf writes a document of sheets as PDF, true to scale: one sheet is
// one page, a millimetre of the drawing list is a millimetre of the page, and
// the page asks the viewer not to scale it.
//
// Lengths are millimetres, origin top left, y down; one matrix at the start of
// each page makes points with y up of them. Text is set in embedded subsets and
// stays searchable; layers are optional content of their names. The same
// document gives the same bytes.
//
// The package places nothing, breaks no lines and knows no printers. A rigid
// group is drawn like any other: who calibrates has moved it already.
// Sections of ISO 32000-1 are named from memory; other programs read the files
// in the tests.
package pdf

import (
	"fmt"
	"io"
	"math"
	"time"

	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// maxSide is the longest side of a page in mm: 14400 units of 1/72 inch, the
// limit of common readers (ISO 32000-1, annex C.2, from memory).
const maxSide = 14400 * 25.4 / 72

// Write writes the document to w in one piece, after all of it has been made:
// on an error of the document nothing is written. A sheet without ops becomes
// an empty page.
//
// An Input error: a date that is no calendar date, a face that cannot be
// embedded. An Ours error: a drawing list that breaks its own rules. An error
// of w is returned as class Machine.
func Write(w io.Writer, doc draw.Document) error {
	if err := check(doc); err != nil {
		return err
	}
	used := newFaces()
	pages := make([]page, len(doc.Sheets))
	for i, s := range doc.Sheets {
		p, err := content(s, used)
		if err != nil {
			return fault.At(where(doc, i), err)
		}
		pages[i] = p
	}
	base, err := skeleton(pages, used)
	if err != nil {
		return err
	}
	file, err := update(base, doc, pages)
	if err != nil {
		return err
	}
	n, err := w.Write(file)
	if err == nil && n < len(file) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fault.New(fault.Machine, "", "the PDF could not be written: "+err.Error(), "see that there is room and leave to write", err)
	}
	return nil
}

func check(doc draw.Document) error {
	if len(doc.Sheets) == 0 {
		return fault.New(fault.Ours, doc.Title, "a document needs a sheet", "")
	}
	if doc.Date != "" {
		if _, err := time.Parse(time.DateOnly, doc.Date); err != nil {
			return fault.New(fault.Input, doc.Title, fmt.Sprintf("%q is no calendar date", doc.Date), "write it as year-month-day, such as 2026-11-20", err)
		}
	}
	for i, s := range doc.Sheets {
		for _, side := range []float64{s.Size.W, s.Size.H} {
			if !(side > 0 && side <= maxSide) {
				return fault.New(fault.Ours, where(doc, i), fmt.Sprintf("a page of %g x %g mm cannot be written", s.Size.W, s.Size.H), "")
			}
		}
	}
	return nil
}

func where(doc draw.Document, i int) string {
	if name := doc.Sheets[i].Name; name != "" {
		return name
	}
	return fmt.Sprintf("sheet %d", i+1)
}

// points turns millimetres into PDF's unit, 1/72 inch.
func points(mm float64) float64 { return mm * 72 / 25.4 }

// uniform returns the factor on lengths of a map that scales both ways alike;
// of any other, the one that keeps areas.
func uniform(det float64) float64 { return math.Sqrt(math.Abs(det)) }
