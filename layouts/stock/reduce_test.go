package stock

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// bitmap is a code in printer dots, dark or not.
type bitmap struct {
	n    int
	dark []bool
}

func (b bitmap) at(x, y int) bool {
	return x >= 0 && y >= 0 && x < b.n && y < b.n && b.dark[y*b.n+x]
}

// dotsOf paints a path of axis-parallel rings by the non-zero rule, dot by dot:
// the winding number about the middle of each.
func dotsOf(p geom.Path, dot float64, n int) bitmap {
	b := bitmap{n, make([]bool, n*n)}
	rings := p.Flatten(dot)
	for y := range n {
		for x := range n {
			px, py := (float64(x)+0.5)*dot, (float64(y)+0.5)*dot
			wind := 0
			for _, r := range rings {
				for i, q := range r {
					to := r[(i+1)%len(r)]
					switch {
					case q.X < px: // left of the middle
					case q.Y < py && to.Y > py:
						wind++
					case q.Y > py && to.Y < py:
						wind--
					}
				}
			}
			b.dark[y*n+x] = wind != 0
		}
	}
	return b
}

// morph is the slow oracle: a dot stays dark if all dots of the box about it are
// (eroding), or becomes dark if one is.
func (b bitmap) morph(left, right int, erode bool) bitmap {
	out := bitmap{b.n, make([]bool, len(b.dark))}
	for y := range b.n {
		for x := range b.n {
			all, any := true, false
			for dy := -left; dy <= right; dy++ {
				for dx := -left; dx <= right; dx++ {
					if b.at(x+dx, y+dy) {
						any = true
					} else {
						all = false
					}
				}
			}
			out.dark[y*b.n+x] = erode && all || !erode && any
		}
	}
	return out
}

func (b bitmap) same(o bitmap) (diff int) {
	for i := range b.dark {
		if b.dark[i] != o.dark[i] {
			diff++
		}
	}
	return diff
}

func modules(m symbol.Matrix, module float64) geom.Path {
	var p geom.Path
	for _, ring := range m.Contour() {
		for i, c := range ring {
			if q := (geom.Point{X: float64(c[0]) * module, Y: float64(c[1]) * module}); i == 0 {
				p.MoveTo(q)
			} else {
				p.LineTo(q)
			}
		}
		p.Close()
	}
	return p
}

// The reduced code is the code eroded dot by dot, and ink that spreads by as
// many dots makes it the very code again.
func TestReduceAgainstErosion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := symbol.QR(rapid.StringMatching(`[A-Z0-9]{3,30}`).Draw(t, "text"))
		if err != nil {
			t.Fatal(err)
		}
		perModule, take := rapid.IntRange(2, 7).Draw(t, "dots"), rapid.IntRange(0, 4).Draw(t, "take")
		mirrored := rapid.Bool().Draw(t, "mirrored")
		dot := Plain().Dot()
		n := m.N * perModule
		p := modules(m, float64(perModule)*dot)
		if mirrored {
			p = p.Transform(geom.Affine{A: -1, D: 1, E: float64(n) * dot})
		}
		whole, got := dotsOf(p, dot, n), dotsOf(Reduce(p, take, dot), dot, n)
		take = min(take, perModule-1) // one dot stays
		near, far := take-take/2, take/2
		if d := got.same(whole.morph(near, far, true)); d != 0 {
			t.Fatalf("%d dots differ from the eroded code", d)
		}
		if d := got.morph(far, near, false).same(whole); d != 0 {
			t.Fatalf("%d dots differ from the code when the ink has spread", d)
		}
	})
}

func TestReduceLeavesOtherPathsAlone(t *testing.T) {
	open := geom.LineBetween(geom.Point{}, geom.Point{X: 5})
	slanted := geom.Polygon(geom.Point{}, geom.Point{X: 5}, geom.Point{X: 4, Y: 3}, geom.Point{Y: 3})
	fine := geom.Rectangle(geom.XYWH(0, 0, Plain().Dot(), 5)) // one dot wide
	for _, p := range []geom.Path{nil, open, slanted, geom.Circle(geom.Point{}, 2), fine} {
		got := Reduce(p, 2, Plain().Dot())
		if len(got) != len(p) {
			t.Fatalf("%v became %v", p, got)
		}
		for i := range p {
			if got[i] != p[i] {
				t.Errorf("%v became %v", p, got)
			}
		}
	}
	// A bar of 5 dots by 9 gives up 2 of both.
	dot := Plain().Dot()
	if b := Reduce(geom.Rectangle(geom.XYWH(0, 0, 5*dot, 9*dot)), 2, dot).Bounds(); !near(b.W(), 3*dot) || !near(b.H(), 7*dot) || !near(b.Min.X, dot) {
		t.Errorf("a bar became %v", b)
	}
}

