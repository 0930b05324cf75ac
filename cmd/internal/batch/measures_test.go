package batch

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/loading/unit"
)

// measuredFloat reads small with keys of [[float]] and of [print] added.
func measuredFloat(float, print string) (*File, error) {
	if print != "" {
		print += "\n"
	}
	src := strings.Replace(small, "number = 1\n", "number = 1\n"+float+"\n", 1)
	return Parse("b.toml", []byte(strings.Replace(src, "[print]\n", "[print]\n"+print, 1)), nil, nil)
}

// What was measured is the float's shape, and the pattern's stays what it is.
func TestMeasuredFloats(t *testing.T) {
	for _, c := range []struct {
		float, print string
		at           map[unit.Millimetre]float64 // diameters, mm
	}{
		{"", "", map[unit.Millimetre]float64{30: 16, 54: 13.4, 174: 3}},
		{"diameters_mm = [[30, 16.32], [54, 13.4]]", "", map[unit.Millimetre]float64{0: 3.468, 30: 16.32, 42: 14.86, 54: 13.4, 174: 3}},
		// A strip 0.1 mm thick reaches pi·(16.2 + 0.1) round 16.2 mm.
		{"girths_mm = [[30, 51.207961]]", "", map[unit.Millimetre]float64{30: 16.2, 54: 13.5675}},
		{"girths_mm = [[30, 51.207961]]", "strip_mm = 0", map[unit.Millimetre]float64{30: 16.3}},
		{"girths_mm = [[30, 51.207961]]\ndiameters_mm = [[54, 13.4]]", "strip_mm = 0.2", map[unit.Millimetre]float64{30: 16.1, 54: 13.4}},
	} {
		f, err := measuredFloat(c.float, c.print)
		if err != nil {
			t.Errorf("%s: %s", c.float, list(err))
			continue
		}
		one := f.Batch.Floats[0]
		if one.Measured != (c.float != "") {
			t.Errorf("%s: measured %v", c.float, one.Measured)
		}
		for z, want := range c.at {
			if got := float64(one.Shape().Diameter(z)); math.Abs(got-want) > 1e-6 {
				t.Errorf("%s: %v mm at %v, want %v", c.float, got, z, want)
			}
		}
		if d := one.Pattern.Profile.Diameter(30); d != 16 {
			t.Errorf("%s: the pattern became %v mm thick", c.float, d)
		}
	}
}

// A girth stands for the diameter it belongs to, whatever strip it was taken with.
func TestGirthIsADiameter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := float64(rapid.IntRange(1400, 1800).Draw(t, "d")) / 100
		strip := float64(rapid.IntRange(0, 20).Draw(t, "strip")) / 100
		byGirth, err := measuredFloat(fmt.Sprintf("girths_mm = [[30, %.12f]]", math.Pi*(d+strip)), fmt.Sprintf("strip_mm = %v", strip))
		if err != nil {
			t.Fatal(list(err))
		}
		byDiameter, err := measuredFloat(fmt.Sprintf("diameters_mm = [[30, %v]]", d), "")
		if err != nil {
			t.Fatal(list(err))
		}
		for z := unit.Millimetre(0); z <= 174; z += 6 {
			a, b := byGirth.Batch.Floats[0].Shape().Diameter(z), byDiameter.Batch.Floats[0].Shape().Diameter(z)
			if math.Abs(float64(a-b)) > 1e-9 {
				t.Errorf("%v mm at %v by girth, %v by diameter", a, z, b)
			}
		}
	})
}

// The tip decides what a reading's tolerance is worth: it is the pattern's until
// it was measured too.
func TestMeasuredTip(t *testing.T) {
	for _, c := range []struct {
		float string
		tip   float64 // diameter at the waterline, 158 mm up
	}{{"diameters_mm = [[30, 17.6]]", 3 + 10.4*16/120}, {"diameters_mm = [[30, 17.6], [174, 3.3]]", 1.1 * (3 + 10.4*16/120)}} {
		f, err := measuredFloat(c.float, "")
		if err != nil {
			t.Fatal(list(err))
		}
		if got := float64(f.Batch.Floats[0].Reading.TipDiameter); math.Abs(got-c.tip) > 1e-9 {
			t.Errorf("%s: tip %v mm, want %v", c.float, got, c.tip)
		}
	}
}

