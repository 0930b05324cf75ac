package legible

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"floatmark/label/symbol"
	"floatmark/layouts/draw"
	"floatmark/loading/fault"

	"pgregory.net/rapid"
)

func TestLadder(t *testing.T) {
	for _, c := range []struct {
		dpi  float64
		dots []int
	}{
		{600, []int{8, 7, 6}}, {1200, []int{16, 14, 12}}, {300, []int{4, 3}}, {360, []int{4}},
		{720, []int{9, 8, 7}}, {203, []int{3}}, {2400, []int{32, 28, 24}}, {0, nil}, {-600, nil}, {math.NaN(), nil}, {math.Inf(1), nil},
	} {
		got := Ladder(c.dpi)
		ok := len(got) == len(c.dots)
		for i := range got {
			ok = ok && got[i].Dots == c.dots[i] && math.Abs(got[i].Module-float64(c.dots[i])*25.4/c.dpi) < 1e-12
		}
		if !ok {
			t.Errorf("%v dots an inch: %v, want dots %v", c.dpi, got, c.dots)
		}
	}
	// 8, 7 and 6 dots of 600: 0.339, 0.296 and 0.254 mm.
	for i, want := range []float64{0.339, 0.296, 0.254} {
		if got := Ladder(600)[i].Module; math.Abs(got-want) > 0.0005 {
			t.Errorf("rung %d: %.4f mm, want %.3f", i, got, want)
		}
	}
}

var grey = draw.Ink{R: 160, G: 160, B: 160} // reflectance 0.35: neither pale nor dark

// propose asks for a place as wide as it is high.
func propose(n int, l symbol.Level, d, dpi, room float64, ground draw.Ink) ([]Choice, error) {
	return Propose(Ask{N: n, Level: l, Diameter: d, DPI: dpi, High: room, Wide: room, Ground: ground})
}

// best is the first that the closed form would print, or the first.
func best(all []Choice) Choice {
	for _, c := range all {
		if c.Grade != "" {
			return c
		}
	}
	return all[0]
}

