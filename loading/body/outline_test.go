package body

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

func outline(t *testing.T, d string, axis Axis, scale float64, tol unit.Millimetre) Profile {
	t.Helper()
	st, err := ParseOutline(d, axis, scale, tol)
	if err != nil {
		t.Fatalf("%s: %v", d, err)
	}
	return must(t, st)
}

// Radii 2 and 6, height 20, drawn in every way the commands allow.
func TestOutlineFrustum(t *testing.T) {
	for _, c := range []struct {
		d     string
		axis  Axis
		scale float64
	}{
		{"M 12 120 L 16 100", Axis{At: 10}, 1},
		{"M16 100 12 120", Axis{At: 10}, 1},
		{"m16,100-4,20", Axis{At: 10}, 1},
		{"m 4 100 l 4 20", Axis{At: 10}, 1}, // the other side
		{"M 10 120 H 12 L 16 100 H 10", Axis{At: 10}, 1},
		{"M 10 120 h 2 l 4 -20 h -6 z", Axis{At: 10}, 1},
		{"M 12 120 L 16 100 H 10 V 120 Z", Axis{At: 10}, 1},
		{"M 10 110 V 120 H 12 L 16 100 H 10 Z", Axis{At: 10}, 1},
		{"M 12 120 L 13 115 14 110 15 105 16 100", Axis{At: 10}, 1},
		{"M 12 120 C 13 115 15 105 16 100", Axis{At: 10}, 1},
		{"M 12 120 Q 14 110 16 100", Axis{At: 10}, 1},
		{"M 0 -2 L 20 -6", Axis{Level: true}, 1},
		{"M 1e1 3 L 2e1 1 v -1 H 10 z", Axis{Level: true}, 2},
		{"M.5.5-1.5-9.5", Axis{At: 2.5}, 1}, // r 2 to 4, and not of this test's size
	} {
		if strings.HasPrefix(c.d, "M.5") {
			p := outline(t, c.d, c.axis, c.scale, 0.05)
			near(t, c.d, p.Volume(0, 10), math.Pi*10/3*(4+8+16), 1e-9)
			continue
		}
		p := outline(t, c.d, c.axis, c.scale, 0.05)
		if c.scale == 2 { // 6 below, 2 above
			near(t, c.d, float64(p.Diameter(0)), 12, 1e-12)
		}
		if n := len(p.Stations()); n != 2 || p.Base() != 0 || p.Top() != 20 {
			t.Errorf("%s: %d stations from %v to %v, want 2 from 0 to 20", c.d, n, p.Base(), p.Top())
		}
		near(t, c.d, p.Volume(0, 20), 1089.085453, 1e-6)
	}
}

// A half circle of radius 8 as two cubics; their own error is 0.027 % of the
// radius (the well-known 4/3·(sqrt 2 - 1)).
func TestOutlineHalfCircle(t *testing.T) {
	const k = 8 * 0.5522847498
	abs := fmt.Sprintf("M 0 16 C %v 16 8 %v 8 8 C 8 %v %v 0 0 0", k, 8+k, 8-k, k)
	rel := fmt.Sprintf("M0,16c%v,0,8,%v,8,-8c0,%v,%v,-8,-8,-8z", k, k-8, -k, k-8)
	for _, tol := range []float64{0.01, 0.05, 0.3} {
		p := outline(t, abs, Axis{}, 1, unit.Millimetre(tol))
		near(t, "length", float64(p.Length()), 16, 1e-9)
		st := p.Stations()
		for i, s := range st {
			near(t, "station's distance from the centre", math.Hypot(float64(s.D)/2, float64(s.Z-8)), 8, 0.02+8*0.0003)
			if i > 0 { // a chord's middle is where it is farthest off
				a := st[i-1]
				mid := math.Hypot(float64(s.D+a.D)/4, float64((s.Z+a.Z)/2-8))
				if off := 8 - mid; off > tol+0.02+8*0.0003 {
					t.Errorf("tolerance %v: the chord below station %d is off by %v", tol, i+1, off)
				}
			}
		}
		sphere := 4.0 / 3 * math.Pi * 512
		if v := p.Volume(0, 16); v > sphere*1.001 || v < sphere-4*math.Pi*64*tol {
			t.Errorf("tolerance %v: volume %v of %v", tol, v, sphere)
		}
		if n, most := len(st), 4+int(2*math.Pi*8/math.Sqrt(8*8*tol/4)); n > most {
			t.Errorf("tolerance %v: %d stations, want %d at most", tol, n, most)
		}
		other := outline(t, rel, Axis{}, 1, unit.Millimetre(tol))
		near(t, "relative and closed", other.Volume(0, 16), p.Volume(0, 16), 1e-3)
	}
}

