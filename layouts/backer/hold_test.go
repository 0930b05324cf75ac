package backer

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/geom"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// What a strap must give, derived: a rod of diameter d under a strap with slits
// of length l, lying on the card, and half sunk. A rod on the card: the strap
// runs from the slit's end along a tangent, round the rod and down again, worked
// out here by points along it.
func TestStrapLift(t *testing.T) {
	for _, c := range []struct{ d, l, lifted, shared float64 }{
		{5, 30, 1.65, 0.42}, {8, 40, 3.16, 0.80}, {12, 40, 6.99, 1.81},
	} {
		if got := StrapLift(c.d, c.l); math.Abs(got-c.lifted) > 0.02 {
			t.Errorf("a rod of %v under slits of %v: %.3f mm longer, want %v", c.d, c.l, got, c.lifted)
		}
		if got := c.d * c.d / (2 * c.l); math.Abs(got-c.shared) > 0.011 {
			t.Errorf("half sunk: %.3f, want %v", got, c.shared)
		}
		r := c.d / 2
		// The tangent from (l/2, 0) to the circle about (0, r).
		far := math.Hypot(c.l/2, r)
		tangent := math.Sqrt(far*far - r*r)
		length, steps := 0.0, 20000
		half := 2 * math.Atan2(r, c.l/2) // the arc from the top to a touching point
		for i := range steps {
			a, b := half*float64(i)/float64(steps), half*float64(i+1)/float64(steps)
			length += math.Hypot(r*(math.Sin(b)-math.Sin(a)), r*(math.Cos(b)-math.Cos(a)))
		}
		if over := 2*(tangent+length) - c.l; math.Abs(over-StrapLift(c.d, c.l)) > 1e-6 {
			t.Errorf("a strap walked point by point is %.6f mm longer, by the formula %.6f", over, StrapLift(c.d, c.l))
		}
	}
	for d, want := range map[float64]float64{5: 12.5, 8: 32} { // l >= d²/2
		if got := Slit(d); got != want {
			t.Errorf("slits of %v mm for a rod of %v, want %v", got, d, want)
		}
	}
}

// Holds lie on the float, off the tip and the code, apart, and bend the card no
// more than it can; two of them, 20 to 25 % from the ends where nothing is in the way.
func TestHolds(t *testing.T) {
	p := sedge(t).Pattern
	got, err := Holds(p.Profile, []Keep{{From: 161 - tipClear, To: 174}})
	if err != nil || len(got) != 3 || got[2].Kind != Pocket || got[2].Z != pocketDeep || math.Abs(got[2].Across-got[2].D-2) > 1e-9 {
		t.Fatalf("%v, %v", got, err)
	}
	for i, want := range []Hold{{Kind: Elastic, Z: 34.8}, {Kind: Strap, Z: 139.2}} {
		if got[i].Kind != want.Kind || math.Abs(got[i].Z-want.Z) > 1e-9 || got[i].FromShare < holdFrom-1e-9 || got[i].FromShare > holdTo+1e-9 {
			t.Errorf("hold %d is %+v, want %v at %v", i, got[i], want.Kind, want.Z)
		}
	}
	free := 0
	rapid.Check(t, func(r *rapid.T) {
		long := rapid.Float64Range(40, 280).Draw(r, "long")
		st := []body.Station{{Z: 0, D: unit.Millimetre(rapid.Float64Range(1, 20).Draw(r, "d0"))},
			{Z: unit.Millimetre(long * rapid.Float64Range(0.1, 0.9).Draw(r, "at")), D: unit.Millimetre(rapid.Float64Range(1, 25).Draw(r, "d1"))},
			{Z: unit.Millimetre(long), D: unit.Millimetre(rapid.Float64Range(1, 20).Draw(r, "d2"))}}
		p := profile(r, st...)
		keep := []Keep{{From: long * rapid.Float64Range(0.5, 1).Draw(r, "tip"), To: long}}
		from := long * rapid.Float64Range(0, 0.9).Draw(r, "code")
		keep = append(keep, Keep{From: from, To: from + rapid.Float64Range(5, 40).Draw(r, "high")})
		all, err := Holds(p, keep)
		if err != nil {
			if fault.ClassOf(err) != fault.NoFit {
				r.Fatal(err)
			}
			return
		}
		free++
		for i, h := range all {
			lo, hi := h.reach()
			if lo < -1e-9 || hi > long+1e-9 {
				r.Fatalf("%+v leaves the float", h)
			}
			if h.Kind == Pocket && h.D > StrapMost {
				r.Fatalf("%+v", h)
			}
			for _, k := range keep {
				if hi > k.From+1e-9 && lo < k.To-1e-9 {
					r.Fatalf("%+v covers %v", h, k)
				}
			}
			switch h.Kind {
			case Strap:
				if h.D > StrapMost || h.Shared > Bend+1e-9 || h.Across < h.D*h.D/2 {
					r.Fatalf("the card must give %v mm: %+v", h.Shared, h)
				}
			case Elastic:
				if h.D <= 0 || math.Abs(h.Across-h.D-elasticApart) > 1e-9 {
					r.Fatalf("%+v", h)
				}
			}
			for _, o := range all[:i] {
				if least := StrapWide; math.Abs(o.Z-h.Z) < least && h.Kind != Pocket || math.Abs(o.Z-h.Z) < least/2 {
					r.Fatalf("%+v meets %+v", h, o)
				}
			}
		}
	})
	if free == 0 {
		t.Error("no float was held")
	}
}

