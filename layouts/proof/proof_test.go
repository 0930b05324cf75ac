package proof

import "testing"

// The smallest bodies that pass, module 0.30 mm, version 1 at M, printed plain
// at 600 dots an inch: 9.5 mm within 10 degrees and 14.5 within 20 in the
// ray-traced model the closed forms of layouts/legible were fitted on, whose
// sets of 16 pictures scatter by about 1 mm. Half a millimetre more is allowed
// here, for the printer's whole dots, and as much again at 20 degrees.
func TestSmallestBody(t *testing.T) {
	for _, c := range []struct {
		grade       Grade
		fails, pass float64
	}{
		{Aim, 8, 11},
		{Casual, 12.5, 16.5},
	} {
		if s := read(t, onCone(t, 1, 0.3, c.fails, 0), c.grade); s.Pass() {
			t.Errorf("%s: passes on a body of %g mm, %d of %d", c.grade, c.fails, s.Read, s.Of)
		}
		if s := read(t, onCone(t, 1, 0.3, c.pass, 0), c.grade); !s.Pass() {
			t.Errorf("%s: fails on a body of %g mm, %d of %d", c.grade, c.pass, s.Read, s.Of)
		}
	}
}
