package loading

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

// still is water of 0.999975 g/cm3, near enough to the 1 g/cm3 the worked
// examples are given for.
var still = water.Water{TempC: 4}

func metal(t testing.TB, key string) water.Metal {
	t.Helper()
	m, ok := water.MetalByKey(key)
	if !ok {
		t.Fatalf("no metal %s", key)
	}
	return m
}

// load is what a test with mass m of a metal gave, known to u of that metal.
func load(m, u unit.Gram, of water.Metal, stage tank.Stage) *tank.Load {
	return &tank.Load{Pull: water.Pull(m, of, still), U: water.Pull(u, of, still), Metal: of, Water: still, Stage: stage}
}

func codes(ns []Notice) string {
	var all []string
	for _, n := range ns {
		all = append(all, n.Code)
	}
	return strings.Join(all, " ")
}

// Worked example in water of 1 g/cm3: a bare capacity of 8.00 g of lead. With
// 7.2 g inside the hull 0.104 g of lead is left to add, not 0.8; with 7.2 g of
// lead outside 0.800 g, of brass (8.5) outside 1.033 g; from 0.912 of the
// capacity on the float sinks.
func TestAWeightDoesNotUseUpItsOwnMass(t *testing.T) {
	lead, brass := metal(t, "lead"), metal(t, "brass")
	capacity := *load(8, 0.012, lead, tank.Bare)
	for _, c := range []struct {
		w    Weight
		want float64
	}{
		{Weight{7.2, brass, false}, 0.104}, {Weight{7.2, lead, false}, 0.104},
		{Weight{7.2, lead, true}, 0.800}, {Weight{7.2, brass, true}, 1.033},
	} {
		if got := Predict(capacity, c.w, lead, still); math.Abs(float64(got)-c.want) > 0.0005 {
			t.Errorf("%+v leaves %.4f g, want %.3f", c.w, got, c.want)
		}
	}
	if limit := SinkLimit(capacity, lead, false); math.Abs(float64(limit)/8-0.912) > 0.0005 {
		t.Errorf("sinks from %.4f of capacity, want 0.912", float64(limit)/8)
	}
	if limit := SinkLimit(capacity, lead, true); math.Abs(float64(limit)-8) > 1e-9 {
		t.Errorf("lead outside sinks it from %v g, want 8", limit)
	}
}

