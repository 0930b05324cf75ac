package decal

import (
	"bytes"
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/label/symbol"
	"floatmark/label/symbol/scan"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/png"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

const testCode = "HTTPS://F.EXAMPLE/9KYA3C"

// lopsided is a piece with a code at the left, words at the right and a caption
// under it, on an outline that slants to one side.
func lopsided(t *testing.T, f fonts.Set, module float64) nest.Piece {
	t.Helper()
	m, err := symbol.QR(testCode)
	if err != nil {
		t.Fatal(err)
	}
	outline := geom.Polygon(geom.Point{X: -20, Y: -24}, geom.Point{X: 14, Y: -24}, geom.Point{X: 22, Y: 0}, geom.Point{X: -20, Y: 0})
	s := &draw.Sheet{Name: "float 7"}
	s.Add(draw.Ground, &draw.Fill{Path: outline, Ink: draw.White})
	set := func(text string, cap, x, y float64) []draw.Op {
		l, err := typeset.Shape(text, typeset.Bold(f, cap))
		if err != nil {
			t.Fatal(err)
		}
		return l.Straight(geom.Translate(x, y), typeset.Left, draw.Black)
	}
	s.Add(draw.Colour, &draw.Group{Name: "code", Rigid: true, At: geom.Translate(-16, -20),
		Ops: []draw.Op{&draw.Fill{Path: Modules(m, module), Ink: draw.Black}}})
	s.Add(draw.Colour, set("8 g", 4, 2, -10)...)
	s.Add(draw.Cut, &draw.Stroke{Path: outline, Ink: cutInk, Width: cutWidth})
	s.Add(draw.Guide, set("float 7", 1.5, -20, 3)...)
	return nest.Piece{Name: "float 7", Outline: outline, Box: outline.Bounds().Union(s.Bounds(draw.Guide)), Drawing: s, Turns: []int{0, 1, 2, 3}}
}

func sheetOrder(t *testing.T, key string, printer stock.Printer) Order {
	t.Helper()
	f, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	st, ok := stock.ByKey(key)
	if !ok {
		t.Fatalf("no stock %q", key)
	}
	return Order{Pieces: []nest.Piece{lopsided(t, f, printer.Snap(0.5))}, Stock: st, Title: "Withy Sluice Floats · batch 26-11", Fonts: f, Words: w}
}

const testDPI = 300

func picture(t *testing.T, s *draw.Sheet, name string) *image.RGBA {
	t.Helper()
	if dir := os.Getenv("LOOK"); dir != "" {
		var b bytes.Buffer
		if err := png.Write(&b, s, testDPI); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".png"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	img, err := png.Render(s, testDPI)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// codeOf cuts the code with its pale edge out of the picture of a sheet, turned
// upright again, and seen from the back if the sheet is to be rubbed down.
func codeOf(img *image.RGBA, code geom.Rect, turn int, back bool) *image.RGBA {
	const pale = 1.9 // mm, of four squares
	px := func(mm float64) int { return int(math.Round(mm * testDPI / 25.4)) }
	b := image.Rect(px(code.Min.X-pale), px(code.Min.Y-pale), px(code.Max.X+pale), px(code.Max.Y+pale))
	n := b.Dx()
	out := image.NewRGBA(image.Rect(0, 0, n, n))
	for y := range n {
		for x := range n {
			u, v := x, y
			for range turn {
				u, v = n-1-v, u // where the quarter turn clockwise put it
			}
			if back {
				out.SetRGBA(n-1-x, y, img.RGBAAt(b.Min.X+u, b.Min.Y+v))
			} else {
				out.SetRGBA(x, y, img.RGBAAt(b.Min.X+u, b.Min.Y+v))
			}
		}
	}
	return out
}

// wrongSquares counts the squares of the code that differ from what was meant.
func wrongSquares(t *testing.T, img *image.RGBA) int {
	t.Helper()
	m, err := symbol.QR(testCode)
	if err != nil {
		t.Fatal(err)
	}
	n := float64(img.Bounds().Dx())
	edge := 1.9 * testDPI / 25.4
	wrong := 0
	for y := range m.N {
		for x := range m.N {
			at := func(i int) int { return int(edge + (float64(i)+0.5)*(n-2*edge)/float64(m.N)) }
			if (img.RGBAAt(at(x), at(y)).R < 128) != m.Dark(x, y) {
				wrong++
			}
		}
	}
	return wrong
}

// A code printed mirrored is the one that was meant when the sheet is seen from
// its back, and only then. The reader takes mirrored codes too, many phones do
// not: so the squares are compared as well.
func TestMirroredSheetReadsFromItsBack(t *testing.T) {
	printer := stock.Printer{Name: "office", DPI: 600, ScaleX: 1.004, ScaleY: 0.997, Shear: 0.001}
	for _, c := range []struct {
		key      string
		mirrored bool
	}{{"a4-rub-on", true}, {"letter-skin-transfer", true}, {"a5-rub-on", true}, {"a4-film-white", false}, {"a5-tissue", false}} {
		o := sheetOrder(t, c.key, printer)
		before := o.Pieces[0].Drawing.Dump()
		sheets, _, err := Sheets(t.Context(), o, nil)
		if err != nil {
			t.Fatal(err)
		}
		if o.Pieces[0].Drawing.Dump() != before {
			t.Error("the piece that was given is changed")
		}
		if strings.Contains(sheets[0].Sheet.Dump(), o.Words.Mirrored) != c.mirrored {
			t.Errorf("%s: the note that it is mirrored", c.key)
		}
		s, err := stock.Calibrate(sheets[0].Sheet, printer)
		if err != nil {
			t.Fatal(err)
		}
		// The rigid group is moved, not mirrored, and its edges sit on dots.
		var box geom.Rect
		var turn int
		draw.Walk(s.Layers[draw.Colour], func(op draw.Op, at geom.Affine, rigid bool) {
			if !rigid {
				return
			}
			box = op.(*draw.Fill).Path.Transform(at).Bounds()
			turn = int(math.Round(math.Atan2(at.C, at.D)/(-math.Pi/2))+4) % 4 // y is not mirrored
			for _, v := range []float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y} {
				if n := v / printer.Dot(); math.Abs(n-math.Round(n)) > 1e-6 {
					t.Errorf("%s: an edge of the code lies at dot %v", c.key, n)
				}
			}
		})
		img := picture(t, s, c.key)
		right, wrong := codeOf(img, box, turn, c.mirrored), codeOf(img, box, turn, !c.mirrored)
		if text, err := scan.QR(right); err != nil || text != testCode {
			t.Errorf("%s: %q, %v", c.key, text, err)
		}
		if a, b := wrongSquares(t, right), wrongSquares(t, wrong); a != 0 || b < 50 {
			t.Errorf("%s: %d squares are wrong, %d on the other side", c.key, a, b)
		}
	}
}

// On the mirrored sheet the mark's words run from right to left, margin and
// caption from left to right, and outline and ink have changed sides together.
func TestWhatIsMirrored(t *testing.T) {
	o := sheetOrder(t, "a4-rub-on", stock.Plain())
	sheets, used, err := Sheets(t.Context(), o, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := sheets[0].Sheet
	hands := map[string]float64{}
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, _ bool) {
			if g, ok := op.(*draw.Glyphs); ok {
				hands[g.Text] = g.Run[0].At.Then(at).Det()
			}
		})
	}
	// An upright glyph turns the em's y up into the page's y down: negative.
	if d, ok := hands["8 g"]; !ok || d <= 0 {
		t.Errorf("the rating is not mirrored: %v", hands)
	}
	for _, text := range []string{o.Words.Mirrored, "float 7", "this line is 50 mm"} {
		if d, ok := hands[text]; !ok || d >= 0 {
			t.Errorf("%q cannot be read on the sheet: %v", text, hands)
		}
	}
	got := mirrored(o.Pieces[0])
	if b := got.Outline.Bounds(); b != o.Pieces[0].Outline.Bounds() {
		t.Errorf("the outline has moved to %v", b)
	}
	if b := got.Drawing.Bounds(draw.Layers()...); !got.Box.Contains(b) {
		t.Errorf("ink in %v leaves the box %v", b, got.Box)
	}
	if a, b := got.Outline.Area(0.01), o.Pieces[0].Outline.Area(0.01); math.Abs(math.Abs(a)-math.Abs(b)) > 1e-9 || used.Pieces <= 0 {
		t.Errorf("area %v, before %v", a, b)
	}
	// The upper edge runs from -20 to 14, the lower one from -20 to 22: mirrored
	// about 1, what was short at the right is short at the left.
	if code := draw.Bounds(got.Drawing.Layers[draw.Colour][:1]); math.Abs(code.Max.X-(2+16)) > 1e-9 {
		t.Errorf("the code lies at %v", code)
	}
	for _, p := range got.Outline {
		if p.Verb == geom.Move && (math.Abs(p.P[0].X-22) > 1e-9 || p.P[0].Y != -24) {
			t.Errorf("the outline starts at %v", p.P[0])
		}
	}
}

