package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestCircleIsRound(t *testing.T) {
	c := Point{3, -2}
	p := Circle(c, 40)
	for _, ring := range p.Flatten(1e-4) {
		for _, q := range ring {
			if d := q.Sub(c).Len(); math.Abs(d-40) > 1e-5 {
				t.Fatalf("point %v lies %v from the centre, want 40", q, d)
			}
		}
	}
	if b := p.Bounds(); math.Abs(b.W()-80) > 1e-6 || math.Abs(b.H()-80) > 1e-6 {
		t.Errorf("bounds %v, want 80 by 80", b)
	}
	if a := p.Area(1e-5); math.Abs(a-math.Pi*1600) > 0.01 {
		t.Errorf("area %v, want %v", a, math.Pi*1600)
	}
}

func genAffine(t *rapid.T) Affine {
	f := func(n string) float64 { return rapid.Float64Range(-5, 5).Draw(t, n) }
	return Affine{f("a"), f("b"), f("c"), f("d"), f("e"), f("f")}
}

func TestInverseUndoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genAffine(t)
		inv, ok := m.Inverse()
		if !ok || math.Abs(m.Det()) < 1e-3 {
			t.Skip("flat")
		}
		p := Point{rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y")}
		if q := m.Then(inv).Apply(p); q.Sub(p).Len() > 1e-6 {
			t.Fatalf("%v came back as %v", p, q)
		}
		if q, r := m.Then(inv).Apply(p), inv.Apply(m.Apply(p)); q.Sub(r).Len() > 1e-6 {
			t.Fatalf("Then disagrees with applying in turn: %v, %v", q, r)
		}
	})
}

func TestQuarterTurnsAreExact(t *testing.T) {
	for i := -8; i <= 8; i++ {
		m := Rotate(float64(i) * math.Pi / 2)
		for _, v := range []float64{m.A, m.B, m.C, m.D} {
			if v != math.Trunc(v) {
				t.Errorf("quarter turn %d has %v", i, v)
			}
		}
	}
	if p := Rotate(math.Pi / 2).Apply(Point{1, 0}); p != (Point{0, 1}) {
		t.Errorf("a quarter turn took +x to %v, want +y (clockwise on the page)", p)
	}
}

// The exact bounds against a slow plain reading of many points.
func TestBoundsAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pt := func(n string) Point {
			return Point{rapid.Float64Range(-50, 50).Draw(t, n+"x"), rapid.Float64Range(-50, 50).Draw(t, n+"y")}
		}
		var p Path
		a := pt("a")
		c := [3]Point{pt("b"), pt("c"), pt("d")}
		p.MoveTo(a)
		p.CubicTo(c[0], c[1], c[2])
		b := p.Bounds()
		lo, hi := a, a
		for i := 0; i <= 2000; i++ {
			q := cubicAt(a, c, float64(i)/2000)
			lo = Point{math.Min(lo.X, q.X), math.Min(lo.Y, q.Y)}
			hi = Point{math.Max(hi.X, q.X), math.Max(hi.Y, q.Y)}
		}
		if lo.Sub(b.Min).Len() > 1e-3 || hi.Sub(b.Max).Len() > 1e-3 {
			t.Fatalf("bounds %v, sampled %v %v", b, lo, hi)
		}
	})
}

func TestReverseTurnsTheAreaRound(t *testing.T) {
	var p Path
	p.MoveTo(Point{0, 0})
	p.LineTo(Point{10, 0})
	p.CubicTo(Point{14, 2}, Point{14, 8}, Point{10, 10})
	p.LineTo(Point{0, 10})
	p.Close()
	p = append(p, Circle(Point{3, 4}, 2)...)
	r := p.Reverse()
	if a, b := p.Area(1e-4), r.Area(1e-4); math.Abs(a+b) > 1e-9 || a < 100 {
		t.Errorf("area %v, reversed %v", a, b)
	}
	if p.Bounds() != r.Bounds() {
		t.Errorf("bounds %v, reversed %v", p.Bounds(), r.Bounds())
	}
}
