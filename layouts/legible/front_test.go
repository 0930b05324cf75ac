package legible

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Seen from the front each column is a module wide, but for the rounding to
// dots; the edges lie on dots and even to both sides.
func TestFrontColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := 17 + 4*rapid.IntRange(1, 3).Draw(t, "version")
		dot := 25.4 / rapid.SampledFrom([]float64{300, 360, 600, 1200}).Draw(t, "dpi")
		module := dot * float64(rapid.IntRange(3, 12).Draw(t, "dots"))
		d := rapid.Float64Range(3, 60).Draw(t, "diameter")
		x := FrontColumns(n, module, d, dot)
		if seen := float64(n) * module / d; seen >= math.Sin(75*math.Pi/180) {
			if x != nil {
				t.Fatalf("%v of the girth's width are columns %v", seen, x)
			}
			return
		}
		if len(x) != n+1 {
			t.Fatalf("%d edges", len(x))
		}
		for i, e := range x {
			if k := e / dot; math.Abs(k-math.Round(k)) > 1e-6 || math.Abs(e+x[n-i]) > 1e-9 {
				t.Fatalf("edge %d at %v is off the dots or uneven", i, e)
			}
			// On the true body, within half a dot of the girth.
			want := (float64(i) - float64(n)/2) * module
			if turn := math.Asin(2 * want / d); math.Abs(turn*d/2-e) > dot/2+1e-9 {
				t.Fatalf("edge %d is seen at %v, not %v", i, d/2*math.Sin(2*e/d), want)
			}
			if i > 0 && e-x[i-1] < module-dot-1e-9 {
				t.Fatalf("column %d is %v wide", i, e-x[i-1])
			}
		}
	})
	if x := FrontColumns(21, 0.3, 0, 0.04); x != nil {
		t.Error("columns on no body")
	}
}
