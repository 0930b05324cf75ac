package emblem

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/svg"
	"floatmark/loading/fault"
)

func parse(t testing.TB, d string) geom.Path {
	t.Helper()
	p, err := FromSVGPath(d)
	if err != nil {
		t.Fatalf("%q: %v", d, err)
	}
	return p
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// Areas in closed form: a turn of a circle is pi r², of an ellipse pi a b, the
// segment over an arc of angle a is r²(a - sin a)/2, a parabola's 2/3 of its box.
func TestAreasOfPathData(t *testing.T) {
	segment := func(a float64) float64 { return 100 * (a - math.Sin(a)) / 2 }
	for _, c := range []struct {
		d    string
		want float64 // clockwise is positive
	}{
		{"M0 0 10 0 10 10 0 10z", 100},
		{"m5,5 10,0v10h-10z", 100},
		{"M0 0H10V10H0Z", 100},
		{"M0 0L0 10 10 10 10 0Z", -100},
		{"M0,0h10v10h-10zM2,2v6h6v-6z", 64}, // a hole
		{"M0 0h10v10h-10zm20 0h10v10h-10z", 200},
		{"M-10 0A10 10 0 1 1 10 0A10 10 0 1 1-10 0", math.Pi * 100},
		{"M-10 0a10 10 0 1120 0 10 10 0 11-20 0", math.Pi * 100}, // flags without blanks
		{"M-10 0a10 5 0 1 0 20 0a10 5 0 1 0 -20 0z", -math.Pi * 50},
		{"M0-10a10 5 90 0 1 0 20a10 5 90 0 1 0-20", math.Pi * 50},
		{"M0 10A1 1 0 0 1 0-10A1 1 0 0 1 0 10", math.Pi * 100}, // radii too short
		{"M10 0A10 10 0 0 1 0 10", segment(math.Pi / 2)},
		{"M10 0A10 10 0 1 0 0 10", -segment(3 * math.Pi / 2)},
		{"M10 0A10 10 0 0 0 0 10", -segment(math.Pi / 2)},
		{"M10 0A10 10 0 1 1 0 10", segment(3 * math.Pi / 2)},
		{"M0 0 10 0 10 10 A0 5 0 0 1 0 10z", 100}, // a radius of 0 is a line
		{"M0 0Q5 10 10 0", -100.0 / 3},            // 2/3 of 10 x 5
		{"M0 0Q5 10 10 0T20 0", 0},                // the second half is the first, turned
		{"M0 0C0-10 10-10 10 0S20 10 20 0z", 0},
		{"M0 0c0-10 10-10 10 0s-10 10-10 0", 120},              // two of 60: the integral of 1800 t²(1-t)²
		{"M 1e1 0 l-1.0E+1,0 .0.0 0-10 10.5.0-.5 10 Z", 102.5}, // a trapezium of 10 and 10.5
	} {
		p, err := FromSVGPath(c.d)
		if err != nil {
			t.Errorf("%q: %v", c.d, err)
			continue
		}
		near(t, c.d, p.Area(1e-6), c.want, 1e-3)
	}
}

// Written as their own absolute commands, relative and smooth ones are the same.
func TestCommandsInOtherWords(t *testing.T) {
	for _, c := range [][2]string{
		{"M1 2L3 5 9 5z", "m1 2l2 3h6z"},
		{"M1 2C3 5 9 5 9 8S2 3 1 7", "m1 2c2 3 8 3 8 6C9 11 2 3 1 7"},
		{"M1 2S3 5 9 5", "M1 2C1 2 3 5 9 5"},
		{"M1 2Q3 5 9 5T2 9 1 4", "M1 2q2 3 8 3Q15 5 2 9Q-11 13 1 4"},
		{"M1 2T9 5V9", "M1 2L9 5V9"},
		{"M1 2l5 5zl1 9 3 0", "M1 2L6 7ZM1 2L2 11 5 11"},
		{"M1,2L1.5.5-3-4", "M 1 2 L 1.5 0.5 L -3 -4"},
		{"M9 9M1 2H5V5", "M1 2H5V5z"},
	} {
		a, b := parse(t, c[0]), parse(t, c[1])
		if len(a) != len(b) && !strings.Contains(c[0], "T9") {
			t.Errorf("%q has %d steps, %q %d", c[0], len(a), c[1], len(b))
			continue
		}
		fa, fb := a.Area(1e-6), b.Area(1e-6)
		near(t, c[0], fa, fb, 1e-9)
		if d := a.Bounds().Min.Sub(b.Bounds().Min).Len() + a.Bounds().Max.Sub(b.Bounds().Max).Len(); d > 1e-9 {
			t.Errorf("%q has the bounds %v, %q %v", c[0], a.Bounds(), c[1], b.Bounds())
		}
	}
}

func TestPathDataRefused(t *testing.T) {
	for _, c := range [][2]string{ // the data, and what the message must hold
		{"", "nothing to fill"},
		{"M0 0", "nothing to fill"},
		{"M0 0H10", "nothing to fill"},
		{"L1 1 2 0", "character 1: the path does not begin"},
		{"3 4", "character 1: a number stands"},
		{"M0 0L1", "character 7: the path ends"},
		{"M0 0L1 1 2", "character 11: the path ends"},
		{"M0 0L1 ,, 2", "character 9: a number is missing"},
		{"M,0 0", "character 2: a number is missing"},
		{"M0 0,L1 1", "character 6: a comma"},
		{"M0 0L1 1,", "character 10: a comma"},
		{"M0 0L1 1z 5 5", "character 11: a number stands"},
		{"M0 0L1 1é", "character 9: 'é' is no part"},
		{"M0 0L1 1 B 3 3", "character 10: 'B' is no part"},
		{"M0 0A5 5 0 2 1 3 3", "character 12: an arc's flag"},
		{"M0 0L1e 5", "character 7: a number is missing"},
		{"M0 0L1e400 5", "character 6: a number is out of range"},
		{"M0 0L1000001 5", "out of range"},
		{"M0 0l900000 5 900000 5", "runs out of range"},
		{"M0 0C0 0 1 1 .", "a number is missing"},
		{"M0 0" + strings.Repeat("l1 1", MaxSegments), "more than"},
	} {
		_, err := FromSVGPath(c[0])
		if err == nil || fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%.40q: %v, want an input error with %q", c[0], err, c[1])
			continue
		}
		if e := fault.List(err)[0]; e.Do == "" {
			t.Errorf("%.40q: no word on what to do", c[0])
		}
	}
}

