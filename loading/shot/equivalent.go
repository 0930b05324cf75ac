package shot

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Count is a number of shot of one size.
type Count struct {
	Size Size
	N    int
}

// Equivalent is shot that makes a load, nearly or exactly.
type Equivalent struct {
	Counts   []Count         // heaviest size first
	Total    unit.Gram       // in air, of the convention's own metal
	Rest     unit.Gram       // target less total; positive: too little shot, the tip stands high
	TipShift unit.Millimetre // how much higher than its mark the tip then stands; see TipKnown
	TipKnown bool            // the tip's diameter was given, so TipShift means something
	// Rounding is by how much the total can differ from the true one because its
	// small sizes are printed rounded, all of them the same way; 0 without such.
	Rounding unit.Gram
}

// Dust reports whether sizes of FineShot or less are among the shot.
func (e Equivalent) Dust() bool {
	return slices.ContainsFunc(e.Counts, func(c Count) bool { return c.Size.Mass <= FineShot })
}

// Text returns the shot in words: "1 AAA", "3 AAA + 2 No.4", "1 no. 3/0".
func (e Equivalent) Text() string { return CountsText(e.Counts) }

// Shots returns how many shot there are in all.
func (e Equivalent) Shots() int {
	n := 0
	for _, c := range e.Counts {
		n += c.N
	}
	return n
}

// Kinds returns how many sizes are used.
func (e Equivalent) Kinds() int { return len(e.Counts) }

// CountsText returns counted shot in words, in the order given.
func CountsText(counts []Count) string {
	var parts []string
	for _, c := range counts {
		parts = append(parts, strconv.Itoa(c.N)+betweenCountAndName(c.Size)+c.Size.Label())
	}
	return strings.Join(parts, " + ")
}

// betweenCountAndName is a blank, or " x " where the name would run into the
// count: "1 x 3SSG".
func betweenCountAndName(s Size) string {
	if startsWithDigit(s.Label()) {
		return " x "
	}
	return " "
}

// Total returns the mass of counted shot in air, in grams of their own metal.
func Total(counts []Count) unit.Gram {
	var m unit.Gram
	for _, c := range counts {
		m += unit.Gram(float64(c.N) * float64(c.Size.Mass))
	}
	return m
}

// FineShot is the mass, 0.03 g, from which down the printed 0.01 g rounds a
// shot by 17 to 50 %: such sizes are left out of equivalents unless asked for,
// because counting several of them adds their rounding up.
const FineShot unit.Gram = 0.03

// Limits says which equivalents are acceptable. The zero value is usable.
type Limits struct {
	TipDiameter unit.Millimetre // of the tip at its mark; 0 is unknown
	Water       water.Water     // the water the shift is judged in
	MaxShots    int             // 0 is 15; at most 60
	MaxKinds    int             // 0 is 3; at most 6
	MaxShift    unit.Millimetre // how far the tip may stand from its mark; 0 is 3 mm
	Tolerance   unit.Gram       // what the total may miss by when the tip is unknown; 0 is 0.02 g
	Market      string          // drop sizes that may not be used there, see Usable; "" is no limit
	Unverified  bool            // use also sizes whose mass was not found in print
	Fine        bool            // use also sizes of FineShot and lighter, needed or not
	// Have is the shot there is: at most so many of each size named, any number
	// where that is AnyNumber, none of a size not named. nil is any number of all.
	Have map[string]int
	// Without are sizes to leave out.
	Without []string
}

// AnyNumber in Limits.Have is a size that does not run out.
const AnyNumber = -1

const (
	defaultShots = 15 // estimate: more shot than this is nobody's shotting pattern
	mostShots    = 60 // keeps the search under a few milliseconds
	defaultKinds = 3  // estimate: bulk, droppers and one to trim
	mostKinds    = 6  // as mostShots
	// defaultShift is 3 mm: about the eye's step at fishing range. Estimate.
	defaultShift unit.Millimetre = 3
	// defaultTolerance moves a tip of 3 mm by 3 mm. Estimate.
	defaultTolerance unit.Gram = 0.02
)

// Equivalents returns the shot of convention c that makes target, a mass in
// air of c.Metal, in grams: a short list of acceptable ones. The first has the
// fewest shot, then the fewest sizes, then the smallest error, then the larger
// shot; each further one needs more shot or more sizes and comes nearer. The
// search is exact in steps of 1 mg. Where the tip is known and nothing else is
// accepted, the list ends in sizes of FineShot and less. It returns none when no
// count of shot is near enough or no size is left; the load is then given in
// grams only. Solve tells why.
func Equivalents(target unit.Gram, c Convention, lim Limits) []Equivalent {
	r, _, err := solve(target, c, lim)
	if err != nil {
		return nil
	}
	return r.List
}

// Nearest returns the shot that comes nearest to target, accepted or not, with
// at most the limits' shot and sizes; false when no size is left or the target
// is no load of shot. It is for telling a maker why there is no equivalent.
func Nearest(target unit.Gram, c Convention, lim Limits) (Equivalent, bool) {
	lim = lim.withDefaults()
	left, err := sort(c, lim)
	if err != nil || !isLoad(target) {
		return Equivalent{}, false
	}
	return left.nearest(target, c.Metal, lim)
}

// nearer orders by error, then the larger shot first.
func nearer(a, b candidate) int {
	if a.miss != b.miss {
		return int(a.miss - b.miss)
	}
	for i := range min(len(a.counts), len(b.counts)) {
		x, y := a.counts[i], b.counts[i]
		if x.Size.Mass != y.Size.Mass {
			if x.Size.Mass > y.Size.Mass {
				return -1
			}
			return 1
		}
		if x.N != y.N {
			return y.N - x.N
		}
	}
	return len(a.counts) - len(b.counts)
}

func (l Limits) withDefaults() Limits {
	if l.MaxShots <= 0 {
		l.MaxShots = defaultShots
	}
	if l.MaxKinds <= 0 {
		l.MaxKinds = defaultKinds
	}
	if !(l.MaxShift > 0) {
		l.MaxShift = defaultShift
	}
	if !(l.Tolerance > 0) {
		l.Tolerance = defaultTolerance
	}
	l.MaxShots = min(l.MaxShots, mostShots)
	l.MaxKinds = min(l.MaxKinds, mostKinds)
	return l
}

// waterPerMillimetre returns the grams of water a millimetre of tip displaces.
func (l Limits) waterPerMillimetre() float64 {
	const cubicMillimetres = 1000 // in one cm3
	d := float64(l.TipDiameter)
	return l.Water.Density() * math.Pi / 4 * d * d / cubicMillimetres
}

// acceptance returns by how much the total may miss, in grams of metal.
func (l Limits) acceptance(metal water.Metal) unit.Gram {
	if l.TipDiameter <= 0 {
		return l.Tolerance
	}
	return water.Mass(unit.Gram(float64(l.MaxShift)*l.waterPerMillimetre()), metal, l.Water)
}

// judge works out what a count of shot does to the float: the pull that is
// missing, over the water a millimetre of tip displaces.
func (l Limits) judge(target unit.Gram, counts []Count, metal water.Metal) Equivalent {
	e := Equivalent{Counts: counts, Total: Total(counts), TipKnown: l.TipDiameter > 0}
	e.Rest = target - e.Total
	for _, c := range counts {
		e.Rounding += unit.Gram(float64(c.N) * float64(c.Size.Rounding))
	}
	if e.TipKnown {
		e.TipShift = unit.Millimetre(float64(water.Pull(e.Rest, metal, l.Water)) / l.waterPerMillimetre())
	}
	return e
}
