package boxlabel

import (
	"strings"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

const dot = " · "

// setter sets the lines of one label.
type setter struct {
	Spec
	sheet *draw.Sheet
	in    geom.Rect
	k     float64 // of the usual measures
}

// fit shapes text no wider than width; NoFit where that would make it too small.
func (t setter) fit(text string, f typeset.Font, width float64) (typeset.Line, error) {
	return typeset.Fit(text, f, width, max(floorCap, f.Cap*shrinkTo))
}

func (t setter) put(l typeset.Line, x, y float64, a typeset.Align, ink draw.Ink) {
	t.sheet.Add(draw.Colour, l.Straight(geom.Translate(x, y), a, ink)...)
}

// label draws one sticker: the colours over everything, the rating as large as it
// can be with the count beside it, pattern, batch and maker under them; on a low
// label batch and maker share a line.
func (s Spec) label(sheet *draw.Sheet, l Label, cell geom.Rect) error {
	in := s.room(cell)
	high := usualHigh
	if in.H() < usualHigh*floorCap/footCap { // a low label has a line less
		high = lowHigh
	}
	if least := lowHigh * floorCap / lineCap; in.H() < least {
		return s.noFit(least, least, in.W(), in.H())
	}
	t := setter{s, sheet, in, min(in.H()/high, max(narrowest, in.W()/usualWide), mostGrow)}
	y := t.bands(l.Bands)
	y, err := t.rating(l, y)
	if err != nil {
		return err
	}
	name, err := t.fit(l.Pattern, typeset.Bold(s.Fonts, t.k*nameCap), in.W())
	if err != nil {
		return err
	}
	y += float64(t.k * (drop + air + nameCap))
	t.put(name, in.Min.X, y, typeset.Left, draw.Black)
	y += float64(t.k * (air + lineCap))
	if high == lowHigh {
		last, err := t.fit(l.Batch+dot+l.Maker, typeset.Regular(s.Fonts, t.k*lineCap), in.W())
		if err != nil {
			return err
		}
		t.put(last, in.Min.X, y, typeset.Left, draw.Black)
		return nil
	}
	batch, err := t.batch(l)
	if err != nil {
		return err
	}
	t.put(batch, in.Min.X, y, typeset.Left, draw.Black)
	maker, err := t.maker(l)
	if err != nil {
		return err
	}
	t.put(maker, in.Min.X, in.Max.Y-float64(0.25*maker.Cap), typeset.Left, softInk)
	return nil
}

// bands draws the colours side by side and returns where the next line begins.
func (t setter) bands(inks []draw.Ink) float64 {
	high := t.k * bandHigh
	for i, ink := range inks {
		w := t.in.W() / float64(len(inks))
		t.sheet.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(t.in.Min.X+float64(float64(i)*w), t.in.Min.Y, w, high)), Ink: ink})
	}
	return t.in.Min.Y + high
}

// rating sets rating and count on one line, or the count in the pattern's size
// behind it where a long range leaves less.
func (t setter) rating(l Label, y float64) (float64, error) {
	y += float64(t.k * (air + ratingCap))
	count, err := t.fit(l.Count, typeset.Bold(t.Fonts, t.k*countCap), t.in.W()*0.45)
	if err != nil {
		return 0, err
	}
	rating, err := t.fit(l.Rating, typeset.Bold(t.Fonts, t.k*ratingCap), t.in.W()-count.Width-t.k*between)
	if err != nil {
		return 0, err
	}
	t.put(rating, t.in.Min.X, y, typeset.Left, draw.Black)
	t.put(count, t.in.Max.X, y, typeset.Right, draw.Black)
	return y, nil
}

// batch is the batch with the floats' numbers, if there is room for them.
func (t setter) batch(l Label) (typeset.Line, error) {
	font := typeset.Regular(t.Fonts, t.k*lineCap)
	if l.Numbers != "" {
		line, err := t.fit(l.Batch+dot+t.Words.Number1+" "+l.Numbers, font, t.in.W())
		if err == nil || fault.ClassOf(err) != fault.NoFit {
			return line, err
		}
	}
	return t.fit(l.Batch, font, t.in.W())
}

// maker is the maker with the date; a name too long for both stands alone.
func (t setter) maker(l Label) (typeset.Line, error) {
	font := typeset.Regular(t.Fonts, t.k*footCap)
	if l.Date != "" {
		line, err := t.fit(strings.TrimPrefix(l.Maker+dot+l.Date, dot), font, t.in.W())
		if err == nil || fault.ClassOf(err) != fault.NoFit {
			return line, err
		}
	}
	return t.fit(l.Maker, font, t.in.W())
}
