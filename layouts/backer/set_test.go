package backer

import (
	"fmt"
	"slices"
	"testing"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// wordsOf is every word of a sheet.
func wordsOf(s *draw.Sheet) []string {
	var all []string
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(o draw.Op, _ geom.Affine, _ bool) {
			if g, ok := o.(*draw.Glyphs); ok {
				all = append(all, g.Text)
			}
		})
	}
	return all
}

// A set's card tells what makes each float in every convention; a card that has no
// room for that tells as many as it has room for, and the maker is told.
func TestSetTellsWhatMakesEach(t *testing.T) {
	for _, name := range []string{"set", "set-pennant", "set-stream"} {
		some := false
		for _, n := range []int{1, 3, 30} {
			s := looks(t)[name]
			s.Style.Sides = 1
			for i := range s.Set {
				s.Set[i].Card.Rows = nil
				for k := range n {
					s.Set[i].Card.Rows = append(s.Set[i].Card.Rows, label.Row{Convention: fmt.Sprintf("sizes %d, lead", k+1), Shot: fmt.Sprintf("%d of No.%d", i+1, k+1), Gram: "0.8 g"})
				}
			}
			laid, err := Lay(s)
			if err != nil {
				t.Errorf("%s, %d: %v", name, n, err)
				continue
			}
			words, told := wordsOf(laid.Front), n
			for _, one := range laid.Notices {
				if one.Code == NoticeSet {
					if _, err := fmt.Sscanf(one.Text, "the card of a set has room for %d of", &told); err != nil || told >= n || told < 1 {
						t.Errorf("%s: %q", name, one.Text)
					}
				}
			}
			for i, m := range s.Set {
				for k, r := range m.Card.Rows {
					if got := slices.Contains(words, r.Shot); got != (k < told) {
						t.Errorf("%s, %d of %d conventions: float %d is told %q: %v", name, told, n, i+1, r.Shot, got)
					}
				}
			}
			some = some || told < n
			if n == 3 && told < n {
				t.Errorf("%s: a card of %v has no room for %d conventions", name, s.Size, n)
			}
		}
		if !some {
			t.Errorf("%s: 30 conventions of 3 floats all found room", name)
		}
	}
}
