package legible

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"floatmark/label/symbol"

	"pgregory.net/rapid"
)

// Rated tilt of plain codes at M, rounded to whole degrees, as worked out with
// the model the form was fitted on; "." is under 5, 25 is 25 or more. Rows are
// squares in mm, columns diameters.
var (
	tableDiameters = []float64{8, 9, 10, 11, 12, 13, 14, 16, 18, 20, 22, 25}
	tables         = map[int]string{
		21: `0.20 14 17 19 22 25 25 25 25 25 25 25 25
			0.25  9 12 14 16 18 20 23 25 25 25 25 25
			0.30  6  8 10 12 14 16 18 21 25 25 25 25
			0.35  .  5  7  9 11 12 14 17 20 23 25 25
			0.40  .  .  .  7  8 10 11 14 17 19 22 25
			0.50  .  .  .  .  .  6  7  9 12 14 16 19
			0.60  .  .  .  .  .  .  .  6  8 10 12 15`,
		25: `0.20  8 10 12 14 16 18 20 23 25 25 25 25
			0.25  .  6  8 10 11 13 14 17 20 23 25 25
			0.30  .  .  .  6  8  9 11 13 16 18 21 25
			0.35  .  .  .  .  5  7  8 10 13 15 17 20
			0.40  .  .  .  .  .  .  6  8 10 12 14 17
			0.50  .  .  .  .  .  .  .  .  6  8 10 12
			0.60  .  .  .  .  .  .  .  .  .  .  6  9`,
		29: `0.20  .  6  7  9 10 12 13 16 19 22 24 25
			0.25  .  .  .  5  7  8  9 12 14 16 18 22
			0.30  .  .  .  .  .  5  6  8 10 12 14 17
			0.35  .  .  .  .  .  .  .  6  8 10 11 14
			0.40  .  .  .  .  .  .  .  .  6  7  9 11
			0.50  .  .  .  .  .  .  .  .  .  .  5  7
			0.60  .  .  .  .  .  .  .  .  .  .  .  .`,
	}
)

func TestRatedTiltTable(t *testing.T) {
	cells := 0
	for n, table := range tables {
		for line := range strings.Lines(table) {
			f := strings.Fields(line)
			module, err := strconv.ParseFloat(f[0], 64)
			if err != nil || len(f) != 1+len(tableDiameters) {
				t.Fatalf("row %q", line)
			}
			for i, d := range tableDiameters {
				cells++
				got := RatedTilt(n, symbol.M, module, d)
				if f[i+1] == "." {
					if got >= 5 {
						t.Errorf("%d squares of %v on %v: %.2f, want under 5", n, module, d, got)
					}
				} else if want, err := strconv.ParseFloat(f[i+1], 64); err != nil || math.Round(got) != want {
					t.Errorf("%d squares of %v on %v: %.2f, want %s", n, module, d, got, f[i+1])
				}
			}
		}
	}
	if cells != 3*7*12 {
		t.Errorf("%d cells checked", cells)
	}
}

// Smallest diameters at M found by bisection on the model's pictures, 16 poses
// each, to 0.5 mm, with a scatter of about 1 mm: columns are squares of 0.25,
// 0.30, 0.35, 0.40 and 0.50 mm.
func TestMinDiameterAgainstPictures(t *testing.T) {
	modules := [...]float64{0.25, 0.30, 0.35, 0.40, 0.50}
	sum, worst, cells := 0.0, 0.0, 0
	for _, row := range []struct {
		n     int
		front bool
		tilt  float64
		d     [5]float64
	}{
		{21, false, 10, [5]float64{8.0, 9.5, 11.0, 11.5, 15.5}},
		{21, true, 10, [5]float64{7.0, 8.0, 9.0, 10.0, 12.0}},
		{25, false, 10, [5]float64{12.5, 16.0, 15.0, 18.0, 23.0}},
		{25, true, 10, [5]float64{10.0, 12.5, 15.5, 15.5, 19.0}},
		{29, false, 10, [5]float64{15.0, 17.0, 20.5, 22.0, 28.0}},
		{29, true, 10, [5]float64{14.5, 17.5, 18.0, 21.0, 25.5}},
		{21, false, 20, [5]float64{15.0, 14.5, 16.5, 19.0, 21.5}},
		{21, true, 20, [5]float64{13.0, 14.5, 16.0, 18.5, 24.5}},
		{25, false, 20, [5]float64{20.5, 26.0, 26.0, 30.0, 37.5}},
		{25, true, 20, [5]float64{23.0, 24.5, 25.5, 29.0, 36.0}},
		{29, false, 20, [5]float64{26.5, 32.5, 36.0, 39.0, 49.0}},
		{29, true, 20, [5]float64{27.5, 31.0, 35.5, 37.5, 50.5}},
	} {
		for i, want := range row.d {
			f := Form{N: row.n, Level: symbol.M, Module: modules[i], Front: row.front}
			off := math.Abs(f.MinDiameter(row.tilt)/want - 1)
			sum, worst, cells = sum+off, math.Max(worst, off), cells+1
		}
	}
	mean := sum / float64(cells)
	t.Logf("%d cells: off by %.1f %% on average and %.1f %% at worst", cells, 100*mean, 100*worst)
	if mean > 0.08 || worst > 0.20 || cells != 60 {
		t.Errorf("%d cells off by %.1f %% on average and %.1f %% at worst; want 60, at most 8 and 20", cells, 100*mean, 100*worst)
	}
}

