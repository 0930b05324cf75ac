package backer

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/png"
	"floatmark/layouts/stock"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

type fataler interface {
	Helper()
	Fatal(...any)
}

func set0(t fataler) (fonts.Set, words.Words) {
	t.Helper()
	f, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	return f, w
}

func profile(t fataler, stations ...body.Station) body.Profile {
	t.Helper()
	p, err := body.New(stations)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func at(z, d float64) body.Station {
	return body.Station{Z: unit.Millimetre(z), D: unit.Millimetre(d), Corner: true}
}

// sedge is a loaded waggler of 174 mm, the invented scenario's first pattern.
func sedge(t fataler) label.Card {
	f := label.Card{
		Maker: label.Maker{Name: "Withy Sluice Floats", Address: []string{"1 Weir Lane", "Exampleton EX1 1EX"},
			Contact: "bench@withysluice.example", Host: "f.example"},
		Pattern: &label.Pattern{Name: "Sedge waggler", Waterline: 158, TipFrom: 161, LineFixed: "bottom end",
			Profile: profile(t, at(0, 3.4), at(10, 4), at(16, 7), at(30, 16), at(52, 13), at(58, 12), at(66, 4.5), at(146, 4.5), at(148, 2.2), at(174, 2.2)),
			Body:    label.Colour{R: 38, G: 38, B: 43}, Tip: label.Colour{R: 228, G: 87, B: 46}, Ground: label.Colour{R: 255, G: 255, B: 255},
			Zones: []label.Zone{{Show: label.FullShow(), From: 30, Height: 22}}},
		Mass: 10.4, Ballast: 7.2, Language: "English",
		Kind: "loaded", Length: "174 mm long", Diameter: "16 mm body",
		Rating: "8 g", BuiltIn: "7.2 g", Add: "0.8 g", Water: "fresh water",
		Rows: []label.Row{
			{Convention: "British present-day, tin", Shot: "1 AAA", Gram: "0.8 g"},
			{Convention: "British traditional, lead", Shot: "1 BB + 1 B", Gram: "0.76 g", Tip: "tip 2 mm high"},
			{Convention: "Continental, lead", Shot: "1 no. 3/0", Gram: "0.76 g", Note: "unverified: weigh before use"},
		},
		ID: "9KYA3C", Code: "HTTPS://F.EXAMPLE/9KYA3C", Batch: "26-11", Number: 7, Price: "£6.50",
		Cautions: []string{"built-in weight: brass, no lead", "not a toy · small parts, sharp points", "keep away from children under 3"},
		Ground:   label.Colour{R: 255, G: 255, B: 255},
		Band:     label.Colour{R: 200, G: 64, B: 47}, Tally: label.Tally{Thick: 3, Thin: 1, Ring: 0.5}, Rings: "thick ring 2.5 g, thin ring 0.5 g",
	}
	return f
}

// bobber is an unloaded round float, on which the waterline crosses the body.
func bobber(t fataler) label.Card {
	c := sedge(t)
	p := *c.Pattern
	p.Name, p.LineFixed = "Mill-pool bob", "top and bottom"
	p.Profile = profile(t, body.Station{Z: 0, D: 3}, body.Station{Z: 14, D: 3, Corner: true, Kind: body.Round},
		body.Station{Z: 28, D: 25, Kind: body.Round}, body.Station{Z: 50, D: 6, Corner: true}, body.Station{Z: 62, D: 5})
	p.Waterline, p.TipFrom = 40, 48
	p.Zones = []label.Zone{{Show: label.LeastShow(), From: 22, Height: 12}}
	c.Pattern = &p
	c.Kind, c.Length, c.Diameter, c.Rating, c.BuiltIn, c.Add = "unloaded", "62 mm long", "25 mm body", "about 2.5 g", "", "about 2.5 g"
	c.Rows = c.Rows[:2]
	c.Rows[1] = label.Row{Convention: "British traditional, lead", Shot: "2.37 g", Gram: "2.37 g"}
	c.Tally = label.Tally{Thick: 1, Ring: 0.5}
	c.Code, c.Price, c.Band = "2.5G 9KYA3C", "", label.Colour{R: 38, G: 110, B: 84}
	c.Cautions[0] = "built-in weight: none, no lead"
	return c
}

func spec(t fataler, c label.Card) Spec {
	f, w := set0(t)
	return Spec{Card: c, Fonts: f, Printer: stock.Plain(), Words: w}
}

// TestDisjoint is the promise of the layout: every block lies in the safe zone,
// none touches another, and what a block draws lies in its boxes.
func TestDisjoint(t *testing.T) {
	cards := map[string]Spec{"sedge": spec(t, sedge(t)), "bob": spec(t, bobber(t))}
	small := spec(t, sedge(t))
	small.Size = geom.Size{W: 70, H: 190}
	small.Card.Rows = small.Card.Rows[:2]
	cards["small"] = small
	for name, s := range cards {
		if err := sound(s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func sound(s Spec) error {
	m, err := compose(s)
	if err != nil {
		return err
	}
	if err := apartOn(m, m.front, geom.Point{}); err != nil {
		return fmt.Errorf("front: %w", err)
	}
	if m.sides == 2 {
		if err := apartOn(m, m.back, geom.Point{}); err != nil {
			return fmt.Errorf("back: %w", err)
		}
	}
	return nil
}

// apartOn is the promise for one panel: every block lies in the safe zone, none
// touches another, what a block draws lies in its boxes, and baselines are on the
// grid.
func apartOn(m made, p panel, _ geom.Point) error {
	f := m.frame
	card := geom.XYWH(0, 0, f.w, f.h)
	safe := card.Inset(Safe)
	names := map[string]bool{}
	for i, b := range p.blocks {
		if names[b.name] {
			return fmt.Errorf("two blocks %q", b.name)
		}
		names[b.name] = true
		ink := draw.Bounds(b.ops)
		all := geom.Rect{}
		for _, r := range b.boxes {
			all = all.Union(r)
			if r.W() <= 0 || r.H() <= 0 {
				return fmt.Errorf("%s has an empty box %v", b.name, r)
			}
		}
		if b.name != "hang hole" && !strings.Contains(b.name, "ode") && !all.Inset(-0.1).Contains(ink) {
			return fmt.Errorf("%s draws %v outside its boxes %v", b.name, ink, all)
		}
		in := safe
		if f.base > f.h && (strings.HasSuffix(b.name, "float") || b.layer == draw.Cut) {
			in = card
		}
		if b.name == "flag" {
			continue
		}
		if !in.Inset(-outline).Contains(all) {
			return fmt.Errorf("%s %v leaves the safe zone %v", b.name, all, in)
		}
		for _, c := range p.blocks[:i] {
			// A float lies on the cuts of its holds.
			if c.name == "flag" || c.layer == draw.Cut && strings.HasSuffix(b.name, "float") {
				continue
			}
			for _, r := range b.boxes {
				for _, q := range c.boxes {
					if r.Inset(-max(b.clear, c.clear)).Overlaps(q) {
						return fmt.Errorf("%s %v meets %s %v", b.name, r, c.name, q)
					}
				}
			}
		}
	}
	return nil
}

// TestAnyCardIsSoundOrRefused varies names, rows, rings and bodies: a card is
// either laid out without a collision or refused as NoFit with a measure.
func TestAnyCardIsSoundOrRefused(t *testing.T) {
	laid, refused := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		s := randomCard(r)
		switch err := sound(s); {
		case err == nil:
			laid++
		case fault.ClassOf(err) == fault.NoFit:
			refused++
			if !strings.Contains(err.Error(), "mm") {
				r.Fatalf("refused without a measure: %v", err)
			}
			var e *fault.Error
			if errors.As(err, &e) && e.Do == "" {
				r.Fatalf("refused without a remedy: %v", err)
			}
		default:
			r.Fatal(err)
		}
	})
	if laid == 0 {
		t.Error("no card was laid out: the test proves nothing")
	}
	t.Logf("%d laid out, %d refused", laid, refused)
}

func randomCard(r *rapid.T) Spec {
	c := sedge(r)
	text := func(name string, most int) string {
		return strings.TrimSpace(rapid.StringOfN(rapid.SampledFrom([]rune("aegijklmnopqrtyÄÉg  ")), 1, most, -1).Draw(r, name)) + "y"
	}
	c.Maker.Name, c.Maker.Contact = text("maker", 40), text("name", 20)+"@"+text("host", 20)
	p := *c.Pattern
	p.Name, p.LineFixed = text("pattern", 50), text("line", 20)
	c.Kind, c.Rating = text("kind", 12), rapid.SampledFrom([]string{"8 g", "about 12.55 g", "0.4 g", "nothing"}).Draw(r, "rating")
	c.Add = rapid.SampledFrom([]string{"0.8 g", "nothing to add", c.Rating}).Draw(r, "add")
	c.BuiltIn = rapid.SampledFrom([]string{"7.2 g", ""}).Draw(r, "built in")
	c.Rows = nil
	for i := range rapid.IntRange(0, 5).Draw(r, "rows") {
		c.Rows = append(c.Rows, label.Row{Convention: text(fmt.Sprint("convention ", i), 34), Shot: text("shot", 30), Gram: "0.76 g",
			Tip: rapid.SampledFrom([]string{"", "tip 2 mm high"}).Draw(r, "tip"), Note: rapid.SampledFrom([]string{"", "unverified: weigh before use"}).Draw(r, "note")})
	}
	c.Code = rapid.SampledFrom([]string{"HTTPS://F.EXAMPLE/9KYA3C", "8G ADD 0.8G 9KYA3C", "", "HTTPS://A.RATHER.LONG.NAME.FOR.A.HOST.EXAMPLE/9KYA3C"}).Draw(r, "code")
	c.Price = rapid.SampledFrom([]string{"", "£6.50"}).Draw(r, "price")
	c.Tally = label.Tally{Thick: rapid.IntRange(0, 60).Draw(r, "thick"), Thin: rapid.IntRange(0, 4).Draw(r, "thin"), Ring: 0.5}
	c.Cautions = c.Cautions[:rapid.IntRange(0, 3).Draw(r, "cautions")]
	for i := range rapid.IntRange(0, 3).Draw(r, "address lines") {
		c.Maker.Address = append(c.Maker.Address, text(fmt.Sprint("address ", i), 40))
	}
	z := 0.0
	st := []body.Station{}
	for i := range rapid.IntRange(2, 7).Draw(r, "stations") {
		st = append(st, body.Station{Z: unit.Millimetre(z), D: unit.Millimetre(rapid.Float64Range(0.5, 28).Draw(r, fmt.Sprint("d", i))),
			Kind: body.Kind(rapid.IntRange(0, 2).Draw(r, "form")), Corner: rapid.Bool().Draw(r, "corner")})
		z += rapid.Float64Range(4, 45).Draw(r, fmt.Sprint("dz", i))
	}
	p.Profile = profile(r, st...)
	long := float64(p.Profile.Length())
	share := func(n string) unit.Millimetre {
		return unit.Millimetre(rapid.Float64Range(0, 1.1).Draw(r, n) * long)
	}
	p.Waterline, p.TipFrom = share("waterline"), share("tip")
	p.Zones = []label.Zone{{Show: rapid.SampledFrom([]label.Show{label.LeastShow(), label.FullShow()}).Draw(r, "show"), From: share("mark"), Height: share("high")}}
	c.Pattern = &p
	s := spec(r, c)
	s.Size = rapid.SampledFrom([]geom.Size{ThirdA4, Least, {W: 70, H: 180}, {W: 148, H: 210}, {W: 105, H: 297}}).Draw(r, "size")
	s.Style = Style{Kind: Kind(rapid.IntRange(0, 3).Draw(r, "make")), Arrangement: Arrangement(rapid.IntRange(0, 2).Draw(r, "arrangement")),
		Sides: rapid.IntRange(1, 2).Draw(r, "sides"), Hang: Hang(rapid.IntRange(0, 2).Draw(r, "hang")), NoHolds: rapid.Bool().Draw(r, "no holds"),
		NoPicture: rapid.Bool().Draw(r, "no picture"), Overhang: rapid.SampledFrom([]float64{0, 60}).Draw(r, "overhang")}
	s.Card.Mass = unit.Gram(rapid.Float64Range(0, 30).Draw(r, "mass"))
	s.Card.EAN = rapid.SampledFrom([]string{"", "6291041500213"}).Draw(r, "ean")
	if rapid.Bool().Draw(r, "shotting") {
		s.Card.Shotting = []label.Shotting{{Place: label.AtFloat, Shots: 2, Each: 0.4, Text: text("lock", 30)}, {Place: label.Downline, Shots: 3, Each: 0.1, Text: text("droppers", 30)}}
	}
	if rapid.Bool().Draw(r, "second language") {
		also := s.Card
		s.Also, s.Second = &also, s.Words
	}
	s.Printer.DPI = rapid.SampledFrom([]float64{300, 600, 1200, 360}).Draw(r, "dpi")
	return s
}

// TestLifeSize measures the picture: true length, true diameter, base at the
// foot of the safe zone.
func TestLifeSize(t *testing.T) {
	for _, c := range []label.Card{sedge(t), bobber(t)} {
		s := spec(t, c)
		s.Size = ThirdA4
		f, err := cut(s)
		if err != nil {
			t.Fatal(err)
		}
		p := c.Pattern.Profile
		b := f.slice(float64(p.Base()), float64(p.Top())).Bounds()
		if d := b.H() - float64(p.Length()); d > 1e-9 || d < -1e-9 {
			t.Errorf("%s is drawn %v mm long, want %v", c.Pattern.Name, b.H(), p.Length())
		}
		if d := b.W() - float64(p.MaxDiameter()); d > 0.005 || d < -0.005 {
			t.Errorf("%s is drawn %v mm thick, want %v", c.Pattern.Name, b.W(), p.MaxDiameter())
		}
		if b.Max.Y != ThirdA4.H-Safe {
			t.Errorf("%s stands at %v, want the foot of the safe zone", c.Pattern.Name, b.Max.Y)
		}
	}
}

// TestCodeOnDots: modules are whole printer dots of at least 0.40 mm, the group
// is rigid and starts on a dot, and the quiet zone is 4 modules.
func TestCodeOnDots(t *testing.T) {
	for _, dpi := range []float64{300, 360, 600, 1200} {
		s := spec(t, sedge(t))
		s.Printer.DPI = dpi
		laid, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		sheet := laid.Front
		g := find(sheet.Layers[draw.Colour], "code HTTPS://F.EXAMPLE/9KYA3C")
		if g == nil || !g.Rigid {
			t.Fatal("the code is no rigid group")
		}
		b := draw.Bounds(g.Ops)
		const modules = 21 // 24 characters in capitals: version 1-L holds 25 (ISO/IEC 18004)
		module := b.Min.X / quietModules
		if got := b.W() / module; got < modules-1e-6 || got > modules+1e-6 {
			t.Errorf("%v dpi: %v modules, want %v", dpi, got, modules)
		}
		if module < leastModule-1e-9 {
			t.Errorf("%v dpi: module %v mm, want at least %v", dpi, module, leastModule)
		}
		for _, v := range []float64{module, g.At.E, g.At.F} {
			dots := v * dpi / unit.MillimetresPerInch
			if d := dots - float64(int(dots+0.5)); d > 1e-6 || d < -1e-6 {
				t.Errorf("%v dpi: %v mm is %v dots, want whole ones", dpi, v, dots)
			}
		}
	}
}

func find(ops []draw.Op, name string) *draw.Group {
	for _, o := range ops {
		if g, ok := o.(*draw.Group); ok {
			if g.Name == name {
				return g
			}
			if in := find(g.Ops, name); in != nil {
				return in
			}
		}
	}
	return nil
}

// TestSmallPrint reads every glyph's size off the list: no small letter is
// lower than 1.2 mm.
func TestSmallPrint(t *testing.T) {
	for _, size := range []geom.Size{ThirdA4, {W: 80, H: 200}} {
		s := spec(t, sedge(t))
		s.Size = size
		laid, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		sheet := laid.Front
		seen := 0
		draw.Walk(sheet.Layers[draw.Colour], func(o draw.Op, m geom.Affine, _ bool) {
			if g, ok := o.(*draw.Glyphs); ok {
				for _, one := range g.Run {
					seen++
					if x := one.At.Then(m).A * g.Face.XHeight(); x < smallX-1e-9 {
						t.Errorf("%q is set with an x-height of %.3f mm", g.Text, x)
					}
				}
			}
		})
		if seen < 200 {
			t.Errorf("only %d glyphs on a card", seen)
		}
	}
}

// TestRefused: what does not fit is named with its measure.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Spec)
		want   string
	}{
		{"float too long", func(s *Spec) { s.Size = geom.Size{W: 99, H: 180} }, "the float is 174 mm long and the card has room for 170 mm"},
		{"card too small", func(s *Spec) { s.Size = geom.Size{W: 50, H: 210} }, "a card of 50 mm by 210 mm is too small"},
		{"pattern too long", func(s *Spec) { s.Card.Pattern.Name = strings.Repeat("Sedgewaggler", 8) }, "pattern: "},
		{"one word too long", func(s *Spec) { s.Card.Cautions[0] = strings.Repeat("caution", 12) }, "cautions: "},
		{"too much", func(s *Spec) {
			for range 60 {
				s.Card.Cautions = append(s.Card.Cautions, "keep away from children under 3")
			}
		}, "the words need "},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := spec(t, sedge(t))
			c.change(&s)
			_, err := Lay(s)
			if fault.ClassOf(err) != fault.NoFit || err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "mm") {
				t.Errorf("got %v, want a NoFit error with %q", err, c.want)
			}
			if err != nil && !strings.HasPrefix(err.Error(), "float 7, card: ") {
				t.Errorf("%v does not say which card", err)
			}
		})
	}
}

