package body

import (
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

// sampled takes n evenly spaced stations of a radius function on 0..length.
func sampled(t *testing.T, kind Kind, n int, length float64, r func(z float64) float64) Profile {
	t.Helper()
	st := make([]Station, n)
	for i := range st {
		z := length * float64(i) / float64(n-1)
		d := 2 * r(z)
		if d < 1e-7 {
			d = 0 // a pole, but for rounding
		}
		st[i] = Station{Z: unit.Millimetre(z), D: unit.Millimetre(d), Kind: kind}
	}
	return must(t, st)
}

func must(t *testing.T, st []Station) Profile {
	t.Helper()
	p, err := New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9f, want %.9f within %g", what, got, want, tol)
	}
}

func ellipsoid(z float64) float64 { return 6 * math.Sqrt(max(0, 1-(z-20)*(z-20)/400)) }
func sphere(z float64) float64    { return math.Sqrt(max(0, 64-(z-8)*(z-8))) }

// A tangent ogive of shoulder radius 5 and length 30, point up: an arc of
// radius p = (R²+L²)/2R = 92.5.
func ogive(z float64) float64 { return max(0, math.Sqrt(92.5*92.5-z*z)-92.5+5) }

// Volume error in per cent and largest radius error in mm. The closed forms are
// the textbook ones; the percentages come from a separate implementation of the
// same three fits, to the places printed there.
func TestVolumeAgainstClosedForms(t *testing.T) {
	l := math.Asin(30 / 92.5)
	// pi·integral of (sqrt(p²-z²) - (p-R))² over the length, multiplied out; half is
	// the integral of sqrt(p²-z²).
	half := (30*math.Sqrt(92.5*92.5-900) + 92.5*92.5*l) / 2
	vOgive := math.Pi * (30*92.5*92.5 - 9000 - 2*87.5*half + 30*87.5*87.5)
	near(t, "ogive closed form", vOgive, 1266.564659, 1e-6)
	for _, c := range []struct {
		name            string
		n               int
		length, volume  float64
		r               func(float64) float64
		line, cubic, sq float64 // error of the volume, per cent
		places          float64
		errCubic, errSq float64 // largest radius error, mm; 0: not published
	}{
		{"ellipsoid", 5, 40, 4.0 / 3 * math.Pi * 20 * 36, ellipsoid, -15.85, -6.77, 0, 0.005, 1.19, 0.075},
		{"ellipsoid", 9, 40, 4.0 / 3 * math.Pi * 20 * 36, ellipsoid, -4.63, -1.63, 0, 0.005, 0.85, 0.014},
		{"ellipsoid", 21, 40, 4.0 / 3 * math.Pi * 20 * 36, ellipsoid, -0.87, -0.25, 0, 0.005, 0.53, 0.002},
		{"sphere", 9, 16, 4.0 / 3 * math.Pi * 512, sphere, -4.63, -1.63, 0, 0.005, 1.13, 0.019},
		{"ogive", 5, 30, vOgive, ogive, -2.60, -0.074, 0.314, 0.005, 0.023, 0.31},
		{"ogive", 9, 30, vOgive, ogive, -0.65, -0.005, 0.027, 0.005, 0.006, 0.114},
		{"cone", 5, 30, math.Pi * 36 * 10, func(z float64) float64 { return 6 - z/5 }, 0, 0, 0, 1e-9, 0, 0.089},
		{"frustum", 5, 20, math.Pi * 20 / 3 * 52, func(z float64) float64 { return 2 + z/5 }, 0, 0, 0, 1e-9, 0, 0.005},
	} {
		for _, k := range []struct {
			kind     Kind
			per, max float64
		}{{Straight, c.line, 0}, {Curved, c.cubic, c.errCubic}, {Round, c.sq, c.errSq}} {
			p := sampled(t, k.kind, c.n, c.length, c.r)
			near(t, c.name+" "+k.kind.String(), 100*(p.Volume(0, unit.Millimetre(c.length))/c.volume-1), k.per, c.places)
			worst := 0.0
			for i := 0; i <= 4000; i++ {
				z := c.length * float64(i) / 4000
				worst = max(worst, math.Abs(float64(p.Diameter(unit.Millimetre(z)))/2-c.r(z)))
			}
			if k.max > 0 {
				near(t, c.name+" "+k.kind.String()+" radius error", worst, k.max, 0.06*k.max+0.0005)
			}
		}
	}
}

