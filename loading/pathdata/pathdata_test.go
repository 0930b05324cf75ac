package pathdata

import (
	"math"
	"testing"
)

// Numbers run together as the grammar of SVG 1.1, 8.3 lets them.
func TestNumbers(t *testing.T) {
	for text, want := range map[string][]float64{
		"1.5.5": {1.5, 0.5}, "1-2": {1, -2}, "+3e2-4E-1": {300, -0.4}, "5e": {5}, ".5": {0.5}, "7.": {7}, "": nil, "x": nil, "-": nil, "1e999": {math.Inf(1)},
	} {
		s := Scanner{Text: text}
		var got []float64
		for {
			v, ok := s.Number()
			if !ok {
				break
			}
			got = append(got, v)
		}
		if len(got) != len(want) {
			t.Errorf("%q: %v, want %v", text, got, want)
			continue
		}
		for i := range got {
			if got[i] != want[i] {
				t.Errorf("%q: %v, want %v", text, got, want)
			}
		}
	}
}

func TestBlanks(t *testing.T) {
	s := Scanner{Text: " \t,\n5"}
	if s.Blanks(""); s.At != 2 {
		t.Errorf("a comma is no blank: at %d", s.At)
	}
	if s.Blanks(","); s.At != 4 {
		t.Errorf("at %d, want the number", s.At)
	}
}