func TestGolden(t *testing.T) {
	small := spec(t, sedge(t))
	small.Size = geom.Size{W: 70, H: 190}
	for name, s := range map[string]Spec{"sedge": spec(t, sedge(t)), "bob": spec(t, bobber(t)), "small": small} {
		laid, err := Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		sheet := laid.Front
		golden.Check(t, name+".txt", sheet.Dump(), os.ReadFile, os.WriteFile)
		picture(t, name, sheet)
	}
}

// picture renders a page into the test's own folder, or into the folder that
// LOOK names, to be looked at.
func picture(t *testing.T, name string, s *draw.Sheet) {
	t.Helper()
	dir := os.Getenv("LOOK")
	if dir == "" {
		dir = t.TempDir()
	}
	const dpi = 150
	var b bytes.Buffer
	if err := png.Write(&b, s, dpi); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "backer-"+name+".png"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A patch is drawn as wide as it is seen, not as a ring round the float.
func TestPatchOnTheCard(t *testing.T) {
	f := &frame{Spec: spec(t, sedge(t)), axis: 20, profile: sedge(t).Pattern.Profile}
	r := f.radius(100)
	for _, c := range []struct{ width, want float64 }{{r, 2 * r * math.Sin(0.5)}, {100, 2 * r}, {0, 2 * r * math.Sin(math.Pi/4)}} {
		b := f.patch(label.Zone{Width: c.width}, 100, 100.001).Bounds()
		if math.Abs(b.W()-c.want) > 1e-3 {
			t.Errorf("a patch of %v mm on a radius of %v is seen %v wide, want %v", c.width, r, b.W(), c.want)
		}
	}
}
