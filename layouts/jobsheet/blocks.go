package jobsheet

import (
	"slices"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// blocks sets everything under the table, each block on the first sheet that has
// room for it, as high on it as it goes and then as far left.
func (p *pages) blocks() error {
	p.taken = make([][]geom.Rect, len(p.sheets))
	for i := range p.taken {
		foot := p.foot()
		if i == len(p.taken)-1 {
			foot = p.y
		}
		p.taken[i] = []geom.Rect{geom.XYWH(p.left(), p.top(), p.wide(), foot-p.top())}
	}
	var all []*draw.Sheet
	for _, some := range []func() ([]*draw.Sheet, error){p.rings, p.strips, p.spread, p.maps, p.guides, p.day, p.strains} {
		blocks, err := some()
		if err != nil {
			return err
		}
		all = append(all, blocks...)
	}
	for _, b := range all {
		p.place(b)
	}
	return nil
}

// fits is a hair more than nothing, so that rounding does not open a sheet.
const fits = 1e-6

// place sets a block. What no sheet has room for is shrunk to one: a plot's words
// say the same.
func (p *pages) place(b *draw.Sheet) {
	for i := range p.taken {
		if at, ok := p.free(i, b.Size); ok {
			p.put(i, b, at)
			return
		}
	}
	p.fresh()
	p.taken = append(p.taken, nil)
	p.put(len(p.sheets)-1, b, geom.Point{X: p.left(), Y: p.top()})
}

// free looks for room on a sheet, clear of what stands there: at the sheet's
// corner, beside a block or under one.
func (p *pages) free(i int, size geom.Size) (geom.Point, bool) {
	xs, ys := []float64{p.left()}, []float64{p.top()}
	for _, r := range p.taken[i] {
		xs, ys = append(xs, r.Max.X+blockGap), append(ys, r.Max.Y+blockGap)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	for _, y := range ys {
		for _, x := range xs {
			r := geom.XYWH(x, y, size.W, size.H)
			if r.Max.X > p.right()+fits || r.Max.Y > p.foot()+fits {
				continue
			}
			if !slices.ContainsFunc(p.taken[i], r.Inset(fits-blockGap).Overlaps) {
				return r.Min, true
			}
		}
	}
	return geom.Point{}, false
}

func (p *pages) put(i int, b *draw.Sheet, at geom.Point) {
	k := min(1, (p.foot()-at.Y)/b.Size.H, (p.right()-at.X)/b.Size.W)
	p.sheets[i].Place(b, geom.Scale(k, k).Then(geom.Translate(at.X, at.Y)))
	p.taken[i] = append(p.taken[i], geom.XYWH(at.X, at.Y, k*b.Size.W, k*b.Size.H))
}

func (p *pages) spread() ([]*draw.Sheet, error) {
	if p.Plot == nil {
		return nil, nil
	}
	return []*draw.Sheet{p.Plot}, nil
}

func (p *pages) strains() ([]*draw.Sheet, error) {
	var all []*draw.Sheet
	for _, one := range p.Plots {
		if one != nil {
			all = append(all, one)
		}
	}
	return all, nil
}
