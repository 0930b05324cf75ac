package wrap

import (
	"testing"
)

// Bands on a 40 mm ball, per cent: (h/80)² worked out by hand, and beside it
// what the fit says of a true ball.
func TestBallStrain(t *testing.T) {
	ball := ellipsoid(t, 20, 20)
	for _, c := range [][2]float64{{4, 0.25}, {6, 0.56}, {8, 1.00}, {10, 1.56}, {12, 2.25}, {14, 3.06}, {16, 4.00}, {20, 6.25}} {
		near(t, "ball strain", 100*BallStrain(BallDiameter, c[0]), c[1], 0.005)
		near(t, "and back", BallBand(BallDiameter, BallStrain(BallDiameter, c[0])), c[0], 1e-9)
		if c[0] <= 10 {
			f := develop(t, ball, 20-c[0]/2, 20+c[0]/2, Film{}, Seam{})
			near(t, "the fit", BallStrain(BallDiameter, f.Slant), f.Strain, 0.04*f.Strain)
		}
	}
	near(t, "no ball", BallStrain(0, 4), 0, 0)
}

func TestFilmLimits(t *testing.T) {
	want := map[string]float64{"waterslide-softener": 0.02, "waterslide": 0.01, "paper-label": 0.005, "vinyl-cold": 0.025,
		"tissue": 0.015, "rub-on": 0.005, "skin-transfer": 0.02}
	all := FilmLimits()
	if len(all) != len(want) {
		t.Errorf("%d limits, want %d", len(all), len(want))
	}
	for _, l := range all {
		got, ok := LimitOf(l.Key)
		if !ok || got != l || l.Limit != want[l.Key] || l.Source != Estimate {
			t.Errorf("%+v: %+v %v", l, got, ok)
		}
	}
	if _, ok := LimitOf("tin"); ok {
		t.Error("a limit for tin")
	}
	all[0].Limit = 1
	if FilmLimits()[0].Limit == 1 {
		t.Error("a caller can change the defaults")
	}
}