// Twice the gain to the nearest dot, so that half a dot an edge remains at most.
func TestReduction(t *testing.T) {
	p := Plain()
	for half, want := range map[float64]int{0: 0, 0.1: 0, 0.25: 0, 0.3: 1, 0.5: 1, 0.74: 1, 0.76: 2, 1: 2, 2: 4} { // gain in dots an edge
		p.Gain = half * p.Dot()
		if got := p.Reduction(); got != want {
			t.Errorf("%v dots an edge take %d dots, want %d", half, got, want)
		}
		if left := math.Abs(2*p.Gain-float64(p.Reduction())*p.Dot()) / 2; left > p.Dot()/2 {
			t.Errorf("%v dots an edge leave %v mm an edge", half, left)
		}
	}
}

// Codes are reduced and nothing else; the white under them is not.
func TestCalibrateReducesCodesOnly(t *testing.T) {
	p := Plain()
	p.Gain = p.Dot() // 2 dots a run
	m := 8 * p.Dot()
	pale := &draw.Fill{Path: geom.Rectangle(geom.XYWH(-m, -m, 5*m, 5*m)), Ink: draw.White}
	code := &draw.Group{Name: "code", Rigid: true, At: geom.Rotate(math.Pi / 2), Ops: []draw.Op{pale,
		&draw.Group{Name: "mirrored", At: geom.Affine{A: -1, D: 1, E: 3 * m}, Ops: []draw.Op{bar(0, 0, 3*m, m)}}}}
	in := sheet(bar(0, 0, 3*m, m), code)
	before := in.Dump()
	out, err := Calibrate(in, p)
	if err != nil {
		t.Fatal(err)
	}
	var got []geom.Rect
	draw.Walk(out.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
		got = append(got, o.(*draw.Fill).Path.Transform(at).Bounds())
	})
	want := []geom.Size{{W: 3 * m, H: m}, {W: 5 * m, H: 5 * m}, {W: m - 2*p.Dot(), H: 3*m - 2*p.Dot()}}
	for i, w := range want {
		if !near(got[i].W(), w.W) || !near(got[i].H(), w.H) {
			t.Errorf("%d: %v, want %v", i, got[i], w)
		}
	}
	if in.Dump() != before {
		t.Error("the sheet that was given is changed")
	}
}

// A back drawn by CalibrateBack comes out behind its front: the printer is
// played by its definition, point by point.
func TestCalibrateBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		p := Plain()
		p.ScaleX, p.ScaleY, p.Shear = f("kx", .98, 1.02), f("ky", .98, 1.02), f("shear", -.008, .008)
		p.Duplex = Offset{f("dx", -3, 3), f("dy", -3, 3), f("turn", -.02, .02)}
		x, y := f("x", 20, 190), f("y", 20, 270)
		out, err := CalibrateBack(sheet(bar(x, y, 1, 1)), p)
		if err != nil {
			t.Fatal(err)
		}
		draw.Walk(out.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
			q := p.distortion().Apply(at.Apply(o.(*draw.Fill).Path[0].P[0])) // on the back
			seen := geom.Point{X: 210 - q.X, Y: q.Y}                         // from the front
			dx, dy := seen.X-105, seen.Y-148.5
			sin, cos := math.Sincos(p.Duplex.Turn)
			seen = geom.Point{X: 105 + dx*cos - dy*sin + p.Duplex.X, Y: 148.5 + dx*sin + dy*cos + p.Duplex.Y}
			if d := seen.Sub(geom.Point{X: 210 - x, Y: y}).Len(); d > 1e-9 {
				t.Fatalf("it comes out %v mm off", d)
			}
		})
	})
}

// picture shows a bitmap with a pale edge of four modules, three points a dot.
func (b bitmap) picture(edge int) image.Image {
	const points = 3
	n := (b.n + 2*edge) * points
	im := image.NewGray(image.Rect(0, 0, n, n))
	for y := range n {
		for x := range n {
			v := color.Gray{255}
			if b.at(x/points-edge, y/points-edge) {
				v.Y = 0
			}
			im.SetGray(x, y, v)
		}
	}
	return im
}

// From the gain test to the code: a printer spreads black by some dots, closes
// slots no wider, and that reading makes its codes come out as they should. As
// they are, such codes are not read when the ink takes most of a pale square.
func TestGainFromSlotToCode(t *testing.T) {
	const text, perModule = "HTTPS://F.EXAMPLE/9KYA3C", 5
	m, err := symbol.QR(text)
	if err != nil {
		t.Fatal(err)
	}
	dot := Plain().Dot()
	n := m.N * perModule
	path := modules(m, perModule*dot)
	for spread := range MostSlot {
		// Of slots of 1 dot and more, the first that such ink does not fill.
		p, err := Plain().Measured(Readings{OpenSlot: spread + 1})
		if err != nil || p.Reduction() != spread {
			t.Fatalf("ink of %d dots: %d come off (%v)", spread, p.Reduction(), err)
		}
		near, far := spread-spread/2, spread/2
		printed := func(q geom.Path) string {
			got, _ := scan.QR(dotsOf(q, dot, n).morph(far, near, false).picture(4 * perModule))
			return got
		}
		if spread < perModule && printed(Reduce(path, p.Reduction(), dot)) != text {
			t.Errorf("ink of %d dots, made up for: not read", spread)
		}
		if spread == perModule-1 && printed(path) == text {
			t.Errorf("ink of %d dots of %d is read as it is: the test shows nothing", spread, perModule)
		}
	}
}
