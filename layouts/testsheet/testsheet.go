// Package testsheet lays out the sheets a maker prints once to measure his own
// materials and printers: bands that are laid round a ball, the tallest of which
// that lies flat tells how far the film stretches; a ruler that tells scale and
// shear; slots that ink closes; crosses for the two sides of a sheet; codes on
// strips to wrap round dowels. Each says on itself what to look for and what to
// type.
//
// Lengths are millimetres, origin top left, y down; strains are shares, 0.02 is
// 2 %. It judges no film and stores nothing: the maker looks, and says so.
package testsheet

import (
	"fmt"
	"math"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Spec is what a test sheet is laid out from.
type Spec struct {
	Stock   stock.Stock   // what goes on the ball (Takes)
	Printer stock.Printer // the sheet is calibrated for it; its dots set the width of lines
	Fonts   fonts.Set
	Words   words.Words // of the check lines; how numbers are written
	// Profile is the number of the printer's profile that Ruler and Duplex are
	// corrected by, to see what it left; 0 for a sheet as the printer makes it.
	Profile int
}

// Bands returns the slant heights of the bands on the sheet, mm, the lowest
// first. On wrap.BallDiameter they strain by 0.25 to 6.25 % (wrap.BallStrain):
// from less than paper bears to more than film does.
func Bands() []unit.Millimetre { return []unit.Millimetre{4, 6, 8, 10, 12, 14, 16, 20} }

// The least and the largest band that a maker may name as lying flat. He may cut
// bands of his own; above the largest the law of the ball is 10 % out, below the
// least no strain is seen (0.06 %).
const (
	LeastBand unit.Millimetre = 2
	MostBand  unit.Millimetre = 30
)

// Measures of the sheet, mm. They are ours, chosen by eye, unless a source is
// named.
const (
	strip    = 6.0  // kept at the left and the top for check lines, as on a decal sheet
	bandGap  = 2.2  // from a band to the next one's caption: room for scissors
	beside   = 45.0 // a column of words beside the bands is at least so wide; else they stand below
	textGap  = 5.0
	capNote  = 1.5
	noteGap  = 0.9
	cutWidth = 0.1
)

// Steps that figures are told to.
const (
	heightStep = 0.1  // mm
	strainStep = 0.01 // per cent
)

var (
	cutInk  = draw.Ink{R: 120, G: 120, B: 120}
	noteInk = draw.Ink{R: 90, G: 90, B: 90}
)

// Stretch lays out the bands of Bands, each the flat piece that wrap makes for a
// ball, with check lines of 100 mm and what to do. The sheet is calibrated.
//
// On stock that is put on face down the bands are mirrored and the words are not.
// Errors are those of Takes; a stock too small for the bands is NoFit.
func Stretch(s Spec) ([]*draw.Sheet, error) {
	if err := Takes(s.Stock); err != nil {
		return nil, err
	}
	sheet := &draw.Sheet{Name: "stretch test", Size: s.Stock.Size}
	room := geom.XYWH(0, 0, s.Stock.Size.W, s.Stock.Size.H).Inset(s.Stock.Margin)
	room.Min = room.Min.Add(geom.Point{X: strip, Y: strip})
	used, err := s.column(sheet, room)
	if err != nil {
		return nil, err
	}
	text := geom.Rect{Min: geom.Point{X: used.Max.X + textGap, Y: room.Min.Y}, Max: room.Max}
	if text.W() < beside {
		text.Min = geom.Point{X: room.Min.X, Y: used.Max.Y + textGap}
	}
	foot, err := s.instructions(sheet, text)
	if err != nil {
		return nil, err
	}
	if need := max(used.Max.Y, foot, room.Min.Y+stock.CheckLength); need > room.Max.Y || used.Max.X > room.Max.X {
		return nil, fault.New(fault.NoFit, "", fmt.Sprintf("the bands need %s of %q, which leaves %s",
			s.measures(used.W(), need-room.Min.Y), s.Stock.Key, s.measures(room.W(), room.H())), "use a larger stock: A5 holds them")
	}
	if err := s.checkLines(sheet); err != nil {
		return nil, err
	}
	sheet, err = stock.Calibrate(sheet, s.Printer)
	if err != nil {
		return nil, err
	}
	return []*draw.Sheet{sheet}, nil
}

// Takes returns an Input error for stock that no band can be made of: card and
// paper, and marks by hand.
func Takes(s stock.Stock) error {
	const instead = "name film or sticker, as in a4-film-white; they are listed by: floatmark stocks"
	switch {
	case s.Sheetless():
		return fault.Inputf(instead, "%q has no film that could stretch", s.Key)
	case !s.ForMarks():
		return fault.Inputf(instead, "%q is %s: nothing of it goes round a float", s.Key, s.Kind)
	}
	return nil
}

func (s Spec) measures(w, h float64) string {
	return unit.Number(w, heightStep, s.Words.Number) + " x " + s.Words.Millimetre(unit.Millimetre(h), heightStep)
}

// column sets the bands one under the other, each with its caption above it, and
// returns what they take.
func (s Spec) column(sheet *draw.Sheet, room geom.Rect) (geom.Rect, error) {
	used := geom.Rect{Min: room.Min, Max: room.Min}
	y := room.Min.Y
	for _, h := range Bands() {
		f, err := Band(h, wrap.Film{Thickness: s.Stock.Thickness})
		if err != nil {
			return geom.Rect{}, err
		}
		one, err := s.band(f, h)
		if err != nil {
			return geom.Rect{}, err
		}
		note, err := typeset.Shape(s.name(h), typeset.Regular(s.Fonts, capNote))
		if err != nil {
			return geom.Rect{}, err
		}
		y += capNote
		sheet.Add(draw.Guide, note.Straight(geom.Translate(room.Min.X, y), typeset.Left, noteInk)...)
		y += noteGap
		face := geom.Identity
		if s.Stock.Medium.Mirrored() {
			face = geom.Scale(-1, 1)
		}
		box := f.Outline().Transform(face).Bounds()
		sheet.Place(one, face.Then(geom.Translate(room.Min.X-box.Min.X, y-box.Min.Y)))
		y += box.H()
		used.Max = geom.Point{X: max(used.Max.X, room.Min.X+box.W()), Y: y}
		y += bandGap
	}
	return used, nil
}

// name is what a band is called: "10 mm · 1.56 %".
func (s Spec) name(h unit.Millimetre) string {
	return s.Words.Millimetre(h, heightStep) + " · " +
		unit.Number(100*wrap.BallStrain(wrap.BallDiameter, float64(h)), strainStep, s.Words.Number) + " %"
}

// Band returns the flat piece of the band of slant height h, mm, round the
// middle of a ball of wrap.BallDiameter, with an overlap. Errors are those of
// wrap.Develop; a height of half the way round or more is an Input error.
func Band(h unit.Millimetre, film wrap.Film) (wrap.Flat, error) {
	const r = wrap.BallDiameter / 2
	if !(h > 0 && float64(h) < math.Pi*r) { // written so that NaN fails
		return wrap.Flat{}, fault.Inputf("name a band of "+LeastBand.Text(heightStep, unit.Style{})+" to "+MostBand.Text(heightStep, unit.Style{}),
			"a band of %s does not go round the ball", h.Text(heightStep, unit.Style{}))
	}
	ball, err := body.New(body.Olive(2*r, 0, 2*r))
	if err != nil {
		return wrap.Flat{}, err
	}
	half := unit.Millimetre(r * math.Sin(float64(h)/2/r)) // of the ball's axis
	return wrap.Develop(ball, r-half, r+half, film, wrap.Seam{Overlap: wrap.OverlapCalibrated})
}

// checkLines draws a line of 100 mm along the top and one down the left side,
// as on a sheet of decals.
func (s Spec) checkLines(sheet *draw.Sheet) error {
	at, left := s.Stock.Margin+stock.CheckTick, s.Stock.Margin+strip
	note, err := typeset.Shape(s.Words.CheckLine, typeset.Regular(s.Fonts, capNote))
	if err != nil {
		return err
	}
	sheet.Add(draw.Guide, stock.CheckLine(geom.Point{X: left, Y: at}, false)...)
	sheet.Add(draw.Guide, stock.CheckLine(geom.Point{X: at, Y: left}, true)...)
	under := at + stock.CheckTick/2 + capNote
	sheet.Add(draw.Guide, note.Straight(geom.Translate(left+1, under), typeset.Left, noteInk)...)
	down := geom.Rotate(-math.Pi / 2).Then(geom.Translate(under, left+stock.CheckLength-1))
	sheet.Add(draw.Guide, note.Straight(down, typeset.Left, noteInk)...)
	return nil
}
