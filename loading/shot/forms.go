package shot

import (
	"math"
	"strconv"
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// OneSize is a load told in one size, to the half: "8½ AAA". It is for reading
// only, never for a float: half a shot cannot be hung, and the figure is rounded.
type OneSize struct {
	Size   Size
	Halves int       // how many half shot
	Rest   unit.Gram // target less that
}

// Text returns "8½ AAA", "3 AAA", "½ no. 3/0".
func (o OneSize) Text() string {
	n := ""
	if o.Halves/2 > 0 || o.Halves%2 == 0 {
		n = strconv.Itoa(o.Halves / 2)
	}
	if o.Halves%2 == 1 {
		n += "½"
	}
	return n + betweenCountAndName(o.Size) + o.Size.Label()
}

// mostOfOneSize is how many of one size still tell a reader something; beyond it
// the next heavier size does. Estimate.
const mostOfOneSize = 12

// InOneSize tells a load in one size of c: the heaviest of which one to twelve
// come as near as an equivalent must, or else the one that comes nearest. Sizes
// are those Equivalents would use; false when there is none of that mass.
func InOneSize(target unit.Gram, c Convention, lim Limits) (OneSize, bool) {
	lim = lim.withDefaults()
	left, err := sort(c, lim)
	if err != nil || !isLoad(target) {
		return OneSize{}, false
	}
	tol := lim.acceptance(c.Metal)
	var best OneSize
	found := false
	for _, s := range left.sizes {
		halves := int(math.Round(float64(target/s.Mass) * 2))
		if halves < 2 || halves > 2*mostOfOneSize {
			continue
		}
		o := OneSize{s, halves, target - unit.Gram(float64(halves)/2*float64(s.Mass))}
		off := math.Abs(float64(o.Rest))
		if off <= float64(tol) {
			return o, true
		}
		if !found || off < math.Abs(float64(best.Rest)) {
			best, found = o, true
		}
	}
	return best, found
}

// Range is a load told as between two counts of one size, "3-4 AAA", or of two,
// "2 BB to 3 SSG". It says what a float takes, loosely; grams stand beside it.
type Range struct{ From, To Count }

// Text returns "3-4 AAA", "2 BB to 3 SSG", or "3 AAA" where both ends are one.
func (r Range) Text() string {
	switch {
	case r.From == r.To:
		return CountsText([]Count{r.From})
	case r.From.Size == r.To.Size:
		return strconv.Itoa(r.From.N) + "-" + CountsText([]Count{r.To})
	}
	return CountsText([]Count{r.From}) + " to " + CountsText([]Count{r.To})
}

// Mass returns both ends in grams, the lighter first.
func (r Range) Mass() (from, to unit.Gram) {
	a, b := Total([]Count{r.From}), Total([]Count{r.To})
	return min(a, b), max(a, b)
}

// InRange tells a load as a range of the heaviest size of which at least two
// and at most twelve go in; one number where it is that many within what an
// equivalent may miss by. False when there is no such size.
func InRange(target unit.Gram, c Convention, lim Limits) (Range, bool) {
	lim = lim.withDefaults()
	left, err := sort(c, lim)
	if err != nil || !isLoad(target) {
		return Range{}, false
	}
	tol := lim.acceptance(c.Metal)
	for _, s := range left.sizes {
		low, high := int((target-tol)/s.Mass), int(math.Ceil(float64((target-tol)/s.Mass)))
		if n := math.Round(float64(target / s.Mass)); math.Abs(float64(target)-n*float64(s.Mass)) <= float64(tol) {
			low, high = int(n), int(n)
		}
		if low >= 2 && high <= mostOfOneSize {
			return Range{Count{s, low}, Count{s, high}}, true
		}
	}
	return Range{}, false
}

// ParseRange reads "3-4 AAA", "3–4AAA", "2BB-3SSG" and "2BB to 3SSG" in the
// sizes of c; Input error for anything else, and where the second end is not
// the heavier one.
func ParseRange(s string, c Convention) (Range, error) {
	const do = `write it as in "3-4 AAA" or "2 BB to 3 SSG"`
	text := strings.NewReplacer("–", "-", "—", "-", " to ", "-").Replace(strings.Join(strings.Fields(s), " "))
	low, high, ok := strings.Cut(text, "-")
	low, high = strings.TrimSpace(low), strings.TrimSpace(high)
	if !ok || low == "" || high == "" {
		return Range{}, fault.Inputf(do, "%q is no range of shot", s)
	}
	to, err := ParseCounts(high, c)
	if err != nil {
		return Range{}, err
	}
	var from []Count
	if n, err := strconv.Atoi(low); err == nil && len(to) == 1 {
		from = []Count{{to[0].Size, n}}
	} else if from, err = ParseCounts(low, c); err != nil {
		return Range{}, err
	}
	if len(from) != 1 || len(to) != 1 || from[0].N < 1 || Total(from) >= Total(to) {
		return Range{}, fault.Inputf(do, "%q is no range of shot from less to more", s)
	}
	return Range{from[0], to[0]}, nil
}

// ParseOneSize reads "8½ AAA", "8 1/2 AAA", "8.5AAA" in the sizes of c; Input
// error for anything else, also for whole counts, which ParseCounts reads.
func ParseOneSize(s string, c Convention) (OneSize, error) {
	text := strings.TrimSpace(s)
	for _, half := range []string{"½", " 1/2", ".5", ",5"} {
		n, name, ok := strings.Cut(text, half)
		whole, err := strconv.Atoi(strings.TrimSpace(n))
		if strings.TrimSpace(n) == "" && half == "½" {
			whole, err = 0, nil
		}
		if !ok || err != nil || whole < 0 || whole >= maxCount || startsWithDigit(name) {
			continue
		}
		size, known := c.Size(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(name), "x ")))
		if !known {
			return OneSize{}, noSize(strings.TrimSpace(name), c)
		}
		if m := unit.Gram((float64(whole) + 0.5) * float64(size.Mass)); !isLoad(m) {
			return OneSize{}, fault.Inputf("give a load up to 500 g", "%q weighs %s", s, m.Text(1, unit.Style{}))
		}
		return OneSize{Size: size, Halves: 2*whole + 1}, nil
	}
	return OneSize{}, fault.Inputf(`write it as in "8½ AAA"`, "%q is no half count of a size", s)
}

// Mass returns the mass of that many.
func (o OneSize) Mass() unit.Gram { return unit.Gram(float64(o.Halves) / 2 * float64(o.Size.Mass)) }