func TestRate(t *testing.T) {
	lead, tin, brass := metal(t, "lead"), metal(t, "tin"), metal(t, "brass")
	w := func(m unit.Gram) *Weight { return &Weight{Mass: m, Metal: brass} }
	fitted := func(m, u unit.Gram) *tank.Load { return load(m, u, tin, tank.Fitted) }
	for _, c := range []struct {
		name                string
		in                  Input
		printed, built, add unit.Gram
		step                unit.Gram
		notices             string
	}{
		{"unloaded keeps its nominal", Input{Nominal: 4.5, Reading: load(4.508, 0.012, tin, tank.Bare)}, 4.5, 0, 4.5, 0.01, ""},
		{"unloaded by its bare load", Input{Nominal: 4.5, Bare: load(4.508, 0.012, tin, tank.Bare)}, 4.5, 0, 4.5, 0.01, ""},
		{"unloaded off its nominal", Input{Nominal: 4.5, Reading: load(4.63, 0.012, tin, tank.Bare)}, 4.63, 0, 4.63, 0.01, "off-nominal"},
		{"converted from lead", Input{Nominal: 4.23, Reading: load(4, 0.012, lead, tank.Bare)}, 4.23, 0, 4.23, 0.01, ""},
		{"loaded: add is the remainder", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Reading: fitted(0.808, 0.012)}, 8, 7.2, 0.8, 0.01, ""},
		{"loaded, off by more", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Reading: fitted(0.83, 0.012)}, 8.03, 7.2, 0.83, 0.01, "off-nominal"},
		// Counted shot: U 0.106 g, so steps of 0.1 g.
		{"loaded, counted", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Reading: fitted(0.83, 0.106)}, 8, 7.2, 0.8, 0.1, ""},
		{"built in is rounded as weighed", Input{Kind: Loaded, Nominal: 8, Weight: w(7.24), Reading: fitted(0.75, 0.106)}, 8, 7.2, 0.8, 0.1, ""},
		{"regraded", Input{Kind: Loaded, Nominal: 8, Others: []unit.Gram{6, 7.9, 10}, Weight: w(7.2), Reading: fitted(0.70, 0.012)}, 7.9, 7.2, 0.7, 0.01, "regraded"},
		{"regraded within a step", Input{Kind: Loaded, Nominal: 8, Others: []unit.Gram{7.9}, Weight: w(7.2), Reading: fitted(0.69, 0.012)}, 7.9, 7.2, 0.7, 0.01, "regraded"},
		{"the maker's step", Input{Kind: Loaded, Nominal: 8, Weight: w(7.21), Reading: fitted(0.83, 0.012), Step: 0.1}, 8, 7.2, 0.8, 0.1, ""},
		{"the maker's step is too fine", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Reading: fitted(0.83, 0.106), Step: 0.01}, 8, 7.2, 0.8, 0.1, "step-raised"},
		{"a nominal that is no multiple of the step", Input{Nominal: 2.5, Reading: fitted(2.55, 0.3)}, 2.5, 0, 2.5, 0.5, ""},
		{"self-cocking", Input{Kind: SelfCocking, Nominal: 4, Weight: w(4), Reading: fitted(0.008, 0.012)}, 4, 4, 0, 0.01, ""},
		{"self-cocking, a little under", Input{Kind: SelfCocking, Nominal: 4, Weight: w(4), Reading: fitted(-0.006, 0.012)}, 4, 4, 0, 0.01, ""},
		{"self-cocking with a trim", Input{Kind: SelfCocking, Nominal: 4, Weight: w(3.9), Reading: fitted(0.1, 0.012)}, 4, 3.9, 0.1, 0.01, "trim"},
		{"self-cocking, another weight", Input{Kind: SelfCocking, Nominal: 4, Weight: w(3.95), Reading: fitted(0, 0.012)}, 3.95, 3.95, 0, 0.01, "off-nominal"},
		{"loaded that takes nothing", Input{Kind: Loaded, Nominal: 4, Weight: w(4), Reading: fitted(0.002, 0.012)}, 4, 4, 0, 0.01, "nothing-to-add"},
		{"the weight outside, tested beneath", Input{Kind: Loaded, Nominal: 8, Weight: &Weight{7.2, brass, true}, Reading: load(0.8, 0.012, tin, tank.Beneath)}, 8, 7.2, 0.8, 0.01, ""},
		{"the bare capacity agrees", Input{Kind: Loaded, Nominal: 7.31, Weight: w(7.2), Bare: load(8, 0.012, lead, tank.Bare), Reading: fitted(0.11, 0.012)}, 7.31, 7.2, 0.11, 0.01, ""},
		{"the bare capacity disagrees", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Bare: load(8, 0.012, lead, tank.Bare), Reading: fitted(0.8, 0.012)}, 8, 7.2, 0.8, 0.01, "prediction"},
		{"fellows", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Fellows: []unit.Gram{0.78, 0.80, 0.82}, FellowsU: 0.012}, 8, 7.2, 0.8, 0.05, ""},
		{"one fellow", Input{Kind: Loaded, Nominal: 8, Weight: w(7.2), Fellows: []unit.Gram{0.8}, FellowsU: 0.012}, 8, 7.2, 0.8, 0.02, "one-fellow"},
	} {
		c.in.Metal, c.in.Water = tin, still
		r, ns, err := Rate(c.in)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if r.Printed != c.printed || r.BuiltIn != c.built || r.Add != c.add || r.Step != c.step || codes(ns) != c.notices {
			t.Errorf("%s: printed %v, built in %v, add %v, step %v, notices %q; want %v, %v, %v, %v, %q",
				c.name, r.Printed, r.BuiltIn, r.Add, r.Step, codes(ns), c.printed, c.built, c.add, c.step, c.notices)
		}
		if r.Regraded != strings.Contains(c.notices, "regraded") || r.About != (c.in.Fellows != nil) {
			t.Errorf("%s: regraded %v, about %v", c.name, r.Regraded, r.About)
		}
		if d := r.AddPull - water.Pull(r.Add, tin, still); d != 0 {
			t.Errorf("%s: the pull of the add is off by %v", c.name, d)
		}
	}
}

