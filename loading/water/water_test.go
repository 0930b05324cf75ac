package water

import (
	"fmt"
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8f, want %.8f within %g", what, got, want, tol)
	}
}

// Values of the Tanaka 2001 formula quoted in the help page of a published
// R package (five temperatures) and in a water-properties tutorial (20 C to
// ten figures).
func TestTanakaCheckPoints(t *testing.T) {
	for _, c := range [][2]float64{{0, 999.8428}, {10, 999.7027}, {15, 999.1026}, {20, 998.2067}, {30, 995.6488}} {
		near(t, fmt.Sprint("tanaka ", c[0]), tanaka(c[0]), c[1], 0.00006)
		near(t, fmt.Sprint("Density ", c[0]), Water{TempC: c[0]}.Density(), c[1]/1000, 0.00000006)
	}
	near(t, "tanaka 20", tanaka(20), 998.2067455596, 1e-8)
}

// The UNESCO check values of EOS-80, as quoted in public test suites, and
// Millero and Poisson 1981 at 15 C, salinity 35.
func TestEOS80CheckPoints(t *testing.T) {
	for _, c := range []struct{ s, t, want, tol float64 }{
		{0, 5, 999.96675, 5e-6}, {0, 25, 997.04796, 5e-6},
		{35, 5, 1027.67547, 5e-6}, {35, 25, 1023.34306, 5e-6}, {35, 15, 1025.973, 5e-4},
	} {
		near(t, fmt.Sprint("eos80 ", c.s, c.t), eos80(c.t, c.s), c.want, c.tol)
	}
	// ITS-90 in, IPTS-68 inside: 25/1.00024 on ITS-90 is 25 on IPTS-68.
	near(t, "Density of sea water", Water{TempC: 25 / 1.00024, Salinity: 35}.Density(), 1.02334306, 5e-9)
}

// The two formulas meet at salinity 0, so a trace of salt makes no step above 2 parts in a million.
func TestFormulasMeet(t *testing.T) {
	for c := 0.0; c <= 40; c += 0.5 {
		near(t, fmt.Sprint("fresh and nearly fresh at ", c), Water{c, 1e-9}.Density(), Water{TempC: c}.Density(), 2e-6)
	}
}

// Mass for the pull of 1 g of lead, computed from the tabulated densities in
// water of 0.9982 and 1.0248 g/cm3 (20 C, fresh and salinity 35).
func TestEqualPullPerMetal(t *testing.T) {
	lead, _ := MetalByKey("lead")
	fresh, sea := Water{TempC: 20}, Water{TempC: 20, Salinity: 35}
	for _, c := range []struct{ rho, fresh, sea float64 }{
		{11.34, 1, 1}, {7.287, 1.05673, 1.05849}, {9.78, 1.01564, 1.01610}, {8.5, 1.03332, 1.03433},
		{7.85, 1.04484, 1.04621}, {7.14, 1.06019, 1.06207}, {19.25, 0.96185, 0.96078},
		{17, 0.96886, 0.96798}, {12, 0.99472, 0.99457}, {9, 1.02574, 1.02652},
	} {
		to := Metal{Density: c.rho}
		near(t, fmt.Sprint("fresh ", c.rho), float64(Equal(1, lead, to, fresh)), c.fresh, 6e-6)
		near(t, fmt.Sprint("sea ", c.rho), float64(Equal(1, lead, to, sea)), c.sea, 6e-6)
	}
}

// k = 1 - rho_w/rho at 15 C and the mass that equals 1 g of lead, per metal of
// the table.
func TestMetalTable(t *testing.T) {
	want := map[string][2]float64{
		"lead": {0.9119, 1}, "hard-lead": {0.9083, 1.0039}, "tin": {0.8628, 1.057}, "bismuth": {0.8975, 1.016},
		"brass": {0.8825, 1.0333}, "steel": {0.8727, 1.0449}, "zinc": {0.86, 1.0604}, "copper": {0.8881, 1.0268},
		"tungsten": {0.9481, 0.9618}, "stainless": {0.8735, 1.0439},
	}
	lead, _ := MetalByKey("lead")
	for _, m := range Metals() {
		w, ok := want[m.Key]
		if !ok || m.Source == "" || m.Name == "" || m.Check() != nil {
			t.Errorf("metal %q: no expected value, source or name, or %v", m.Key, m.Check())
			continue
		}
		near(t, m.Key+" k", float64(Pull(1, m, Usual())), w[0], 6e-5)
		near(t, m.Key+" for 1 g of lead", float64(Equal(1, lead, m, Usual())), w[1], 6e-5)
		if got, ok := MetalByKey(" " + m.Key + " "); !ok || got != m {
			t.Errorf("MetalByKey(%q) = %v, %v", m.Key, got, ok)
		}
	}
	if _, ok := MetalByKey("cheese"); ok {
		t.Error("MetalByKey knows cheese")
	}
}

// 0.5 g of brass (8.5) in water of 1 g/cm3: inside the hull 0.5 g of pull, or
// 0.548356 g of lead on the line; outside 0.441176 g, 0.483843 g of lead.
func TestShareInsideAndOutside(t *testing.T) {
	lead, _ := MetalByKey("lead")
	brass, _ := MetalByKey("brass")
	w := Water{TempC: 4} // 0.999975 g/cm3
	near(t, "inside", float64(Share(0.5, brass, false, w)), 0.5, 1e-12)
	near(t, "inside in lead", float64(Mass(Share(0.5, brass, false, w), lead, w)), 0.548356, 3e-6)
	near(t, "outside", float64(Share(0.5, brass, true, w)), 0.441176, 3e-6)
	near(t, "outside in lead", float64(Mass(Share(0.5, brass, true, w), lead, w)), 0.483843, 3e-6)
}

func TestPullAndMassAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := unit.Gram(rapid.Float64Range(0.001, 500).Draw(t, "m"))
		metal := rapid.SampledFrom(Metals()).Draw(t, "metal")
		w := Water{rapid.Float64Range(0, 40).Draw(t, "t"), rapid.Float64Range(0, 42).Draw(t, "s")}
		pull := Pull(m, metal, w)
		if pull <= 0 || pull >= m {
			t.Fatalf("pull %v of %v", pull, m)
		}
		if back := Mass(pull, metal, w); math.Abs(float64(back/m-1)) > 1e-12 {
			t.Fatalf("back %v, was %v", back, m)
		}
	})
}

func TestCheckRefuses(t *testing.T) {
	for _, w := range []Water{{-0.1, 0}, {40.1, 0}, {10, -1}, {10, 42.1}, {math.NaN(), 0}, {10, math.NaN()}} {
		if fault.ClassOf(w.Check()) != fault.Input {
			t.Errorf("Check(%v) = %v", w, w.Check())
		}
	}
	for _, w := range []Water{{}, {40, 42}, Usual()} {
		if err := w.Check(); err != nil {
			t.Errorf("Check(%v) = %v", w, err)
		}
	}
	for _, d := range []float64{0, 1, 30, math.NaN()} {
		if fault.ClassOf(Metal{Density: d}.Check()) != fault.Input {
			t.Errorf("a metal of %v g/cm3 passes", d)
		}
	}
}

func ExampleEqual() {
	lead, _ := MetalByKey("lead")
	tin, _ := MetalByKey("tin")
	fmt.Println(Equal(4, lead, tin, Usual()).Text(0.01, unit.Style{}))
	// Output: 4.23 g
}
