package proof

import "fmt"

// Reasons says what the pictures showed, a plain sentence each: how many of each
// set read, and that it is a simulation. For whoever checks a design; on paper
// the grade's one word is enough.
func (v Verdict) Reasons() []string {
	var out []string
	for _, s := range v.Scores {
		held := fmt.Sprintf("with the phone held within %.0f degrees of square", s.Grade.tilt())
		if s.Skipped {
			out = append(out, fmt.Sprintf("%s the code does not read: single lines of sight find it in %d of %d poses", held, s.Foreseen, s.Of))
			continue
		}
		word := "enough"
		if !s.Pass() {
			word = fmt.Sprintf("too few, %d are wanted", s.Grade.Needed())
		}
		out = append(out, fmt.Sprintf("%s the code reads in %d of %d pictures: %s", held, s.Read, s.Of, word))
	}
	return append(out, "these are simulated pictures: no real phone took part, so print the code test sheet and try your own")
}
