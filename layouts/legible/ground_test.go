package legible

import (
	"math"
	"testing"

	"floatmark/layouts/draw"

	"pgregory.net/rapid"
)

func hex(v uint32) draw.Ink { return draw.Ink{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v)} }

// Contrasts that guides to WCAG 2 give as worked examples, rounded as they
// round (from memory): the two greys either side of 4.5 among them.
func TestContrastExamples(t *testing.T) {
	for _, c := range []struct {
		a, b draw.Ink
		want float64
	}{
		{draw.Black, draw.White, 21},
		{hex(0x777777), draw.White, 4.48},
		{hex(0x767676), draw.White, 4.54},
		{hex(0xff0000), draw.White, 4.00},
		{hex(0x0000ff), draw.White, 8.59},
		{hex(0x949494), draw.White, 3.03},
	} {
		if got := Contrast(c.a, c.b); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%v on %v: %.3f, want %v", c.a, c.b, got, c.want)
		}
	}
	// Relative luminances by the weights of the definition itself.
	for _, c := range []struct {
		i    draw.Ink
		want float64
	}{{hex(0xff0000), 0.2126}, {hex(0x00ff00), 0.7152}, {hex(0x0000ff), 0.0722}, {hex(0x808080), 0.2159}} {
		if got := Reflectance(c.i); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("%v: %.5f, want %v", c.i, got, c.want)
		}
	}
}

func TestPrinted(t *testing.T) {
	red, blue, grey := hex(0xff0000), hex(0x0000ff), hex(0xbcbcbc) // grey: half of white's light
	for _, c := range []struct {
		name        string
		ink, film   draw.Ink
		clear       bool
		paint, want draw.Ink
	}{
		{"ink on clear film on white paint", red, draw.White, true, draw.White, red},
		{"ink on white film hides the paint", red, draw.White, false, blue, red},
		{"red on blue paint is black", red, draw.White, true, blue, draw.Black},
		{"nothing printed on clear film is the paint", draw.White, draw.White, true, blue, blue},
		{"white ink shows nothing: no printer has it", draw.White, draw.White, true, draw.Black, draw.Black},
		{"two greys halve the light twice", grey, draw.White, true, grey, hex(0x8a8a8a)}, // 0.503² of the light: 138
		{"a tinted film takes its share", draw.White, grey, true, grey, hex(0x8a8a8a)},
	} {
		if got := Printed(c.ink, c.film, c.clear, c.paint); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestSymbolContrast(t *testing.T) {
	for _, c := range []struct {
		dark, light draw.Ink
		want        float64
		grade       Grading
	}{
		{draw.Black, draw.White, 95, Good},
		{draw.White, draw.White, 0, Unreadable},
		{draw.White, draw.Black, -100, Unreadable}, // the wrong way round
		{draw.Black, hex(0xcccccc), 55.38, Good},   // 0.6038 less 0.05
		{draw.Black, hex(0xcbcbcb), 54.72, Doubtful},
		{draw.Black, hex(0xb4b4b4), 40.64, Doubtful},
		{draw.Black, hex(0xb3b3b3), 40.08, Doubtful},
		{draw.Black, hex(0xb2b2b2), 39.52, Unreadable},
	} {
		got := SymbolContrast(c.dark, c.light)
		if math.Abs(got-c.want) > 0.005 || grade(got, CodeFails, CodeWarns) != c.grade {
			t.Errorf("%v on %v: %.3f %v, want %v %v", c.dark, c.light, got, grade(got, CodeFails, CodeWarns), c.want, c.grade)
		}
	}
}

func TestJudgeGround(t *testing.T) {
	black, white := []draw.Ink{draw.Black}, draw.White
	for _, c := range []struct {
		name       string
		inks       []draw.Ink
		code       bool
		clear      bool
		paint      draw.Ink
		text, dots Grading
	}{
		{"black on clear film on black", black, true, true, draw.Black, Unreadable, Unreadable},
		{"black on white film on black", black, true, false, draw.Black, Good, Good},
		{"black on clear film on white", black, true, true, white, Good, Good},
		{"black on clear film on mid grey: words alone", black, true, true, hex(0x808080), Good, Unreadable},
		{"no code, nothing to say of it", black, false, true, hex(0x808080), Good, Good},
		{"no text", nil, true, true, hex(0x808080), Good, Unreadable},
		{"pale grey on white film", []draw.Ink{draw.Black, hex(0x808080)}, false, false, draw.Black, Doubtful, Good},
		{"paler", []draw.Ink{hex(0xb0b0b0), draw.Black}, false, false, draw.Black, Unreadable, Good},
		{"white ink on a dark body", []draw.Ink{white}, false, true, draw.Black, Unreadable, Good},
		{"a red body is darker than it looks", black, true, true, hex(0xd03020), Doubtful, Unreadable},
	} {
		v := JudgeGround(c.inks, c.code, white, c.clear, c.paint)
		if v.Text != c.text || v.Code != c.dots || v.Overall() != max(c.text, c.dots) {
			t.Errorf("%s: text %v (%.2f), code %v (%.1f); want %v, %v", c.name, v.Text, v.TextContrast, v.Code, v.CodeContrast, c.text, c.dots)
		}
		if said := len(v.Reasons()) > 0; said != (v.Overall() != Good) || said != (v.Remedy(c.clear) != "") {
			t.Errorf("%s: %q %q", c.name, v.Reasons(), v.Remedy(c.clear))
		}
	}
	if v := JudgeGround([]draw.Ink{draw.Black, hex(0x808080)}, false, white, false, white); v.Worst != hex(0x808080) {
		t.Errorf("the worst of two: %v", v.Worst)
	}
}

// Closed forms for black: text wants (Y + 0.05)/0.05 = 4.5, Y = 0.175, and a
// code Y - 0.05 = 0.55, Y = 0.60; L* is 116·Y^(1/3) - 16.
func TestNeedLightness(t *testing.T) {
	const step = 0.5 // of the 256 greys, in L*
	text := JudgeGround([]draw.Ink{draw.Black}, false, draw.White, true, draw.Black).NeedLightness
	both := JudgeGround([]draw.Ink{draw.Black}, true, draw.White, true, draw.Black).NeedLightness
	if text < 48.88 || text > 48.88+step || both < 81.84 || both > 81.84+step {
		t.Errorf("text %.2f, want from 48.88; with a code %.2f, want from 81.84", text, both)
	}
	if hid := JudgeGround([]draw.Ink{draw.Black}, true, hex(0x202020), false, draw.White).NeedLightness; hid != both {
		t.Errorf("a film that hides the paint must be as pale itself: %v, %v", hid, both)
	}
	if none := JudgeGround([]draw.Ink{hex(0xc0c0c0)}, false, draw.White, true, draw.Black); none.NeedLightness <= 100 || none.Remedy(true) != "print in a darker ink: this one is too pale even on white" {
		t.Errorf("a pale ink: %v %q", none.NeedLightness, none.Remedy(true))
	}
	if tinted := JudgeGround([]draw.Ink{draw.Black}, true, hex(0xe8e8e8), true, draw.Black).NeedLightness; tinted <= both {
		t.Errorf("under a grey film paint must be paler: %v, %v", tinted, both)
	}
	for _, c := range []struct {
		i    draw.Ink
		want float64
	}{{draw.Black, 0}, {draw.White, 100}, {hex(0x777777), 50.03}, {hex(0x010101), 0.27}} {
		if got := Lightness(c.i); math.Abs(got-c.want) > 0.01 {
			t.Errorf("lightness of %v: %.3f, want %v", c.i, got, c.want)
		}
	}
}

// What is asked for does, and nothing darker: checked by greys either side.
func TestNeedIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ink := hex(rapid.Uint32Range(0, 0xffffff).Draw(t, "ink"))
		film := hex(0x010101 * rapid.Uint32Range(0xa0, 0xff).Draw(t, "film"))
		code := rapid.Bool().Draw(t, "code")
		need := JudgeGround([]draw.Ink{ink}, code, film, true, draw.Black).NeedLightness
		grey := hex(0x010101 * rapid.Uint32Range(0, 0xff).Draw(t, "grey"))
		v := JudgeGround([]draw.Ink{ink}, code, film, true, grey)
		// Rounding to 256 steps can make a paler grey read a trifle worse.
		if off := Lightness(grey) - need; off > 1 && v.Overall() != Good || off < -1 && v.Overall() == Good {
			t.Fatalf("%v on %v under %v: %v, need %.2f, has %.2f", ink, grey, film, v.Overall(), need, Lightness(grey))
		}
		if p, ok := PaleGround([]draw.Ink{ink}, code, film); ok != (JudgeGround([]draw.Ink{ink}, code, film, true, p).Overall() == Good) {
			t.Fatalf("%v proposed, %v", p, ok)
		}
	})
}