func cornerBody() []Station {
	return []Station{{Z: 0, D: 0, Corner: true}, {Z: 20, D: 10, Corner: true}, {Z: 50, D: 10, Corner: true}, {Z: 65, D: 0}}
}

// Cone 20, parallel 30, cone 15, radius 5: pi·25·(20/3+30+5).
func TestCornerBody(t *testing.T) {
	want := math.Pi * 25 * (20.0/3 + 30 + 5)
	near(t, "closed form", want, 3272.492347, 1e-6)
	p := must(t, cornerBody())
	near(t, "straight", p.Volume(0, 65), want, 1e-9)

	curved := cornerBody()
	for i := range curved {
		curved[i].Kind = Curved
	}
	near(t, "curved with corners", must(t, curved).Volume(0, 65), want, 1e-9)
	for i := range curved {
		curved[i].Corner = false
	}
	// One spline through the corners is what the flags are for (+11.8 % in a separate implementation).
	near(t, "curved without corners, per cent", 100*(must(t, curved).Volume(0, 65)/want-1), 11.8, 0.05)

	if !p.IsCone(0, 20) || !p.IsCone(21, 49) || p.IsCone(10, 30) || p.IsCone(49.99, 50.01) || p.IsCone(5, 5) {
		t.Error("IsCone does not follow the corners")
	}
	if s := p.Slope(20); s != 0 {
		t.Errorf("slope at a corner %v, want that of the parallel above", s)
	}
	if p.Base() != 0 || p.Top() != 65 || p.Length() != 65 || p.MaxDiameter() != 10 {
		t.Error("ends or width are wrong")
	}
}

// Two stations of a cone read as round are a paraboloid: half as much again.
func TestRoundOfTwoStationsIsAParaboloid(t *testing.T) {
	p := must(t, []Station{{Z: 0, D: 12, Kind: Round}, {Z: 30, D: 0}})
	near(t, "paraboloid", p.Volume(0, 30), 1.5*math.Pi*36*10, 1e-9)
	if !math.IsInf(p.Slope(30), -1) {
		t.Errorf("slope at the pole %v, want -Inf", p.Slope(30))
	}
}

func TestSurfaceAndMeridian(t *testing.T) {
	// Pappus on a frustum of radii 2 and 6, height 20: 2·pi·rbar·s = 512.609352.
	f := must(t, []Station{{Z: 0, D: 4}, {Z: 20, D: 12}})
	near(t, "frustum slant", f.Meridian(0, 20), math.Sqrt(416), 1e-12)
	near(t, "frustum surface", f.Surface(20, 0), 512.609352, 1e-6)

	// Pappus on the ellipsoid 20 by 6: 2·pi·(4b/3pi)·(pi·a·b/2) = 3015.928947.
	e := sampled(t, Round, 41, 40, ellipsoid)
	near(t, "ellipsoid volume", e.Volume(0, 40), 2*math.Pi*(4*6/(3*math.Pi))*(math.Pi*20*6/2), 1e-6)

	// A sphere: 4·pi·R² and pi·R; every zone between parallels 2·pi·R·h (Archimedes).
	s := sampled(t, Round, 161, 16, sphere)
	near(t, "sphere surface", s.Surface(0, 16), 4*math.Pi*64, 0.05)
	near(t, "sphere zone", s.Surface(3, 7), 2*math.Pi*8*4, 0.01)
	near(t, "sphere meridian", s.Meridian(0, 16), 8*math.Pi, 0.01)

	// A paraboloid has both in closed form and is fitted exactly: r² = 1.2·z, R 6, h 30.
	p := must(t, []Station{{Z: 0, D: 0, Kind: Round}, {Z: 30, D: 12}})
	near(t, "paraboloid surface", p.Surface(0, 30), math.Pi*6/(6*900)*(math.Pow(36+4*900, 1.5)-216), 1e-3)
	root := math.Sqrt(4*900 + 36)
	near(t, "paraboloid meridian", p.Meridian(0, 30), root/2+36/(4*30.0)*math.Log((60+root)/6), 1e-8)
	top := must(t, []Station{{Z: 0, D: 12, Kind: Round}, {Z: 30, D: 0}})
	near(t, "the same upside down", top.Meridian(0, 30), p.Meridian(0, 30), 1e-9)
}

