package view

import (
	"image"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Rays of one pixel: so many lines along the axis, and so many rays in each. How
// much of a line the body covers is exact, so that more would only smooth print.
const (
	lines = 2
	rays  = 2
)

// Prepared is a scene made ready for one camera, with all that does not depend
// on its turn: turning the float round is then quick. It may be used by several
// goroutines at once.
type Prepared struct {
	lens
	flat   lens // the same, looking squarely at the axis
	scene  Scene
	shape  shape
	films  []*film
	paint  paint
	radius float64   // largest, mm
	wide   []float64 // silhouette of each line, pixels to each side of the axis
	ground []rgb
}

// Prepare rasterises what is printed at the camera's scale. Errors are those of
// Scene.Render.
func (s Scene) Prepare(c Camera) (*Prepared, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := c.check(s.Profile); err != nil {
		return nil, err
	}
	square := c
	square.Tip = 0
	p := &Prepared{lens: c.lens(s.Profile), flat: square.lens(s.Profile), scene: s, radius: float64(s.Profile.MaxDiameter()) / 2}
	var edges []unit.Millimetre
	for _, piece := range s.Pieces {
		edges = append(edges, min(max(piece.Flat.From, s.Profile.Base()), s.Profile.Top()),
			min(max(piece.Flat.To, s.Profile.Base()), s.Profile.Top()))
	}
	p.shape = tabulate(s.Profile, p.k, edges)
	p.paint = s.coats(p.k)
	for i, piece := range s.Pieces {
		f, err := develop(piece, p.k, p.shape)
		if err != nil {
			return nil, fault.At(where(i, piece), err)
		}
		p.films = append(p.films, f)
	}
	p.outline()
	return p, nil
}

// Tipped is the scene seen by the camera tipped by tip radians, MostTip at most
// either way, in place of the tip it was made ready for. What is printed is not
// rasterised anew.
func (p *Prepared) Tipped(tip float64) *Prepared {
	if math.IsNaN(tip) {
		tip = 0
	}
	o := *p
	o.lens = p.flat.tipped(min(max(tip, -MostTip), MostTip))
	o.outline()
	return &o
}

// outline finds the silhouette and its shadow.
func (p *Prepared) outline() {
	p.wide = make([]float64, p.along*lines)
	var buf []span
	for i := range p.wide {
		pl := p.ray(i, buf)
		p.wide[i], buf = pl.wide*pl.scale, pl.spans
	}
	p.ground = p.lens.ground(p.wide, p.radius)
}

// ray returns the plane of rays of the i-th line, counted up the body.
func (p *Prepared) ray(i int, buf []span) plane {
	v, scale := p.line((float64(i)+0.5)/lines - float64(p.along)/2)
	if scale <= 0 { // so wide an angle, tipped so far, that it looks away from the axis
		return plane{spans: buf[:0], scale: 1}
	}
	pl := p.shape.plane(p.lens, v, p.radius, buf)
	pl.scale = scale
	return pl
}

// band is how many rows of pixels along the body are traced in one go: so few that
// all processors end together, so many that going for the next costs nothing.
const band = 16

// Render draws the float with the body angle turn facing the camera, on all
// processors: rows share nothing, and the picture is the same on any number.
func (p *Prepared) Render(turn float64) *image.RGBA {
	w, h := p.along, p.across
	if p.upright {
		w, h = h, w
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	turn = math.Remainder(turn, 2*math.Pi)
	bands := (p.along + band - 1) / band
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(bands, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			row := make([]seen, p.across)
			var buf []span
			for {
				b := int(next.Add(1)) - 1
				if b >= bands {
					return
				}
				for i := b * band; i < min((b+1)*band, p.along); i++ {
					buf = p.row(img, i, turn, row, buf)
				}
			}
		})
	}
	wait.Wait()
	return img
}

// row draws the i-th row of pixels along the body. row and buf are room to work in.
func (p *Prepared) row(img *image.RGBA, i int, turn float64, row []seen, buf []span) []span {
	clear(row)
	for j := i * lines; j < (i+1)*lines; j++ {
		pl := p.ray(j, buf)
		buf = pl.spans
		p.trace(pl, p.wide[j], turn, row)
	}
	for j := range row {
		c := p.ground[i*p.across+j]
		if s := row[j]; s.share > 0 {
			c = c.scaled(1 - s.share)
			for k := range c {
				c[k] += s.sum[k]
			}
		}
		p.set(img, i, j, c)
	}
	return buf
}

