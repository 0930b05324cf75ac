package nest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"floatmark/layouts/geom"
)

func genRing(t *rapid.T) []geom.Point {
	var ring []geom.Point
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	for range n {
		// Few values, so that level edges, spikes and equal corners come up.
		v := rapid.SampledFrom([]float64{0, 0.1, 1, 2.5, 4, 4.003, 7, 9.99, 12})
		ring = append(ring, geom.Point{X: v.Draw(t, "x"), Y: v.Draw(t, "y")})
	}
	return ring
}

// turnsAround is how often a ring turns around p: the sum of the angles.
func turnsAround(ring []geom.Point, p geom.Point) int {
	sum := 0.0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		u, v := a.Sub(p), b.Sub(p)
		sum += math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

// A pixel is set if and only if its centre is near enough, by the plain distance.
func TestMaskAgainstDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := genRing(t)
		var all [][]geom.Point
		at := boxOf(ring)
		all = append(all, turnRings([][]geom.Point{ring}, geom.Translate(-at.Min.X, -at.Min.Y))...)
		gap := rapid.SampledFrom([]float64{0.3, 2}).Draw(t, "gap")
		res := rapid.SampledFrom([]float64{0.5, 0.25}).Draw(t, "res")
		m := newMask(all, geom.Size{W: at.W(), H: at.H()}, gap, res)
		set := map[spot]bool{}
		for i, row := range m.rows {
			for _, r := range row {
				for u := r.a; u <= r.b; u++ {
					set[spot{u, i + m.top}] = true
				}
			}
		}
		pad := padding(gap, res) + 1
		for v := -pad; v < int(at.H()/res)+pad; v++ {
			for u := -pad; u < int(at.W()/res)+pad; u++ {
				c := geom.Point{X: (float64(u) + 0.5) * res, Y: (float64(v) + 0.5) * res}
				d := distance([]geom.Point{c}, all[0])
				if turnsAround(all[0], c) != 0 {
					d = 0
				}
				if math.Abs(d-growth(gap, res)) < 1e-6 {
					continue
				}
				if want := d < growth(gap, res); set[spot{u, v}] != want {
					t.Fatalf("pixel %d, %d at %v is %v, its distance %v", u, v, c, set[spot{u, v}], d)
				}
			}
		}
	})
}

// Masks apart are shapes apart: for two rings as near as the masks let them.
func TestMasksApartAreShapesApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const gap = 1.0
		res := rapid.SampledFrom([]float64{0.5, 0.25, 0.125}).Draw(t, "res")
		var rings [2][]geom.Point
		var masks [2]*mask
		for i := range rings {
			r := genRing(t)
			b := boxOf(r)
			rings[i] = turnRings([][]geom.Point{r}, geom.Translate(-b.Min.X, -b.Min.Y))[0]
			masks[i] = newMask(rings[i:i+1], geom.Size{W: b.W(), H: b.H()}, gap, res)
		}
		v, u := rapid.IntRange(-60, 60).Draw(t, "v"), 0
		for meet(masks[0], masks[1], u, v) {
			u++
		}
		moved := turnRings(rings[1:], geom.Translate(float64(u)*res, float64(v)*res))
		if nearer(rings[:1], moved, gap) {
			t.Fatalf("nearer than %v at %d, %d", gap, u, v)
		}
	})
}

// find is as the plain search, place by place and pixel by pixel.
func TestFindAgainstEveryPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const gap, res = 0.5, 0.5
		room := geom.Size{W: rapid.Float64Range(10, 90).Draw(t, "w"), H: rapid.Float64Range(10, 40).Draw(t, "h")}
		g := newGrid(room, gap, res)
		spent := map[spot]bool{}
		some := func() *mask {
			r := genRing(t)
			b := boxOf(r)
			return newMask(turnRings([][]geom.Point{r}, geom.Translate(-b.Min.X, -b.Min.Y)), geom.Size{W: b.W(), H: b.H()}, gap, res)
		}
		each := func(m *mask, at spot, f func(spot)) {
			for i, row := range m.rows {
				for _, r := range row {
					for u := r.a; u <= r.b; u++ {
						f(spot{at.u + u, at.v + i + m.top})
					}
				}
			}
		}
		for range rapid.IntRange(0, 12).Draw(t, "spent") {
			m := some()
			at := spot{rapid.IntRange(0, int(room.W/res)).Draw(t, "u"), rapid.IntRange(0, int(room.H/res)).Draw(t, "v")}
			g.spend(m, at.u, at.v)
			each(m, at, func(s spot) { spent[s] = true })
		}
		m := some()
		most := spot{int((room.W - m.w) / res), int((room.H - m.h) / res)}
		if most.u < 0 || most.v < 0 {
			return
		}
		from := spot{rapid.IntRange(0, most.u).Draw(t, "from u"), rapid.IntRange(0, most.v).Draw(t, "from v")}
		got, ok := g.find(m, from, most)
		for s := from; s.v <= most.v; s = (spot{0, s.v + 1}) {
			for ; s.u <= most.u; s.u++ {
				free := true
				each(m, s, func(q spot) { free = free && !spent[q] })
				if free {
					if !ok || got != s {
						t.Fatalf("found %v %v, the first is %v", got, ok, s)
					}
					return
				}
			}
		}
		if ok {
			t.Fatalf("found %v, there is none", got)
		}
	})
}

