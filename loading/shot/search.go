package shot

import (
	"bytes"
	"math"
	"slices"

	"floatmark/loading/unit"
)

// candidate is one count of shot within the acceptance.
type candidate struct {
	counts []Count
	shots  int
	miss   int64 // |target - total| in micrograms: whole, so that ties are ties
}

const (
	milligrams = 1000 // in a gram; the finest step of the search
	micrograms = 1e6
	none       = math.MaxUint8 // no way to reach a state; above any number of shot
	maxLoad    = 500.0         // grams; no line of shot weighs this. Estimate

	// maxCells bounds a search in memory (a byte each, so 16 MB) and, as each is
	// worked out once, in time: about 50 ms on one core. Measured.
	maxCells = 16 << 20

	// grainSlack is what a float64 mass may be off a whole number of steps, in
	// milligrams, and still count as one: "0.81 g" is not 810 mg to the last bit.
	grainSlack = 1e-6
)

// piece is a size as the search counts it.
type piece struct {
	size   Size
	weight int // of what is taken at once, in steps: one shot, or a pair
	shots  int // taken at once: 1, or 2 for a pair
	most   int // how often it may be taken
}

// pieces are the sizes of a search, lightest first, and its step.
type pieces struct {
	list  []piece
	grain int // the step in mg: the largest that every size is a whole number of, where the load allows
	exact bool
	rough bool // the step had to be made coarser than that to keep within maxCells
}

// piecesOf turns sizes, heaviest first, into pieces of so many shot each, to be
// searched up to a mass. mostOf says how many of a size there are; those there
// are none of still decide the step.
func piecesOf(sizes []Size, each int, lim Limits, mostOf func(Size) int, upTo unit.Gram) pieces {
	p := pieces{exact: true}
	for _, s := range slices.Backward(sizes) {
		mg := float64(s.Mass) * milligrams
		whole := max(1, int(math.Round(mg)))
		p.exact = p.exact && math.Abs(mg-float64(whole)) < grainSlack
		p.grain = gcd(p.grain, whole)
		if most := min(mostOf(s), lim.MaxShots) / each; most > 0 {
			p.list = append(p.list, piece{size: s, weight: whole, shots: each, most: most})
		}
	}
	p.grain = max(p.grain, 1)
	p.coarsen(lim, upTo)
	return p
}

// inSteps brings the weights from milligrams to steps.
func (p *pieces) inSteps() {
	for i, one := range p.list {
		p.list[i].weight = max(1, int(math.Round(float64(one.weight)/float64(p.grain)))) * one.shots
	}
}

// coarsen makes the step coarser until the table for a load keeps within
// maxCells. Totals are then still true; only the best of all may be missed.
func (p *pieces) coarsen(lim Limits, upTo unit.Gram) {
	rows := (len(p.list) + 1) * (lim.MaxKinds + 1)
	for rows*(p.steps(upTo)+1) > maxCells {
		p.grain *= 2
		p.exact, p.rough = false, true
	}
}

// steps returns a mass in steps, rounded up.
func (p pieces) steps(m unit.Gram) int {
	return int(math.Ceil(float64(m)*milligrams/float64(p.grain) - grainSlack))
}

