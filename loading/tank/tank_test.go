package tank

import (
	"fmt"
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/shot"
	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

func lead(t testing.TB) water.Metal {
	m, ok := water.MetalByKey("lead")
	if !ok {
		t.Fatal("no lead")
	}
	return m
}

func sized(name string, m unit.Gram, n int) shot.Count {
	return shot.Count{Size: shot.Size{Name: name, Mass: m, Verified: true}, N: n}
}

func counted(t testing.TB) Reading {
	return Reading{
		Counted: []shot.Count{sized("BB", 0.40, 4), sized("No.4", 0.20, 2), sized("No.8", 0.06, 4)},
		Metal:   lead(t), Water: water.Water{TempC: 20}, Stage: Fitted,
		TipDiameter: 3, Above: 0.8, ReadTo: 0.5,
	}
}

// A budget worked through by hand and by a Monte Carlo run of 200 000 draws
// (JCGM 101:2008; standard deviation 0.0530 g): 4 x 0.40 + 2 x 0.20 + 4 x
// 0.06 g, tip 3 mm read to 0.5 mm and standing 0.8 mm high, wetting unknown.
// All figures in grams of lead on the line.
func TestCountedBudget(t *testing.T) {
	r := counted(t)
	want := map[string]float64{
		"shot BB": 0.0462, "shot No.4": 0.0116, "shot No.8": 0.0069, "meniscus": 0.0222, "waterline": 0.0022,
		"density of the metal": 0.0017, "density of the water": 0, "diameter of the tip": 0.0001,
	}
	parts := r.Budget()
	if len(parts) != len(want) {
		t.Fatalf("%d parts, want %d", len(parts), len(want))
	}
	for _, p := range parts {
		got := float64(water.Mass(p.U, r.Metal, r.Water))
		if w, ok := want[p.Name]; !ok || math.Abs(got-w) > 0.0001 {
			t.Errorf("%s: %.5f, want %.4f", p.Name, got, w)
		}
	}
	l, err := r.Load()
	if err != nil {
		t.Fatal(err)
	}
	m, u := l.In(r.Metal, r.Water)
	if math.Abs(float64(m)-2.2462) > 0.00005 || math.Abs(float64(u)-0.106) > 0.0005 {
		t.Errorf("load %.5f, U %.5f, want 2.2462 and 0.106", m, u)
	}
}

// The same float, everything weighed together to 0.01 g, read to 0.25 mm with
// a drop of washing-up liquid: U 0.012 g.
func TestWeighedBudget(t *testing.T) {
	r := counted(t)
	r.Counted, r.Hung, r.Tip, r.ReadTo, r.Above = nil, 2.24, TipWashed, 0.25, 0
	l, err := r.Load()
	if err != nil {
		t.Fatal(err)
	}
	m, u := l.In(r.Metal, r.Water)
	if math.Abs(float64(m)-2.24) > 1e-9 || math.Abs(float64(u)-0.012) > 0.0006 {
		t.Errorf("load %.5f, U %.5f, want 2.24 and 0.012", m, u)
	}
}

// Full meniscus of a wetted tip, pi d gamma/g in grams of pull: 0.0233 g for
// 1 mm, 0.0700 for 3, 0.1399 for 6. In doubt is half of it, rectangular.
func TestMeniscus(t *testing.T) {
	for d, full := range map[unit.Millimetre]float64{1: 0.0233, 3: 0.0700, 6: 0.1399} {
		r := counted(t)
		r.TipDiameter = d
		for _, p := range r.Budget() {
			if p.Name == "meniscus" && math.Abs(float64(p.U)*math.Sqrt(3)*2-full) > 0.00006 {
				t.Errorf("tip %v: full meniscus %.5f, want %.4f", d, float64(p.U)*math.Sqrt(3)*2, full)
			}
		}
	}
}

// Knowing more never makes the figure less certain.
func TestBetterReadingsAreMoreCertain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tin, _ := water.MetalByKey("tin")
		r := Reading{
			Hung: unit.Gram(rapid.Float64Range(0.1, 20).Draw(t, "hung")), Metal: tin, Water: water.Usual(),
			TipDiameter: unit.Millimetre(rapid.Float64Range(1, 8).Draw(t, "tip")),
		}
		u := func(r Reading) unit.Gram {
			l, err := r.Load()
			if err != nil {
				t.Fatal(err)
			}
			return l.U
		}
		worst := u(r)
		r.Tip = TipWet
		wet := u(r)
		r.Tip = TipWashed
		washed := u(r)
		r.ReadTo = 0.25
		closer := u(r)
		if !(worst > wet && wet > washed && washed > closer && closer > 0) {
			t.Fatalf("U %v, wet %v, washed %v, read closer %v", worst, wet, washed, closer)
		}
	})
}

