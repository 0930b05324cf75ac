package shot

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"floatmark/loading/unit"
	"floatmark/loading/water"

	"pgregory.net/rapid"
)

func texts(list []Equivalent) []string {
	var all []string
	for _, e := range list {
		all = append(all, e.Text())
	}
	return all
}

func TestEquivalentsOfKnownLoads(t *testing.T) {
	for _, c := range []struct {
		key    string
		target unit.Gram
		lim    Limits
		want   string
	}{
		{"gb-modern", 0.8, Limits{}, "1 AAA"},
		{"gb-modern", 2.8, Limits{}, "1 SSG + 1 AAA + 1 BB"},
		{"gb-modern", 3.2, Limits{}, "2 SSG"},
		{"gb-modern", 3.2, Limits{Unverified: true}, "1 x 2SSG"},
		// Fewest shot first: two are 0.02 g short and accepted, three are exact.
		{"gb-traditional", 2.43, Limits{}, "1 SG + 1 AAA"},
		{"gb-traditional", 2.43, Limits{Tolerance: 0.01}, "3 AAA"},
		{"gb-traditional", 2.43, Limits{Market: "GB"}, ""},
		{"gb-traditional", 0.18, Limits{Market: "GB"}, "3 No.8"},
		{"continental", 0.77, Limits{}, "1 no. 3/0"},
		// Fine shot only when asked for.
		{"gb-modern", 0.03, Limits{Tolerance: 0.001}, ""},
		{"gb-modern", 0.03, Limits{Tolerance: 0.001, Fine: true}, "1 No.11"},
		{"us-split", 2 * unit.GramsPerOunce / 24, Limits{}, "1 x 1/12 oz (no. 4)"},
		{"gb-modern", 0, Limits{}, ""}, {"gb-modern", -1, Limits{}, ""}, {"gb-modern", 400, Limits{}, ""},
		{"gb-modern", unit.Gram(math.NaN()), Limits{}, ""}, {"gb-modern", unit.Gram(math.Inf(1)), Limits{}, ""},
	} {
		list := Equivalents(c.target, convention(t, c.key), c.lim)
		got := ""
		if len(list) > 0 {
			got = list[0].Text()
		}
		if got != c.want {
			t.Errorf("%s %v %+v: %q, want %q (all: %q)", c.key, c.target, c.lim, got, c.want, texts(list))
		}
	}
}

// The trade-off of shots against error for 2.250 g in the traditional table:
// one shot 0.360 g off, two 0.040, three 0.003, four exact. (That table is in
// milligrams with stand-in masses, so it is written out here.)
func TestParetoOfShotsAndError(t *testing.T) {
	lead, _ := water.MetalByKey("lead")
	c := Convention{Key: "stand-in", Metal: lead}
	for _, m := range []unit.Gram{1.89, 0.81, 0.40, 0.28, 0.20, 0.17, 0.13, 0.10, 0.083, 0.063, 0.049, 0.033} {
		c.Sizes = append(c.Sizes, Size{Name: "S" + fmt.Sprint(m), Mass: m, Verified: true})
	}
	want := map[int]float64{1: 0.360, 2: 0.040}
	for shots, miss := range want {
		e, ok := Nearest(2.25, c, Limits{MaxShots: shots, MaxKinds: 6})
		if !ok || math.Abs(math.Abs(float64(e.Rest))-miss) > 1e-9 || e.Shots() > shots {
			t.Errorf("nearest with %d shot: %q, rest %v, want %v", shots, e.Text(), e.Rest, miss)
		}
	}
	list := Equivalents(2.25, c, Limits{Tolerance: 0.05, MaxKinds: 6})
	if list[0].Shots() != 2 || math.Abs(float64(list[len(list)-1].Rest)) > 1e-9 || list[len(list)-1].Shots() > 4 {
		t.Errorf("list %q", texts(list))
	}
}

