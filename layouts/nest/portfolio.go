package nest

import "math"

// order is what pieces are sorted by, the greatest first.
type order int

const (
	byArea order = iota
	byLength
	byWidth
)

// pick is how a rule chooses among the first free places of a piece's turns.
type pick int

const (
	highTop   pick = iota // whose top is nearest to where the sheet fills from
	lowFoot               // whose far side reaches least far
	lowCentre             // whose centre of area lies least far
)

// posture limits the turns of pieces, if they allow it. Less choice packs closer
// as often as more: equal pieces then nest in columns by themselves (measured).
type posture int

const (
	anyWay  posture = iota
	asIs            // unturned or half-turned, as the rule sees the sheet
	crosses         // a quarter turn either way
)

// rule is one way of filling sheets. None looks at a clock or at chance.
type rule struct {
	res     float64 // pixel, mm
	order   order
	pick    pick
	row     int  // equal pieces in a row at most; 0: no rows
	quarter int  // the sheet is filled as if turned so often
	loose   bool // nearly equal pieces by a common cover
	lie     posture
}

// Pixels, mm. A pixel costs 0.7 of its size at every gap, and half the pixel takes
// two to three times as long (measured on the mix of the tests).
const (
	quickRes = 0.5
	fineRes  = 0.25
	bestRes  = 0.125
	leastRes = 0.0625 // for pieces that lie one way only, which take a third of the time
)

// mostPixels bounds the raster of a sheet: 4 MB. A sheet of 700 x 500 mm has 22
// million pixels of 0.125 mm; a longer length of a roll gets larger ones.
const mostPixels = 32e6

// pixel returns the pixel that the largest sheet of a problem allows.
func (p *problem) pixel(res float64) float64 {
	most := 0.0
	for _, a := range append(p.used[:len(p.used):len(p.used)], p.fresh) {
		most = max(most, float64(a.Size.W*a.Size.H))
	}
	return max(res, math.Sqrt(most/mostPixels))
}

// wholeRow is a row as long as the sheet is wide.
const wholeRow = math.MaxInt

// portfolio lists the rules, the plain ones first: a later one must be better
// to be taken. Where there are many kinds all but the usual rule are loose, and
// there are fewer.
func (p *problem) portfolio(o Options) []rule {
	many, quick, fine, best, least := p.loose != nil, p.pixel(quickRes), p.pixel(fineRes), p.pixel(bestRes), p.pixel(leastRes)
	quarters := []int{Top.quarter(), Left.quarter()}
	if o.Strip {
		quarters = []int{o.Feed.Opposite().quarter()}
	}
	var all []rule
	add := func(res float64, lies []posture, orders ...order) {
		for _, q := range quarters {
			for _, pick := range []pick{highTop, lowFoot, lowCentre} {
				for _, lie := range lies {
					if lie != anyWay && pick == highTop {
						continue // one size, one choice: as lowFoot
					}
					for _, by := range orders {
						all = append(all, rule{res: res, order: by, pick: pick, quarter: q, lie: lie, loose: many})
					}
				}
				if !o.Together {
					all = append(all, rule{res: res, pick: pick, quarter: q, row: wholeRow, loose: many})
				}
			}
		}
	}
	lies := []posture{anyWay, asIs, crosses}
	switch {
	case o.Quick:
		add(quick, lies[:1], byArea)
	case many:
		add(fine, lies, byArea)
		add(best, lies[:1], byArea)
		all = append(all, rule{res: fine, pick: lowFoot, quarter: quarters[0]})
	default:
		add(fine, lies, byArea)
		add(best, lies, byArea, byLength, byWidth)
		for _, q := range quarters {
			for _, pick := range []pick{lowFoot, lowCentre} {
				for _, lie := range lies[1:] {
					all = append(all, rule{res: least, pick: pick, quarter: q, lie: lie})
				}
				if !o.Together {
					all = append(all, rule{res: least, pick: pick, quarter: q, lie: crosses, row: wholeRow})
				}
			}
		}
	}
	return all
}

// String names a rule for the report.
func (r rule) String() string {
	s := "single pieces"
	if r.row > 0 {
		s = "rows of equals, then single pieces"
	}
	if r.loose {
		s += ", like ones by a common cover"
	}
	s += [...]string{"", ", upright", ", across"}[r.lie]
	s += [...]string{", by area", ", by length", ", by width"}[r.order]
	s += [...]string{", least top", ", least foot", ", least centre"}[r.pick]
	return s + [...]string{", from the top", ", from the left", ", from the bottom", ", from the right"}[r.quarter] + ", " + pixelText(r.res)
}
