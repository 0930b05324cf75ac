package job

import (
	"bytes"
	"fmt"

	"floatmark/label/record"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/svg"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Before returns the print, if there is one, that printed these very marks and was
// not given up: its number, and whether it came out right.
func (p *Plan) Before() (number int, right, ok bool) {
	if p.before == nil {
		return 0, false, false
	}
	return p.before.Number, p.before.State == record.Confirmed, true
}

// LaidSheet is a sheet of film as a print will use it.
type LaidSheet struct {
	Page     int // of decals.pdf, from 1
	Number   int // of the sheet; 0 on a print shop's own
	PartUsed bool
	Feed     string  // the edge that goes into the printer first: "top", "right", "bottom", "left"
	Pieces   int     // that are cut out of it
	Before   float64 // share of the sheet that is spent already, 0 to 1
	After    float64 // and with this print
}

// LaidSheets lists the sheets of film that the plan uses, in the order of the
// pages; none for marks by hand and where every mark lies ready.
func (p *Plan) LaidSheets() []LaidSheet {
	all := make([]LaidSheet, len(p.Laid))
	for i, l := range p.Laid {
		before := p.takenBefore(i)
		all[i] = LaidSheet{Page: i + 1, Number: l.Number, PartUsed: l.Open >= 0, Feed: edgeName(l.Feed), Pieces: len(l.Pieces),
			Before: spentShare(before, l.Sheet.Size), After: spentShare(append(before[:len(before):len(before)], l.Spent...), l.Sheet.Size)}
	}
	return all
}

func (p *Plan) takenBefore(i int) []geom.Path {
	if open := p.Laid[i].Open; open >= 0 && open < len(p.sheets.Open) {
		return p.sheets.Open[open].Taken
	}
	return nil
}

// FilmUse is what a plan spends of its film, in figures.
type FilmUse struct {
	Film     string // its name
	Key      string
	Coarse   bool // laid out coarsely: printing packs closer
	Fresh    int  // sheets opened
	PartUsed int  // sheets filled further
	// FromPartUsed is the share of the marks' film that comes from part-used sheets;
	// OnFloats the share of what is spent of fresh ones that goes on floats. 0 to 1.
	FromPartUsed, OnFloats float64
	// Left is how deep the blank rest of the last fresh sheet is, a full rectangle for
	// the next batch; 0 where pieces are packed tight, or nothing fresh is opened.
	Left unit.Millimetre
}

// FilmUse tells what the plan spends of its film.
func (p *Plan) FilmUse() FilmUse {
	r := p.Film
	u := FilmUse{Film: p.film.Name, Key: p.film.Key, Coarse: p.preview, Fresh: r.Fresh, PartUsed: r.Used, OnFloats: r.Net()}
	if r.Pieces > 0 {
		u.FromPartUsed = r.OnUsed / r.Pieces
	}
	if n := len(r.Strips); n > 0 && r.Fresh > 0 && !p.File.Tight {
		last := r.Strips[n-1]
		deep, of := last.Part.H(), p.film.Size.H
		if last.Edge == nest.Left || last.Edge == nest.Right {
			deep, of = last.Part.W(), p.film.Size.W
		}
		u.Left = unit.Millimetre(max(0, of-deep))
	}
	return u
}

// labelLine outlines the labels of a sheet that is cut already, mm wide.
const labelLine = 0.2

// laidPicture draws a sheet as it will come out: spent parts in grey, the marks
// with their cut lines, and the edge that goes in first.
func (p *Plan) laidPicture(page int) (*draw.Sheet, error) {
	if page < 1 || page > len(p.Laid) {
		return nil, fault.New(fault.NotFound, fmt.Sprintf("page %d", page), "there is no such sheet in this print", "")
	}
	l := p.Laid[page-1]
	size := l.Sheet.Size
	out := &draw.Sheet{Name: l.Sheet.Name, Size: geom.Size{W: size.W + 2*airRound, H: size.H + 2*airRound}}
	at := geom.Translate(airRound, airRound)
	whole := geom.XYWH(airRound, airRound, size.W, size.H)
	ground := draw.White
	if !p.film.Clear {
		ground = p.film.Colour
	}
	out.Add(draw.Ground, &draw.Fill{Path: geom.Rectangle(whole), Ink: ground})
	for _, taken := range p.takenBefore(page - 1) {
		out.Add(draw.Ground, &draw.Fill{Path: taken.Transform(at), Ink: spentInk})
	}
	if p.film.Grid != nil {
		for _, label := range p.film.Grid.Outlines() {
			out.Add(draw.Ground, &draw.Stroke{Path: label.Transform(at), Ink: spentInk, Width: labelLine})
		}
	}
	out.Place(l.Sheet, at)
	out.Add(draw.Guide, &draw.Stroke{Path: geom.Rectangle(whole), Ink: edgeInk, Width: edgeLine}, &draw.Fill{Path: arrow(whole, l.Feed), Ink: edgeInk})
	return out, nil
}

// LaidPNG is the picture of a page's sheet of film at that many pixels an inch:
// what is spent of it in grey, the marks as they will lie, and an arrow at the edge
// that goes into the printer first. NotFound for a page that the print has not.
func (p *Plan) LaidPNG(page int, dpi float64) ([]byte, error) {
	sheet, err := p.laidPicture(page)
	if err != nil {
		return nil, err
	}
	return fewColours(sheet, dpi)
}

// LaidSVG is the picture of LaidPNG in outlines, to be looked at closely.
func (p *Plan) LaidSVG(page int) ([]byte, error) {
	sheet, err := p.laidPicture(page)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	err = svg.Write(&buf, sheet)
	return buf.Bytes(), err
}

// SheetPNG is the picture of what is spent of a sheet. Errors are those of
// WriteSheetPicture.
func (w *Workshop) SheetPNG(number int) ([]byte, error) {
	sheet, err := w.sheetPicture(number)
	if err != nil {
		return nil, err
	}
	return fewColours(sheet, smallDPI)
}

// sheetPicture draws what is spent of a sheet.
func (w *Workshop) sheetPicture(number int) (*draw.Sheet, error) {
	d, err := w.Sheet(number)
	if err != nil {
		return nil, err
	}
	size, err := d.measures()
	if err != nil {
		return nil, err
	}
	return d.picture(size)
}

// smallDPI shows A4 about 400 pixels wide: enough to see what is free.
const smallDPI = 48.0