func TestPropose(t *testing.T) {
	const wide = 50
	for _, c := range []struct {
		name           string
		n              int
		level          symbol.Level
		d, dpi, room   float64
		ground         draw.Ink
		dots, quiet    int
		grade          string
		reasons, warns []string // parts
	}{
		{"wide body", 21, symbol.M, 16.5, 600, wide, draw.White, 8, 4, Aim, []string{"7.1 mm wide", "9.8 mm with its pale edge", "0.34 mm, 8 printer dots", "body of 16.5 mm"}, nil},
		{"casual", 21, symbol.M, 18, 600, wide, draw.White, 8, 4, Casual, []string{"up to 20 from a body of 17.5 mm"}, nil},
		{"thinner", 21, symbol.M, 10.5, 600, wide, draw.White, 7, 4, Aim, []string{"11 degrees", "Squares of 0.34 mm bend too far round: they want a body of 11.5 mm"}, nil},
		{"widened", 21, symbol.M, 9, 600, wide, draw.White, 7, 4, Aim, []string{"6.9 mm wide", "9.2 mm with its pale edge", "columns widen"}, nil},
		{"fine", 21, symbol.M, 8, 600, wide, draw.White, 6, 4, Aim, []string{"columns widen", "Squares of 0.3 mm bend"}, []string{"fine work", "150 mm"}},
		{"at L", 21, symbol.L, 12, 600, wide, draw.White, 7, 4, Aim, nil, nil},
		{"short of room: smaller first", 21, symbol.M, 12, 600, 9, draw.White, 7, 4, Aim, []string{"Squares of 0.34 mm do not leave room for the pale edge: with it they take 9.8 mm of 9 mm"}, nil},
		{"then a short edge", 21, symbol.M, 12, 600, 8.5, draw.White, 8, 2, Aim, nil, []string{"0.7 mm wide; the standard asks for 1.4 mm"}},
		{"short edge, 7 dots", 21, symbol.M, 12, 600, 8.1, draw.White, 7, 3, Aim, nil, []string{"0.9 mm wide; the standard asks for 1.2 mm"}},
		{"least edge", 21, symbol.M, 12, 600, 7, grey, 7, 1, Aim, nil, []string{"Some readers will not take it", "35 % of the light"}},
		{"fine for want of room", 21, symbol.M, 12, 600, 6.5, draw.White, 6, 2, Aim, nil, []string{"standard", "fine work"}},
		{"coarser printer", 21, symbol.M, 9, 300, wide, draw.White, 3, 4, Aim, nil, []string{"fine work", "only 3 printer dots"}},
		{"a flat card", 25, symbol.L, math.Inf(1), 600, wide, draw.White, 8, 4, Casual, []string{"25 degrees off square, laid flat"}, nil},
		{"large on 17", 29, symbol.H, 17, 600, wide, draw.White, 7, 4, Aim, nil, nil},
	} {
		all, err := propose(c.n, c.level, c.d, c.dpi, c.room, c.ground)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		got := best(all)
		if got.Dots != c.dots || got.Quiet != c.quiet || got.Grade != c.grade || got.Tilt != (Form{N: c.n, Level: c.level, Module: got.Module, Front: got.Front()}).RatedTilt(c.d) {
			t.Errorf("%s: %+v; want %d dots, edge %d, %s", c.name, got, c.dots, c.quiet, c.grade)
		}
		for _, part := range c.reasons {
			if !strings.Contains(strings.Join(got.Reasons, "\n"), part) {
				t.Errorf("%s: no %q in %q", c.name, part, got.Reasons)
			}
		}
		if (len(c.warns) == 0) != (len(got.Warnings) == 0) {
			t.Errorf("%s: warnings %q", c.name, got.Warnings)
		}
		for _, part := range c.warns {
			if !strings.Contains(strings.Join(got.Warnings, "\n"), part) {
				t.Errorf("%s: no %q in %q", c.name, part, got.Warnings)
			}
		}
	}
}

func TestProposeRefuses(t *testing.T) {
	const wide = 50
	for _, c := range []struct {
		name         string
		n            int
		d, dpi, room float64
		ground       draw.Ink
		class        fault.Class
		what, do     string
	}{
		{"thin", 21, 5, 600, wide, draw.White, fault.NoFit, "bends too far round a body of 5 mm", "may fit from a diameter of 6 mm"},
		{"thin and short", 21, 5, 600, 3, draw.White, fault.NoFit, "body of 5 mm", "mm of room each way"},
		{"thin, not pale", 21, 6, 600, wide, grey, fault.NoFit, "body of 6 mm", "from a diameter of 6.5 mm; on white or another pale ground finer squares may do"},
		{"short", 21, 12, 600, 5, draw.White, fault.NoFit, "has 5 mm of room and needs 5.9 mm", "5.9 mm or more"},
		{"no room", 21, 12, 600, -1, draw.White, fault.NoFit, "has 0 mm of room", "5.9 mm or more"},
		{"large under 17", 29, 16.9, 600, wide, draw.White, fault.NoFit, "body of 16.9 mm", "diameter of 17 mm"},
		{"dark", 21, 16, 600, wide, draw.Black, fault.NoFit, "too dark", "white under the code"},
		{"no such code", 22, 16, 600, wide, draw.White, fault.Ours, "22 squares", ""},
		{"no diameter", 21, 0, 600, wide, draw.White, fault.Input, "diameter", "give"},
		{"odd diameter", 21, math.NaN(), 600, wide, draw.White, fault.Input, "diameter", "give"},
		{"no printer", 21, 16, 0, wide, draw.White, fault.Input, "dots an inch", "600"},
		{"odd room", 21, 16, 600, math.NaN(), draw.White, fault.Input, "room", "give"},
	} {
		all, err := propose(c.n, symbol.M, c.d, c.dpi, c.room, c.ground)
		var got Choice
		if len(all) > 0 {
			got = all[0]
		}
		e := &fault.Error{}
		if !errors.As(err, &e) || e.Class != c.class || !strings.Contains(e.What, c.what) || !strings.Contains(e.Do, c.do) || got.Dots != 0 {
			t.Errorf("%s: %+v, %v (do %q); want class %v, %q, do %q", c.name, got, err, e.Do, c.class, c.what, c.do)
		}
	}
}