// U = 2 sqrt(s^2 + (U1/2)^2): adds of 0.78, 0.80 and 0.82 g spread by s 0.020.
func TestFellowsUncertainty(t *testing.T) {
	tin := metal(t, "tin")
	r, _, err := Rate(Input{Nominal: 0.8, Fellows: []unit.Gram{0.78, 0.80, 0.82}, FellowsU: 0.03, Metal: tin, Water: still})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(float64(r.U)-0.05) > 1e-9 { // 2 sqrt(0.020^2 + 0.015^2)
		t.Errorf("U %v, want 0.05", r.U)
	}
}

func TestRateRefuses(t *testing.T) {
	lead, tin, brass := metal(t, "lead"), metal(t, "tin"), metal(t, "brass")
	fitted := load(0.8, 0.012, tin, tank.Fitted)
	good := Input{Kind: Loaded, Nominal: 8, Weight: &Weight{Mass: 7.2, Metal: brass}, Reading: fitted, Metal: tin, Water: still}
	if _, _, err := Rate(good); err != nil {
		t.Fatal(err)
	}
	nan := unit.Gram(math.NaN())
	for _, c := range []struct {
		change func(*Input)
		say    string // words the message must hold
	}{
		{func(in *Input) { in.Weight = nil }, "no built-in weight"},
		{func(in *Input) { in.Kind = Unloaded }, "unloaded float has a built-in weight of 7.2 g"},
		{func(in *Input) { in.Kind = 7 }, "kind"},
		{func(in *Input) { in.Nominal = 0 }, "rating of 0 g"},
		{func(in *Input) { in.Nominal = -8 }, "rating of -8 g"},
		{func(in *Input) { in.Nominal = 501 }, "rating of 501 g"},
		{func(in *Input) { in.Nominal = nan }, "rating"},
		{func(in *Input) { in.Weight = &Weight{Mass: 0, Metal: brass} }, "built-in weight of 0 g"},
		{func(in *Input) { in.Weight = &Weight{Mass: 7.2} }, "density"},
		{func(in *Input) { in.Metal = water.Metal{} }, "density"},
		{func(in *Input) { in.Water.TempC = 99 }, "99"},
		{func(in *Input) { in.Step = -1 }, "step"},
		{func(in *Input) { in.Fellows = []unit.Gram{nan} }, "fellow"},
		{func(in *Input) { in.FellowsU = nan }, "uncertainty"},
		{func(in *Input) { l := *fitted; l.Pull = nan; in.Reading = &l }, "load"},
		{func(in *Input) { l := *fitted; l.Water.TempC = -5; in.Reading = &l }, "reading"},
		{func(in *Input) { in.Reading = nil }, "nobody tested"},
		{func(in *Input) { in.Reading, in.Bare = nil, load(8, 0.012, lead, tank.Bare) }, "only its bare capacity; the weight as it is would leave about 0.11 g of tin"},
		{func(in *Input) { in.Reading = load(0.8, 0.012, tin, tank.Bare) }, "taken bare"},
		{func(in *Input) { in.Reading = load(1.9, 0.012, tin, tank.Beneath) }, "it goes inside; fitted it would leave about 0.92 g of tin"},
		{func(in *Input) {
			in.Bare, in.Weight = load(8, 0.012, lead, tank.Bare), &Weight{Mass: 7.4, Metal: brass}
		},
			"7.4 g inside sinks it: its bare capacity of 8 g of lead carries at most 7.29 g of brass"},
		{func(in *Input) { in.Reading = load(8, 0.012, tin, tank.Fitted) }, "built in 7.2 g and measured 8 g to add make 15.2 g, but the rating is 8 g"},
		{func(in *Input) { in.Reading = load(-0.2, 0.012, tin, tank.Fitted) }, "0.2 g of tin too heavy"},
		{func(in *Input) {
			in.Kind, in.Weight, in.Nominal, in.Reading = Unloaded, nil, 0.1, load(0.1, 0.8, tin, tank.Bare)
		}, "comes to nothing"},
		{func(in *Input) { in.Kind, in.Weight, in.Reading = Unloaded, nil, load(0.8, 0.012, tin, tank.Bare) }, "took 0.8 g of tin, but its rating is 8 g"},
	} {
		in := good
		c.change(&in)
		_, _, err := Rate(in)
		if err == nil || fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), c.say) {
			t.Errorf("want %q, got %v", c.say, err)
		} else if fault.List(err)[0].Do == "" {
			t.Errorf("%v: no remedy", err)
		}
	}
}

