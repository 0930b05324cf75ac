package view

import (
	"bytes"
	"math"
	"sync"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/loading/body"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

// genBody is any body: kinds, corners and ends of nothing included.
func genBody(t *rapid.T) body.Profile {
	n := rapid.IntRange(2, 6).Draw(t, "stations")
	st := make([]body.Station, n)
	z := 0.0
	for i := range st {
		d := rapid.Float64Range(0.3, 20).Draw(t, "d")
		if (i == 0 || i == n-1 && n > 2) && rapid.Bool().Draw(t, "point") {
			d = 0
		}
		st[i] = body.Station{Z: unit.Millimetre(z), D: unit.Millimetre(d),
			Kind: body.Kind(rapid.IntRange(0, 2).Draw(t, "kind")), Corner: rapid.Bool().Draw(t, "corner")}
		z += rapid.SampledFrom([]float64{0.05, 1, 5, 20}).Draw(t, "step")
	}
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The closed forms against a ray followed in small steps through the profile
// itself, which knows no table.
func TestRaysMeetTheBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genBody(t)
		c := Camera{Width: 400, Height: 200, Distance: unit.Millimetre(rapid.Float64Range(20, 600).Draw(t, "distance"))}
		if rapid.Bool().Draw(t, "tipped") {
			c.Tip = rapid.Float64Range(-MostTip, MostTip).Draw(t, "tip")
			c.Distance = max(c.Distance, unit.Millimetre(closest/math.Cos(c.Tip))*p.MaxDiameter()/2)
		}
		if rapid.Bool().Draw(t, "off the middle") { // ends are seen from outside
			c.From = p.Top() * unit.Millimetre(rapid.Float64Range(-0.9, 1.4).Draw(t, "from"))
			c.To = c.From + p.Top()
		}
		pr, err := Scene{Profile: p}.Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		line := rapid.IntRange(0, pr.along*lines-1).Draw(t, "line")
		pl := pr.ray(line, nil)
		// Rays from the middle outwards, as a picture asks for them.
		at := 0
		for u := 0.0; u < 1.05*pl.wide; u += pl.wide/7 + 1e-6 {
			got, _, ok := pl.meet(u, pr.d, &at)
			want, hit := follow(p, pr.lens, pl.v, u, pr.radius)
			// A ray that all but grazes may be told either way.
			if ok != hit && grazes(p, pr.lens, pl.v, u, pr.radius) {
				continue
			}
			if ok != hit || ok && math.Abs(got-want) > 0.02/pr.k+0.01 && !grazes(p, pr.lens, pl.v, u, pr.radius) {
				t.Fatalf("u %v of %v: met %v at %v, followed %v to %v", u, pl.wide, ok, got, hit, want)
			}
			if hit && u > pl.wide*1.001+0.02/(pr.k*pr.d) {
				t.Fatalf("u %v meets the body outside its silhouette %v", u, pl.wide)
			}
		}
	})
}

const followed = 8000 // steps through the thickest of the body

func follow(p body.Profile, l lens, v, u, radius float64) (float64, bool) {
	for i := 0; i <= followed; i++ {
		t := l.d - radius + 2*radius*float64(i)/followed
		if inside(p, l, v, u, t, 0) {
			return t, true
		}
	}
	return 0, false
}

// inside reports whether the ray is deeper in the body than margin at depth t.
func inside(p body.Profile, l lens, v, u, t, margin float64) bool {
	z, m := unit.Millimetre(l.mid+v*t), unit.Millimetre(margin)
	return z >= p.Base()+m && z <= p.Top()-m && math.Hypot(u*t, l.d-t) < float64(p.Diameter(z))/2-margin
}

// grazes reports whether the ray, where it first comes near the body, is only
// skimming it: it does not get deeper than a table of frusta may be off.
func grazes(p body.Profile, l lens, v, u, radius float64) bool {
	margin := 0.1 / l.k
	near, deep := -1.0, -1.0
	for i := 0; i <= followed; i++ {
		t := l.d - radius + 2*radius*float64(i)/followed
		if near < 0 && inside(p, l, v, u, t, -margin) {
			near = t
		}
		if inside(p, l, v, u, t, margin) {
			deep = t
			break
		}
	}
	return near >= 0 && (deep < 0 || deep-near > 0.02/l.k+0.01)
}

// A flat end seen from above: rays meet it before and behind the axis, in front
// of the rim they meet the side, behind it nothing.
func TestAFlatEnd(t *testing.T) {
	p := profile(t, body.Station{Z: 0, D: 16}, body.Station{Z: 10, D: 16})
	const d = 40
	pr, err := Scene{Profile: p}.Prepare(Camera{Width: 400, Height: 400, From: 5, To: 45, Distance: d})
	if err != nil {
		t.Fatal(err)
	}
	for depth, want := range map[float64]bool{33: true, 39: true, 44: true, 47.9: true, 48.1: false} {
		pl, at := pr.shape.plane(pr.lens, (10-25)/depth, pr.radius, nil), 0
		got, face, ok := pl.meet(0, d, &at)
		if ok != want || ok && (!face || math.Abs(got-depth) > 1e-9) {
			t.Errorf("through %v: met %v on the end %v at %v", depth, ok, face, got)
		}
		if half := math.Sqrt(max(0, 64-(depth-d)*(depth-d))) / depth; ok && pl.wide < half-1e-9 {
			t.Errorf("through %v: the end is %v wide, silhouette %v", depth, half, pl.wide)
		}
	}
	pl, at := pr.shape.plane(pr.lens, (10-25)/31.9, pr.radius, nil), 0
	if got, face, ok := pl.meet(0, d, &at); !ok || face || math.Abs(got-32) > 1e-9 {
		t.Errorf("below the rim: met %v on the end %v at %v", ok, face, got)
	}
}

