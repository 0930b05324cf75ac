package shot

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Result is the answer to a load, with what stood in its way.
type Result struct {
	Target  unit.Gram    // in air, of the convention's own metal
	Within  unit.Gram    // by how much a total may miss it
	List    []Equivalent // as Equivalents returns it
	Nearest *Equivalent  // where List is empty: what comes nearest; nil when nothing can be hung
	Dust    bool         // nothing was accepted before sizes of FineShot and less were let in
	LeftOut []LeftOut    // sizes not used, by reason
	Bounds  []string     // limits of the search itself that were reached; a better answer may lie beyond
}

// Reason is why a size was left out.
type Reason string

// The reasons, in the order they are looked for.
const (
	NotHad       Reason = "not had"    // not among the shot there is, or taken out
	ByMarket     Reason = "market"     // may not be used where the float is sold
	NotVerified  Reason = "unverified" // no page was found for its mass
	TooFine      Reason = "fine"       // FineShot or less, and not needed
	WithoutValue Reason = "no mass"    // its mass is none of a shot
)

// LeftOut is sizes left out for one reason.
type LeftOut struct {
	Why     Reason
	Sizes   []Size
	Because string // the reason in words: of a market, its rule
	Text    string // one line for a reader: the sizes named, and Because
}

// Solve is Equivalents with reasons. It returns an Input error for a target
// that is no load (not above 0, over 500 g, not a number), for a convention
// without shot or with a size that has no mass, for limits that are no limits
// and for sizes in Have and Without that c has not. Whatever it is asked it ends
// within about a tenth of a second and some 40 MB: Bounds says what that cost.
func Solve(target unit.Gram, c Convention, lim Limits) (Result, error) {
	if err := checkQuestion(target, c, lim); err != nil {
		return Result{}, err
	}
	r, left, err := solve(target, c, lim)
	if err != nil {
		return Result{}, err
	}
	lim = lim.withDefaults()
	if len(r.List) == 0 {
		if e, ok := left.nearest(target, c.Metal, lim); ok {
			r.Nearest = &e
		}
	}
	r.LeftOut = left.reasons(lim)
	return r, nil
}

func checkQuestion(target unit.Gram, c Convention, lim Limits) error {
	if err := checkTarget(target); err != nil {
		return err
	}
	if c.Unit != "" {
		return fault.Inputf("name a convention of shot", "the convention %s is a unit of mass and has no shot", c.Key)
	}
	if err := c.Check(); err != nil {
		return err
	}
	return lim.check()
}

func checkTarget(target unit.Gram) error {
	switch {
	case isLoad(target):
		return nil
	case target > maxLoad && !math.IsInf(float64(target), 0):
		return fault.Inputf("give a load up to 500 g", "%s is no load of shot", target.Text(1, unit.Style{}))
	}
	return fault.Inputf("give a load above 0 and up to 500 g", "the load is not a mass above nothing")
}

func isLoad(m unit.Gram) bool { return m > 0 && m <= maxLoad }

// check refuses limits that are not numbers or below zero.
func (l Limits) check() error {
	for _, one := range []struct {
		name  string
		value float64
	}{{"the tip's diameter", float64(l.TipDiameter)}, {"the tip's shift", float64(l.MaxShift)}, {"the tolerance", float64(l.Tolerance)}} {
		if !(one.value >= 0) || math.IsInf(one.value, 0) {
			return fault.Inputf("give a number above 0, or none", "%s is no usable number", one.name)
		}
	}
	if l.MaxShots < 0 || l.MaxKinds < 0 {
		return fault.Inputf("give a number above 0, or none", "the number of shot or of sizes is below 0")
	}
	return l.Water.Check()
}

