package tank

import (
	"math"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func retest(before, after unit.Gram) Retest {
	return Retest{Load{Pull: before, U: 0.01, Stage: Fitted}, Load{Pull: after, U: 0.01, Stage: Varnished}}
}

// Losses of 0.010, 0.014 and 0.018 g: mean 0.014, s = 0.004, and the next float
// lies within 4.53 s sqrt(1 + 1/3) = 0.0209 of it.
func TestLearn(t *testing.T) {
	a, err := Learn([]Retest{retest(0.80, 0.79), retest(0.82, 0.806), retest(0.84, 0.822)})
	if err != nil || a.From != "3 retests" {
		t.Fatal(a, err)
	}
	near(t, "mean", float64(a.Pull), 0.014, 1e-12)
	near(t, "U", float64(a.U), 4.53*0.004*math.Sqrt(4.0/3), 1e-9)
	one, err := Learn([]Retest{retest(0.80, 0.78)})
	if err != nil || math.Abs(float64(one.Pull-0.02)) > 1e-12 || math.Abs(float64(one.U-0.02)) > 1e-12 || one.From != "1 retest" {
		t.Errorf("one retest: %+v, %v", one, err)
	}
	if gain, err := Learn([]Retest{retest(0.80, 0.805)}); err != nil || gain.Pull != 0 || gain.U <= 0 {
		t.Errorf("a gain within the test: %+v, %v", gain, err)
	}
	for what, r := range map[string][]Retest{
		"none":     nil,
		"gain":     {retest(0.80, 0.90)},
		"too much": {retest(8, 0.8)},
		"NaN":      {retest(unit.Gram(math.NaN()), 0.8)},
		"earlier":  {{Before: retest(1, 1).After, After: retest(1, 1).Before}},
	} {
		if a, err := Learn(r); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %+v, %v", what, a, err)
		}
	}
}

// What is printed of a float tested fitted is measured less the named
// allowance, with both uncertainties; a varnished one has nothing to come.
func TestFinished(t *testing.T) {
	r := weighed(t, 0.85)[0]
	plain, _ := r.Load()
	a := VarnishAndDecal()
	r.ToCome = &a
	l, err := r.Load()
	if err != nil || l != plain {
		t.Errorf("Load takes the allowance off: %v, %v", l, err)
	}
	l, err = r.Finished()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pull", float64(l.Pull), float64(plain.Pull)-0.01, 1e-15)
	near(t, "U", float64(l.U), math.Hypot(float64(plain.U), 0.01), 1e-15)
	r.Stage = Varnished
	if l, err := r.Finished(); err != nil || l.Pull != plain.Pull || l.U != plain.U {
		t.Errorf("a varnished float: %v, %v", l, err)
	}
	r.ToCome = nil
	if l, err := r.Finished(); err != nil || l.Pull != plain.Pull {
		t.Errorf("no allowance: %v, %v", l, err)
	}
	for what, bad := range map[string]Allowance{"below 0": Stated(-0.01, ""), "absurd": Stated(5, ""), "NaN": Stated(unit.Gram(math.NaN()), ""), "U": {Pull: 0.1, U: -1}} {
		r.ToCome = &bad
		if _, err := r.Finished(); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	if f := FullPaint(); f.Pull != 0.05 || !f.sound() || !Stated(0.02, "x").sound() {
		t.Errorf("full paint %+v", f)
	}
}