// The width in the picture is that of the tangents from the pinhole: for a
// cylinder and a ball of radius r at distance d, 2·k·d·r/sqrt(d²-r²).
func TestSilhouette(t *testing.T) {
	ball, err := body.New(body.Olive(16, 0, 16))
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range map[string]body.Profile{
		"cylinder": profile(t, body.Station{Z: 0, D: 16}, body.Station{Z: 16, D: 16}),
		"ball":     ball,
	} {
		for _, d := range []float64{30, 600} {
			for _, upright := range []bool{false, true} {
				c := Camera{Width: 301, Height: 301, From: -2, To: 18, Distance: unit.Millimetre(d), Upright: upright}
				s := Scene{Profile: p, Coats: []Coat{{0, 16, draw.Black}}}
				pr, err := s.Prepare(c)
				if err != nil {
					t.Fatal(err)
				}
				img := pr.Render(0)
				sum := 0.0
				for j := range 301 {
					x, y := 150, j
					if upright {
						x, y = j, 150
					}
					sum += 1 - float64(img.RGBAAt(x, y).G)/float64(pr.ground[150*301+j][1])
				}
				want := 2 * 301.0 / 20 * d * 8 / math.Sqrt(d*d-64)
				if math.Abs(sum-want) > 0.25 {
					t.Errorf("%s from %v, upright %v: %.2f pixels wide, want %.2f", name, d, upright, sum, want)
				}
			}
		}
	}
}

// A cone's width at each height is its own, seen from far off.
func TestSilhouetteFollowsTheProfile(t *testing.T) {
	p := profile(t, body.Station{Z: 0, D: 14}, body.Station{Z: 40, D: 0})
	pr, err := Scene{Profile: p}.Prepare(Camera{Width: 500, Height: 240, Distance: 1e5})
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range pr.wide {
		z := pr.mid + ((float64(i)+0.5)/lines-250)/pr.k
		want := pr.k * float64(p.Diameter(unit.Millimetre(z))) / 2
		if z < 0 || z > 40 {
			want = 0
		}
		// Towards the blunt end the camera sees a sliver of its far side.
		if math.Abs(w-want) > 0.05 && math.Abs(z) > 0.1 && math.Abs(z-40) > 0.1 {
			t.Fatalf("at %v: %v pixels, want %v", z, w, want)
		}
	}
}

// Any body from any side gives a whole picture, the same for several at once.
func TestAnyBodyGivesAPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genBody(t)
		s := Scene{Profile: p, Gloss: 1, Coats: []Coat{{0, p.Top() / 2, red}}}
		c := Camera{Width: rapid.IntRange(1, 90).Draw(t, "w"), Height: rapid.IntRange(1, 60).Draw(t, "h"),
			Upright: rapid.Bool().Draw(t, "upright"), Turn: rapid.Float64Range(-9, 9).Draw(t, "turn"),
			Distance: unit.Millimetre(rapid.Float64Range(20, 1000).Draw(t, "distance"))}
		if rapid.Bool().Draw(t, "tipped") {
			c.Tip = rapid.Float64Range(-MostTip, MostTip).Draw(t, "tip")
			c.Distance = max(c.Distance, unit.Millimetre(closest/math.Cos(c.Tip))*p.MaxDiameter()/2)
		}
		if rapid.Bool().Draw(t, "near") {
			c.From = p.Top() / 3
			c.To = c.From + unit.Millimetre(rapid.Float64Range(0.02, 100).Draw(t, "stretch"))
		}
		pr, err := s.Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range pr.wide {
			if math.IsNaN(w) || math.IsInf(w, 0) {
				t.Fatalf("a silhouette of %v", w)
			}
			row := make([]seen, pr.across)
			pr.trace(pr.ray(i, nil), w, c.Turn, row)
			for j, got := range row {
				want := overlap(float64(j)-float64(pr.across)/2, 1, w) / lines
				if math.Abs(float64(got.share)-want) > 1e-3 { // also when it is NaN
					t.Fatalf("line %d, pixel %d: covered by %v, want %v", i, j, got.share, want)
				}
				for _, v := range got.sum {
					if !(v >= 0 && v <= 255) {
						t.Fatalf("line %d, pixel %d: %v", i, j, got.sum)
					}
				}
			}
		}
		var wait sync.WaitGroup
		var pix [2][]uint8
		for i := range pix {
			wait.Go(func() { pix[i] = pr.Render(c.Turn).Pix })
		}
		wait.Wait()
		if !bytes.Equal(pix[0], pix[1]) {
			t.Fatal("two at once differ")
		}
		if len(pix[0]) != 4*c.Width*c.Height {
			t.Fatalf("%d bytes", len(pix[0]))
		}
		for i := 3; i < len(pix[0]); i += 4 {
			if pix[0][i] != 255 {
				t.Fatal("a hole in the picture")
			}
		}
	})
}
