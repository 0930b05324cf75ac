package backer

import (
	"fmt"
	"math"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// HoldKind is how a card holds a float at one place.
type HoldKind int

// The holds.
const (
	Strap   HoldKind = iota // two slits across the float; the strip between them goes over it
	Elastic                 // a loop of elastic through two holes
	Pocket                  // one slit: the base end is tucked through it and stands in it
)

// String returns the hold in a word.
func (k HoldKind) String() string { return [...]string{"strap", "elastic", "pocket"}[k] }

// Measures of holds, mm. No standard was found for holding a thin float: what is
// derived says so, the rest is common practice, no source.
const (
	// StrapWide is the width of the strip between two slits: 8 to 10.
	StrapWide = 9.0
	// StrapMost is the thickest body a strap goes over: l >= d²/2 is 32 mm there,
	// a third of the default card. Derived.
	StrapMost = 8.0
	// slitEnd is the diameter of the punched end of a slit, so that it does not
	// tear: 1.5 to 2.
	slitEnd = 1.5
	// Bend is how much longer than its slits a strap half lifted and a card half
	// sunk have to be together: card does not stretch. With l >= d²/2 it is 1 mm.
	// Derived: d²/(2l).
	Bend = 1.0
	// leastSlit is the shortest slit worth cutting, for the hand that opens it.
	leastSlit = 10.0
	// elasticApart is what two holes are further apart than the body is thick; a
	// loop so long is stretched by 10 to 20 %.
	elasticApart = 2.0
	elasticHole  = 2.0 // diameter of each
	// pocketDeep is how much of the base end goes through a pocket.
	pocketDeep  = 7.0
	pocketLoose = 2.0 // what its slit is longer than the end is thick
	// tipClear keeps a hold off the bristle's foot. Own choice.
	tipClear = 2.0
	// holdFrom and holdTo are where two holds are looked for, as shares of the
	// length from either end: common practice, 20 to 25 %.
	holdFrom, holdTo = 0.20, 0.25
)

// Hold is one hold of a float: Z is its middle over the base end, D the float's
// diameter there, Across the length of its slits or how far its holes' middles
// are apart.
type Hold struct {
	Kind      HoldKind
	Z, D      float64
	Across    float64
	Lifted    float64 // how much longer than flat a strap must be with the float on the card, mm: ~2d²/l
	Shared    float64 // and with the card half sunk: d²/(2l)
	FromShare float64 // how far from the nearer end, as a share of the length
}

// Slit returns the length of a strap's slits for a body of diameter d, mm: at
// least d²/2, and long enough to open.
func Slit(d float64) float64 { return math.Max(leastSlit, math.Max(d*d/(2*Bend), d+4)) }

// StrapLift returns how much longer than its slits of length l a strap must be
// to go over a rod of diameter d that lies on the card: it leaves the ends of
// the slits along two tangents and goes round the rod. Derived.
func StrapLift(d, l float64) float64 {
	r := d / 2
	return r * (2*math.Pi - 4*math.Atan(l/(2*r)))
}

// Keep is a stretch of the float that no hold may cover: mm over the base end.
type Keep struct{ From, To float64 }

// Holds returns the holds of a float: one towards the base and one towards the
// tip, each 20 to 25 % of the length from its end, moved from there as little as
// keeps it off the stretches in keep. Straps go over what is up to StrapMost thick,
// elastic round what is thicker; since elastic lets a float slide, the base end
// then stands in a pocket, if it is thin enough to be tucked in. Where a hold
// finds no place it is a NoFit error.
func Holds(p body.Profile, keep []Keep) ([]Hold, error) {
	base, top := float64(p.Base()), float64(p.Top())
	long := top - base
	var out []Hold
	for _, end := range []struct {
		from, to, step float64
		name           string
	}{{base + long*holdFrom, base + long/2, 1, "base"}, {top - long*holdFrom, base + long/2, -1, "tip"}} {
		h, ok := place(p, keep, end.from, end.to, end.step, out)
		if !ok { // then between it and its end
			limit := base
			if end.step < 0 {
				limit = top
			}
			h, ok = place(p, keep, end.from, limit, -end.step, out)
		}
		if !ok {
			return nil, fault.New(fault.NoFit, "", fmt.Sprintf("no hold of %s finds a place at the %s end: tip and code must stay free",
				unit.Millimetre(StrapWide).Text(1, unit.Style{}), end.name), "give the float another way on its card: holds = \"none\"")
		}
		h.FromShare = math.Min(h.Z-base, top-h.Z) / long
		out = append(out, h)
	}
	if out[0].Kind == Elastic {
		h := Hold{Kind: Pocket, Z: base + pocketDeep, D: widestIn(p, base, base+pocketDeep), FromShare: pocketDeep / long}
		h.Across = h.D + pocketLoose
		if lo, _ := out[0].reach(); h.D <= StrapMost && lo-StrapWide/2 > h.Z && !covers(keep, base, h.Z+slitEnd/2) {
			out = append(out, h)
		}
	}
	return out, nil
}

// covers reports whether a stretch meets one to be kept free.
func covers(keep []Keep, from, to float64) bool {
	for _, k := range keep {
		if to > k.From && from < k.To {
			return true
		}
	}
	return false
}

// place looks for a hold from one height on, in steps of half a millimetre.
func place(p body.Profile, keep []Keep, from, to, step float64, others []Hold) (Hold, bool) {
	const pace = 0.5
	n := int(math.Abs(to-from) / pace)
	for i := 0; i <= n; i++ {
		z := from + float64(float64(i)*pace*math.Copysign(1, step))
		h := holdAt(p, z)
		lo, hi := h.reach()
		free := lo >= float64(p.Base()) && hi <= float64(p.Top())
		free = free && !covers(keep, lo, hi)
		for _, o := range others {
			a, b := o.reach()
			free = free && (hi+StrapWide <= a || lo-StrapWide >= b)
		}
		if free {
			return h, true
		}
	}
	return Hold{}, false
}

// holdAt is the hold for that height, by the widest the float is there.
func holdAt(p body.Profile, z float64) Hold {
	d := widestIn(p, z-StrapWide/2, z+StrapWide/2)
	if d > StrapMost {
		d = widestIn(p, z-elasticHole/2, z+elasticHole/2)
		return Hold{Kind: Elastic, Z: z, D: d, Across: d + elasticApart}
	}
	l := Slit(d)
	return Hold{Kind: Strap, Z: z, D: d, Across: l, Lifted: StrapLift(d, l), Shared: d * d / (2 * l)}
}

// reach is the stretch of the float that a hold covers.
func (h Hold) reach() (from, to float64) {
	half := StrapWide/2 + slitEnd/2
	switch h.Kind {
	case Elastic:
		half = elasticHole / 2
	case Pocket:
		half = slitEnd / 2
	}
	return h.Z - half, h.Z + half
}

// far reports whether a hold sits so far from where two holds belong that it is
// told. Own choice.
func (h Hold) far() bool {
	const least, most = 0.10, 0.40
	return h.Kind != Pocket && (h.FromShare < least || h.FromShare > most)
}

// wide is how far a hold reaches across the card.
func (h Hold) wide() float64 {
	if h.Kind == Elastic {
		return h.Across + elasticHole
	}
	return h.Across + slitEnd
}

// widestIn returns the largest diameter between two heights.
func widestIn(p body.Profile, from, to float64) float64 {
	from, to = math.Max(from, float64(p.Base())), math.Min(to, float64(p.Top()))
	if from > to {
		return 0
	}
	d := 0.0
	for _, z := range heights(p, from, to) {
		d = math.Max(d, float64(p.Diameter(unit.Millimetre(z))))
	}
	return d
}

// paths returns the cuts of a hold whose middle lies at c on the card, the float
// upright: slits with round ends, or holes.
func (h Hold) paths(c geom.Point) []geom.Path {
	x0, x1 := c.X-h.Across/2, c.X+h.Across/2
	if h.Kind == Elastic {
		return []geom.Path{geom.Circle(geom.Point{X: x0, Y: c.Y}, elasticHole/2), geom.Circle(geom.Point{X: x1, Y: c.Y}, elasticHole/2)}
	}
	ys := []float64{c.Y - StrapWide/2, c.Y + StrapWide/2}
	if h.Kind == Pocket {
		ys = []float64{c.Y}
	}
	var all []geom.Path
	for _, y := range ys {
		for _, x := range []float64{x0, x1} {
			all = append(all, geom.Circle(geom.Point{X: x, Y: y}, slitEnd/2))
		}
		all = append(all, geom.LineBetween(geom.Point{X: x0 + slitEnd/2, Y: y}, geom.Point{X: x1 - slitEnd/2, Y: y}))
	}
	return all
}

// cutInk and cutLine are how cuts of holds are printed on a card that is cut by
// hand: thin and pale, for they stay to be seen.
var cutInk = draw.Ink{R: 110, G: 110, B: 110}

const cutLine = 0.15

// ops draws the hold's cuts.
func (h Hold) ops(c geom.Point) []draw.Op {
	var ops []draw.Op
	for _, p := range h.paths(c) {
		ops = append(ops, &draw.Stroke{Path: p, Ink: cutInk, Width: cutLine})
	}
	return ops
}