func TestBadMeasures(t *testing.T) {
	for _, c := range []struct{ name, float, print, want string }{
		{"slip", "diameters_mm = [[28, 15], [54, 31.5]]", "", "b.toml:31:27: [[float]] diameters_mm: diameter 31.5 mm at 54 mm, where the pattern has 13.4 mm -> " +
			"measure again, a few mm away from a step; a body of another shape is another pattern\n"},
		{"girth for a diameter", "diameters_mm = [[30, 50.7]]", "", "b.toml:31:17: [[float]] diameters_mm: diameter 50.7 mm at 30 mm, where the pattern has 16 mm -> " +
			"measure again, a few mm away from a step; a body of another shape is another pattern\n"},
		{"diameter for a girth", "girths_mm = [[30, 16.1]]", "", "b.toml:31:14: [[float]] girths_mm: diameter 5.02 mm at 30 mm, where the pattern has 16 mm, by a girth of 16.1 mm -> " +
			"measure again, a few mm away from a step; a body of another shape is another pattern\n"},
		{"off the body", "diameters_mm = [[175, 3]]", "",
			"b.toml:31:17: [[float]] diameters_mm: height 175 mm is off the body, which runs from 0 mm to 174 mm -> measure heights upwards from the base end, in mm\n"},
		{"twice", "diameters_mm = [[30, 16], [30, 16.1]]", "",
			"b.toml:31:27: [[float]] diameters_mm: height 30 mm is measured twice, with 16 mm and 16.1 mm -> keep one of them, or their mean\n"},
		{"both ways", "diameters_mm = [[30, 16]]\ngirths_mm = [[30, 50.6]]", "",
			"b.toml:32:14: [[float]] girths_mm: height 30 mm is measured twice, with 16 mm and 16.01 mm, by a girth of 50.6 mm -> keep one of them, or their mean\n"},
		{"zero", "diameters_mm = [[30, 0]]", "",
			"b.toml:31:17: [[float]] diameters_mm: diameter 0 mm is not between 0 and 80 mm -> give the diameter over the last colour coat, in mm\n"},
		{"no girth", "girths_mm = [[30, 0.2]]", "", "b.toml:31:19: [[float]] girths_mm: a girth of 0.2 mm is none -> give the length of the strip once round, in mm\n"},
		{"no list", "diameters_mm = 16", "",
			"b.toml:31:16: [[float]] diameters_mm is no list of measures -> write each as [height, diameter], as in diameters_mm = [[28, 16.1], [54, 13.5]]\n"},
		{"flat list", "girths_mm = [28, 50.7]", "",
			"b.toml:31:14: [[float]] girths_mm: a measure is a height and what was measured there -> write each as [height, girth], as in girths_mm = [[28, 50.7]]\n" +
				"b.toml:31:18: [[float]] girths_mm: a measure is a height and what was measured there -> write each as [height, girth], as in girths_mm = [[28, 50.7]]\n"},
		{"text", `diameters_mm = [["28 mm", 16]]`, "",
			"b.toml:31:18: [[float]] diameters_mm: \"28 mm\" is text, not a plain number of mm -> write 28\n"},
		{"strip", "girths_mm = [[30, 50.7]]", "strip_mm = 1", "b.toml:9:12: [print] strip_mm = 1 is out of range -> give a number from 0 to 0.5 mm\n"},
	} {
		_, err := measuredFloat(c.float, c.print)
		if got := list(err); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// Columns of measures beside the other columns; an empty cell is not measured.
func TestMeasuresInCSV(t *testing.T) {
	at := strings.Index(small, "[[float]]")
	read := func(csv string) (*File, error) {
		src := strings.Replace(small[:at], "[maker]", "floats = \"f.csv\"\n[maker]", 1)
		return Parse("b.toml", []byte(src), files{"f.csv": csv}.open, nil)
	}
	f, err := read("number;pattern;rating g;built_in g;metal;reading g;Diameter at 30 mm;girth (mm) at 54\n" +
		"1;sedge;8;7,2;brass;0,83;16,32;\n2;sedge;8;7,2;brass;0,83;;42,411501\n3;sedge;8;7,2;brass;0,83;;\n")
	if err != nil {
		t.Fatal(list(err))
	}
	for i, want := range []float64{16.32, 16, 16} {
		one := f.Batch.Floats[i]
		if one.Measured != (i < 2) {
			t.Errorf("float %d: measured %v", i+1, one.Measured)
		}
		// 42.411501 mm is 13.5 mm round, and the strip makes 13.4 of it: the pattern's.
		if got := float64(one.Shape().Diameter(30)); math.Abs(got-want) > 1e-6 {
			t.Errorf("float %d: %v mm, want %v", i+1, got, want)
		}
	}
	const head = "number,pattern,rating,built_in,metal,reading,"
	// 1.1 in is 27.94 mm and 0.63 in 16.002 mm (25.4 mm to the inch, exact).
	if f, err := read(head + "diameter at 1.1 in\n1,sedge,8 g,7.2 g,brass,0.83 g,0.63\n"); err != nil || math.Abs(float64(f.Batch.Floats[0].Profile.Diameter(27.94))-16.002) > 1e-9 {
		t.Errorf("inches: %v", list(err))
	}
	for _, c := range []struct{ csv, want string }{
		{head + "diameter at 30\n1,sedge,8 g,7.2 g,brass,0.83 g,thick\n", "f.csv:2: diameter at 30: \"thick\" is not a number -> write a plain number of mm, as in 16.1\n"},
		{head + "diameter at 30\n1,sedge,8 g,7.2 g,brass,0.83 g,50\n", "f.csv:2: diameter at 30: diameter 50 mm at 30 mm, where the pattern has 16 mm -> " +
			"measure again, a few mm away from a step; a body of another shape is another pattern\n"},
		{head + "girth at 30,girth at 30 mm\n1,sedge,8 g,7.2 g,brass,0.83 g,50,50\n", "f.csv:1: the column \"girth at 30 mm\" stands twice -> keep one of them\n"},
		{head + "girth at base\n1,sedge,8 g,7.2 g,brass,0.83 g,50\n", "f.csv:1: unknown column \"girth at base\" -> use one of: " + quoted(floatKeys) + "\n"},
	} {
		if _, err := read(c.csv); list(err) != c.want {
			t.Errorf("%s: got %s\nwant %s", c.csv, list(err), c.want)
		}
	}
	// A CSV file that stands by itself has no bodies to measure.
	if _, err := ParseCSV("f.csv", []byte("number,rating,reading,diameter at 30\n1,8 g,0.83 g,16\n"), nil); !strings.Contains(list(err), `unknown column "diameter at 30"`) {
		t.Errorf("%v", err)
	}
}
