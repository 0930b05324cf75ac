package job

import (
	"math"
	"testing"

	"floatmark/label/record"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// inside is the non-zero rule, plainly.
func inside(p geom.Path, q geom.Point) bool {
	n := 0
	for _, ring := range p.Flatten(0.01) {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			cross := (b.X-a.X)*(q.Y-a.Y) - (b.Y-a.Y)*(q.X-a.X)
			if a.Y <= q.Y && b.Y > q.Y && cross > 0 {
				n++
			}
			if b.Y <= q.Y && a.Y > q.Y && cross < 0 {
				n--
			}
		}
	}
	return n != 0
}

func anyInside(all []geom.Path, q geom.Point) bool {
	for _, p := range all {
		if inside(p, q) {
			return true
		}
	}
	return false
}

func aPart(t *testing.T, freed bool, list ...geom.Path) record.Part {
	t.Helper()
	data, err := encodeRegion(list)
	if err != nil {
		t.Fatal(err)
	}
	return record.Part{Freed: freed, Data: data}
}

// sector is a ring's part, as decals of a tapering body are.
func sector(c geom.Point, inner, outer, a, b float64) geom.Path {
	var p geom.Path
	p.Arc(c, outer, a, b)
	p.Arc(c, inner, b, a)
	p.Close()
	return p
}

// What is spent is told point by point by the last part that lies there, not by
// the cutting.
func TestTakenAgainstThePoints(t *testing.T) {
	type step struct {
		freed bool
		path  geom.Path
	}
	steps := []step{
		{false, geom.Rectangle(geom.XYWH(5, 5, 60, 40))},
		{false, sector(geom.Point{X: 50, Y: 60}, 15, 30, 2.5, 7)},
		{false, geom.Polygon(geom.Point{X: 10, Y: 70}, geom.Point{X: 40, Y: 50}, geom.Point{X: 20, Y: 72}, geom.Point{X: 45, Y: 90})}, // not convex
		{true, geom.Rectangle(geom.XYWH(30, 20, 30, 45))},
		{true, geom.Polygon(geom.Point{X: 25, Y: 60}, geom.Point{X: 18, Y: 95}, geom.Point{X: 45, Y: 88})}, // against the clock
		{false, geom.Circle(geom.Point{X: 40, Y: 50}, 7)},
		{true, geom.Circle(geom.Point{X: 60, Y: 85}, 6)},
	}
	var parts []record.Part
	for _, s := range steps {
		parts = append(parts, aPart(t, s.freed, s.path))
	}
	taken, err := takenOf(parts)
	if err != nil {
		t.Fatal(err)
	}
	spent, blank := 0, 0
	for x := 0.37; x < 100; x += 0.93 {
		for y := 0.41; y < 100; y += 0.97 {
			q := geom.Point{X: x, Y: y}
			want, near := false, false
			for _, s := range steps {
				in := inside(s.path, q)
				for _, d := range []geom.Point{{X: .03}, {X: -.03}, {Y: .03}, {Y: -.03}} { // edges are flattened and rounded
					near = near || inside(s.path, q.Add(d)) != in
				}
				if in {
					want = !s.freed
				}
			}
			if near {
				continue
			}
			if want {
				spent++
			} else {
				blank++
			}
			if got := anyInside(taken, q); got != want {
				t.Fatalf("at %v: spent %v, want %v", q, got, want)
			}
		}
	}
	if spent < 1500 || blank < 5000 {
		t.Errorf("%d points spent and %d blank: too few to tell anything", spent, blank)
	}
	again, err := takenOf([]record.Part{aPart(t, false, taken...)})
	if err != nil || len(again) != len(taken) {
		t.Fatal(len(again), len(taken), err)
	}
	for i := range again {
		if math.Abs(again[i].Area(0.01)-taken[i].Area(0.01)) > 0 {
			t.Errorf("ring %d changes when it is stored and read again", i)
		}
	}
}

func TestFreeingAllLeavesNothing(t *testing.T) {
	taken, err := takenOf([]record.Part{aPart(t, false, sector(geom.Point{X: 50, Y: 60}, 15, 30, 2.5, 7)), aPart(t, true, geom.Rectangle(geom.XYWH(0, 0, 210, 297)))})
	if err != nil || len(taken) != 0 {
		t.Errorf("%d rings left, %v", len(taken), err)
	}
}

func TestConvex(t *testing.T) {
	p := func(xy ...float64) (out geom.Path) {
		var pts []geom.Point
		for i := 0; i < len(xy); i += 2 {
			pts = append(pts, geom.Point{X: xy[i], Y: xy[i+1]})
		}
		return geom.Polygon(pts...)
	}
	for name, c := range map[string]struct {
		path geom.Path
		want bool
	}{
		"rectangle":               {geom.Rectangle(geom.XYWH(1, 2, 3, 4)), true},
		"backwards":               {geom.Rectangle(geom.XYWH(1, 2, 3, 4)).Reverse(), true},
		"circle":                  {geom.Circle(geom.Point{X: 5, Y: 5}, 4), true},
		"with a point on an edge": {p(0, 0, 5, 0, 10, 0, 10, 10, 0, 10), true},
		"arrow":                   {p(0, 0, 10, 5, 0, 10, 3, 5), false},
		"star":                    {p(0, -10, 6, 8, -9.5, -3, 9.5, -3, -6, 8), false}, // bends one way, twice round
		"two rings":               {append(geom.Rectangle(geom.XYWH(0, 0, 1, 1)), geom.Rectangle(geom.XYWH(3, 3, 1, 1))...), false},
		"a line":                  {p(0, 0, 10, 0), false},
		"nothing":                 {nil, false},
	} {
		if got := convex(c.path); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestARegionOfANewerProgram(t *testing.T) {
	_, err := takenOf([]record.Part{{Data: []byte(`{"format":2,"areas":[]}`)}})
	if fault.ClassOf(err) != fault.Input {
		t.Errorf("got %v", err)
	}
}

// Whatever a damaged record holds, reading it ends without a panic, and what is
// read is stored and read back as it is.
func FuzzRegion(f *testing.F) {
	f.Add([]byte(`{"format":1,"paths":[[[0,0],[10,0],[10,10],[0,10]],[[3,3],[4,3],[4,4]]]}`), []byte(`{"format":1,"paths":[[[5,-1],[12,5],[5,12]]]}`))
	f.Add([]byte(`{"format":1,"paths":[[],[[1,2]],[[1e300,-1e300],[0,0]]]}`), []byte(`{"format":1,"paths":[[[0,0],[1,1]],[[2,2]]]}`))
	f.Add([]byte(`{"format":2}`), []byte(`null`))
	f.Fuzz(func(t *testing.T, spent, blank []byte) {
		taken, err := takenOf([]record.Part{{Data: spent}, {Data: blank, Freed: true}})
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("class %v: %v", fault.ClassOf(err), err)
			}
			return
		}
		data, err := encodeRegion(taken)
		if err != nil {
			t.Fatal(err)
		}
		again, err := takenOf([]record.Part{{Data: data}})
		if err != nil || len(again) != len(taken) {
			t.Fatalf("%d rings read back of %d: %v", len(again), len(taken), err)
		}
		more, err := encodeRegion(again)
		if err != nil || string(more) != string(data) {
			t.Fatalf("%s comes back as %s, %v", data, more, err)
		}
	})
}
