package legible

import (
	"math"
	"slices"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/layouts/draw"

	"pgregory.net/rapid"
)

// runs returns where an outline crosses the line across (y = at) or down
// (x = at), in order: curves are cut into 64 chords.
func runs(f *fonts.Face, r rune, down bool, at float64) []float64 {
	id, ok := f.Glyph(r)
	if !ok {
		return nil
	}
	i, j := 0, 1
	if down {
		i, j = 1, 0
	}
	var xs []float64
	chord := func(a, b [2]float64) {
		if (a[j] < at) != (b[j] < at) {
			xs = append(xs, a[i]+(at-a[j])/(b[j]-a[j])*(b[i]-a[i]))
		}
	}
	var start, here [2]float64
	for _, s := range f.Outline(id) {
		n := strings.IndexByte("LQC", s.Verb) // points before the last
		if s.Verb == 'M' {
			chord(here, start)
			start, here = s.P[0], s.P[0]
			continue
		}
		p := append([][2]float64{here}, s.P[:n+1]...)
		for k := 1; k <= 64; k++ {
			q := slices.Clone(p) // de Casteljau
			for m := len(q) - 1; m > 0; m-- {
				for l := range m {
					for d := range 2 {
						q[l][d] += float64(k) / 64 * (q[l+1][d] - q[l][d])
					}
				}
			}
			chord(here, q[0])
			here = q[0]
		}
	}
	chord(here, start)
	slices.Sort(xs)
	return xs
}

// The table of strokes is what the outlines of the faces have.
func TestStrokesAreThoseOfTheFaces(t *testing.T) {
	set, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	for w, f := range map[Weight]*fonts.Face{Bold: set.Bold, Regular: set.Regular} {
		middle := func(r rune) float64 { id, _ := f.Glyph(r); return f.Advance(id) / 2 }
		stem := runs(f, 'I', false, f.CapHeight()/2)
		bar := runs(f, 'H', true, middle('H'))
		e := runs(f, 'e', true, middle('e')) // foot, gap, bar, eye, head
		if len(stem) != 2 || len(bar) != 2 || len(e) != 6 {
			t.Fatalf("%s: stem %v, bar %v, e %v", f.Name(), stem, bar, e)
		}
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"stem", weights[w].stem, stem[1] - stem[0]}, {"bar", weights[w].bar, bar[1] - bar[0]}, {"eye", weights[w].eye, e[4] - e[3]}} {
			if want := c.want / f.CapHeight(); math.Abs(c.got-want) > 0.0011 {
				t.Errorf("%s, %s: the table says %.4f, the outline %.4f", f.Name(), c.what, c.got, want)
			}
		}
	}
}

func plainLine() Setting {
	return Setting{Text: "4.5 g", Cap: 2, Weight: Bold, Dot: 25.4 / 600, Ink: draw.Black, Ground: draw.White}
}

