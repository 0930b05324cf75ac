package loading

import (
	"math"

	"floatmark/loading/tank"
	"floatmark/loading/unit"
)

// Material is what a part of a float is made of.
type Material struct {
	Name    string
	Density float64 // g/cm3
	Within  float64 // plus or minus, g/cm3
	Source  string
}

// Materials returns usual materials with their densities. Wood and quill differ
// from piece to piece: these are estimates to start from, a weighed float is
// better.
func Materials() []Material {
	const estimate = "estimate, from memory; no source"
	return []Material{
		{"balsa", 0.15, 0.05, estimate},
		{"peacock", 0.16, 0.04, estimate + "; quill with its pith"},
		{"reed", 0.20, 0.06, estimate},
		{"cork", 0.20, 0.05, estimate},
		{"rigid foam", 0.08, 0.04, estimate},
		{"cane", 0.65, 0.15, estimate},
		{"hardwood", 0.65, 0.10, estimate + "; beech and ramin"},
		{"plastic tip", 1.05, 0.05, estimate + "; polystyrene"},
		{"glass fibre", 1.90, 0.15, estimate},
		{"carbon", 1.60, 0.10, estimate},
		{"steel wire", 7.85, 0.10, "as the metal"},
	}
}

// Bounds returns the least and the most of the metal the float can be expected
// to take, expanded with k = 2. Both may be negative: then it sinks.
func (p Prediction) Bounds() (least, most unit.Gram) {
	m, u := p.load()
	return unit.Gram(m - u), unit.Gram(m + u)
}

// load returns the load on the line in the metal and its expanded uncertainty.
// It stays in this package.
func (p Prediction) load() (mass, u float64) {
	const coverage = 2
	sum := 0.0
	for _, part := range p.parts {
		sum += float64(float64(part.U) * float64(part.U))
	}
	return p.pull / p.k, coverage * math.Sqrt(sum) / p.k
}

// Budget returns what each source of doubt leaves in the pull, as standard
// uncertainties.
func (p Prediction) Budget() []tank.Part { return append([]tank.Part(nil), p.parts...) }

// Text returns the prediction in words: "from its shape it should take 2.6 g to
// 2.9 g of lead; test it". The ends are rounded outwards to the step that the
// uncertainty allows.
func (p Prediction) Text() string {
	least, most := p.Bounds()
	if most <= 0 {
		return "from its shape it sinks without any shot; check its measures and densities"
	}
	step := unit.Step125(float64(most-least) / 4)
	if step == 0 {
		step = float64(finestStep)
	}
	low := unit.Gram(unit.Round(math.Floor(math.Max(0, float64(least))/step)*step, step))
	high := unit.Gram(unit.Round(math.Ceil(float64(most)/step)*step, step))
	return "from its shape it should take " + low.Text(unit.Gram(step), unit.Style{}) + " to " + high.Text(unit.Gram(step), unit.Style{}) +
		" of " + p.metal.Name + "; test it"
}

// NoticeShape is the code of a notice that a test and the shape contradict each
// other.
const NoticeShape = "shape"

// Compare tells when a test of the same float at the same stage lies further
// from the prediction than both uncertainties: one of the two has a slip in it.
func (p Prediction) Compare(l tank.Load) (Notice, bool) {
	_, u := p.load()
	if math.Abs(float64(l.Pull)-p.pull) <= math.Hypot(u*p.k, float64(l.U)) {
		return Notice{}, false
	}
	return Notice{NoticeShape, "the test gives " + text(l.Pull/unit.Gram(p.k)) + " of " + p.metal.Name + ", but " + p.Text() +
		" again: check the profile, the waterline, the densities and the reading"}, true
}
