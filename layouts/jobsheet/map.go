package jobsheet

import (
	"math"
	"strconv"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
)

// Map is one decal sheet, to be drawn small.
type Map struct {
	Title  string    // under it: "page 1, sheet no. 3"
	Size   geom.Size // of the sheet, mm
	Spent  []geom.Path
	Labels []geom.Path // edges of the labels of a die-cut sheet
	Pieces []MapPiece
}

// MapPiece is a piece on the sheet.
type MapPiece struct {
	Outline geom.Path // where it is cut, mm on the sheet
	Name    string    // number of its float, or what a spare is
}

// fieldSide is about the side of a field of a sheet, mm: few pieces begin in one.
const fieldSide = 50.0

// mostFields is how many letters there are.
const mostFields = 26

// Fields returns how many fields a sheet is parted in, across and down.
func Fields(sheet geom.Size) (across, down int) {
	n := func(v float64) int { return min(mostFields, max(1, int(math.Round(v/fieldSide)))) }
	return n(sheet.W), n(sheet.H)
}

// Field names the field of a sheet that a point lies in, as its map does: letters
// across, numbers down, "B3".
func Field(sheet geom.Size, at geom.Point) string {
	across, down := Fields(sheet)
	i := func(v, whole float64, n int) int { return min(n-1, max(0, int(v/whole*float64(n)))) }
	return string(rune('A'+i(at.X, sheet.W, across))) + strconv.Itoa(1+i(at.Y, sheet.H, down))
}

// Measures of a map, mm. Own choices.
const (
	mapLabel = 3.6 // for the fields' letters and numbers
	mapTitle = 3.4 // for its title
	// mapName and mapFloor are the capitals of the pieces' numbers: a narrow piece
	// is named in smaller ones, and the table tells its field in large ones.
	mapName  = 1.9
	mapFloor = 1.4
	mapLine  = 0.15
)

var (
	spentInk = draw.Ink{R: 205, G: 208, B: 211}
	pieceInk = draw.Ink{R: 226, G: 238, B: 244}
	fieldInk = draw.Ink{R: 190, G: 196, B: 200}
)

// MapScale is how small a sheet is drawn so that its map is as wide as a narrow
// block; on a map 1 mm is so much of a mm on the sheet.
func MapScale(sheet geom.Size) float64 { return (NarrowWidth - mapLabel) / sheet.W }

// maps draws the decal sheets, the heading over the first.
func (p *pages) maps() ([]*draw.Sheet, error) {
	var all []*draw.Sheet
	for _, m := range p.Maps {
		b := &draw.Sheet{Name: p.bench.Map}
		note := ""
		if len(m.Spent) > 0 {
			note = p.bench.SpentBefore
		}
		y, err := p.heading(b, p.bench.Map, note, NarrowWidth)
		if err != nil {
			return nil, err
		}
		if err := p.oneMap(b, m, y); err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}

func (p *pages) oneMap(b *draw.Sheet, m Map, y float64) error {
	k := MapScale(m.Size)
	at := geom.Scale(k, k).Then(geom.Translate(mapLabel, y+mapLabel))
	whole := geom.Rectangle(geom.XYWH(0, 0, m.Size.W, m.Size.H)).Transform(at)
	for _, s := range m.Spent {
		b.Add(draw.Ground, &draw.Fill{Path: s.Transform(at), Ink: spentInk})
	}
	if err := p.fields(b, m.Size, at); err != nil {
		return err
	}
	for _, l := range m.Labels {
		b.Add(draw.Colour, &draw.Stroke{Path: l.Transform(at), Ink: fieldInk, Width: hair})
	}
	for _, piece := range m.Pieces {
		path := piece.Outline.Transform(at)
		b.Add(draw.Colour, &draw.Fill{Path: path, Ink: pieceInk}, &draw.Stroke{Path: path, Ink: draw.Black, Width: mapLine})
		box := path.Bounds()
		long, short := box.W(), box.H()
		mid := geom.Translate((box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2)
		if short > long {
			long, short = short, long
			mid = geom.Rotate(-quarter).Then(mid)
		}
		l, err := typeset.Fit(piece.Name, typeset.Bold(p.Fonts, min(mapName, max(mapFloor, short-0.5))), long-0.4, 0)
		if err != nil {
			return err
		}
		b.Add(draw.Colour, l.Straight(geom.Translate(0, l.Cap/2).Then(mid), typeset.Centre, draw.Black)...)
	}
	b.Add(draw.Colour, &draw.Stroke{Path: whole, Ink: draw.Black, Width: 0.25})
	foot := y + mapLabel + float64(k*m.Size.H)
	l, err := typeset.Fit(m.Title, typeset.Regular(p.Fonts, bodyCap), NarrowWidth-mapLabel, floorCap)
	if err != nil {
		return err
	}
	b.Add(draw.Colour, l.Straight(geom.Translate(mapLabel, foot+mapTitle-descent*bodyCap), typeset.Left, draw.Black)...)
	b.Size = geom.Size{W: NarrowWidth, H: foot + mapTitle + 0.4}
	return nil
}

// fields draws the lines between the fields and their names along two edges.
func (p *pages) fields(b *draw.Sheet, size geom.Size, at geom.Affine) error {
	across, down := Fields(size)
	font := typeset.Bold(p.Fonts, bodyCap)
	name := func(text string, x, y float64) error {
		l, err := typeset.Shape(text, font)
		if err == nil {
			b.Add(draw.Colour, l.Straight(geom.Translate(x, y), typeset.Centre, draw.Black)...)
		}
		return err
	}
	line := func(x0, y0, x1, y1 float64) {
		b.Add(draw.Ground, &draw.Stroke{Path: geom.LineBetween(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1}).Transform(at), Ink: fieldInk, Width: hair})
	}
	for i := range across {
		x := size.W * float64(i) / float64(across)
		if i > 0 {
			line(x, 0, x, size.H)
		}
		q := at.Apply(geom.Point{X: x + size.W/float64(across)/2})
		if err := name(string(rune('A'+i)), q.X, q.Y-1.1); err != nil {
			return err
		}
	}
	for i := range down {
		y := size.H * float64(i) / float64(down)
		if i > 0 {
			line(0, y, size.W, y)
		}
		q := at.Apply(geom.Point{Y: y + size.H/float64(down)/2})
		if err := name(strconv.Itoa(i+1), q.X-mapLabel/2-0.2, q.Y+bodyCap/2); err != nil {
			return err
		}
	}
	return nil
}
