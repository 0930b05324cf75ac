package chart

import (
	"math"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

func strainSpec(t *testing.T) StrainSpec {
	t.Helper()
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	return StrainSpec{Width: 60, Height: 30, Limit: 0.01, Title: "Stretch", Fonts: set}
}

// parabola is the strain of a belly's balanced piece: ±e.
func parabola(e float64) []StrainPoint {
	out := make([]StrainPoint, 41)
	for i := range out {
		x := float64(i)/20 - 1
		out[i] = StrainPoint{S: 5 * (x + 1), E: e * (1 - 2*x*x)}
	}
	return out
}

// The curve keeps to the sheet, is as high as the strain says beside the band,
// and is red just where the film is asked for too much.
func TestStrain(t *testing.T) {
	for _, c := range []struct {
		e   float64
		red bool
	}{{0.009, false}, {0.02, true}, {0, false}} {
		sheet, err := Strain(parabola(c.e), strainSpec(t))
		if err != nil {
			t.Fatal(err)
		}
		if b := sheet.Bounds(); b.Min.X < -0.01 || b.Min.Y < -0.01 || b.Max.X > 60.01 || b.Max.Y > 30.01 {
			t.Errorf("%v: leaves the sheet: %v", c.e, b)
		}
		red, curve := 0, []geom.Rect{}
		for _, op := range sheet.Layers[draw.Colour] {
			s, ok := op.(*draw.Stroke)
			if !ok || s.Width != curveWide {
				continue
			}
			curve = append(curve, s.Path.Bounds())
			if s.Ink == outside {
				red++
			}
		}
		if len(curve) != 40 || (red > 0) != c.red || red == len(curve) {
			t.Errorf("%v: %d strokes, %d of them red", c.e, len(curve), red)
		}
		whole := curve[0]
		for _, b := range curve {
			whole = whole.Union(b)
		}
		limit := sheet.Bounds(draw.Ground).H()
		if got := whole.H() / limit; math.Abs(got-c.e/0.01) > 1e-9 {
			t.Errorf("%v: the curve is %v of the band high", c.e, got)
		}
	}
}

func TestStrainRefuses(t *testing.T) {
	ok := strainSpec(t)
	small, loose := ok, ok
	small.Height, loose.Limit = 10, math.NaN()
	for _, c := range []struct {
		name   string
		points []StrainPoint
		s      StrainSpec
		class  fault.Class
	}{
		{"small", parabola(0.01), small, fault.NoFit}, {"limit", parabola(0.01), loose, fault.Input},
		{"one", parabola(0.01)[:1], ok, fault.Input}, {"none", nil, ok, fault.Input},
		{"order", []StrainPoint{{1, 0}, {1, 0}}, ok, fault.Input}, {"nan", []StrainPoint{{0, 0}, {1, math.NaN()}}, ok, fault.Input},
	} {
		if _, err := Strain(c.points, c.s); err == nil || fault.ClassOf(err) != c.class {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
