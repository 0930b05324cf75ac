package wrap

import (
	"math"
	"testing"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

func profile(t *testing.T, st []body.Station) body.Profile {
	t.Helper()
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The greedy bands at 2 %: slant heights worked out by a separate program. The
// balanced ones are as many, strain alike and leave no sliver.
func TestSplitOfRoundBodies(t *testing.T) {
	for _, c := range []struct {
		name     string
		d, l     unit.Millimetre
		from, to unit.Millimetre
		slants   []float64
	}{
		{"olive 24x16", 16, 24, 4, 20, []float64{5.95, 6.67, 4.08}},
		{"sphere R8", 16, 16, 2, 14, []float64{4.49, 4.49, 4.49}}, // and a sliver
		{"olive 40x12", 12, 40, 5, 35, []float64{7.76, 11.00, 9.31, 2.33}},
	} {
		p := profile(t, body.Olive(c.d, 0, c.l))
		cuts, ok := walk(p, c.from, c.to, Film{}).greedy(0.02, MaxBands)
		want := max(len(c.slants), map[string]int{"sphere R8": 4}[c.name])
		if !ok || len(cuts)-1 != want {
			t.Fatalf("%s: greedy %v %v, want %d bands", c.name, cuts, ok, want)
		}
		for i, s := range c.slants {
			near(t, c.name+": greedy slant", p.Meridian(cuts[i], cuts[i+1]), s, 0.03)
		}
		bands, reason, err := Split(p, c.from, c.to, Film{}, Seam{}, 0.02)
		if err != nil || len(bands) != want || reason == "" {
			t.Fatalf("%s: %d bands, %q, %v", c.name, len(bands), reason, err)
		}
		at := c.from
		for _, f := range bands {
			near(t, c.name+": a band starts where the last ends", float64(f.From), float64(at), 1e-9)
			at = f.To
			if f.Strain > 0.02 {
				t.Errorf("%s: strain %v", c.name, f.Strain)
			}
			near(t, c.name+": alike", f.Strain, bands[0].Strain, 0.02*bands[0].Strain)
			if f.To-f.From < 1.5 {
				t.Errorf("%s: a sliver of %v", c.name, f.To-f.From)
			}
		}
		near(t, c.name+": ends", float64(at), float64(c.to), 1e-9)
		one, _, err := Shorten(p, c.from, c.to, Film{}, Seam{}, 0.02, false)
		if err != nil || one.Strain > 0.02 || one.Strain < 0.0195 {
			t.Errorf("%s: shortened to %v, %v", c.name, one.Strain, err)
		}
		near(t, c.name+": the highest band", one.Slant, c.slants[0], 0.03)
		down, _, err := Shorten(p, c.from, c.to, Film{}, Seam{}, 0.02, true)
		if err != nil || down.To != c.to {
			t.Errorf("%s: from the top: %v", c.name, err)
		}
		near(t, c.name+": the body is the same upside down", down.Slant, one.Slant, 0.01)
	}
}

func TestSplitAtCorners(t *testing.T) {
	p := profile(t, []body.Station{{Z: 0, D: 4}, {Z: 10, D: 10, Corner: true}, {Z: 30, D: 10}, {Z: 40, D: 2}})
	bands, _, err := Split(p, 2, 38, Film{}, Seam{}, 0.01)
	if err != nil || len(bands) != 3 || bands[0].To != 10 || bands[1].To != 30 {
		t.Fatalf("%v %v", bands, err)
	}
	f, _, err := Shorten(p, 2, 38, Film{}, Seam{}, 0.01, true)
	if err != nil || f.From != 30 || f.Strain != 0 {
		t.Errorf("%v %v", f, err)
	}
}

func TestSplitRefuses(t *testing.T) {
	p := profile(t, body.Olive(16, 0, 16))
	for _, limit := range []float64{0, -1, 1, math.NaN()} {
		if _, _, err := Split(p, 2, 14, Film{}, Seam{}, limit); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("limit %v: %v", limit, err)
		}
	}
	if _, _, err := Split(p, 2, 14, Film{}, Seam{}, 0.0005); err == nil || fault.ClassOf(err) != fault.NoFit {
		t.Errorf("a ball in bands of 0.05 %%: %v", err)
	}
	if _, _, err := Shorten(p, 5, 50, Film{}, Seam{}, 0.02, false); err == nil || fault.ClassOf(err) != fault.Input {
		t.Errorf("off the body: %v", err)
	}
}

func BenchmarkSplit(b *testing.B) {
	p, err := body.New(body.Olive(12, 0, 40))
	if err != nil {
		b.Fatal(err)
	}
	for i := 0; i < b.N; i++ {
		if _, _, err := Split(p, 5, 35, Film{}, Seam{}, 0.02); err != nil {
			b.Fatal(err)
		}
	}
}
