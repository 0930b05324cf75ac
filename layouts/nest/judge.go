package nest

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"

	"floatmark/layouts/geom"
)

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
