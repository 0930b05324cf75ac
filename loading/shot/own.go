package shot

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Weighed is what a maker's own weighing of a size says.
type Weighed struct {
	N      int       // how many shot were weighed in all; 0 when none were
	Times  int       // in how many weighings
	Spread unit.Gram // standard deviation from shot to shot; 0 when one weighing cannot tell it
	U      unit.Gram // standard uncertainty of the mean mass of one shot
	Date   string    // of the last dated weighing, as the maker wrote it
}

// Weighing is one weighing of several shot of one size together.
type Weighing struct {
	Size  string
	N     int
	Mass  unit.Gram // of all of them
	Digit unit.Gram // worth of the last digit of the scale; 0 when it is not known
	Date  string    // "" when not given
}

// The keys a maker's own sizes have as their source; they are not in Sources.
const (
	SourceWeighed = "weighed" // weighed by the maker
	SourceOwn     = "own"     // a mass the maker gives without a weighing
)

// mostWeighed is the most shot one weighing is taken to be of: 5,000 of the
// smallest shot weigh 50 g. Estimate.
const mostWeighed = 5000

// ParseWeighing reads "20 of AAA weigh 15.7 g", "20 AAA = 15.7 g" or "20 x 3/0:
// 15,4 g"; the day may stand before it, "2026-03-01: 20 of AAA weigh 15.7 g".
// Input error for anything else.
func ParseWeighing(s string) (Weighing, error) {
	const do = `write it as in "20 of AAA weigh 15.7 g"`
	text := strings.Join(strings.Fields(s), " ")
	day, rest, dated := strings.Cut(text, ":")
	if _, err := time.Parse(time.DateOnly, day); dated && err == nil {
		text = strings.TrimSpace(rest)
	} else {
		day = ""
	}
	left, right, ok := "", "", false
	for _, between := range []string{" weighs ", " weighed ", " weigh ", "=", ":"} {
		if left, right, ok = strings.Cut(text, between); ok {
			break
		}
	}
	cut := len(left) - len(strings.TrimLeft(left, "0123456789"))
	if !ok || cut == 0 {
		return Weighing{}, fault.Inputf(do, "%q is no weighing", s)
	}
	n, err := strconv.Atoi(left[:cut])
	if err != nil {
		n = mostWeighed + 1
	}
	name := strings.TrimSpace(left[cut:])
	for _, word := range []string{"of ", "x ", "× "} {
		name = strings.TrimSpace(strings.TrimPrefix(name+" ", word))
	}
	m, err := unit.ParseGram(right)
	if err != nil {
		return Weighing{}, err
	}
	w := Weighing{Size: name, N: n, Mass: m, Digit: lastDigit(right), Date: day}
	return w, w.check()
}

func (w Weighing) check() error {
	each := float64(w.Mass) / float64(w.N)
	switch {
	case !oneLine(w.Size) || fold(w.Size) == "":
		return fault.Inputf(`name the size, as in "20 of AAA weigh 15.7 g"`, "a weighing names no size")
	case !oneLine(w.Date):
		return fault.Inputf(`write the day, as in "2026-03-01"`, "the date of a weighing is no short text")
	case w.N < 1 || w.N > mostWeighed:
		return fault.Inputf("weigh from 1 to "+strconv.Itoa(mostWeighed)+" shot together", "%d of %s is no count to weigh", w.N, w.Size)
	case !(each > 0 && each <= maxLoad):
		return fault.Inputf("give the mass of all of them together, as in \"15.7 g\"", "%d of %s have no usable mass", w.N, w.Size)
	}
	return nil
}

// oneLine reports whether a name or a date can stand in a table.
func oneLine(s string) bool {
	return len(s) <= mostKey && !strings.ContainsFunc(s, unicode.IsControl)
}

// Weigh works weighings out into sizes, heaviest first; repeats of a size are
// put together. The mean is all the mass over all the shot. Input error for a
// weighing without size, count or mass.
//
// The spread of a shot is taken from repeats: a mean of n shot scatters by
// spread/√n, so spread² = Σ n(x-mean)²/(k-1) over k weighings. The uncertainty
// of the mean joins spread/√N with the rounding of the scale, a rectangle of the
// width of its last digit at each weighing (JCGM 100:2008, 4.2 and 4.3.7). One
// weighing alone tells the rounding only, and nothing of the next bag of shot.
func Weigh(all []Weighing) ([]Size, error) {
	var order []string
	bySize := map[string][]Weighing{}
	for _, w := range all {
		if err := w.check(); err != nil {
			return nil, err
		}
		n := fold(w.Size)
		if bySize[n] == nil {
			order = append(order, n)
		}
		bySize[n] = append(bySize[n], w)
	}
	var sizes []Size
	for _, n := range order {
		sizes = append(sizes, weighed(bySize[n]))
	}
	heaviestFirst(sizes)
	return sizes, nil
}

