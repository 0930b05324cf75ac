package shot

import (
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// Pair is one name in two conventions.
type Pair struct {
	Name string
	A, B Size
	Mass float64 // how much heavier B is than A, as a share of A: 0.18 is 18 %
	Pull float64 // how much more B pulls under water than A, as a share of A
}

// Comparison is two conventions side by side.
type Comparison struct {
	Pairs        []Pair   // the names both have, in A's order
	OnlyA, OnlyB []string // the names one of them has
}

// Compare sets two conventions side by side by the names of their sizes. The
// pulls are in the water given; both metals must pass Check.
func Compare(a, b Convention, w water.Water) Comparison {
	var c Comparison
	for _, s := range a.Sizes {
		other, ok := b.Size(s.Name)
		if !ok {
			c.OnlyA = append(c.OnlyA, s.Name)
			continue
		}
		pulls := func(m unit.Gram, metal water.Metal) float64 { return float64(water.Pull(m, metal, w)) }
		c.Pairs = append(c.Pairs, Pair{Name: s.Name, A: s, B: other, Mass: float64(other.Mass/s.Mass) - 1,
			Pull: pulls(other.Mass, b.Metal)/pulls(s.Mass, a.Metal) - 1})
	}
	for _, s := range b.Sizes {
		if _, ok := a.Size(s.Name); !ok {
			c.OnlyB = append(c.OnlyB, s.Name)
		}
	}
	return c
}
