package typeset

import (
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/text/unicode/norm"

	"floatmark/fonts"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/loading/fault"
)

// said is what the ops of a line say, and drawn whether each glyph that is no
// space has an outline.
func said(l Line) (words string, drawn bool) {
	drawn = true
	for _, o := range l.Straight(geom.Identity, Left, draw.Black) {
		g := o.(*draw.Glyphs)
		words += g.Text
		for i, r := range []rune(g.Text) {
			if g.Run[i].ID == 0 || r != ' ' && len(g.Face.Outline(g.Run[i].ID)) == 0 {
				drawn = false
			}
		}
	}
	return words, drawn
}

// Every letter and sign that a mark may need has a glyph in one of the two
// faces, is drawn and is kept in the words, in both weights; written in Unicode's
// form D, with accents apart, it is set alike.
func TestEveryLetterIsSet(t *testing.T) {
	s := set(t)
	for name, text := range map[string]string{
		"fractions":  "½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ ⅓ ⅔ 1/8 3/16 1⁄8 3⁄16",
		"signs":      "× ± − + = ≈ ≤ ≥ ø ° → · – — … € £ № & @ # % ‰ µ “a” ‘b’ «c» „d“",
		"decimals":   "12,5 g 0.40 g 1’000",
		"Polish":     "Zażółć gęślą jaźń ĄĆĘŁŃÓŚŹŻ",
		"Czech":      "Příliš žluťoučký kůň úpěl ďábelské ódy ĎŤŇŮŘ",
		"Turkish":    "Pijamalı hasta yağız şoföre çabucak güvendi İĞŞÇÖÜ",
		"Vietnamese": "Phao câu cá Tiếng Việt ăâđêôơư ẮẰẲẴẶ ấầẩẫậ Ệ Ộ Ợ Ự Ỵ ỹ",
		"Romanian":   "șțăâî ȘȚĂÂÎ", "Hungarian": "árvíztűrő tükörfúrógép ŐŰ",
		"Nordic": "Åæøð þÞ Ä Ö", "Baltic": "āčēģīķļņšūž ėįųąę", "German": "Füße Größe ẞ", "French": "Œuvre naïve façade ÿ Ÿ", "Spanish": "¿Señor? ¡Ñ!",
		"Greek":      "Ξεσκεπάζω την ψυχοφθόρα βδελυγμία ΆΈΉΊΌΎΏ ΐΰϊϋΪΫ ς",
		"polytonic":  "ἀρχῇ ᾧ ὕδωρ",
		"Russian":    "Съешь ещё этих мягких французских булок ЁЙЪ",
		"Ukrainian":  "Київ ґанок їжак єдність ҐЇЄ",
		"Serbian":    "Ђурђевак љубичица ћуприја њива џеп ЂЉЋЊЏ",
		"Macedonian": "ѓорѓи ќе ѕид ѝ", "Belarusian": "ўсё Ў",
	} {
		for _, f := range []Font{Bold(s, 2), Regular(s, 2)} {
			l, err := Shape(text, f)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if words, drawn := said(l); words != text || l.Text != text || !drawn {
				t.Errorf("%s: %q became %q, all drawn: %v", name, text, words, drawn)
			}
			apart, err := Shape(norm.NFD.String(text), f)
			if words, _ := said(apart); err != nil || words != text || apart.Width != l.Width {
				t.Errorf("%s: with accents apart %q, %v mm for %v, %v", name, words, apart.Width, l.Width, err)
			}
		}
	}
}

func TestTextRefused(t *testing.T) {
	for _, c := range [][2]string{
		{"x\u0301", "U+0301 on x of \"x\u0301\" makes no letter"},
		{"\u0301a", "U+0301 of"},
		{"a\u0301\u0323\u0489", "no composed form"},
		{"אב", "right to left"},
		{"مرحبا", "right to left"},
		{"a\xffb", "not UTF-8"},
		{"8\n9", "U+000A"},
	} {
		_, err := Shape(c[0], Bold(set(t), 2))
		if err == nil || fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%q: %v, want an input error with %q", c[0], err, c[1])
		} else if fault.List(err)[0].Do == "" {
			t.Errorf("%q: no word on what to do", c[0])
		}
	}
}

// A face without the hyphen of U+2010, which is told from the minus sign, gets
// one that reads alike; what it has stays; the words say what is drawn.
func TestStandIns(t *testing.T) {
	face, err := fonts.Parse("Plain", gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := face.Glyph('\u2010'); ok {
		t.Fatal("the face has U+2010: the test needs one without")
	}
	l, err := Shape("3⁄16 −0.2 a‐b‑c\u00a0d", Font{Face: face, Cap: 2})
	if err != nil {
		t.Fatal(err)
	}
	if words, drawn := said(l); words != "3⁄16 −0.2 a-b-c d" || !drawn {
		t.Errorf("the line says %q", words)
	}
	for r, s := range standIn { // none stands for itself, and no two for each other
		if _, again := standIn[s]; again {
			t.Errorf("U+%04X stands for U+%04X and has a stand-in itself", s, r)
		}
	}
}

func FuzzShape(f *testing.F) {
	f.Add("Za\u0328b 1⁄8")
	f.Add("\u0301\u00a0水")
	s := set(f)
	f.Fuzz(func(t *testing.T, text string) {
		l, err := Shape(text, Bold(s, 2))
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatalf("%q: %v is not the user's to mend", text, err)
			}
			return
		}
		if words, _ := said(l); len([]rune(words)) != len([]rune(l.Text)) || l.Width < 0 {
			t.Fatalf("%q says %q, %v mm wide", text, words, l.Width)
		}
	})
}
