package job

import (
	"bytes"
	"math"
	"sync"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/view"
)

// Measures of a pattern's picture. Own choices: words of 2 mm are 16 pixels.
const (
	picturePixels = 8.0  // to a millimetre, less where the float is long
	pictureWidest = 1600 // pixels
	pictureRoom   = 4.0  // mm beside the body, both sides together
	pictureEnds   = 0.04 // of the length, free at either end
	varnishGloss  = 0.55
)

// Scene is a float as it will look: body, tip and planned ground rings as
// painted, and on them the very drawing that is printed.
func (p *Plan) Scene(fp *FloatPlan) view.Scene {
	pat, shape := fp.Float.Pattern, fp.Float.Shape()
	s := view.Scene{Profile: shape, Gloss: varnishGloss, Coats: []view.Coat{
		{From: shape.Base(), To: shape.Top(), Colour: draw.Ink(pat.Body)},
		{From: pat.TipFrom, To: shape.Top(), Colour: draw.Ink(pat.Tip)}}}
	for _, r := range fp.Decal.Rings {
		if !r.Proposed {
			s.Coats = append(s.Coats, view.Coat{From: r.From, To: r.To, Colour: r.Colour})
		}
	}
	for _, piece := range fp.Decal.Pieces {
		s.Pieces = append(s.Pieces, view.Piece{Flat: piece.Flat, Drawing: piece.Drawing, Film: view.Film{Colour: p.film.Colour, Clear: p.film.Clear}})
	}
	return s
}

// FourSides draws a float lying with its tip to the right, from four sides a
// quarter turn apart, one under the other, as PNG.
func (p *Plan) FourSides(fp *FloatPlan) ([]byte, error) { return p.fourSides(fp, picturePixels) }

// fourSides is FourSides with so many pixels to a millimetre at most.
func (p *Plan) fourSides(fp *FloatPlan, most float64) ([]byte, error) {
	shape := fp.Float.Shape()
	long := float64(shape.Length()) * (1 + 2*pictureEnds)
	k := math.Min(most, pictureWidest/long)
	img, err := p.Scene(fp).Strip(view.Camera{Width: int(k * long), Height: int(k * (float64(shape.MaxDiameter()) + pictureRoom))})
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	err = view.Write(&buf, img)
	return buf.Bytes(), err
}

// firsts returns the first float of each pattern, which stands for it where one
// is enough.
func (p *Plan) firsts() []*FloatPlan {
	var all []*FloatPlan
	seen := map[*label.Pattern]bool{}
	for i := range p.Floats {
		if fp := &p.Floats[i]; !seen[fp.Float.Pattern] {
			seen[fp.Float.Pattern] = true
			all = append(all, fp)
		}
	}
	return all
}

// picture is one pattern's picture, drawn.
type picture struct {
	name string
	data []byte
	err  error
}

// pictures draws the first float of each pattern, the patterns side by side:
// they share nothing, and the order of the result is the file's.
func (p *Plan) pictures() []picture {
	most := picturePixels
	if p.preview {
		most /= 2 // half of it is a quarter of the time
	}
	of := p.firsts()
	all := make([]picture, len(of))
	var wait sync.WaitGroup
	for i := range all {
		all[i].name = "float-" + of[i].Float.Pattern.Key + ".png"
		wait.Go(func() { all[i].data, all[i].err = p.fourSides(of[i], most) })
	}
	wait.Wait()
	return all
}
