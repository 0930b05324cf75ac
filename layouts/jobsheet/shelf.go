package jobsheet

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// shelf is the row of blocks that stands lowest on a sheet.
type shelf struct{ y, high, x float64 }

// blocks sets everything under the table, each block on the first sheet that has
// room for it: beside what stands lowest there, or under that.
func (p *pages) blocks() error {
	p.shelves = make([]shelf, len(p.sheets))
	for i := range p.shelves { // full but for the last
		p.shelves[i] = shelf{y: p.foot()}
	}
	p.shelves[len(p.shelves)-1] = shelf{y: p.y, x: p.right()}
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
	for i := range p.shelves {
		if s := &p.shelves[i]; s.x+b.Size.W <= p.right()+fits && s.y+b.Size.H <= p.foot()+fits {
			p.put(i, b, s.x, s.y)
			return
		}
		if y := p.under(i); y+b.Size.H <= p.foot()+fits {
			p.shelves[i] = shelf{y: y}
			p.put(i, b, p.left(), y)
			return
		}
	}
	p.fresh()
	p.shelves = append(p.shelves, shelf{y: p.y})
	p.put(len(p.sheets)-1, b, p.left(), p.y)
}

// under is where the next row of blocks would begin on a sheet.
func (p *pages) under(i int) float64 {
	s := p.shelves[i]
	y := s.y + s.high
	if y <= p.top() {
		return y
	}
	return y + blockGap
}

func (p *pages) put(i int, b *draw.Sheet, x, y float64) {
	k := min(1, (p.foot()-y)/b.Size.H, (p.right()-x)/b.Size.W)
	p.sheets[i].Place(b, geom.Scale(k, k).Then(geom.Translate(x, y)))
	s := &p.shelves[i]
	s.x, s.high = x+k*b.Size.W+blockGap, max(s.high, k*b.Size.H)
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
