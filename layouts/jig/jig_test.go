package jig

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/fonts"
	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/draw/golden"
	"floatmark/layouts/geom"
	"floatmark/layouts/png"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
	"floatmark/loading/fault"
)

func spec(t *testing.T, floats ...int) Spec {
	t.Helper()
	f, err := fonts.Default()
	if err != nil {
		t.Fatal(err)
	}
	w, err := words.For("en")
	if err != nil {
		t.Fatal(err)
	}
	paper, ok := stock.ByKey("a4-paper")
	if !ok {
		t.Fatal("no A4 paper")
	}
	s := Spec{Stock: paper, Printer: stock.Plain(), Title: "Withy Sluice Floats · batch 26-11", Fonts: f, Words: w}
	for i, n := range floats {
		s.Pieces = append(s.Pieces, piece(t, f, fmt.Sprintf("pattern %d · lower edge 30 mm from base", i+1), 44-8*float64(i), n))
	}
	return s
}

// piece is a mark on an outline with a bowed base edge, with a ring, two lines
// of words, a code and a caption.
func piece(t *testing.T, f fonts.Set, title string, wide float64, floats int) Piece {
	t.Helper()
	var o geom.Path
	o.MoveTo(geom.Point{X: -wide / 2, Y: -22})
	o.LineTo(geom.Point{X: wide / 2, Y: -22})
	o.LineTo(geom.Point{X: wide/2 + 2, Y: 0})
	o.CubicTo(geom.Point{X: wide / 6, Y: 3}, geom.Point{X: -wide / 6, Y: 3}, geom.Point{X: -wide/2 - 2, Y: 0})
	o.Close()
	d := &draw.Sheet{Name: "float 1"}
	d.Add(draw.Colour, &draw.Fill{Path: geom.Rectangle(geom.XYWH(-wide/2, -20, wide, 1.1)), Ink: draw.Black})
	d.Add(draw.Colour, &draw.Group{Name: "code", Rigid: true, At: geom.Translate(0, -17), Ops: []draw.Op{&draw.Fill{Path: geom.Rectangle(geom.XYWH(0, 0, 9, 9))}}})
	set := func(l draw.Layer, text string, x, y float64) {
		line, err := typeset.Shape(text, typeset.Bold(f, 3))
		if err != nil {
			t.Fatal(err)
		}
		d.Add(l, line.Straight(geom.Translate(x, y), typeset.Left, draw.Black)...)
	}
	set(draw.Colour, "8 g", -wide/2+2, -12)
	set(draw.Colour, "add 0.8", -wide/2+2, -6)
	set(draw.Guide, "caption", 0, 6)
	p := Piece{Title: title, Outline: o, Drawing: d}
	for n := range floats {
		p.Lines = append(p.Lines, fmt.Sprintf("%d: %.1f g · add 0.8 g · 9KYA%02d", n+1, 7.5+0.1*float64(n%9), n))
	}
	return p
}

// lay lays out and checks what holds for every sheet: nothing leaves what the
// printer can print, words lie apart, and two check lines.
func lay(t *testing.T, s Spec) []*draw.Sheet {
	t.Helper()
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	for i, sh := range sheets {
		if b := sh.Bounds(draw.Layers()...); !geom.XYWH(0, 0, sh.Size.W, sh.Size.H).Inset(s.Stock.Margin).Contains(b) {
			t.Errorf("%s: ink in %v leaves what can be printed", sh.Name, b)
		}
		var boxes []geom.Rect
		var names []string
		checks := 0
		draw.Walk(sh.Layers[draw.Guide], func(o draw.Op, at geom.Affine, _ bool) {
			b := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{o}}})
			if g, ok := o.(*draw.Glyphs); ok {
				boxes, names = append(boxes, b), append(names, g.Text)
			} else if math.Abs(max(b.W(), b.H())-stock.CheckLength) < 1e-9 {
				checks++
			}
		})
		for _, o := range sh.Layers[draw.Cut] {
			boxes, names = append(boxes, draw.Bounds([]draw.Op{o})), append(names, "a jig")
		}
		for a := range boxes {
			for b := range boxes[:a] {
				if boxes[a].Inset(1e-6).Overlaps(boxes[b]) {
					t.Errorf("%s: %q %v meets %q %v", sh.Name, names[a], boxes[a], names[b], boxes[b])
				}
			}
		}
		if checks != 2 {
			t.Errorf("%s has %d check lines", sh.Name, checks)
		}
		if dir := os.Getenv("LOOK"); dir != "" {
			var b bytes.Buffer
			if err := png.Write(&b, sh, 110); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d.png", strings.ReplaceAll(t.Name(), "/", "-"), i+1)), b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return sheets
}

