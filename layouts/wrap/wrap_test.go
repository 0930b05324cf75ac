package wrap

import (
	"math"
	"testing"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

type fataler interface {
	Helper()
	Fatal(...any)
}

// frustum is a straight body of base and top diameter and height.
func frustum(t fataler, base, top, h float64) body.Profile {
	t.Helper()
	p, err := body.New([]body.Station{{Z: 0, D: unit.Millimetre(base)}, {Z: unit.Millimetre(h), D: unit.Millimetre(top)}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func develop(t fataler, p body.Profile, from, to float64, film Film, seam Seam) Flat {
	t.Helper()
	f, err := Develop(p, unit.Millimetre(from), unit.Millimetre(to), film, seam)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8f, want %.8f within %g", what, got, want, tol)
	}
}

const degree = math.Pi / 180

// Published developments.
func TestPublishedFrustums(t *testing.T) {
	// A point of 90 degrees: layout angle 254.6 degrees (a smithing reference
	// page on cones), 360·sin 45 = 254.558.
	f := develop(t, frustum(t, 20, 0, 10), 0, 10, Film{}, Seam{})
	near(t, "90-degree point", f.Sweep/degree, 254.558, 0.001)
	near(t, "its upper arc", f.RhoTo, 0, 1e-12)

	// Base radii 2.5 and 4, height 4: inner 7.12, outer 11.39, 126.4 degrees
	// (a school geometry course's frustum exercise).
	f = develop(t, frustum(t, 8, 5, 4), 0, 4, Film{}, Seam{})
	near(t, "inner", f.RhoTo, 7.12, 0.005)
	near(t, "outer", f.RhoFrom, 11.39, 0.005)
	near(t, "angle", f.Sweep/degree, 126.4, 0.05)

	// "Building a Cone", Math Forum formulas: angle 2·pi·r/s = 2·pi·sin t.
	for _, c := range [][2]float64{{3, 4}, {5, 12}, {1, 30}} {
		f = develop(t, frustum(t, 2*c[0], 0, c[1]), 0, c[1], Film{}, Seam{})
		near(t, "cone's angle by r/s", f.Sweep, 2*math.Pi*c[0]/math.Hypot(c[0], c[1]), 1e-12)
		near(t, "cone's angle by the half-angle", f.Sweep, 2*math.Pi*math.Sin(math.Atan(c[0]/c[1])), 1e-12)
	}
}

// d1, d2, h; slant, rho1, rho2, sweep in degrees, outer chord, box, area: closed
// forms worked out by a separate program.
var vectors = [][11]float64{
	{8, 12, 15, 15.132746, 30.265492, 45.398238, 47.578939, 36.625222, 36.6252, 17.7043, 475.409235},
	{4, 8, 12, 12.165525, 12.165525, 24.331050, 59.183635, 24.030206, 24.0302, 13.7523, 229.314745},
	{3, 10, 20, 20.303941, 8.701689, 29.005629, 62.056919, 29.902703, 29.9027, 21.5491, 414.613617},
	{2, 6, 30, 30.066593, 15.033296, 45.099889, 23.946844, 18.712659, 18.7127, 30.3937, 377.827948},
	{10, 10.5, 12, 12.002604, 240.052078, 252.054682, 7.498373, 32.963187, 32.9632, 12.5164, 386.499745},
}

func TestFrustumVectors(t *testing.T) {
	const six, four = 6e-7, 6e-5 // half of the last place printed, and rounding
	for _, v := range vectors {
		for _, up := range []bool{false, true} {
			d0, d1 := v[0], v[1]
			if up {
				d0, d1 = d1, d0
			}
			f := develop(t, frustum(t, d0, d1, v[2]), 0, v[2], Film{}, Seam{})
			if f.ApexUp != up || f.Rect || f.Strain != 0 {
				t.Errorf("%v: apex up %v, rectangle %v, strain %v", v[:3], f.ApexUp, f.Rect, f.Strain)
			}
			near(t, "slant", f.Slant, v[3], six)
			near(t, "rho1", min(f.RhoFrom, f.RhoTo), v[4], six)
			near(t, "rho2", max(f.RhoFrom, f.RhoTo), v[5], six)
			near(t, "sweep", f.Sweep/degree, v[6], six)
			wide := f.Slant
			if up {
				wide = 0
			}
			near(t, "chord", f.At(f.Right(), wide).Sub(f.At(f.Left(), wide)).Len(), v[7], six)
			near(t, "box width", f.Bounds().W(), v[8], four)
			near(t, "box height", f.Bounds().H(), v[9], four)
			near(t, "area", f.Outline().Area(1e-5), v[10], 2e-3)
		}
	}
}

func TestFilmThickness(t *testing.T) {
	p := frustum(t, 12, 8, 15)
	bare := develop(t, p, 0, 15, Film{}, Seam{})
	cos := 15 / bare.Slant
	for _, c := range []struct{ film, rho float64 }{{0.02, 0.075}, {0.10, 0.375}, {0.15, 0.5625}} {
		f := develop(t, p, 0, 15, Film{c.film}, Seam{})
		near(t, "rho of the lower edge", f.RhoFrom-bare.RhoFrom, c.rho, 1e-9) // t/2·cot a, cot a = 7.5
		near(t, "rho of the upper edge", f.RhoTo-bare.RhoTo, c.rho, 1e-9)
		near(t, "sweep", f.Sweep, bare.Sweep, 1e-12)
		near(t, "slant", f.Slant, bare.Slant, 1e-12)
		near(t, "hoop", f.Hoop(4)-bare.Hoop(4), math.Pi*c.film*cos, 1e-9)
	}
	// A cylinder grows by pi·t: 0.06 mm for 0.02 film, 0.31 for 0.10 vinyl, 0.47 for a 0.15 label.
	for _, c := range [][2]float64{{0.02, 0.06}, {0.10, 0.31}, {0.15, 0.47}} {
		f := develop(t, frustum(t, 9, 9, 20), 2, 15, Film{c[0]}, Seam{})
		near(t, "cylinder", f.Bounds().W()-9*math.Pi, c[1], 0.005)
		if !f.Rect || f.Strain != 0 || f.ApexUp || f.Sweep != 0 {
			t.Errorf("cylinder: %+v", f)
		}
		near(t, "its height", f.Bounds().H(), 13, 1e-12)
	}
}

// The switch to a rectangle is by departure, not by angle, and leaves no step.
func TestRectangleOnlyWhereNothingShows(t *testing.T) {
	seen := map[bool]int{}
	for i := 0; i < 400; i++ {
		h := []float64{12, 60}[i%2] // on the tall one the length of the edges decides
		slim := 10 - float64(i)*3e-4
		f := develop(t, frustum(t, 10, slim, h), 0, h, Film{}, Seam{})
		seen[f.Rect]++
		exact := Flat{Slant: f.Slant, foot: 5, grow: (slim - 10) / 2 / f.Slant}
		for _, s := range []float64{0, f.Slant} {
			for _, a := range []float64{-math.Pi, 1, math.Pi} {
				if d := f.At(a, s).Sub(exact.At(a, s)).Len(); i > 0 && d > math.Sqrt2*rectTolerance {
					t.Fatalf("taper %v on %v: the piece departs by %v", 10-slim, h, d)
				}
			}
		}
		if i > 0 && !f.Rect && !f.ApexUp {
			t.Fatal("the apex is not above a body that narrows upwards")
		}
	}
	if seen[true] == 0 || seen[false] == 0 {
		t.Errorf("one side of the switch is never met: %v", seen)
	}
}

// A round body as stations close enough that the fit is the ellipsoid's own.
func ellipsoid(t *testing.T, half, r float64) body.Profile {
	const n = 400
	st := make([]body.Station, n+1)
	for i := range st {
		x := 2*float64(i)/n - 1
		st[i] = body.Station{Z: unit.Millimetre(half * (1 + x)), D: unit.Millimetre(2 * r * math.Sqrt(1-x*x)), Kind: body.Round}
	}
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func ogive(t *testing.T) body.Profile {
	const n = 120 // tangent ogive: shoulder radius 5, length 30, arc radius 92.5
	st := make([]body.Station, n+1)
	for i := range st {
		z := 30 * float64(i) / n
		st[i] = body.Station{Z: unit.Millimetre(z), Kind: body.Curved,
			D: unit.Millimetre(2 * max(0, math.Sqrt(92.5*92.5-(30-z)*(30-z))-87.5))}
	}
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The least strain of a cone on a curved band is K·h²/16, K the curvature and h
// the slant height, to a few per cent of itself on bands that are not tall. The
// exact figures come from a separate program.
func TestStrainOfCurvedBands(t *testing.T) {
	long, short, ball, og := ellipsoid(t, 20, 6), ellipsoid(t, 12, 8), ellipsoid(t, 8, 8), ogive(t)
	for _, c := range []struct {
		name              string
		p                 body.Profile
		from, to          float64
		slant, strain, kh float64 // mm, per cent, per cent
		rho0, rho1, sweep float64 // 0: not known
	}{
		{"olive 40x12 at its belly", long, 18, 22, 4.001, 0.251, 0.250, 0, 0, 0},
		{"the same, 8 tall", long, 16, 24, 8.005, 1.021, 1.002, 0, 0, 0},
		{"the same, 12 tall", long, 14, 26, 12.017, 2.357, 2.258, 0, 0, 0},
		{"the same, low", long, 6, 16, 10.146, 2.637, 2.477, 27.276, 37.423, 58.085},
		{"olive 24x16", short, 9, 15, 6.029, 1.613, 1.578, 0, 0, 0},
		{"ball", ball, 5, 11, 6.150, 3.787, 3.692, 0, 0, 0},
		{"ogive", og, 18, 28, 10.034, 1.456, 1.441, 55.687, 65.721, 27.673},
	} {
		f := develop(t, c.p, c.from, c.to, Film{}, Seam{})
		near(t, c.name+": slant", f.Slant, c.slant, 0.0015)
		near(t, c.name+": strain", 100*f.Strain, c.strain, 0.004)
		if r := 100 * f.Strain / c.kh; r < 1 || r > 1.07 {
			t.Errorf("%s: %v of K·h²/16", c.name, r)
		}
		if c.sweep > 0 {
			near(t, c.name+": rho", f.RhoFrom, c.rho0, 0.02)
			near(t, c.name+": rho", f.RhoTo, c.rho1, 0.02)
			near(t, c.name+": sweep", f.Sweep/degree, c.sweep, 0.02)
		}
	}
}

// A belly's piece is a rectangle; its strain is that of the rectangle, and film
// makes it longer by pi·t.
func TestBellyIsARectangle(t *testing.T) {
	p := ellipsoid(t, 20, 6)
	bare := develop(t, p, 17.99, 22, Film{}, Seam{})
	f := develop(t, p, 17.99, 22, Film{0.1}, Seam{})
	if !bare.Rect || !f.Rect {
		t.Fatal("not a rectangle")
	}
	near(t, "strain", bare.Strain, strain(measure(p, 17.99, 22, Film{}), bare.Hoop(0)/2/math.Pi, 0), 1e-15)
	near(t, "growth", f.Hoop(1)-bare.Hoop(1), math.Pi*0.1, 1e-3)
}

// No other cone does better: a slow search round the answer.
func TestFitIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := []body.Station{}
		for i := 0; i < 5; i++ {
			st = append(st, body.Station{Z: unit.Millimetre(6 * i), D: unit.Millimetre(rapid.Float64Range(4, 20).Draw(t, "d")),
				Kind: body.Kind(rapid.IntRange(0, 2).Draw(t, "kind"))})
		}
		p, err := body.New(st)
		if err != nil {
			t.Fatal(err)
		}
		hoops := measure(p, 1, 22, Film{Thickness: 0.1})
		foot, grow, worst := fit(hoops)
		for i := -20; i <= 20; i++ {
			for j := -20; j <= 20; j++ {
				a, b := foot*(1+float64(i)*0.01), grow+float64(j)*0.005
				if a+b*hoops[len(hoops)-1].s <= 0 {
					continue
				}
				if e := strain(hoops, a, b); e < worst-1e-9 {
					t.Fatalf("cone %v + %v·s strains %v, the fit %v", a, b, e, worst)
				}
			}
		}
	})
}

func TestDevelopRefuses(t *testing.T) {
	p := frustum(t, 12, 8, 15)
	nan := math.NaN()
	for _, c := range []struct {
		from, to float64
		film     float64
		overlap  float64
		class    fault.Class
	}{
		{-1, 10, 0, 0, fault.Input}, {0, 15.1, 0, 0, fault.Input}, {10, 5, 0, 0, fault.Input}, {5, 5.05, 0, 0, fault.Input},
		{nan, 5, 0, 0, fault.Input}, {0, nan, 0, 0, fault.Input}, {0, 10, -0.1, 0, fault.Input}, {0, 10, 3, 0, fault.Input},
		{0, 10, nan, 0, fault.Input}, {0, 10, 0, nan, fault.Input}, {0, 10, 0, 20, fault.Input}, {0, 10, 0, -20, fault.Input},
	} {
		_, err := Develop(p, unit.Millimetre(c.from), unit.Millimetre(c.to), Film{c.film}, Seam{c.overlap})
		if list := fault.List(err); len(list) != 1 || list[0].Class != c.class || list[0].Do == "" {
			t.Errorf("%+v: %v", c, err)
		}
	}
	blunt := frustum(t, 60, 0, 1)
	if _, err := Develop(blunt, 0, 1, Film{}, Seam{Overlap: 3}); fault.ClassOf(err) != fault.NoFit || err == nil {
		t.Errorf("a disc with an overlap: %v, want no fit", err)
	}
	if _, err := Develop(body.Profile{}, 0, 1, Film{}, Seam{}); fault.ClassOf(err) != fault.Input {
		t.Errorf("no body: %v", err)
	}
	if f := develop(t, p, -1e-9, 15+1e-9, Film{}, Seam{}); f.From != 0 || f.To != 15 {
		t.Errorf("rounding at the ends is not forgiven: %v to %v", f.From, f.To)
	}
}
