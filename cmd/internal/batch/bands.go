package batch

import (
	"cmp"
	"slices"

	"github.com/pelletier/go-toml/v2/unstable"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/palette"
)

// bandless is the band of a rating for which no colour is left: dark grey,
// which is nobody's code.
var bandless = label.Colour(palette.Spare())

// palette reads the maker's own colours of bands; the default ones without.
func (r *reader) palette(t *table, tab string) []draw.Ink {
	const key = "palette"
	e := t.get(key)
	var own []draw.Ink
	if e == nil {
		for _, c := range palette.Default() {
			own = append(own, c.Ink)
		}
		return own
	}
	if e.val.kind == unstable.Array && len(e.val.list) == 0 {
		r.add(e.val.at, `write colours as in palette = ["#18608e", "#cb7818"], or remove the key`, "%s has no colours", in(tab, key))
	}
	for _, c := range r.texts(t, tab, key) {
		if !c.ok() {
			continue
		}
		v, err := label.ParseColour(c.text)
		if err != nil {
			r.addErr(c.at, in(tab, key), err)
			continue
		}
		if slices.Contains(own, draw.Ink(v)) {
			r.add(c.at, "keep one of them", "%s: %q stands twice", in(tab, key), c.text)
			continue
		}
		own = append(own, draw.Ink(v))
	}
	return own
}

// banded gives the ratings that name no band the colours of the batch's palette,
// by rank: which colour a rating gets says nothing of its grams.
func banded(all []label.Rating, named map[int]bool, colours []draw.Ink) {
	var bare []int
	var taken []draw.Ink
	for i, one := range all {
		if named[i] {
			taken = append(taken, draw.Ink(one.Band))
		} else {
			bare = append(bare, i)
		}
	}
	slices.SortStableFunc(bare, func(a, b int) int { return cmp.Compare(all[a].Nominal, all[b].Nominal) })
	picked := palette.Pick(len(bare), colours, taken)
	for rank, i := range bare {
		all[i].Band = bandless
		if rank < len(picked) {
			all[i].Band = label.Colour(picked[rank])
		}
	}
}
