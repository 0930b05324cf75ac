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

// kell returns the density of water in kg/m3 by G. S. Kell, "Density, thermal
// expansivity, and compressibility of liquid water from 0 to 150 C", J. Chem.
// Eng. Data 20 (1975) 97: a third formula to check the two against.
//
// Trap: a widely read open copy of a 1992 paper prints the denominator as
// 16.897850e-3 and has lost the minus signs; TestKellTrap shows what that does.
func kell(t, denominator float64) float64 {
	n := poly(t, 999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
	return n / (1 + denominator*t)
}

const kellDenominator = 16.879850e-3

// Every published value the formulas were checked against. S31: a
// water-properties tutorial, to ten figures. S32: the help page of a published R
// package. S35: the UNESCO check values as quoted in public test suites. S36:
// water-density pages. Tolerances are half the last digit printed.
func TestPublishedDensities(t *testing.T) {
	cipm := func(c, _ float64) float64 { return tanaka(c) }
	byKell := func(c, _ float64) float64 { return kell(c, kellDenominator) }
	for _, c := range []struct {
		name   string
		f      func(c, s float64) float64
		t, s   float64
		want   float64
		tol    float64
		source string
	}{
		{"CIPM/Tanaka 2001", cipm, 0, 0, 999.8428, 5e-5, "S32"},
		{"CIPM/Tanaka 2001", cipm, 10, 0, 999.7027, 5e-5, "S32"},
		{"CIPM/Tanaka 2001", cipm, 15, 0, 999.1026, 5e-5, "S32"},
		{"CIPM/Tanaka 2001", cipm, 20, 0, 998.2067, 5e-5, "S32"},
		{"CIPM/Tanaka 2001", cipm, 30, 0, 995.6488, 5e-5, "S32"},
		{"CIPM/Tanaka 2001", cipm, 20, 0, 998.2067455596, 1e-8, "S31"},
		{"SMOW (UNESCO eq. 14)", eos80, 20, 0, 998.2063193824, 1e-8, "S31"},
		{"Kell 1975", byKell, 20, 0, 998.2041, 5e-5, "S36"},
		{"Kell 1975", byKell, 4, 0, 999.972, 5e-4, "S36"},
		{"Kell 1975", byKell, 25, 0, 997.0449, 5e-5, "from memory, reproduced"},
		{"EOS-80", eos80, 5, 0, 999.96675, 5e-6, "S35"},
		{"EOS-80", eos80, 25, 0, 997.04796, 5e-6, "S35"},
		{"EOS-80", eos80, 5, 35, 1027.67547, 5e-6, "S35"},
		{"EOS-80", eos80, 25, 35, 1023.34306, 5e-6, "S35"},
		{"Millero and Poisson 1981", eos80, 15, 35, 1025.973, 5e-4, "S32"},
		// Rows of a much-copied table and a determination of ocean water by
		// weighing (u 0.0006 kg/m3): no values of these formulas, so the
		// tolerance is how far the sources stand apart.
		{"older table", cipm, 25, 0, 997.0479, 1e-3, "S36"},
		{"older table", cipm, 15, 0, 999.1026, 1e-3, "S36"},
		{"older table", cipm, 10, 0, 999.7026, 1e-3, "S36"},
		{"absolute determination", eos80, 16, 0, 998.9468, 5e-3, "abstract of the paper"},
	} {
		near(t, fmt.Sprintf("%s (%s) at %v C, salinity %v", c.name, c.source, c.t, c.s), c.f(c.t, c.s), c.want, c.tol)
	}
	// What callers get is the same figure in g/cm3, on ITS-90: 25/1.00024 on it
	// is 25 on IPTS-68.
	near(t, "Density of fresh water", Water{TempC: 20}.Density(), 0.9982067455596, 1e-12)
	near(t, "Density of sea water", Water{TempC: 25 / 1.00024, Salinity: 35}.Density(), 1.02334306, 5e-9)
}

// With the misprinted denominator the formula is 0.03 % low at 25 degrees.
func TestKellTrap(t *testing.T) {
	if got := kell(25, 16.897850e-3); math.Abs(got-996.73) > 0.005 {
		t.Errorf("the misprint gives %.3f, known is 996.73", got)
	}
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