func TestOtherWaterIsTold(t *testing.T) {
	tin := metal(t, "tin")
	in := Input{Nominal: 4.5, Reading: load(4.5, 0.012, tin, tank.Bare), Metal: tin, Water: water.Water{TempC: 12, Salinity: 35}}
	_, ns, err := Rate(in)
	if err != nil || !strings.Contains(codes(ns), NoticeWater) {
		t.Errorf("%q, %v", codes(ns), err)
	}
	in.Water = water.Water{TempC: 25}
	if _, ns, err = Rate(in); err != nil || codes(ns) != "" {
		t.Errorf("warmer water: %q, %v", codes(ns), err)
	}
}

// The promises of every rating: what is printed adds up as printed, digit for
// digit; no step is finer than U/2; an add that is not the measured one lies
// within the measurement's own uncertainty.
func TestWhatIsPrintedAddsUp(t *testing.T) {
	tin, brass := metal(t, "tin"), metal(t, "brass")
	rapid.Check(t, func(t *rapid.T) {
		in := Input{
			Kind:    rapid.SampledFrom([]Kind{Unloaded, Loaded, SelfCocking}).Draw(t, "kind"),
			Nominal: unit.Gram(rapid.SampledFrom([]float64{0.4, 2.5, 2.37, 4.5, 6, 8, 10}).Draw(t, "nominal")),
			Others:  []unit.Gram{2.5, 2.6, 4.5, 6, 6.2, 8, 10, 10.05},
			Metal:   tin, Water: still,
			Step: unit.Gram(rapid.SampledFrom([]float64{0, 0, 0.01, 0.02, 0.03, 0.05, 0.1}).Draw(t, "step")),
		}
		u := unit.Gram(rapid.Float64Range(0.0005, 0.4).Draw(t, "u"))
		sum := float64(in.Nominal) * rapid.Float64Range(0.86, 1.14).Draw(t, "sum")
		built := 0.0
		if in.Kind != Unloaded {
			built = math.Max(0.01, sum*rapid.Float64Range(0.1, 1.01).Draw(t, "share"))
			in.Weight = &Weight{Mass: unit.Gram(built), Metal: brass}
		}
		in.Reading = load(unit.Gram(sum-built), u, tin, tank.Fitted)
		r, _, err := Rate(in)
		if err != nil {
			if sum-built < -float64(u) || strings.Contains(err.Error(), "comes to nothing") {
				return // it sinks, or the test is too coarse for it
			}
			t.Fatal(err)
		}
		mg := func(m unit.Gram) int { // as a reader adds: from the text
			v, err := unit.ParseGram(m.Text(r.Step, unit.Style{}))
			if err != nil {
				t.Fatal(err)
			}
			return int(math.Round(float64(v) * 1000))
		}
		switch {
		case mg(r.Printed) != mg(r.BuiltIn)+mg(r.Add):
			t.Fatalf("%v is not %v and %v at %v", r.Printed, r.BuiltIn, r.Add, r.Step)
		case math.Abs(float64(r.Printed)*1000-float64(mg(r.Printed))) > 1e-6:
			t.Fatalf("%v is not what is printed", r.Printed)
		case float64(r.Step) < float64(r.U)/2-1e-9, in.Step > 0 && r.Step < in.Step-1e-9:
			t.Fatalf("step %v with U %v, maker's %v", r.Step, r.U, in.Step)
		case math.Abs(float64(r.BuiltIn-r.Weighed)) > float64(r.Step)/2+1e-6:
			t.Fatalf("built in %v, weighed %v, step %v", r.BuiltIn, r.Weighed, r.Step)
		case r.Add < 0 || r.Printed <= 0:
			t.Fatalf("add %v, printed %v", r.Add, r.Printed)
		}
		off := math.Abs(float64(r.Add - r.Measured))
		allowed := math.Max(float64(r.U), float64(r.Step)/2)
		if r.Kind == SelfCocking && r.Add == 0 {
			allowed = math.Max(allowed, float64(r.Step))
		}
		if off > allowed+1e-6 {
			t.Fatalf("add %v, measured %v, U %v, step %v", r.Add, r.Measured, r.U, r.Step)
		}
	})
}

