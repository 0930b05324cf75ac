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
	byBox
)

// pick is how a rule chooses among the first free places of a piece's turns.
type pick int

const (
	highTop   pick = iota // whose top is nearest to where the sheet fills from
	lowFoot               // whose far side reaches least far
	lowCentre             // whose centre of area lies least far
)

// rule is one way of filling sheets. None looks at a clock or at chance.
type rule struct {
	res     float64 // pixel, mm
	order   order
	pick    pick
	row     int // equal pieces in a row at most; 0: no rows
	quarter int // the sheet is filled as if turned so often
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
// to be taken.
func portfolio(o Options) []rule {
	quarters := []int{Top.quarter(), Left.quarter()}
	if o.Strip {
		quarters = []int{o.Feed.Opposite().quarter()}
	}
	sizes, orders := []float64{fineRes, bestRes}, []order{byArea, byLength, byWidth, byBox}
	if o.Quick {
		sizes, orders = []float64{quickRes}, []order{byArea}
	}
	var all []rule
	for _, res := range sizes {
		for _, q := range quarters {
			for _, pick := range []pick{highTop, lowFoot, lowCentre} {
				for _, by := range orders {
					all = append(all, rule{res: res, order: by, pick: pick, quarter: q})
				}
				if !o.Together {
					all = append(all, rule{res: res, order: byArea, pick: pick, quarter: q, row: wholeRow})
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
	s += [...]string{", by area", ", by length", ", by width", ", by box"}[r.order]
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
	sets := map[float64]*maskSet{} // by pixel; looked up only
	var quarters []int
	for _, r := range rules {
		quarters = append(quarters, r.quarter)
	}
	for _, r := range rules {
		if sets[r.res] == nil {
			sets[r.res] = p.rasterAll(r.res, quarters)
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
				f, err := p.fillBy(ctx, rules[i], sets[rules[i].res])
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
		to := geom.Rectangle(geom.XYWH(q.x, q.y, size.W, size.H)).Transform(back).Bounds().Min
		from := geom.Rectangle(ext).Transform(turn).Bounds().Min
		r.placed[q.piece] = Placed{Piece: q.piece, Sheet: q.sheet, At: turn.Then(geom.Translate(to.X-from.X, to.Y-from.Y))}
	}
	f.judge(r)
	return r
}

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
