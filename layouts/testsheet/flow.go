package testsheet

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

// flow sets strips in rows and rows on pages.
type flow struct {
	Spec
	room  geom.Rect // of a page
	pages []*draw.Sheet
	at    geom.Point // where the next strip goes
	foot  float64    // of the row
}

func (f *flow) page() {
	name := "codes"
	if len(f.pages) > 0 {
		name += " " + whole(len(f.pages)+1)
	}
	f.pages = append(f.pages, &draw.Sheet{Name: name, Size: f.Stock.Size})
	f.at, f.foot = f.room.Min, f.room.Min.Y
}

func (f *flow) last() *draw.Sheet { return f.pages[len(f.pages)-1] }

// strips sets one for each dowel and size that there is, take dots off the dark.
// Each dowel begins a row; the widened ones begin another where not all fit.
func (f *flow) strips(take int) error {
	for _, d := range Dowels() {
		var all []*draw.Sheet
		plain, wide := 0, -stripGap
		for _, z := range Sizes(f.Printer.DPI) {
			if !z.On(d, f.Printer.Dot()) {
				continue
			}
			one, err := f.strip(d, z, take)
			if err != nil {
				return err
			}
			if !z.Front {
				plain++
			}
			wide += one.Size.W + stripGap
			all = append(all, one)
		}
		for i, one := range all {
			if i == 0 || i == plain && wide > f.room.W() {
				f.row()
			}
			if err := f.put(one); err != nil {
				return err
			}
		}
	}
	return nil
}

// row begins a new row, unless this one is empty.
func (f *flow) row() {
	if f.at.X > f.room.Min.X {
		f.at = geom.Point{X: f.room.Min.X, Y: f.foot + stripGap}
	}
}

func (f *flow) put(one *draw.Sheet) error {
	if one.Size.W > f.room.W() || one.Size.H > f.room.H() {
		return f.noRoom(one.Size.W, one.Size.H, f.room)
	}
	if f.at.X+one.Size.W > f.room.Max.X {
		f.row()
	}
	if f.at.Y+one.Size.H > f.room.Max.Y {
		f.page()
	}
	// The code's squares stay on dots, wherever the strip lies.
	f.last().Place(one, geom.Translate(f.Printer.Snap(f.at.X), f.Printer.Snap(f.at.Y)))
	f.at.X += one.Size.W + stripGap
	f.foot = max(f.foot, f.at.Y+one.Size.H)
	return nil
}

// words sets what is to be read under the strips, or on a page of its own.
func (f *flow) words(title string, steps []string, command string) error {
	rest := geom.Rect{Min: geom.Point{X: f.room.Min.X, Y: f.foot}, Max: f.room.Max}
	_, err := f.text(f.last(), rest, title, steps, command)
	if err != nil && fault.ClassOf(err) == fault.NoFit && f.foot > f.room.Min.Y {
		f.page()
		_, err = f.text(f.last(), f.room, title, steps, command)
	}
	return err
}

// line sets one line of words over the strips that follow.
func (f *flow) line(text string) error {
	lines, err := wrapped(text, typeset.Regular(f.Fonts, capText), f.room.W())
	if err != nil {
		return err
	}
	for _, l := range lines {
		f.at.Y += l.Cap
		f.last().Add(draw.Guide, l.Straight(geom.Translate(f.at.X, f.at.Y), typeset.Left, draw.Black)...)
		f.at.Y += (leading - 1) * l.Cap
	}
	f.at.Y += parting * capText
	f.foot = f.at.Y
	return nil
}