func TestPaleGround(t *testing.T) {
	if p, ok := PaleGround([]draw.Ink{draw.Black}, true, draw.White); !ok || p != palePaints[0] || p == draw.White {
		t.Errorf("for black: %v %v", p, ok)
	}
	// 4.53 on white, too little on ivory.
	if p, ok := PaleGround([]draw.Ink{hex(0x767676)}, false, draw.White); !ok || p != draw.White {
		t.Errorf("for a mid grey: %v %v", p, ok)
	}
	if _, ok := PaleGround([]draw.Ink{draw.White}, false, draw.White); ok {
		t.Error("white ink shows on nothing")
	}
}

func TestJudgeBand(t *testing.T) {
	if c, g := JudgeBand(hex(0x18608e), draw.White, false, draw.Black); g != Good || math.Abs(c-6.77) > 0.01 {
		t.Errorf("a blue band on white film: %.2f %v", c, g)
	}
	if c, g := JudgeBand(hex(0xf0d040), draw.White, true, draw.White); g != Doubtful || c > 3 {
		t.Errorf("a yellow band: %.2f %v", c, g)
	}
	if c, g := JudgeBand(hex(0x18608e), draw.White, true, draw.Black); g != Doubtful || c != 1 {
		t.Errorf("on clear film on black nothing shows: %.2f %v", c, g)
	}
}

func TestGroundWords(t *testing.T) {
	v := JudgeGround([]draw.Ink{draw.Black}, true, draw.White, true, hex(0x26262b))
	want := []string{
		"Print in #000000 cannot be read on #26262b: the contrast is 1.3; 4.5 or more is wanted.",
		"A code cannot be read on #26262b: its symbol contrast is 0 %; 55 % or more is wanted.",
	}
	got := v.Reasons()
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("%q", got)
	}
	if got := v.Remedy(true); got != "print on white film, or paint the ground under the mark in a pale colour, of lightness 83 or more (white is 100, black 0)" {
		t.Errorf("%q", got)
	}
	if Good.String()+Doubtful.String()+Unreadable.String() != "okwarnfail" {
		t.Error("the gradings' words")
	}
}

func BenchmarkJudgeGround(b *testing.B) {
	for b.Loop() {
		JudgeGround([]draw.Ink{draw.Black, hex(0x18608e)}, true, draw.White, true, hex(0x26262b))
	}
}
