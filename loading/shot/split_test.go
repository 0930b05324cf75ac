package shot

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

// Locking pairs and droppers as a prototype of this sum gave them, on a tidy
// stand-in table; 60 to 90 % of the load at the float.
func TestSplitOfKnownLoads(t *testing.T) {
	c := made(1600, 800, 600, 400, 300, 250, 200, 150, 100, 60, 50, 40, 30, 20, 10)
	for _, k := range []struct {
		target         unit.Gram
		locking, drops string
	}{
		{1.00, "2 S400", "1 S200"},
		{1.50, "2 S600", "2 S150"},
		{4.37, "2 S1600 + 2 S300", "2 S200 + 1 S150 + 1 S20"},
	} {
		list, err := Split(k.target, c, Limits{Fine: true, Tolerance: 0.001}, BottomEnd, Share{Least: 0.6, Most: 0.9})
		if err != nil || len(list) == 0 {
			t.Fatalf("%v: %v %v", k.target, list, err)
		}
		if a := list[0]; CountsText(a.Locking) != k.locking || CountsText(a.Droppers) != k.drops {
			t.Errorf("%v: %q and %q, want %q and %q", k.target, CountsText(a.Locking), CountsText(a.Droppers), k.locking, k.drops)
		}
	}
}

// What hangs where, by the way the line is fixed: shotting as sourced beside each.
func TestSplitByFixing(t *testing.T) {
	c := convention(t, "gb-traditional")
	for _, k := range []struct {
		target unit.Gram
		fixing Fixing
		want   string // one of the list
		source string // of that one
	}{
		// Half to three quarters at the base of a waggler: a British shotting guide.
		{4.37, BottomEnd, "1 SG on each side of the float, 5 No.3 + 1 No.4 as droppers", "shotting-guide"},
		// No source for a bulk above droppers: common practice.
		{2.4, TopAndBottom, "1 SSG in bulk, 3 No.4 as droppers", practice},
		// An olivette of 80 % from 2 g up, an even chain of five: a French hobby site.
		{2.4, TopAndBottom, "an olivette of 2 g, 2 No.3 as droppers", "french-line"},
		{2.4, TopAndBottom, "5 BB evenly down the line, 2 No.3 as droppers", "french-line"},
		{0.3, TopAndBottom, "an olivette of 0.25 g, 1 No.9 as droppers", practice}, // under 2 g
		// Nothing at the float where it slides.
		{2.4, Sliding, "1 SSG in bulk below the stop, 3 No.4 as droppers", practice},
	} {
		list, err := Split(k.target, c, Limits{TipDiameter: 3, Water: water.Usual()}, k.fixing, Share{})
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, a := range list {
			found = found || a.Text == k.want && slices.Equal(a.Sources, []string{k.source})
			if k.fixing != BottomEnd && a.Locking != nil || k.fixing == BottomEnd && (a.Bulk != nil || a.Spread != nil) {
				t.Errorf("%v %v: %s", k.target, k.fixing, a.Text)
			}
			for _, source := range a.Sources {
				if !slices.ContainsFunc(Sources(), func(s Source) bool { return s.Key == source }) {
					t.Errorf("%s rests on %q, which is no source", a.Text, source)
				}
			}
		}
		if !found {
			t.Errorf("%v %v: no %q of %s in the list", k.target, k.fixing, k.want, k.source)
			for _, a := range list {
				t.Log(a.Text, a.Sources)
			}
		}
	}
	// Lead olivettes are left out where lead may not be used, whatever the shot is of.
	list, err := Split(2.4, convention(t, "gb-modern"), Limits{Market: "GB"}, TopAndBottom, Share{})
	if err != nil || slices.ContainsFunc(list, func(a Arrangement) bool { return strings.Contains(a.Text, "olivette") }) || len(list) == 0 {
		t.Errorf("GB: %v %v", err, list)
	}
	// In tin an olivette of lead stands for the tin that pulls as much: 2 g for 2.114 g
	// (lead 11.34, tin 7.28, fresh water at 15 degrees: 0.91190/0.86276 x 2).
	list, err = Split(2.4, convention(t, "gb-modern"), Limits{Water: water.Usual()}, TopAndBottom, Share{})
	i := slices.IndexFunc(list, func(a Arrangement) bool { return strings.HasPrefix(a.Text, "an olivette of 2 g") })
	if err != nil || i < 0 || math.Abs(float64(list[i].Total-Total(list[i].Droppers))-2.1139) > 0.0005 {
		t.Errorf("olivette in tin: %v %v", err, list)
	}
}