// solve does without what is only told: the nearest and the reasons.
func solve(target unit.Gram, c Convention, asked Limits) (Result, sorted, error) {
	lim := asked.withDefaults()
	r := Result{Target: target, Within: lim.acceptance(c.Metal)}
	if !isLoad(target) {
		return r, sorted{}, checkTarget(target)
	}
	for _, b := range []struct {
		asked, used int
		of          string
	}{{asked.MaxShots, lim.MaxShots, "shot"}, {asked.MaxKinds, lim.MaxKinds, "sizes"}} {
		if b.asked > b.used {
			r.Bounds = append(r.Bounds, fmt.Sprintf("at most %d %s are looked through", b.used, b.of))
		}
	}
	left, err := sort(c, lim)
	if err != nil {
		return Result{}, left, err
	}
	r.List, r.Bounds = left.find(target, c.Metal, lim, r.Bounds)
	if len(r.List) == 0 && lim.TipDiameter > 0 && len(left.fine) > 0 {
		left.sizes = append(left.sizes, left.fine...)
		left.fine = nil
		r.List, r.Bounds = left.find(target, c.Metal, lim, r.Bounds)
		r.Dust = len(r.List) > 0
	}
	return r, left, nil
}

// sorted are a convention's sizes by whether they are used, heaviest first.
type sorted struct {
	sizes, fine []Size
	out         []LeftOut
	have        map[string]int // by folded name; nil is any number of all
}

// sort sorts the sizes of c. Input error for a size named in the limits that c
// has not.
func sort(c Convention, lim Limits) (sorted, error) {
	var s sorted
	if lim.Have != nil {
		s.have = make(map[string]int, len(lim.Have))
		for _, name := range slices.Sorted(maps.Keys(lim.Have)) {
			size, ok := c.Size(name)
			if !ok {
				return sorted{}, noSize(name, c)
			}
			s.have[fold(size.Name)] = lim.Have[name]
		}
	}
	without := map[string]bool{}
	for _, name := range lim.Without {
		size, ok := c.Size(name)
		if !ok {
			return sorted{}, noSize(name, c)
		}
		without[fold(size.Name)] = true
	}
	for _, size := range c.Sizes {
		switch {
		case !isLoad(size.Mass):
			s.leave(WithoutValue, size)
		case s.mostOf(size) == 0 || len(without) > 0 && without[fold(size.Name)]:
			s.leave(NotHad, size)
		case !Usable(size.Mass, c.Metal, lim.Market):
			s.leave(ByMarket, size)
		case !size.Verified && !lim.Unverified:
			s.leave(NotVerified, size)
		case size.Mass <= FineShot && !lim.Fine:
			s.fine = append(s.fine, size)
		default:
			s.sizes = append(s.sizes, size)
		}
	}
	return s, nil
}

func noSize(name string, c Convention) error {
	return fault.Inputf("use its sizes: "+names(c), "the convention %s has no size %q", c.Key, name)
}

func (s *sorted) leave(why Reason, size Size) {
	i := slices.IndexFunc(s.out, func(l LeftOut) bool { return l.Why == why })
	if i < 0 {
		s.out = append(s.out, LeftOut{Why: why})
		i = len(s.out) - 1
	}
	s.out[i].Sizes = append(s.out[i].Sizes, size)
}

// mostOf returns how many of a size there are.
func (s sorted) mostOf(size Size) int {
	if s.have == nil {
		return math.MaxInt
	}
	n, ok := s.have[fold(size.Name)]
	switch {
	case !ok:
		return 0
	case n < 0:
		return math.MaxInt
	}
	return n
}

// table works out what the sizes left make up to a mass; nil when that is
// nothing near from.
func (s sorted) table(from, upTo unit.Gram, lim Limits) *table {
	const microgram = 1e-6 // so that what just reaches still does
	if len(s.sizes) == 0 || float64(from) > float64(s.sizes[0].Mass)*float64(lim.MaxShots)+microgram {
		return nil
	}
	p := piecesOf(s.sizes, 1, lim, s.mostOf, upTo)
	p.inSteps()
	return newTable(p, p.steps(upTo), lim)
}

