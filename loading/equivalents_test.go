package loading

import (
	"fmt"
	"math"
	"testing"

	"floatmark/loading/shot"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func rated(t testing.TB, nominal, hung unit.Gram) Rating {
	t.Helper()
	tin := metal(t, "tin")
	r, _, err := Rate(Input{Nominal: nominal, Reading: load(hung, 0.012, tin, tank.Bare), Metal: tin, Water: still})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Another metal is converted by pull before its shot is counted: 4.23 g of tin
// is 4.00 g of lead.
func TestEquivalentsConvertByPull(t *testing.T) {
	r := rated(t, 4.23, 4.23)
	trad, _ := shot.ByKey("gb-traditional")
	if got := r.In(trad); math.Abs(float64(got)-4.0022) > 0.0005 {
		t.Errorf("4.23 g of tin is %v g of lead", got)
	}
	for _, c := range shot.Conventions() {
		for _, e := range r.Equivalents(c, shot.Limits{TipDiameter: 3}) {
			// The pull that is missing, over the water a millimetre displaces.
			missing := r.AddPull - water.Pull(e.Total, c.Metal, still)
			want := float64(missing) / (still.Density() * math.Pi / 4 * 0.3 * 0.3) * 10
			if math.Abs(float64(e.TipShift)-want) > 1e-6 || math.Abs(want) > 3.001 {
				t.Errorf("%s %s: shift %v, want %v", c.Key, e.Text(), e.TipShift, want)
			}
		}
	}
}

// Lead that may not be used where the batch is sold leaves grams only; nothing
// to add has no equivalent; without a tip the total may miss by the step.
func TestEquivalentsMayBeNone(t *testing.T) {
	r := rated(t, 0.8, 0.8)
	trad, _ := shot.ByKey("gb-traditional")
	modern, _ := shot.ByKey("gb-modern")
	// 4.5 g of tin would be seventy of the lead No.8 that is left.
	if got := rated(t, 4.5, 4.5).Equivalents(trad, shot.Limits{Market: "GB"}); len(got) != 0 {
		t.Errorf("lead in GB: %v", got)
	}
	if got := r.Equivalents(modern, shot.Limits{Market: "GB"}); len(got) == 0 || got[0].Text() != "1 AAA" {
		t.Errorf("tin in GB: %v", got)
	}
	r.Add, r.AddPull = 0, 0
	if got := r.Equivalents(modern, shot.Limits{}); len(got) != 0 {
		t.Errorf("nothing to add: %v", got)
	}
	for _, e := range rated(t, 4.5, 4.5).Equivalents(modern, shot.Limits{}) {
		if math.Abs(float64(e.Rest)) > 0.01+1e-9 || e.TipKnown {
			t.Errorf("%s misses by %v", e.Text(), e.Rest)
		}
	}
}

func ExampleRating_Equivalents() {
	tin, _ := water.MetalByKey("tin")
	reading, _ := tank.Reading{Hung: 2.8, Metal: tin, Water: water.Usual(), Tip: tank.TipWashed, TipDiameter: 3}.Load()
	r, _, err := Rate(Input{Nominal: 2.8, Reading: &reading, Metal: tin, Water: water.Usual()})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, key := range []string{"gb-modern", "gb-traditional"} {
		c, _ := shot.ByKey(key)
		for _, e := range r.Equivalents(c, shot.Limits{TipDiameter: 3}) {
			fmt.Printf("%s, %s: %s, tip %s off\n", key, r.In(c).Text(0.01, unit.Style{}), e.Text(), e.TipShift.Text(0.1, unit.Style{}))
		}
	}
	// Output:
	// gb-modern, 2.8 g: 1 SSG + 1 AAA + 1 BB, tip 0 mm off
	// gb-traditional, 2.65 g: 3 AAA + 1 No.3, tip 2.5 mm off
	// gb-traditional, 2.65 g: 1 SSG + 2 No.1 + 1 No.3, tip -0.1 mm off
}

func BenchmarkRatingEquivalents(b *testing.B) {
	r := rated(b, 4.23, 4.23)
	c, _ := shot.ByKey("gb-traditional")
	for b.Loop() {
		r.Equivalents(c, shot.Limits{TipDiameter: 3})
	}
}
