package legible

import (
	"math"
	"testing"

	"floatmark/layouts/draw"
)

func TestLightThereAndBack(t *testing.T) {
	for v := range 256 {
		i := draw.Ink{R: uint8(v), G: uint8(255 - v), B: uint8(v / 2)}
		l := LightOf(i)
		if got := l.Ink(); got != i {
			t.Errorf("%v: there and back %v", i, got)
		}
		// The weighed sum of the shares is the reflectance, by definition.
		if sum := 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2]; math.Abs(sum-Reflectance(i)) > 1e-12 {
			t.Errorf("%v: %v, %v", i, sum, Reflectance(i))
		}
	}
	if got := (Light{-1, 2, math.NaN()}).Ink(); got != (draw.Ink{G: 255}) {
		t.Errorf("out of range: %v", got)
	}
	if got := (Light{0.5, 0.25, 1}).Under(Light{0.5, 1, 0}); got != (Light{0.25, 0.25, 0}) {
		t.Errorf("under a film: %v", got)
	}
}
