package jobsheet

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
)

// plotGap is between two plots beside each other, mm.
const plotGap = 6.0

// plots sets the plots under all else, as many beside each other as the width
// holds, on a sheet of their own if the last one has no room. A plot that no
// sheet has room for is shrunk to one: its words say the same.
func (p *pages) plots() {
	all := p.Plots
	if p.Plot != nil {
		all = append([]*draw.Sheet{p.Plot}, all...)
	}
	x, high := p.left(), 0.0 // of the row that is being filled
	for _, one := range all {
		if one == nil {
			continue
		}
		if x > p.left() && (x+one.Size.W > p.right() || p.y+one.Size.H > p.foot()) {
			p.y += high
			x, high = p.left(), 0
		}
		if x == p.left() {
			if p.y+beforeDay+one.Size.H > p.foot() {
				p.fresh()
				p.y -= beforeDay // the sheet's own head gives the air
			}
			p.y += beforeDay
		}
		k := min(1, (p.foot()-p.y)/one.Size.H, (p.right()-x)/one.Size.W)
		p.sheets[len(p.sheets)-1].Place(one, geom.Scale(k, k).Then(geom.Translate(x, p.y)))
		x += k*one.Size.W + plotGap
		high = max(high, k*one.Size.H)
	}
	p.y += high
}
