package body

import (
	"math"
	"slices"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

// genMeasured draws heights off the ends at least 0.07 mm apart, with diameters
// of 0.85 to 1.15 times the pattern's.
func genMeasured(t *rapid.T, p Profile) []Measured {
	var all []Measured
	n := rapid.IntRange(1, 4).Draw(t, "measures")
	for i := range n {
		lo, hi := float64(i)/float64(n), (float64(i)+0.4)/float64(n)
		z := p.Base() + p.Length()*unit.Millimetre(rapid.Float64Range(max(lo, 0.01), hi).Draw(t, "at"))
		all = append(all, Measured{z, p.Diameter(z) * unit.Millimetre(rapid.Float64Range(0.85, 1.15).Draw(t, "ratio"))})
	}
	return all
}

func TestRemeasuredPassesThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genProfile(t)
		m := genMeasured(t, p)
		for _, one := range m {
			if one.D == 0 || slices.ContainsFunc(p.stations, func(s Station) bool { return math.Abs(float64(s.Z-one.Z)) < 0.02 }) {
				t.Skip("beside a station, which takes the reading")
			}
		}
		q, err := p.Remeasured(m)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range m {
			if d := q.Diameter(one.Z); math.Abs(float64(d-one.D)) > 1e-9 {
				t.Errorf("%v at %v, measured %v", d, one.Z, one.D)
			}
		}
		back := slices.Clone(m)
		slices.Reverse(back)
		if r, err := p.Remeasured(back); err != nil || !slices.Equal(r.stations, q.stations) {
			t.Errorf("the order of the measures counts: %v", err)
		}
		if len(q.stations) != len(p.stations)+len(m) || q.Base() != p.Base() || q.Top() != p.Top() {
			t.Errorf("%d stations of %d and %d measures", len(q.stations), len(p.stations), len(m))
		}
		for _, s := range p.stations { // kinds and corners stay
			i := slices.IndexFunc(q.stations, func(o Station) bool { return o.Z == s.Z })
			if i < 0 || q.stations[i].Kind != s.Kind || q.stations[i].Corner != s.Corner {
				t.Errorf("station %+v became %+v", s, q.stations)
			}
		}
	})
}

// A reading on a station, at an end too, is that station's diameter.
func TestRemeasuredOnStations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genProfile(t)
		var m []Measured
		for _, s := range p.stations {
			if s.D > 0 {
				m = append(m, Measured{s.Z, s.D * unit.Millimetre(rapid.Float64Range(0.85, 1.15).Draw(t, "ratio"))})
			}
		}
		q, err := p.Remeasured(m)
		if err != nil {
			t.Fatal(err)
		}
		if len(q.stations) != len(p.stations) {
			t.Errorf("%d stations of %d", len(q.stations), len(p.stations))
		}
		for _, one := range m {
			if d := q.Diameter(one.Z); math.Abs(float64(d-one.D)) > 1e-9 {
				t.Errorf("%v at %v, measured %v", d, one.Z, one.D)
			}
		}
	})
}

func TestRemeasuredUnchanged(t *testing.T) {
	p := must(t, Join(Stem(2, 3, 20), Olive(16, 3, 40), Stem(3, 2, 60)))
	q, err := p.Remeasured(nil)
	if err != nil || !slices.Equal(q.stations, p.stations) {
		t.Errorf("unmeasured: %v", err)
	}
	// Measured and found to be the pattern: the readings add stations, and the
	// curve through them moves by less than a calliper shows.
	var m []Measured
	for _, z := range []unit.Millimetre{10, 25.3, 33, 40, 51.7, 58, 90} {
		m = append(m, Measured{z, p.Diameter(z)})
	}
	q, err = p.Remeasured(m)
	if err != nil {
		t.Fatal(err)
	}
	for z := unit.Millimetre(0); z <= p.Top(); z += 0.1 {
		near(t, "diameter", float64(q.Diameter(z)), float64(p.Diameter(z)), 0.01)
	}
}