func (s sorted) find(target unit.Gram, metal water.Metal, lim Limits, bounds []string) ([]Equivalent, []string) {
	tol := lim.acceptance(metal)
	t := s.table(target-tol, min(target+tol, maxLoad), lim)
	if t == nil {
		return nil, bounds
	}
	if t.rough {
		bounds = append(bounds, "searched in steps of "+unit.Gram(float64(t.grain)/milligrams).Text(0.001, unit.Style{})+", to keep within time and memory")
	}
	var list []Equivalent
	for _, c := range t.front(t.states(target, tol, lim), target, tol, lim) {
		list = append(list, lim.judge(target, c.counts, metal))
	}
	return list, bounds
}

// nearest returns what comes nearest, accepted or not.
func (s sorted) nearest(target unit.Gram, metal water.Metal, lim Limits) (Equivalent, bool) {
	if len(s.sizes) == 0 {
		return Equivalent{}, false
	}
	// Nothing lies further off than the heaviest shot: one more or one fewer.
	tol := s.sizes[0].Mass
	t := s.table(0, min(target+tol, maxLoad), lim)
	all := t.states(target, max(tol, target), lim)
	if len(all) == 0 {
		return Equivalent{}, false
	}
	slack := t.slack(lim)
	slices.SortStableFunc(all, func(a, b state) int { return int(a.miss - b.miss) })
	best := t.candidate(all[0], target)
	for _, one := range all[1:] {
		if one.miss-slack > best.miss {
			break
		}
		if c := t.candidate(one, target); c.miss < best.miss ||
			c.miss == best.miss && (c.shots < best.shots || c.shots == best.shots && nearer(c, best) < 0) {
			best = c
		}
	}
	return lim.judge(target, best.counts, metal), true
}

// reasons words what was left out, sizes named.
func (s sorted) reasons(lim Limits) []LeftOut {
	out := s.out
	if len(s.fine) > 0 {
		out = append(slices.Clone(out), LeftOut{Why: TooFine, Sizes: s.fine})
	}
	for i, l := range out {
		var named []string
		for _, size := range l.Sizes {
			named = append(named, size.Name)
		}
		out[i].Because = l.Why.text(lim)
		out[i].Text = strings.Join(named, ", ") + ": " + out[i].Because
	}
	return out
}

func (r Reason) text(lim Limits) string {
	switch r {
	case NotHad:
		return "not among the shot there is"
	case ByMarket:
		rule, _ := RuleFor(lim.Market)
		return rule.Text
	case NotVerified:
		return Size{}.Caution()
	case TooFine:
		return FineShot.Text(0.01, unit.Style{}) + " and less, used only when nothing else is near enough"
	}
	return "no mass of a shot"
}

// ParseHave reads the shot there is: "AAA:4, BB:6, No.8" is 4 AAA, 6 BB and any
// number of No.8. Input error for a size that c has not, one named twice, and a
// count that is not from 0 to 200.
func ParseHave(s string, c Convention) (map[string]int, error) {
	have := map[string]int{}
	for part := range strings.SplitSeq(s, ",") {
		name, count, counted := strings.Cut(part, ":")
		name, count = strings.TrimSpace(name), strings.TrimSpace(count)
		size, ok := c.Size(name)
		if !ok {
			return nil, noSize(name, c)
		}
		n := AnyNumber
		if counted {
			var err error
			if n, err = strconv.Atoi(count); err != nil || n < 0 || n > maxCount {
				return nil, fault.Inputf("give from 0 to "+strconv.Itoa(maxCount)+`, as in "AAA:4, BB:6", or the size alone for any number`, "%q is no number of shot", count)
			}
		}
		if _, twice := have[size.Name]; twice {
			return nil, fault.Inputf("keep one of them", "%s stands twice in %q", size.Name, s)
		}
		have[size.Name] = n
	}
	return have, nil
}
