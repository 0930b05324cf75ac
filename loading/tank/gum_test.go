package tank

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.7g, want %.7g within %g", what, got, want, tol)
	}
}

// JCGM 100:2008, H.1, end-gauge calibration, first order (figures from memory):
// the parts in nm with their degrees of freedom give u_c = 32 nm, 16 effective
// degrees of freedom, and with t99(16) = 2.92 an expanded uncertainty of 93 nm.
func TestGUMEndGauge(t *testing.T) {
	// The comparator: mean of 5 with a pooled deviation of 13 nm from 25 (24
	// degrees of freedom), and its random and systematic effects.
	d := rootSum(13/math.Sqrt(5), 3.9, 6.7)
	near(t, "u(d)", d, 9.7, 0.05)
	nu := freedom([]float64{13 / math.Sqrt(5), 3.9, 6.7}, []float64{24, 5, 8})
	near(t, "degrees of u(d)", nu, 25.6, 0.1)
	us := []float64{25, 9.7, 2.9, 16.6}
	nus := []float64{18, 25.6, 50, 2}
	near(t, "u_c", rootSum(us...), 32, 0.5)
	if got := math.Floor(freedom(us, nus)); got != 16 {
		t.Errorf("%v effective degrees of freedom, want 16", got)
	}
	near(t, "U99", 2.92*rootSum(us...), 93, 1)
}

// JCGM 100:2008, H.2, resistance and reactance, second approach: five sets of
// voltage, current and phase read together (table H.2, from memory; that the
// data give the printed means and deviations speaks for the memory). The mean
// over the sets and s/sqrt(5) are R = 127.732 (0.071), X = 219.847 (0.295) and
// Z = 254.260 (0.236) ohm.
func TestGUMResistanceReactance(t *testing.T) {
	v := []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	ma := []float64{19.663, 19.639, 19.640, 19.685, 19.678}
	phi := []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
	var r, x, z []float64
	for i := range v {
		ohm := v[i] / ma[i] * 1000
		r, x, z = append(r, ohm*math.Cos(phi[i])), append(x, ohm*math.Sin(phi[i])), append(z, ohm)
	}
	for _, c := range []struct {
		name                   string
		values                 []float64
		mean, u, tolMean, tolU float64
	}{
		{"V", v, 4.9990, 0.0032, 5e-5, 5e-5}, {"I", ma, 19.6610, 0.0095, 5e-5, 5e-5}, {"phi", phi, 1.04446, 0.00075, 5e-6, 5e-6},
		{"R", r, 127.732, 0.071, 5e-4, 5e-4}, {"X", x, 219.847, 0.295, 5e-4, 1e-3}, {"Z", z, 254.260, 0.236, 5e-4, 5e-4},
	} {
		mean, s := meanOf(c.values)
		near(t, "mean of "+c.name, mean, c.mean, c.tolMean)
		near(t, "u of "+c.name, s/math.Sqrt(5), c.u, c.tolU)
	}
}

// Monte Carlo by the method of JCGM 101:2008, 200,000 draws: the counted test
// of TestCountedBudget, every input drawn as the budget says and the load
// worked out anew. Standard deviation and half-width of the 95 % interval are
// those of the linear budget; the interval is a little narrower than 2 u, since
// rectangular inputs lead.
func TestMonteCarloAgainstBudget(t *testing.T) {
	const draws = 200_000
	r := counted(t)
	rng := rand.New(rand.NewPCG(2008, 101))
	flat := func(a float64) float64 { return a * (2*rng.Float64() - 1) }
	full := math.Pi * 3 * cleanWater / gravity / 1000
	sum, squares := 0.0, 0.0
	all := make([]float64, draws)
	for i := range all {
		w := r.Water
		w.TempC += flat(tempTolerance)
		metal := r.Metal
		metal.Density += flat(densityTolerance)
		mass := 0.0
		for _, c := range r.Counted {
			mass += float64(c.N) * (float64(c.Size.Mass) + flat(shotHalfWidth(c.Size))) // all of a size are off alike
		}
		d := float64(r.TipDiameter) + flat(tipTolerance)
		above := float64(r.Above) + flat(float64(r.ReadTo))
		pull := float64(water.Pull(unit.Gram(mass), metal, w)) + above*w.Density()*math.Pi/4*d*d/cubicMillimetres + flat(unknownWetting*full)
		y := float64(water.Mass(unit.Gram(pull), r.Metal, r.Water))
		all[i] = y
		sum += y
		squares += y * y
	}
	mean := sum / draws
	sd := math.Sqrt(squares/draws - mean*mean)
	slices.Sort(all)
	half := (all[draws*975/1000] - all[draws*25/1000]) / 2
	l, err := r.Load()
	if err != nil {
		t.Fatal(err)
	}
	m, u := l.In(r.Metal, r.Water)
	near(t, "mean against the load", mean, float64(m), 0.0005)
	near(t, "deviation against u", sd, float64(u)/2, 0.0003)
	near(t, "deviation against the published run", sd, 0.0530, 0.0003)
	near(t, "95 % half-width against the published run", half, 0.098, 0.001)
	if half > float64(u) {
		t.Errorf("the 95 %% interval reaches %v, U is only %v", half, u)
	}
}

