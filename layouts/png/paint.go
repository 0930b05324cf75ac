package png

import (
	"fmt"
	"image"
	"math"

	"golang.org/x/image/vector"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// tolerance is how far a chord may depart from a curve, in pixels: a fiftieth
// is five steps of grey in 256.
const tolerance = 0.02

// bandPixels is how much of a large op is rasterised at once: 4 million pixels
// take 32 MB of scratch.
const bandPixels = 1 << 22

// painter fills polygons of pixels on a picture; the first error stays in err.
type painter struct {
	bounds image.Rectangle
	k      float64 // pixels per mm
	z      vector.Rasterizer
	lay    func(band image.Rectangle, ink draw.Ink) // puts what z holds on the picture
	err    error
}

func (p *painter) draw(op draw.Op, at geom.Affine, _ bool) {
	at = at.Then(geom.Scale(p.k, p.k))
	switch op := op.(type) {
	case *draw.Fill:
		if path := op.Path.Transform(at); p.sound(path) {
			p.fill(path.Flatten(tolerance), op.Ink)
		}
	case *draw.Stroke:
		path := op.Path.Transform(at)
		if !p.sound(path) {
			return
		}
		// A map that does not scale both ways alike counts by its area, as in
		// the other writers.
		scale, sum := math.Sqrt(math.Abs(at.Det())), 0.0
		dash := make([]float64, len(op.Dash))
		for i, d := range op.Dash {
			if d < 0 {
				sum = math.NaN()
			}
			dash[i], sum = d*scale, sum+d
		}
		if !(op.Width > 0) || len(dash) > 0 && !(sum > 0) {
			p.fail("a stroke of width %g mm and dash %v mm", op.Width, op.Dash)
			return
		}
		p.fill(outline(path, op.Width*scale, dash), op.Ink)
	case *draw.Glyphs:
		for _, g := range op.Run {
			if path := draw.GlyphPath(op.Face, g.ID).Transform(g.At.Then(at)); p.sound(path) {
				p.fill(path.Flatten(tolerance), op.Ink)
			}
		}
	default:
		p.fail("the op %T is unknown to the PNG writer", op)
	}
}

// far is the farthest a point may lie, in pixels: beyond any sheet, and safe to
// turn into an int and a float32.
const far = 1 << 30

// sound reports whether every ring of the path, in pixels, starts with a move
// and every point is in reach.
func (p *painter) sound(path geom.Path) bool {
	started := false
	for _, s := range path {
		if s.Verb != geom.Move && !started {
			p.fail("a path goes on without a start")
			return false
		}
		started = s.Verb != geom.Close
		for _, q := range s.P {
			if !(math.Abs(q.X) < far && math.Abs(q.Y) < far) {
				p.fail("the point (%g, %g) mm has no place on a sheet", q.X/p.k, q.Y/p.k)
				return false
			}
		}
	}
	return true
}

func (p *painter) fail(format string, args ...any) {
	if p.err == nil {
		p.err = fault.New(fault.Ours, "", fmt.Sprintf(format, args...), "")
	}
}

// fill paints polygons by the non-zero rule as one shape, so that neighbours of
// one path have no seam. Only the pixels they touch are visited.
func (p *painter) fill(rings [][]geom.Point, ink draw.Ink) {
	touched := pixels(rings).Intersect(p.bounds)
	if touched.Empty() {
		return
	}
	rows := max(1, bandPixels/touched.Dx())
	for y := touched.Min.Y; y < touched.Max.Y; y += rows {
		band := image.Rect(touched.Min.X, y, touched.Max.X, min(y+rows, touched.Max.Y))
		p.z.Reset(band.Dx(), band.Dy())
		local := func(q geom.Point) (float32, float32) {
			return float32(q.X - float64(band.Min.X)), float32(q.Y - float64(band.Min.Y))
		}
		for _, ring := range rings {
			for i, q := range ring {
				if x, y := local(q); i == 0 {
					p.z.MoveTo(x, y)
				} else {
					p.z.LineTo(x, y)
				}
			}
			p.z.ClosePath()
		}
		p.lay(band, ink)
	}
}

// pixels returns the whole pixels that hold the rings.
func pixels(rings [][]geom.Point) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, ring := range rings {
		for _, q := range ring {
			x0, y0 = math.Min(x0, q.X), math.Min(y0, q.Y)
			x1, y1 = math.Max(x1, q.X), math.Max(y1, q.Y)
		}
	}
	if x0 > x1 || y0 > y1 {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1)), int(math.Ceil(y1)))
}
