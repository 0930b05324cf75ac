package loading

import (
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

func metalOf(key string) water.Metal {
	m, _ := water.MetalByKey(key)
	return m
}

// The loaded float of the worked example: 8.00 g of lead bare, 7.2 g inside
// leaves 0.104 g. For 0.8 g the weight must go down to (8.00 - 0.8) k = 6.565 g,
// k = 1 - 1/11.34 = 0.911817 in water of 1 g/cm3, so 0.635 g come off. The
// capacity is known to 0.012 g, the scale to 0.01 g.
func TestTrimLoadedFloat(t *testing.T) {
	lead, brass := metalOf("lead"), metalOf("brass")
	in := Trimming{Weight: Weight{Mass: 7.2, Metal: brass}, Form: &Cylinder{Diameter: 6},
		Bare: load(8, 0.012, lead, tank.Bare), Want: 0.8, Metal: lead, Water: still}
	a, err := AdviseTrim(in)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s %.5f, want %.5f", what, got, want)
		}
	}
	near("now", float64(a.Now), 0.104, 0.0005)
	near("the whole way", float64(a.Whole), 0.635, 0.0005)
	near("the weight for 0.8 g", float64(in.Weight.Mass-a.Whole), 6.565, 0.0005)
	// Short by U k = 0.0109, by the scale on the weight and again on what comes
	// off: 0.635 - 0.0109 - 0.02 = 0.604, told as 0.60.
	near("take", float64(a.Take), 0.60, 1e-9)
	near("leaves", float64(a.Leaves), 6.60, 1e-9)
	near("expect", float64(a.Expect), 0.104+0.6/0.911817, 0.0005)
	// 0.60 g of a rod of 6.05 mm and 8.755 g/cm3, the most it can be: 2.384 mm.
	near("length", float64(a.Length), 2.3, 1e-9)
	if a.State != TrimTake || a.Sinks {
		t.Errorf("%s, sinks %v", a.State, a.Sinks)
	}
	if got, want := a.Text(), "take 0.6 g off, 2.3 mm of the 6 mm brass, then hang again; expect 0.76 g of lead"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}

	// 7.4 g uses up the capacity: 8.00 k = 7.2945 g is what it just carries.
	in.Weight.Mass, in.Form = 7.4, nil
	if a, err = AdviseTrim(in); err != nil || !a.Sinks || a.State != TrimTake {
		t.Fatalf("%+v, %v", a, err)
	}
	near("limit", float64(a.Limit), 7.2945, 0.0005)
	near("take", float64(a.Take), 0.80, 1e-9)
	if got, want := a.Text(), "as it is the float sinks, its weight leaves nothing to add: it carries at most 7.29 g of brass; take 0.8 g off, then hang again; expect 0.76 g of lead"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}

	// Measured with the weight fitted, the capacity does not matter any more.
	in = Trimming{Weight: Weight{Mass: 7.2, Metal: brass}, Fitted: load(0.66, 0.012, lead, tank.Fitted), Want: 0.8, Metal: lead, Water: still}
	a, err = AdviseTrim(in)
	if err != nil {
		t.Fatal(err)
	}
	near("take", float64(a.Take), 0.10, 1e-9) // (0.14 - 0.012) k - 0.01 = 0.1067
	for _, c := range []struct {
		now   unit.Gram
		state TrimState
		text  string
	}{
		{0.79, TrimStop, "stop: it takes 0.79 g of lead, as near to 0.8 g as the readings can tell"},
		{0.81, TrimStop, "stop: it takes 0.81 g of lead, as near to 0.8 g as the readings can tell"},
		{0.85, TrimPast, "already past it: it takes 0.85 g of lead where 0.8 g are wanted; fit 0.05 g more brass, then hang again"},
	} {
		in.Fitted = load(c.now, 0.012, lead, tank.Fitted)
		a, err := AdviseTrim(in)
		if err != nil || a.State != c.state || a.Text() != c.text || a.Take != 0 {
			t.Errorf("%v: %s, %q, %v", c.now, a.State, a.Text(), err)
		}
	}
}

// A self-cocking float is done when nothing is left to add, and not called sunk
// for what the readings leave open.
func TestTrimSelfCocking(t *testing.T) {
	lead := metalOf("lead")
	for mass, want := range map[unit.Gram]string{
		7.296: "stop: it takes 0 g of lead, as near to 0 g as the readings can tell",
		7.1:   "already past it: it takes 0.21 g of lead where 0 g are wanted; fit 0.19 g more lead, then hang again",
		7.5: "as it is the float sinks, its weight leaves nothing to add: it carries at most 7.29 g of lead; " +
			"take 0.17 g off, then hang again; expect it still below its mark, by 0.04 g of lead",
	} {
		a, err := AdviseTrim(Trimming{Weight: Weight{Mass: mass, Metal: lead}, Bare: load(8, 0.012, lead, tank.Bare), Metal: lead, Water: still})
		if err != nil || a.Text() != want {
			t.Errorf("%v g: %s, %v\nwant %s", mass, a.Text(), err, want)
		}
	}
}

// Outside, under water, a gram of brass off gives 0.8825/0.9118 g of lead only.
func TestTrimOutside(t *testing.T) {
	lead, brass := metalOf("lead"), metalOf("brass")
	a, err := AdviseTrim(Trimming{Weight: Weight{Mass: 7.2, Metal: brass, Outside: true}, Bare: load(8, 0.012, lead, tank.Bare),
		Want: 1.5, Metal: lead, Water: still})
	if err != nil {
		t.Fatal(err)
	}
	// Worked example: 1.033 g are left; 0.467 g of lead more need 0.467
	// 0.911817/0.882353 = 0.4826 g of brass.
	if math.Abs(float64(a.Now)-1.033) > 0.0005 || math.Abs(float64(a.Whole)-0.4826) > 0.0006 {
		t.Errorf("now %.4f, whole %.4f", a.Now, a.Whole)
	}
}