func TestDoubtOfFineAndUnverifiedShot(t *testing.T) {
	for _, c := range []struct {
		size shot.Size
		want float64
	}{
		{shot.Size{Mass: 0.4, Verified: true}, 0.02}, {shot.Size{Mass: 0.4}, 0.04},
		{shot.Size{Mass: 0.02, Verified: true}, 0.005}, // the last digit, not 5 %
	} {
		if got := shotHalfWidth(c.size); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: half-width %v, want %v", c.size, got, c.want)
		}
	}
}

func TestLoadRefuses(t *testing.T) {
	good := Reading{Hung: 2, Metal: lead(t), Water: water.Usual()}
	if l, err := good.Load(); err != nil || l.Stage != Bare || l.Metal != good.Metal {
		t.Fatal(l, err)
	}
	zero := good
	zero.Hung = 0 // a self-cocking float may take nothing
	if l, err := zero.Load(); err != nil || l.Pull != 0 || l.U <= 0 {
		t.Errorf("nothing hung: %v, %v", l, err)
	}
	nan := math.NaN()
	for what, change := range map[string]func(*Reading){
		"negative":      func(r *Reading) { r.Hung = -1 },
		"absurd":        func(r *Reading) { r.Hung = 501 },
		"NaN":           func(r *Reading) { r.Hung = unit.Gram(nan) },
		"no metal":      func(r *Reading) { r.Metal = water.Metal{} },
		"hot water":     func(r *Reading) { r.Water.TempC = 80 },
		"both":          func(r *Reading) { r.Counted = []shot.Count{sized("AAA", 0.8, 3)} },
		"count below 0": func(r *Reading) { r.Hung, r.Counted = 0, []shot.Count{sized("AAA", 0.8, -3)} },
		"no mass":       func(r *Reading) { r.Hung, r.Counted = 0, []shot.Count{sized("AAA", 0, 3)} },
		"tip":           func(r *Reading) { r.TipDiameter = -1 },
		"tip NaN":       func(r *Reading) { r.TipDiameter = unit.Millimetre(nan) },
		"above":         func(r *Reading) { r.Above = 200 },
		"above NaN":     func(r *Reading) { r.Above = unit.Millimetre(nan) },
		"read to":       func(r *Reading) { r.ReadTo = -0.5 },
		"scale":         func(r *Reading) { r.ScaleStep = unit.Gram(nan) },
	} {
		r := good
		change(&r)
		if l, err := r.Load(); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v, %v", what, l, err)
		}
	}
	both := good
	both.Hung, both.Counted = 2.4, []shot.Count{sized("AAA", 0.8, 3)}
	if _, err := both.Load(); err != nil {
		t.Errorf("the same figure twice: %v", err)
	}
}

func TestWordsReadBack(t *testing.T) {
	for s := Bare; s <= Varnished; s++ {
		if got, err := ParseStage(" " + s.String() + " "); err != nil || got != s {
			t.Errorf("ParseStage(%s) = %v, %v", s, got, err)
		}
	}
	for tip := TipUnknown; tip <= TipWashed; tip++ {
		if got, err := ParseTip(tip.String()); err != nil || got != tip {
			t.Errorf("ParseTip(%s) = %v, %v", tip, got, err)
		}
	}
	if got, err := ParseTip(""); err != nil || got != TipUnknown {
		t.Errorf("ParseTip of nothing = %v, %v", got, err)
	}
	for _, bad := range []string{"", "painted"} {
		if _, err := ParseStage(bad); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("ParseStage(%q): %v", bad, err)
		}
	}
	if Stage(9).String() != "?" || Tip(-1).String() != "?" {
		t.Error("a stage or tip out of range has a word")
	}
}

func ExampleReading_Load() {
	lead, _ := water.MetalByKey("lead")
	tin, _ := water.MetalByKey("tin")
	l, err := Reading{Hung: 4, Metal: lead, Water: water.Usual(), Stage: Fitted, Tip: TipWashed, TipDiameter: 3, ReadTo: 0.25}.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	m, u := l.In(tin, water.Usual())
	fmt.Println("in tin", m.Text(0.01, unit.Style{}), "give or take", u.Text(0.001, unit.Style{}))
	// Output: in tin 4.23 g give or take 0.014 g
}
