package shot

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// made makes a convention of tin of masses in milligrams, heaviest first.
func made(mg ...int) Convention {
	tin, _ := water.MetalByKey("tin")
	c := Convention{Key: "made", Metal: tin}
	for _, m := range mg {
		c.Sizes = append(c.Sizes, Size{Name: fmt.Sprintf("S%d", m), Mass: unit.Gram(float64(m) / milligrams), Verified: true})
	}
	return c
}

// tries every count in whole milligrams and returns the first line of the list:
// fewest shot, fewest kinds, smallest error; 0 shot when there is none. It
// shares nothing with the search.
func tryAll(mg, most []int, maxShots, maxKinds, target, tol int) (shots, kinds, miss int) {
	best := [3]int{math.MaxInt, 0, 0}
	var try func(i, shots, kinds, sum int)
	try = func(i, shots, kinds, sum int) {
		if i == len(mg) {
			off := max(target-sum, sum-target)
			if now := [3]int{shots, kinds, off}; shots > 0 && off <= tol && slices.Compare(now[:], best[:]) < 0 {
				best = now
			}
			return
		}
		for n := 0; n <= most[i] && shots+n <= maxShots && sum+n*mg[i] <= target+tol; n++ {
			k := kinds
			if n > 0 {
				k++
			}
			if k <= maxKinds {
				try(i+1, shots+n, k, sum+n*mg[i])
			}
		}
	}
	try(0, 0, 0, 0)
	if best[0] == math.MaxInt {
		return 0, 0, 0
	}
	return best[0], best[1], best[2]
}

// 6,000 random cases with a count for every size, against trying everything:
// shots, kinds and error of the first line, and no size over its count.
func TestSolveAgainstTryingEverything(t *testing.T) {
	const cases = 6000
	r := rand.New(rand.NewPCG(3, 14))
	answered := 0
	for i := range cases {
		grain := []int{1, 5, 10}[r.IntN(3)]
		var mg []int
		for range 1 + r.IntN(6) {
			if m := (40/grain + r.IntN(560/grain)) * grain; !slices.Contains(mg, m) {
				mg = append(mg, m)
			}
		}
		slices.SortFunc(mg, func(a, b int) int { return b - a })
		c := made(mg...)
		most := make([]int, len(mg))
		have := map[string]int{}
		for j := range mg {
			most[j] = r.IntN(5)
			have[c.Sizes[j].Name] = most[j]
		}
		maxShots, maxKinds := 1+r.IntN(8), 1+r.IntN(4)
		target, tol := 30+r.IntN(2500), 1+r.IntN(50)
		if i%2 == 0 { // half of the cases near something that can be hung
			target = r.IntN(7) - 3
			for j := range mg {
				target += mg[j] * min(most[j], r.IntN(4))
			}
			target = max(target, 30)
		}
		got, err := Solve(unit.Gram(float64(target)/milligrams), c, Limits{Have: have, MaxShots: maxShots, MaxKinds: maxKinds,
			Tolerance: unit.Gram(float64(tol) / milligrams)})
		if err != nil {
			t.Fatal(err)
		}
		shots, kinds, miss := tryAll(mg, most, maxShots, maxKinds, target, tol)
		if (shots > 0) != (len(got.List) > 0) {
			t.Fatalf("case %d, %d of %v x %v: %q, want %d shot", i, target, mg, most, texts(got.List), shots)
		}
		if shots == 0 {
			continue
		}
		answered++
		first := got.List[0]
		off := int(math.Round(math.Abs(float64(first.Rest)) * milligrams))
		if first.Shots() != shots || first.Kinds() != kinds || off != miss {
			t.Fatalf("case %d, %d of %v x %v: %q off %d mg, want %d shot, %d kinds, %d mg", i, target, mg, most, first.Text(), off, shots, kinds, miss)
		}
		for _, e := range got.List {
			for _, k := range e.Counts {
				if k.N > have[k.Size.Name] {
					t.Fatalf("case %d: %s, but there are %d of %s", i, e.Text(), have[k.Size.Name], k.Size.Name)
				}
			}
		}
	}
	if answered < cases/4 {
		t.Errorf("only %d of %d cases have an answer: the test tests little", answered, cases)
	}
}