// Millimetres of tip per 0.01 g of pull, computed as 1/(rho_w A): 3.189 for a
// tip of 2 mm, 1.417 for 3 mm, 0.354 for 6 mm in fresh water; 1.380 in the sea.
func TestTipShift(t *testing.T) {
	c := convention(t, "gb-modern")
	fresh, sea := water.Water{TempC: 20}, water.Water{TempC: 20, Salinity: 35}
	for _, k := range []struct {
		d    unit.Millimetre
		w    water.Water
		want float64
	}{{2, fresh, 3.189}, {3, fresh, 1.417}, {6, fresh, 0.354}, {3, sea, 1.380}} {
		missing := water.Mass(0.01, c.Metal, k.w)
		list := Equivalents(0.8+missing, c, Limits{TipDiameter: k.d, Water: k.w, MaxShift: 5})
		if len(list) == 0 || list[0].Text() != "1 AAA" || !list[0].TipKnown {
			t.Fatalf("tip %v: %q", k.d, texts(list))
		}
		if got := float64(list[0].TipShift); math.Abs(got-k.want) > 0.0006 {
			t.Errorf("tip %v in %v: shift %.4f, want %v", k.d, k.w, got, k.want)
		}
	}
	// Too much shot sinks the tip: a negative shift. Unknown tip: none.
	list := Equivalents(0.79, c, Limits{TipDiameter: 3, Water: fresh})
	if len(list) == 0 || list[0].TipShift >= 0 || list[0].Rest >= 0 {
		t.Errorf("0.79 g: %+v", list)
	}
	if e := Equivalents(0.79, c, Limits{})[0]; e.TipKnown || e.TipShift != 0 {
		t.Errorf("tip unknown: %+v", e)
	}
}

// oracle tries every count of shot, slowly and plainly, and applies the rule
// of the list to all of them at once.
func oracle(target unit.Gram, sizes []Size, maxShots, maxKinds int, tol unit.Gram) []string {
	var all []candidate
	n := make([]int, len(sizes))
	var try func(i, left int)
	try = func(i, left int) {
		if i == len(sizes) {
			var counts []Count
			for j, k := range n {
				if k > 0 {
					counts = append(counts, Count{sizes[j], k})
				}
			}
			miss := math.Abs(float64(target - Total(counts)))
			if len(counts) > 0 && len(counts) <= maxKinds && miss <= float64(tol)+0.5e-6 {
				all = append(all, candidate{counts, maxShots - left, int64(math.Round(miss * 1e6))})
			}
			return
		}
		for k := 0; k <= left; k++ {
			n[i] = k
			try(i+1, left-k)
		}
		n[i] = 0
	}
	try(0, maxShots)
	key := func(c candidate) string { // smaller is better, by plain text
		s := fmt.Sprintf("%03d %03d %012d", c.shots, len(c.counts), c.miss)
		for _, k := range c.counts {
			s += fmt.Sprintf(" %08d %03d", 99999999-int(math.Round(float64(k.Size.Mass)*1000)), 999-k.N)
		}
		return s
	}
	slices.SortFunc(all, func(a, b candidate) int { return strings.Compare(key(a), key(b)) })
	var list []string
	best := int64(math.MaxInt64)
	for _, c := range all {
		if c.miss < best {
			best = c.miss
			list = append(list, CountsText(c.counts))
		}
	}
	return list
}

func TestEquivalentsAgreeWithTryingEverything(t *testing.T) {
	tin, _ := water.MetalByKey("tin")
	rapid.Check(t, func(t *rapid.T) {
		masses := rapid.SliceOfNDistinct(rapid.IntRange(31, 400), 1, 6, rapid.ID[int]).Draw(t, "mg")
		slices.SortFunc(masses, func(a, b int) int { return b - a })
		c := Convention{Key: "drawn", Metal: tin}
		for _, m := range masses {
			c.Sizes = append(c.Sizes, Size{Name: fmt.Sprintf("S%d", m), Mass: unit.Gram(float64(m) / 1000), Verified: true})
		}
		lim := Limits{
			MaxShots:  rapid.IntRange(1, 6).Draw(t, "shots"),
			MaxKinds:  rapid.IntRange(1, 4).Draw(t, "kinds"),
			Tolerance: unit.Gram(rapid.IntRange(1, 60).Draw(t, "tol")) / 1000,
		}
		target := unit.Gram(rapid.IntRange(10, 2400).Draw(t, "target")) / 1000
		got := texts(Equivalents(target, c, lim))
		want := oracle(target, c.Sizes, lim.MaxShots, lim.MaxKinds, lim.Tolerance)
		if !slices.Equal(got, want) {
			t.Fatalf("target %v of %v, %+v:\n got %q\nwant %q", target, masses, lim, got, want)
		}
	})
}

