package testsheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
)

// lineOf is the middle line of a bar: the means of its two short ends.
func lineOf(bar geom.Path) (from, to geom.Point) {
	c := [4]geom.Point{bar[0].P[0], bar[1].P[0], bar[2].P[0], bar[3].P[0]}
	if c[0].Sub(c[1]).Len() > c[1].Sub(c[2]).Len() {
		return c[3].Add(c[0]).Scale(0.5), c[1].Add(c[2]).Scale(0.5)
	}
	return c[0].Add(c[1]).Scale(0.5), c[2].Add(c[3]).Scale(0.5)
}

func crossing(a, b, c, d geom.Point) geom.Point {
	ab, cd, ac := b.Sub(a), d.Sub(c), c.Sub(a)
	t := (ac.X*cd.Y - ac.Y*cd.X) / (ab.X*cd.Y - ab.Y*cd.X)
	return a.Add(ab.Scale(t))
}

// measure prints a ruler on a printer that distorts and reads it as the page
// says: where the middles of its four sides cross, to 1/steps mm.
func measure(t *rapid.T, page *draw.Sheet, by geom.Affine, nominal geom.Size, steps float64) stock.Readings {
	var sides [][2]geom.Point // top, bottom, left, right: the first four bars
	draw.Walk(page.Layers[draw.Colour], func(o draw.Op, at geom.Affine, _ bool) {
		path := o.(*draw.Fill).Path.Transform(at.Then(by))
		for i := 0; i < 20; i += 5 {
			a, b := lineOf(path[i : i+5])
			sides = append(sides, [2]geom.Point{a, b})
		}
	})
	if len(sides) != 4 {
		t.Fatalf("%d sides", len(sides))
	}
	at := func(i, j int) geom.Point { return crossing(sides[i][0], sides[i][1], sides[j][0], sides[j][1]) }
	tl, tr, bl, br := at(0, 2), at(0, 3), at(1, 2), at(1, 3)
	mm := func(a, b geom.Point) float64 { return math.Round(a.Sub(b).Len()*steps) / steps }
	return stock.Readings{Nominal: nominal, Sides: geom.Size{W: mm(tl, tr), H: mm(tl, bl)}, Falling: mm(tl, br), Rising: mm(bl, tr)}
}

// The whole round: the page is printed by a printer of known scale and shear,
// read to 0.01 mm, corrected, printed again, and is right within 0.05 mm.
func TestThePageRoundTrip(t *testing.T) {
	s := spec(t, "a4-paper")
	raw, err := Ruler(s)
	if err != nil {
		t.Fatal(err)
	}
	size := RulerSize(s.Stock)
	rapid.Check(t, func(t *rapid.T) {
		f := func(n string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		kx, ky, lean := f("kx", .98, 1.02), f("ky", .98, 1.02), f("shear", -.5, .5)*math.Pi/180
		by := geom.Affine{A: kx, C: ky * math.Sin(lean), D: ky * math.Cos(lean)}
		p, err := stock.Plain().Measured(measure(t, raw[0], by, size, 100))
		if err != nil {
			t.Fatal(err)
		}
		c := s
		c.Printer, c.Profile = p, 1
		corrected, err := Ruler(c)
		if err != nil {
			t.Fatal(err)
		}
		got := measure(t, corrected[0], by, size, 1e6)
		diagonal := math.Hypot(size.W, size.H)
		for name, off := range map[string]float64{"x": got.Sides.W - size.W, "y": got.Sides.H - size.H, "d1": got.Falling - diagonal, "d2": got.Rising - diagonal} {
			if math.Abs(off) > 0.05 {
				t.Errorf("%s is %v mm off", name, off)
			}
		}
	})
}
