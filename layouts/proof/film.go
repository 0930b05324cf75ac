package proof

import (
	"math"

	"floatmark/label/symbol"
	"floatmark/layouts/stock"
)

// Figures of the printed film.
const (
	// inkReflects is what black ink gives back, and whitest what the palest film
	// or paint does (the figures the closed forms were fitted on; estimates).
	inkReflects = 0.05
	whitest     = 0.80
	// beside is what stands beyond the pale edge: a dark body, or a band of
	// lettering that comes right up to it.
	beside = 0.10
	// edgeBlur, mm, is the standard deviation of the softness of a printed edge
	// (estimate).
	edgeBlur = 0.020
	// mostSpread, in standard deviations, is how far an edge is moved: ink that
	// spreads more has the softer edge (estimate).
	mostSpread = 2.5
	// unmeasuredGain, mm, is how far the ink of a printer spreads past each edge
	// when nobody has read its gain test (estimate for toner).
	unmeasuredGain = 0.015
	// grain, mm, is the coarsest step of the raster, about edgeBlur.
	grain = 0.022
	// rim, squares, is how far the raster goes beyond the pale edge.
	rim = 1
)

// film is what one code looks like on its film: reflectance on a raster, the
// code's middle in the origin, y down.
type film struct {
	step   float64 // mm
	x0, y0 float64 // middle of the first sample, mm
	w, h   int
	at     []float32
}

// edges are the places of the squares' edges on a raster of dots, counted from
// the first.
type edges []int

// rule puts the edges on whole dots, as the printer's raster has them.
func rule(mm []float64, dot float64) edges {
	out := make(edges, len(mm))
	for i, e := range mm {
		out[i] = int(math.Round((e - mm[0]) / dot))
	}
	return out
}

// columns returns the edges of the columns and rows returns those of the rows,
// mm from the code's middle.
func (d Design) columns() []float64 {
	if d.Columns != nil {
		return d.Columns
	}
	return d.rows()
}

func (d Design) rows() []float64 {
	n := d.Codes[0].N
	out := make([]float64, n+1)
	for i := range out {
		out[i] = (float64(i) - float64(n)/2) * d.Module
	}
	return out
}

// printed makes the film of a code on the ground, a reflectance.
func (d Design) printed(m symbol.Matrix, ground float64) *film {
	dot := d.Printer.Dot()
	left, top := d.columns(), d.rows()
	xs, ys := rule(left, dot), rule(top, dot)
	cols, rows := xs[m.N], ys[m.N]
	dark := dots(m, xs, ys)
	dark = erode(dark, cols, rows, take(d.Printer, d.Module))

	fine := max(1, int(math.Ceil(dot/grain)))
	f := &film{step: dot / float64(fine)}
	margin := int(math.Ceil((float64(d.Quiet) + rim) * d.Module / f.step))
	f.w, f.h = cols*fine+2*margin, rows*fine+2*margin
	// The group is set on whole dots; its first edge is where it was drawn.
	f.x0 = left[0] + (0.5-float64(margin))*f.step
	f.y0 = top[0] + (0.5-float64(margin))*f.step
	ink := make([]float32, f.w*f.h)
	for y := range rows * fine {
		for x := range cols * fine {
			if dark[y/fine*cols+x/fine] {
				ink[(y+margin)*f.w+x+margin] = 1
			}
		}
	}
	soft := math.Max(edgeBlur, gain(d.Printer)/mostSpread)
	blur(ink, f.w, f.h, soft/f.step)
	spread(ink, gain(d.Printer)/soft)
	f.at = ink
	pale := float64(d.Quiet) * d.Module
	outside := func(at, first, last float64) bool { return at < first-pale || at > last+pale }
	for y := range f.h {
		off := outside(f.y0+float64(float64(y)*f.step), top[0], top[m.N])
		for x := range f.w {
			base := ground
			if off || outside(f.x0+float64(float64(x)*f.step), left[0], left[m.N]) {
				base = math.Min(ground, beside)
			}
			i := y*f.w + x
			f.at[i] = float32(base + float64(float64(ink[i])*(math.Min(base, inkReflects)-base)))
		}
	}
	return f
}

// dots fills the printer's dots whose middle lies in a dark square.
func dots(m symbol.Matrix, xs, ys edges) []bool {
	w := xs[m.N]
	out := make([]bool, w*ys[m.N])
	for r := range m.N {
		for c := range m.N {
			if !m.Dark(c, r) {
				continue
			}
			for y := ys[r]; y < ys[r+1]; y++ {
				for x := xs[c]; x < xs[c+1]; x++ {
					out[y*w+x] = true
				}
			}
		}
	}
	return out
}

// take is how many dots the sheet has had taken off every dark run, as
// stock.Reduce does.
func take(p stock.Printer, module float64) int {
	return max(0, min(p.Reduction(), int(math.Floor(module/p.Dot()+0.01))-1))
}

// gain is how far an edge spreads past where it was printed, mm.
func gain(p stock.Printer) float64 {
	if p.Gain == 0 {
		return unmeasuredGain
	}
	return p.Gain
}

// erode takes n dots off every dark run both ways, the odd one at the left and
// the top.
func erode(dark []bool, w, h, n int) []bool {
	if n == 0 {
		return dark
	}
	before, after := (n+1)/2, n/2
	pass := func(in []bool, lines, length, line, step int) []bool {
		out := make([]bool, len(in))
		for l := range lines {
			run := 0 // dark dots up to and with this one
			for i := range length {
				if in[l*line+i*step] {
					run++
				} else {
					run = 0
				}
				if run > before+after {
					out[l*line+(i-after)*step] = true
				}
			}
		}
		return out
	}
	return pass(pass(dark, h, w, w, 1), w, h, 1, w)
}

// spread moves every edge of the softened ink outwards by so many standard
// deviations of its softness.
func spread(ink []float32, by float64) {
	if by == 0 {
		return
	}
	const steps = 1024
	var table [steps + 2]float32
	for i := range table {
		c := math.Min(float64(i)/steps, 1)
		// A normal edge of coverage c lies Erfinv(2c-1)·sqrt2 deviations inside.
		table[i] = float32(math.Erfc(-(math.Erfinv(2*c-1) + by/math.Sqrt2)) / 2)
	}
	table[0] = 0 // bare film stays bare
	table[steps], table[steps+1] = 1, 1
	for i, c := range ink {
		p := c * steps
		j := int(p)
		ink[i] = table[j] + float32((table[j+1]-table[j])*(p-float32(j)))
	}
}

// reflectance samples the film, mm from the code's middle.
func (f *film) reflectance(x, y float32) float32 {
	step := float32(1 / f.step)
	px, py := (x-float32(f.x0))*step, (y-float32(f.y0))*step
	if !(px >= 0 && py >= 0 && px < float32(f.w-1) && py < float32(f.h-1)) {
		return f.at[0]
	}
	i, j := int(px), int(py)
	px, py = px-float32(i), py-float32(j)
	k := j*f.w + i
	top := f.at[k] + float32((f.at[k+1]-f.at[k])*px)
	k += f.w
	low := f.at[k] + float32((f.at[k+1]-f.at[k])*px)
	return top + float32((low-top)*py)
}
