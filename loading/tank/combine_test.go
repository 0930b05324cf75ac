package tank

import (
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

// weighed makes readings of one float, tip 3 mm, everything weighed together.
func weighed(t testing.TB, masses ...unit.Gram) []Reading {
	var all []Reading
	for _, m := range masses {
		all = append(all, Reading{Hung: m, Metal: lead(t), Water: water.Usual(), Stage: Fitted, Tip: TipWashed, TipDiameter: 3})
	}
	return all
}

func combine(t testing.TB, readings []Reading, pooled Spread) Combined {
	t.Helper()
	c, err := Combine(readings, pooled)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestOneReadingIsItsLoad(t *testing.T) {
	r := weighed(t, 0.85)
	want, _ := r[0].Load()
	c := combine(t, r, Spread{})
	near(t, "pull", float64(c.Load.Pull), float64(want.Pull), 1e-15)
	near(t, "U", float64(c.Load.U), float64(want.U), 1e-15)
	if c.K != 2 || c.Apart || c.Repeats[0].Outlier || c.Repeats[0].Weight != 1 {
		t.Errorf("%+v", c)
	}
}

// Worked by hand: readings of 2.00, 2.04 and 2.11 g of lead, k = 0.91189. The
// mean is 2.05 g, s = 0.05568 g; s/sqrt(3) = 0.03214 g is random; scale 0.01/sqrt3
// = 0.00577 g, meniscus (washed) 0.05 of 0.0288 g and the densities are shared.
// They leave 0.0327 g, 2.1 degrees of freedom, so k = 4.53 and U = 0.148 g of lead.
func TestRepeatsByHand(t *testing.T) {
	c := combine(t, weighed(t, 2.00, 2.04, 2.11), Spread{})
	m, u := c.Load.In(lead(t), water.Usual())
	near(t, "mean", float64(m), 2.05, 1e-9)
	near(t, "s", float64(water.Mass(c.Spread.S, lead(t), water.Usual())), 0.05568, 1e-5)
	near(t, "U", float64(u), 4.53*0.0327, 0.001)
	if c.K != 4.53 || c.Spread.Freedom != 2 {
		t.Errorf("k %v, spread %+v", c.K, c.Spread)
	}
	// A pool of forty degrees of freedom makes the same repeats surer.
	pooled := combine(t, weighed(t, 2.00, 2.04, 2.11), Spread{c.Spread.S, 40})
	if far := combine(t, weighed(t, 2.00, 2.04, 2.11), Spread{c.Spread.S / 3, 40}); far.Load != c.Load || far.K != c.K {
		t.Errorf("a pool that the float is none of: %v, alone %v", far.Load, c.Load)
	}
	if pooled.K >= c.K || pooled.Load.U >= c.Load.U || pooled.Load.Pull != c.Load.Pull {
		t.Errorf("pooled %v, alone %v", pooled.Load, c.Load)
	}
}

func TestOutliersAreToldAndCounted(t *testing.T) {
	for _, c := range []struct {
		masses  []unit.Gram
		outlier int // from 0; -1 for none
		apart   bool
	}{
		{[]unit.Gram{0.85, 0.85, 0.86, 0.84, 1.10}, 4, false},
		{[]unit.Gram{0.85, 0.85, 0.85, 0.86}, -1, false}, // Grubbs alone would tell the last digit
		{[]unit.Gram{0.70, 0.85, 1.00}, -1, false},       // far apart, yet no one of them more than the others
		{[]unit.Gram{0.85, 0.86}, -1, false},
		{[]unit.Gram{0.70, 0.90}, -1, true},
	} {
		got := combine(t, weighed(t, c.masses...), Spread{})
		sum := unit.Gram(0)
		for i, r := range got.Repeats {
			sum += c.masses[i]
			if r.Outlier != (i == c.outlier) {
				t.Errorf("%v: reading %d is an outlier: %v", c.masses, i, r.Outlier)
			}
		}
		m, _ := got.Load.In(lead(t), water.Usual())
		near(t, "the mean counts them all", float64(m), float64(sum)/float64(len(c.masses)), 1e-9)
		if got.Apart != c.apart {
			t.Errorf("%v: apart %v", c.masses, got.Apart)
		}
	}
}

// A weighed reading speaks louder than one of counted shot.
func TestBetterReadingWeighsMore(t *testing.T) {
	r := weighed(t, 2.40, 0)
	r[1].Counted = []shot.Count{sized("AAA", 0.8, 3), sized("No.8", 0.06, 1)}
	c := combine(t, r, Spread{})
	if !(c.Repeats[0].Weight > 10*c.Repeats[1].Weight) || c.Apart {
		t.Errorf("weights %v and %v, apart %v", c.Repeats[0].Weight, c.Repeats[1].Weight, c.Apart)
	}
	near(t, "weights", c.Repeats[0].Weight+c.Repeats[1].Weight, 1, 1e-12)
}

// Repeating never takes away what is off the same way each time, never makes
// equal readings less certain, and does not care for order.
func TestRepeatsNeverBeatWhatTheyShare(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := unit.Gram(rapid.Float64Range(0.5, 10).Draw(rt, "mass"))
		n := rapid.IntRange(2, 12).Draw(rt, "n")
		var masses []unit.Gram
		for range n {
			masses = append(masses, m+unit.Gram(rapid.Float64Range(-0.02, 0.02).Draw(rt, "off")))
		}
		readings := weighed(t, masses...)
		c := combine(t, readings, Spread{})
		one, _ := readings[0].Load()
		var shared []float64
		for _, p := range readings[0].Budget() {
			if p.Name != partWaterline && p.Name != "density of the metal" && p.Name != "density of the water" {
				shared = append(shared, float64(p.U))
			}
		}
		if float64(c.Load.U) < 2*rootSum(shared...)-1e-12 {
			rt.Fatalf("U %v is below what %d readings share, %v", c.Load.U, n, 2*rootSum(shared...))
		}
		same := weighed(t, m, m, m)
		if s := combine(t, same, Spread{}); s.Load.U > one.U+1e-6 {
			rt.Fatalf("three equal readings have U %v, one has %v", s.Load.U, one.U)
		}
		back := make([]Reading, n)
		for i, r := range readings {
			back[n-1-i] = r
		}
		if b := combine(t, back, Spread{}); math.Abs(float64(b.Load.Pull-c.Load.Pull)) > 1e-12 || math.Abs(float64(b.Load.U-c.Load.U)) > 1e-12 {
			rt.Fatalf("backwards %v, forwards %v", b.Load, c.Load)
		}
	})
}

