package shot

import (
	"testing"

	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func BenchmarkConventions(b *testing.B) {
	for b.Loop() {
		Conventions()
	}
}

// One load in all conventions; the aim is under 1 ms with tables prepared.
func BenchmarkOneLoadInAllConventions(b *testing.B) {
	tin, _ := water.MetalByKey("tin")
	all := Conventions()
	w := water.Usual()
	for b.Loop() {
		for _, c := range all {
			Equivalents(water.Equal(unit.Gram(4.2), tin, c.Metal, w), c, Limits{Water: w})
		}
	}
}