func TestOutlineStep(t *testing.T) {
	p := outline(t, "M 1 60 V 40 H 5 V 10 L 0 0", Axis{}, 1, 0.05)
	near(t, "stem, body, cone", p.Volume(0, 60), math.Pi*(20+25*30+25*10/3.0), 0.02*math.Pi*25) // but for the shoulder
	if st := p.Stations(); len(st) != 5 || st[1].D != 2 || st[2].D != 10 || st[4].D != 0 {
		t.Errorf("stations %v", st)
	}
}

func TestOutlineRefuses(t *testing.T) {
	for _, c := range []struct{ d, what string }{
		{"", "fewer than two"}, {"M 3 4", "fewer than two"}, {"L 3 4", "begin with a move"}, {"3 4", "command is missing"},
		{"M 5 20 A 4 4 0 0 1 5 0", "arc"}, {"M 5 20 S 4 4 0 0", "not read"}, {"M 5 20 ? 4", "number is missing"},
		{"M 5 20 L 5", "number is missing"}, {"M 5 20 C 1 2 3 4 5", "number is missing"}, {"M 5 20 L 5 0 M 5 9", "second part"},
		{"M 5 20 L 5 0 Z L 3 3", "second part"}, {"M 5 20 L 5 0 L 9 0 Z", "no side along the axis"},
		{"M 5 20 L 6 10 L 5 12 L 5 0", "turns back along the axis at height 10 mm"},
		{"M 5 20 C 5 -20 5 40 4 0", "turns back"},
		{"M 5 20 L -4 0", "crosses the axis, by 4 mm"}, {"M 5 20 L 0 10 L 5 0", "0 inside"},
		{"M 5 20 L 5 20", "no length"}, {"M 5 20 H 9", "no length"}, {"M 0 20 L 0 0", "no thickness"}, {"M 5 2e9 L 5 0", "out of range"}, {"M 5 1000 L 5 0", "not between"},
		{"M 5 20 C 1e6 1e6 -1e6 -1e6 5 0 1e6 1e6 -1e6 -1e6 5 0", "more than"},
	} {
		_, err := ParseOutline(c.d, Axis{}, 1, 0.05)
		list := fault.List(err)
		if len(list) != 1 || list[0].Class != fault.Input || list[0].Do == "" || !strings.Contains(err.Error(), c.what) {
			t.Errorf("%q: %v; want %q", c.d, err, c.what)
		}
	}
	nan := math.NaN()
	for _, c := range []struct {
		at, scale, tol float64
	}{{0, 0, 0.05}, {0, nan, 0.05}, {0, -1, 0.05}, {0, 1, 0}, {0, 1, nan}, {0, 1, 2}, {nan, 1, 0.05}} {
		if _, err := ParseOutline("M 5 20 L 5 0", Axis{At: c.at}, c.scale, unit.Millimetre(c.tol)); fault.ClassOf(err) != fault.Input {
			t.Errorf("%v: %v, want an input error", c, err)
		}
	}
}

// No point of a polyline lies farther from what is kept of it than the tolerance.
func TestOutlineKeepsToTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tol := rapid.Float64Range(0.01, 1).Draw(t, "tol")
		n := rapid.IntRange(2, 40).Draw(t, "n")
		var d strings.Builder
		side := make([]point, n)
		for i := range side {
			z := 0.0
			if i > 0 {
				z = side[i-1].x + rapid.Float64Range(0.05, 5).Draw(t, "h")
			}
			side[i] = point{z, rapid.Float64Range(3, 6).Draw(t, "r")}
			fmt.Fprintf(&d, "%c%v %v", "ML"[min(i, 1)], side[i].y, -z)
		}
		st, err := ParseOutline(d.String(), Axis{}, 1, unit.Millimetre(tol))
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range side {
			off := math.Inf(1)
			for i := 1; i < len(st); i++ {
				off = min(off, distance(q, point{float64(st[i-1].Z), float64(st[i-1].D) / 2}, point{float64(st[i].Z), float64(st[i].D) / 2}))
			}
			if off > tol {
				t.Fatalf("%v is %v off, tolerance %v", q, off, tol)
			}
		}
	})
}

func FuzzParseOutline(f *testing.F) {
	for _, s := range []string{"M 2 20 L 6 0", "m0,16c4,0,8,-4,8,-8c0,-4-4-8-8-8z", "M0 9H2V3h3q1-1-5-3Z", "M.5.5-1.5-9e1", "M1 9A1", "M0 1e-9 1 0"} {
		f.Add(s, 0.0, false)
		f.Add(s, 1.5, true)
	}
	f.Fuzz(func(t *testing.T, d string, at float64, level bool) {
		st, err := ParseOutline(d, Axis{Level: level, At: at}, 1, 0.05)
		if err != nil {
			if c := fault.ClassOf(err); c != fault.Input {
				t.Fatalf("%q: %v is of class %v", d, err, c)
			}
			return
		}
		if _, err := New(st); err != nil || st[0].Z != 0 {
			t.Fatalf("%q: %v, %v", d, st, err)
		}
	})
}
