package body

import (
	"math"
	"testing"

	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

func volume(t *testing.T, st []Station) float64 {
	t.Helper()
	p := must(t, st)
	return p.Volume(p.Base(), p.Top())
}

// ogiveVolume is pi·integral of (sqrt(p²-z²)-c)² with c = p-R, multiplied out.
func ogiveVolume(r, point, l float64) float64 {
	p := ((r-point)*(r-point) + l*l) / (2 * (r - point))
	c := p - r
	root := (l*math.Sqrt(p*p-l*l) + p*p*math.Asin(l/p)) / 2
	return math.Pi * (l*p*p - l*l*l/3 - 2*c*root + c*c*l)
}

// ellipsoidZone is pi·b²·(L - L³/12a²): the ellipsoid cut off at ±L/2.
func ellipsoidZone(b, e, l float64) float64 {
	a2 := l * l / 4 / (1 - e*e/(b*b))
	return math.Pi * b * b * (l - l*l*l/(12*a2))
}

func TestShapeVolumes(t *testing.T) {
	near(t, "closed form of the ogive", ogiveVolume(5, 0, 30), 1266.564659, 1e-6)
	near(t, "closed form of the ellipsoid", ellipsoidZone(6, 0, 40), 3015.928947, 1e-6)
	// A drop is a spherical cap of height h = R(1+sin a) and a cone on a circle of radius R·cos a.
	const r, l = 5.0, 25.0
	sin := r / (l - r)
	h, rt := r*(1+sin), r*math.Sqrt(1-sin*sin)
	drop := math.Pi*h*h*(3*r-h)/3 + math.Pi*rt*rt*(l-h)/3
	for _, c := range []struct {
		name   string
		st     []Station
		volume float64
		per    float64 // tolerance, per cent
	}{
		{"cone", Cone(12, 0, 30), math.Pi * 36 * 10, 1e-10},
		{"frustum", Cone(4, 12, 20), 1089.085453, 1e-7},
		{"parallel", Parallel(10, 30), math.Pi * 25 * 30, 1e-10},
		{"stem", Stem(2, 1, 60), math.Pi * 20 * (1 + 0.5 + 0.25), 1e-10},
		{"ogive", Ogive(10, 0, 30), ogiveVolume(5, 0, 30), 0.01},
		{"blunt ogive", Ogive(10, 0, 10), ogiveVolume(5, 0, 10), 0.05},
		{"cut ogive", Ogive(10, 2, 30), ogiveVolume(5, 1, 30), 0.01},
		{"flat ogive", Ogive(10, 0, 4), math.Pi * 25 * 4 * 2 / 3, 0.01},
		{"hemisphere", Ogive(10, 0, 5), math.Pi * 125 * 2 / 3, 0.01},
		{"ellipsoid", Olive(12, 0, 40), 3015.928947, 1e-6},
		{"sphere", Olive(16, 0, 16), 4.0 / 3 * math.Pi * 512, 1e-6},
		{"cut olive", Olive(12, 3, 40), ellipsoidZone(6, 1.5, 40), 0.01},
		{"drop", Drop(10, 0, 25), drop, 0.01},
		{"short drop", Drop(10, 0, 10), math.Pi * 1000 / 6, 0.01},
	} {
		near(t, c.name+", per cent", 100*(volume(t, c.st)/c.volume-1), 0, c.per)
		near(t, c.name+" upside down", volume(t, Flip(c.st)), volume(t, c.st), 1e-9*c.volume)
	}
}

// Pappus: the surface is the path of the generator's middle; for a half ellipse
// the volume is the path of its centroid, 4b/3pi from the axis.
func TestShapesAndPappus(t *testing.T) {
	near(t, "frustum surface", must(t, Cone(4, 12, 20)).Surface(0, 20), 2*math.Pi*4*math.Sqrt(416), 1e-9)
	near(t, "ellipsoid", volume(t, Olive(12, 0, 40)), 2*math.Pi*(4*6/(3*math.Pi))*(math.Pi*20*6/2), 1e-6)
	// The ogive's arc: length p·t, centroid at p·sin t/t - c from the axis.
	const p = 92.5
	arc := math.Asin(30 / p)
	o := must(t, Ogive(10, 0, 30))
	near(t, "ogive meridian", o.Meridian(0, 30), p*arc, 1e-3)
	near(t, "ogive surface", o.Surface(0, 30), 2*math.Pi*(p*math.Sin(arc)/arc-87.5)*p*arc, 0.05)
}

func TestJoinCornerBody(t *testing.T) {
	st := Join(Cone(0, 10, 20), Parallel(10, 30), Cone(10, 0, 15))
	want := cornerBody()
	want[0].Corner = false // an end is no edge of the outline
	if len(st) != len(want) {
		t.Fatalf("%d stations, want %d", len(st), len(want))
	}
	for i := range st {
		if st[i] != want[i] {
			t.Errorf("station %d is %v, want %v", i+1, st[i], want[i])
		}
	}
	near(t, "corner body", volume(t, st), 3272.492347, 1e-6)
}

func TestJoinSmoothAndStepped(t *testing.T) {
	st := Join(Flip(Ogive(10, 0, 20)), Parallel(10, 30), Ogive(10, 0, 30))
	for i, s := range st {
		if s.Corner {
			t.Errorf("station %d at %v is a corner; the ogives leave a parallel smoothly", i+1, s.Z)
		}
	}
	want := ogiveVolume(5, 0, 20) + math.Pi*25*30 + ogiveVolume(5, 0, 30)
	near(t, "volume, per cent", 100*(volume(t, st)/want-1), 0, 0.01)
	for _, c := range [][]Station{Ogive(10, 0, 10), Ogive(10, 0, 5.5), Ogive(30, 2, 200), Ogive(10, 0, 4)} {
		if Join(Parallel(10, 5), c)[1].Corner && c[0].D == 10 {
			t.Errorf("an ogive of length %v makes a corner at its shoulder", c[len(c)-1].Z)
		}
	}
	d := Drop(10, 0, 25)
	if turns(must(t, d).at(float64(d[len(d)-2].Z)-1e-9).slope(float64(d[len(d)-2].Z)), must(t, d).Slope(d[len(d)-2].Z)) {
		t.Error("the drop has an edge where its cone begins")
	}

	step := Join(Stem(2, 2, 40), Olive(12, 4, 30), Stem(3, 3, 20))
	p := must(t, step)
	if p.Top() != 90 || !step[1].Corner || !step[2].Corner || step[1].D != 2 || step[2].D != 4 {
		t.Errorf("steps: %v", step)
	}
	near(t, "stepped volume", p.Volume(0, 90), math.Pi*40+ellipsoidZone(6, 2, 30)+math.Pi*2.25*20, 0.25)
	if len(Join()) != 0 || len(Join(nil, Parallel(3, 4), nil)) != 2 {
		t.Error("empty parts count")
	}
}

// Whatever measures in range are asked for, the shapes are bodies of that
// length and width.
func TestShapesAreBodies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := unit.Millimetre(rapid.Float64Range(0.5, 60).Draw(t, "d"))
		end := d * unit.Millimetre(rapid.Float64Range(0, 1).Draw(t, "end"))
		l := unit.Millimetre(rapid.Float64Range(0.5, 250).Draw(t, "l"))
		for i, st := range [][]Station{Cone(d, end, l), Parallel(d, l), Stem(d, end, l), Ogive(d, end, l), Olive(d, end, l), Drop(d, end, l)} {
			p, err := New(st)
			if err != nil {
				t.Fatalf("shape %d: %v", i, err)
			}
			if p.Base() != 0 || math.Abs(float64(p.Top()-l)) > 1e-9 || math.Abs(float64(p.MaxDiameter()-d)) > 1e-9 {
				t.Fatalf("shape %d: %v long and %v wide, want %v and %v", i, p.Top(), p.MaxDiameter(), l, d)
			}
			if back := Flip(Flip(st)); len(back) != len(st) || math.Abs(float64(back[1].Z-st[1].Z)) > 1e-9 || back[0].Kind != st[0].Kind {
				t.Fatalf("shape %d turned twice is another", i)
			}
		}
	})
}
