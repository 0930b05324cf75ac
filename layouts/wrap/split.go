package wrap

import (
	"fmt"

	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// MaxBands is the most bands one corner-free run is split into. Estimate, no
// source: nobody lays more strips round one body.
const MaxBands = 12

const (
	halvings = 22     // 1/4 million of the zone
	balances = 18     // the strain of balanced bands, to 4e-6 of the limit
	margin   = 0.001  // of the limit, for a peak between two looks
	retries  = 4      // with the margin made wider each time
	wider    = 5      // by this factor: 0.1, 0.5, 2.5, 12.5 %
	percent  = 0.1    // step of a strain in messages
	minLimit = 0.0001 // 0.01 %: below this nothing but a cone is let through
)

// Split cuts the zone between from and to into the fewest bands whose hoop
// strain is at most limit (0.02 is 2 %), each developed as Develop does, in
// rising order. They are first laid greedily, the widest from below, which gives
// their number; then that number is spread out so that all bands of a run strain
// alike and no sliver is left. No band crosses a corner of the body: each run
// between corners is split by itself. The reason says in plain words what was
// done.
//
// Errors are those of Develop; an unusable limit is Input, and a zone that would
// need more than MaxBands bands in a run, or bands below MinHeight, is NoFit.
func Split(p body.Profile, from, to unit.Millimetre, film Film, seam Seam, limit float64) (bands []Flat, reason string, err error) {
	from, to, err = checkSplit(p, from, to, film, limit)
	if err != nil {
		return nil, "", err
	}
	edges := Corners(p, from, to)
	room := margin
	for try := 0; try < retries; try++ {
		bands, err = splitRuns(p, append(append([]unit.Millimetre{from}, edges...), to), film, seam, limit*(1-room))
		if err != nil || worst(bands) <= limit {
			break
		}
		room *= wider
	}
	if err != nil {
		return nil, "", err
	}
	if worst(bands) > limit {
		return nil, "", tooBlunt(limit)
	}
	return bands, splitReason(bands, len(edges), limit), nil
}

// Shorten returns the highest band under the limit that starts at one end of the
// zone: at to when top is set, else at from. It stops at the first corner.
// Errors are as for Split.
func Shorten(p body.Profile, from, to unit.Millimetre, film Film, seam Seam, limit float64, top bool) (Flat, string, error) {
	from, to, err := checkSplit(p, from, to, film, limit)
	if err != nil {
		return Flat{}, "", err
	}
	lo, hi := from, to
	if edges := Corners(p, from, to); len(edges) > 0 {
		if top {
			lo = edges[len(edges)-1]
		} else {
			hi = edges[0]
		}
	}
	w := walk(p, lo, hi, film)
	var f Flat
	room := margin
	for try := 0; try < retries; try++ {
		a, b := lo, hi
		if top {
			a = w.lowest(hi, lo, limit*(1-room))
		} else {
			b = w.highest(lo, hi, limit*(1-room))
		}
		if b-a < MinHeight {
			return Flat{}, "", tooBlunt(limit)
		}
		if f, err = Develop(p, a, b, film, seam); err != nil {
			return Flat{}, "", err
		}
		if f.Strain <= limit {
			break
		}
		room *= wider
	}
	if f.Strain > limit {
		return Flat{}, "", tooBlunt(limit)
	}
	reason := fmt.Sprintf("the zone is kept: it strains %s, at most %s is borne", share(f.Strain), share(limit))
	if f.From > from || f.To < to {
		reason = fmt.Sprintf("shortened from %s to %s so that it strains at most %s and crosses no corner",
			length(float64(to-from)), length(float64(f.To-f.From)), share(limit))
	}
	return f, reason, nil
}

func splitRuns(p body.Profile, ends []unit.Millimetre, film Film, seam Seam, limit float64) ([]Flat, error) {
	var out []Flat
	for i := 1; i < len(ends); i++ {
		w := walk(p, ends[i-1], ends[i], film)
		cuts, ok := w.balanced(limit)
		if !ok {
			return nil, tooBlunt(limit)
		}
		for j := 1; j < len(cuts); j++ {
			f, err := Develop(p, cuts[j-1], cuts[j], film, seam)
			if err != nil {
				return nil, err
			}
			out = append(out, f)
		}
	}
	return out, nil
}

// greedy returns the ends of the widest bands from below, at most n of them; ok
// is false when they do not reach the top.
func (w way) greedy(limit float64, n int) (cuts []unit.Millimetre, ok bool) {
	at, end := w.z[0], w.z[len(w.z)-1]
	cuts = []unit.Millimetre{at}
	for i := 0; i < n && at < end; i++ {
		next := w.highest(at, end, limit)
		if next-at < MinHeight && next < end {
			return cuts, false
		}
		at = next
		cuts = append(cuts, at)
	}
	return cuts, at >= end
}

// balanced lowers the limit for as long as the greedy number of bands still
// reaches the top: then the last band strains as much as the others.
func (w way) balanced(limit float64) ([]unit.Millimetre, bool) {
	best, ok := w.greedy(limit, MaxBands)
	n := len(best) - 1
	if !ok || n == 1 {
		return best, ok
	}
	lo, hi := 0.0, limit
	for i := 0; i < balances; i++ {
		mid := (lo + hi) / 2
		if cuts, ok := w.greedy(mid, n); ok {
			best, hi = cuts, mid
		} else {
			lo = mid
		}
	}
	for i := 1; i < len(best); i++ {
		if best[i]-best[i-1] < MinHeight {
			return best, false
		}
	}
	return best, true
}

func (w way) highest(from, end unit.Millimetre, limit float64) unit.Millimetre {
	return reach(from, end, func(z unit.Millimetre) bool { return w.strain(from, z) <= limit })
}

func (w way) lowest(from, end unit.Millimetre, limit float64) unit.Millimetre {
	return reach(from, end, func(z unit.Millimetre) bool { return w.strain(z, from) <= limit })
}

// reach halves its way to the furthest z from from that still holds.
func reach(from, end unit.Millimetre, holds func(unit.Millimetre) bool) unit.Millimetre {
	if holds(end) {
		return end
	}
	good, bad := from, end
	for i := 0; i < halvings; i++ {
		mid := (good + bad) / 2
		if holds(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

func worst(bands []Flat) float64 {
	out := 0.0
	for _, f := range bands {
		out = max(out, f.Strain)
	}
	return out
}

func splitReason(bands []Flat, edges int, limit float64) string {
	corner := ""
	if edges > 0 {
		corner = fmt.Sprintf(", cut at %d corner(s) that no film goes over", edges)
	}
	if len(bands) == edges+1 {
		return fmt.Sprintf("no band is split: at most %s, %s is borne%s", share(worst(bands)), share(limit), corner)
	}
	return fmt.Sprintf("split into %d bands of at most %s, as one piece would pass the %s the film bears%s",
		len(bands), share(worst(bands)), share(limit), corner)
}

func share(strain float64) string { return unit.Number(100*strain, percent, unit.Style{}) + " %" }

func tooBlunt(limit float64) error {
	return fault.New(fault.NoFit, "", "the body is too round here for bands that strain at most "+share(limit),
		"move the zone to a slimmer part, make a part wrap, or use a film that bears more")
}

func checkSplit(p body.Profile, from, to unit.Millimetre, film Film, limit float64) (lo, hi unit.Millimetre, err error) {
	if err := checkZone(p, from, to); err != nil {
		return 0, 0, err
	}
	if !(film.Thickness >= 0 && film.Thickness <= MaxThickness) {
		return 0, 0, fault.Inputf("give the film's thickness in mm, as in 0.02", "a film cannot be %s thick", length(film.Thickness))
	}
	if !(limit >= minLimit && limit < 1) {
		return 0, 0, fault.Inputf("give the share that the film bears, as in 0.02 for 2 %", "a strain limit of %s is of no use",
			unit.Number(limit, minLimit, unit.Style{}))
	}
	return max(from, p.Base()), min(to, p.Top()), nil
}