func TestRemeasuredConeStaysACone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// A cone that is written with a station halfway, on a stem.
		d := func(name string) unit.Millimetre { return unit.Millimetre(rapid.Float64Range(4, 20).Draw(t, name)) }
		lo, hi := d("lo"), d("hi")
		p, err := New([]Station{{Z: 0, D: lo}, {Z: 15, D: (lo + hi) / 2}, {Z: 30, D: hi, Corner: true}, {Z: 90, D: 3}})
		if err != nil {
			t.Fatal(err)
		}
		near := func(d unit.Millimetre) unit.Millimetre {
			return d * unit.Millimetre(rapid.Float64Range(0.85, 1.15).Draw(t, "ratio"))
		}
		q, err := p.Remeasured([]Measured{{0, near(lo)}, {30, near(hi)}})
		if err != nil || !q.IsCone(0, 30) {
			t.Errorf("both ends measured, and no cone: %v", err)
		}
		z := unit.Millimetre(rapid.Float64Range(1, 14).Draw(t, "z"))
		q, err = p.Remeasured([]Measured{{z, near(p.Diameter(z))}, {z + 15, near(p.Diameter(z + 15))}})
		if err != nil || !q.IsCone(z, z+15) || !q.IsCone(0, z) {
			t.Errorf("measured on the cone, and no cones between and below: %v", err)
		}
	})
}

// One reading scales the whole float: its volume goes with the square of the
// ratio, twice the ratio's excess while that is small.
func TestRemeasuredVolume(t *testing.T) {
	for _, c := range []struct {
		name string
		st   []Station
		per  float64 // tolerance, per cent
	}{
		{"cones", Join(Cone(3, 16, 30), Cone(16, 4, 60)), 1e-9},
		{"olive", Olive(16, 0, 60), 0.02},
		{"ogive", Ogive(14, 2, 40), 0.02},
		{"drop", Drop(16, 2, 60), 0.02},
	} {
		p := must(t, c.st)
		for _, ratio := range []float64{0.9, 0.99, 1, 1.01, 1.1} {
			q, err := p.Remeasured([]Measured{{23, p.Diameter(23) * unit.Millimetre(ratio)}})
			if err != nil {
				t.Fatal(err)
			}
			change := q.Volume(0, q.Top())/p.Volume(0, p.Top()) - 1
			near(t, c.name+", per cent", 100*change, 100*(ratio*ratio-1), c.per)
			if x := ratio - 1; math.Abs(x) < 0.02 {
				near(t, c.name+", twice the ratio", change, 2*x, 0.0004)
			}
		}
	}
}

