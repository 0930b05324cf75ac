package view

import (
	"math"
	"testing"

	"floatmark/loading/body"
	"floatmark/loading/unit"

	"pgregory.net/rapid"
)

// bodies of the kinds that carry a code: parallel, cones both ways, a swelling
// one and one with a waist.
var phoneBodies = map[string][]body.Station{
	"parallel": {{Z: 0, D: 12}, {Z: 40, D: 12}},
	"opening":  {{Z: 0, D: 6}, {Z: 40, D: 20}},
	"closing":  {{Z: 0, D: 20}, {Z: 40, D: 6}},
	"belly":    {{Z: 0, D: 8, Kind: body.Curved}, {Z: 12, D: 14, Kind: body.Curved}, {Z: 20, D: 15, Kind: body.Curved}, {Z: 28, D: 14, Kind: body.Curved}, {Z: 40, D: 8}},
	"waist":    {{Z: 0, D: 18, Kind: body.Curved}, {Z: 20, D: 12, Kind: body.Curved}, {Z: 40, D: 18}},
}

func drawSight(t *rapid.T) (Sight, *Skin, body.Profile) {
	name := rapid.SampledFrom([]string{"parallel", "opening", "closing", "belly", "waist"}).Draw(t, "body")
	p, err := body.New(phoneBodies[name])
	if err != nil {
		t.Fatal(err)
	}
	s := NewSkin(p, 2, 38)
	tilt := rapid.Float64Range(-0.4, 0.4)
	ph := Phone{Yaw: tilt.Draw(t, "yaw"), Pitch: tilt.Draw(t, "pitch"), Roll: rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "roll"),
		Distance: rapid.Float64Range(80, 200).Draw(t, "distance"), Focal: 1440}
	return ph.Aim(s, 20), s, p
}

// What is projected into the picture is found there again.
func TestHitFindsWhatIsProjected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, _, p := drawSight(t)
		phi := rapid.Float64Range(-0.7, 0.7).Draw(t, "phi")
		z := unit.Millimetre(rapid.Float64Range(14, 26).Draw(t, "z"))
		x, y := l.Project(phi, z)
		h, ok := l.Hit(x, y, rapid.SampledFrom([]float64{math.NaN(), 3, 20, 37}).Draw(t, "guess"))
		if !ok {
			t.Fatal("not met")
		}
		if math.Abs(h.Phi-phi) > 1e-6 || math.Abs(h.Z-float64(z)) > 1e-5 {
			t.Fatalf("met at %v, %v, was at %v, %v", h.Phi, h.Z, phi, z)
		}
		if want := p.Meridian(2, z); math.Abs(h.S-want) > 1e-3 {
			t.Fatalf("slant %v, the body says %v", h.S, want)
		}
	})
}

// A ray is met where, walked along in small steps, it first is inside the body.
func TestHitIsWhereTheRayEnters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, s, _ := drawSight(t)
		x, y := rapid.Float64Range(-120, 120).Draw(t, "x"), rapid.Float64Range(-60, 60).Draw(t, "y")
		d := mix(1, mix(x/l.focal, l.right, -y/l.focal, l.up), -1, l.back)
		const step = 2e-3
		entered := math.NaN()
		for at := 60.0; at < 220; at += step {
			q := mix(1, l.eye, at, d)
			if q[2] < s.from || q[2] > s.to {
				continue
			}
			if r, _ := s.at(q[2]); math.Hypot(q[0], q[1]) < r {
				entered = at
				break
			}
		}
		h, ok := l.Hit(x, y, math.NaN())
		if !ok {
			// A graze of less than a step may be missed by either.
			if q := mix(1, l.eye, entered+20*step, d); !math.IsNaN(entered) {
				if r, _ := s.at(q[2]); math.Hypot(q[0], q[1]) < r-step && q[2] > s.from+1 && q[2] < s.to-1 {
					t.Fatalf("enters at %v and is not met", entered)
				}
			}
			return
		}
		if math.IsNaN(entered) {
			q := mix(1, l.eye, h.Depth, d)
			if r, _ := s.at(q[2]); math.Abs(math.Hypot(q[0], q[1])-r) > 1e-3 {
				t.Fatalf("met at %v, off the skin", h.Depth)
			}
			return
		}
		if math.Abs(h.Depth-entered) > 2*step {
			t.Fatalf("met at %v, enters at %v", h.Depth, entered)
		}
	})
}

// Held square, the phone sees what Camera sees.
func TestPhoneAgreesWithCamera(t *testing.T) {
	p, err := body.New(phoneBodies["parallel"])
	if err != nil {
		t.Fatal(err)
	}
	const distance, width, height, perMm = 100.0, 600, 800, 20
	c := Camera{From: 0, To: height / perMm, Width: width, Height: height, Distance: distance, Upright: true}
	l := Phone{Distance: distance - 6, Focal: perMm * distance}.Aim(NewSkin(p, 0, 40), 20)
	for _, phi := range []float64{-0.8, -0.3, 0, 0.5, 1} {
		for _, z := range []unit.Millimetre{8, 17, 20, 31} {
			x, y := l.Project(phi, z)
			wx, wy, _ := c.Project(phi, z, p)
			if math.Abs(x+width/2-wx) > 1e-6 || math.Abs(y+height/2-wy) > 1e-6 {
				t.Errorf("phi %v z %v: at %v, %v; Camera has it at %v, %v", phi, z, x, y, wx-width/2, wy-height/2)
			}
		}
	}
}

// Yaw, pitch and roll turn the picture the way their comments say.
func TestPhoneTurns(t *testing.T) {
	p, err := body.New(phoneBodies["parallel"])
	if err != nil {
		t.Fatal(err)
	}
	s := NewSkin(p, 0, 40)
	at := func(ph Phone, phi float64, z unit.Millimetre) (x, y float64) {
		ph.Distance, ph.Focal = 100, 1440
		return ph.Aim(s, 20).Project(phi, z)
	}
	// From the right, the left of the code is further off and looks smaller.
	l, _ := at(Phone{Yaw: 0.3}, -0.3, 20)
	r, _ := at(Phone{Yaw: 0.3}, 0.3, 20)
	if !(r > -l) {
		t.Errorf("from the right, left and right are %v and %v", l, r)
	}
	// From above, what lies towards the tip is nearer and looks bigger.
	_, up := at(Phone{Pitch: 0.3}, 0, 24)
	_, down := at(Phone{Pitch: 0.3}, 0, 16)
	if !(-up > down && up < 0) {
		t.Errorf("from the tip, up and down are %v and %v", up, down)
	}
	// A camera turned clockwise sees the float turned the other way.
	if x, _ := at(Phone{Roll: 0.3}, 0, 24); !(x < 0) {
		t.Errorf("turned clockwise, the tip is at %v", x)
	}
}

// Height is the inverse of Slant.
func TestSkinHeight(t *testing.T) {
	for name, st := range phoneBodies {
		p, err := body.New(st)
		if err != nil {
			t.Fatal(err)
		}
		s := NewSkin(p, 1, 39)
		for _, z := range []unit.Millimetre{1, 7.3, 20, 38.9, 39} {
			if got := s.Height(s.Slant(z)); math.Abs(float64(got-z)) > 1e-6 {
				t.Errorf("%s: %v comes back as %v", name, z, got)
			}
		}
		if n := len(s.Radii()); n != 761 {
			t.Errorf("%s: %d radii", name, n)
		}
	}
}