// greedy takes the largest shot that still goes in, as one would by hand; the
// last one is then rounded up where that comes nearer.
func greedy(mg []int, target int) (shots, off int) {
	rest := target
	for _, m := range mg {
		for rest >= m {
			rest -= m
			shots++
		}
	}
	if least := mg[len(mg)-1]; least-rest < rest {
		return shots + 1, least - rest
	}
	return shots, rest
}

// Largest first is wrong where the sizes are not neat. Masses in mg after the
// English pellet counts, 28.35 g to 15, 35, 70 ... the ounce, which no step
// fits. A prototype on a table of this kind found, over 500 loads to 5 g, more
// shot than needed in 138 and a miss of over 5 mg in 96; the table was another,
// so the check is that both happen often, and never the other way round.
func TestLargestFirstIsNotGoodEnough(t *testing.T) {
	mg := []int{1890, 810, 404, 283, 203, 167, 129, 103, 83, 63, 49, 33, 20}
	c := made(mg...)
	more, missed := 0, 0
	for target := 40; target <= 5000; target += 10 {
		g, off := greedy(mg, target)
		got, err := Solve(unit.Gram(float64(target)/milligrams), c, Limits{Fine: true, MaxShots: 30, MaxKinds: 6, Tolerance: 0.005})
		if err != nil {
			t.Fatal(err)
		}
		if off > 5 {
			if len(got.List) > 0 {
				missed++
			}
			continue
		}
		if len(got.List) == 0 || got.List[0].Shots() > g {
			t.Fatalf("%d mg: %q, largest first needs %d", target, texts(got.List), g)
		}
		if got.List[0].Shots() < g {
			more++
		}
	}
	if more < 25 || missed < 50 {
		t.Errorf("largest first: more shot in %d loads, missed in %d; both should be many", more, missed)
	}
	// Sums one can do in the head: 0.80 g is 2 of 0.40, where largest first takes 0.60 and then 0.10 twice.
	if got := Equivalents(0.80, made(600, 400, 100), Limits{Tolerance: 0.001}); len(got) == 0 || got[0].Text() != "2 S400" {
		t.Errorf("0.80 g: %q", texts(got))
	}
}

// Nothing that can be asked hangs, and nothing wrong is answered in silence.
func TestSolveRefusesWhatIsNoQuestion(t *testing.T) {
	modern := convention(t, "gb-modern")
	grams := convention(t, "grams")
	bad := made(400, 200)
	bad.Sizes[1].Mass = 0
	nan := made(400)
	nan.Sizes[0].Mass = unit.Gram(math.NaN())
	for name, k := range map[string]struct {
		target unit.Gram
		c      Convention
		lim    Limits
	}{
		"nothing":          {0, modern, Limits{}},
		"negative":         {-1, modern, Limits{}},
		"not a number":     {unit.Gram(math.NaN()), modern, Limits{}},
		"infinite":         {unit.Gram(math.Inf(1)), modern, Limits{}},
		"overflow":         {1e300, modern, Limits{}},
		"empty table":      {1, made(), Limits{}},
		"no convention":    {1, Convention{}, Limits{}},
		"a unit of mass":   {1, grams, Limits{}},
		"size of no mass":  {1, bad, Limits{}},
		"size of NaN":      {1, nan, Limits{}},
		"tolerance NaN":    {1, modern, Limits{Tolerance: unit.Gram(math.NaN())}},
		"tip infinite":     {1, modern, Limits{TipDiameter: unit.Millimetre(math.Inf(1))}},
		"shift negative":   {1, modern, Limits{MaxShift: -1}},
		"shots negative":   {1, modern, Limits{MaxShots: -1}},
		"water of 99 C":    {1, modern, Limits{Water: water.Water{TempC: 99}}},
		"has unknown size": {1, modern, Limits{Have: map[string]int{"ZZZ": 3}}},
		"less unknown":     {1, modern, Limits{Without: []string{"ZZZ"}}},
	} {
		_, err := Solve(k.target, k.c, k.lim)
		if fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: error %v, want one of input", name, err)
		}
		Equivalents(k.target, k.c, k.lim) // returns
	}
}

