package decal

import (
	"math"
	"strings"
	"testing"

	"floatmark/layouts/legible"
)

// Every line of a mark is told of, once, with the size it has and how far round
// it goes; on white film and a good printer all of them read.
func TestEveryLineIsJudged(t *testing.T) {
	for name, s := range map[string]Spec{"round": spec(t, full, 16, 13.4, 26), "lengthwise": spec(t, full, 9, 9, 40), "least": spec(t, least, 14, 12, 14)} {
		p := lay(t, s).Pieces[0]
		var said []string
		for _, l := range p.Lines {
			said = append(said, strings.Split(l.Text, ", ")...) // lengthwise, what stands together is one
			if l.Grade != legible.Good || l.Cap < p.Least || l.Contrast < 20 || l.Edge < 0.46 || l.Dots < 2 {
				t.Errorf("%s: %v", name, l)
			}
		}
		for _, line := range p.Printed {
			for _, part := range strings.Split(line.Text, ", ") {
				n := 0
				for _, one := range said {
					if one == part {
						n++
					}
				}
				if n != 1 {
					t.Errorf("%s: %q is told of %d times in %q", name, part, n, said)
				}
			}
		}
	}
}

// On a plain cylinder a line of width w goes w/D radians to either side, and the
// capitals of one lengthwise cap/D.
func TestLinesGoRound(t *testing.T) {
	s := spec(t, least, 12, 12, 14)
	b := lay(t, s).Pieces[0]
	for _, l := range b.Lines {
		f := (&layout{Spec: s}).font(0, l.Cap)
		if l.Text != "8 g" {
			continue
		}
		w := shape(l.Text, f).Width
		d := b.Flat.Hoop(5) / math.Pi
		if math.Abs(l.Edge-math.Cos(w/d)) > 1e-6 {
			t.Errorf("%v: its ends are seen %v, want %v", l, l.Edge, math.Cos(w/d))
		}
		return
	}
	t.Error("no rating")
}

// A coarse printer and one that spreads are told of line by line.
func TestCoarsePrintIsTold(t *testing.T) {
	s := spec(t, full, 16, 13.4, 26)
	s.Printer.DPI = 150
	worst := lay(t, s).Pieces[0].Lines[0]
	if worst.Grade == legible.Good || !strings.Contains(worst.String(), "printer dots") {
		t.Errorf("at 150 dpi: %v", worst)
	}
	s = spec(t, full, 16, 13.4, 26)
	s.Printer.Gain = 0.15
	worst = lay(t, s).Pieces[0].Lines[0]
	if worst.Grade == legible.Good || !strings.Contains(worst.String(), "holes of its letters") {
		t.Errorf("with ink that spreads: %v", worst)
	}
}