// Without a corner a curved run leaves a parallel without an edge; with one it
// may have an edge.
func TestSmoothIntoStraight(t *testing.T) {
	st := []Station{{Z: 0, D: 10}, {Z: 20, D: 10, Kind: Curved}, {Z: 30, D: 6, Kind: Curved}, {Z: 36, D: 4}}
	if s := must(t, st).Slope(20); s != 0 {
		t.Errorf("slope %v on leaving the parallel, want 0", s)
	}
	st[1].Corner = true
	if s := must(t, st).Slope(20); s >= 0 {
		t.Errorf("slope %v after a corner, want the curve's own", s)
	}
	r := []Station{{Z: 0, D: 0, Kind: Round}, {Z: 6, D: 9, Kind: Round}, {Z: 14, D: 12}, {Z: 30, D: 8}}
	near(t, "slope into the taper", must(t, r).Slope(14-1e-9), 0, 1e-6) // the round run rises, so it may only flatten
	u := []Station{{Z: 0, D: 8}, {Z: 10, D: 12, Kind: Round}, {Z: 15, D: 14, Kind: Round}, {Z: 20, D: 0}}
	near(t, "slope out of the taper", must(t, u).Slope(10), 0.2, 1e-12)
}

// The rule of the slopes by hand: secants 1 and 1/2 over widths 1 and 2 give
// weights 5 and 4, so 9/(5/1+4/(1/2)) inside, (4·1-1/2)/3 and (5/2-2)/3 at the ends.
func TestSlopesOfUnevenStations(t *testing.T) {
	m := slopes([]float64{0, 1, 3}, []float64{0, 1, 2})
	for i, want := range []float64{3.5 / 3, 9.0 / 13, 0.5 / 3} {
		near(t, "slope", m[i], want, 1e-15)
	}
	if m := slopes([]float64{0, 1, 2}, []float64{0, 1, 0}); m[1] != 0 {
		t.Errorf("slope %v at a peak, want 0", m[1])
	}
}

