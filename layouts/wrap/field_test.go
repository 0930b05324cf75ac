package wrap

import (
	"math"
	"testing"

	"floatmark/loading/body"
)

// The field against plain sums that know neither splines nor Gauss: the closed
// outline of the body, its meridian as 20,000 chords per millimetre or so, and
// the arcs of the piece measured on the flat drawing.
func TestStrainsMatchIntegration(t *testing.T) {
	for _, c := range []struct {
		name     string
		p        body.Profile
		r        func(z float64) float64
		from, to float64
	}{
		{"ellipsoid 40x12", ellipsoid(t, 20, 6), func(z float64) float64 { return 6 * math.Sqrt(1-(z-20)*(z-20)/400) }, 6, 16},
		{"ball", ellipsoid(t, 8, 8), func(z float64) float64 { return math.Sqrt(64 - (z-8)*(z-8)) }, 5, 11},
		{"tangent ogive", ogive(t), func(z float64) float64 { return math.Sqrt(92.5*92.5-(30-z)*(30-z)) - 87.5 }, 18, 28},
	} {
		f := develop(t, c.p, c.from, c.to, Film{}, Seam{})
		const n, chords = 41, 5000
		field := Strains(f, c.p, Film{}, n)
		s, z := 0.0, c.from
		worst, over, under := 0.0, 0.0, 0.0
		for i, got := range field {
			near(t, c.name+": slant", got.S, s, 2e-4)
			// An arc of theta on the drawing, from its chord and the sweep's share.
			const theta = 0.01
			a := f.Sweep / (2 * math.Pi) * theta
			arc := f.At(theta, s).Sub(f.At(0, s)).Len()
			if a > 0 {
				arc *= a / 2 / math.Sin(a/2)
			}
			near(t, c.name+": strain", got.E, c.r(z)*theta/arc-1, 1e-4)
			worst, over, under = max(worst, math.Abs(got.E)), max(over, got.E), min(under, got.E)
			if i == n-1 {
				break
			}
			step := (c.to - c.from) / (n - 1)
			for j := 0; j < chords; j++ {
				a, b := z+step*float64(j)/chords, z+step*float64(j+1)/chords
				s += math.Hypot(b-a, c.r(b)-c.r(a))
			}
			z = c.from + step*float64(i+1)
		}
		near(t, c.name+": the largest is the piece's figure", worst, f.Strain, 0.01*f.Strain)
		near(t, c.name+": stretch and slack balance", over, -under, 0.01*over)
	}
}

// A cone, with film: nothing to stretch.
func TestStrainsOfACone(t *testing.T) {
	p := frustum(t, 12, 8, 15)
	film := Film{Thickness: 0.1}
	f := develop(t, p, 2, 14, film, Seam{Overlap: 1})
	for _, e := range Strains(f, p, film, 1) {
		near(t, "strain", e.E, 0, 1e-12)
	}
	if got := Strains(f, p, film, 5); len(got) != 5 || math.Abs(got[4].S-f.Slant) > 1e-12 {
		t.Errorf("%v, slant %v", got, f.Slant)
	}
	if got := Strains(f, p, Film{}, 2); !(got[0].E < -0.005) {
		t.Errorf("a piece made for thick film is too long without: %v", got)
	}
}