// Against every pairing of the two parts, on small tables: the first of the
// list has the fewest shot, then the fewest sizes, then the smallest error.
func TestSplitAgainstTryingEverything(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 71))
	answered := 0
	for range 4000 {
		var mg []int
		for range 2 + r.IntN(4) {
			if m := (4 + r.IntN(50)) * 10; !slices.Contains(mg, m) {
				mg = append(mg, m)
			}
		}
		slices.SortFunc(mg, func(a, b int) int { return b - a })
		target, tol, drop := 200+r.IntN(2000), 1+r.IntN(30), 100+r.IntN(200)
		lim := Limits{MaxShots: 2 + r.IntN(8), MaxKinds: 1 + r.IntN(3), Tolerance: unit.Gram(float64(tol) / milligrams)}
		fixing := []Fixing{BottomEnd, Sliding}[r.IntN(2)]
		each := 1
		if fixing == BottomEnd {
			each = 2
		}
		share := Share{Least: 0.5, Most: 0.85, Dropper: unit.Gram(float64(drop) / milligrams)}
		want := [3]int{math.MaxInt, 0, 0}
		var line func(i, shots, kinds, sum int)
		headKinds := 0
		line = func(i, shots, kinds, sum int) {
			off := max(target-sum, sum-target)
			if now := [3]int{shots, headKinds + kinds, off}; off <= tol && slices.Compare(now[:], want[:]) < 0 {
				want = now
			}
			for j := i; j < len(mg) && kinds < lim.MaxKinds; j++ {
				for n := 1; mg[j] <= drop && shots+n <= lim.MaxShots && sum+n*mg[j] <= target+tol; n++ {
					line(j+1, shots+n, kinds+1, sum+n*mg[j])
				}
			}
		}
		var head func(i, shots, kinds, sum int)
		head = func(i, shots, kinds, sum int) {
			if 20*sum >= 10*target && 20*sum <= 17*target {
				headKinds = kinds
				line(0, shots, 0, sum)
			}
			for j := i; j < len(mg) && kinds < lim.MaxKinds; j++ {
				for n := each; shots+n <= lim.MaxShots && 20*(sum+n*mg[j]) <= 17*target; n += each {
					head(j+1, shots+n, kinds+1, sum+n*mg[j])
				}
			}
		}
		head(0, 0, 0, 0)
		list, err := Split(unit.Gram(float64(target)/milligrams), made(mg...), lim, fixing, share)
		if err != nil {
			t.Fatal(err)
		}
		if len(list) == 0 != (want[0] == math.MaxInt) {
			t.Fatalf("%d of %v, droppers to %d, %+v: %v, want %v", target, mg, drop, lim, list, want)
		}
		if len(list) == 0 {
			continue
		}
		answered++
		a := list[0]
		got := [3]int{a.Shots(), len(a.Locking) + len(a.Bulk) + len(a.Droppers), int(math.Round(math.Abs(float64(a.Rest)) * milligrams))}
		if got != want {
			t.Fatalf("%d of %v, droppers to %d, %v: %q %v, want %v", target, mg, drop, fixing, a.Text, got, want)
		}
	}
	if answered < 600 {
		t.Errorf("only %d cases have an answer: the test tests little", answered)
	}
}

