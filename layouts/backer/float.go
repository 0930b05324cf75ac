package backer

import (
	"math"

	"floatmark/label"
	"floatmark/layouts/decal"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// How the float and its waterline are drawn, mm. Own choices but where said.
const (
	waterGap   = 1.6  // between the float and the waterline's two lines
	waterLeast = 3.5  // shortest line
	waterMost  = 7.0  // longest line
	waterWidth = 0.4  // its width
	outline    = 0.12 // hairline round the float, so that a pale one shows on pale card
	chord      = 0.25 // longest straight piece along the axis of a bent outline
	slab       = 2.5  // height of the boxes that say what the float covers
)

var (
	waterInk   = draw.Ink{R: 30, G: 104, B: 154}
	outlineInk = draw.Ink{R: 60, G: 60, B: 60}
)

// floatWidth is what the float's column needs: the body, and the waterline's
// two lines beside it.
func floatWidth(shape body.Profile, p *label.Pattern) float64 {
	w := float64(shape.MaxDiameter())
	if hasWaterline(shape, p) {
		w = math.Max(w, float64(shape.Diameter(p.Waterline))+2*(waterGap+waterLeast))
	}
	return w
}

func hasWaterline(shape body.Profile, p *label.Pattern) bool {
	return p.Waterline > shape.Base()+waterWidth && p.Waterline < shape.Top()-waterWidth
}

// y returns where a height over the base end lies on the card.
func (f *frame) y(z float64) float64 { return f.base - (z - float64(f.profile.Base())) }

// heights returns the heights at which the outline between two heights has its
// corners: the stations, and even steps between them where it is not straight.
func heights(p body.Profile, from, to float64) []float64 {
	zs := []float64{from}
	st := p.Stations()
	for i := 1; i < len(st); i++ {
		a, b := float64(st[i-1].Z), float64(st[i].Z)
		n := 1
		if st[i-1].Kind != body.Straight {
			n = int(math.Ceil((b-a)/chord)) + 8
		}
		for k := 0; k <= n; k++ {
			// Closer at both ends, where a round end is steep.
			z := a + float64((b-a)*(1-math.Cos(math.Pi*float64(k)/float64(n)))/2)
			if z > zs[len(zs)-1] && z < to {
				zs = append(zs, z)
			}
		}
	}
	return append(zs, to)
}

// slice is the float between two heights, as a closed outline at true scale.
func (f *frame) slice(from, to float64) geom.Path {
	zs := heights(f.profile, from, to)
	var pts []geom.Point
	for _, z := range zs {
		pts = append(pts, geom.Point{X: f.axis - f.radius(z), Y: f.y(z)})
	}
	for i := len(zs) - 1; i >= 0; i-- {
		pts = append(pts, geom.Point{X: f.axis + f.radius(zs[i]), Y: f.y(zs[i])})
	}
	return geom.Polygon(pts...)
}

func (f *frame) radius(z float64) float64 {
	return float64(f.profile.Diameter(unit.Millimetre(z))) / 2
}

// widest returns the largest radius between two heights, 0 outside the float.
func (f *frame) widest(from, to float64) float64 { return widestIn(f.profile, from, to) / 2 }

// floatBoxes say what the float covers, as far as the card goes.
func (f *frame) floatBoxes() []geom.Rect {
	var all []geom.Rect
	top := float64(f.profile.Top())
	for z := f.lowest(); z < top; z += slab {
		up := math.Min(z+slab, top)
		r := f.widest(z, up) + outline/2
		all = append(all, geom.Rect{Min: geom.Point{X: f.axis - r, Y: f.y(up)}, Max: geom.Point{X: f.axis + r, Y: f.y(z)}})
	}
	return all
}

// float draws the float life size: its paint, its mark where it sits, and the
// waterline beside it. Without a picture there is the place it lies at.
func (f *frame) float() (block, error) {
	b := block{name: "float", layer: draw.Colour, clear: 1, boxes: f.floatBoxes()}
	p := f.Card.Pattern
	base, top := f.lowest(), float64(f.profile.Top())
	fill := func(from, to float64, c draw.Ink) {
		from, to = math.Max(from, base), math.Min(to, top)
		if to-from > 1e-6 {
			b.ops = append(b.ops, &draw.Fill{Path: f.slice(from, to), Ink: c})
		}
	}
	tip := float64(p.TipFrom)
	if tip <= float64(f.profile.Base()) || tip > top {
		tip = top
	}
	if !f.Style.NoPicture {
		fill(base, tip, ink(p.Body))
		if len(f.Pieces) > 0 {
			b.ops = append(b.ops, f.seen(tip)...)
		} else {
			f.strips(&b, tip, fill)
		}
		fill(tip, top, ink(p.Tip))
	}
	b.ops = append(b.ops, &draw.Stroke{Path: f.slice(base, top), Ink: outlineInk, Width: outline})
	if hasWaterline(f.profile, p) {
		if err := f.waterline(&b); err != nil {
			return block{}, err
		}
	}
	return b, nil
}

// strips draws the marks of a float whose pieces are not known.
func (f *frame) strips(b *block, tip float64, fill func(from, to float64, c draw.Ink)) {
	for _, z := range f.Card.Pattern.Zones {
		lo, hi := math.Max(float64(z.From), f.lowest()), math.Min(float64(z.To()), tip)
		switch {
		case hi <= lo:
		case z.Fit == label.FitPatch:
			b.ops = append(b.ops, &draw.Fill{Path: f.patch(z, lo, hi), Ink: ink(f.Card.Ground)})
		default:
			fill(lo, hi, ink(f.Card.Ground))
			f.mark(z.Show, lo, hi, fill)
		}
	}
}

// patch is a strip along the axis as it is seen from the front, its middle on the
// axis; one without a width is a quarter of the girth.
func (f *frame) patch(z label.Zone, lo, hi float64) geom.Path {
	half := func(at float64) float64 {
		r := f.radius(at)
		angle := math.Pi / 4 // half a quarter turn
		if z.Width > 0 && r > 0 {
			angle = math.Min(math.Pi/2, z.Width/2/r)
		}
		return r * math.Sin(angle)
	}
	a, b := half(lo), half(hi)
	return geom.Polygon(geom.Point{X: f.axis - a, Y: f.y(lo)}, geom.Point{X: f.axis - b, Y: f.y(hi)},
		geom.Point{X: f.axis + b, Y: f.y(hi)}, geom.Point{X: f.axis + a, Y: f.y(lo)})
}

// mark draws the strips of a zone as far as it has room.
func (f *frame) mark(show label.Show, lo, hi float64, fill func(from, to float64, c draw.Ink)) {
	strips, _, _ := decal.Strips(show, f.Card.Tally, hi-lo)
	for _, s := range strips {
		switch {
		case s.From < 0:
			return
		case s.Band:
			fill(lo+s.From, lo+s.To, ink(f.Card.Band))
		default:
			fill(lo+s.From, lo+s.To, draw.Black)
		}
	}
}

// waterline draws two short lines either side of the float and, where the
// column has room beside it, the word.
func (f *frame) waterline(b *block) error {
	z := float64(f.Card.Pattern.Waterline)
	y, r := f.y(z), f.radius(z)
	long := math.Min(waterMost, (f.far-f.near)/2-r-waterGap)
	for _, side := range []float64{-1, 1} {
		x0, x1 := f.axis+side*(r+waterGap), f.axis+side*(r+waterGap+long)
		b.ops = append(b.ops, &draw.Stroke{Path: geom.LineBetween(geom.Point{X: x0, Y: y}, geom.Point{X: x1, Y: y}), Ink: waterInk, Width: waterWidth})
		b.boxes = append(b.boxes, geom.Rect{Min: geom.Point{X: math.Min(x0, x1), Y: y - waterWidth/2}, Max: geom.Point{X: math.Max(x0, x1), Y: y + waterWidth/2}})
	}
	if f.Style.Arrangement == Stream {
		return nil // the water itself tells
	}
	word, err := typeset.Shape(f.Words.Waterline, typeset.Regular(f.Fonts, floor(f.Fonts.Regular)))
	if err != nil {
		return err
	}
	const under = 1.0 // between the line and the word
	low, high := y+under+(ascent+descent)*word.Cap, y+under
	beside := f.widest(z-(low-y), z) + waterGap
	if f.axis+beside+word.Width > f.far || low > f.h-Safe {
		return nil
	}
	ops := word.Straight(geom.Translate(f.axis+beside, high+word.Cap*ascent), typeset.Left, waterInk)
	b.ops = append(b.ops, ops...)
	b.boxes = append(b.boxes, draw.Bounds(ops))
	return nil
}