func TestNoSheetByHand(t *testing.T) {
	if _, _, err := Sheets(t.Context(), sheetOrder(t, "by-hand", stock.Plain()), nil); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("by hand: %v, want an Input error", err)
	}
}

// A rigid group that is turned and lies in a moved group keeps its kind.
func TestMirroredRigidGroups(t *testing.T) {
	for quarter := 0; quarter < 4; quarter++ {
		path := geom.Rectangle(geom.XYWH(1, 2, 3, 5))
		at := geom.Rotate(float64(quarter) * math.Pi / 2).Then(geom.Translate(7, 9))
		in := []draw.Op{&draw.Group{Name: "decal", At: geom.Translate(4, 6),
			Ops: []draw.Op{&draw.Group{Name: "code", Rigid: true, At: at, Ops: []draw.Op{&draw.Fill{Path: path}}}}}}
		flip := geom.Affine{A: -1, D: 1, E: 50}
		want := geom.Rectangle(draw.Bounds(in)).Transform(flip).Bounds()
		out := flipped(in, geom.Identity, flip)
		got := draw.Bounds(out)
		if got.Min.Sub(want.Min).Len() > 1e-9 || got.Max.Sub(want.Max).Len() > 1e-9 {
			t.Errorf("quarter %d: %v, want %v", quarter, got, want)
		}
		if _, err := stock.Calibrate(&draw.Sheet{Layers: [5][]draw.Op{draw.Colour: out}}, stock.Plain()); err != nil {
			t.Errorf("quarter %d: %v", quarter, err)
		}
	}
}
