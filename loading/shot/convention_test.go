package shot

import (
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

func convention(t testing.TB, key string) Convention {
	t.Helper()
	c, ok := ByKey(key)
	if !ok {
		t.Fatalf("no convention %s", key)
	}
	return c
}

func TestConventionsAreSound(t *testing.T) {
	sources := map[string]bool{}
	for _, s := range Sources() {
		if s.Key == "" || s.Kind == "" || s.What == "" || sources[s.Key] {
			t.Errorf("source %q is incomplete or double", s.Key)
		}
		sources[s.Key] = true
	}
	sizes := map[string]int{"gb-modern": 19, "gb-traditional": 13, "gb-pellets": 25, "continental": 17, "styl-rising": 10,
		"styl-falling": 12, "olivettes": 20, "us-split": 9, "japan": 10, "grams": 0, "ounces": 0}
	used := map[string]bool{}
	for _, c := range Conventions() {
		if err := c.Check(); err != nil {
			t.Error(err)
		}
		if c.Name == "" || c.Revision < 1 || len(c.Sizes) != sizes[c.Key] {
			t.Errorf("%s: name %q, revision %d, %d sizes, want %d", c.Key, c.Name, c.Revision, len(c.Sizes), sizes[c.Key])
		}
		for _, s := range c.Sizes {
			used[s.Source] = true
			if !sources[s.Source] || s.Verified != (s.Source != "memory") || (s.Caution() == "") != s.Verified {
				t.Errorf("%s %s: source %q, verified %v, caution %q", c.Key, s.Name, s.Source, s.Verified, s.Caution())
			}
			if (s.Rounding > 0) != (s.Mass <= SmallShot) || s.Rounding > s.Mass/2+1e-12 || s.Weighed.N != 0 {
				t.Errorf("%s %s of %v: rounding %v", c.Key, s.Name, s.Mass, s.Rounding)
			}
		}
	}
	for _, d := range Disagreements() {
		for _, r := range d.Readings {
			used[r.Source] = true
		}
	}
	for key := range sources {
		if !used[key] {
			t.Errorf("source %s is used by no size and no disagreement", key)
		}
	}
	if len(Conventions()) != len(sizes) {
		t.Errorf("%d conventions, want %d", len(Conventions()), len(sizes))
	}
}

// Nominal English pellets to the ounce: diameters and counts from The Shot Gun
// (T D S & J A Purdey) as tabulated in a technical note of 2001, "Shotgun
// barrels and ammunition: specifications & performance"; the counts of No.7,
// 8 and 9 read also in a clay-shooting magazine's cartridge tests (8 Jan 2020).
// The traditional column is that scale. SG and No.10 are not on it: the
// shotgun SG is 8 to the ounce, 3.54 g, and 850 to the ounce is 0.033 g.
func TestTraditionalIsTheShotgunScale(t *testing.T) {
	perOunce := map[string]float64{"SSG": 15, "AAA": 35, "BB": 70, "No.1": 100, "No.3": 140, "No.4": 170, "No.5": 220,
		"No.6": 270, "No.7": 340, "No.8": 450, "No.9": 580, "SG": 8, "No.10": 850}
	const printed = 0.005 // half the last digit of the table
	for _, s := range convention(t, "gb-traditional").Sizes {
		byCount := unit.GramsPerOunce / perOunce[s.Name]
		agrees := math.Abs(byCount-float64(s.Mass)) <= printed
		if want := s.Name != "SG" && s.Name != "No.10"; agrees != want {
			t.Errorf("%s: %v g, by count %.4f g: agrees %v, want %v", s.Name, s.Mass, byCount, agrees, want)
		}
	}
}

// The ladder SSG = 2 AAA = 4 BB = 8 No.4 = 16 No.6 holds for the present-day
// set only.
func TestLadder(t *testing.T) {
	for _, c := range Conventions() {
		ssg, ok := c.Size("SSG")
		if !ok {
			continue
		}
		holds := true
		for name, n := range map[string]float64{"AAA": 2, "BB": 4, "No.4": 8, "No.6": 16} {
			s, _ := c.Size(name)
			holds = holds && math.Abs(n*float64(s.Mass)-float64(ssg.Mass)) < 1e-9
		}
		if holds != (c.Key == "gb-modern") {
			t.Errorf("%s: the ladder holds: %v", c.Key, holds)
		}
	}
}

// US sizes lead with the ounce, and are found by it.
func TestUSSizesLeadWithOunces(t *testing.T) {
	c := convention(t, "us-split")
	for label, name := range map[string]string{"1/64 oz (BB)": "BB", "1/10 oz (no. 3)": "3", "1/50 oz (no. 3/0)": "3/0"} {
		for _, asked := range []string{name, label, label[:strings.Index(label, " (")]} {
			if s, ok := c.Size(asked); !ok || s.Name != name || s.Label() != label {
				t.Errorf("%q is %q, label %q", asked, s.Name, s.Label())
			}
		}
	}
	counts, err := ParseCounts("2 x 1/64 oz + 1 x 1/10 oz (no. 3)", c)
	if err != nil || CountsText(counts) != "2 x 1/64 oz (BB) + 1 x 1/10 oz (no. 3)" {
		t.Errorf("%v, %v", counts, err)
	}
}

// The chart gives grams beside the fractions of an ounce.
func TestUSFractions(t *testing.T) {
	c := convention(t, "us-split")
	for name, g := range map[string]float64{"3/0": 0.567, "BB": 0.443, "B": 0.295, "7": 1.181, "5": 2.181, "4": 2.362, "3": 2.835, "1": 4.725, "0": 7.087} {
		if s, ok := c.Size(name); !ok || math.Abs(float64(s.Mass)-g) > 0.0005 {
			t.Errorf("US %s = %v g, want %v", name, s.Mass, g)
		}
	}
}

func TestSizeNames(t *testing.T) {
	gb, cont := convention(t, "gb-modern"), convention(t, "continental")
	for _, name := range []string{"No.4", "no4", "No 4", "#4", "n°4", "Nr. 4", "4"} {
		if s, ok := gb.Size(name); !ok || s.Name != "No.4" {
			t.Errorf("Size(%q) = %v, %v", name, s, ok)
		}
	}
	if s, ok := cont.Size("no. 3/0"); !ok || s.Mass != 0.77 {
		t.Errorf("3/0 = %v, %v", s, ok)
	}
	for _, name := range []string{"", "No", "No.", "No.99", "3/0"} {
		if s, ok := gb.Size(name); ok {
			t.Errorf("Size(%q) = %v", name, s)
		}
	}
}

func TestCheckRefusesBrokenConventions(t *testing.T) {
	tin, _ := water.MetalByKey("tin")
	ok := Convention{Key: "own", Metal: tin, Sizes: []Size{{Name: "big", Mass: 1}, {Name: "small", Mass: 0.1}}}
	if err := ok.Check(); err != nil {
		t.Fatal(err)
	}
	for what, c := range map[string]Convention{
		"no key":      {Metal: tin, Sizes: ok.Sizes},
		"no sizes":    {Key: "own", Metal: tin},
		"no metal":    {Key: "own", Sizes: ok.Sizes},
		"no name":     {Key: "own", Metal: tin, Sizes: []Size{{Mass: 1}}},
		"no mass":     {Key: "own", Metal: tin, Sizes: []Size{{Name: "a"}}},
		"NaN":         {Key: "own", Metal: tin, Sizes: []Size{{Name: "a", Mass: unit.Gram(math.NaN())}}},
		"double name": {Key: "own", Metal: tin, Sizes: []Size{{Name: "No.4", Mass: 1}, {Name: "no 4", Mass: 1}}},
		"order":       {Key: "own", Metal: tin, Sizes: []Size{{Name: "a", Mass: 1}, {Name: "b", Mass: 2}}},
	} {
		if err := c.Check(); fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// The GB rule as read: 0.06 g or less, or more than 28.35 g, of lead.
func TestUsable(t *testing.T) {
	lead, _ := water.MetalByKey("lead")
	tin, _ := water.MetalByKey("tin")
	for _, c := range []struct {
		m      unit.Gram
		metal  water.Metal
		market string
		want   bool
	}{
		{0.06, lead, "GB", true}, {0.061, lead, "gb", false}, {28.35, lead, "GB", false}, {28.36, lead, "GB", true},
		// New Hampshire 1 oz and less, New York 1/2 oz and less, Massachusetts
		// under 1 oz, Vermont under 1/2 oz.
		{unit.GramsPerOunce, lead, "US-NH", false}, {28.36, lead, "US-NH", true}, {0.01, lead, "us-ny", false},
		{unit.GramsPerOunce / 2, lead, "US-NY", false}, {14.18, lead, "US-NY", true}, {unit.GramsPerOunce, lead, "US-MA", true},
		{28.3, lead, "US-MA", false}, {unit.GramsPerOunce / 2, lead, "US-VT", true}, {0.4, tin, "US-NH", true}, {0.4, lead, "US", true},
		{0.4, tin, "GB", true}, {0.4, lead, "", true}, {0.4, lead, "XX", true},
	} {
		if got := Usable(c.m, c.metal, c.market); got != c.want {
			t.Errorf("Usable(%v, %s, %q) = %v", c.m, c.metal.Key, c.market, got)
		}
	}
	for _, r := range Rules() {
		if r.Source == "" || r.Text == "" {
			t.Errorf("rule %s has no source or text", r.Market)
		}
	}
}
