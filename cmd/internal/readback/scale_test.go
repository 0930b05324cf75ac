package readback

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/typeset"
)

// trueTo is how far a length read back may be off, mm: a twentieth of a
// 600 dpi dot is 0.002, a person's rule reads 0.1.
const trueTo = 0.01

func near(a, b float64) bool { return math.Abs(a-b) <= trueTo }

func TestPageSizes(t *testing.T) {
	a4 := &draw.Sheet{Name: "a4", Size: geom.Size{W: 210, H: 297}}
	card := &draw.Sheet{Name: "card", Size: geom.Size{W: 55, H: 90}}
	a4.Add(draw.Cut, &draw.Fill{Path: geom.Rectangle(geom.XYWH(55, 100, 100, 5)), Ink: draw.Black})
	f := writeAndOpen(t, a4, card) // the card is an empty page
	if f.pages() != 2 {
		t.Fatalf("%d pages, want 2", f.pages())
	}
	for i, want := range []geom.Size{a4.Size, card.Size} {
		if got := f.size(i); math.Abs(got.W-want.W) > 1e-4 || math.Abs(got.H-want.H) > 1e-4 {
			t.Errorf("page %d is %.5f x %.5f mm, want %g x %g", i, got.W, got.H, want.W, want.H)
		}
		if b := f.trimBox(i); !near(b.W(), want.W) || !near(b.H(), want.H) || !near(b.Min.X, 0) {
			t.Errorf("trim box of page %d: %v", i, b)
		}
	}
	if got := f.paths(0); len(got) != 1 || !near(got[0].W(), 100) || !near(got[0].H(), 5) || !near(got[0].Min.X, 55) || !near(got[0].Min.Y, 100) {
		t.Errorf("a bar of 100 x 5 mm at (55, 100) reads back as %v", got)
	}
	if n := len(f.paths(1)); n != 0 {
		t.Errorf("%d paths on the empty page", n)
	}
	if img := f.render(1, 72); img.at(20, 20) != draw.White {
		t.Error("the empty page is not white")
	}
}

// TestTextIsFound searches for words as a viewer would, set straight, upright,
// upside down and round a ring, in the first face and in the one that stands in.
func TestTextIsFound(t *testing.T) {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	ring := func(x float64) geom.Affine {
		return geom.Translate(0, -15).Then(geom.Rotate(x / 15)).Then(geom.Translate(105, 120))
	}
	s := &draw.Sheet{Name: "words", Size: geom.Size{W: 210, H: 297}}
	put := func(text string, set func(typeset.Line) []draw.Op, font typeset.Font) {
		l, err := typeset.Shape(text, font)
		if err != nil {
			t.Fatal(err)
		}
		s.Add(draw.Colour, set(l)...)
	}
	straight := func(m geom.Affine) func(typeset.Line) []draw.Op {
		return func(l typeset.Line) []draw.Op { return l.Straight(m, typeset.Left, draw.Black) }
	}
	bold, regular := typeset.Bold(set, 2.5), typeset.Regular(set, 1.2)
	put("Load 12.5 g, add 0.8 g", straight(geom.Translate(20, 30)), bold)
	put("½ × 3AAA Żółć", straight(geom.Translate(20, 50)), regular)
	put("upright words", straight(geom.Rotate(-math.Pi/2).Then(geom.Translate(190, 150))), bold)
	put("upside down", straight(geom.Rotate(math.Pi).Then(geom.Translate(190, 250))), bold)
	put("WITHY SLUICE 12g 3xSSG", func(l typeset.Line) []draw.Op { return l.Along(ring, typeset.Centre, draw.Black) }, bold)
	put("diameter → 8", straight(geom.Translate(20, 70)), bold) // the arrow comes from the second face
	s.Add(draw.Colour, &draw.Group{At: geom.Scale(2, 2).Then(geom.Translate(20, 200)), Ops: func() []draw.Op {
		l, err := typeset.Shape("grouped text", bold)
		if err != nil {
			t.Fatal(err)
		}
		return l.Straight(geom.Identity, typeset.Left, draw.Black)
	}()})
	f := writeAndOpen(t, s)
	for _, words := range []string{"Load 12.5 g, add 0.8 g", "½ × 3AAA Żółć", "upright words", "upside down",
		"WITHY SLUICE 12g 3xSSG", "SLUICE", "→", "grouped text"} {
		if n := f.find(0, words); n != 1 {
			t.Errorf("%q is found %d times, want once", words, n)
		}
	}
	if n := f.find(0, "SLUI"); n != 0 {
		t.Errorf("part of a word is found %d times as a whole word", n)
	}
	if text := f.text(0); !strings.Contains(text, "WITHY SLUICE 12g 3xSSG") {
		t.Errorf("the page's text is %q", text)
	}
}

