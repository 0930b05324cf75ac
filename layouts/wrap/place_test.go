package wrap

import (
	"math"
	"testing"

	"floatmark/layouts/geom"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

// genFrustum is any straight band, with film off, so that the body itself is the
// oracle.
func genFrustum(t *rapid.T) (f Flat, base, top, h float64) {
	base = rapid.Float64Range(2, 25).Draw(t, "base")
	top = rapid.Float64Range(2, 25).Draw(t, "top")
	if rapid.Bool().Draw(t, "parallel") {
		top = base
	}
	h = rapid.Float64Range(3, 60).Draw(t, "h")
	overlap := rapid.Float64Range(-1, 1.5).Draw(t, "overlap")
	return develop(t, frustum(t, base, top, h), 0, h, Film{}, Seam{overlap}), base, top, h
}

func genPlace(t *rapid.T, f Flat) (theta, s float64) {
	return rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "theta"), rapid.Float64Range(0, 1).Draw(t, "s") * f.Slant
}

// Rolling the piece back on gives the body: any two near places are as far apart
// on the flat as in space.
func TestRollingBackKeepsDistances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, base, top, h := genFrustum(t)
		theta, s := genPlace(t, f)
		space := func(theta, s float64) [3]float64 {
			k := s / f.Slant
			r := (base + (top-base)*k) / 2
			// Seen from outside with the tip up, right is counterclockwise from above.
			return [3]float64{r * math.Cos(theta), r * math.Sin(theta), h * k}
		}
		way := rapid.Float64Range(0, 2*math.Pi).Draw(t, "way")
		const step = 1e-3 // mm: the chord is short of the surface by step³/24r²
		t2, s2 := theta+f.Angle(step*math.Cos(way), s), s+step*math.Sin(way)
		a, b := space(theta, s), space(t2, s2)
		want := math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
		got := f.At(t2, s2).Sub(f.At(theta, s)).Len()
		tol := 1e-6 // of the step's own length
		if f.Rect {
			tol = 2 * rectTolerance / (math.Pi * min(base, top) / 2)
		}
		if math.Abs(got-want) > tol*step+1e-9 {
			t.Fatalf("%v on the flat, %v on the body", got, want)
		}
	})
}

// At, Frame, Hoop and Angle tell one story, on any band.
func TestFrameFollowsAt(t *testing.T) {
	og := ogive(t)
	rapid.Check(t, func(t *rapid.T) {
		f, _, _, _ := genFrustum(t)
		if rapid.Bool().Draw(t, "curved") {
			f = develop(t, og, rapid.Float64Range(5, 12).Draw(t, "from"), 25, Film{0.02}, Seam{1})
		}
		theta, s := genPlace(t, f)
		m, at := f.Frame(theta, s), f.At(theta, s)
		if m.Apply(geom.Point{}).Sub(at).Len() > 1e-12 || math.Abs(m.Det()-1) > 1e-12 {
			t.Fatalf("frame %v does not set a drawing to scale at %v", m, at)
		}
		const e = 1e-5
		right := f.At(theta+f.Angle(e, s), s).Sub(at).Scale(1 / e)
		down := f.At(theta, s-e).Sub(at).Scale(1 / e)
		if right.Sub(geom.Point{X: m.A, Y: m.B}).Len() > 1e-4 || down.Sub(geom.Point{X: m.C, Y: m.D}).Len() > 1e-4 {
			t.Fatalf("frame %v, but right is %v and down is %v", m, right, down)
		}
		if math.Abs(f.Angle(f.Hoop(s), s)-2*math.Pi) > 1e-9 {
			t.Fatalf("a full hoop spans %v", f.Angle(f.Hoop(s), s))
		}
		if f.At(0, 0).Len() > 1e-12 || f.At(0, f.Slant).Sub(geom.Point{Y: -f.Slant}).Len() > 1e-9 {
			t.Fatal("the centre meridian does not run straight up from the origin")
		}
	})
}

// A capital's top lies above its foot on every piece, and tops lean together
// under an apex above and apart over an apex below.
func TestLettersStandUpright(t *testing.T) {
	for _, up := range []bool{true, false} {
		p := frustum(t, 12, 8, 15)
		if !up {
			p = frustum(t, 8, 12, 15)
		}
		f := develop(t, p, 0, 15, Film{}, Seam{})
		top := func(theta float64) geom.Point { return f.Frame(theta, 5).Apply(geom.Point{Y: -3}) }
		foot := func(theta float64) geom.Point { return f.Frame(theta, 5).Apply(geom.Point{}) }
		for _, a := range []float64{-2, 0, 2} {
			if top(a).Y >= foot(a).Y {
				t.Errorf("apex up %v: a letter at %v stands on its head", up, a)
			}
			if p := f.Frame(a, 5).Apply(geom.Point{X: 1}); p.X <= foot(a).X {
				t.Errorf("apex up %v: a letter at %v is mirrored", up, a)
			}
		}
		if together := top(1).X-top(-1).X < foot(1).X-foot(-1).X; together != up {
			t.Errorf("apex up %v: tops lean together: %v", up, together)
		}
		// The centre of the arcs: all of an edge is equally far from it.
		c := geom.Point{Y: f.RhoFrom}
		if up {
			c.Y = -f.RhoFrom
		}
		for _, a := range []float64{-3, -1, 0, 2} {
			near(t, "lower arc", f.At(a, 0).Sub(c).Len(), f.RhoFrom, 1e-9)
			near(t, "upper arc", f.At(a, f.Slant).Sub(c).Len(), f.RhoTo, 1e-9)
		}
	}
}