// Following the advice never overshoots, whatever the true figures are within
// what is told of them, by mass and by length; and it comes to an end near the
// wanted add, however the errors lie.
func TestTrimNeverOvershoots(t *testing.T) {
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		weight := Weight{Metal: metalOf(rapid.SampledFrom([]string{"brass", "lead", "tungsten"}).Draw(t, "weight")), Outside: rapid.Bool().Draw(t, "outside")}
		print := metalOf(rapid.SampledFrom([]string{"tin", "lead"}).Draw(t, "metal"))
		form := &Cylinder{Diameter: unit.Millimetre(f("d", 3, 12)), Bore: unit.Millimetre(f("bore", 0, 2.5))}
		mass := f("mass", 0.5, 9) // the true weight
		rise := float64(addPerGram(weight, print, still, still))
		capacity := f("rest", -0.5, 2) + mass*rise // true, bare, in the metal printed
		u, scale := f("u", 0.005, 0.1), 0.01
		want := f("want", 0, 2)
		rod := rapid.Bool().Draw(t, "by length")
		fitted := rapid.Bool().Draw(t, "fitted")
		for round := 0; round < 40; round++ {
			now := capacity - mass*rise
			e := f("e", -1, 1) * u
			in := Trimming{Weight: weight, Form: form, Scale: unit.Gram(scale), Want: unit.Gram(want), Metal: print, Water: still}
			in.Weight.Mass = unit.Gram(mass + f("weighed", -1, 1)*scale)
			if in.Weight.Mass < unit.Gram(scale) {
				return
			}
			if fitted {
				in.Fitted = load(unit.Gram(now+e), unit.Gram(u), print, tank.Fitted)
			} else {
				in.Bare = load(unit.Gram(capacity+e), unit.Gram(u), print, tank.Bare)
			}
			a, err := AdviseTrim(in)
			if err != nil {
				if fault.ClassOf(err) != fault.Input || capacity > want+1e-9 {
					t.Fatalf("%v, although bare it takes %v of %v", err, capacity, want)
				}
				return
			}
			if a.State != TrimTake {
				// It stops within what the readings can tell, and the step of the scale.
				if left := want - now; a.State == TrimStop && math.Abs(left) > 2*(u+2*scale*rise)+trimStep*rise+1e-9 {
					t.Fatalf("stopped %v g short", left)
				}
				if a.State == TrimPast && now < want-1e-9 {
					t.Fatalf("called past it at %v of %v", now, want)
				}
				return
			}
			taken++
			was := now
			off := float64(a.Take) + f("cut", -1, 1)*scale
			if rod {
				d, b := float64(form.Diameter)+f("rod", -1, 1)*rodTolerance, float64(form.Bore)+f("hole", -1, 1)*rodTolerance
				off = float64(a.Length) * math.Pi / 4 * (d*d - math.Max(0, b)*math.Max(0, b)) * weight.Metal.Density * (1 + f("alloy", -1, 1)*rodDensity) / 1000
				if a.Length == 0 {
					return
				}
			}
			mass -= min(off, mass)
			if now = capacity - mass*rise; was <= want && now > want+1e-9 {
				t.Fatalf("%s: %v g of add where %v are wanted, was %v", a.Text(), now, want, was)
			}
			if mass < 2*scale {
				return
			}
		}
	})
	if taken == 0 {
		t.Error("nothing was ever taken off")
	}
}

func TestTrimRefuses(t *testing.T) {
	lead := metalOf("lead")
	good := Trimming{Weight: Weight{Mass: 7.2, Metal: lead}, Bare: load(8, 0.012, lead, tank.Bare), Want: 0.8, Metal: lead, Water: still}
	nan := unit.Gram(math.NaN())
	for name, change := range map[string]func(*Trimming){
		"too much wanted": func(t *Trimming) { t.Want = 9 },
		"no reading":      func(t *Trimming) { t.Bare = nil },
		"no weight":       func(t *Trimming) { t.Weight.Mass = 0 },
		"NaN weight":      func(t *Trimming) { t.Weight.Mass = nan },
		"NaN want":        func(t *Trimming) { t.Want = nan },
		"NaN U":           func(t *Trimming) { t.Bare.U = nan },
		"no metal":        func(t *Trimming) { t.Metal = water.Metal{} },
		"bad water":       func(t *Trimming) { t.Water.TempC = -5 },
		"bore":            func(t *Trimming) { t.Form = &Cylinder{Diameter: 6, Bore: 6} },
		"NaN rod":         func(t *Trimming) { t.Form = &Cylinder{Diameter: unit.Millimetre(nan)} },
		"scale":           func(t *Trimming) { t.Scale = 8 },
		"bare as fitted":  func(t *Trimming) { t.Fitted = t.Bare },
		"beneath, inside": func(x *Trimming) { x.Fitted = load(0.5, 0.01, lead, tank.Beneath) },
	} {
		in := good
		bare := *good.Bare
		in.Bare = &bare
		change(&in)
		_, err := AdviseTrim(in)
		if fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := AdviseTrim(good); err != nil {
		t.Error(err)
	}
}