// square is a code-like matrix of dark modules, as one path of one ring per
// module: harder on a writer than the traced outline that a layout draws.
func square(n int, module float64) (dark [][]bool, path geom.Path) {
	rng := rand.New(rand.NewPCG(21, 35)) // any fixed pattern would do
	dark = make([][]bool, n)
	for y := range dark {
		dark[y] = make([]bool, n)
		for x := range dark[y] {
			edge := x == 0 || y == 0 || x == n-1 || y == n-1 // so that the bounds are the square's
			if dark[y][x] = edge || rng.IntN(3) > 0; dark[y][x] {
				path = append(path, geom.Rectangle(geom.XYWH(float64(x)*module, float64(y)*module, module, module))...)
			}
		}
	}
	return dark, path
}

// TestCodeSquare reads a square's size back and looks for seams: pixels wholly
// in the dark that are not black.
func TestCodeSquare(t *testing.T) {
	const modules, module = 21, 0.35
	dark, path := square(modules, module)
	for _, turn := range []float64{0, 7 * math.Pi / 180} {
		at := geom.Rotate(turn).Then(geom.Translate(8, 8.3))
		s := &draw.Sheet{Name: "code", Size: geom.Size{W: 25.4, H: 25.4}}
		s.Add(draw.Colour, &draw.Group{Name: "code", Rigid: true, At: at, Ops: []draw.Op{&draw.Fill{Path: path, Ink: draw.Black}}})
		if turn == 0 {
			got := writeAndOpen(t, s).paths(0)
			if want := modules * module; len(got) != 1 || !near(got[0].W(), want) || !near(got[0].H(), want) || !near(got[0].Min.X, 8) || !near(got[0].Min.Y, 8.3) {
				t.Errorf("a square of %g mm at (8, 8.3) reads back as %v", want, got)
			}
		}
		for _, w := range writers {
			for _, dpi := range []int{300, 600} {
				img := w.draw(t, s, dpi)
				seen, seams := seams(img, at, dark, module)
				if seen < 1000 {
					t.Fatalf("%s at %d dpi: only %d pixels looked at", w.name, dpi, seen)
				}
				if seams > 0 {
					t.Errorf("%s at %d dpi, turned %.2f: %d of %d dark pixels are not black", w.name, dpi, turn, seams, seen)
				}
			}
		}
	}
}

// seams counts the pixels wholly on dark modules, and those of them that are
// not black. A pixel is probed on a grid a little larger than itself.
func seams(img picture, at geom.Affine, dark [][]bool, module float64) (seen, seams int) {
	back, _ := at.Inverse()
	const grid, grow = 4, 0.1
	wholly := func(px, py int) bool {
		for i := 0; i <= grid; i++ {
			for j := 0; j <= grid; j++ {
				u := -grow + float64(i)*(1+2*grow)/grid
				v := -grow + float64(j)*(1+2*grow)/grid
				q := back.Apply(geom.Point{X: (float64(px) + u) / img.kx, Y: (float64(py) + v) / img.ky})
				x, y := int(math.Floor(q.X/module)), int(math.Floor(q.Y/module))
				if x < 0 || y < 0 || y >= len(dark) || x >= len(dark) || !dark[y][x] {
					return false
				}
			}
		}
		return true
	}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if !wholly(x, y) {
				continue
			}
			seen++
			if c := img.RGBAAt(x, y); c.R != 0 || c.G != 0 || c.B != 0 {
				seams++
			}
		}
	}
	return seen, seams
}
