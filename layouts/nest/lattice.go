package nest

import (
	"math"
	"slices"

	"floatmark/layouts/geom"
)

// rows makes rows of equal pieces, as long as the sheet is wide, and leaves the
// rest as single pieces. Rows come first, since single pieces fill what is left
// between them.
func (f *fill) rows() [][]load {
	var rows, singles [][]load
	byKind := make([][]int, len(f.kinds))
	for i, k := range f.kindOf {
		byKind[k] = append(byKind[k], i)
	}
	kinds := make([]int, len(f.kinds))
	for i := range kinds {
		kinds[i] = i
	}
	slices.SortStableFunc(kinds, f.compare)
	room := f.fresh.room(f.rule.quarter)
	for _, k := range kinds {
		all := byKind[k]
		if forms := f.rowForms(k, room.W, len(all)); len(forms) > 0 {
			n := len(forms[0].members)
			for len(all) >= n {
				rows = append(rows, []load{{kind: k, pieces: all[:n], forms: forms}})
				all = all[n:]
			}
		}
		for _, i := range all {
			singles = append(singles, []load{{kind: k, pieces: []int{i}, forms: f.forms[k]}})
		}
	}
	return append(rows, singles...)
}

// family is a way of making rows: a unit of one or two pieces, repeated.
type family struct {
	turn  int  // of the first piece
	pairs bool // every second piece half-turned
	fewer int  // pieces or pairs less than would fit: play for the rows to shift
}

// families, in order; a later one must be denser to be taken.
func families() []family {
	var all []family
	for _, fewer := range [...]int{0, 1} {
		for _, pairs := range [...]bool{false, true} {
			for _, turn := range [...]int{0, 1} {
				all = append(all, family{turn, pairs, fewer})
			}
		}
	}
	return all
}

// boxlike is the share of its box from which a grown piece gains nothing from
// rows and is better kept to fill what they leave.
const boxlike = 0.95

// trialRows is how many rows a family is tried with; the first of them, which
// has no neighbour above, counts for little then.
const trialRows = 6

// rowForms returns the rows of a kind in the family that packs densest, each
// also half-turned where that is allowed: then rows interlock with the row
// above. This is the double lattice, whose shift the fill finds by itself. It
// returns none if no row is worth while.
func (f *fill) rowForms(k int, width float64, count int) []form {
	var best []form
	single := f.forms[k][0].mask
	if single.area > boxlike*(single.w+f.gap)*(single.h+f.gap) {
		return nil // rows of boxes nest no better than boxes
	}
	var allowed [4]*mask // masks may hold turns of other quarters as well
	for _, one := range f.forms[k] {
		allowed[one.members[0].turn] = one.mask
	}
	most := 0.0
	for _, fam := range families() {
		forms := f.familyForms(fam, width, count, allowed)
		if len(forms) == 0 {
			continue
		}
		if d := f.density(forms, width); d > most*(1+1e-9) {
			best, most = forms, d
		}
	}
	for i := range best {
		best[i].memo = f.memos
		f.memos++
	}
	return best
}

func (f *fill) familyForms(fam family, width float64, count int, masks [4]*mask) []form {
	var forms []form
	for _, turn := range [...]int{fam.turn, fam.turn + 2} {
		m, half := masks[turn], masks[(turn+2)%4]
		if m == nil || fam.pairs && half == nil {
			continue
		}
		unit := []member{{turn: turn}}
		if fam.pairs {
			unit = append(unit, pair(m, half, (turn+2)%4))
		}
		members := f.repeat(unit, masks, width, count, fam.fewer)
		if len(members) < 2 {
			continue
		}
		forms = append(forms, form{members: members, mask: compose(members, masks, f.rule.res)})
	}
	// All forms must take the same number of pieces.
	for _, g := range forms {
		if len(g.members) != len(forms[0].members) {
			return forms[:1]
		}
	}
	return forms
}