// The outline holds pi(r1+r2)s and the overlap's strip; its corners are those of
// At, its two straight edges are equally long and its arcs lie on the parallels.
func TestOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, base, top, _ := genFrustum(t)
		out := f.Outline()
		want := math.Pi*(base+top)/2*f.Slant + f.Overlap*f.Slant
		if a := out.Area(1e-5); math.Abs(a-want) > 1e-4*want {
			t.Fatalf("area %v, want %v", a, want)
		}
		if out[0].Verb != geom.Move || out[len(out)-1].Verb != geom.Close {
			t.Fatal("the outline is not one closed ring")
		}
		left := f.At(f.Left(), f.Slant).Sub(f.At(f.Left(), 0)).Len()
		right := f.At(f.Right(), f.Slant).Sub(f.At(f.Right(), 0)).Len()
		if math.Abs(left-f.Slant) > 1e-9 || math.Abs(right-f.Slant) > 1e-9 {
			t.Fatalf("edges %v and %v, want %v", left, right, f.Slant)
		}
		// The seam meets: the turn that takes the left edge to pi takes all of it there.
		turn := f.Frame(f.Left(), 0)
		inv, _ := turn.Inverse()
		onto := inv.Then(f.Frame(math.Pi, 0))
		for _, s := range []float64{0, f.Slant / 3, f.Slant} {
			if d := onto.Apply(f.At(f.Left(), s)).Sub(f.At(math.Pi, s)).Len(); d > 1e-9 {
				t.Fatalf("the seam gapes by %v at %v", d, s)
			}
		}
		if w := f.At(f.Right(), f.Slant/2).Sub(f.At(math.Pi, f.Slant/2)).Len(); w > math.Abs(f.Overlap)+1e-9 || w < math.Abs(f.Overlap)*0.95-1e-9 {
			t.Fatalf("overlap %v at half the slant, want %v", w, f.Overlap)
		}
		all := f.Bounds()
		for i := 0; i <= 20; i++ {
			a := f.Left() + (f.Right()-f.Left())*float64(i)/20
			for _, s := range []float64{0, f.Slant / 2, f.Slant} {
				if q := f.At(a, s); !all.Inset(-1e-6).Contains(geom.Rect{Min: q, Max: q}) {
					t.Fatalf("place %v, %v leaves the bounds", a, s)
				}
			}
		}
	})
}

// Two bands that share a parallel make the whole piece, and each lies on its
// parallels.
func TestBands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, _, _, _ := genFrustum(t)
		_, s := genPlace(t, f)
		l, r := f.Left(), f.Right()
		whole := f.Outline().Area(1e-5)
		parts := f.Band(0, s, l, r).Area(1e-5) + f.Band(s, f.Slant, l, 0.5).Area(1e-5) + f.Band(s, f.Slant, 0.5, r).Area(1e-5)
		if math.Abs(whole-parts) > 1e-3*whole {
			t.Fatalf("parts %v, whole %v", parts, whole)
		}
		if f.Rect {
			return
		}
		c := geom.Point{Y: math.Copysign(f.RhoFrom, f.grow)}
		edge := f.At(0, s).Sub(c).Len()
		for _, ring := range f.Band(s, s, -1, 2).Flatten(1e-6) {
			for _, q := range ring {
				if math.Abs(q.Sub(c).Len()-edge) > 1e-5 {
					t.Fatalf("point %v leaves the parallel", q)
				}
			}
		}
	})
}

// The point of a cone is a point of the outline, not an arc.
func TestPointedPiece(t *testing.T) {
	f := develop(t, frustum(t, 12, 0, 20), 0, 20, Film{}, Seam{})
	near(t, "area", f.Outline().Area(1e-6), math.Pi*6*f.Slant, 1e-2)
	if f.Angle(1, f.Slant) != 0 || f.Hoop(f.Slant) > 1e-9 {
		t.Error("the point has a hoop")
	}
}

func TestSlantAt(t *testing.T) {
	f := develop(t, frustum(t, 12, 8, 15), 3, 12, Film{}, Seam{})
	near(t, "half way", f.SlantAt(7.5), f.Slant/2, 1e-12)
	near(t, "below", f.SlantAt(0), 0, 0)
	near(t, "above", f.SlantAt(15), f.Slant, 1e-12)
	og := develop(t, ogive(t), 10, 25, Film{}, Seam{})
	near(t, "curved", og.SlantAt(unit.Millimetre(25)), og.Slant, 1e-9)
}
