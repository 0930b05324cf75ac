package job

import (
	"math"
	"testing"

	"floatmark/label/words"
	"floatmark/loading"
)

// A float that was measured is worked out and stored by its own shape: one that
// is a tenth thicker all over displaces 1.21 times what its pattern does.
func TestMeasuredFloatHasItsOwnShape(t *testing.T) {
	plan, err := demoWith(t, "number = 1\n", "number = 1\ndiameters_mm = [[27, 17.6]]\n")
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	own, other := &plan.Floats[0], &plan.Floats[1]
	if own.Float.Number != 1 || own.Float.Pattern != other.Float.Pattern {
		t.Fatal("the demonstration's first two floats are not of one pattern")
	}
	p, q := own.Float.Shape(), other.Float.Shape()
	if r := p.Volume(0, p.Top()) / q.Volume(0, q.Top()); math.Abs(r-1.21) > 1e-9 {
		t.Errorf("%v times the pattern's volume", r)
	}
	b := plan.File.Batch
	if own.Float.Pattern.Material, err = loading.ParseStretches("balsa"); err != nil {
		t.Fatal(err)
	}
	thick, ok1 := predict(b, own.Float.Pattern, p, nil)
	usual, ok2 := predict(b, own.Float.Pattern, q, nil)
	// The whole float is balsa, and everything under the waterline pulls with
	// the square of the ratio, as everything over it weighs.
	middle := func(p loading.Prediction) float64 {
		least, most := p.Bounds()
		return float64(least+most) / 2
	}
	if r := middle(thick) / middle(usual); !ok1 || !ok2 || math.Abs(r-1.21) > 1e-9 {
		t.Errorf("%v times the pattern's pull", r)
	}
	e, o := entry(b, own, w, nil), entry(b, other, w, nil)
	if d := float64(e.Stations[4].D); math.Abs(d-17.6) > 1e-9 || o.Stations[4].D != 16 {
		t.Errorf("stored: %v and %v", e.Stations[4], o.Stations[4])
	}
}
