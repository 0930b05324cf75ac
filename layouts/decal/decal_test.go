package decal

import (
	"math"
	"os"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/label"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/nest"
	"floatmark/layouts/stock"
	"floatmark/loading/body"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// The two marks that come ready made.
const least, full = "least", "full"

func profile(t testing.TB, zd ...float64) body.Profile {
	t.Helper()
	var st []body.Station
	for i := 0; i < len(zd); i += 2 {
		st = append(st, body.Station{Z: unit.Millimetre(zd[i]), D: unit.Millimetre(zd[i+1])})
	}
	p, err := body.New(st)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// spec is a mark on a body whose zone runs from d1 at the lower edge to d2 at
// the upper one, h mm along the axis.
func spec(t testing.TB, style string, d1, d2, h float64) Spec {
	t.Helper()
	f, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	film, ok := stock.ByKey("a4-film-white")
	if !ok {
		t.Fatal("no white film")
	}
	m := label.Mark{Number: 7, ID: "9KYA3C", Rating: "8 g", Tally: label.TallyOf(8, 1), Band: label.Colour{R: 0xc8, G: 0x40, B: 0x2f},
		Lines: []label.Line{{Role: label.RoleRating, Text: "8 g"}, {Role: label.RoleAdd, Text: "add 0.8 g"}, {Role: label.RoleID, Text: "9KYA3C"}}}
	if style == full {
		m.Lines = append(m.Lines, label.Line{Role: label.RoleShot, Text: "1 AAA"},
			label.Line{Role: label.RoleMetal, Text: "tin, fresh water"}, label.Line{Role: label.RoleBuiltIn, Text: "built in 7.2 g"})
		m.Code = "HTTPS://F.EXAMPLE/9KYA3C"
	}
	show := label.LeastShow()
	if style == full {
		show = label.FullShow()
	}
	p := &label.Pattern{Key: "test", Profile: profile(t, 0, d1, 20, d1, 20+h, d2, 60+h, d2),
		Zones: []label.Zone{{Style: style, Show: show, From: 20, Height: unit.Millimetre(h)}}}
	return Spec{Mark: m, Pattern: p, Fonts: f, Film: film, Printer: stock.Plain(), Overlap: 1, Words: w}
}

func lay(t testing.TB, s Spec) Result {
	t.Helper()
	r, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// texts returns what the colour layer says, in order.
func texts(r Result) string {
	var all []string
	draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, _ geom.Affine, _ bool) {
		if g, ok := o.(*draw.Glyphs); ok {
			all = append(all, g.Text)
		}
	})
	return strings.Join(all, "|")
}

func TestGoldenDecals(t *testing.T) {
	for _, c := range []struct {
		name string
		spec Spec
	}{
		{"full-16-to-13", spec(t, full, 16, 13.4, 26)},
		{"least-14-to-12", spec(t, least, 14, 12, 14)},
		{"least-lengthwise-8", spec(t, least, 8, 8, 26)},
		{"least-lengthwise-6-to-4", spec(t, least, 6.5, 4.5, 30)},
		{"full-lengthwise-9", spec(t, full, 9, 9, 40)},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := lay(t, c.spec).Pieces[0].Drawing.Dump()
			golden.Check(t, c.name+".txt", got, os.ReadFile, os.WriteFile)
		})
	}
}

// Everything a mark prints lies within its cut outline, clear of the edge;
// bands and rings reach the cut on purpose and are left out of the check.
func TestWordsStayInsideTheCut(t *testing.T) {
	for _, style := range []string{least, full} {
		for _, d := range [][3]float64{{16, 13.4, 26}, {14, 14, 24}, {20, 12, 30}, {12, 16, 26}, {9, 7, 40}, {6, 4, 34}, {25, 24, 30}} {
			s := spec(t, style, d[0], d[1], d[2])
			r, err := Lay(s)
			if fault.ClassOf(err) == fault.NoFit {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			outline := r.Pieces[0].Flat.Outline().Flatten(0.01)[0]
			draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
				var paths []geom.Path
				switch o := o.(type) {
				case *draw.Glyphs:
					for _, g := range o.Run {
						paths = append(paths, draw.GlyphPath(o.Face, g.ID).Transform(g.At.Then(at)))
					}
				case *draw.Fill:
					if rigid {
						paths = append(paths, o.Path.Transform(at))
					}
				}
				for _, p := range paths {
					for _, ring := range p.Flatten(0.02) {
						for _, q := range ring {
							if !inside(outline, q) {
								t.Fatalf("style %s body %v: ink at %v lies outside the cut", style, d, q)
							}
						}
					}
				}
			})
		}
	}
}

