// Package view makes the picture of the marked float: body, paint, film and
// print, seen by a pinhole camera from any side.
//
// The picture is traced from the same body.Profile the pieces were developed
// from, and what is on the pieces is rasterised from the very drawing list that
// is printed. Lengths are millimetres, angles radians, colours sRGB; a place on
// the body is (theta, z), theta growing to the right as seen from outside with
// the tip up. It knows no batch, no words and no paper, and it judges nothing: a
// mark that cannot be read here is for legible to refuse.
package view

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Coat is a coat of paint round the body between two heights above the base
// end, mm. Paint covers: a later coat hides an earlier one.
type Coat struct {
	From, To unit.Millimetre
	Colour   draw.Ink
}

// Film is what a piece is printed on. Through Clear film the body shows, times
// the film's colour (draw.White for film without a tint); other film hides the
// body. Printer's inks are transparent either way and multiply what is under
// them, so that white ink leaves what is there.
type Film struct {
	Colour draw.Ink
	Clear  bool
}

// Piece is one flat piece on the body. Drawing is in the coordinates of Flat
// (origin at the foot of the centre meridian, y down); of its layers only
// Ground, which covers, and Colour, which is printed, are on the float. A nil
// Drawing is bare film.
type Piece struct {
	Flat    wrap.Flat
	Drawing *draw.Sheet
	Film    Film
}

// Scene is a float to be looked at. Later pieces lie over earlier ones, and at a
// seam that overlaps the right edge lies over the left.
type Scene struct {
	Profile body.Profile
	Coats   []Coat
	Pieces  []Piece
	// Gloss is how bright the varnish shines, 0 (matt) to 1 (the highlight is
	// white). It is one line along the body that keeps off the middle.
	Gloss float64
}

// bare is the body where no coat is: pale wood, chosen by eye.
var bare = draw.Ink{R: 226, G: 205, B: 168}

// Render draws the float as the camera sees it. The same scene and camera give
// the same picture. A scene without a body, a coat upside down, a gloss out of
// range or a camera that cannot take the picture is an Input error; errors of a
// drawing are those of layouts/png.
func (s Scene) Render(c Camera) (*image.RGBA, error) {
	p, err := s.Prepare(c)
	if err != nil {
		return nil, err
	}
	return p.Render(c.Turn), nil
}

// sides is how many views a strip has: a quarter turn apart, each shows what the
// next one has at its limb.
const sides = 4

// Strip draws four views a quarter turn apart side by side, in the order of
// theta: the first from c.Turn, left to right when the float stands, top to
// bottom when it lies. c.Width and c.Height are those of one view. Errors are
// those of Render.
func (s Scene) Strip(c Camera) (*image.RGBA, error) {
	p, err := s.Prepare(c)
	if err != nil {
		return nil, err
	}
	w, h, dx, dy := c.Width, c.Height*sides, 0, c.Height
	if c.Upright {
		w, h, dx, dy = c.Width*sides, c.Height, c.Width, 0
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := 0; i < sides; i++ {
		one := p.Render(c.Turn + float64(i)*2*math.Pi/sides)
		for y := 0; y < c.Height; y++ {
			copy(out.Pix[out.PixOffset(i*dx, i*dy+y):], one.Pix[one.PixOffset(0, y):][:4*c.Width])
		}
	}
	return out, nil
}

// Write writes the picture as PNG. An error of w is returned as class Machine.
func Write(w io.Writer, img image.Image) error {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return fault.New(fault.Ours, "", "the picture could not be made: "+err.Error(), "", err)
	}
	n, err := w.Write(b.Bytes())
	if err == nil && n < b.Len() {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fault.New(fault.Machine, "", "the picture could not be written: "+err.Error(), "see that there is room and leave to write", err)
	}
	return nil
}

// check finds what no picture can be made of.
func (s Scene) check() error {
	if s.Profile.MaxDiameter() == 0 {
		return fault.Inputf("give the body's stations", "there is no body to look at")
	}
	if !(s.Gloss >= 0 && s.Gloss <= 1) { // written so that NaN fails
		return fault.Inputf("give the gloss as a share between 0 and 1", "a gloss of %g is none", s.Gloss)
	}
	for i, c := range s.Coats {
		if !(c.From <= c.To) {
			return fault.New(fault.Input, fmt.Sprintf("coat %d", i+1), "it ends below its start", "give the lower height first, in mm above the base end")
		}
	}
	return nil
}
