package web

import (
	"math"
	"strconv"
	"strings"

	"floatmark/label"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// outline is the picture of a float for the template: a side view in
// millimetres, axis at x = 0, tip up, y down from the top of the tip.
type outline struct {
	Left, Top, W, H, Water string // of the view, and where the water begins
	Depth                  string // of the water
	Pieces                 []piece
	Whole                  string // the contour of the whole float
}

// piece is one painted stretch.
type piece struct{ Path, Fill string }

const (
	air = 3.0 // mm round the float
	// slender is the least half width of the view as a part of its height: water
	// shows on both sides of a thin float, and the picture ends beside the figures.
	slender = 0.12
	// bandPart is how much of the mark the rating band takes in the picture, from
	// the top; the true band is told by the layout, the picture only hints at it.
	bandPart = 0.16
	// filmWhite stands for the ground of a mark that names none.
	filmWhite = "#ffffff"
	// curveStep is the distance in mm at which a curved stretch is drawn; finer than
	// a phone shows at this size.
	curveStep = 1.0
)

// outlineOf draws what an entry says of the float's shape; false when that is no
// body, as in a record damaged by hand.
func outlineOf(e label.Entry) (outline, bool) {
	p, err := body.New(e.Stations)
	if err != nil {
		return outline{}, false
	}
	top := float64(p.Top())
	high := float64(p.Length()) + 2*air
	half := math.Max(slender*high, float64(p.MaxDiameter())/2+air)
	o := outline{Left: mm(-half), Top: mm(-air), W: mm(2 * half), H: mm(high),
		Water: mm(top - float64(e.Waterline)), Depth: mm(float64(e.Waterline-p.Base()) + air),
		Whole: side(p, p.Base(), p.Top())}
	add := func(from, to unit.Millimetre, fill string) {
		from, to = max(from, p.Base()), min(to, p.Top())
		if from < to {
			o.Pieces = append(o.Pieces, piece{side(p, from, to), fill})
		}
	}
	add(p.Base(), p.Top(), ink(e.BodyInk, "#555555"))
	add(e.TipFrom, p.Top(), ink(e.TipInk, "#555555"))
	add(e.MarkFrom, e.MarkTo, ink(e.GroundInk, filmWhite))
	if band := ink(e.BandInk, ""); band != "" && band != noBand && e.Mark != leastMark {
		add(e.MarkTo-unit.Millimetre(bandPart*float64(e.MarkTo-e.MarkFrom)), e.MarkTo, band)
	}
	return o, true
}

// leastMark is the mark that has no band.
const leastMark = "least"

// noBand is what a batch that names no band for a rating stores.
const noBand = "#000000"

// ink returns a stored colour if it is one, else the other.
func ink(s, other string) string {
	c, err := label.ParseColour(s)
	if err != nil {
		return other
	}
	return c.String()
}

// side returns the closed contour of the body between two heights.
func side(p body.Profile, from, to unit.Millimetre) string {
	zs := heights(p, from, to)
	top := float64(p.Top())
	var b strings.Builder
	at := func(x, z float64) {
		verb := "L"
		if b.Len() == 0 {
			verb = "M"
		}
		b.WriteString(verb + mm(x) + " " + mm(top-z))
	}
	for _, z := range zs {
		at(float64(p.Diameter(z))/2, float64(z))
	}
	for i := len(zs) - 1; i >= 0; i-- {
		at(-float64(p.Diameter(zs[i]))/2, float64(zs[i]))
	}
	return b.String() + "Z"
}

// heights are where the contour has its points: the ends, the stations between
// them, and a row of samples where the body is not straight.
func heights(p body.Profile, from, to unit.Millimetre) []unit.Millimetre {
	zs := []unit.Millimetre{from}
	st := p.Stations()
	for i, s := range st {
		if s.Z > from && s.Z < to {
			zs = append(zs, s.Z)
		}
		if i+1 == len(st) || s.Kind == body.Straight {
			continue
		}
		n := math.Ceil(float64(st[i+1].Z-s.Z) / curveStep)
		for k := 1.0; k < n; k++ {
			if z := s.Z + unit.Millimetre(k/n)*(st[i+1].Z-s.Z); z > from && z < to {
				zs = append(zs, z)
			}
		}
	}
	return append(zs, to)
}

// mm writes a coordinate: a hundredth of a millimetre is far below a pixel.
func mm(v float64) string {
	s := strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}