// The hole over the centre of gravity: by x = sum(m x)/sum(m), with the mass of
// an A6 card of 300 g/m² as worked out by hand, 0.105 · 0.148 · 300 = 4.66 g; and
// that a card hung there hangs straight.
func TestCentreOfGravity(t *testing.T) {
	card := Mass{0.105 * 0.148 * 300, geom.Point{X: 52.5, Y: 74}}
	if math.Abs(card.Gram-4.66) > 0.005 {
		t.Errorf("A6 weighs %v g", card.Gram)
	}
	c := CentreOfGravity(card, Mass{10, geom.Point{X: 20, Y: 100}})
	if want := (4.662*52.5 + 10*20) / 14.662; math.Abs(c.X-want) > 1e-3 {
		t.Errorf("%v, want x %v", c, want)
	}
	if a := Tilt(geom.Point{X: c.X, Y: 12}, c); a != 0 {
		t.Errorf("it leans by %v", a)
	}
	if a := Tilt(geom.Point{X: c.X + 1, Y: c.Y - 100}, c) * 180 / math.Pi; math.Abs(a-0.5729) > 1e-3 { // atan(1/100)
		t.Errorf("1 mm off at 100 mm leans by %v degrees", a)
	}
	if got := CentreOfGravity(); got != (geom.Point{}) {
		t.Error(got)
	}
}

// The slot is 32 mm wide, 6.5 mm high at its ends and 9 mm over its bump, and
// the card above it at least 6.35 mm; the hole is an office punch's.
func TestHangOutlines(t *testing.T) {
	at := geom.Point{X: 50, Y: EuroSlot.depth()}
	b := EuroSlot.outline(at, 0).Bounds()
	if math.Abs(b.W()-32) > 0.01 || math.Abs(b.H()-9) > 0.01 || b.Min.Y < SlotEdge-0.01 {
		t.Errorf("the slot is %v", b)
	}
	if got := EuroSlot.box(at); !got.Inset(-0.01).Contains(b) || !b.Inset(-0.01).Contains(got) {
		t.Errorf("its box is %v", got)
	}
	area := EuroSlot.outline(at, 0).Area(0.001)
	plain := 6.5*(32-6.5) + math.Pi*3.25*3.25
	if extra := math.Abs(area) - plain; extra < 5 || extra > 20 {
		t.Errorf("the bump adds %v mm²", extra)
	}
	if b := RoundHole.outline(geom.Point{X: 20, Y: HoleDepth}, 0).Bounds(); math.Abs(b.W()-6) > 1e-6 || math.Abs(b.Min.Y-9) > 1e-6 {
		t.Errorf("the hole is %v", b)
	}
}
