package nest

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"

	"floatmark/layouts/geom"
)

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

// Pixels, mm. A pixel costs 0.7 of its size at every gap; half the pixel takes
// two to three times as long (measured on the mix of the tests).
const (
	quickRes = 0.5
	fineRes  = 0.25
	bestRes  = 0.125
)

// wholeRow is a row as long as the sheet is wide.
const wholeRow = math.MaxInt

// portfolio lists the rules, the plain ones first: a later one must be better
// to be taken. Where there are many kinds all but the usual rule are loose, and
// there are fewer.
func portfolio(o Options, many bool) []rule {
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
		add(quickRes, lies[:1], byArea)
	case many:
		add(fineRes, lies, byArea)
		add(bestRes, lies[:1], byArea)
		all = append(all, rule{res: fineRes, pick: lowFoot, quarter: quarters[0]})
	default:
		add(fineRes, lies, byArea)
		add(bestRes, lies, byArea, byLength, byWidth)
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
	return s + [...]string{", from the top", ", from the left", ", from the bottom", ", from the right"}[r.quarter] + ", " + mm2(r.res)
}

// result is a finished layout with what it is judged by.
type result struct {
	placed []Placed
	left   []int
	rule   string
	edge   Edge
	feet   []float64 // by sheet: how far from the edge, inside the margin, pieces reach
	judged [4]float64
}

// bestOf runs the rules side by side and takes the best, equals by their order.
func (p *problem) bestOf(ctx context.Context, rules []rule, progress func(done, total int)) (*result, error) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	type set struct {
		res   float64
		loose bool
	}
	sets := map[set]*maskSet{} // looked up only
	var quarters []int
	for _, r := range rules {
		quarters = append(quarters, r.quarter)
	}
	for _, r := range rules {
		if s := (set{r.res, r.loose}); sets[s] == nil {
			sets[s] = p.by(r).rasterAll(r.res, quarters)
		}
	}
	results, errs := make([]*result, len(rules)), make([]error, len(rules))
	var wait sync.WaitGroup
	var lock sync.Mutex
	next, done := 0, 0
	for range min(runtime.GOMAXPROCS(0), len(rules)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for {
				lock.Lock()
				i := next
				next++
				lock.Unlock()
				if i >= len(rules) {
					return
				}
				f, err := p.by(rules[i]).fillBy(ctx, rules[i], sets[set{rules[i].res, rules[i].loose}])
				if err != nil {
					errs[i] = err
					return
				}
				results[i] = f.result()
				lock.Lock()
				done++
				if progress != nil {
					progress(done, len(rules))
				}
				lock.Unlock()
			}
		}()
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	best := results[0]
	for _, r := range results[1:] {
		if r.better(best) {
			best = r
		}
	}
	return best, nil
}

// by returns the problem as a rule sees it.
func (p *problem) by(r rule) *problem {
	if r.loose {
		return p.loose
	}
	return p
}

// better compares by pieces left over, fresh sheets, what is spent of the last
// one and what is spent of the part-used ones, in this order.
func (r *result) better(s *result) bool {
	for i, v := range r.judged {
		if math.Abs(v-s.judged[i]) > judgeSlack {
			return v < s.judged[i]
		}
	}
	return false
}

// judgeSlack is an area, mm², too small to choose by.
const judgeSlack = 1e-3

// result turns what a rule placed back into sheets as they are.
func (f *fill) result() *result {
	r := &result{left: f.left, rule: f.rule.String(), edge: Edge(4-f.rule.quarter) % 4, placed: make([]Placed, len(f.pieces))}
	slices.Sort(r.left)
	for _, q := range f.puts {
		area := f.area(q.sheet)
		back, _ := area.view(f.rule.quarter).Inverse() // a quarter turn always has one
		ext := f.pieces[q.piece].extent()
		turn := turnAffine((q.turn + 4 - f.rule.quarter) % 4)
		size := f.kinds[f.kindOf[q.piece]].turned(q.turn)
		to := middle(geom.Rectangle(geom.XYWH(q.x, q.y, size.W, size.H)).Transform(back).Bounds())
		from := middle(geom.Rectangle(ext).Transform(turn).Bounds())
		r.placed[q.piece] = Placed{Piece: q.piece, Sheet: q.sheet, At: turn.Then(geom.Translate(to.X-from.X, to.Y-from.Y))}
	}
	f.judge(r)
	return r
}

// middle returns the middle of a box; a piece lies in the middle of its cover.
func middle(r geom.Rect) geom.Point { return r.Min.Add(r.Max).Scale(0.5) }

// area returns a sheet by its number.
func (p *problem) area(sheet int) Area {
	if sheet < len(p.used) {
		return p.used[sheet]
	}
	return p.fresh
}

// judge measures how far pieces reach on each sheet and sets what r is judged by.
func (p *problem) judge(r *result) {
	r.feet, r.judged = nil, [4]float64{float64(len(r.left))}
	q := r.edge.quarter()
	for i, at := range r.placed {
		if at.At == (geom.Affine{}) {
			continue
		}
		for len(r.feet) <= at.Sheet {
			r.feet = append(r.feet, 0)
		}
		box := geom.Rectangle(p.pieces[i].extent()).Transform(at.At.Then(p.area(at.Sheet).view(q))).Bounds()
		r.feet[at.Sheet] = max(r.feet[at.Sheet], box.Max.Y)
	}
	r.judged[1] = float64(max(0, len(r.feet)-len(p.used)))
	for i, foot := range r.feet {
		spent := float64(foot * p.area(i).room(q).W)
		switch {
		case i < len(p.used):
			r.judged[3] += spent
		case i == len(r.feet)-1:
			r.judged[2] = spent
		}
	}
}
