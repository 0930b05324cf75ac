package legible

import (
	"math"
	"strings"
	"testing"

	"floatmark/label/symbol"

	"pgregory.net/rapid"
)

// The squares of 6, 7 and 8 dots of 600 dpi, mm.
const six, seven, eight = 0.254, 25.4 * 7 / 600, 25.4 * 8 / 600

// Worked out by hand from E = N²·m/(4·D)·sin 10° + 0.032·N³·m²/D², without the
// second term for codes made square from the front, to two places.
func TestLimitsOf(t *testing.T) {
	for name, c := range map[string]struct {
		seen         []Seen
		plain, front float64
	}{
		"nothing":         {nil, 0, 0},
		"one plain":       {[]Seen{{7, seven, false, 10}}, 0.83, 0},
		"one front":       {[]Seen{{7, seven, true, 8}}, 0, 0.71},
		"the least":       {[]Seen{{8, eight, false, 10}, {7, seven, false, 10}, {6, six, false, 8}}, 0.83, 0}, // 0.99, 0.83, 0.91
		"apart":           {[]Seen{{7, seven, false, 10}, {7, seven, true, 10}}, 0.83, 0.57},
		"none beside one": {[]Seen{{7, seven, false, 10}, {6, six, false, 0}}, 0.83, 0},
		"none of a kind":  {[]Seen{{7, seven, false, 0}, {7, seven, true, 8}}, 0, 0.71},
		"beyond belief":   {[]Seen{{8, eight, false, 6}, {6, six, true, 30}}, 1.50, 0.30},
		"no size":         {[]Seen{{7, 0, false, 10}, {7, math.NaN(), false, 10}, {7, seven, false, math.NaN()}, {7, seven, false, math.Inf(1)}}, 0, 0},
	} {
		got := LimitsOf(c.seen)
		if math.Abs(got.Plain-c.plain) > 0.005 || math.Abs(got.Front-c.front) > 0.005 {
			t.Errorf("%s: %+v, want %v and %v", name, got, c.plain, c.front)
		}
	}
}

// What was read is let through where it was read, unless it is not believed, and
// what read on a thinner dowel is let through on no thicker one.
func TestLimitsKeepWhatWasRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		front := rapid.Bool().Draw(t, "front")
		modules := []float64{six, seven, eight}
		one := Seen{Dots: 7, Module: modules[rapid.IntRange(0, 2).Draw(t, "size")], Front: front, Smallest: rapid.Float64Range(8, 20).Draw(t, "dowel")}
		limits := LimitsOf([]Seen{one})
		from := func(l Limits) float64 {
			return Form{N: TestSide, Level: symbol.M, Module: one.Module, Front: front, Limits: l}.MinDiameter(AimTilt)
		}
		if b := one.bow(); b > leastOwn && b < mostOwn && math.Abs(from(limits)-one.Smallest) > 1e-6 {
			t.Fatalf("read on %v, let through from %v", one.Smallest, from(limits))
		}
		thinner := one
		thinner.Smallest -= rapid.Float64Range(0, 2).Draw(t, "less")
		if from(LimitsOf([]Seen{thinner})) > from(limits)+1e-9 {
			t.Fatal("reading on a thinner dowel asks for a thicker one")
		}
		other := Seen{Dots: 6, Module: six, Front: front, Smallest: rapid.Float64Range(8, 20).Draw(t, "other dowel")}
		if from(LimitsOf([]Seen{one, other})) < from(limits)-1e-9 {
			t.Fatal("a second size made the limit looser")
		}
	})
}

func TestFollows(t *testing.T) {
	got := strings.Join(Follows([]Seen{{8, eight, false, 6}, {7, seven, false, 10}, {6, six, false, 0}}), "\n")
	want := `Plain codes: your phones bear rows that bow by 0.82 of a square; the model says 0.85.
Codes made square from the front: nothing was read, so the limit stays the model's; it lets their rows bow by 0.7 of a square.
Squares of 8 dots (0.34 mm), plain, then read on bodies of 11.5 mm when the phone is held with care, of 18 mm however it is held.
Squares of 7 dots (0.3 mm), plain, then read on bodies of 10 mm when the phone is held with care, of 16 mm however it is held.
Squares of 6 dots (0.25 mm), plain, read on no dowel: ink that closes the squares or a phone that does not focus so near is in the way, not the bend.`
	if got != want {
		t.Errorf("%s\n\nwant\n%s", got, want)
	}
	for _, c := range []struct {
		seen Seen
		want string
	}{
		{Seen{8, eight, false, 6}, "would make it 2.02 of a square; more than 1.5 is not believed"},
		{Seen{6, six, true, 30}, "would make it 0.16 of a square; less than 0.3 is not the bend"},
	} {
		if got := strings.Join(Follows([]Seen{c.seen}), "\n"); !strings.Contains(got, c.want) {
			t.Errorf("%q does not say %q", got, c.want)
		}
	}
}
