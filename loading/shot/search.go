package shot

import (
	"math"

	"floatmark/loading/unit"
)

// candidate is one count of shot within the acceptance.
type candidate struct {
	counts []Count
	shots  int
	miss   int64 // |target - total| in micrograms: whole, so that ties are ties
}

const (
	milligrams   = 1000 // in a gram; the step of the search
	micrograms   = 1e6
	none         = math.MaxUint8 // no way to reach a state; above any number of shot
	maxLoad      = 500.0         // grams; no line of shot weighs this. Estimate
	maxSearchLen = maxLoad * milligrams
)

// table[j][k][w] is the fewest shot of the j lightest sizes, exactly k of them
// used, that weigh w milligrams.
type table [][][]uint8

// search returns, for every total within tol of target and every number of
// sizes up to the limit, the count with the fewest shot (of those with equally
// few, the one with more of the larger shot). Everything better than these by
// any rule of Equivalents is among them, because at one total and one number
// of sizes only the number of shot can differ.
//
// Plain dynamic programming over the milligrams, one size after another: the
// change-making problem, for which taking the largest shot first is wrong in a
// fifth of all loads.
func search(target unit.Gram, sizes []Size, lim Limits, tol unit.Gram) []candidate {
	if len(sizes) == 0 || !(target > 0) || target > maxLoad {
		return nil
	}
	heaviest := float64(sizes[0].Mass)
	if float64(target-tol) > heaviest*float64(lim.MaxShots) {
		return nil
	}
	top := min(int(math.Ceil(float64(target+tol)*milligrams)), maxSearchLen)
	weight := make([]int, len(sizes)) // lightest first, as the table counts them
	for i, s := range sizes {
		weight[len(sizes)-1-i] = max(1, int(math.Round(float64(s.Mass)*milligrams)))
	}
	t := fill(weight, top, lim)

	var found []candidate
	last := len(sizes)
	for w := max(1, int(math.Floor(float64(target-tol)*milligrams))); w <= top; w++ {
		for k := 1; k <= lim.MaxKinds; k++ {
			shots := t[last][k][w]
			if shots == none {
				continue
			}
			counts := t.trace(k, w, weight, sizes)
			miss := math.Abs(float64(target - Total(counts)))
			// Half a microgram lets 3 mm, worked out with rounding, be 3 mm.
			if miss <= float64(tol)+0.5/micrograms {
				found = append(found, candidate{counts, int(shots), int64(math.Round(miss * micrograms))})
			}
		}
	}
	return found
}

func fill(weight []int, top int, lim Limits) table {
	t := make(table, len(weight)+1)
	for j := range t {
		t[j] = make([][]uint8, lim.MaxKinds+1)
		for k := range t[j] {
			t[j][k] = make([]uint8, top+1)
		}
	}
	for k := range t[0] {
		for w := range t[0][k] {
			t[0][k][w] = none
		}
	}
	t[0][0][0] = 0
	used := make([]uint8, top+1) // the fewest shot with at least one of this size
	for j, m := range weight {
		copy(t[j+1][0], t[j][0])
		for k := 1; k <= lim.MaxKinds; k++ {
			without, before, now := t[j][k], t[j][k-1], t[j+1][k]
			for w := range used {
				used[w] = none
				if w >= m {
					if n := min(before[w-m], used[w-m]); int(n) < lim.MaxShots {
						used[w] = n + 1
					}
				}
				now[w] = min(without[w], used[w])
			}
		}
	}
	return t
}

// trace walks a state back to its counts, heaviest size first, taking as many
// of each as the fewest shot allow.
func (t table) trace(k, w int, weight []int, sizes []Size) []Count {
	var counts []Count
	for j := len(weight); j > 0 && w > 0; j-- {
		shots := t[j][k][w]
		for n := min(int(shots), w/weight[j-1]); n > 0 && k > 0; n-- {
			left := t[j-1][k-1][w-n*weight[j-1]]
			if left != none && int(left)+n == int(shots) {
				counts = append(counts, Count{sizes[len(sizes)-j], n})
				k, w = k-1, w-n*weight[j-1]
				break
			}
		}
	}
	return counts
}
