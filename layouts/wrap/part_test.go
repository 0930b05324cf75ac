package wrap

import (
	"math"
	"testing"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

func TestPartWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base, top := rapid.Float64Range(4, 20).Draw(t, "base"), rapid.Float64Range(4, 20).Draw(t, "top")
		arc := rapid.Float64Range(5, 300).Draw(t, "arc")
		p := frustum(t, base, top, 15)
		f, err := DevelopPart(p, 0, 15, Film{}, arc)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.Left()+arc/2*degree) > 1e-12 || math.Abs(f.Right()-arc/2*degree) > 1e-12 || f.Overlap != 0 {
			t.Fatalf("edges %v and %v", f.Left(), f.Right())
		}
		// pi(r1+r2)s·arc/360: the sector's share.
		want := math.Pi * (base + top) / 2 * f.Slant * arc / 360
		if got := f.Outline().Area(1e-5); math.Abs(got-want) > 1e-4*want+0.02 {
			t.Fatalf("area %v, want %v", got, want)
		}
		bare := math.Pi * (base + top) / 2 * (1 - arc/360)
		if math.Abs(f.Gap()-bare) > 0.02 {
			t.Fatalf("gap %v, want %v", f.Gap(), bare)
		}
		// A patch of the same width is the same piece.
		g, err := DevelopPatch(p, 0, 15, Film{}, f.Hoop(f.Slant/2)*arc/360)
		if err != nil || math.Abs(g.Right()-f.Right()) > 1e-9 {
			t.Fatalf("patch %v, part wrap %v, %v", g.Right(), f.Right(), err)
		}
	})
}

func TestPartWrapRefuses(t *testing.T) {
	p := frustum(t, 8, 8, 15)
	for _, arc := range []float64{0, -10, 360, 350, math.NaN()} { // 350 degrees leave 0.7 mm
		if _, err := DevelopPart(p, 0, 15, Film{}, arc); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("arc %v: %v", arc, err)
		}
	}
	for _, w := range []float64{0, -1, 24.5, math.NaN()} {
		if _, err := DevelopPatch(p, 0, 15, Film{}, w); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("width %v: %v", w, err)
		}
	}
	if _, err := DevelopPart(p, -5, 15, Film{}, 90); err == nil {
		t.Error("a part wrap off the body")
	}
	near(t, "a butt joint's gap", develop(t, p, 0, 15, Film{}, Seam{Overlap: -0.5}).Gap(), 0.5, 1e-12)
	near(t, "an overlap's", develop(t, p, 0, 15, Film{}, Seam{Overlap: 1}).Gap(), 0, 0)
}

func TestMeanCurvature(t *testing.T) {
	ball, long := ellipsoid(t, 8, 8), ellipsoid(t, 20, 6)
	near(t, "ball, 1/R²", MeanCurvature(ball, 5, 11), 1.0/64, 2e-5)
	near(t, "olive's belly, 1/a²", MeanCurvature(long, 19, 21), 1.0/400, 2e-5)
	near(t, "ogive's shoulder, 1/(p·R)", MeanCurvature(ogive(t), 28, 30), 1/(92.5*5), 5e-5)
	near(t, "cone", MeanCurvature(frustum(t, 12, 8, 15), 1, 14), 0, 1e-12)
	near(t, "no body", MeanCurvature(body.Profile{}, 0, 1), 0, 0)
}

// K·h²/16 against the fit, and K·w²/16 on a 10 mm square on the belly of an
// olive 40 long: 1.6 %.
func TestCurvatureLaws(t *testing.T) {
	long := ellipsoid(t, 20, 6)
	for _, half := range []float64{2, 4, 6} {
		f := develop(t, long, 20-half, 20+half, Film{}, Seam{})
		law := MeanCurvature(long, unit.Millimetre(20-half), unit.Millimetre(20+half)) * f.Slant * f.Slant / 16
		near(t, "K·h²/16", law, f.Strain, 0.07*f.Strain)
	}
	near(t, "square", PatchStrain(long, 15, 25, 10), 0.016, 0.0005)
	ball := ellipsoid(t, 8, 8)
	near(t, "narrow patch, by its width", PatchStrain(ball, 4, 12, 2), 4.0/64/16, 1e-5)
	near(t, "low band, by its height", PatchStrain(ball, 7, 9, 50), 4.02/64/16, 2e-5) // slant 2.005
}