func TestNewRefuses(t *testing.T) {
	nan, inf := unit.Millimetre(math.NaN()), unit.Millimetre(math.Inf(1))
	for _, c := range []struct {
		st    []Station
		where string
	}{
		{nil, ""}, {[]Station{{Z: 0, D: 5}}, ""}, {[]Station{{Z: 0}, {Z: 5}}, ""},
		{[]Station{{Z: 0, D: 5}, {Z: 0, D: 6}}, "station 2"}, {[]Station{{Z: 5, D: 5}, {Z: 4, D: 6}}, "station 2"},
		{[]Station{{Z: 0, D: 81}, {Z: 4, D: 6}}, "station 1"}, {[]Station{{Z: -1, D: 8}, {Z: 4, D: 6}}, "station 1"},
		{[]Station{{Z: 0, D: 8}, {Z: 601, D: 6}}, "station 2"}, {[]Station{{Z: 0, D: 8}, {Z: nan, D: 6}}, "station 2"},
		{[]Station{{Z: 0, D: -8}, {Z: 5, D: 6}}, "station 1"}, {[]Station{{Z: 0, D: nan}, {Z: 5, D: 6}}, "station 1"},
		{[]Station{{Z: 0, D: inf}, {Z: 5, D: 6}}, "station 1"}, {[]Station{{Z: 0, D: 2}, {Z: 5}, {Z: 9, D: 2}}, "station 2"},
		{[]Station{{Z: 0, D: 2, Kind: 7}, {Z: 5, D: 2}}, "station 1"},
	} {
		_, err := New(c.st)
		if list := fault.List(err); len(list) != 1 || list[0].Class != fault.Input || list[0].Where != c.where || list[0].Do == "" {
			t.Errorf("New(%v) = %v; want an input error at %q with a remedy", c.st, err, c.where)
		}
	}
	var zero Profile
	if zero.Diameter(3) != 0 || zero.Slope(3) != 0 || zero.Volume(0, 9) != 0 || zero.IsCone(0, 1) || zero.Length() != 0 {
		t.Error("the zero Profile measures something")
	}
}

func genProfile(t *rapid.T) Profile {
	n := rapid.IntRange(2, 9).Draw(t, "n")
	st, z := make([]Station, n), 0.0
	for i := range st {
		st[i] = Station{Z: unit.Millimetre(z), D: unit.Millimetre(rapid.Float64Range(0.5, 30).Draw(t, "d")),
			Kind: Kind(rapid.IntRange(0, 2).Draw(t, "kind")), Corner: rapid.Bool().Draw(t, "corner")}
		z += rapid.Float64Range(0.5, 20).Draw(t, "h")
	}
	if rapid.Bool().Draw(t, "pole") {
		st[n-1].D = 0
	}
	p, err := New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Every body goes through its stations, never bulges between two of them, and
// its measures agree with slow plain sums.
func TestProfileProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genProfile(t)
		st := p.Stations()
		for i, s := range st {
			if d := p.Diameter(s.Z); math.Abs(float64(d-s.D)) > 1e-12 {
				t.Fatalf("station %d: %v, want %v", i+1, d, s.D)
			}
		}
		const n = 1500 // slices between two stations, so that no edge is cut off
		volume, surface, slant := 0.0, 0.0, 0.0
		for j := 1; j < len(st); j++ {
			lo, hi := st[j-1], st[j]
			step := (hi.Z - lo.Z) / n
			a := float64(p.Diameter(lo.Z)) / 2
			for i := 1; i <= n; i++ {
				b := float64(p.Diameter(lo.Z+unit.Millimetre(i)*step)) / 2
				side := math.Hypot(b-a, float64(step))
				volume += math.Pi * float64(step) * (a*a + a*b + b*b) / 3
				surface += math.Pi * (a + b) * side
				slant += side
				if 2*b < float64(min(lo.D, hi.D))-1e-9 || 2*b > float64(max(lo.D, hi.D))+1e-9 {
					t.Fatalf("diameter %v above %v leaves the range of its stations", 2*b, lo.Z)
				}
				a = b
			}
		}
		for _, c := range [][2]float64{{p.Volume(0, p.Top()), volume}, {p.Surface(0, p.Top()), surface}, {p.Meridian(0, p.Top()), slant}} {
			if math.Abs(c[0]-c[1]) > 2e-3*c[1] {
				t.Fatalf("measured %v, plain sum %v", c[0], c[1])
			}
		}
		cut := unit.Millimetre(rapid.Float64Range(0, 1).Draw(t, "cut")) * p.Top()
		if v := p.Volume(-5, cut) + p.Volume(cut, 900); math.Abs(v-p.Volume(0, p.Top())) > 1e-9*v {
			t.Fatalf("two parts make %v, the whole %v", v, p.Volume(0, p.Top()))
		}
	})
}
