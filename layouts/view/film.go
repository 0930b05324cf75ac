package view

import (
	"fmt"
	"image"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/png"
	"floatmark/loading/fault"
)

// film is a piece ready to be looked up: what is printed on it as a picture.
type film struct {
	Piece
	min    geom.Point  // of the pictures, on the flat piece
	scale  float64     // texels per mm
	print  *image.RGBA // the Colour layer on white: what it leaves of the light; nil for none
	ground *image.RGBA // the Ground layer on white; nil for none
	mask   *image.RGBA // the Ground layer in black on white: where it covers
	left   float64     // edges of the piece, body angles
	right  float64
	foot   float64 // slant distance of its lower edge from the base end of the body
	tint   rgb
}

const (
	// finer is how many texels go to a pixel: as many as there are rays.
	finer = 2
	// maxTexels bounds the picture of one piece; a nearer camera sees it soft.
	maxTexels = 16e6
	mmPerInch = 25.4 // exact by definition
)

// develop rasterises a piece for k pixels per mm.
func develop(p Piece, k float64, sh shape) (*film, error) {
	box := p.Flat.Bounds()
	if !(box.W() > 0 && box.H() > 0) {
		return nil, fault.New(fault.Ours, "", "a piece without a size", "")
	}
	f := &film{Piece: p, min: box.Min, left: p.Flat.Left(), right: p.Flat.Right(),
		foot: sh.slant(float64(p.Flat.From)), tint: ink(p.Film.Colour)}
	f.scale = math.Min(finer*k, math.Sqrt(maxTexels/(box.W()*box.H())))
	if p.Drawing == nil {
		return f, nil
	}
	var err error
	if f.print, err = f.raster(box, p.Drawing.Layers[draw.Colour]); err != nil {
		return nil, err
	}
	if f.ground, err = f.raster(box, p.Drawing.Layers[draw.Ground]); err != nil {
		return nil, err
	}
	f.mask, err = f.raster(box, blackened(p.Drawing.Layers[draw.Ground]))
	return f, err
}

// raster draws ops over the piece's bounds on white; nil if there are none.
func (f *film) raster(box geom.Rect, ops []draw.Op) (*image.RGBA, error) {
	if len(ops) == 0 {
		return nil, nil
	}
	s := &draw.Sheet{Name: f.Drawing.Name, Size: geom.Size{W: math.Ceil(box.W()*f.scale+1) / f.scale, H: math.Ceil(box.H()*f.scale+1) / f.scale}}
	s.Add(draw.Colour, &draw.Group{At: geom.Translate(-box.Min.X, -box.Min.Y), Ops: ops})
	return png.Render(s, f.scale*mmPerInch)
}

// blackened returns the ops in black.
func blackened(ops []draw.Op) []draw.Op {
	out := make([]draw.Op, 0, len(ops))
	for _, o := range ops {
		switch o := o.(type) {
		case *draw.Fill:
			c := *o
			c.Ink = draw.Black
			out = append(out, &c)
		case *draw.Stroke:
			c := *o
			c.Ink = draw.Black
			out = append(out, &c)
		case *draw.Glyphs:
			c := *o
			c.Ink = draw.Black
			out = append(out, &c)
		case *draw.Group:
			c := *o
			c.Ops = blackened(o.Ops)
			out = append(out, &c)
		default:
			out = append(out, o) // for the writer to refuse
		}
	}
	return out
}

// over returns the colour seen at (theta, s) of the piece when under is below
// it; share is how much of the place the piece covers.
func (f *film) over(under rgb, theta, s float64, share float32) rgb {
	q := f.Flat.At(theta, min(max(s, 0), f.Flat.Slant))
	x, y := (q.X-f.min.X)*f.scale, (q.Y-f.min.Y)*f.scale
	c := f.tint
	if f.Film.Clear {
		c = under.times(c)
	}
	if f.mask != nil {
		bare := sample(f.mask, x, y)[0] / 255 // 1 where no ground is
		c = c.scaled(bare)
		g := sample(f.ground, x, y)
		for i := range c {
			c[i] += g[i] - 255*bare
		}
	}
	if f.print != nil {
		c = c.times(sample(f.print, x, y))
	}
	return under.mix(c, share)
}

// sample reads a picture between its texels; its edge goes on for ever.
func sample(img *image.RGBA, x, y float64) rgb {
	x, y = x-0.5, y-0.5
	w, h := img.Rect.Dx(), img.Rect.Dy()
	i, j := math.Floor(x), math.Floor(y)
	fx, fy := float32(x-i), float32(y-j)
	i0, j0 := min(max(int(i), 0), w-1), min(max(int(j), 0), h-1)
	i1, j1 := min(max(int(i)+1, 0), w-1), min(max(int(j)+1, 0), h-1)
	a, b := img.Pix[j0*img.Stride+4*i0:], img.Pix[j0*img.Stride+4*i1:]
	c, d := img.Pix[j1*img.Stride+4*i0:], img.Pix[j1*img.Stride+4*i1:]
	var out rgb
	for k := range out {
		top := float32(a[k]) + (float32(b[k])-float32(a[k]))*fx
		low := float32(c[k]) + (float32(d[k])-float32(c[k]))*fx
		out[k] = top + (low-top)*fy
	}
	return out
}

func ink(i draw.Ink) rgb { return rgb{float32(i.R), float32(i.G), float32(i.B)} }

// where names a piece in messages.
func where(i int, p Piece) string {
	if p.Drawing != nil && p.Drawing.Name != "" {
		return p.Drawing.Name
	}
	return fmt.Sprintf("piece %d", i+1)
}