func TestCombineRefuses(t *testing.T) {
	two := func(change func(*Reading)) []Reading {
		r := weighed(t, 0.8, 0.8)
		change(&r[1])
		return r
	}
	for what, r := range map[string][]Reading{
		"none":   nil,
		"stages": two(func(r *Reading) { r.Stage = Varnished }),
		"waters": two(func(r *Reading) { r.Water.Salinity = 35 }),
		"NaN":    two(func(r *Reading) { r.Hung = unit.Gram(math.NaN()) }),
		"many":   make([]Reading, maxRepeats+1),
	} {
		if c, err := Combine(r, Spread{}); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v, %v", what, c, err)
		}
	}
	if _, err := Pool(two(func(r *Reading) { r.Stage = Bare })); fault.ClassOf(err) != fault.Input {
		t.Errorf("a pool over stages: %v", err)
	}
}

// Two sets by hand: deviations of 0.02/sqrt(2) and 0.04/sqrt(2) with a degree
// of freedom each pool to the root of their mean square.
func TestPool(t *testing.T) {
	p, err := Pool(weighed(t, 1.00, 1.02), weighed(t, 3), weighed(t, 2.00, 2.04))
	if err != nil || p.Freedom != 2 {
		t.Fatal(p, err)
	}
	near(t, "pooled", float64(water.Mass(p.S, lead(t), water.Usual())), math.Sqrt((0.0002+0.0008)/2), 1e-9)
	if p, err := Pool(weighed(t, 1)); err != nil || p != (Spread{}) {
		t.Errorf("one reading pools to %v, %v", p, err)
	}
}

// The tables anew: Student's distribution integrated by Simpson's rule and
// turned round by bisection.
func TestTablesOfFactors(t *testing.T) {
	const level = 0.97724986805182 // the normal distribution below 2
	for i, want := range studentTable {
		near(t, "Student", quantile(level, float64(i+1)), want, 0.0051)
	}
	near(t, "Student at 100", quantile(level, 100), student(100), 0.0051)
	for i, want := range grubbsTable {
		n := float64(i + 3)
		q := quantile(1-0.05/(2*n), n-2)
		near(t, "Grubbs", (n-1)/math.Sqrt(n)*math.Sqrt(q*q/(n-2+q*q)), want, 0.00051)
	}
	for nu := 1.0; nu < 2000; nu++ {
		if student(nu) < student(nu+1) {
			t.Errorf("Student's factor rises at %v", nu)
		}
	}
	if student(math.Inf(1)) != 2 || student(0.5) != 13.97 || student(math.NaN()) != 13.97 {
		t.Error("the ends of Student's factor")
	}
}

func quantile(p, nu float64) float64 {
	g1, _ := math.Lgamma((nu + 1) / 2)
	g2, _ := math.Lgamma(nu / 2)
	c := math.Exp(g1-g2) / math.Sqrt(math.Pi)
	below := func(q float64) float64 { // with q = sqrt(nu) tan a
		const steps = 2000
		a := math.Atan(q / math.Sqrt(nu))
		h := a / steps
		sum := 1 + math.Pow(math.Cos(a), nu-1)
		for i := 1; i < steps; i++ {
			sum += float64(2+2*(i%2)) * math.Pow(math.Cos(float64(i)*h), nu-1)
		}
		return 0.5 + c*sum*h/3
	}
	lo, hi := 0.0, 1000.0
	for range 60 {
		if mid := (lo + hi) / 2; below(mid) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