// inside is the plain crossing test.
func inside(ring []geom.Point, q geom.Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// No two words of a mark lie on each other.
func TestWordsStayApart(t *testing.T) {
	for _, d := range [][3]float64{{16, 13.4, 26}, {20, 12, 30}, {9, 7, 40}, {6, 4, 34}, {14, 14, 20}} {
		for _, style := range []string{least, full} {
			r, err := Lay(spec(t, style, d[0], d[1], d[2]))
			if fault.ClassOf(err) == fault.NoFit {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			type word struct {
				text string
				box  []geom.Rect // one a glyph: a word on an arc fills no rectangle
			}
			var all []word
			draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
				switch o := o.(type) {
				case *draw.Glyphs:
					w := word{text: o.Text}
					for _, g := range o.Run {
						if p := draw.GlyphPath(o.Face, g.ID); len(p) > 0 {
							w.box = append(w.box, p.Transform(g.At.Then(at)).Bounds())
						}
					}
					all = append(all, w)
				case *draw.Fill:
					if rigid {
						all = append(all, word{"code", []geom.Rect{o.Path.Transform(at).Bounds()}})
					}
				}
			})
			for i, a := range all {
				for _, b := range all[i+1:] {
					for _, x := range a.box {
						for _, y := range b.box {
							if x.Overlaps(y) {
								t.Errorf("body %v: %q and %q overlap", d, a.text, b.text)
							}
						}
					}
				}
			}
		}
	}
}

// The code of a full mark is a true square on the middle meridian, parallel to
// the sheet, of whole printer dots a module, with its quiet zone clear.
func TestCodeIsATrueSquare(t *testing.T) {
	s := spec(t, full, 16, 13.4, 28)
	r := lay(t, s)
	if !r.CodeOn {
		t.Fatalf("no code on a 16 mm body: %v", r.Notices)
	}
	var box geom.Rect
	draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		if f, ok := o.(*draw.Fill); ok && rigid {
			box = f.Path.Transform(at).Bounds()
		}
	})
	side := 21 * r.Code.Module
	if math.Abs(box.W()-side) > 1e-9 || math.Abs(box.H()-side) > 1e-9 || math.Abs(box.Min.X+box.Max.X) > 1e-9 {
		t.Errorf("code %v, want a square of %v on x 0", box, side)
	}
	if dots := r.Code.Module * 600 / 25.4; math.Abs(dots-math.Round(dots)) > 1e-9 {
		t.Errorf("a module is %v dots", dots)
	}
	quiet := box.Inset(-float64(r.Code.Quiet) * r.Code.Module)
	draw.Walk(r.Pieces[0].Drawing.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		if g, ok := o.(*draw.Glyphs); ok {
			for _, one := range g.Run {
				if b := draw.GlyphPath(g.Face, one.ID).Transform(one.At.Then(at)).Bounds(); b != (geom.Rect{}) && b.Overlaps(quiet) {
					t.Errorf("%q stands in the quiet zone", g.Text)
				}
			}
		}
	})
}

func TestThinBodies(t *testing.T) {
	r := lay(t, spec(t, full, 8, 8, 40))
	if r.CodeOn || r.Turn != label.Lengthwise {
		t.Errorf("8 mm: code %v, turn %v", r.CodeOn, r.Turn)
	}
	if len(r.Notices) == 0 || r.Notices[0].Code != "code-on-card" || !strings.Contains(r.Notices[0].Text, "card") {
		t.Errorf("the output does not say where the code went: %v", r.Notices)
	}
	if !strings.Contains(texts(r), "9KYA3C") {
		t.Error("the id is not on the float")
	}
	if r = lay(t, spec(t, least, 16, 14, 14)); r.Turn != label.Round {
		t.Error("a 16 mm body has room for words round it")
	}
	if _, err := Lay(spec(t, least, 1.6, 1.6, 30)); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("1.6 mm: %v, want NoFit", err)
	}
	if _, err := Lay(spec(t, least, 14, 14, 4)); fault.ClassOf(err) != fault.NoFit {
		t.Errorf("4 mm high: %v, want NoFit", err)
	}
}

// The least important line goes first, and the piece says which.
func TestDropsTheLeastImportantLine(t *testing.T) {
	lines := spec(t, full, 16, 14, 26).Mark.Lines
	kept, gone := dropLeast(lines, 1)
	if len(gone) != 1 || gone[0].Role != label.RoleBuiltIn || len(kept) != len(lines)-1 {
		t.Errorf("dropped %v", gone)
	}
	if _, gone = dropLeast(lines, 9); len(gone) != 3 {
		t.Errorf("dropped %v; rating, add and id must stay", gone)
	}
}

// The rating in the band is a hole in its path: by area, the band lacks the
// letters.
func TestBandIsKnockedOut(t *testing.T) {
	r := lay(t, spec(t, full, 16, 13.4, 26))
	var band *draw.Fill
	for _, o := range r.Pieces[0].Drawing.Layers[draw.Colour] {
		if f, ok := o.(*draw.Fill); ok && f.Ink != draw.Black {
			band = f
		}
	}
	if band == nil {
		t.Fatal("no band")
	}
	var ring geom.Path
	for i, s := range band.Path {
		if s.Verb == geom.Close {
			ring = band.Path[:i+1]
			break
		}
	}
	whole, knocked := math.Abs(ring.Area(0.01)), math.Abs(band.Path.Area(0.01))
	if knocked >= whole-1 {
		t.Errorf("band %v mm², knocked out %v mm²", whole, knocked)
	}
}

