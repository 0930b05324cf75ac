package proof

import (
	"math"
	"testing"

	"floatmark/label/symbol"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
)

// Taking dots off is what the sheet's own reduction does: the squares' area is
// that of the path it leaves.
func TestErodeAgreesWithReduce(t *testing.T) {
	p := stock.Plain()
	const dotsPerModule = 7
	module := dotsPerModule * p.Dot()
	for _, m := range codes(t, 2, symbol.M) {
		var path geom.Path
		for _, ring := range m.Contour() {
			for i, c := range ring {
				q := geom.Point{X: float64(c[0]) * module, Y: float64(c[1]) * module}
				if i == 0 {
					path.MoveTo(q)
				} else {
					path.LineTo(q)
				}
			}
			path.Close()
		}
		d := Design{Codes: []symbol.Matrix{m}, Module: module}
		xs := rule(d.rows(), p.Dot())
		for take := range dotsPerModule {
			dark := erode(dots(m, xs, xs), xs[m.N], xs[m.N], take)
			n := 0
			for _, is := range dark {
				if is {
					n++
				}
			}
			want := area(stock.Reduce(path, take, p.Dot())) / (p.Dot() * p.Dot())
			if math.Abs(float64(n)-want) > 0.01 {
				t.Errorf("%d dots off: %d are left, the sheet has %.2f", take, n, want)
			}
		}
	}
}

// area is the signed area of all rings, by the sum of their corners' products.
func area(p geom.Path) float64 {
	sum := 0.0
	var first, last geom.Point
	for _, s := range p {
		q := last
		switch s.Verb {
		case geom.Move:
			first, last = s.P[0], s.P[0]
			continue
		case geom.Line:
			q = s.P[0]
		case geom.Close:
			q = first
		}
		sum += last.X*q.Y - q.X*last.Y
		last = q
	}
	return math.Abs(sum / 2)
}

// The left edge of a corner mark stands where the printer's dots, less what is
// taken off, plus what the ink spreads, put it.
func TestGainMovesEdges(t *testing.T) {
	for _, dpi := range []float64{300, 600, 1200} {
		for _, g := range []float64{0, 0.005, 0.015, 0.03, 0.06} {
			d := onCone(t, 1, 0.3, 20, 0)
			d.Printer.DPI, d.Printer.Gain = dpi, g
			d.Module = float64(d.Printer.Dots(0.3)) * d.Printer.Dot()
			f := d.printed(d.Codes[0], whitest)
			off := float64((take(d.Printer, d.Module)+1)/2) * d.Printer.Dot()
			want := d.columns()[0] + off - gain(d.Printer)
			// Across the middle of the mark's left side, where it is straight.
			y := float32(d.rows()[3] + d.Module/2)
			const step = 1e-4
			got := math.NaN()
			for x := d.columns()[0] - 0.2; x < d.columns()[0]+0.2; x += step {
				if f.reflectance(float32(x), y) < (whitest+inkReflects)/2 {
					got = x
					break
				}
			}
			if !(math.Abs(got-want) < 0.003) {
				t.Errorf("%g dpi, gain %g: the edge is at %.4f, want %.4f", dpi, g, got, want)
			}
		}
	}
}

// The film's parts have their reflectances.
func TestReflectances(t *testing.T) {
	d := onCone(t, 1, 0.3, 20, 0)
	f := d.printed(d.Codes[0], whitest)
	mid := func(square float64) float32 { return float32((square - 10.5 + 0.5) * d.Module) }
	for _, c := range []struct {
		what string
		x, y float32
		want float32
	}{
		{"inside a corner mark", mid(3), mid(3), inkReflects},
		{"the pale edge", mid(-2), mid(10), whitest},
		{"beyond it", mid(-4.9), mid(10), beside},
		{"far beyond", -1000, 1000, beside},
	} {
		if got := f.reflectance(c.x, c.y); math.Abs(float64(got-c.want)) > 1e-3 {
			t.Errorf("%s gives back %v, want %v", c.what, got, c.want)
		}
	}
}