func TestJudgeLine(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Setting)
		grade  Grading
		why    string // how the first reason begins
	}{
		"plain":                     {func(*Setting) {}, Good, ""},
		"just the floor":            {func(s *Setting) { s.Cap = CapFloor }, Good, ""},
		"small":                     {func(s *Setting) { s.Cap = 1.1 }, Doubtful, "Its capitals are 1.1 mm; 1.2 mm or more"},
		"a hair small":              {func(s *Setting) { s.Cap = 1.1999 }, Doubtful, "Its capitals are 1.19 mm; 1.2 mm or more"},
		"tiny":                      {func(s *Setting) { s.Cap = 0.8 }, Unreadable, "Its capitals are 0.8 mm"},
		"not a number":              {func(s *Setting) { s.Cap = math.NaN() }, Unreadable, ""},
		"grey 767676":               {func(s *Setting) { s.Ink = draw.Ink{R: 0x76, G: 0x76, B: 0x76} }, Good, ""},
		"grey 777777":               {func(s *Setting) { s.Ink = draw.Ink{R: 0x77, G: 0x77, B: 0x77} }, Doubtful, "Its contrast is 4.4; 4.5"},
		"white on white":            {func(s *Setting) { s.Ink = draw.White }, Unreadable, "Its contrast is 1;"},
		"to the arc":                {func(s *Setting) { s.Half = 60 }, Good, ""},
		"past the arc":              {func(s *Setting) { s.Half = 62.5 }, Doubtful, "Its ends lie 63 degrees round the side, where 46 %"},
		"out of sight":              {func(s *Setting) { s.Half = 95 }, Doubtful, "Its ends lie 95 degrees round the side, where 0 %"},
		"lengthwise, to the arc":    {func(s *Setting) { s.Half, s.Lengthwise = 45, true }, Good, ""},
		"lengthwise, past the arc":  {func(s *Setting) { s.Half, s.Lengthwise = 50, true }, Doubtful, "Head and foot of its letters lie 50 degrees"},
		"lengthwise, looking small": {func(s *Setting) { s.Cap, s.Half, s.Lengthwise = 1.25, 40, true }, Doubtful, "Its capitals are 1.15 mm as seen round the body"},
		// 0.108·1.25 mm is 1.6 dots of 300 dpi, 0.8 of 150.
		"coarse dots":  {func(s *Setting) { s.Cap, s.Weight, s.Dot = 1.25, Regular, 25.4/300 }, Doubtful, "Its finest strokes are 1.5 printer dots; 2"},
		"coarsest":     {func(s *Setting) { s.Cap, s.Weight, s.Dot = 1.25, Regular, 25.4/150 }, Unreadable, "Its finest strokes are 0.7 printer dots"},
		"by hand":      {func(s *Setting) { s.Cap, s.Dot = 1.25, 0 }, Good, ""},
		"spreading":    {func(s *Setting) { s.Gain = 0.14 }, Doubtful, "The ink leaves less than a dot"}, // 0.304 - 0.28
		"closing":      {func(s *Setting) { s.Gain = 0.16 }, Unreadable, "The ink closes"},
		"knocked out":  {func(s *Setting) { s.Ink, s.Ground, s.Gain = draw.White, draw.Black, 0.14 }, Doubtful, "Its finest strokes are 1.3 printer dots"}, // 0.336 - 0.28
		"another face": {func(s *Setting) { s.Weight = 7 }, Good, ""},
	} {
		s := plainLine()
		c.change(&s)
		l := JudgeLine(s)
		first := strings.Join(l.Why, " ")
		if l.Grade != c.grade || !strings.HasPrefix(first, c.why) || (l.Grade == Good) != (len(l.Why) == 0) {
			t.Errorf("%s: %v %q, want %v %q", name, l.Grade, l.Why, c.grade, c.why)
		}
	}
}

// Figures worked out by hand: a stem of 0.202·2 = 0.404 mm, a bar of
// 0.168·2/0.042333 = 7.94 dots; at 60 degrees half the width; a semicircle of
// capitals is seen as its chord, 2/pi.
func TestLineFigures(t *testing.T) {
	s := plainLine()
	s.Half = 60
	l := JudgeLine(s)
	if math.Abs(l.Stroke-0.404) > 1e-9 || math.Abs(l.Dots-7.937) > 0.001 || math.Abs(l.Edge-0.5) > 1e-9 || l.Contrast != 21 || l.Seen != 2 {
		t.Errorf("%+v", l)
	}
	if got, want := l.String(), `"4.5 g": capitals 2 mm, strokes 0.4 mm, the finest 7.9 dots, contrast 21, 50 % seen at the ends: ok`; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	s.Half, s.Lengthwise = 90, true
	l = JudgeLine(s)
	if math.Abs(l.Seen-4/math.Pi) > 1e-9 || l.Edge != 0 {
		t.Errorf("%+v", l)
	}
	if got, want := l.String(), `"4.5 g": capitals 2 mm (seen as 1.27 mm), strokes 0.4 mm, the finest 7.9 dots, contrast 21, 0 % seen at the ends: warn. Head and foot of its letters lie 90 degrees round the side, where 0 % is seen of them: the float must be turned to read it`; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// Larger capitals, finer dots, less ink and less of the arc never read worse.
func TestBetterIsNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pale := rapid.Bool().Draw(t, "pale ink")
		s := Setting{
			Cap: rapid.Float64Range(0.3, 6).Draw(t, "cap"), Weight: Weight(rapid.IntRange(0, 1).Draw(t, "weight")),
			Dot: rapid.Float64Range(0.01, 0.2).Draw(t, "dot"), Gain: rapid.Float64Range(0, 0.2).Draw(t, "gain"),
			Ink: draw.Black, Ground: draw.White, Half: rapid.Float64Range(0, 120).Draw(t, "half"), Lengthwise: rapid.Bool().Draw(t, "lengthwise"),
		}
		if pale {
			s.Ink, s.Ground = s.Ground, s.Ink
		}
		b := s
		b.Cap *= rapid.Float64Range(1, 2).Draw(t, "more")
		b.Dot *= rapid.Float64Range(0.3, 1).Draw(t, "finer")
		b.Gain *= rapid.Float64Range(0, 1).Draw(t, "less")
		b.Half *= rapid.Float64Range(0, 1).Draw(t, "nearer")
		if g, w := JudgeLine(b).Grade, JudgeLine(s).Grade; g > w {
			t.Fatalf("%+v reads %v, %+v %v", b, g, s, w)
		}
	})
}