func ExampleRate() {
	lead, _ := water.MetalByKey("lead")
	tin, _ := water.MetalByKey("tin")
	brass, _ := water.MetalByKey("brass")
	reading, err := tank.Reading{Hung: 0.76, Metal: lead, Water: water.Usual(), Stage: tank.Fitted,
		Tip: tank.TipWashed, TipDiameter: 3, ReadTo: 0.25}.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, _, err := Rate(Input{Kind: Loaded, Nominal: 8, Weight: &Weight{Mass: 7.2, Metal: brass}, Reading: &reading, Metal: tin, Water: water.Usual()})
	if err != nil {
		fmt.Println(err)
		return
	}
	st := unit.Style{}
	fmt.Println(r.Printed.Text(r.Step, st)+": built in", r.BuiltIn.Text(r.Step, st)+", add", r.Add.Text(r.Step, st), "of", r.Metal.Name)
	// Output: 8 g: built in 7.2 g, add 0.8 g of tin
}

func TestParseKind(t *testing.T) {
	for k := Unloaded; k <= SelfCocking; k++ {
		if got, err := ParseKind(" " + strings.ToUpper(k.String())); err != nil || got != k {
			t.Errorf("ParseKind(%s) = %v, %v", k, got, err)
		}
	}
	if k, err := ParseKind("sunk"); err == nil || fault.ClassOf(err) != fault.Input {
		t.Errorf("sunk is %v, %v", k, err)
	}
}

// A float that misses its nominal by more than a step is not "regraded" to that
// same nominal, even when its printed sum lies a step away from it.
func TestNeverRegradedToItsOwnNominal(t *testing.T) {
	tin, _ := water.MetalByKey("tin")
	w := water.Usual()
	for _, add := range []unit.Gram{4.483, 4.4885, 4.489, 4.511, 4.5115, 4.52} {
		l := tank.Load{Pull: water.Pull(add, tin, w), U: water.Pull(0.012, tin, w), Metal: tin, Water: w}
		r, notices, err := Rate(Input{Kind: Unloaded, Nominal: 4.5, Others: []unit.Gram{2.5, 4.5, 6}, Reading: &l, Metal: tin, Water: w})
		if err != nil {
			t.Fatal(err)
		}
		if r.Regraded {
			t.Errorf("%v: regraded to %v, notices %v", add, r.Printed, notices)
		}
	}
}
