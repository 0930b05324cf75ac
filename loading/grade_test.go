package loading

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"

	"pgregory.net/rapid"
)

// verdicts writes a graded batch as "1 keeps 8, 2 regrade 6".
func verdicts(r Report) string {
	var all []string
	for _, g := range r.Floats {
		s := fmt.Sprintf("%d %s %s", g.Number, g.Verdict, unit.Number(float64(g.Rating), 0.01, unit.Style{}))
		if g.Doubtful {
			s += "?"
		}
		all = append(all, s)
	}
	return strings.Join(all, ", ")
}

func TestGrade(t *testing.T) {
	brass, tin := metal(t, "brass"), metal(t, "tin")
	ratings := []unit.Gram{10, 4.5, 6, 8}
	inside := &Weight{Mass: 7.2, Metal: brass}
	loaded := func(n int, nominal, sum unit.Gram, w *Weight) Graded {
		return Graded{Number: n, Nominal: nominal, Sum: sum, U: 0.012, Weight: w, Add: sum - w.Mass, Metal: tin, Water: still}
	}
	r, err := Grade([]Graded{
		{Number: 1, Nominal: 4.5, Sum: 4.52, U: 0.012},
		{Number: 2, Nominal: 4.5, Sum: 4.545, U: 0.012}, // another figure within U is outside
		{Number: 3, Nominal: 4.5, Sum: 5.97, U: 0.012},  // it came out as another rating
		{Number: 4, Nominal: 4.5, Sum: 5.2, U: 0.012},   // nothing in it to trim
		{Number: 5, Nominal: 4.5, About: true},
		{Number: 6, Sum: 6.01, U: 0.012}, // made for no rating
		loaded(7, 8, 7.92, inside),
		loaded(8, 8, 8.08, inside),
		loaded(9, 8, 7.92, &Weight{Mass: 7.2, Metal: brass, Outside: true}), // brass and tin weigh alike under water
		loaded(10, 8, 7.5, inside),                                          // more than a tenth of the weight
		{Number: 11, Nominal: 6, Sum: 5.25, U: 0.001},                       // as near to 4.5 as to 6
	}, ratings, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	want := "1 keeps 4.5, 2 keeps 4.5?, 3 regrade 6, 4 off 4.5, 5 untested 4.5, 6 keeps 6, 7 trim 8, 8 trim 8, 9 off 8, 10 off 8, 11 off 4.5?"
	if got := verdicts(r); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	// By hand: tin in water of 0.999975 g/cm3 has k = 1 - 0.999975/7.28 =
	// 0.862641; a gram off raises the add by 1/k and lowers what is built in by
	// 1, so 0.08 g need 0.08/(1/k-1) = 0.5024 g.
	for _, i := range []int{6, 7} {
		if take := math.Abs(float64(r.Floats[i].Take)); math.Abs(take-0.5024) > 0.0001 {
			t.Errorf("float %d: take %.4f g, want 0.5024", i+1, take)
		}
	}
	if r.Floats[6].Take < 0 || r.Floats[7].Take > 0 {
		t.Error("a float too light for its rating gets weight taken off, one too heavy gets more")
	}
	// Mean and deviation of 4.52, 4.545, 5.97 and 5.2 by hand: squares of 0.290252,
	// 0.263939, 0.830377 and 0.019952 over 3.
	s := r.Spreads[0]
	if s.Rating != 4.5 || s.N != 4 || s.Untested != 1 || s.Inside != 2 || s.Min != 4.52 || s.Max != 5.97 ||
		math.Abs(float64(s.Mean)-5.05875) > 1e-9 || math.Abs(float64(s.Deviation)-0.684232) > 1e-6 {
		t.Errorf("spread %+v", s)
	}
	if len(r.Spreads) != 3 || r.Spreads[1].Rating != 6 || r.Spreads[2].Rating != 8 {
		t.Errorf("%d spreads, want 4.5, 6 and 8", len(r.Spreads))
	}
}

// The verdict means what it says: a trimmed float keeps its rating, and its
// add is not below zero.
func TestGradeTrimLandsOnTheRating(t *testing.T) {
	trimmed := 0
	rapid.Check(t, func(t *rapid.T) {
		w := &Weight{Mass: unit.Gram(rapid.Float64Range(1, 9).Draw(t, "weight")), Metal: metalOf(rapid.SampledFrom([]string{"brass", "lead"}).Draw(t, "metal"))}
		f := Graded{Nominal: 8, Weight: w, Add: unit.Gram(rapid.Float64Range(0, 2).Draw(t, "add")), Metal: metalOf("tin"), Water: still}
		if rapid.Bool().Draw(t, "a little over") { // by chance alone hardly any is
			w.Mass = unit.Gram(rapid.Float64Range(6.5, 7.9).Draw(t, "heavy"))
			f.Add = 8 - w.Mass + unit.Gram(rapid.Float64Range(0.02, 0.1).Draw(t, "over"))
		}
		f.Sum = w.Mass + f.Add
		ratings := []unit.Gram{4.5, 6, 8, 10}
		r, err := Grade([]Graded{f}, ratings, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		g := r.Floats[0]
		if g.Verdict != TrimIt {
			return
		}
		trimmed++
		now := *w
		now.Mass -= g.Take
		f.Add += addPerGram(*w, f.Metal, still, still) * g.Take
		f.Sum, f.Weight = now.Mass+f.Add, &now
		again, err := Grade([]Graded{f}, ratings, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		if o := again.Floats[0]; o.Rating != g.Rating || math.Abs(float64(o.Off)) > 1e-9 || f.Add < -1e-12 {
			t.Fatalf("%v g off come to %v, add %v", g.Take, o.Off, f.Add)
		}
	})
	if trimmed < 10 {
		t.Errorf("%d were trimmed", trimmed)
	}
}

func TestGradeRefuses(t *testing.T) {
	ok := []Graded{{Sum: 4.5}}
	for name, f := range map[string]func() (Report, error){
		"no rating":       func() (Report, error) { return Grade(ok, nil, 0.05) },
		"no tolerance":    func() (Report, error) { return Grade(ok, []unit.Gram{4.5}, 0) },
		"NaN tolerance":   func() (Report, error) { return Grade(ok, []unit.Gram{4.5}, unit.Gram(math.NaN())) },
		"rating 0":        func() (Report, error) { return Grade(ok, []unit.Gram{0}, 0.05) },
		"NaN sum":         func() (Report, error) { return Grade([]Graded{{Sum: unit.Gram(math.NaN())}}, []unit.Gram{4.5}, 0.05) },
		"infinite U":      func() (Report, error) { return Grade([]Graded{{U: unit.Gram(math.Inf(1))}}, []unit.Gram{4.5}, 0.05) },
		"negative rating": func() (Report, error) { return Grade([]Graded{{Nominal: -1}}, []unit.Gram{4.5}, 0.05) },
	} {
		if _, err := f(); fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v", name, err)
		}
	}
	if r, err := Grade(nil, []unit.Gram{4.5}, 0.05); err != nil || len(r.Floats)+len(r.Spreads) != 0 {
		t.Errorf("no floats: %+v, %v", r, err)
	}
}

// A batch of a thousand floats is graded between two key strokes.
func BenchmarkGrade(b *testing.B) {
	floats := make([]Graded, 1000)
	for i := range floats {
		floats[i] = Graded{Number: i + 1, Nominal: 4.5, Sum: 4.4 + unit.Gram(i%200)/1000, U: 0.012}
	}
	for b.Loop() {
		if r, err := Grade(floats, []unit.Gram{2.5, 4.5, 6, 8, 10}, 0.05); err != nil || len(r.Floats) != len(floats) {
			b.Fatal(err)
		}
	}
}
