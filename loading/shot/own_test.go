package shot

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

func TestParseWeighing(t *testing.T) {
	for _, s := range []string{"20 of AAA weigh 15.7 g", "20 AAA = 15.7 g", "20 x AAA: 15,7g", "20AAA weighs 15.7 g", " 20  of  AAA  weighed 15.7 g"} {
		w, err := ParseWeighing(s)
		if err != nil || w != (Weighing{Size: "AAA", N: 20, Mass: 15.7, Digit: w.Digit}) || math.Abs(float64(w.Digit)-0.1) > 1e-12 {
			t.Errorf("%q: %+v, %v", s, w, err)
		}
	}
	if w, err := ParseWeighing("10 of 3/0 weigh 7.70 g"); err != nil || w.Size != "3/0" || math.Abs(float64(w.Digit)-0.01) > 1e-12 {
		t.Errorf("3/0: %+v, %v", w, err)
	}
	if w, err := ParseWeighing("2026-03-01: 20 of AAA weigh 15.7 g"); err != nil || w.Date != "2026-03-01" || w.N != 20 {
		t.Errorf("dated: %+v, %v", w, err)
	}
	for _, bad := range []string{"", "2026-13-01: 20 of AAA weigh 15.7 g g", "AAA weigh 3 g", "20 of AAA", "20 of AAA weigh 15.7", "0 of AAA weigh 1 g", "20 of AAA weigh 0 g", "20 of  weigh 3 g",
		"5001 of AAA weigh 9 g", "99999999999999999999 of AAA weigh 9 g", "1 of AAA weigh 501 g", "20 of AAA weigh -1 g", "20 of A\x00 weigh 1 g"} {
		if w, err := ParseWeighing(bad); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%q: %+v, %v", bad, w, err)
		}
	}
}

func TestParseGiven(t *testing.T) {
	for s, want := range map[string]Size{"AAA = 0.79 g": {Name: "AAA", Mass: 0.79}, "3/0: 0,77 g": {Name: "3/0", Mass: 0.77}, "No.12=0.02g": {Name: "No.12", Mass: 0.02, Rounding: 0.005}} {
		want.Source, want.Verified = SourceOwn, true
		got, err := ParseGiven(s)
		want.Printed = got.Printed
		if err != nil || got != want || !strings.HasSuffix(s, got.Printed) || got.Printed == "" {
			t.Errorf("%q: %+v, %v", s, got, err)
		}
	}
	for _, bad := range []string{"", "AAA", "= 1 g", "AAA = 1", "A\nB = 1 g"} {
		if got, err := ParseGiven(bad); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%q: %+v, %v", bad, got, err)
		}
	}
}

// One weighing: the mean, and of the uncertainty only the scale's own rounding,
// 0.1 g wide: 0.1/√12/20. The spread of shot cannot be known from it.
func TestOneWeighing(t *testing.T) {
	w, err := ParseWeighing("20 of AAA weigh 15.7 g")
	if err != nil {
		t.Fatal(err)
	}
	w.Date = "2026-03-01"
	sizes, err := Weigh([]Weighing{w})
	if err != nil || len(sizes) != 1 {
		t.Fatal(sizes, err)
	}
	s := sizes[0]
	if math.Abs(float64(s.Mass)-0.785) > 1e-12 || s.Weighed.N != 20 || s.Weighed.Times != 1 || s.Weighed.Spread != 0 || s.Weighed.Date != "2026-03-01" ||
		math.Abs(float64(s.Weighed.U)-0.1/math.Sqrt(12)/20) > 1e-12 || s.Source != SourceWeighed || !s.Verified {
		t.Errorf("%+v", s)
	}
}

// Weighed one by one the spread is the plain standard deviation: of 2, 4, 4, 4,
// 5, 5, 7, 9 the squared deviations from 5 sum to 32, so s² = 32/7.
func TestSpreadOfSingles(t *testing.T) {
	var all []Weighing
	for _, m := range []float64{2, 4, 4, 4, 5, 5, 7, 9} {
		all = append(all, Weighing{Size: "AAA", N: 1, Mass: unit.Gram(m)})
	}
	sizes, err := Weigh(all)
	if err != nil {
		t.Fatal(err)
	}
	s := sizes[0]
	if s.Mass != 5 || math.Abs(float64(s.Weighed.Spread)-math.Sqrt(32.0/7)) > 1e-12 || math.Abs(float64(s.Weighed.U)-math.Sqrt(32.0/7/8)) > 1e-12 {
		t.Errorf("%+v", s)
	}
}

