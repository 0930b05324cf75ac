package label

import (
	"testing"

	"floatmark/loading/body"
)

func TestShapeIsTheFloatsOwn(t *testing.T) {
	p, err := body.New(body.Parallel(16, 40))
	if err != nil {
		t.Fatal(err)
	}
	own, err := p.Remeasured([]body.Measured{{Z: 20, D: 16.4}})
	if err != nil {
		t.Fatal(err)
	}
	pattern := &Pattern{Profile: p}
	for _, c := range []struct {
		f    Float
		want float64
	}{{Float{Pattern: pattern}, 16}, {Float{Pattern: pattern, Profile: own, Measured: true}, 16.4}, {Float{}, 0}} {
		if d := float64(c.f.Shape().MaxDiameter()); d != c.want {
			t.Errorf("%v mm, want %v", d, c.want)
		}
	}
}