// The closed form for chevrons, √(ρ₂² − ρ₁²·sin²(F/2)) − ρ₁·cos(F/2) for gap 0
// (derived; numeric checks 12.846 … 22.781 mm), is met by rows to the raster.
func TestRowsOfChevrons(t *testing.T) {
	for _, c := range []struct{ inner, outer, sweep, pitch float64 }{
		{12, 24, 60, 12.846}, {8, 20, 90, 13.526}, {14, 28, 77, 15.659}, {12, 24, 120, 15.633}, {22.2, 42.2, 81, 22.781},
	} {
		if got := nested(c.inner, c.outer, c.sweep, 0); math.Abs(got-c.pitch) > 0.01 {
			t.Errorf("closed form %.3f, want %.3f", got, c.pitch)
		}
		p := newProblem([]Piece{sector("a", c.inner, c.outer, c.sweep, every...)}, nil, a4Sheet, Options{Gap: 2})
		m := p.rasterAll(bestRes, []int{0}).of(0, 1)
		pitch := 1
		for !repeats(m, pitch) {
			pitch++
		}
		// Growth costs a pixel's diagonal between two pieces, the grid up to a pixel.
		want := nested(c.inner, c.outer, c.sweep, 2)
		if got := float64(pitch) * bestRes; got < want || got > want+bestRes*(math.Sqrt2+1)+0.05 {
			t.Errorf("%v to %v, %v degrees: pitch %.3f, closed form %.3f", c.inner, c.outer, c.sweep, got, want)
		}
	}
}

func TestManyKinds(t *testing.T) {
	var pieces []Piece
	for i := range 2 * manyKinds {
		k := 1 + 0.05*math.Sin(float64(i)*1.7)
		if i%2 == 0 {
			pieces = append(pieces, sector(fmt.Sprint("float ", i), 12*k, 24*k, 60+20*math.Sin(float64(i)), every...))
		} else {
			pieces = append(pieces, box(fmt.Sprint("stem ", i), 12*k, 9, every...))
		}
	}
	p := newProblem(pieces, nil, a4Sheet, Options{Gap: 2})
	if p.loose == nil || len(p.loose.kinds) >= len(p.kinds)/2 {
		t.Fatalf("%d kinds have no covers", len(p.kinds))
	}
	f, err := p.loose.fillBy(t.Context(), rule{res: fineRes, row: wholeRow}, p.loose.rasterAll(fineRes, []int{0}))
	if err != nil {
		t.Fatal(err)
	}
	checkPlain(t, pieces, f.result().placed, nil, a4Sheet, 2)
	placed, r := pack(t, pieces, nil, a4Sheet, Options{Gap: 2, Quick: true})
	checkPlain(t, pieces, placed, nil, a4Sheet, 2)
	t.Logf("%d kinds, %d covers, net %.2f %%", len(p.kinds), len(p.loose.kinds), 100*r.Net())
}

// A length of a roll is a large sheet; its pixels grow, and the time stays.
func TestRoll(t *testing.T) {
	roll := Area{Size: geom.Size{W: 600, H: 10000}, Margin: 5}
	pieces := batchMix(2, 20)
	placed, r := pack(t, pieces, nil, roll, Options{Gap: 2, Quick: true, Strip: true, Feed: Bottom})
	checkPlain(t, pieces, placed, nil, roll, 2)
	if s := r.Strips[0]; r.Fresh != 1 || s.Edge != Top || s.Depth > 120 {
		t.Errorf("%+v", r)
	}
}