// repeat sets as many units side by side as width, count and rule allow.
func (f *fill) repeat(unit []member, masks [4]*mask, width float64, count, fewer int) []member {
	one := compose(unit, masks, f.rule.res)
	pitch := 1
	for most := int(width / f.rule.res); !repeats(one, pitch); pitch++ {
		if pitch > most {
			return nil
		}
	}
	n := 1 + int((width-one.w+slack)/(float64(pitch)*f.rule.res)) - fewer
	n = min(n, count/len(unit), f.rule.row/len(unit))
	var out []member
	for i := range n {
		for _, m := range unit {
			m.u += i * pitch
			out = append(out, m)
		}
	}
	return out
}

// repeats reports whether a mask can be repeated at a pitch.
func repeats(m *mask, pitch int) bool {
	wide := 0
	for _, row := range m.rows {
		if n := len(row); n > 0 {
			wide = max(wide, row[n-1].b-row[0].a)
		}
	}
	for d := pitch; d <= wide; d += pitch {
		if meet(m, m, d, 0) {
			return false
		}
	}
	return true
}

// meet reports whether n, moved by (u, v) pixels, has a pixel in common with m.
func meet(m, n *mask, u, v int) bool {
	for i, row := range m.rows {
		j := i + m.top - v - n.top
		if j < 0 || j >= len(n.rows) {
			continue
		}
		for _, r := range row {
			for _, s := range n.rows[j] {
				if r.a <= s.b+u && s.a+u <= r.b {
					return true
				}
			}
		}
	}
	return false
}

// pair returns where the half-turned piece lies beside a piece so that the box
// of both is smallest. Offsets are tried in steps of pairStep pixels.
func pair(m, half *mask, turn int) member {
	const pairStep = 4
	best, least := member{}, math.Inf(1)
	n := len(m.rows)
	for v := -n / 2; v <= n/2; v += pairStep {
		u := 0
		for meet(m, half, u, v) {
			u++
		}
		// Rows are as high as the pair and repeat at about the pair's width.
		if a := (m.w + float64(u)) * (float64(n) + math.Abs(float64(v))); a < least {
			best, least = member{turn: turn, u: u, v: v}, a
		}
	}
	return best
}

// compose makes one mask of members and moves them so that their box has its
// corner at (0, 0).
func compose(members []member, masks [4]*mask, res float64) *mask {
	left, up := members[0].u, members[0].v
	for _, m := range members {
		left, up = min(left, m.u), min(up, m.v)
	}
	top, foot := math.MaxInt, math.MinInt
	for i := range members {
		m := &members[i]
		m.u, m.v = m.u-left, m.v-up
		k := masks[m.turn]
		top, foot = min(top, m.v+k.top), max(foot, m.v+k.top+len(k.rows))
	}
	out := &mask{top: top, rows: make([][]run, foot-top)}
	for _, m := range members {
		k := masks[m.turn]
		for i, row := range k.rows {
			at := &out.rows[m.v+k.top+i-top]
			for _, r := range row {
				*at = append(*at, run{r.a + m.u, r.b + m.u})
			}
		}
		out.w = max(out.w, float64(float64(m.u)*res)+k.w)
		out.h = max(out.h, float64(float64(m.v)*res)+k.h)
	}
	for _, row := range out.rows {
		slices.SortFunc(row, func(r, s run) int { return r.a - s.a })
	}
	out.finish(res)
	return out
}

// density stacks rows on an empty sheet and returns the share of it that they
// cover, grown as they are.
func (f *fill) density(forms []form, width float64) float64 {
	room := geom.Size{W: width, H: forms[0].mask.h * (trialRows + 1)}
	g := newGrid(room, f.gap, f.rule.res)
	foot, area := 0.0, 0.0
	for range trialRows {
		var best *mask
		var at spot
		for i := range forms {
			m := forms[i].mask
			most := spot{int((width - m.w + slack) / f.rule.res), int((room.H - m.h) / f.rule.res)}
			if s, ok := g.find(m, spot{}, most); ok && (best == nil || s.v < at.v) {
				best, at = m, s
			}
		}
		if best == nil {
			break
		}
		g.spend(best, at.u, at.v)
		foot = max(foot, float64(float64(at.v)*f.rule.res)+best.h)
		area += best.area
	}
	return area / (foot * width)
}
