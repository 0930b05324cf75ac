package typeset

import (
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"floatmark/fonts"
	"floatmark/loading/fault"
)

// alike are characters set as another: they differ in where a line may break,
// and a mark has no breaks.
var alike = map[rune]rune{'\u00a0': ' ', '\u202f': ' ', '\u2011': '-'}

// standIn are characters that another may stand for when no face has them.
var standIn = map[rune]rune{
	'\u2044': '/',      // the fraction slash of 3⁄16
	'\u2212': '\u2013', // minus, by the dash of its width
	'\u2010': '-',
}

// leftwards are the scripts that run from right to left and join their letters.
// A face may have their glyphs; set in a row from the left they spell nothing.
var leftwards = []*unicode.RangeTable{unicode.Arabic, unicode.Hebrew, unicode.Syriac, unicode.Thaana, unicode.Nko}

// Compose returns text with letters and their accents, written as one sign each
// or apart, as one letter each (Unicode's form C), so that both spellings of a
// name are set, searched and kept alike.
//
// Text that a row of glyphs from the left does not spell is an Input error, since
// a wrong letter on a float cannot be mended: an accent on a letter that Unicode
// does not compose with it, a script that runs from right to left, and what is
// not UTF-8.
func Compose(text string) (string, error) {
	if !utf8.ValidString(text) {
		return "", fault.Inputf("save the text as UTF-8", "the text %q is not UTF-8", text)
	}
	text = norm.NFC.String(text)
	var before rune
	for _, r := range text {
		if err := settable(before, r, text); err != nil {
			return "", err
		}
		before = r
	}
	return text, nil
}

// Shape sets text in one line with the face's kerning, composed first. Its Input
// errors are those of Compose, and a rune that neither face has, which is named.
func Shape(text string, f Font) (Line, error) {
	text, err := Compose(text)
	if err != nil {
		return Line{}, err
	}
	line := Line{Text: text, Cap: f.Cap}
	x := 0.0
	var prev *glyph
	for _, r := range text {
		g, ok := f.glyph(r)
		if !ok {
			return Line{}, fault.Inputf("leave the character out or give a face that has it",
				"no face has %q (U+%04X) of %q", r, r, text)
		}
		if prev != nil && prev.face == g.face {
			x += g.em * g.face.Kern(prev.id, g.id)
		}
		g.x, g.advance = x, float64(g.em*g.face.Advance(g.id))
		x += g.advance + f.Track
		line.glyphs = append(line.glyphs, g)
		prev = &line.glyphs[len(line.glyphs)-1]
	}
	if prev != nil {
		x -= f.Track
	}
	line.Width = x
	return line, nil
}

// settable refuses a rune that does not stand for itself; before is the one that
// it follows, 0 for none.
func settable(before, r rune, text string) error {
	switch {
	case unicode.Is(unicode.M, r):
		letter := ""
		if before != 0 {
			letter = " on " + string(before)
		}
		return fault.Inputf("write the letter without it, or another way",
			"the accent U+%04X%s of %q makes no letter that a face could have: there is no composed form", r, letter, text)
	case unicode.In(r, leftwards...):
		return fault.Inputf("write it in letters that run from the left",
			"%q (U+%04X) of %q runs from right to left, which is not set here", r, r, text)
	}
	return nil
}

// glyph finds the glyph of a rune in the first face that has it, or else that of
// its stand-in.
func (f Font) glyph(r rune) (glyph, bool) {
	if a, ok := alike[r]; ok {
		r = a
	}
	for {
		for _, face := range []*fonts.Face{f.Face, f.Fallback} {
			if face == nil {
				continue
			}
			if id, ok := face.Glyph(r); ok {
				return glyph{face: face, id: id, em: f.Cap / face.CapHeight(), r: r}, true
			}
		}
		next, ok := standIn[r]
		if !ok {
			return glyph{}, false
		}
		r = next
	}
}