var (
	adviceDiameter = regexp.MustCompile(`diameter of ([0-9.]+) mm`)
	adviceRoom     = regexp.MustCompile(`([0-9.]+) mm (?:of room|or more) each way`)
	jargon         = regexp.MustCompile(`(?i)module|quiet zone|dpi|version|NaN|Inf|wrap|EC level`)
)

// Whatever is chosen obeys the rules, and whoever follows the advice of a
// refusal is let through.
func TestProposeKeepsItsRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, l, _ := anyCode(t)
		d := rapid.Float64Range(1, 80).Draw(t, "d")
		dpi := rapid.SampledFrom([]float64{203, 300, 360, 600, 720, 1200, 2400}).Draw(t, "dpi")
		room := rapid.Float64Range(0, 30).Draw(t, "room")
		ground := rapid.SampledFrom([]draw.Ink{draw.White, grey, {R: 235, G: 225, B: 180}}).Draw(t, "ground")
		all, err := propose(n, l, d, dpi, room, ground)
		for i, c := range all {
			wide := c.Wide(n)
			if math.Max(wide, float64(n)*c.Module)+float64(2*c.Quiet)*c.Module > room+1e-6 || c.Quiet < MinQuiet || c.Quiet > FullQuiet || c.Dots < 3 || c.Tilt < proposeTilt-1e-9 ||
				(c.Grade == Casual) != (c.Tilt >= CasualTilt) || (c.Grade == "") != (c.Tilt < AimTilt) || c.Module < fine && ground == grey || n >= 29 && d < 17 {
				t.Fatalf("%+v", c)
			}
			if c.Front() != (len(c.Columns) == n+1) || c.Front() && wide < float64(n)*c.Module-2*25.4/dpi {
				t.Fatalf("widened to %v: %+v", wide, c)
			}
			if c.Quiet < FullQuiet && len(c.Warnings) == 0 {
				t.Fatalf("no word of the narrow edge: %+v", c)
			}
			for _, o := range all[:i] {
				if o.Dots == c.Dots && o.Front() == c.Front() && o.Quiet == c.Quiet {
					t.Fatalf("%+v is proposed twice", c)
				}
			}
			for _, s := range append(c.Reasons, c.Warnings...) {
				if jargon.MatchString(s) || !strings.HasSuffix(s, ".") {
					t.Fatalf("sentence %q", s)
				}
			}
		}
		if err == nil {
			if len(all) == 0 {
				t.Fatal("neither a proposal nor an error")
			}
			return
		}
		e := &fault.Error{}
		if !errors.As(err, &e) || e.Class != fault.NoFit || e.Do == "" || jargon.MatchString(e.What+e.Do) {
			t.Fatalf("%v, do %q", err, e.Do)
		}
		followed := false
		for re, v := range map[*regexp.Regexp]*float64{adviceDiameter: &d, adviceRoom: &room} {
			if m := re.FindStringSubmatch(e.Do); m != nil {
				if *v, err = strconv.ParseFloat(m[1], 64); err != nil {
					t.Fatal(err)
				}
				followed = true
			}
		}
		if !followed {
			t.Fatalf("no figure to follow in %q, do %q", e.What, e.Do)
		}
		if _, err := propose(n, l, d, dpi, room, ground); err != nil {
			t.Fatalf("%q followed, then: %v", e.Do, err)
		}
	})
}

func BenchmarkPropose(b *testing.B) {
	for b.Loop() {
		if _, err := propose(21, symbol.L, 12, 600, 12, draw.White); err != nil {
			b.Fatal(err)
		}
	}
}