// Shot drawn with a known spread, weighed by handfuls of several sizes on a
// scale that rounds: over many lots the mean square of the spread found is the
// one drawn, and the mean found scatters as its uncertainty says (the method of
// JCGM 101:2008, with a fixed seed).
func TestWeighedUncertaintyAgainstMonteCarlo(t *testing.T) {
	const mean, spread, digit, lots = 0.8, 0.03, 0.01, 4000
	draw := rand.New(rand.NewPCG(1, 2))
	var spread2, u2, miss2 float64
	for range lots {
		var all []Weighing
		for _, n := range []int{5, 10, 20} {
			m := 0.0
			for range n {
				m += mean + spread*draw.NormFloat64()
			}
			all = append(all, Weighing{Size: "AAA", N: n, Mass: unit.Gram(math.Round(m/digit) * digit), Digit: digit})
		}
		sizes, err := Weigh(all)
		if err != nil {
			t.Fatal(err)
		}
		s := sizes[0]
		spread2 += float64(s.Weighed.Spread) * float64(s.Weighed.Spread) / lots
		u2 += float64(s.Weighed.U) * float64(s.Weighed.U) / lots
		miss2 += (float64(s.Mass) - mean) * (float64(s.Mass) - mean) / lots
	}
	// 4,000 lots of two degrees of freedom leave about 2 % in a mean square.
	if r := spread2 / (spread * spread); math.Abs(r-1) > 0.08 {
		t.Errorf("spread²: %.3f of what was drawn", r)
	}
	if r := u2 / miss2; math.Abs(r-1) > 0.1 {
		t.Errorf("u² is %.3f of the scatter of the mean", r)
	}
}

const bench = "size,mass,count,weighed,date,metal,verified\nAAA,,20,15.7 g,2026-03-01,tin,\nAAA,,20,15.9 g,2026-03-08,,\n\nBB,0.4 g,,,,,\nNo.12,0.02 g,,,,,no\n"

func TestOwnCSV(t *testing.T) {
	head := Convention{Key: "bench-tin", Name: "Bench tin"}
	tin, _ := water.MetalByKey("tin")
	c, err := ParseOwnCSV([]byte(bench), head)
	if err != nil {
		t.Fatal(err)
	}
	if c.Metal != tin || c.Revision != 1 || len(c.Sizes) != 3 || c.Sizes[0].Name != "AAA" || math.Abs(float64(c.Sizes[0].Mass)-0.79) > 1e-12 {
		t.Errorf("%+v", c)
	}
	if w := c.Sizes[0].Weighed; w.N != 40 || w.Times != 2 || w.Date != "2026-03-08" || !(w.Spread > 0) {
		t.Errorf("%+v", w)
	}
	if s := c.Sizes[2]; s.Verified || math.Abs(float64(s.Rounding)-0.005) > 1e-12 || s.Source != SourceOwn {
		t.Errorf("%+v", s)
	}
	// As other spreadsheets write it.
	same, err := ParseOwnCSV([]byte("\xef\xbb\xbfSize;Mass (g);Metal\r\nAAA;0,79;tin\r\nBB;0,4;tin\r\n"), head)
	if err != nil || len(same.Sizes) != 2 || same.Sizes[1].Mass != 0.4 {
		t.Errorf("%+v, %v", same, err)
	}
	// What it says makes loads.
	if m, metal, _, err := ParseLoad("3AAA", c); err != nil || math.Abs(float64(m)-2.37) > 1e-9 || metal != tin {
		t.Errorf("3AAA = %v of %s, %v", m, metal.Name, err)
	}
}

