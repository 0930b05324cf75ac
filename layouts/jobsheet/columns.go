package jobsheet

import (
	"math"

	"floatmark/layouts/typeset"
)

// widenBy is the step columns are widened by, mm, and judged how many rows show how
// high the table gets: both own choices, fine and many enough.
const (
	widenBy = 1.0
	judged  = 60
)

// columns lays the columns over the width: each gets what its longest word needs,
// then the rest goes where it makes the table lowest.
func (p *pages) columns() error {
	p.makeColumns()
	least, natural := make([]float64, len(p.cols)), make([]float64, len(p.cols))
	low, high := 0.0, 0.0
	for i, c := range p.cols {
		var err error
		if least[i], natural[i], err = p.room(c); err != nil {
			return err
		}
		low, high = low+least[i], high+natural[i]
	}
	for i := range p.cols {
		p.cols[i].w = least[i]
	}
	switch spare := p.wide() - low; {
	case spare < 0: // told where a word does not fit
		for i := range p.cols {
			p.cols[i].w *= p.wide() / low
		}
	case high > p.wide():
		if err := p.widen(natural, spare); err != nil {
			return err
		}
	}
	have := 0.0
	for _, c := range p.cols {
		have += c.w
	}
	lacks := 0.0
	for i, c := range p.cols {
		lacks += natural[i] - c.w
	}
	x := p.left()
	for i := range p.cols {
		c := &p.cols[i]
		switch rest := p.wide() - have; {
		case rest > 0 && lacks > rest:
			c.w += float64(rest * (natural[i] - c.w) / lacks)
		case rest > 0: // all on one line, and air for everybody
			c.w = natural[i] + float64((rest-lacks)*natural[i]/high)
		}
		c.x = x
		x += c.w
	}
	return nil
}

// widen gives columns of their spare room what lowers the table most for it, step
// by step, until nothing more does.
func (p *pages) widen(natural []float64, spare float64) error {
	rows := p.Rows[:min(len(p.Rows), judged)]
	highs := make([][][]float64, len(p.cols)) // column, steps of widening, row
	for i, c := range p.cols {
		steps := int(math.Ceil((natural[i] - c.w) / widenBy))
		if c.what == nil {
			steps = 0
		}
		for k := range steps + 1 {
			highs[i] = append(highs[i], make([]float64, len(rows)))
			if c.what == nil {
				continue
			}
			for r := range rows {
				q, err := c.what(rows[r]).set(c.inner() + float64(float64(k)*widenBy))
				if err != nil {
					return err
				}
				highs[i][k][r] = q.h()
			}
		}
	}
	at := make([]int, len(p.cols))
	for {
		best, by, gain := -1, 0, 0.0
		for i := range p.cols {
			for k := 1; at[i]+k < len(highs[i]) && float64(k)*widenBy <= spare; k++ {
				if g := lower(highs, at, i, at[i]+k) / float64(k); g > gain+1e-9 {
					best, by, gain = i, k, g
				}
			}
		}
		if best < 0 {
			return nil
		}
		at[best] += by
		p.cols[best].w += float64(float64(by) * widenBy)
		spare -= float64(float64(by) * widenBy)
	}
}

// lower is how much lower the rows get in all when a column goes to a step, mm.
func lower(highs [][][]float64, at []int, column, to int) float64 {
	sum := 0.0
	for r := range highs[column][to] {
		others := rowHigh - 2*rowAir
		for i := range highs {
			if i != column {
				others = max(others, highs[i][at[i]][r])
			}
		}
		sum += max(others, highs[column][at[column]][r]) - max(others, highs[column][to][r])
	}
	return sum
}

// inner is the width a column's words have.
func (c column) inner() float64 {
	if c.swatch != nil {
		return c.w - 2*pad - swatchRoom
	}
	return c.w - 2*pad
}

// room returns the least width of a column, and the width at which each of its
// paragraphs stands on one line.
func (p *pages) room(c column) (least, natural float64, err error) {
	const air = 0.01 // mm, for rounding
	if c.what == nil {
		return box + 2*pad, box + 2*pad, nil
	}
	measure := func(q passage, beside float64) error {
		for _, spans := range q {
			whole := 0.0
			for _, s := range spans {
				for _, token := range s.tokens() {
					l, err := typeset.Shape(token, s.font)
					if err != nil {
						return err
					}
					whole += l.Width + blank*s.font.Cap
					if c.own > 0 {
						l.Width = min(l.Width, c.own)
					}
					least = max(least, l.Width+beside)
				}
			}
			natural = max(natural, whole+beside)
		}
		return nil
	}
	if err := measure(passage{{{c.head, typeset.Bold(p.Fonts, bodyCap), false}}}, 0); err != nil {
		return 0, 0, err
	}
	natural = least // a head may stand on two lines
	for _, r := range p.Rows {
		beside := 0.0
		if c.swatch != nil {
			beside = swatchRoom
		}
		if err := measure(c.what(r), beside); err != nil {
			return 0, 0, err
		}
	}
	return least + 2*pad + air, max(natural, least) + 2*pad + air, nil
}
