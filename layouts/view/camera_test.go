package view

import (
	"math"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/body"
	"floatmark/loading/unit"
	"pgregory.net/rapid"
)

// pinhole is a camera by the book, which knows nothing of floats: an eye, a point
// it looks at, a way that is up, and a focal length in pixels.
func pinhole(eye, target, up, p [3]float64, focal float64) (right, above float64) {
	sub := func(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
	dot := func(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
	cross := func(a, b [3]float64) [3]float64 {
		return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	}
	ahead := sub(target, eye)
	side := cross(ahead, up)
	over := cross(side, ahead)
	v := sub(p, eye)
	depth := dot(v, ahead) / math.Sqrt(dot(ahead, ahead))
	return focal * dot(v, side) / math.Sqrt(dot(side, side)) / depth, focal * dot(v, over) / math.Sqrt(dot(over, over)) / depth
}

func TestProjectIsAPinhole(t *testing.T) {
	p := float(t)
	rapid.Check(t, func(t *rapid.T) {
		c := Camera{Turn: rapid.Float64Range(-7, 7).Draw(t, "turn"), Tip: rapid.Float64Range(-MostTip, MostTip).Draw(t, "tip"), Width: 640, Height: 210,
			From: 50, To: 120, Distance: unit.Millimetre(rapid.Float64Range(30, 900).Draw(t, "distance")),
			Upright: rapid.Bool().Draw(t, "upright")}
		theta, z := rapid.Float64Range(-4, 4).Draw(t, "theta"), rapid.Float64Range(0, 160).Draw(t, "z")
		// Seen from outside with the tip up, right is counterclockwise from above.
		r := float64(p.Diameter(unit.Millimetre(z))) / 2
		d, mid := float64(c.Distance), 85.0
		along, across := 640.0, 210.0
		if c.Upright {
			along, across = across, along
		}
		right, above := pinhole([3]float64{d * math.Cos(c.Tip) * math.Cos(c.Turn), d * math.Cos(c.Tip) * math.Sin(c.Turn), mid + d*math.Sin(c.Tip)}, [3]float64{0, 0, mid}, [3]float64{0, 0, 1},
			[3]float64{r * math.Cos(theta), r * math.Sin(theta), z}, along/70*d)
		wantX, wantY := along/2+above, across/2+right
		if c.Upright {
			wantX, wantY = across/2+right, along/2-above
		}
		if x, y, _ := c.Project(theta, unit.Millimetre(z), p); math.Hypot(x-wantX, y-wantY) > 1e-8 {
			t.Fatalf("at %v, %v, by the book %v, %v", x, y, wantX, wantY)
		}
	})
}

func TestProjectKnowsWhatIsHidden(t *testing.T) {
	c := Camera{Width: 600, Height: 300, From: 50, To: 120, Distance: 60}
	p := float(t)
	for _, q := range []struct {
		name     string
		theta, z float64
		want     bool
	}{
		{"in front", 0, 90, true},
		{"well round", 1.2, 90, true},
		{"behind", math.Pi, 90, false},
		{"past the limb, which is at acos(7/60)", 1.47, 95, false},
		{"just before it", 1.43, 95, true},
		{"on the stem, in front, hidden by the shoulder", 0, 59.95, false},
		{"on the stem, clear of it", 0, 57, true},
		{"off the picture", 0, 40, false},
	} {
		if _, _, got := c.Project(q.theta, unit.Millimetre(q.z), p); got != q.want {
			t.Errorf("%s: visible %v", q.name, got)
		}
	}
	// A cone seen from beyond its apex shows more than half of itself.
	cone := profile(t, body.Station{Z: 0, D: 0}, body.Station{Z: 40, D: 40})
	if _, _, got := (Camera{Width: 600, Height: 300, From: -60, To: 20, Distance: 60}).Project(math.Pi/2, 15, cone); !got {
		t.Error("a quarter round, the side of a cone seen from its apex is hidden")
	}
	if _, _, got := (Camera{Width: 600, Height: 300}).Project(0, 161, p); got {
		t.Error("a point above the top is visible")
	}
}

// On a ball, what is seen is the cap whose rim the tangents touch: where the way
// towards the camera, from the centre, is more than r²/d. By that the ball's own
// slope counts, not its angle alone.
func TestProjectSeesACapOfABall(t *testing.T) {
	p, err := body.New(body.Olive(16, 0, 16))
	if err != nil {
		t.Fatal(err)
	}
	const r, d = 8, 30
	c := Camera{Width: 400, Height: 400, From: -4, To: 20, Distance: d}
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		theta, z := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "theta"), rapid.Float64Range(0.5, 15.5).Draw(t, "z")
		towards := math.Sqrt(r*r-(z-8)*(z-8)) * math.Cos(theta)
		if math.Abs(towards-r*r/30.0) < 0.02 {
			t.Skip("on the rim")
		}
		_, _, got := c.Project(theta, unit.Millimetre(z), p)
		if want := towards > r*r/30.0; got != want {
			t.Fatalf("visible %v, %v towards the camera", got, towards)
		}
		if got {
			seen++
		}
	})
	if seen == 0 {
		t.Error("nothing was seen")
	}
}

