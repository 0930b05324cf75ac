package backer

import (
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/legible"
	"floatmark/loading/fault"
)

// grounded calls f for every glyph of a page with the ink of what lies under its
// middle: the last fill before it that covers the place, else white.
func grounded(s *draw.Sheet, f func(g *draw.Glyphs, under draw.Ink)) {
	type area struct {
		box geom.Rect
		ink draw.Ink
	}
	var fills []area
	for _, l := range draw.Layers() {
		draw.Walk(s.Layers[l], func(op draw.Op, at geom.Affine, rigid bool) {
			switch o := op.(type) {
			case *draw.Fill:
				if len(o.Path) <= 5 { // a rectangle: what words stand on
					fills = append(fills, area{o.Path.Transform(at).Bounds(), o.Ink})
				}
			case *draw.Glyphs:
				for _, one := range o.Run {
					outline := draw.GlyphPath(o.Face, one.ID)
					if len(outline) == 0 {
						continue // a blank
					}
					b := outline.Transform(one.At.Then(at)).Bounds()
					mid := b.Min.Add(b.Max).Scale(0.5)
					under := draw.White
					for _, a := range fills {
						if a.box.Min.X <= mid.X && mid.X <= a.box.Max.X && a.box.Min.Y <= mid.Y && mid.Y <= a.box.Max.Y {
							under = a.ink
						}
					}
					f(o, under)
				}
			}
		})
	}
}

// The contrast of every text against its ground is that of small print, WCAG 2,
// 4.5 to 1, in every arrangement, over accents from black to white and on tinted
// card.
func TestContrast(t *testing.T) {
	bands := []label.Colour{{}, {R: 255, G: 255, B: 255}, {R: 128, G: 128, B: 128}, {R: 118, G: 118, B: 118}, {R: 255, G: 221}, {B: 160}, {R: 200, G: 64, B: 47}, {R: 24, G: 96, B: 142}, {R: 150, G: 58}}
	papers := []*draw.Ink{nil, {R: 220, G: 232, B: 224}}
	seen := 0
	for name, s := range looks(t) {
		if strings.HasSuffix(name, "-long") {
			continue // more words, no other grounds
		}
		for _, band := range bands {
			for _, paper := range papers {
				s := s
				s.Card.Band, s.Style.Ground = band, paper
				laid, err := Lay(s)
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				for _, page := range laid.Single() {
					worst, text := 21.0, ""
					grounded(page, func(g *draw.Glyphs, under draw.Ink) {
						seen++
						if c := legible.Contrast(g.Ink, under); c < worst {
							worst, text = c, g.Text
						}
					})
					if worst < legible.TextContrast {
						t.Errorf("%s, band %v: %q has a contrast of %.2f", name, band, text, worst)
					}
				}
			}
		}
	}
	if seen < 10000 {
		t.Errorf("only %d letters were looked at", seen)
	}
}

// Words that could not be read on their ground are refused, with the figure.
func TestPaleInkRefused(t *testing.T) {
	s := spec(t, sedge(t))
	s.Style.Ink = &draw.Ink{R: 150, G: 150, B: 150}
	if _, err := Lay(s); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("grey on white was taken: %v", err)
	}
}