// seen is what the body sends into one pixel, and how much of it it covers.
type seen struct {
	sum   rgb
	share float32
}

// trace adds one line of rays to the pixels across the axis. It goes from the
// middle outwards on either side, as plane.meet wants.
func (p *Prepared) trace(pl plane, wide, turn float64, row []seen) {
	middle := float64(p.across) / 2
	last := min(p.across-1, int(math.Floor(middle+wide)))
	start := p.across / 2
	at := 0
	for j := start; j <= last; j++ {
		p.pixel(pl, float64(j)-middle, wide, turn, false, &at, &row[j])
	}
	at = 0
	for j := start - 1; j >= 0 && float64(j+1)-middle > -wide; j-- {
		p.pixel(pl, float64(j)-middle, wide, turn, true, &at, &row[j])
	}
}

// pixel adds the rays of one line through the pixel that begins at x, pixels
// from the axis. Where the silhouette cuts it, they share the covered part.
func (p *Prepared) pixel(pl plane, x, wide, turn float64, back bool, at *int, out *seen) {
	lo, hi := max(x, -wide), min(x+1, wide)
	if !(hi > lo) {
		return
	}
	// A pixel that straddles the axis would send rays inwards: the search then
	// starts anew for each.
	straddles := lo < 0 && hi > 0
	share := float32((hi - lo) / (lines * rays))
	for i := range rays {
		n := i
		if back {
			n = rays - 1 - i
		}
		if straddles {
			*at = 0
		}
		u := (lo + (hi-lo)*(float64(n)+0.5)/rays) / pl.scale
		t, face, ok := pl.meet(u, p.d, at)
		if !ok {
			continue
		}
		c := p.colour(pl, u, t, turn, face, *at)
		for k := range c {
			out.sum[k] += c[k] * share
		}
		out.share += share
	}
	if straddles {
		*at = 0
	}
}

// colour is what the ray u sees that meets the body at depth t.
func (p *Prepared) colour(pl plane, u, t, turn float64, face bool, at int) rgb {
	across, near := float64(u*t), p.d-t
	s := pl.spans[at]
	z := p.mid + float64(pl.v*t)
	if face {
		return p.paint.at(z).scaled(float32(p.shade(0, 0, -math.Copysign(1, pl.v))))
	}
	phi, r := math.Atan2(across, near), s.a+float64(s.b*t)
	c := p.marked(p.paint.at(z), around(turn+phi), z, s.cell)
	if r > 0 {
		n := 1 / (r * math.Sqrt(1+float64(s.slope*s.slope)))
		c = c.scaled(float32(p.shade(across*n, near*n, -s.slope*r*n)))
	}
	if p.scene.Gloss > 0 && math.Abs(phi-glossAt) < haloReach {
		c = c.mix(rgb{255, 255, 255}, float32(p.scene.Gloss*shine(phi, s.slope)))
	}
	return c
}

// around is math.Remainder(a, 2*math.Pi) of an angle within a turn either way, to the last
// bit: that close to a whole turn the difference is exact. A tenth of a picture's
// time went on the general one.
func around(a float64) float64 {
	switch {
	case a > math.Pi:
		return a - 2*math.Pi
	case a < -math.Pi:
		return a + 2*math.Pi
	}
	return a
}

// marked lays the pieces over the colour of the body at theta (-pi to pi) and z.
func (p *Prepared) marked(c rgb, theta, z float64, cell int) rgb {
	a, b := p.shape[cell], p.shape[cell+1]
	slant := a.s + (b.s-a.s)*min(max((z-a.z)/(b.z-a.z), 0), 1)
	for _, f := range p.films {
		share := float32(min(1, min(z-float64(f.Flat.From), float64(f.Flat.To)-z)*p.k+0.5))
		if share <= 0 {
			continue
		}
		// The edge that comes round once more lies on top.
		for _, th := range [2]float64{theta, theta + 2*math.Pi} {
			if th >= f.left && th <= f.right {
				c = f.over(c, th, slant-f.foot, share)
			}
		}
	}
	return c
}