// Full meniscus of a wetted tip in grams, the pull of a millimetre of tip, how
// far a hundredth of a gram moves it in fresh water of 20 degrees and in the
// sea, and half the meniscus in mm.
func TestMeniscusTable(t *testing.T) {
	for _, c := range []struct{ d, fresh, sea, perMM, full, half float64 }{
		{1, 12.755, 12.424, .00078, .0233, 14.9}, {1.5, 5.669, 5.522, .00176, .0350, 9.9},
		{2, 3.189, 3.106, .00314, .0466, 7.4}, {3, 1.417, 1.380, .00706, .0700, 5.0},
		{4, 0.797, 0.777, .01254, .0933, 3.7}, {5, 0.510, 0.497, .01960, .1166, 3.0}, {6, 0.354, 0.345, .02822, .1399, 2.5},
	} {
		r := Reading{Hung: 2, Metal: lead(t), Water: water.Water{TempC: 20}, TipDiameter: unit.Millimetre(c.d)}
		per := r.waterPerMillimetre()
		near(t, "g per mm", per, c.perMM, 6e-6)
		near(t, "mm per 0.01 g, fresh", 0.01/per, c.fresh, 6e-4)
		sea := r
		sea.Water.Salinity = 35
		near(t, "mm per 0.01 g, sea", 0.01/sea.waterPerMillimetre(), c.sea, 1e-3)
		for _, p := range r.Budget() {
			if p.Name == partMeniscus {
				full := float64(p.U) * math.Sqrt(3) / unknownWetting
				near(t, "full meniscus", full, c.full, 6e-5)
				near(t, "half of it in mm", full/2/per, c.half, 0.06)
			}
		}
	}
}

// A swivel that hung with the shot pulled too: 0.30 g of brass (8.5) in water of
// 20 degrees is 0.2648 g more load.
func TestFittingsPull(t *testing.T) {
	r := Reading{Hung: 2, Metal: lead(t), Water: water.Water{TempC: 20}, Tip: TipWashed, TipDiameter: 3}
	plain, err := r.Load()
	if err != nil {
		t.Fatal(err)
	}
	brass, _ := water.MetalByKey("brass")
	r.With = []Fitting{{"swivel", 0.30, brass}}
	with, err := r.Load()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the swivel's pull", float64(with.Pull-plain.Pull), 0.30*0.88256, 1e-5)
	if !(with.U > plain.U) {
		t.Errorf("U %v with a swivel, %v without", with.U, plain.U)
	}
	for what, f := range map[string]Fitting{"no mass": {"swivel", 0, brass}, "no metal": {"swivel", 1, water.Metal{}}, "NaN": {"swivel", unit.Gram(math.NaN()), brass}} {
		r.With = []Fitting{f}
		if l, err := r.Load(); err == nil {
			t.Errorf("%s: %v", what, l)
		}
	}
	r.With, r.Hung, r.Counted = nil, 0, []shot.Count{sized("AAA", 0.8, 1_000_000_000)}
	if l, err := r.Load(); err == nil {
		t.Errorf("a thousand million shot: %v", l)
	}
}
