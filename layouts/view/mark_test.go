package view

import (
	"bytes"
	"math"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
	"floatmark/layouts/wrap"
	"floatmark/loading/body"
	"floatmark/loading/unit"
)

var (
	red   = draw.Ink{R: 196, G: 40, B: 32}
	cream = draw.Ink{R: 244, G: 236, B: 208}
	green = draw.Ink{R: 28, G: 86, B: 60}
)

func profile(t testing.TB, st ...body.Station) body.Profile {
	t.Helper()
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func develop0(t testing.TB, p body.Profile, from, to, overlap float64) wrap.Flat {
	t.Helper()
	f, err := wrap.Develop(p, unit.Millimetre(from), unit.Millimetre(to), wrap.Film{}, wrap.Seam{Overlap: overlap})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// float is a body with a stem below and an antenna above.
func float(t testing.TB) body.Profile {
	return profile(t,
		body.Station{Z: 0, D: 1, Corner: true}, body.Station{Z: 60, D: 1.2, Corner: true},
		body.Station{Z: 60.5, D: 4, Kind: body.Curved, Corner: true}, body.Station{Z: 75, D: 10, Kind: body.Curved},
		body.Station{Z: 95, D: 14, Kind: body.Curved}, body.Station{Z: 108, D: 11, Kind: body.Curved},
		body.Station{Z: 115, D: 5, Corner: true}, body.Station{Z: 115.2, D: 2.4, Corner: true}, body.Station{Z: 160, D: 2})
}

// marked is a float with a mark like a full one: rings, words round the body and
// along it, and a square of a code's modules.
func marked(t testing.TB) Scene {
	p := float(t)
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	f := develop0(t, p, 78, 98, 1)
	s := &draw.Sheet{Name: "mark"}
	ring := func(s0, s1 float64, i draw.Ink) {
		s.Add(draw.Colour, &draw.Fill{Path: f.Band(s0, s1, f.Left(), f.Right()), Ink: i})
	}
	ring(f.Slant-1.5, f.Slant-0.5, red)
	ring(f.Slant-2.3, f.Slant-1.9, draw.Black)
	ring(0.5, 0.9, draw.Black)
	words := func(text string, cap, theta, up float64, along bool) {
		line, err := typeset.Shape(text, typeset.Bold(set, cap))
		if err != nil {
			t.Fatal(err)
		}
		if along {
			s.Add(draw.Colour, line.Straight(geom.Translate(0, cap/2).Then(geom.Rotate(-math.Pi/2)).Then(f.Frame(theta, up)), typeset.Centre, draw.Black)...)
			return
		}
		s.Add(draw.Colour, line.Along(func(x float64) geom.Affine { return f.Frame(theta+f.Angle(x, up), up) }, typeset.Centre, draw.Black)...)
	}
	words("6 g", 4.5, 0, 11, false)
	words("+ 0,4 g", 2.4, 0, 6.5, false)
	words("K4P-7TX", 1.6, 0, 3, false)
	words("Withy Sluice Floats", 1.6, 2*math.Pi/3, 9, true)
	words("f.example", 1.4, -2*math.Pi/3, 9, true)
	code := &draw.Group{Name: "code", Rigid: true, At: f.Frame(-1.9, 9)}
	const n, module = 21, 0.28
	for i := range n * n {
		x, y := i%n, i/n
		if (x*y+x*3+y*7)%5 < 2 {
			code.Ops = append(code.Ops, &draw.Fill{Path: geom.Rectangle(geom.XYWH((float64(x)-n/2.0)*module, (float64(y)-n/2.0)*module, module, module)), Ink: draw.Black})
		}
	}
	s.Add(draw.Colour, code)
	s.Add(draw.Cut, &draw.Stroke{Path: f.Outline(), Ink: draw.Black, Width: 1})
	return Scene{Profile: p, Gloss: 0.8,
		Coats:  []Coat{{0, 60.5, draw.Ink{R: 60, G: 60, B: 64}}, {60.5, 115.2, green}, {76, 100, cream}, {115.2, 160, red}, {115.2, 135, draw.Ink{R: 250, G: 210, B: 40}}},
		Pieces: []Piece{{Flat: f, Drawing: s, Film: Film{Colour: draw.White, Clear: true}}}}
}

func render(t testing.TB, s Scene, c Camera) func(x, y int) rgb {
	t.Helper()
	img, err := s.Render(c)
	if err != nil {
		t.Fatal(err)
	}
	if img.Rect.Dx() != c.Width || img.Rect.Dy() != c.Height {
		t.Fatalf("the picture is %v", img.Rect)
	}
	return func(x, y int) rgb {
		p := img.RGBAAt(x, y)
		return rgb{float32(p.R), float32(p.G), float32(p.B)}
	}
}

func BenchmarkRender600x200(b *testing.B) {
	s := marked(b)
	c := Camera{Width: 600, Height: 200}
	for b.Loop() {
		if _, err := s.Render(c); err != nil {
			b.Fatal(err)
		}
	}
}

// The mark fills the picture: nearly every pixel meets film.
func BenchmarkRender600x200Near(b *testing.B) {
	s := marked(b)
	c := Camera{Width: 600, Height: 200, From: 70, To: 112}
	for b.Loop() {
		if _, err := s.Render(c); err != nil {
			b.Fatal(err)
		}
	}
}

// Only the turn changes.
func BenchmarkTurn600x200Near(b *testing.B) {
	p, err := marked(b).Prepare(Camera{Width: 600, Height: 200, From: 70, To: 112})
	if err != nil {
		b.Fatal(err)
	}
	turn := 0.0
	for b.Loop() {
		p.Render(turn)
		turn += 0.1
	}
}

// Only the tip changes: the silhouette and its shadow are found anew.
func BenchmarkTip600x200Near(b *testing.B) {
	p, err := marked(b).Prepare(Camera{Width: 600, Height: 200, From: 70, To: 112})
	if err != nil {
		b.Fatal(err)
	}
	tip := 0.0
	for b.Loop() {
		p.Tipped(tip).Render(0.3)
		tip = math.Mod(tip+0.1, MostTip)
	}
}

// Tipping a scene that is ready gives the picture of a camera that was tipped
// before.
func TestTippedIsACameraThatIsTipped(t *testing.T) {
	s := marked(t)
	c := Camera{Width: 300, Height: 120, From: 60, To: 120}
	level, err := s.Prepare(c)
	if err != nil {
		t.Fatal(err)
	}
	flat := level.Render(0.4)
	for _, tip := range []float64{0, 0.35, -0.6} {
		c.Tip = tip
		own, err := s.Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		got := level.Tipped(tip).Render(0.4)
		if !bytes.Equal(got.Pix, own.Render(0.4).Pix) {
			t.Errorf("tipped by %v: another picture than of a camera that is tipped", tip)
		}
		if bytes.Equal(got.Pix, flat.Pix) != (tip == 0) {
			t.Errorf("tipped by %v: the same as level: %v", tip, tip != 0)
		}
	}
}