func weighed(all []Weighing) Size {
	var mass, rounding float64
	n := 0
	s := Size{Name: strings.TrimSpace(all[0].Size), Source: SourceWeighed, Verified: true}
	for _, w := range all {
		mass += float64(w.Mass)
		n += w.N
		rounding += float64(w.Digit) * float64(w.Digit) / 12 // of a rectangle
		if w.Date != "" {
			s.Weighed.Date = w.Date
		}
	}
	mean := mass / float64(n)
	variance := rounding / float64(n) / float64(n)
	if k := len(all); k > 1 {
		var sum float64
		for _, w := range all {
			off := float64(w.Mass)/float64(w.N) - mean
			sum += float64(w.N) * off * off
		}
		spread := sum / float64(k-1)
		variance += spread / float64(n)
		s.Weighed.Spread = unit.Gram(math.Sqrt(spread))
	}
	s.Mass = unit.Gram(mean)
	s.Weighed.N, s.Weighed.Times, s.Weighed.U = n, len(all), unit.Gram(math.Sqrt(variance))
	return s
}

func heaviestFirst(sizes []Size) {
	slices.SortStableFunc(sizes, func(a, b Size) int { return cmp.Compare(b.Mass, a.Mass) })
}

// ParseGiven reads a size with its mass, "AAA = 0.79 g" or "3/0: 0,77 g". Input
// error for anything else.
func ParseGiven(s string) (Size, error) {
	name, mass, ok := strings.Cut(s, "=")
	if !ok {
		name, mass, ok = strings.Cut(s, ":")
	}
	if !ok || fold(name) == "" {
		return Size{}, fault.Inputf(`write it as in "AAA = 0.79 g"`, "%q is no size with its mass", s)
	}
	return GivenSize(name, mass)
}

// GivenSize makes a size of a mass that a maker states, "0.79 g". Input error
// for a name or a mass that cannot be read.
func GivenSize(name, mass string) (Size, error) {
	m, err := unit.ParseGram(mass)
	if err != nil {
		return Size{}, err
	}
	if !oneLine(name) {
		return Size{}, fault.Inputf("give it a short name", "%q is no name of a size", name)
	}
	s := Size{Name: strings.TrimSpace(name), Mass: m, Printed: strings.TrimSpace(mass), Source: SourceOwn, Verified: true}
	if m <= SmallShot {
		s.Rounding = lastDigit(mass) / 2
	}
	return s, nil
}

// Own makes a maker's own convention of sizes he states and sizes he weighed.
// Input error for a key that is not plain or is a built-in one's, and for
// everything Check refuses. A size both stated and weighed stands twice, and is
// refused.
func Own(c Convention, given []Size, weighings []Weighing) (Convention, error) {
	plain := func(r rune) bool { return r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' }
	if c.Key == "" || len(c.Key) > mostKey || strings.ContainsFunc(c.Key, func(r rune) bool { return !plain(r) }) {
		return Convention{}, fault.Inputf(`write small letters, digits and hyphens, as in "bench-tin"`, "%q is no key of a convention", c.Key)
	}
	if _, taken := ByKey(c.Key); taken {
		return Convention{}, fault.Inputf("choose another key", "the key %q belongs to a built-in convention", c.Key)
	}
	sizes, err := Weigh(weighings)
	if err != nil {
		return Convention{}, err
	}
	c.Sizes = append(slices.Clone(given), sizes...)
	heaviestFirst(c.Sizes)
	c.Revision = max(c.Revision, 1)
	if c.Name == "" {
		c.Name = c.Key
	}
	if err := c.Check(); err != nil {
		return Convention{}, err
	}
	return c, nil
}

// mostKey is the longest key, name or date, in bytes; built-in keys have up to
// 14 and names of sizes 10.
const mostKey = 40