// A billion shot, the heaviest load and many sizes off any step stay within
// time and memory, and the result says what was cut short.
func TestSolveIsBounded(t *testing.T) {
	start := time.Now()
	r, err := Solve(4, made(400, 200), Limits{MaxShots: 1e9, MaxKinds: 1e9, Have: map[string]int{"S400": 1e9}})
	if err != nil || len(r.List) == 0 || r.List[0].Text() != "10 S400" || len(r.Bounds) != 2 {
		t.Errorf("a billion shot: %v %q %q", err, texts(r.List), r.Bounds)
	}
	var mg []int
	for m := 9001; len(mg) < 40; m -= 97 {
		mg = append(mg, m)
	}
	r, err = Solve(500, made(mg...), Limits{MaxShots: 60, MaxKinds: 6})
	if err != nil || len(r.Bounds) != 1 || !strings.Contains(r.Bounds[0], "steps of") {
		t.Errorf("500 g of 40 sizes: %v, bounds %q", err, r.Bounds)
	}
	for _, e := range r.List {
		if off := math.Abs(500 - float64(Total(e.Counts))); off > 0.02+1e-9 || e.Shots() > 60 {
			t.Errorf("500 g: %s is off by %v", e.Text(), off)
		}
	}
	if took := time.Since(start); took > 5*time.Second { // the aim is a tenth; a loaded machine is given room
		t.Errorf("took %v", took)
	}
}

// A tolerance below the smallest shot is no error: nothing comes that near, and
// what comes nearest is told.
func TestSolveTellsTheNearest(t *testing.T) {
	r, err := Solve(1.03, made(400, 200), Limits{Tolerance: 0.001})
	if err != nil || len(r.List) != 0 || r.Nearest == nil || r.Nearest.Text() != "2 S400 + 1 S200" || math.Abs(float64(r.Nearest.Rest)-0.03) > 1e-9 {
		t.Errorf("%v %q nearest %+v", err, texts(r.List), r.Nearest)
	}
	r, err = Solve(1, made(400), Limits{Have: map[string]int{"S400": 0}})
	if err != nil || r.Nearest != nil || len(r.LeftOut) != 1 || r.LeftOut[0].Why != NotHad || len(r.LeftOut[0].Sizes) != 1 {
		t.Errorf("no shot at all: %v %+v", err, r)
	}
}

func TestSolveSaysWhatWasLeftOut(t *testing.T) {
	r, err := Solve(0.18, convention(t, "gb-traditional"), Limits{Market: "gb", Without: []string{"No. 8"}})
	if err != nil {
		t.Fatal(err)
	}
	why := map[Reason]string{}
	for _, l := range r.LeftOut {
		why[l.Why] = l.Text
	}
	rule, _ := RuleFor("GB")
	for reason, want := range map[Reason]string{ByMarket: rule.Text, NotHad: "No.8:"} {
		if !strings.Contains(why[reason], want) {
			t.Errorf("%s: %q, want %q in it", reason, why[reason], want)
		}
	}
	if !strings.HasPrefix(why[ByMarket], "SSG, SG, AAA") {
		t.Errorf("the market leaves out %q", why[ByMarket])
	}
	if r.LeftOut[0].Why != ByMarket || r.LeftOut[1].Why != NotHad {
		t.Errorf("order of the reasons: %+v", r.LeftOut)
	}
	r, err = Solve(0.6, convention(t, "gb-modern"), Limits{})
	if err != nil || !slices.ContainsFunc(r.LeftOut, func(l LeftOut) bool {
		return l.Why == NotVerified && strings.Contains(l.Text, "AB") && strings.HasSuffix(l.Text, "weigh before use")
	}) || r.LeftOut[1].Why != TooFine || !strings.HasPrefix(r.LeftOut[1].Text, "No.11, No.12, No.13: 0.03 g and less") {
		t.Errorf("%v: %+v", err, r.LeftOut)
	}
}

