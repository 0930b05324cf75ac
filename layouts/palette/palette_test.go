package palette

import (
	"math"
	"slices"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/legible"

	"pgregory.net/rapid"
)

// Another published model of the two common lacks: Machado, Oliveira and
// Fernandes 2009, IEEE Transactions on Visualization and Computer Graphics
// 15(6), 1291-1298, severity 1.0.
var machado = []projection{
	{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
}

func TestDefaultStaysApart(t *testing.T) {
	const ofAll, ofFirst, first = 12.9, 20.6, 5 // as Default says
	all := append(Default(), Named{"spare", Spare()})
	least, leastFirst := math.Inf(1), math.Inf(1)
	for i, a := range all {
		for j, b := range all[:i] {
			_, d := Nearest(a.Ink, b.Ink)
			for _, m := range machado {
				d = math.Min(d, DeltaE(m.of(legible.LightOf(a.Ink)).Ink(), m.of(legible.LightOf(b.Ink)).Ink()))
			}
			least = math.Min(least, d)
			if i < first || a.Name == "spare" && j < first {
				leastFirst = math.Min(leastFirst, d)
			}
			if d < ofAll {
				t.Errorf("%s and %s: %.2f", a.Name, b.Name, d)
			}
		}
	}
	if math.Abs(least-ofAll) > 0.1 || math.Abs(leastFirst-ofFirst) > 0.1 || ofAll < Least {
		t.Errorf("apart by %.2f, the first by %.2f; %v and %v are told", least, leastFirst, ofAll, ofFirst)
	}
}

func TestDefaultBearsWhiteLetters(t *testing.T) {
	const bigText = 3.0 // WCAG 2, 1.4.3, large text
	names := map[string]bool{}
	for _, c := range Default() {
		if got := legible.Contrast(c.Ink, draw.White); got < bigText || names[c.Name] {
			t.Errorf("%s: %.2f", c.Name, got)
		}
		names[c.Name] = true
	}
	if len(names) != 8 {
		t.Errorf("%d colours", len(names))
	}
}

func TestClashes(t *testing.T) {
	// A red and a green of one lightness: alike to those without the cones of
	// middle waves, never to others.
	red, green, blue := draw.Ink{R: 0xc0, G: 0x40, B: 0x2f}, draw.Ink{R: 0x7a, G: 0x6a, B: 0x08}, draw.Ink{R: 0x10, G: 0x30, B: 0x90}
	got := Clashes([]draw.Ink{red, blue, green, red})
	at := func(c Clash) [2]int { return [2]int{c.I, c.J} }
	if len(got) != 3 || at(got[0]) != [2]int{0, 2} || at(got[1]) != [2]int{0, 3} || at(got[2]) != [2]int{2, 3} {
		t.Fatalf("%v", got)
	}
	if got[0].Sight != Deutan || got[1].Sight != Normal || got[1].DeltaE != 0 {
		t.Errorf("%v", got)
	}
	if DeltaE(red, green) < 3*Least {
		t.Errorf("red and green are %.1f apart to all", DeltaE(red, green))
	}
	var inks []draw.Ink
	for _, c := range Default() {
		inks = append(inks, c.Ink)
	}
	if got := Clashes(append(inks, Spare())); len(got) > 0 {
		t.Errorf("the palette itself: %v", got)
	}
}

// Clashes tells what a plain search over pairs and sights finds.
func TestClashesAgainstSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var inks []draw.Ink
		for range rapid.IntRange(0, 8).Draw(t, "n") {
			inks = append(inks, anyInk(t, "ink"))
		}
		told := Clashes(inks)
		for i := range inks {
			for j := range inks {
				alike := i < j && slices.ContainsFunc(Sights(), func(s Sight) bool { return DeltaE(Seen(inks[i], s), Seen(inks[j], s)) < Least })
				n := 0
				for _, c := range told {
					if c.I == i && c.J == j {
						n++
						if d := DeltaE(Seen(inks[i], c.Sight), Seen(inks[j], c.Sight)); d != c.DeltaE {
							t.Fatalf("%v: %v", c, d)
						}
					}
				}
				if alike != (n == 1) || n > 1 {
					t.Fatalf("%d %d: alike %v, told %d times", i, j, alike, n)
				}
			}
		}
	})
}

func TestSightWords(t *testing.T) {
	var words []string
	for _, s := range Sights() {
		words = append(words, s.String())
	}
	if !slices.Equal(words, []string{"normal", "protan", "deutan", "tritan"}) {
		t.Errorf("%q", words)
	}
	if red := (draw.Ink{R: 255}); Seen(red, Sight(9)) != red || Seen(red, Sight(-1)) != red {
		t.Error("no such sight")
	}
}

func TestPick(t *testing.T) {
	var inks []draw.Ink
	for _, c := range Default() {
		inks = append(inks, c.Ink)
	}
	nearAmber := draw.Ink{R: 0xc8, G: 0x7a, B: 0x1c}
	if got, want := Pick(3, inks, []draw.Ink{nearAmber, inks[3]}), []draw.Ink{inks[0], inks[2], inks[4]}; !slices.Equal(got, want) {
		t.Errorf("beside amber and rust: %v, want %v", got, want)
	}
	if got := Pick(20, inks, nil); !slices.Equal(got, inks) {
		t.Errorf("all: %v", got)
	}
	if got := Pick(-1, inks, nil); len(got) > 0 {
		t.Errorf("none: %v", got)
	}
	if twice := []draw.Ink{inks[0], inks[0]}; !slices.Equal(Pick(2, twice, nil), twice) {
		t.Error("the owner's own two alike are left alone")
	}
}