// texts counts each text on the sheets.
func texts(sheets []*draw.Sheet) map[string]int {
	all := map[string]int{}
	for _, s := range sheets {
		for _, l := range draw.Layers() {
			draw.Walk(s.Layers[l], func(o draw.Op, _ geom.Affine, _ bool) {
				if g, ok := o.(*draw.Glyphs); ok {
					all[g.Text]++
				}
			})
		}
	}
	return all
}

func TestGolden(t *testing.T) {
	var b strings.Builder
	for _, s := range lay(t, spec(t, 12, 5, 3)) {
		b.WriteString(s.Dump())
	}
	golden.Check(t, "three.txt", b.String(), os.ReadFile, os.WriteFile)
}

// Every float's words stand there once, however many there are; long ones break.
func TestEveryFloatIsThere(t *testing.T) {
	for _, n := range []int{0, 1, 12, 60, 400} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			s := spec(t, n, 2)
			sheets := lay(t, s)
			got := texts(sheets)
			for _, p := range s.Pieces {
				for _, l := range p.Lines {
					want := 1
					for _, q := range s.Pieces {
						for _, m := range q.Lines {
							if m == l && &q.Lines[0] != &p.Lines[0] {
								want++
							}
						}
					}
					if got[l] != want {
						t.Fatalf("%q stands there %d times, want %d", l, got[l], want)
					}
				}
			}
			if n <= 12 && len(sheets) != 1 {
				t.Errorf("two small jigs take %d sheets", len(sheets))
			}
		})
	}
	s := spec(t, 1)
	s.Pieces[0].Lines = []string{"7: " + strings.Repeat("8 g · add 0.8 g · 1 AAA · ", 6) + "9KYA3C"}
	lay(t, s)
}

// The jig is life size after a printer with an error of scale, drawn in thin
// lines only, without the caption and without the code, and says so.
func TestJigIsLifeSizeAndThin(t *testing.T) {
	s := spec(t, 3)
	s.Printer = stock.Printer{Name: "office", DPI: 600, ScaleX: 1.006, ScaleY: 0.994}
	sheets, err := Lay(s)
	if err != nil {
		t.Fatal(err)
	}
	sh := sheets[0]
	want := s.Pieces[0].Outline.Bounds()
	got := sh.Bounds(draw.Cut)
	if math.Abs(got.W()*1.006-want.W()) > 1e-9 || math.Abs(got.H()*0.994-want.H()) > 1e-9 {
		t.Errorf("the jig is drawn %v by %v, want %v by %v when printed", got.W(), got.H(), want.W(), want.H())
	}
	lines := 0
	draw.Walk(sh.Layers[draw.Colour], func(o draw.Op, at geom.Affine, rigid bool) {
		st, ok := o.(*draw.Stroke)
		if !ok || st.Width > lineWidth || rigid {
			t.Errorf("%T in the jig is no thin line", o)
			return
		}
		lines++
		if b := st.Path.Transform(at).Bounds(); !got.Contains(b) {
			t.Errorf("a line at %v leaves the jig %v", b, got)
		}
	})
	if lines != 9 {
		t.Errorf("%d lines, want 9: a ring and 8 letters", lines)
	}
	all := texts([]*draw.Sheet{sh})
	if all["caption"] != 0 || all["8 g"] != 0 || all[s.Words.ThisEdgeDown] != 1 {
		t.Errorf("texts %v", all)
	}
	joined := ""
	for text := range all {
		joined += text + "|"
	}
	if !strings.Contains(joined, "on the card") || !strings.Contains(joined, "wrap round") {
		t.Errorf("it does not say how to use it, or where the code is: %s", joined)
	}
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Spec)
		class  fault.Class
	}{
		"film":       {func(s *Spec) { s.Stock, _ = stock.ByKey("a4-film-white") }, fault.Input},
		"by hand":    {func(s *Spec) { s.Stock, _ = stock.ByKey("by-hand") }, fault.Input},
		"printer":    {func(s *Spec) { s.Printer.ScaleX = 2 }, fault.Input},
		"too large":  {func(s *Spec) { s.Pieces[0].Outline = geom.Rectangle(geom.XYWH(0, 0, 400, 20)) }, fault.NoFit},
		"no outline": {func(s *Spec) { s.Pieces[0].Outline = nil }, fault.Ours},
		"no drawing": {func(s *Spec) { s.Pieces[0].Drawing = nil }, fault.Ours},
		"long word":  {func(s *Spec) { s.Pieces[0].Lines = []string{strings.Repeat("g", 200)} }, fault.NoFit},
		"no glyph":   {func(s *Spec) { s.Pieces[0].Lines = []string{"\U0001F41F"} }, fault.Input},
	} {
		s := spec(t, 2)
		c.change(&s)
		if _, err := Lay(s); err == nil || fault.ClassOf(err) != c.class {
			t.Errorf("%s: %v, want class %v", name, err, c.class)
		}
	}
}
