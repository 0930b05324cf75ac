package body

import (
	"math"
	"testing"

	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

func curvature(t *testing.T, p Profile, z float64) float64 {
	t.Helper()
	k, ok := p.Curvature(unit.Millimetre(z))
	if !ok {
		t.Fatalf("no curvature at %v", z)
	}
	return k
}

// The closed forms are the textbook ones: 1/R² on a sphere; on an ellipsoid of
// half length a and half width b, a^6/(a^4-(a²-b²)u²)² at u from the middle,
// which at the equator is 1/a² whatever the width; at a tangent ogive's shoulder 1/(p·R).
func TestCurvatureAgainstClosedForms(t *testing.T) {
	s := must(t, Olive(16, 0, 16))
	for _, z := range []float64{0, 0.01, 1, 3.3, 8, 12, 15.99, 16} {
		near(t, "sphere times R²", 64*curvature(t, s, z), 1, 1e-9)
	}
	e := must(t, Olive(12, 0, 40))
	near(t, "equator times a²", 400*curvature(t, e, 20), 1, 1e-9)
	for _, z := range []float64{0, 2, 7.7, 20, 31, 40} {
		u := z - 20
		w := 400*400 - (400-36)*u*u
		near(t, "ellipsoid times a²", 400*curvature(t, e, z), 400*math.Pow(400, 3)/(w*w), 1e-6*400*math.Pow(400, 3)/(w*w))
	}
	o := must(t, Join(Parallel(10, 10), Ogive(10, 0, 30)))
	near(t, "ogive shoulder times pR", 92.5*5*curvature(t, o, 10), 1, 0.01)
	for _, z := range []float64{1, 12, 25} { // on the arc: cos(t)/(p·r)
		r := math.Sqrt(92.5*92.5-z*z) - 87.5
		near(t, "ogive side times pR", 92.5*5*curvature(t, o, 10+z), math.Sqrt(1-z*z/(92.5*92.5))*5/r, 0.01*5/r)
	}
	if k := curvature(t, o, 5); k != 0 {
		t.Errorf("parallel: %v, want 0", k)
	}
	if k := curvature(t, must(t, Cone(4, 12, 20)), 0); k != 0 {
		t.Errorf("cone: %v, want 0", k)
	}
	// A waist: the inside of a ring of tube radius 20, throat radius 3: -1/(20·3).
	w := sampled(t, Curved, 17, 20, func(z float64) float64 { return 23 - math.Sqrt(400-(z-10)*(z-10)) })
	near(t, "throat", 60*curvature(t, w, 10), -1, 0.01)
}

func TestHalfAngle(t *testing.T) {
	near(t, "frustum", must(t, Cone(4, 12, 20)).HalfAngle(7), math.Atan(0.2), 1e-15)
	near(t, "parallel", must(t, Parallel(4, 12)).HalfAngle(7), 0, 0)
	s := must(t, Olive(16, 0, 16))
	near(t, "sphere, lower pole", s.HalfAngle(0), math.Pi/2, 0)
	near(t, "sphere, upper pole", s.HalfAngle(16), -math.Pi/2, 0)
	near(t, "sphere, equator", s.HalfAngle(8), 0, 1e-12)
	near(t, "sphere, 30 degrees up", s.HalfAngle(12), -math.Pi/6, 0.01)
	near(t, "ogive tip", must(t, Ogive(10, 0, 30)).HalfAngle(30), -math.Asin(30/92.5), 0.001)
	if a := (Profile{}).HalfAngle(3); a != 0 {
		t.Errorf("no body: %v", a)
	}
}

func TestCurvatureIsNotDefined(t *testing.T) {
	c := must(t, cornerBody())
	for _, z := range []float64{-1, 0, 20, 50, 65, 66, math.NaN()} {
		if k, ok := c.Curvature(unit.Millimetre(z)); ok {
			t.Errorf("corner body at %v: %v", z, k)
		}
	}
	if _, ok := c.Curvature(20.001); !ok {
		t.Error("no curvature beside the edge")
	}
	if _, ok := must(t, Ogive(10, 0, 30)).Curvature(30); ok {
		t.Error("an ogive's point has a curvature")
	}
	if _, ok := (Profile{}).Curvature(0); ok {
		t.Error("no body has a curvature")
	}
}

// The same by steps: the local cubic's derivatives are those of its differences,
// and any body gives a finite figure or none.
func TestCurvatureProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genProfile(t)
		z := rapid.Float64Range(0, float64(p.Top())).Draw(t, "z")
		if k, ok := p.Curvature(unit.Millimetre(z)); ok && (math.IsNaN(k) || math.IsInf(k, 0)) {
			t.Fatalf("curvature %v at %v", k, z)
		}
		n := p.nodes(z)
		const h = 1e-3
		a, _, _ := n.at(z - h)
		y, d1, d2 := n.at(z)
		b, _, _ := n.at(z + h)
		big := 1 + math.Abs(a) + math.Abs(y) + math.Abs(d1) + math.Abs(d2)
		for _, m := range n {
			if got, _, _ := n.at(m.x); math.Abs(got-m.y) > 1e-6*(1+math.Abs(m.y)) {
				t.Fatalf("the cubic misses its node: %v, want %v", got, m.y)
			}
		}
		if math.Abs((b-a)/(2*h)-d1) > 1e-2*big || math.Abs((a-2*y+b)/(h*h)-d2) > 1e-2*big {
			t.Fatalf("derivatives %v %v, by steps %v %v", d1, d2, (b-a)/(2*h), (a-2*y+b)/(h*h))
		}
	})
}
