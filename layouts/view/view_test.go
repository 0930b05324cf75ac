package view

import (
	"bytes"
	"errors"
	"image/png"
	"math"
	"testing"

	"floatmark/layouts/draw"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// near reports whether two colours agree to within d steps of 255.
func (c rgb) near(want rgb, d float64) bool {
	for i := range c {
		if !(math.Abs(float64(c[i]-want[i])) <= d) {
			return false
		}
	}
	return true
}

// stick is a parallel 10 mm thick with one piece of film on it, and what is seen
// in the middle of a height, on the side theta.
func stick(t *testing.T, coat draw.Ink, film Film, drawing func(wrap.Flat) *draw.Sheet) func(theta, z float64) rgb {
	p := profile(t, body.Station{Z: 0, D: 10}, body.Station{Z: 60, D: 10})
	f := develop0(t, p, 20, 40, 2)
	piece := Piece{Flat: f, Film: film}
	if drawing != nil {
		piece.Drawing = drawing(f)
	}
	s := Scene{Profile: p, Coats: []Coat{{0, 60, coat}}, Pieces: []Piece{piece}}
	return func(theta, z float64) rgb {
		c := Camera{Turn: theta, Width: 300, Height: 60}
		x, y, visible := c.Project(theta, unit.Millimetre(z), p)
		if !visible {
			t.Fatalf("%v, %v is hidden", theta, z)
		}
		return render(t, s, c)(int(x), int(y))
	}
}

// The colour seen in front is the paint's own, and film colour times coat colour
// under film: by hand, 196·128/255 = 98.4, 40·200/255 = 31.4, 32.
func TestFilmOverPaint(t *testing.T) {
	tint := draw.Ink{R: 128, G: 200, B: 255}
	clear := stick(t, red, Film{Colour: tint, Clear: true}, nil)
	for _, q := range []struct {
		name string
		got  rgb
		want rgb
	}{
		{"bare coat", clear(0, 10), rgb{196, 40, 32}},
		{"clear film", clear(0, 30), rgb{98.4, 31.4, 32}},
		{"twice, in the overlap", clear(math.Pi+0.2, 30), rgb{49.4, 24.6, 32}},
		{"once, beside it", clear(math.Pi-0.2, 30), rgb{98.4, 31.4, 32}},
		{"white film", stick(t, red, Film{Colour: draw.White}, nil)(0, 30), rgb{255, 255, 255}},
	} {
		if !q.got.near(q.want, 1.01) {
			t.Errorf("%s: %v, want %v", q.name, q.got, q.want)
		}
	}
}

// Inks are transparent, the ground is not, and white ink prints nothing.
func TestInkOnFilm(t *testing.T) {
	blue := draw.Ink{R: 0, G: 100, B: 200}
	drawing := func(f wrap.Flat) *draw.Sheet {
		s := &draw.Sheet{Name: "inks"}
		s.Add(draw.Ground, &draw.Fill{Path: f.Band(0, 10, f.Left(), f.Right()), Ink: cream})
		s.Add(draw.Colour, &draw.Fill{Path: f.Band(5, 15, f.Left(), f.Right()), Ink: blue})
		s.Add(draw.Colour, &draw.Fill{Path: f.Band(17, 20, f.Left(), f.Right()), Ink: draw.White})
		for _, l := range []draw.Layer{draw.Cut, draw.Crease, draw.Guide} {
			s.Add(l, &draw.Fill{Path: f.Outline(), Ink: draw.Black}) // not on the float
		}
		return s
	}
	times := func(a, b draw.Ink) rgb { return ink(a).times(ink(b)) }
	for _, clear := range []bool{true, false} {
		under := draw.White
		if clear {
			under = red
		}
		at := stick(t, red, Film{Colour: draw.White, Clear: clear}, drawing)
		for _, q := range []struct {
			name string
			s    float64
			want rgb
		}{
			{"ground", 2.5, ink(cream)}, {"ink on ground", 7.5, times(cream, blue)},
			{"ink on film", 12.5, times(under, blue)}, {"film", 16, ink(under)}, {"white ink", 18.5, ink(under)},
		} {
			if got := at(0.4, 20+q.s); !got.near(q.want, 1.5) { // a step of the raster, one of the picture
				t.Errorf("clear %v, %s: %v, want %v", clear, q.name, got, q.want)
			}
		}
	}
}

// The right edge comes round on top: what it carries is seen where the two lie
// one on the other, and white film hides what is under it.
func TestRightEdgeLiesOnTop(t *testing.T) {
	at := stick(t, red, Film{Colour: draw.White}, func(f wrap.Flat) *draw.Sheet {
		s := &draw.Sheet{Name: "seam"}
		s.Add(draw.Colour, &draw.Fill{Path: f.Band(0, 20, f.Left(), 0), Ink: cream})
		s.Add(draw.Colour, &draw.Fill{Path: f.Band(0, 20, 0, f.Right()), Ink: green})
		return s
	})
	// 2 mm of 5 mm radius are 0.4 radians.
	for theta, want := range map[float64]draw.Ink{math.Pi - 0.2: green, math.Pi + 0.2: green, math.Pi + 0.3: green, math.Pi + 0.5: cream} {
		if got := at(theta, 30); !got.near(ink(want), 1.01) {
			t.Errorf("at %v: %v, want %v", theta, got, want)
		}
	}
}

// A later coat hides an earlier one, and where two meet neither the wood nor
// what is below shows through.
func TestCoats(t *testing.T) {
	p := profile(t, body.Station{Z: 0, D: 10}, body.Station{Z: 60, D: 10})
	black := draw.Black
	c := Camera{Width: 600, Height: 120}
	at := render(t, Scene{Profile: p, Coats: []Coat{{10, 60, black}, {10, 30.03, red}, {30.03, 50, red}}}, c)
	x := func(z unit.Millimetre) int { x, _, _ := c.Project(0, z, p); return int(x) }
	for z, want := range map[unit.Millimetre]draw.Ink{5: bare, 20: red, 30: red, 45: red, 55: black} {
		if got := at(x(z), 60); !got.near(ink(want), 1.01) {
			t.Errorf("at %v: %v, want %v", z, got, want)
		}
	}
	for i := x(28); i < x(32); i++ {
		if got := at(i, 60); !got.near(ink(red), 1.01) {
			t.Errorf("pixel %d, where two red coats meet: %v", i, got)
		}
	}
}

func TestStripIsFourViews(t *testing.T) {
	s := marked(t)
	for _, upright := range []bool{false, true} {
		c := Camera{Turn: 0.3, Width: 120, Height: 60, Upright: upright}
		all, err := s.Strip(c)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 4 {
			one := c
			one.Turn += float64(i) * math.Pi / 2
			img, err := s.Render(one)
			if err != nil {
				t.Fatal(err)
			}
			for y := range 60 {
				for x := range 120 {
					dx, dy := 0, 60*i
					if upright {
						dx, dy = 120*i, 0
					}
					if all.RGBAAt(x+dx, y+dy) != img.RGBAAt(x, y) {
						t.Fatalf("upright %v: view %d differs at %d, %d", upright, i, x, y)
					}
				}
			}
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestWriteKeepsThePicture(t *testing.T) {
	s, c := marked(t), Camera{Width: 200, Height: 80}
	var files [2]bytes.Buffer
	for i := range files {
		img, err := s.Render(c)
		if err != nil {
			t.Fatal(err)
		}
		if err := Write(&files[i], img); err != nil {
			t.Fatal(err)
		}
		if err := Write(full{}, img); fault.ClassOf(err) != fault.Machine {
			t.Errorf("a full disc: %v", err)
		}
	}
	if !bytes.Equal(files[0].Bytes(), files[1].Bytes()) {
		t.Error("the same scene gave two files")
	}
	back, err := png.Decode(&files[0])
	if err != nil {
		t.Fatal(err)
	}
	at := render(t, s, c)
	for y := range 80 {
		for x := range 200 {
			r, g, b, a := back.At(x, y).RGBA()
			if got := (rgb{float32(r >> 8), float32(g >> 8), float32(b >> 8)}); got != at(x, y) || a != 0xffff {
				t.Fatalf("pixel %d, %d came back as %v, %v", x, y, got, a)
			}
		}
	}
}

func TestRefuses(t *testing.T) {
	good, c := marked(t), Camera{Width: 60, Height: 20}
	with := func(f func(*Scene)) Scene { s := good; f(&s); return s }
	for _, q := range []struct {
		name string
		s    Scene
		c    Camera
	}{
		{"no body", Scene{}, c},
		{"gloss", with(func(s *Scene) { s.Gloss = math.NaN() }), c},
		{"more than gloss", with(func(s *Scene) { s.Gloss = 1.1 }), c},
		{"coat upside down", with(func(s *Scene) { s.Coats = []Coat{{20, 10, red}} }), c},
		{"no pixels", good, Camera{}},
		{"tipped too far", good, Camera{Width: 60, Height: 20, Tip: 1}},
		{"too many", good, Camera{Width: 1e5, Height: 1e5}},
		{"no direction", good, Camera{Width: 60, Height: 20, Turn: math.Inf(1)}},
		{"inside the body", good, Camera{Width: 60, Height: 20, Distance: 7}},
		{"no distance", good, Camera{Width: 60, Height: 20, Distance: unit.Millimetre(math.NaN())}},
		{"stretch upside down", good, Camera{Width: 60, Height: 20, From: 20, To: 10}},
		{"too far off", good, Camera{Width: 60, Height: 20, Distance: 1e7}},
		{"stretch of a hair's breadth", good, Camera{Width: 60, Height: 20, From: 20, To: 20.001}},
		{"stretch of nothing", good, Camera{Width: 60, Height: 20, From: 20, To: 20}},
		{"stretch without end", good, Camera{Width: 60, Height: 20, To: unit.Millimetre(math.Inf(1))}},
	} {
		if _, err := q.s.Render(q.c); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v", q.name, err)
		}
		if _, err := q.s.Strip(q.c); err == nil {
			t.Errorf("%s: a strip was made", q.name)
		}
	}
	broken := with(func(s *Scene) { s.Pieces = []Piece{{}} })
	if _, err := broken.Render(c); err == nil || fault.ClassOf(err) != fault.Ours {
		t.Errorf("a piece of nothing: %v", err)
	}
}
