package jobsheet

import (
	"reflect"
	"testing"

	"floatmark/label/words"
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
			for i := range s.Rows {
				s.Rows[i].Code = []string{w.CodeOnCard, w.CodeOnFloat}[i%2]
				s.Rows[i].Where = "118.5 mm " + w.FromBase + "; " + w.UpperEdge + " 60 mm " + w.FromTip
				s.Rows[i].Note = []string{w.About, w.Regraded, w.MeasuredSum, w.MarkReady}[i%4]
				s.Rows[i].Printed = []string{"12.5 g", w.Add + " " + w.About + " 0.85 g", "2 SSG + 1 AAA + 1 No.10", w.Name("stainless steel") + ", " + w.Sea, w.BuiltIn + " 11.65 g"}
			}
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
