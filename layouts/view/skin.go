package view

import (
	"math"

	"floatmark/loading/body"
	"floatmark/loading/unit"
)

// Skin is a stretch of a body's side made ready for rays that come from
// anywhere: a row of short frusta. It may be used by several goroutines at once.
type Skin struct {
	from, to, step float64
	r, s           []float64
}

// skinStep, mm: an arc as tight as 5 mm departs from its chord by
// step²/8r = 0.06 µm.
const skinStep = 0.05

// NewSkin tabulates the body between two heights, each held within the body; at
// least one step of it. Its slant distances count from the lower.
func NewSkin(p body.Profile, from, to unit.Millimetre) *Skin {
	from, to = max(from, p.Base()), min(to, p.Top())
	n := max(1, int(math.Ceil(float64(to-from)/skinStep)))
	s := &Skin{from: float64(from), to: float64(to), step: float64(to-from) / float64(n)}
	last := from
	for i := range n + 1 {
		z := from + (to-from)*unit.Millimetre(i)/unit.Millimetre(n)
		s.r = append(s.r, float64(p.Diameter(z))/2)
		slant := 0.0
		if i > 0 {
			slant = s.s[i-1] + p.Meridian(last, z)
		}
		s.s = append(s.s, slant)
		last = z
	}
	return s
}

// Radii returns the skin's radii, mm, bottom to top, evenly spaced: with the
// stretch's two ends all that its pictures depend on.
func (s *Skin) Radii() []float64 { return append([]float64{}, s.r...) }

// Slant returns the slant distance from the skin's foot, mm, at a height, and
// Height the height at a slant distance; both are held within the skin.
func (s *Skin) Slant(z unit.Millimetre) float64 {
	at := min(max(float64(z), s.from), s.to)
	return s.slant(s.cell(at), at)
}

// Height is told at Slant.
func (s *Skin) Height(slant float64) unit.Millimetre {
	last := len(s.s) - 1
	if !(slant > 0) {
		return unit.Millimetre(s.from)
	}
	lo, hi := 0, last
	for hi-lo > 1 {
		if m := (lo + hi) / 2; s.s[m] <= slant {
			lo = m
		} else {
			hi = m
		}
	}
	share := min(1, (slant-s.s[lo])/(s.s[hi]-s.s[lo]))
	return unit.Millimetre(s.height(lo) + float64(share*s.step))
}

func (s *Skin) cell(z float64) int {
	i := (z - s.from) / s.step
	if !(i > 0) {
		return 0
	}
	return min(int(math.Min(i, float64(len(s.r)))), len(s.r)-2)
}

func (s *Skin) height(i int) float64 { return s.from + float64(float64(i)*s.step) }

func (s *Skin) slope(i int) float64 { return (s.r[i+1] - s.r[i]) / s.step }

func (s *Skin) slant(i int, z float64) float64 {
	return s.s[i] + float64((z-s.height(i))/s.step*(s.s[i+1]-s.s[i]))
}

// at returns the radius at z and its slope. Beyond the ends the last cone goes on.
func (s *Skin) at(z float64) (r, slope float64) {
	i := s.cell(z)
	k := s.slope(i)
	return s.r[i] + float64(k*(z-s.height(i))), k
}