// Version 1 at L, which is what most links need: the smallest bodies on which
// three readers pass in pictures of layouts/proof (15, 12 and 12 of 16), to 0.5
// mm. The form is on the safe side of them, and not far. Columns are squares of
// 6, 7 and 8 dots of 600 an inch.
func TestMinDiameterAtL(t *testing.T) {
	sum := 0.0
	for _, row := range []struct {
		front bool
		tilt  float64
		d     [3]float64
	}{
		{false, AimTilt, [3]float64{8.5, 9.5, 11.5}},
		{false, CasualTilt, [3]float64{15.0, 15.5, 18.0}},
		{true, AimTilt, [3]float64{7.0, 9.0, 8.5}},
		{true, CasualTilt, [3]float64{13.5, 16.5, 16.0}},
	} {
		for i, want := range row.d {
			got := Form{N: 21, Level: symbol.L, Module: float64(6+i) * 25.4 / 600, Front: row.front}.MinDiameter(row.tilt)
			off := got/want - 1
			sum += off / 12
			t.Logf("widened %v, %v degrees, %d dots: %.1f mm, pictures %.1f", row.front, row.tilt, 6+i, got, want)
			if off < -0.05 || off > 0.35 {
				t.Errorf("widened %v, %v degrees, %d dots: %.1f mm, pictures %.1f", row.front, row.tilt, 6+i, got, want)
			}
		}
	}
	if sum > 0.15 {
		t.Errorf("wider than need be by %.0f %% in the mean", 100*sum)
	}
}

// The first term of Bow from the geometry itself: a row of points on a real
// cylinder, tipped, against the straight line through its middle.
func TestBowIsTheSagitta(t *testing.T) {
	const n, module = 21, 0.30
	for _, d := range []float64{40, 80, 200} { // wide bodies, where the cubic term is small
		for _, tilt := range []float64{5, 10, 20} {
			half := n * module / 2
			depth := d / 2 * (1 - math.Cos(half/(d/2)))
			want := depth * math.Sin(tilt*math.Pi/180) / module
			got := Bow(n, module, d, tilt) - Bow(n, module, d, 0)
			if math.Abs(got/want-1) > 0.01 {
				t.Errorf("on %v at %v: %.4f, want %.4f", d, tilt, got, want)
			}
		}
	}
	if got := Bow(n, module, math.Inf(1), 20); got != 0 {
		t.Errorf("a flat card bows %v", got)
	}
}

func anyCode(t *rapid.T) (n int, l symbol.Level, module float64) {
	return 17 + 4*rapid.IntRange(1, 10).Draw(t, "version"), symbol.Level(rapid.IntRange(0, 3).Draw(t, "level")), rapid.Float64Range(0.15, 1).Draw(t, "module")
}

func anyForm(t *rapid.T) Form {
	n, l, module := anyCode(t)
	f := Form{N: n, Level: l, Module: module, Front: rapid.Bool().Draw(t, "front")}
	if rapid.Bool().Draw(t, "own") {
		f.Limits = Limits{Plain: rapid.Float64Range(0, 2).Draw(t, "plain"), Front: rapid.Float64Range(0, 2).Draw(t, "widened")}
	}
	return f
}

// Slow oracle: the rated tilt by stepping, the diameter by bisection.
func TestSolutionsAgainstSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyForm(t)
		d := rapid.Float64Range(1, 80).Draw(t, "d")
		carries := func(d float64) bool {
			return !f.Front || FrontColumns(f.N, f.Module, d, 0.01) != nil
		}
		tilt := 0.0
		for carries(d) && tilt < SteepestTilt && f.Bow(d, tilt+0.01) <= f.Limit() {
			tilt += 0.01
		}
		if got := f.RatedTilt(d); math.Abs(got-math.Min(tilt, SteepestTilt)) > 0.0101 {
			t.Fatalf("rated %v, by steps %v", got, tilt)
		}
		want := rapid.Float64Range(0, SteepestTilt).Draw(t, "tilt")
		lo, hi := 1e-3, 1e5
		if f.Limit() < 1e-2 { // from a body wider than any
			return
		}
		for range 200 {
			if mid := (lo + hi) / 2; f.Bow(mid, want) > f.Limit() || !carries(mid) {
				lo = mid
			} else {
				hi = mid
			}
		}
		if got := f.MinDiameter(want); math.Abs(got/hi-1) > 1e-6 {
			t.Fatalf("from %v mm, by bisection %v", got, hi)
		}
	})
}