func TestOwnCSVTellsWhatIsWrong(t *testing.T) {
	for src, want := range map[string]string{
		"":                                                 "first line",
		"size,mass\nAAA,0.8 g\n":                           "what metal",
		"size,mass,metal\nAAA,0.8,tin\n":                   "line 2: \"0.8\" has no unit",
		"size,weight\nAAA,0.8 g\n":                         `line 1: unknown column "weight"`,
		"mass,metal\n0.8 g,tin\n":                          "no column names the sizes",
		"size,size\nA,B\n":                                 "stands twice",
		"size,mass,metal\nAAA,0.8 g,cheese\n":              "line 2: there is no metal",
		"size,mass,metal\nA,1 g,tin\nB,1 g,lead\n":         "line 3: lead stands beside the tin of line 2",
		"size,mass,count,weighed,metal\nA,1 g,2,3 g,tin\n": "no size and no weighing",
		"size,count,weighed,metal\nA,x,3 g,tin\n":          "no weighing",
		"size,mass,metal\nA,1 g,tin\nA,2 g,tin\n":          "two sizes named A",
		"size,mass,metal\nA,0 g,tin\n":                     "no usable mass",
		"size,mass,metal\nA,1,5 g,tin\n":                   "stands in no column",
		"size,mass,metal,verified\nA,1 g,tin,maybe\n":      "neither",
		"size,mass,metal\n\"A,1 g,tin\n":                   "no CSV",
		"size\xff":                                         "no CSV text",
	} {
		if c, err := ParseOwnCSV([]byte(src), Convention{Key: "own"}); err == nil || !strings.Contains(err.Error(), want) || fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %+v, %v; want %q", src, c, err, want)
		}
	}
	for _, key := range []string{"", "gb-modern", "Bench Tin", "x/y", strings.Repeat("x", 41)} {
		if _, err := ParseOwnCSV([]byte(bench), Convention{Key: key}); fault.ClassOf(err) != fault.Input {
			t.Errorf("key %q: %v", key, err)
		}
	}
}

// The order of weighings does not matter to the figures.
func TestWeighOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []Weighing
		for range rapid.IntRange(2, 6).Draw(t, "times") {
			n := rapid.IntRange(1, 30).Draw(t, "n")
			all = append(all, Weighing{Size: "A", N: n, Mass: unit.Gram(float64(n) * rapid.Float64Range(0.7, 0.9).Draw(t, "each")), Digit: 0.01})
		}
		there, err := Weigh(all)
		if err != nil {
			t.Fatal(err)
		}
		for i, j := 0, len(all)-1; i < j; i, j = i+1, j-1 {
			all[i], all[j] = all[j], all[i]
		}
		back, err := Weigh(all)
		if err != nil || math.Abs(float64(there[0].Mass-back[0].Mass)) > 1e-12 || math.Abs(float64(there[0].Weighed.U-back[0].Weighed.U)) > 1e-12 {
			t.Fatal(there, back, err)
		}
	})
}

func ExampleWeigh() {
	var all []Weighing
	for _, s := range []string{"20 of AAA weigh 15.7 g", "20 of AAA weigh 15.9 g"} {
		w, err := ParseWeighing(s)
		if err != nil {
			fmt.Println(err)
			return
		}
		all = append(all, w)
	}
	sizes, _ := Weigh(all)
	s := sizes[0]
	fmt.Println(s.Name, s.Mass.Text(0.001, unit.Style{}), "spread", s.Weighed.Spread.Text(0.001, unit.Style{}), "u", s.Weighed.U.Text(0.0001, unit.Style{}))
	// Output: AAA 0.79 g spread 0.032 g u 0.0051 g
}

func FuzzParseWeighing(f *testing.F) {
	for _, s := range []string{"20 of AAA weigh 15.7 g", "20 x 3/0: 15,4 g", "=", "1 of x weigh 1e9 g"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		w, err := ParseWeighing(s)
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Errorf("%q: %v", s, err)
			}
			return
		}
		sizes, err := Weigh([]Weighing{w, w})
		if err != nil || len(sizes) != 1 || !(sizes[0].Mass > 0 && sizes[0].Mass <= maxLoad) || math.IsNaN(float64(sizes[0].Weighed.U)) {
			t.Errorf("%q: %+v, %v", s, sizes, err)
		}
	})
}

func FuzzParseOwnCSV(f *testing.F) {
	for _, s := range []string{bench, "size;mass g;metal\nA;0,8;tin\n", "size\tmass\tmetal\nA\t1 g\ttin\n", "size,mass\n\"", ",,,\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		c, err := ParseOwnCSV(src, Convention{Key: "own"})
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Errorf("%q: %v", src, err)
			}
			return
		}
		if err := c.Check(); err != nil {
			t.Errorf("%q: %v", src, err)
		}
	})
}