// slack returns by how many micrograms a total counted in steps can differ
// from the true one: half a step a shot, nothing on an exact grid.
func (p pieces) slack(lim Limits) int64 {
	if p.exact {
		return 0
	}
	return int64(lim.MaxShots) * int64(p.grain) * 500
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// table tells, for the j lightest pieces, exactly k of them used and w steps,
// the fewest shot that weigh them.
type table struct {
	pieces
	top, kinds int
	cells      []byte
}

func (t *table) row(j, k int) []byte {
	n := t.top + 1
	at := (j*(t.kinds+1) + k) * n
	return t.cells[at : at+n]
}

// newTable works the table out up to top steps.
//
// Plain dynamic programming, one size after another: the change-making problem,
// for which taking the largest shot first is wrong in a fifth of all loads.
// Each size is only gone through as far as the allowed shot of it reach.
func newTable(p pieces, top int, lim Limits) *table {
	t := &table{pieces: p, top: top, kinds: min(lim.MaxKinds, len(p.list))}
	t.cells = bytes.Repeat([]byte{none}, (len(p.list)+1)*(t.kinds+1)*(top+1))
	t.row(0, 0)[0] = 0
	used := make([]byte, top+1) // the fewest shot with at least one of this size
	reach := 0
	for j, one := range p.list {
		before := min(reach, top)
		reach = min(top, lim.MaxShots/one.shots*one.weight)
		copy(t.row(j+1, 0), t.row(j, 0))
		for k := 1; k <= t.kinds; k++ {
			one.use(used[:reach+1], t.row(j, k-1), lim.MaxShots)
			without, now := t.row(j, k), t.row(j+1, k)
			for w := range min(before, reach) + 1 {
				now[w] = min(without[w], used[w])
			}
			if before < reach {
				copy(now[before+1:reach+1], used[before+1:])
			} else {
				copy(now[reach+1:before+1], without[reach+1:]) // a lighter pair can reach no further; a limit can
			}
		}
		reach = max(reach, before)
	}
	return t
}

// use fills used with the fewest shot of each weight that take the piece at
// least once, on top of what before holds without it.
func (one piece) use(used, before []byte, maxShots int) {
	m := one.weight
	for w := range min(m, len(used)) {
		used[w] = none
	}
	if one.most*one.shots >= maxShots/one.shots*one.shots {
		// Never short of it: one more on what one fewer already weighs.
		limit := byte(maxShots - one.shots)
		add := byte(one.shots)
		for w := m; w < len(used); w++ {
			n := min(before[w-m], used[w-m])
			if n > limit {
				used[w] = none
				continue
			}
			used[w] = n + add
		}
		return
	}
	one.useFew(used, before, maxShots)
}

// useFew is use where only so many are to be had: the least of the last few
// weights, m apart, kept in a queue whose front is the least.
func (one piece) useFew(used, before []byte, maxShots int) {
	m := one.weight
	type entry struct{ at, value int } // value: shots there less those of the pieces up to there
	var queue []entry
	for r := range min(m, len(used)) {
		queue = queue[:0]
		for i := 1; r+i*m < len(used); i++ {
			w := r + i*m
			if b := before[w-m]; b != none {
				v := int(b) - (i-1)*one.shots
				for len(queue) > 0 && queue[len(queue)-1].value >= v {
					queue = queue[:len(queue)-1]
				}
				queue = append(queue, entry{i - 1, v})
			}
			for len(queue) > 0 && queue[0].at < i-one.most {
				queue = queue[1:]
			}
			used[w] = none
			if len(queue) > 0 {
				if n := queue[0].value + i*one.shots; n <= maxShots {
					used[w] = byte(n)
				}
			}
		}
	}
}

// trace walks a state back to its counts, heaviest size first, taking as many
// of each as the fewest shot allow.
func (t *table) trace(k, w int) []Count {
	counts := make([]Count, 0, k)
	for j := len(t.list); j > 0 && w > 0; j-- {
		one := t.list[j-1]
		shots := int(t.row(j, k)[w])
		for n := min(shots/one.shots, w/one.weight, one.most); n > 0 && k > 0; n-- {
			left := t.row(j-1, k-1)[w-n*one.weight]
			if left != none && int(left)+n*one.shots == shots {
				counts = append(counts, Count{one.size, n * one.shots})
				k, w = k-1, w-n*one.weight
				break
			}
		}
	}
	return counts
}

// state is a weight that can be made, before it is traced to counts.
type state struct {
	w, k, shots int
	miss        int64 // micrograms by the steps, see slack
}

// reached is the least error for each number of shot and of sizes.
type reached [none + 1][mostKinds + 1]int64

// states returns what can be made within tol of target, by shots, then kinds,
// then error; of each number of shot and sizes only what may be the nearest. At
// one weight and one number of sizes only the number of shot can differ, so
// everything better than these is among them.
func (t *table) states(target, tol unit.Gram, lim Limits) []state {
	slack := t.slack(lim)
	near := int64(math.Round(float64(tol)*micrograms)) + slack + 1
	want := int64(math.Round(float64(target) * micrograms))
	perStep := int64(t.grain) * 1000
	from := max(1, int((want-near)/perStep))
	to := min(t.top, int((want+near)/perStep)+1)
	var least reached
	for n := range least {
		for k := range least[n] {
			least[n][k] = math.MaxInt64
		}
	}
	each := func(do func(state)) {
		for w := from; w <= to; w++ {
			miss := int64(w)*perStep - want
			if miss = max(miss, -miss); miss > near {
				continue
			}
			for k := 1; k <= t.kinds; k++ {
				if n := t.row(len(t.list), k)[w]; n != none {
					do(state{w, k, int(n), miss})
				}
			}
		}
	}
	each(func(s state) { least[s.shots][s.k] = min(least[s.shots][s.k], s.miss) })
	var all []state
	each(func(s state) {
		// The steps can be off by slack here and there.
		if s.miss-slack <= least[s.shots][s.k]+slack {
			all = append(all, s)
		}
	})
	slices.SortFunc(all, func(a, b state) int {
		switch {
		case a.shots != b.shots:
			return a.shots - b.shots
		case a.k != b.k:
			return a.k - b.k
		case a.miss != b.miss:
			return int(a.miss - b.miss)
		}
		return b.w - a.w
	})
	return all
}

func (t *table) candidate(s state, target unit.Gram) candidate {
	counts := t.trace(s.k, s.w)
	miss := math.Abs(float64(target - Total(counts)))
	return candidate{counts, s.shots, int64(math.Round(miss * micrograms))}
}

// front picks the list of Equivalents out of the states: of each number of
// shot and sizes the best, where it is nearer than all before. Only what may be
// that is traced.
func (t *table) front(all []state, target, tol unit.Gram, lim Limits) []candidate {
	slack := t.slack(lim)
	// Half a microgram lets 3 mm, worked out with rounding, be 3 mm.
	limit := int64(math.Floor(float64(tol)*micrograms + 0.5))
	best := int64(math.MaxInt64)
	var list []candidate
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].shots == all[0].shots && all[n].k == all[0].k {
			n++
		}
		var one candidate
		for _, s := range all[:n] {
			if one.counts != nil && s.miss-slack > one.miss || s.miss-slack >= best {
				break
			}
			if c := t.candidate(s, target); c.miss <= limit && (one.counts == nil || nearer(c, one) < 0) {
				one = c
			}
		}
		if one.counts != nil && one.miss < best {
			best = one.miss
			list = append(list, one)
		}
		all = all[n:]
	}
	return list
}