func TestSheetsCarryCheckLines(t *testing.T) {
	s := spec(t, full, 16, 13.4, 26)
	var pieces []nest.Piece
	for i := 0; i < 30; i++ {
		pieces = append(pieces, lay(t, s).Pieces[0].Piece)
	}
	sheets, _, err := Sheets(t.Context(), Order{Pieces: pieces, Stock: s.Film, Title: "Withy Sluice Floats · batch 26-11", Fonts: s.Fonts, Words: s.Words, Quick: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) < 2 {
		t.Errorf("%d sheets for 30 pieces", len(sheets))
	}
	printable := geom.XYWH(0, 0, s.Film.Size.W, s.Film.Size.H).Inset(s.Film.Margin)
	for _, one := range sheets {
		sh := one.Sheet
		if b := sh.Bounds(draw.Layers()...); !printable.Contains(b) {
			t.Errorf("%s: ink %v leaves the printable %v", sh.Name, b, printable)
		}
		across := 0
		for _, o := range sh.Layers[draw.Guide] {
			if f, ok := o.(*draw.Fill); ok && math.Abs(f.Path.Bounds().W()-shortLine) < 1e-9 {
				across++
			}
		}
		if across != 1 {
			t.Errorf("%s has %d check lines", sh.Name, across)
		}
	}
}

// Ink is transparent: on clear film over dark paint a mark cannot be read, and
// the code is left to the card.
func TestClearFilmOverDarkPaintIsTold(t *testing.T) {
	s := spec(t, full, 16, 13.4, 28)
	s.Film, _ = stock.ByKey("a4-film-clear")
	s.Pattern.Ground = label.Colour{R: 0x26, G: 0x26, B: 0x2b}
	r := lay(t, s)
	told := map[string]bool{}
	for _, n := range r.Notices {
		told[n.Code] = true
	}
	if !told["contrast"] || !told["code-on-card"] || r.CodeOn {
		t.Errorf("notices %v, code on the float %v", r.Notices, r.CodeOn)
	}
	s.Pattern.Ground = label.Colour{R: 0xf4, G: 0xee, B: 0xe0}
	if r = lay(t, s); !r.CodeOn || len(r.Notices) > 0 {
		t.Errorf("over a pale ring: %v, code %v", r.Notices, r.CodeOn)
	}
}

// A mark of one line, and one without an id, are laid out like any other.
func TestMarksOfFewLines(t *testing.T) {
	for _, style := range []string{least, full} {
		s := spec(t, style, 16, 13.4, 26)
		s.Mark.Lines, s.Mark.ID, s.Mark.Code = s.Mark.Lines[:1], "", ""
		r := lay(t, s)
		if len(r.Printed) != 1 || !strings.Contains(texts(r), "8 g") || strings.Contains(r.Pieces[0].Drawing.Dump(), "·  ·") {
			t.Errorf("style %v: %q", style, texts(r))
		}
	}
	s := spec(t, least, 14, 12, 14)
	s.Mark.Lines = nil
	if _, err := Lay(s); fault.ClassOf(err) != fault.Ours || err == nil {
		t.Errorf("no words: %v", err)
	}
}

func TestPaleBandIsTold(t *testing.T) {
	s := spec(t, full, 16, 13.4, 26)
	s.Mark.Band = label.Colour{R: 0xf4, G: 0xd0, B: 0x60}
	if r := lay(t, s); len(r.Notices) != 1 || r.Notices[0].Code != "band" {
		t.Errorf("notices %v", r.Notices)
	}
}

// A maker with a long name still gets his sheet, with the words on how to print.
func TestLongNamesLeaveTheMargin(t *testing.T) {
	s := spec(t, least, 14, 12, 14)
	sheets, _, err := Sheets(t.Context(), Order{Pieces: []nest.Piece{lay(t, s).Pieces[0].Piece}, Stock: s.Film,
		Title: strings.Repeat("Withy Sluice Floats ", 8), Fonts: s.Fonts, Words: s.Words}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := sheets[0].Sheet.Dump(); !strings.Contains(d, s.Words.ActualSize) || strings.Contains(d, "Withy Sluice Floats Withy") {
		t.Error("the margin does not say how to print, or still holds the long name")
	}
}

func BenchmarkLayFull(b *testing.B) {
	s := spec(b, full, 16, 13.4, 26)
	for b.Loop() {
		if _, err := Lay(s); err != nil {
			b.Fatal(err)
		}
	}
}
