package typeset

import (
	"math"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

func set(t testing.TB) fonts.Set {
	s, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The width of "12.5g 3×SSG" at 1 mm capitals in the marking bold, measured on
// the outlines by an independent reader of the face: 7.29 mm.
func TestWidthOfTheMarkingBold(t *testing.T) {
	l, err := Shape("12.5g 3×SSG", Bold(set(t), 1))
	if err != nil || math.Abs(l.Width-7.29) > 0.03 {
		t.Errorf("width %v, %v; want 7.29", l.Width, err)
	}
}

func TestCapitalsStandOnTheBaseline(t *testing.T) {
	l, err := Shape("HH", Bold(set(t), 2.5))
	if err != nil {
		t.Fatal(err)
	}
	b := draw.Bounds(l.Straight(geom.Translate(10, 20), Left, draw.Black))
	if math.Abs(b.Max.Y-20) > 1e-9 || math.Abs(b.H()-2.5) > 1e-9 || b.Min.X < 10 {
		t.Errorf("bounds %v, want 2.5 mm of capitals standing on y 20", b)
	}
	c := draw.Bounds(l.Straight(geom.Translate(10, 20), Centre, draw.Black))
	if math.Abs((c.Min.X+c.Max.X)/2-10) > 0.05 {
		t.Errorf("centred bounds %v", c)
	}
}

func TestMissingGlyphIsNamed(t *testing.T) {
	_, err := Shape("8 水", Bold(set(t), 2))
	if fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "U+6C34") {
		t.Errorf("got %v, want an input error that names U+6C34", err)
	}
}

func TestFallbackKeepsTheWords(t *testing.T) {
	l, err := Shape("a→b", Bold(set(t), 2))
	if err != nil {
		t.Fatal(err)
	}
	var words string
	for _, o := range l.Straight(geom.Identity, Left, draw.Black) {
		words += o.(*draw.Glyphs).Text
	}
	if words != "a→b" {
		t.Errorf("the runs say %q", words)
	}
}

// On an arc with the apex above, each glyph's middle lies on the arc and its up
// points to the apex.
func TestAlongAnArc(t *testing.T) {
	const rho = 40.0
	l, err := Shape("HHHHH", Bold(set(t), 3))
	if err != nil {
		t.Fatal(err)
	}
	frame := func(x float64) geom.Affine {
		return geom.Translate(0, rho).Then(geom.Rotate(-x / rho))
	}
	for _, o := range l.Along(frame, Centre, draw.Black) {
		for _, g := range o.(*draw.Glyphs).Run {
			foot := g.At.Apply(geom.Point{X: 0, Y: 0})
			up := g.At.Apply(geom.Point{X: 0, Y: 1}).Sub(foot)
			mid := g.At.Apply(geom.Point{X: 0.5 * l.glyphs[0].advance / l.glyphs[0].em, Y: 0})
			if math.Abs(mid.Len()-rho) > 1e-9 {
				t.Errorf("middle lies %v from the apex, want %v", mid.Len(), rho)
			}
			if cos := -(up.X*mid.X + up.Y*mid.Y) / (up.Len() * mid.Len()); cos < 1-1e-9 {
				t.Errorf("up leaves the apex by cos %v", cos)
			}
		}
	}
}

func TestFitRefusesUnderTheFloor(t *testing.T) {
	f := Bold(set(t), 3)
	l, err := Fit("built in 7.2 g", f, 12, 1.2)
	if err != nil || l.Width > 12+1e-9 || l.Cap >= 3 || l.Cap < 1.2 {
		t.Errorf("fit: %v mm wide at %v mm, %v", l.Width, l.Cap, err)
	}
	if _, err := Fit("built in 7.2 g", f, 3, 1.2); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("got %v, want NoFit", err)
	}
}
