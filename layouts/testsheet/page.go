package testsheet

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// What every page for a printer has, mm and words.
const (
	thin     = 0.15 // width of the lines that are measured from, before it is made whole dots
	lesson   = 110  // the words stand in a column so wide at most
	unnamed  = "NAME"
	grid     = 10 // the sides of what is measured are whole tens
	textEdge = 4  // air about the words
)

// printed returns an Input error for stock without a sheet and for a printer
// that cannot be.
func (s Spec) printed() error {
	if s.Stock.Sheetless() {
		return fault.Inputf("name paper, card or film, as in a4-paper; they are listed by: floatmark stocks", "%q has no sheet to print on", s.Stock.Key)
	}
	if err := s.raw().Sound(); err != nil {
		return err
	}
	return s.printer().Sound()
}

// raw is the printer as if nobody had calibrated it, for sheets that show what
// it does by itself.
func (s Spec) raw() stock.Printer {
	p := stock.Plain()
	p.Name, p.DPI = s.Printer.Name, s.Printer.DPI
	return p
}

// printer is what Ruler and Duplex are calibrated for.
func (s Spec) printer() stock.Printer {
	if s.Profile == 0 {
		return s.raw()
	}
	return s.Printer
}

// calls is what the printer is called in commands: by a placeholder as long as
// it has no profile.
func (s Spec) calls() string {
	if s.Printer.Name == stock.Plain().Name || s.Printer.Name == "" {
		return unnamed
	}
	return s.Printer.Name
}

// title is what a page is called: "Ruler on plain paper of 80 g/m², A4, as the
// printer makes it".
func (s Spec) title(what string) string {
	if s.Profile == 0 {
		return fmt.Sprintf(s.Words.Tests.AsMade, what, s.Words.Name(s.Stock.Name))
	}
	return fmt.Sprintf(s.Words.Tests.Corrected, what, s.Words.Name(s.Stock.Name), whole(s.Profile), s.Printer.Name)
}

// calibrate is the command that stores what is read on a page that a profile
// corrects, if s names one, or on one that shows the printer as it is.
func (s Spec) calibrate(measured string, corrects bool) string {
	c := "floatmark testsheet calibrate --printer " + s.calls() + " --dpi " + unit.Number(s.Printer.DPI, 0.01, unit.Style{})
	if s.Stock.Key != "a4-paper" {
		c += " --paper " + s.Stock.Key
	}
	if corrects && s.Profile > 0 {
		c += " --corrected-by " + whole(s.Profile)
	}
	return c + " --measured " + measured
}

// naming says what NAME stands for, if the page has it.
func (s Spec) naming() string {
	if s.calls() == unnamed {
		return fmt.Sprintf(s.Words.Tests.StoreNamed, unnamed)
	}
	return s.Words.Tests.StoreIt
}

func whole(n int) string { return unit.Number(float64(n), 1, unit.Style{}) }

// text sets what is to be read into the middle of room and returns what it
// takes, with air. NoFit if there is no room.
func (s Spec) text(sheet *draw.Sheet, room geom.Rect, title string, steps []string, command string) (geom.Rect, error) {
	width := math.Min(lesson, room.W()-2*textEdge)
	if width < beside {
		return geom.Rect{}, s.noRoom(beside+2*textEdge, 0, room)
	}
	scratch := &draw.Sheet{Name: "words"}
	high, err := s.prose(scratch, geom.XYWH(0, 0, width, 0), title, steps, command)
	if err != nil {
		return geom.Rect{}, err
	}
	if high+2*textEdge > room.H() {
		return geom.Rect{}, s.noRoom(width, high+2*textEdge, room)
	}
	at := geom.Point{X: (room.Min.X + room.Max.X - width) / 2, Y: (room.Min.Y + room.Max.Y - high) / 2}
	sheet.Place(scratch, geom.Translate(at.X, at.Y))
	return geom.XYWH(at.X, at.Y, width, high).Inset(-textEdge), nil
}

func (s Spec) noRoom(w, h float64, room geom.Rect) error {
	return fault.New(fault.NoFit, "", fmt.Sprintf("the page needs %s of %q, which leaves %s",
		s.measures(w, h), s.Stock.Key, s.measures(math.Max(0, room.W()), math.Max(0, room.H()))), "use a larger paper: A4 holds it")
}

// label sets a few words with the anchor at the middle of their capitals.
func (s Spec) label(sheet *draw.Sheet, text string, cap float64, at geom.Point, a typeset.Align) error {
	l, err := typeset.Shape(text, typeset.Regular(s.Fonts, cap))
	if err != nil {
		return err
	}
	sheet.Add(draw.Guide, l.Straight(geom.Translate(at.X, at.Y+cap/2), a, draw.Black)...)
	return nil
}

// bars gathers thin filled bars in one path: what is measured is ink, with its
// middle where it is said to be.
type bars struct {
	path geom.Path
	half float64
}

func (s Spec) bars() *bars { return &bars{half: s.line(thin) / 2} }

// across adds a bar along y from x0 to x1, down one along x from y0 to y1.
func (b *bars) across(y, x0, x1 float64) {
	b.path = append(b.path, geom.Rectangle(geom.XYWH(x0, y-b.half, x1-x0, 2*b.half))...)
}

func (b *bars) down(x, y0, y1 float64) {
	b.path = append(b.path, geom.Rectangle(geom.XYWH(x-b.half, y0, 2*b.half, y1-y0))...)
}

// slant adds a bar from p to q.
func (b *bars) slant(p, q geom.Point) {
	d := q.Sub(p)
	n := geom.Point{X: -d.Y, Y: d.X}.Scale(b.half / d.Len())
	b.path = append(b.path, geom.Polygon(p.Sub(n), q.Sub(n), q.Add(n), p.Add(n))...)
}

func (b *bars) fill() draw.Op { return &draw.Fill{Path: b.path, Ink: draw.Black} }
