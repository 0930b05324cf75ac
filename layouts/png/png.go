// Package png writes a sheet as a picture, all layers in painting order: on
// white and anti-aliased, or in black and white dots.
//
// Sheet lengths are millimetres, pixels are dpi to the inch in both directions
// exactly; the last row and column take the rest of a pixel. Anti-aliased pictures
// are for previews and for proofs by a reader; print goes through PDF, or in dots
// to a printer that takes its dots as they are. Sections of the PNG
// specification are named from memory.
package png

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	stddraw "image/draw"
	"image/png"
	"io"
	"math"

	"floatmark/layouts/draw"
	"floatmark/loading/fault"
)

// mmPerInch turns dots per inch into dots per millimetre; exact by definition.
const mmPerInch = 25.4

// maxPixels bounds a picture: A3 at 1200 dpi is 278 million, about 1.1 GB in
// memory. More is a slip of the hand (estimate).
const maxPixels = 300e6

// Render draws the sheet at dpi dots per inch. The picture is
// round(mm·dpi/25.4) pixels each way and opaque.
//
// A resolution or size that gives no picture or too large a one is an Input
// error; a drawing list that breaks its own rules is an Ours error.
func Render(s *draw.Sheet, dpi float64) (*image.RGBA, error) {
	w, h, err := size(s, dpi)
	if err != nil {
		return nil, err
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	stddraw.Draw(img, img.Bounds(), image.NewUniform(color.White), image.Point{}, stddraw.Src)
	p := &painter{bounds: img.Bounds(), k: dpi / mmPerInch}
	p.lay = func(band image.Rectangle, ink draw.Ink) {
		p.z.Draw(img, band, image.NewUniform(color.RGBA{ink.R, ink.G, ink.B, 255}), image.Point{})
	}
	if err := p.sheet(s); err != nil {
		return nil, err
	}
	return img, nil
}

// size returns a picture's size in pixels.
func size(s *draw.Sheet, dpi float64) (w, h int, err error) {
	x, y := math.Round(s.Size.W*dpi/mmPerInch), math.Round(s.Size.H*dpi/mmPerInch)
	if !(dpi > 0 && x >= 1 && y >= 1 && x*y <= maxPixels) {
		return 0, 0, fault.New(fault.Input, s.Name, fmt.Sprintf("a sheet of %g x %g mm makes no picture at %g dpi", s.Size.W, s.Size.H, dpi), "choose a resolution between 72 and 1200 dpi")
	}
	return int(x), int(y), nil
}

// Write renders the sheet and writes it as PNG with its resolution (chunk
// pHYs), so that it keeps its scale. Errors are those of Render; an error of w
// is returned as class Machine.
func Write(w io.Writer, s *draw.Sheet, dpi float64) error {
	img, err := Render(s, dpi)
	if err != nil {
		return err
	}
	return encode(w, img, dpi)
}

// encode writes a picture and its resolution.
func encode(w io.Writer, img image.Image, dpi float64) error {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	// Signature and header chunk have a fixed length; pHYs must stand before
	// the picture's data (PNG specification, 5.6).
	const afterHeader = 8 + 4 + 4 + 13 + 4
	file := append(bytes.Clone(b.Bytes()[:afterHeader]), resolution(dpi)...)
	file = append(file, b.Bytes()[afterHeader:]...)
	n, err := w.Write(file)
	if err == nil && n < len(file) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fault.New(fault.Machine, "", "the picture could not be written: "+err.Error(), "see that there is room and leave to write", err)
	}
	return nil
}

// resolution is the chunk pHYs: dots per metre both ways, unit metre (PNG
// specification, 11.3.4.3).
func resolution(dpi float64) []byte {
	perMetre := uint32(math.Round(dpi / mmPerInch * 1000))
	body := []byte("pHYs")
	body = binary.BigEndian.AppendUint32(body, perMetre)
	body = binary.BigEndian.AppendUint32(body, perMetre)
	body = append(body, 1)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	chunk = append(chunk, body...)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))
}
