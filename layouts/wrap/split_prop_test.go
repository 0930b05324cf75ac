package wrap

import (
	"testing"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

// On any body a split keeps the limit, covers the zone without a hole, goes over
// no marked corner, and either answers or says NoFit.
func TestSplitKeepsTheLimit(t *testing.T) {
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		st := []body.Station{}
		for i := 0; i < 5; i++ {
			st = append(st, body.Station{Z: unit.Millimetre(8 * i), D: unit.Millimetre(rapid.Float64Range(6, 12).Draw(t, "d")),
				Kind: body.Kind(rapid.IntRange(0, 2).Draw(t, "kind")), Corner: rapid.IntRange(0, 3).Draw(t, "corner") == 0})
		}
		p, err := body.New(st)
		if err != nil {
			t.Fatal(err)
		}
		const from, to, limit = 2, 28, 0.02
		bands, _, err := Split(p, from, to, Film{Thickness: 0.02}, Seam{Overlap: 1}, limit)
		if err != nil {
			if fault.ClassOf(err) != fault.NoFit {
				t.Fatal(err)
			}
			return
		}
		answered++
		at := unit.Millimetre(from)
		for _, f := range bands {
			if f.Strain > limit || f.From != at || f.To-f.From < MinHeight {
				t.Fatalf("a band from %v to %v strains %v, the last ended at %v", f.From, f.To, f.Strain, at)
			}
			for _, s := range st {
				if s.Corner && s.Z > f.From && s.Z < f.To {
					t.Fatalf("the band from %v to %v goes over the corner at %v", f.From, f.To, s.Z)
				}
			}
			at = f.To
		}
		if at != to {
			t.Fatalf("the bands end at %v", at)
		}
	})
	if answered == 0 {
		t.Error("no body was split")
	}
}