// Worked by hand: 30 mm up the float is 16.16 for 16, a ratio of 1.01, and 60 mm
// up 8.2 for 8, 1.025; the edge at 45 lies halfway, so 12 becomes 12·1.0175.
func TestRemeasuredByHand(t *testing.T) {
	p := must(t, []Station{{Z: 0, D: 4}, {Z: 30, D: 16}, {Z: 45, D: 12, Kind: Curved, Corner: true}, {Z: 60, D: 8, Kind: Curved}, {Z: 100, D: 2}})
	q, err := p.Remeasured([]Measured{{60, 8.2}, {30, 16.16}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{4.04, 16.16, 12.21, 8.2, 2.05} {
		near(t, "diameter", float64(q.stations[i].D), want, 1e-12)
	}
	// Straight from 30 to 45 and from 45 on curved.
	near(t, "between", float64(q.Diameter(37.5)), (16.16+12.21)/2, 1e-12)
}

func TestRemeasuredRefuses(t *testing.T) {
	p := must(t, []Station{{Z: 0, D: 0}, {Z: 30, D: 16}, {Z: 90, D: 2}})
	for _, c := range []struct {
		m    []Measured
		want string
	}{
		{[]Measured{{30, 22.5}}, "measure 1: diameter 22.5 mm at 30 mm, where the pattern has 16 mm"},
		{[]Measured{{30, 11.1}}, "measure 1: diameter 11.1 mm at 30 mm, where the pattern has 16 mm"},
		{[]Measured{{30, 16}, {91, 2}}, "measure 2: height 91 mm is off the body, which runs from 0 mm to 90 mm"},
		{[]Measured{{-1, 16}}, "measure 1: height -1 mm is off the body"},
		{[]Measured{{unit.Millimetre(math.NaN()), 16}}, "measure 1: height"},
		{[]Measured{{30, 16}, {50, 12}, {30.02, 16.1}}, "measure 3: height 30.02 mm is measured twice, with 16 mm and 16.1 mm"},
		{[]Measured{{30, 0}}, "measure 1: diameter 0 mm is not between"},
		{[]Measured{{30, unit.Millimetre(math.NaN())}}, "measure 1: diameter"},
		{[]Measured{{0, 1}}, "measure 1: the pattern runs out to nothing at 0 mm"},
	} {
		_, err := p.Remeasured(c.m)
		if err == nil || fault.ClassOf(err) != fault.Input || !strings.HasPrefix(err.Error(), c.want) || fault.List(err)[0].Do == "" {
			t.Errorf("%v: %v", c.m, err)
		}
	}
	if _, err := (Profile{}).Remeasured([]Measured{{0, 5}}); fault.ClassOf(err) != fault.Input {
		t.Errorf("no body: %v", err)
	}
}

// A strip 0.1 mm thick round 16 mm bends about a circle of 16.1 mm.
func TestDiameterOfGirth(t *testing.T) {
	near(t, "round", float64(DiameterOfGirth(unit.Millimetre(math.Pi*16.1), PaperStrip)), 16, 1e-12)
	near(t, "50.7 mm", float64(DiameterOfGirth(50.7, 0)), 16.13831, 1e-5)
}

// The hoop of an oval's girth is the one a flat piece must be as long as: the
// way round an ellipse summed in small chords, against Ramanujan's second
// approximation (1914, from memory), and not the mean of its two diameters.
func TestOvalGoesByGirth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(5, 10).Draw(t, "a")
		b := a * rapid.Float64Range(0.5, 1).Draw(t, "flatness")
		const n = 20000
		girth := 0.0
		for i := range n {
			u, v := 2*math.Pi*float64(i)/n, 2*math.Pi*float64(i+1)/n
			girth += math.Hypot(a*(math.Cos(u)-math.Cos(v)), b*(math.Sin(u)-math.Sin(v)))
		}
		h := (a - b) * (a - b) / ((a + b) * (a + b))
		want := (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h)))
		d := float64(DiameterOfGirth(unit.Millimetre(girth), 0))
		if math.Abs(d-want) > 1e-5 {
			t.Errorf("%v by %v: hoop %v, Ramanujan %v", a, b, d, want)
		}
		if d < a+b-1e-6 {
			t.Errorf("%v by %v: hoop %v below the mean diameter", a, b, d)
		}
	})
}

// Any good measure makes a body, on a float of joined parts with steps too: no
// station comes too near another, and readings away from stations are kept.
func TestRemeasuredOnJoinedParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := func(name string, lo, hi float64) unit.Millimetre {
			return unit.Millimetre(rapid.Float64Range(lo, hi).Draw(t, name))
		}
		p, err := New(Join(Stem(d("stem", 0.5, 3), 2, d("long", 5, 60)), Olive(d("olive", 8, 20), 3, d("long", 10, 60)),
			Stem(d("stem", 0.5, 6), 0.5, d("long", 20, 200))))
		if err != nil {
			t.Fatal(err)
		}
		var m []Measured
		for z := d("first", 0, 1); z < p.Top(); z += d("gap", 0.05001, 30) {
			m = append(m, Measured{z, p.Diameter(z) * d("ratio", 0.75, 1.35)})
			if near := p.stations[rapid.IntRange(0, len(p.stations)-1).Draw(t, "station")].Z + d("beside", -0.02, 0.02); near > z+0.06 && near <= p.Top() {
				z = near // straight at a station's side
				m = append(m, Measured{z, p.Diameter(z) * d("ratio", 0.75, 1.35)})
			}
		}
		q, err := p.Remeasured(m)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range m {
			off := slices.MinFunc(p.stations, func(a, b Station) int {
				return int(math.Copysign(1, math.Abs(float64(a.Z-one.Z))-math.Abs(float64(b.Z-one.Z))))
			})
			if got := q.Diameter(one.Z); math.Abs(float64(off.Z-one.Z)) > float64(onStation) && math.Abs(float64(got-one.D)) > 1e-9 {
				t.Errorf("%v at %v, measured %v", got, one.Z, one.D)
			}
		}
	})
}