// What every arrangement promises, also of the shot there is.
func TestSplitKeepsItsPromise(t *testing.T) {
	all := []Convention{convention(t, "gb-modern"), convention(t, "gb-traditional"), convention(t, "continental"), convention(t, "us-split")}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(all).Draw(t, "convention")
		lim := Limits{TipDiameter: unit.Millimetre(rapid.SampledFrom([]float64{0, 1.5, 3, 6}).Draw(t, "tip")), Water: water.Usual()}
		if rapid.Bool().Draw(t, "box") {
			lim.Have = map[string]int{}
			for _, s := range c.Sizes {
				lim.Have[s.Name] = rapid.IntRange(-1, 6).Draw(t, s.Name)
			}
		}
		f := rapid.SampledFrom([]Fixing{BottomEnd, TopAndBottom, Sliding}).Draw(t, "fixing")
		target := unit.Gram(rapid.Float64Range(0.1, 12).Draw(t, "target"))
		list, err := Split(target, c, lim, f, Share{})
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range list {
			used := map[string]int{}
			for _, part := range [][]Count{a.Locking, a.Spread, a.Droppers, a.Bulk} {
				for _, k := range part {
					used[k.Size.Name] += k.N
				}
			}
			for name, n := range used {
				if have, ok := lim.Have[name]; ok && have >= 0 && n > have {
					t.Fatalf("%s needs %d of %s, there are %d", a.Text, n, name, have)
				}
			}
			for _, k := range a.Locking {
				if k.N%2 != 0 {
					t.Fatalf("%s is not in pairs", a.Text)
				}
			}
			if math.Abs(float64(a.Total+a.Rest-target)) > 1e-9 || a.Shots() > 15 {
				t.Fatalf("%s: total %v, rest %v, %d shot", a.Text, a.Total, a.Rest, a.Shots())
			}
			if a.TipKnown && math.Abs(float64(a.TipShift)) > 3.001 || !a.TipKnown && math.Abs(float64(a.Rest)) > 0.020001 {
				t.Fatalf("%s is off by %v g, %v mm", a.Text, a.Rest, a.TipShift)
			}
		}
	})
}

func TestSplitRefuses(t *testing.T) {
	c := convention(t, "gb-modern")
	for _, s := range []Share{{Least: 0.8, Most: 0.5}, {Least: -1, Most: 1}, {Least: math.NaN(), Most: 1}, {Most: 2}, {Dropper: -1}} {
		if _, err := Split(1, c, Limits{}, BottomEnd, s); fault.ClassOf(err) != fault.Input {
			t.Errorf("%+v: %v", s, err)
		}
	}
	if _, err := Split(unit.Gram(math.NaN()), c, Limits{}, BottomEnd, Share{}); fault.ClassOf(err) != fault.Input {
		t.Errorf("NaN: %v", err)
	}
}

// A tolerance as wide as the load, on the heaviest load and sizes off any step,
// is answered in time.
func TestSplitIsBounded(t *testing.T) {
	var mg []int
	for m := 49001; len(mg) < 30; m -= 1597 {
		mg = append(mg, m)
	}
	start := time.Now()
	for f := BottomEnd; f <= Sliding; f++ {
		if list, err := Split(500, made(mg...), Limits{MaxShots: 60, MaxKinds: 6, Tolerance: 400}, f, Share{}); err != nil || len(list) == 0 {
			t.Errorf("%v: %v %v", f, list, err)
		}
	}
	r, err := Solve(500, made(mg...), Limits{MaxShots: 60, MaxKinds: 6, Tolerance: 400})
	if err != nil || len(r.List) == 0 {
		t.Error(err)
	}
	if took := time.Since(start); took > 20*time.Second { // it takes about one; a loaded machine is given room
		t.Errorf("took %v", took)
	}
}

func TestParseFixing(t *testing.T) {
	for f := BottomEnd; f <= Sliding; f++ {
		if got, err := ParseFixing(strings.ToUpper(f.String())); err != nil || got != f {
			t.Errorf("%v: %v %v", f, got, err)
		}
	}
	if got, err := ParseFixing(" top-and-bottom "); err != nil || got != TopAndBottom {
		t.Errorf("%v %v", got, err)
	}
	if _, err := ParseFixing("in the middle"); fault.ClassOf(err) != fault.Input {
		t.Error(err)
	}
}

func BenchmarkSplit(b *testing.B) {
	c := convention(b, "gb-modern")
	for b.Loop() {
		if list, err := Split(4.37, c, Limits{TipDiameter: 3, Water: water.Usual()}, BottomEnd, Share{}); err != nil || len(list) == 0 {
			b.Fatal(err)
		}
	}
}
