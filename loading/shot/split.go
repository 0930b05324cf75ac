package shot

import (
	"math"
	"slices"

	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Arrangement is where the shot of a load goes on the line.
type Arrangement struct {
	Fixing   Fixing
	Locking  []Count // at the float, an even number of each size: half above, half below it
	Bulk     []Count // together on the line; an olivette is of its own metal
	Spread   []Count // evenly down the line
	Droppers []Count // below all that
	Text     string  // all of it in words

	Total    unit.Gram       // in air, of the convention's metal; an olivette counted as the mass of it that pulls as much
	Rest     unit.Gram       // target less total, as in Equivalent
	TipShift unit.Millimetre // as in Equivalent
	TipKnown bool
	Rounding unit.Gram
	Share    float64  // of the total that is locking shot or bulk; 0 when spread
	Sources  []string // keys of Sources that the way of parting rests on
}

// Shots returns how many shot there are in all, an olivette counted as one.
func (a Arrangement) Shots() int {
	n := 0
	for _, part := range [][]Count{a.Locking, a.Bulk, a.Spread, a.Droppers} {
		n += Equivalent{Counts: part}.Shots()
	}
	return n
}

// mostArrangements is the length of the short list of one way of parting.
const mostArrangements = 3

// Split arranges the load as the fixing of the line asks for, target in grams
// in air of c.Metal: pairs of locking shot and droppers for a line fixed at the
// bottom end; bulk and droppers, an olivette and droppers, or an even chain for
// one fixed at top and bottom; bulk below the stop and droppers for a sliding
// float. Each way gives a short list, fewest shot first, then fewest sizes
// (those of the two parts counted apart), then nearer, then the larger shot.
// Where share says nothing what is usual is taken, and Sources names it.
//
// Accepted is what Equivalents accepts, and errors are those of Solve, and one
// for a share that is none. The list is empty when no parting is near enough.
// Where shot runs out, a size is used for one of the two parts only.
func Split(target unit.Gram, c Convention, lim Limits, f Fixing, share Share) ([]Arrangement, error) {
	if err := share.check(); err != nil {
		return nil, err
	}
	if err := checkQuestion(target, c, lim); err != nil {
		return nil, err
	}
	lim = lim.withDefaults()
	left, err := sort(c, lim)
	if err != nil {
		return nil, err
	}
	s := splitter{target: target, metal: c.Metal, lim: lim, fixing: f, share: share, sorted: left}
	list := s.all()
	if len(list) == 0 && lim.TipDiameter > 0 && len(left.fine) > 0 {
		s.sizes = append(slices.Clone(left.sizes), left.fine...) // ends in dust when it must
		list = s.all()
	}
	return list, nil
}

// splitter is one load to be parted.
type splitter struct {
	sorted
	target unit.Gram
	metal  water.Metal
	lim    Limits
	fixing Fixing
	share  Share
}

func (s splitter) all() []Arrangement {
	shares := s.fixing.usualShares()
	if s.share.Least > 0 || s.share.Most > 0 {
		shares = []usual{{s.share, practice}}
	}
	var list []Arrangement
	for _, u := range shares {
		for _, p := range s.part(u.Share) {
			list = append(list, s.arrange(p, u.source))
		}
		if len(list) > 0 {
			break
		}
	}
	if s.fixing == TopAndBottom {
		list = append(list, s.olivettes()...)
		list = append(list, s.chain()...)
	}
	return list
}

// parted is a load in two parts.
type parted struct {
	head, line candidate
	miss       int64
}

func (p parted) kinds() int { return len(p.head.counts) + len(p.line.counts) }

func (p parted) compare(q parted) int {
	switch {
	case p.head.shots+p.line.shots != q.head.shots+q.line.shots:
		return p.head.shots + p.line.shots - q.head.shots - q.line.shots
	case p.kinds() != q.kinds():
		return p.kinds() - q.kinds()
	case p.miss != q.miss:
		return int(p.miss - q.miss)
	}
	level := func(c candidate) candidate { return candidate{counts: c.counts} }
	if n := nearer(level(p.head), level(q.head)); n != 0 {
		return n
	}
	return nearer(level(p.line), level(q.line))
}

// part finds the short list for one share. A size that runs out and could serve
// in both parts is tried in each.
func (s splitter) part(share Share) []parted {
	drop := s.share.dropper(s.target)
	scarce := slices.ContainsFunc(s.sizes, func(z Size) bool { return z.Mass <= drop && s.mostOf(z) < 2*s.lim.MaxShots })
	list := s.partWith(share, drop, !scarce, true)
	if scarce {
		list = append(list, s.partWith(share, drop, true, false)...)
	}
	slices.SortStableFunc(list, parted.compare)
	best := int64(math.MaxInt64)
	var front []parted
	for _, p := range list {
		if p.miss < best && len(front) < mostArrangements {
			best = p.miss
			front = append(front, p)
		}
	}
	return front
}

// partWith works out one table for what hangs at the float or in bulk and one
// for the droppers, and adds the two: inHead and inLine say where sizes that run
// out and could be in both may be.
func (s splitter) partWith(share Share, drop unit.Gram, inHead, inLine bool) []parted {
	tol := s.lim.acceptance(s.metal)
	each := 1
	if s.fixing == BottomEnd {
		each = 2
	}
	shared := func(z Size) bool { return z.Mass <= drop && s.mostOf(z) < 2*s.lim.MaxShots }
	headMost := func(z Size) int {
		if z.Mass <= FineShot || shared(z) && !inHead {
			return 0
		}
		return s.mostOf(z)
	}
	lineMost := func(z Size) int {
		if z.Mass > drop || shared(z) && !inLine {
			return 0
		}
		return s.mostOf(z)
	}
	headTop := unit.Gram(float64(s.target) * share.Most)
	lineTop := unit.Gram(float64(s.target)*(1-share.Least)) + tol
	head := piecesOf(s.sizes, each, s.lim, headMost, headTop)
	line := piecesOf(s.sizes, 1, s.lim, lineMost, lineTop)
	if len(head.list) == 0 || len(line.list) == 0 {
		return nil
	}
	head.grain = max(head.grain, line.grain)
	line.grain = head.grain
	head.exact = head.exact && line.exact
	head.inSteps()
	line.inSteps()
	h, l := newTable(head, head.steps(headTop), s.lim), newTable(line, line.steps(lineTop), s.lim)
	from := int(math.Ceil(float64(s.target)*share.Least*milligrams/float64(h.grain) - grainSlack))
	to := int(math.Floor(float64(s.target)*share.Most*milligrams/float64(h.grain) + grainSlack))
	return s.join(h, l, max(1, from), min(to, h.top), tol)
}

// cheapest is, for each weight, the fewest shot and of these the fewest kinds.
type cheapest struct{ cost, kinds []int }

// costPerShot ranks shot before kinds: there are never so many kinds.
const costPerShot = 64

func (t *table) cheapest() cheapest {
	c := cheapest{make([]int, t.top+1), make([]int, t.top+1)}
	for w := range c.cost {
		c.cost[w] = math.MaxInt
	}
	for k := 0; k <= t.kinds; k++ {
		for w, n := range t.row(len(t.list), k) {
			if cost := int(n)*costPerShot + k; n != none && cost < c.cost[w] {
				c.cost[w], c.kinds[w] = cost, k
			}
		}
	}
	return c
}

// total is a weight that head and line make together, with the least cost.
type total struct {
	steps, cost int
	miss        int64
}

const (
	// mostTies keeps the search for the larger shot among equals short.
	mostTies = 500
	// mostPairs bounds the pairs of weights that are looked at: about 0.1 s.
	// Measured. Only a tolerance of many grams on a heavy load comes to more, and
	// is then taken as narrower.
	mostPairs = 1 << 26
)

// join adds the tables for every weight of the head from one to another.
func (s splitter) join(h, l *table, from, to int, tol unit.Gram) []parted {
	if to < from {
		return nil
	}
	hc, lc := h.cheapest(), l.cheapest()
	perStep := int64(h.grain) * 1000
	want := int64(math.Round(float64(s.target) * micrograms))
	near := int64(math.Round(float64(tol)*micrograms)) + h.slack(s.lim) + 1
	near = min(near, int64(mostPairs/(to-from+1)/2+1)*perStep)
	low, high := max(1, int((want-near)/perStep)), int((want+near)/perStep)+1
	var totals []total
	for sum := low; sum <= high; sum++ {
		one := total{sum, math.MaxInt, int64(sum)*perStep - want}
		if one.miss = max(one.miss, -one.miss); one.miss > near {
			continue
		}
		for w := max(from, sum-l.top); w <= min(to, sum); w++ {
			if hc.cost[w] < math.MaxInt && lc.cost[sum-w] < math.MaxInt {
				one.cost = min(one.cost, hc.cost[w]+lc.cost[sum-w])
			}
		}
		if one.cost/costPerShot <= s.lim.MaxShots {
			totals = append(totals, one)
		}
	}
	slices.SortStableFunc(totals, func(a, b total) int {
		if a.cost != b.cost {
			return a.cost - b.cost
		}
		return int(a.miss - b.miss)
	})
	each := func(t total, do func(p parted)) {
		ties := 0
		for w := max(from, t.steps-l.top); w <= min(to, t.steps) && ties < mostTies; w++ {
			v := t.steps - w
			if hc.cost[w] == math.MaxInt || lc.cost[v] == math.MaxInt || hc.cost[w]+lc.cost[v] != t.cost {
				continue
			}
			ties++
			p := parted{head: h.candidate(state{w, hc.kinds[w], hc.cost[w] / costPerShot, 0}, s.target),
				line: l.candidate(state{v, lc.kinds[v], lc.cost[v] / costPerShot, 0}, s.target)}
			off := s.target - Total(p.head.counts) - Total(p.line.counts)
			p.miss = int64(math.Round(math.Abs(float64(off)) * micrograms))
			do(p)
		}
	}
	return s.front(totals, each, h.slack(s.lim), tol)
}

// front picks the short list from totals in order of cost, then miss: of each
// cost the best, where it is nearer than all before.
func (s splitter) front(totals []total, each func(total, func(parted)), slack int64, tol unit.Gram) []parted {
	limit := int64(math.Floor(float64(tol)*micrograms + 0.5))
	nearest := int64(math.MaxInt64)
	var list []parted
	for len(totals) > 0 && len(list) < mostArrangements {
		n := 1
		for n < len(totals) && totals[n].cost == totals[0].cost {
			n++
		}
		var one parted
		found := false
		for _, t := range totals[:n] {
			if found && t.miss-slack > one.miss || t.miss-slack >= nearest {
				break
			}
			each(t, func(p parted) {
				if p.miss <= limit && (!found || p.compare(one) < 0) {
					one, found = p, true
				}
			})
		}
		if found && one.miss < nearest {
			nearest = one.miss
			list = append(list, one)
		}
		totals = totals[n:]
	}
	return list
}
