package palette

import (
	"floatmark/layouts/draw"
	"floatmark/layouts/legible"
)

// Sight is a way of seeing colours: with all three kinds of cones of the eye,
// or with one of them missing. The weaker forms, where a kind is only shifted,
// lie between.
type Sight int

// The ways of seeing.
const (
	Normal Sight = iota
	Protan       // without the cones of long waves: reds are dark
	Deutan       // without the cones of middle waves: the commonest lack
	Tritan       // without the cones of short waves: rare
	sights
)

// Sights lists all ways of seeing, Normal first.
func Sights() []Sight {
	all := make([]Sight, sights)
	for i := range all {
		all[i] = Sight(i)
	}
	return all
}

// String names the sight by the field's own word.
func (s Sight) String() string {
	switch s {
	case Protan:
		return "protan"
	case Deutan:
		return "deutan"
	case Tritan:
		return "tritan"
	}
	return "normal"
}

// projection maps the light of a colour to that of the colour with which a
// sight confounds it.
type projection [3]legible.Light

// Protan and deutan: Viénot, Brettel and Mollon 1999, Color Research and
// Application 24(4), 243-252. Tritan: Brettel, Viénot and Mollon 1997, Journal
// of the Optical Society of America A 14(10), 2647-2655, which wants two half
// planes, since one plane serves a missing short-wave cone badly. The numbers are
// the methods worked out for the primaries of sRGB, as libDaltonLens (public
// domain) publishes them; the tests derive them again from the cones.
var (
	protanView = projection{{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}}
	deutanView = projection{{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}}

	tritanPlane = legible.Light{0.03901, -0.02788, -0.01113} // the side of the greys a colour lies on
	tritanViewA = projection{{1.01277, 0.13548, -0.14826}, {-0.01243, 0.86812, 0.14431}, {0.07589, 0.80500, 0.11911}}
	tritanViewB = projection{{0.93678, 0.18979, -0.12657}, {0.06154, 0.81526, 0.12320}, {-0.37562, 1.12767, 0.24796}}
)

// Seen returns the colour that looks to normal eyes as i looks to the sight.
// Greys stay as they are.
func Seen(i draw.Ink, s Sight) draw.Ink {
	if s <= Normal || s >= sights {
		return i
	}
	return seen(legible.LightOf(i), s).Ink()
}

// seen may leave the range 0 to 1 of what a screen can show.
func seen(l legible.Light, s Sight) legible.Light {
	switch s {
	case Protan:
		return protanView.of(l)
	case Deutan:
		return deutanView.of(l)
	case Tritan:
		if dot(tritanPlane, l) >= 0 {
			return tritanViewA.of(l)
		}
		return tritanViewB.of(l)
	}
	return l
}

func (p projection) of(l legible.Light) legible.Light {
	return legible.Light{dot(p[0], l), dot(p[1], l), dot(p[2], l)}
}
