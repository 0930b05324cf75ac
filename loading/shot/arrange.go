package shot

import (
	"slices"
	"strings"

	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// arrange words a load in two parts.
func (s splitter) arrange(p parted, source string) Arrangement {
	a := Arrangement{Droppers: p.line.counts, Sources: []string{source}}
	if s.fixing == BottomEnd {
		a.Locking = p.head.counts
	} else {
		a.Bulk = p.head.counts
	}
	return s.judged(a, 0)
}

// judged works out what an arrangement does to the tip, an olivette standing
// for that much of the convention's metal, and puts it in words.
func (s splitter) judged(a Arrangement, olivette unit.Gram) Arrangement {
	shot := slices.Concat(a.Locking, a.Spread, a.Droppers)
	head := Total(a.Locking)
	if olivette == 0 {
		shot = slices.Concat(a.Bulk, shot)
		head += Total(a.Bulk)
	}
	e := s.lim.judge(s.target-olivette, shot, s.metal)
	a.Fixing = s.fixing
	a.Total, a.Rest, a.TipShift, a.TipKnown, a.Rounding = olivette+e.Total, e.Rest, e.TipShift, e.TipKnown, e.Rounding
	a.Share = float64((head + olivette) / a.Total)
	a.Text = a.words(olivette > 0)
	return a
}

func (a Arrangement) words(olivette bool) string {
	var parts []string
	if len(a.Locking) > 0 {
		side := slices.Clone(a.Locking)
		for i := range side {
			side[i].N /= 2
		}
		parts = append(parts, CountsText(side)+" on each side of the float")
	}
	switch {
	case olivette:
		parts = append(parts, "an olivette of "+a.Bulk[0].Size.Name)
	case len(a.Bulk) > 0 && a.Fixing == Sliding:
		parts = append(parts, CountsText(a.Bulk)+" in bulk below the stop")
	case len(a.Bulk) > 0:
		parts = append(parts, CountsText(a.Bulk)+" in bulk")
	}
	if len(a.Spread) > 0 {
		parts = append(parts, CountsText(a.Spread)+" evenly down the line")
	}
	if len(a.Droppers) > 0 {
		parts = append(parts, CountsText(a.Droppers)+" as droppers")
	}
	return strings.Join(parts, ", ")
}

// olivettes tries every olivette of about four fifths of the load, with
// droppers of the convention.
func (s splitter) olivettes() []Arrangement {
	c, ok := ByKey("olivettes")
	if !ok {
		return nil
	}
	sources := []string{olivetteSource}
	if water.Equal(s.target, s.metal, c.Metal, s.lim.Water) < olivetteFrom {
		sources = []string{practice}
	}
	var list []Arrangement
	for _, size := range c.Sizes {
		m := water.Equal(size.Mass, c.Metal, s.metal, s.lim.Water)
		if share := float64(m / s.target); share < olivetteLeast || share > olivetteMost || !Usable(size.Mass, c.Metal, s.lim.Market) {
			continue
		}
		if droppers := s.droppers(s.target-m, s.share.dropper(s.target), 1); droppers != nil {
			list = append(list, s.judged(Arrangement{Bulk: []Count{{size, 1}}, Droppers: droppers, Sources: sources}, m))
		}
	}
	slices.SortStableFunc(list, func(a, b Arrangement) int { return a.Shots() - b.Shots() })
	return list[:min(len(list), mostArrangements)]
}

// chain is five shot of the next size over a sixth of the load, and droppers
// lighter than that; four where five are too many.
func (s splitter) chain() []Arrangement {
	for _, size := range slices.Backward(s.sizes) {
		if size.Mass < s.target/chainParts {
			continue
		}
		for n := chainShots; n >= chainShots-1; n-- {
			even := []Count{{size, n}}
			rest := s.target - Total(even)
			if s.mostOf(size) < n {
				continue
			}
			tol := s.lim.acceptance(s.metal)
			if rest <= tol && rest >= -tol {
				return []Arrangement{s.judged(Arrangement{Spread: even, Sources: []string{olivetteSource}}, 0)}
			}
			if droppers := s.droppers(rest, size.Mass*(1-grainSlack), n); droppers != nil {
				return []Arrangement{s.judged(Arrangement{Spread: even, Droppers: droppers, Sources: []string{olivetteSource}}, 0)}
			}
		}
		return nil
	}
	return nil
}

// droppers returns the fewest shot up to a mass that make the rest, with so
// many shot of the limit used up; nil when none do.
func (s splitter) droppers(rest, upTo unit.Gram, used int) []Count {
	lim := s.lim
	lim.MaxShots -= used
	if !(rest > 0) || lim.MaxShots < 1 {
		return nil
	}
	few := s.sorted
	few.sizes = slices.DeleteFunc(slices.Clone(s.sizes), func(z Size) bool { return z.Mass > upTo })
	list, _ := few.find(rest, s.metal, lim, nil)
	if len(list) == 0 {
		return nil
	}
	return list[0].Counts
}
