package loading

import (
	"cmp"
	"math"
	"slices"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Graded is one float as grading sees it.
type Graded struct {
	Number  int       // its place on the drying board
	Nominal unit.Gram // the rating it was made as; 0 when it was made for none
	Sum     unit.Gram // built-in mass and measured add, unrounded
	U       unit.Gram // expanded uncertainty of the sum, k = 2
	About   bool      // not tested itself: it has no place in the spread

	Weight *Weight   // nil when nothing is built in
	Add    unit.Gram // the measured add, of Metal; the sum when nothing is built in
	Metal  water.Metal
	Water  water.Water
}

// GradedOf returns a rating as grading sees it.
func GradedOf(number int, r Rating) Graded {
	return Graded{Number: number, Nominal: r.Nominal, Sum: r.Weighed + r.Measured, U: r.U, About: r.About,
		Weight: r.Weight, Add: r.Measured, Metal: r.Metal, Water: r.Water}
}

// Verdict says what to do with a float.
type Verdict int

// The verdicts.
const (
	Keeps    Verdict = iota // within the tolerance of the rating it was made as
	Regrade                 // within the tolerance of another
	TrimIt                  // within none, but a change of its weight brings it there
	OffAll                  // within none, and no weight helps
	Untested                // no sum of its own
)

// String returns the verdict as a stable word: keeps, regrade, trim, off,
// untested.
func (v Verdict) String() string {
	switch v {
	case Keeps:
		return "keeps"
	case Regrade:
		return "regrade"
	case TrimIt:
		return "trim"
	case OffAll:
		return "off"
	default:
		return "untested"
	}
}

// Grading is the verdict on one float.
type Grading struct {
	Graded
	Verdict Verdict
	Rating  unit.Gram // the rating it keeps, goes to or is trimmed to; the nearest one when off
	Off     unit.Gram // its sum less Rating
	// Take is the mass to take off its weight for TrimIt, negative to fit more:
	// the whole way, as if the sum were exact. AdviseTrim says how to get there.
	Take unit.Gram
	// Doubtful says that with another figure within U the verdict would be
	// another.
	Doubtful bool
}

// Spread is how the measured sums of the floats made as one rating lie.
type Spread struct {
	Rating    unit.Gram
	N         int       // tested floats
	Untested  int       // floats without a sum of their own
	Mean      unit.Gram // of the sums
	Deviation unit.Gram // standard deviation of one float (n-1); 0 for a single one
	Min, Max  unit.Gram
	Inside    int // floats within the tolerance
}

// Report is a graded batch.
type Report struct {
	Tolerance unit.Gram
	Floats    []Grading // in the order given
	Spreads   []Spread  // by rising rating; ratings without floats are left out
}

// trimShare is the largest part of its weight that grading proposes to change:
// a float that needs more is another float. Estimate.
const trimShare = 0.10

// Grade sorts floats by the batch's ratings: the nearest rating within the
// tolerance, of two as near the smaller; a float's own stands before any other.
// It is an Input error when there is no rating, a figure is no mass or the
// tolerance is none.
func Grade(floats []Graded, ratings []unit.Gram, tolerance unit.Gram) (Report, error) {
	if len(ratings) == 0 {
		return Report{}, fault.Inputf("name the ratings of the batch", "there is no rating to grade by")
	}
	if !(tolerance > 0 && tolerance <= maxMass) {
		return Report{}, fault.Inputf("give how far a float may be off its rating, as in 0.05 g", "a tolerance of %s is none", text(tolerance))
	}
	for _, r := range ratings {
		if !sensible(r) {
			return Report{}, fault.Inputf("give ratings above 0 and up to 500 g", "a rating of %s is none", text(r))
		}
	}
	rep := Report{Tolerance: tolerance}
	for _, f := range floats {
		if !(math.Abs(float64(f.Sum)) <= float64(maxMass)) || !(f.U >= 0 && f.U <= maxMass) || !(f.Nominal >= 0 && f.Nominal <= maxMass) {
			return Report{}, fault.Inputf("check its reading and its weight", "float %d: a sum of %s is none", f.Number, text(f.Sum))
		}
		rep.Floats = append(rep.Floats, gradeOne(f, ratings, tolerance))
	}
	rep.Spreads = spreads(rep.Floats, tolerance)
	return rep, nil
}

func gradeOne(f Graded, ratings []unit.Gram, tolerance unit.Gram) Grading {
	g := decide(f, ratings, tolerance)
	if g.Verdict == Untested {
		return g
	}
	for _, d := range []unit.Gram{-f.U, f.U} {
		other := f
		other.Sum += d
		other.Add += d
		if o := decide(other, ratings, tolerance); o.Verdict != g.Verdict || o.Rating != g.Rating {
			g.Doubtful = true
		}
	}
	return g
}

func decide(f Graded, ratings []unit.Gram, tolerance unit.Gram) Grading {
	near := nearest(f.Sum, ratings)
	g := Grading{Graded: f, Rating: near, Off: f.Sum - near}
	within := func(r unit.Gram) bool { return math.Abs(float64(f.Sum-r)) <= float64(tolerance)+tiny }
	switch {
	case f.About:
		g.Verdict, g.Rating, g.Off = Untested, f.Nominal, 0
	case f.Nominal > 0 && within(f.Nominal):
		g.Verdict, g.Rating, g.Off = Keeps, f.Nominal, f.Sum-f.Nominal
	case within(near) && f.Nominal == 0:
		g.Verdict = Keeps
	case within(near):
		g.Verdict = Regrade
	default:
		g.Verdict = OffAll
		if take, ok := trimTo(f, near); ok {
			g.Verdict, g.Take = TrimIt, take
		}
	}
	return g
}

// nearest returns the rating nearest to a sum, of two as near the smaller.
func nearest(sum unit.Gram, ratings []unit.Gram) unit.Gram {
	best := ratings[0]
	for _, r := range ratings[1:] {
		d, was := math.Abs(float64(r-sum)), math.Abs(float64(best-sum))
		if d < was-tiny || d < was+tiny && r < best {
			best = r
		}
	}
	return best
}

// trimTo returns the mass to take off a float's weight (negative: to fit) that
// brings its sum to the rating. Taking dm off lowers what is built in by dm and
// raises the add by more than that, because shot on the line is partly carried
// by the water and a weight in the hull is not: the sum rises by the
// difference only. A float without a weight has nothing to trim.
func trimTo(f Graded, rating unit.Gram) (unit.Gram, bool) {
	if f.Weight == nil {
		return 0, false
	}
	gain := float64(addPerGram(*f.Weight, f.Metal, f.Water, f.Water)) - 1
	const noGain = 0.01 // below it the sum hardly moves: weight outside, metals alike
	if gain < noGain {
		return 0, false
	}
	take := (rating - f.Sum) / unit.Gram(gain)
	if math.Abs(float64(take)) > trimShare*float64(f.Weight.Mass) {
		return 0, false
	}
	// More weight uses up the add.
	if add := f.Add + unit.Gram(float64(take)*(gain+1)); add < 0 {
		return 0, false
	}
	return take, true
}

// spreads groups the floats by the rating they were made as.
func spreads(floats []Grading, tolerance unit.Gram) []Spread {
	by := map[unit.Gram]*Spread{}
	sums := map[unit.Gram][]float64{}
	var order []unit.Gram
	for _, f := range floats {
		r := f.MadeAs()
		s := by[r]
		if s == nil {
			s = &Spread{Rating: r}
			by[r] = s
			order = append(order, r)
		}
		if f.Verdict == Untested {
			s.Untested++
			continue
		}
		sums[r] = append(sums[r], float64(f.Sum))
		if math.Abs(float64(f.Sum-r)) <= float64(tolerance)+tiny {
			s.Inside++
		}
	}
	slices.SortFunc(order, func(a, b unit.Gram) int { return cmp.Compare(a, b) })
	out := make([]Spread, len(order))
	for i, r := range order {
		s := by[r]
		s.measure(sums[r])
		out[i] = *s
	}
	return out
}

// MadeAs returns the rating a float was made as, or the nearest one when it was
// made for none: the row it belongs to.
func (g Grading) MadeAs() unit.Gram {
	if g.Nominal > 0 {
		return g.Nominal
	}
	return g.Rating
}

func (s *Spread) measure(sums []float64) {
	s.N = len(sums)
	if s.N == 0 {
		return
	}
	total := 0.0
	for _, v := range sums {
		total += v
	}
	mean := total / float64(s.N)
	squares := 0.0
	for _, v := range sums {
		squares += float64((v - mean) * (v - mean))
	}
	s.Mean, s.Min, s.Max = unit.Gram(mean), unit.Gram(slices.Min(sums)), unit.Gram(slices.Max(sums))
	if s.N > 1 {
		s.Deviation = unit.Gram(math.Sqrt(squares / float64(s.N-1)))
	}
}
