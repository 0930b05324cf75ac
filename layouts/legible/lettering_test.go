package legible

import (
	"math"
	"testing"

	"floatmark/layouts/draw"
)

// Arc of 120 degrees, capitals round the body for 3, 5, 8 and 12 characters,
// and the most along it, worked out by hand from 1.047·D, 1.222·D/n and
// 0.785·D, to two decimals.
func TestLettering(t *testing.T) {
	for _, c := range []struct {
		d, arc float64
		hoop   [4]float64
		along  float64
	}{
		{2, 2.09, [4]float64{0.81, 0.49, 0.31, 0.20}, 1.57},
		{4, 4.19, [4]float64{1.63, 0.98, 0.61, 0.41}, 3.14},
		{8, 8.38, [4]float64{3.26, 1.95, 1.22, 0.81}, 6.28},
		{12, 12.57, [4]float64{4.89, 2.93, 1.83, 1.22}, 9.42},
		{20, 20.94, [4]float64{8.14, 4.89, 3.05, 2.04}, 15.71},
	} {
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 0.0051 {
				t.Errorf("on %v, %s: %.4f, want %.2f", c.d, what, got, want)
			}
		}
		near("arc", ReadableArc(c.d, ReadableDegrees), c.arc)
		for i, n := range []int{3, 5, 8, 12} {
			near("round", HoopCap(n, c.d), c.hoop[i])
			if got, want := TurnLengthwise(n, c.d), c.hoop[i] < 1.2; got != want {
				t.Errorf("on %v, %d characters turned: %v", c.d, n, got)
			}
		}
		near("along", LengthwiseCap(3, c.d, 1000), c.along)
	}
	// Six characters in 18 mm: 18·0.70/(6·0.60) = 3.5 mm, less than the body shows.
	if got := LengthwiseCap(6, 8, 18); math.Abs(got-3.5) > 1e-12 {
		t.Errorf("six along 18 mm: %v, want 3.5", got)
	}
	if got := ReadableArc(8, 360); math.Abs(got-8*math.Pi) > 1e-12 {
		t.Errorf("the full girth of 8: %v", got)
	}
	if HoopCap(0, 8) != HoopCap(1, 8) || math.IsInf(HoopCap(-1, 8), 0) {
		t.Error("no characters")
	}
}

// White on black is 21 by the definition; #767676 is the lightest grey that
// passes 4.5 on white and #777777 the first that fails, 4.54 and 4.48, as
// contrast checkers print them (from memory); the primaries are the weights.
func TestContrast(t *testing.T) {
	for _, c := range []struct {
		a    draw.Ink
		want float64
	}{{draw.Black, 21}, {draw.White, 1}, {draw.Ink{R: 0x76, G: 0x76, B: 0x76}, 4.54}, {draw.Ink{R: 0x77, G: 0x77, B: 0x77}, 4.48}} {
		if got := Contrast(c.a, draw.White); math.Abs(got-c.want) > 0.005 || got != Contrast(draw.White, c.a) {
			t.Errorf("%v on white: %v, want %v", c.a, got, c.want)
		}
	}
	for _, c := range []struct {
		a    draw.Ink
		want float64
	}{{draw.White, 1}, {draw.Black, 0}, {draw.Ink{R: 255}, 0.2126}, {draw.Ink{G: 255}, 0.7152}, {draw.Ink{B: 255}, 0.0722},
		// 10/255 lies under the knee: 10/255/12.92 = 0.003035.
		{draw.Ink{R: 10, G: 10, B: 10}, 0.003035}, {draw.Ink{R: 188, G: 188, B: 188}, 0.5029}} {
		if got := Reflectance(c.a); math.Abs(got-c.want) > 0.0001 {
			t.Errorf("%v gives back %v, want %v", c.a, got, c.want)
		}
	}
}