// tangentOgive is the shape whose meridian is an arc.
func tangentOgive(t testing.TB) body.Profile {
	p, err := body.New(body.Flip(body.Flip(body.Ogive(12, 2, 40))))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Picture and print agree: a small black square on the flat piece is seen where
// the camera model puts that place of the body.
func TestAPrintedSquareIsSeenInItsPlace(t *testing.T) {
	bodies := map[string]body.Profile{
		"cylinder": profile(t, body.Station{Z: 0, D: 9}, body.Station{Z: 40, D: 9}),
		"cone":     profile(t, body.Station{Z: 0, D: 14}, body.Station{Z: 40, D: 3}),
		"ogive":    tangentOgive(t),
	}
	// The middle of its picture is nearer the axis than the picture of its middle,
	// by 1-cos of half the angle it spans: some hundredths of a pixel.
	const side = 0.5
	for _, name := range []string{"cylinder", "cone", "ogive"} {
		p := bodies[name]
		f := develop0(t, p, 4, 30, 1)
		for _, q := range []struct {
			theta, z, turn, distance float64
			upright                  bool
			tip                      float64
		}{
			{0, 15, 0, 0, false, 0}, {0.9, 22, 0, 0, false, 0}, {-0.9, 8, 0, 0, true, 0}, {1.0, 27, 0.3, 0, true, 0},
			{3.0, 12, 2.5, 80, false, 0}, {-2.6, 26, -2.0, 60, true, 0}, {3.2, 18, 3.4, 0, false, 0}, {1.6, 6, 8, 100, true, 0},
			{0.5, 18, 0.2, 0, false, 0.5}, {-0.4, 12, 0, 90, true, -0.6}, {0.9, 22, 0.3, 0, false, -0.7},
		} {
			c := Camera{Turn: q.turn, Width: 420, Height: 160, Distance: unit.Millimetre(q.distance), Upright: q.upright}
			if q.upright {
				c.Width, c.Height = c.Height, c.Width
			}
			film := Film{Colour: draw.White, Clear: true}
			s := Scene{Profile: p, Coats: []Coat{{0, 40, cream}}, Pieces: []Piece{{Flat: f, Film: film}}}
			without := render(t, s, c)
			mark := &draw.Sheet{Name: "square"}
			at := f.Frame(q.theta, f.SlantAt(unit.Millimetre(q.z)))
			mark.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(-side/2, -side/2, side, side)).Transform(at), Ink: draw.Black})
			s.Pieces = []Piece{{Flat: f, Drawing: mark, Film: film}}
			with := render(t, s, c)
			var sum, sx, sy float64
			for y := range c.Height {
				for x := range c.Width {
					dark := 1 - float64(with(x, y)[1]/without(x, y)[1])
					sum, sx, sy = sum+dark, sx+dark*(float64(x)+0.5), sy+dark*(float64(y)+0.5)
				}
			}
			x, y, visible := c.Project(q.theta, unit.Millimetre(q.z), p)
			if !visible || !(sum > 5) {
				t.Errorf("%s %+v: visible %v, %v dark pixels", name, q, visible, sum)
				continue
			}
			if off := math.Hypot(sx/sum-x, sy/sum-y); !(off < 0.1) {
				t.Errorf("%s %+v: seen at %.2f, %.2f, projected to %.2f, %.2f", name, q, sx/sum, sy/sum, x, y)
			}
			// And back: the place on the piece is the place on the body.
			if theta, up := f.Place(f.At(q.theta, f.SlantAt(unit.Millimetre(q.z)))); math.Abs(theta-q.theta) > 1e-9 || math.Abs(up-f.SlantAt(unit.Millimetre(q.z))) > 1e-9 {
				t.Errorf("%s %+v: the place came back as %v, %v", name, q, theta, up)
			}
		}
	}
}

func TestCameraShowsTheWholeBody(t *testing.T) {
	p := profile(t, body.Station{Z: 0, D: 30}, body.Station{Z: 40, D: 30})
	for _, c := range []Camera{{Width: 600, Height: 200}, {Width: 200, Height: 600, Upright: true}, {Width: 600, Height: 100, Distance: 40}} {
		wide, high := math.Inf(-1), math.Inf(-1)
		d := 600.0
		if c.Distance > 0 {
			d = float64(c.Distance)
		}
		limb := math.Acos(15 / d)
		for _, theta := range []float64{-limb, -1, 0, 1, limb} {
			for _, z := range []unit.Millimetre{0, 40} {
				x, y, _ := c.Project(theta, z, p)
				wide, high = max(wide, math.Abs(x/float64(c.Width)-0.5)), max(high, math.Abs(y/float64(c.Height)-0.5))
			}
		}
		if wide > 0.5 || high > 0.5 || max(wide, high) < 0.4 {
			t.Errorf("%+v: reaches %v across and %v down of a half", c, wide, high)
		}
	}
}
