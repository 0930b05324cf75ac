package jobsheet

import (
	"reflect"
	"testing"

	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
	"floatmark/layouts/typeset"
)

// Every letter of every phrase has a glyph in the built-in faces, ł, ß and ê too,
// and so have prices with thousands.
func TestEveryLetterHasAGlyph(t *testing.T) {
	f := batch(t, 1).Fonts
	shaped := 0
	shape := func(tag, text string) {
		for _, font := range []typeset.Font{typeset.Regular(f, 2), typeset.Bold(f, 2)} {
			if l, err := typeset.Shape(text, font); err != nil || l.Width <= 0 {
				t.Errorf("%s: %q: width %v, %v", tag, text, l.Width, err)
			}
			shaped++
		}
	}
	for _, tag := range words.Tags() {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		var walk func(v reflect.Value)
		walk = func(v reflect.Value) {
			switch v.Kind() {
			case reflect.String:
				shape(tag, v.String())
			case reflect.Struct:
				for i := range v.NumField() {
					walk(v.Field(i))
				}
			case reflect.Slice:
				for i := range v.Len() {
					walk(v.Index(i))
				}
			case reflect.Map:
				for _, k := range v.MapKeys() {
					walk(v.MapIndex(k))
				}
			}
		}
		walk(reflect.ValueOf(w))
		for _, code := range []string{"GBP", "EUR", "PLN", "CHF", "USD", "CZK"} {
			price, err := w.Price("12345.50", code)
			if err != nil {
				t.Fatal(err)
			}
			shape(tag, price)
		}
	}
	if shaped < 2*5*200 {
		t.Errorf("only %d phrases were shaped", shaped)
	}
}

// The order of the day lies on the sheet in every language, for every medium,
// with long words in every column.
func TestEveryLanguageFits(t *testing.T) {
	for _, tag := range words.Tags() {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range []stock.Medium{stock.Waterslide, stock.Vinyl, stock.Tissue, stock.RubOn, stock.SkinTransfer, stock.ByHand} {
			s := batch(t, 8)
			s.Words, s.Steps, s.Rings = w, Steps(m, w), []Ring{ring(0)}
			b := words.BenchSheetFor(tag)
			for i := range s.Rows {
				r := &s.Rows[i]
				r.Code = []string{b.OnCard, w.CodeHeldSquare, b.ReadAnyhow}[i%3]
				r.Edges = []Edge{{"118.5 mm", w.FromBase}, {"60 mm", w.FromTip + ", " + w.UpperEdge}}
				r.Note = []string{w.About, w.Regraded, w.MeasuredSum, w.MarkReady}[i%4]
				r.Decals = [][]string{{"12 D6", "3 A2"}, {b.LiesReady}, {b.Jig}}[i%3]
				r.Trim = []string{"", words.Filled(b.TakeOff, "0.12 g"), words.Filled(b.FitMore, "0.05 g")}[i%3]
				r.Rating, r.Tank, r.U = "12.55 g", []string{"12.54 g", ""}[i%2], "0.02 g"
				r.Grounds = [][]Ground{{{"27.5–54.5 mm", draw.Ink{R: 240}}}, nil, {{"27.5–54.5 mm", draw.Ink{R: 240}}, {"118–142 mm", draw.Ink{R: 240}}}}[i%3]
			}
			s.Maps = []Map{{Title: words.Filled(b.Page, "12") + ", " + w.Sheet + " " + w.Number1 + " 128", Size: s.Stock.Size, Spent: []geom.Path{square(10, 10, 50, 20)},
				Pieces: []MapPiece{{square(60, 60, 40, 20), "12"}}}}
			s.GuideNotes = []string{b.AtSeam, words.Filled(b.FreeEdges, "0.5", "1 mm")}
			s.Guides = []Guide{{Title: "Sedge waggler", Where: w.LowerEdge + " 118.5 mm " + w.FromBase, Mark: square(0, 0, 40, 20), Cut: square(0, -0.75, 40, 21.5)}}
			sheets, err := Lay(s)
			if err != nil {
				t.Errorf("%s, %v: %v", tag, m, err)
				continue
			}
			if err := soundIn(w, sheets, 8); err != nil {
				t.Errorf("%s, %v: %v", tag, m, err)
			}
		}
	}
}

// square is a rectangle as a path.
func square(x, y, w, h float64) geom.Path { return geom.Rectangle(geom.XYWH(x, y, w, h)) }