// written is how layouts/svg writes a path.
func written(t testing.TB, p geom.Path) string {
	var b bytes.Buffer
	s := &draw.Sheet{Name: "mark", Size: geom.Size{W: 100, H: 100}}
	s.Add(draw.Colour, &draw.Fill{Path: p, Ink: draw.Black})
	if err := svg.Write(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// What the SVG writer writes is read back as it was, to the writer's 0.0001 mm:
// by its path data and as a whole file.
func TestRoundTripThroughTheWriter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xy := func() geom.Point {
			return geom.Point{X: rapid.Float64Range(-90, 90).Draw(t, "x"), Y: rapid.Float64Range(-90, 90).Draw(t, "y")}
		}
		var p geom.Path
		for range rapid.IntRange(1, 3).Draw(t, "rings") {
			p.MoveTo(xy())
			for range rapid.IntRange(1, 5).Draw(t, "steps") {
				if rapid.Bool().Draw(t, "line") {
					p.LineTo(xy())
				} else {
					p.CubicTo(xy(), xy(), xy())
				}
			}
			p.Close()
		}
		var b bytes.Buffer
		s := &draw.Sheet{Name: "mark", Size: geom.Size{W: 100, H: 100}}
		s.Add(draw.Colour, &draw.Fill{Path: p, Ink: draw.Black})
		if err := svg.Write(&b, s); err != nil {
			t.Fatal(err)
		}
		_, d, _ := strings.Cut(b.String(), ` d="`)
		d, _, _ = strings.Cut(d, `"`)
		got, err := parsePath(d) // a path of no extent too
		if err != nil || len(got) != len(p) {
			t.Fatalf("%q: %d steps of %d, %v", d, len(got), len(p), err)
		}
		for i := range p {
			for j := range p[i].P {
				if got[i].Verb != p[i].Verb || got[i].P[j].Sub(p[i].P[j]).Len() > 1e-4 {
					t.Fatalf("step %d of %q is %v, want %v", i, d, got[i], p[i])
				}
			}
		}
	})
}

func TestFit(t *testing.T) {
	box := geom.XYWH(10, 20, 8, 4)
	b := Fit(parse(t, "M100 100h20v20h-20z"), box).Bounds()
	if b != geom.XYWH(12, 20, 4, 4) {
		t.Errorf("a square in a box of 8 x 4 lies at %v", b)
	}
	if b = Fit(geom.Circle(geom.Point{X: 3, Y: 3}, 1), box).Bounds(); !box.Contains(b) || math.Abs(b.H()-4) > 1e-6 {
		t.Errorf("a circle lies at %v", b)
	}
	if p := Fit(nil, box); p != nil {
		t.Errorf("nothing was fitted to %v", p)
	}
}

func FuzzSVGPath(f *testing.F) {
	for _, s := range []string{"M0 0h10v10z", "m1 2c1,1-1-1.5.5T3 4S1 2 3 4", "M-10 0a10 10 0 1120 0", "M0 0A1e-9 1e6 33 0 1 5 5L9 0Z"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, d string) {
		p, err := FromSVGPath(d)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%q: %v is not the user's to mend", d, err)
			}
			return
		}
		if p[0].Verb != geom.Move || p[len(p)-1].Verb != geom.Close {
			t.Fatalf("%q is not made of rings: %v", d, p)
		}
		b := Fit(p, geom.XYWH(0, 0, 10, 10)).Bounds()
		if !geom.XYWH(0, 0, 10, 10).Inset(-1e-6).Contains(b) {
			t.Fatalf("%q fitted to 10 x 10 lies at %v", d, b)
		}
	})
}