// A thin tip shows 0.01 g: 0.83 g ends in dust shot, because nothing else is
// near enough, and carries the rounding of the printed 0.01 g.
func TestEndsInDustWhenItMust(t *testing.T) {
	c := convention(t, "gb-modern")
	thin := Limits{TipDiameter: 2, Water: water.Usual(), MaxShift: 1, MaxShots: 3}
	r, err := Solve(0.83, c, thin)
	if err != nil || !r.Dust || len(r.List) == 0 || r.List[0].Text() != "1 AAA + 1 No.11" || !r.List[0].Dust() {
		t.Fatalf("%v dust %v: %q", err, r.Dust, texts(r.List))
	}
	if got := float64(r.List[0].Rounding); math.Abs(got-0.005) > 1e-12 {
		t.Errorf("rounding %v, want half of 0.01 g", got)
	}
	// 0.86 g is AAA and No.8: no dust, though No.11 twice would do it too.
	if r, err = Solve(0.86, c, thin); err != nil || r.Dust || r.List[0].Dust() || r.List[0].Rounding != 0 {
		t.Errorf("%v: %q", err, texts(r.List))
	}
	// Two shot of one size are rounded alike: their roundings add up.
	if r, err = Solve(0.10, made(), Limits{}); err == nil {
		t.Error("an empty convention is answered")
	}
	if e := (Limits{}).judge(0.08, []Count{{c.Sizes[len(c.Sizes)-4], 2}}, c.Metal); math.Abs(float64(e.Rounding)-0.01) > 1e-12 {
		t.Errorf("2 %s: rounding %v", e.Counts[0].Size.Name, e.Rounding)
	}
}

func TestParseHave(t *testing.T) {
	c := convention(t, "gb-modern")
	have, err := ParseHave("aaa:4, BB : 6,no 8", c)
	if err != nil || len(have) != 3 || have["AAA"] != 4 || have["BB"] != 6 || have["No.8"] != AnyNumber {
		t.Fatalf("%v %v", have, err)
	}
	r, err := Solve(4, c, Limits{Have: have})
	if err != nil || len(r.List) == 0 || r.List[0].Text() != "4 AAA + 2 BB" {
		t.Errorf("%v %q", err, texts(r.List))
	}
	for _, bad := range []string{"", "AAA:-1", "AAA:x", "AAA:1000000000", "AAA:99999999999999999999", "ZZ:2", "AAA:1,aaa:2", "AAA:"} {
		if _, err := ParseHave(bad, c); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func FuzzParseHave(f *testing.F) {
	for _, s := range []string{"AAA:4, BB:6", "no 8", "3/0:2", ":", ",", "AAA:9223372036854775808"} {
		f.Add(s)
	}
	c, _ := ByKey("gb-modern")
	f.Fuzz(func(t *testing.T, s string) {
		have, err := ParseHave(s, c)
		if err != nil {
			return
		}
		if _, err := Solve(1, c, Limits{Have: have}); err != nil {
			t.Fatalf("%q is read and not understood: %v", s, err)
		}
	})
}

// The aim is under 5 ms: 20 g in steps of 1 mg.
func BenchmarkSolve20GramsIn1Milligram(b *testing.B) {
	c := made(1891, 811, 401, 281, 201, 171, 131, 101, 83, 63, 49, 33)
	for b.Loop() {
		if r, err := Solve(20, c, Limits{MaxShots: 30, TipDiameter: 3, Water: water.Usual()}); err != nil || len(r.List) == 0 {
			b.Fatal(err)
		}
	}
}

// What the bounds promise at worst.
func BenchmarkSolveAtItsBounds(b *testing.B) {
	var mg []int
	for m := 9001; len(mg) < 40; m -= 97 {
		mg = append(mg, m)
	}
	c := made(mg...)
	for b.Loop() {
		if _, err := Solve(500, c, Limits{MaxShots: 60, MaxKinds: 6}); err != nil {
			b.Fatal(err)
		}
	}
}