// A wider body, a smaller square, more correction, a wider limit: never less
// tilt.
func TestRatedTiltOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyForm(t)
		d := rapid.Float64Range(1, 80).Draw(t, "d")
		got := f.RatedTilt(d)
		if got < 0 || got > SteepestTilt {
			t.Fatalf("tilt %v", got)
		}
		fine, sure, lax := f, f, f
		fine.Module *= 0.9
		sure.Level = min(f.Level+1, symbol.H)
		lax.Limits = Limits{f.Limits.Plain + 1, f.Limits.Front + 1}
		for what, more := range map[string]float64{"a wider body": f.RatedTilt(d * 1.1), "smaller squares": fine.RatedTilt(d),
			"more correction": sure.RatedTilt(d), "wider limits": lax.RatedTilt(d)} {
			if more < got {
				t.Fatalf("%s: %v after %v", what, more, got)
			}
		}
	})
	for _, bad := range []float64{math.NaN(), 0} {
		if got := RatedTilt(21, symbol.M, 0.3, bad); got != 0 {
			t.Errorf("on a body of %v: %v", bad, got)
		}
	}
}

// The model's limits, the levels' shares of them, and what a workshop enters.
func TestLimits(t *testing.T) {
	own := Limits{Plain: 1.0, Front: 0.1}
	for _, c := range []struct {
		f    Form
		want float64
	}{
		{Form{Level: symbol.M}, 0.85}, {Form{Level: symbol.L}, 0.75}, {Form{Level: symbol.Q}, 0.95}, {Form{Level: symbol.H}, 0.95},
		{Form{Level: symbol.M, Front: true}, 0.70}, {Form{Level: symbol.L, Front: true}, 0.60}, {Form{Level: symbol.H, Front: true}, 0.80},
		{Form{Level: symbol.M, Limits: ModelLimits()}, 0.85}, {Form{Level: symbol.M, Front: true, Limits: ModelLimits()}, 0.70},
		{Form{Level: symbol.M, Limits: own}, 1.0}, {Form{Level: symbol.L, Limits: own}, 0.90}, {Form{Level: symbol.L, Front: true, Limits: own}, 0},
		{Form{Level: symbol.M, Front: true, Limits: Limits{Plain: 1}}, 0.70}, {Form{Level: symbol.M, Limits: Limits{Plain: math.NaN()}}, 0.85},
		{Form{Level: 99}, 0.75},
	} {
		if got := c.f.Limit(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: %v, want %v", c.f, got, c.want)
		}
	}
	if got := (Form{N: 21, Level: symbol.L, Module: 0.3, Front: true, Limits: own}).MinDiameter(10); !math.IsInf(got, 1) {
		t.Errorf("with nothing allowed from %v mm", got)
	}
}

// 14.4 points to a millimetre at 100 mm: 4.3 for a square of 0.30 mm. And the
// camera never asks for more than the bow does: whatever Propose may take still
// has MinPixels at its rated tilt of care, at 115 mm, the far end of the model.
func TestPixels(t *testing.T) {
	if got := Pixels(21, 0.30, math.Inf(1), 0, 100); math.Abs(got-4.32) > 1e-9 {
		t.Errorf("%v points, want 4.32", got)
	}
	// Held square, a widened square has the same points all over the code; walked
	// round the body it loses more than its middle does.
	wide := Form{N: 21, Module: 0.30, Front: true}
	if got := wide.Pixels(9, 0, 100); math.Abs(got-4.32) > 1e-9 {
		t.Errorf("widened and held square: %v points, want 4.32", got)
	}
	if got := wide.Pixels(9, 10, 100); got > 4.32*math.Cos(10*math.Pi/180)-0.1 {
		t.Errorf("widened and tilted: %v points", got)
	}
	for _, n := range []int{21, 25, 29} {
		for _, r := range Ladder(600) {
			for l := symbol.L; l <= symbol.H; l++ {
				if got := Pixels(n, r.Module, (Ask{N: n, Level: l}).smallestBody(Choice{Module: r.Module}, AimTilt), AimTilt, 115); got < MinPixels {
					t.Errorf("%d squares of %.3f at %v: %.2f points", n, r.Module, l, got)
				}
			}
		}
	}
}

func BenchmarkBow(b *testing.B) {
	for b.Loop() {
		Bow(21, 0.3, 12, 10)
	}
}

// All the closed forms of one code: they are to take less than a microsecond.
func BenchmarkForm(b *testing.B) {
	f := Form{N: 21, Level: symbol.L, Module: 0.3, Front: true}
	for b.Loop() {
		if f.RatedTilt(12) < AimTilt || f.MinDiameter(CasualTilt) < 12 || f.Pixels(12, AimTilt, 115) < MinPixels {
			b.Fatal("another code")
		}
	}
}