// What every list promises: within the limits, adding up, ever nearer.
func TestEquivalentsKeepTheirPromise(t *testing.T) {
	all := Conventions()
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(all).Draw(t, "convention")
		lim := Limits{
			TipDiameter: unit.Millimetre(rapid.SampledFrom([]float64{0, 1, 2, 3, 4.5, 6}).Draw(t, "tip")),
			Water:       water.Usual(), Market: rapid.SampledFrom([]string{"", "GB"}).Draw(t, "market"),
			Unverified: rapid.Bool().Draw(t, "unverified"), Fine: rapid.Bool().Draw(t, "fine"),
		}
		target := unit.Gram(rapid.Float64Range(0.02, 12).Draw(t, "target"))
		miss := math.Inf(1)
		// Fine sizes come in unasked only where the tip is known and all else fails.
		coarse := c
		coarse.Sizes = slices.DeleteFunc(slices.Clone(c.Sizes), func(s Size) bool { return s.Mass <= FineShot })
		needed := lim.TipDiameter > 0 && len(Equivalents(target, coarse, lim)) == 0
		for _, e := range Equivalents(target, c, lim) {
			rest := float64(e.Rest)
			switch {
			case e.Shots() < 1 || e.Shots() > 15 || e.Kinds() > 3:
				t.Fatalf("%s: %d shot, %d kinds", e.Text(), e.Shots(), e.Kinds())
			case math.Abs(rest) >= miss:
				t.Fatalf("%s is no nearer than the one before", e.Text())
			case math.Abs(float64(Total(e.Counts)+e.Rest-target)) > 1e-9:
				t.Fatalf("%s does not add up", e.Text())
			case lim.TipDiameter > 0 && math.Abs(float64(e.TipShift)) > 3.001, lim.TipDiameter == 0 && math.Abs(rest) > 0.020001:
				t.Fatalf("%s is off by %v g, %v mm", e.Text(), e.Rest, e.TipShift)
			}
			miss = math.Abs(rest)
			for _, k := range e.Counts {
				if !k.Size.Verified && !lim.Unverified || k.Size.Mass <= FineShot && !lim.Fine && !needed || !Usable(k.Size.Mass, c.Metal, lim.Market) {
					t.Fatalf("%s uses %s", e.Text(), k.Size.Name)
				}
			}
		}
	})
}

func ExampleEquivalents() {
	c, _ := ByKey("gb-modern")
	for _, e := range Equivalents(0.85, c, Limits{TipDiameter: 6, Water: water.Usual()}) {
		fmt.Println(e.Text(), "·", e.TipShift.Text(0.1, unit.Style{}))
	}
	// Output:
	// 1 AAA · 1.5 mm
	// 1 AAA + 1 No.9 · 0 mm
}

func BenchmarkEquivalents(b *testing.B) {
	for _, k := range []struct {
		key    string
		target unit.Gram
	}{{"gb-modern", 0.83}, {"gb-modern", 4.23}, {"gb-traditional", 2.43}, {"continental", 8}, {"us-split", 20}} {
		c := convention(b, k.key)
		b.Run(fmt.Sprintf("%s/%.2f", k.key, float64(k.target)), func(b *testing.B) {
			for b.Loop() {
				Equivalents(k.target, c, Limits{TipDiameter: 3, Water: water.Usual()})
			}
		})
	}
}

// Of equally few shot, equally few sizes and the same error, the larger shot
// comes first: within one total, and between one as much over as under.
func TestLargerShotFirst(t *testing.T) {
	tin, _ := water.MetalByKey("tin")
	for _, k := range []struct {
		mg          []int
		target, tol unit.Gram
		want        string
	}{
		{[]int{400, 300, 200, 100}, 0.5, 0.001, "1 S400 + 1 S100"}, // not 300 + 200
		{[]int{400, 300, 200}, 1.0, 0.001, "2 S400 + 1 S200"},      // not 400 + 2 x 300
		{[]int{400, 290, 120}, 0.95, 0.03, "2 S400 + 1 S120"},      // 0.92; not 0.98 of 400 + 2 x 290
	} {
		c := Convention{Key: "tie", Metal: tin}
		for _, m := range k.mg {
			c.Sizes = append(c.Sizes, Size{Name: fmt.Sprintf("S%d", m), Mass: unit.Gram(float64(m) / 1000), Verified: true})
		}
		list := Equivalents(k.target, c, Limits{Tolerance: k.tol, MaxKinds: 2})
		if len(list) == 0 || list[0].Text() != k.want {
			t.Errorf("%v of %v: %q, want %q first", k.target, k.mg, texts(list), k.want)
		}
	}
}
