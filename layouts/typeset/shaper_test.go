package typeset

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/harfbuzz"

	"floatmark/fonts"
)

// lines are what is set on floats, cards and sheets, and what trips kerning.
var lines = strings.Split(`AVATAR|To Te Ty Ta|LT LY LV L’|WAVE|P. T. V. Y.|F, P, r, y,|"A" ‘A’|11 17 71 74 77 47|0123456789|12.5 g|12,5 g|+0.80 g
3×SSG 2×AAA|±0.05 g|−0.25 g|ø 8.0 mm|½ ¼ ¾ oz|1/8 oz|3/16 oz|AB/No 1|Withy Sluice Floats|WITHY SLUICE|Avon & Tay|floats of 7.2 g
fin office affix|Ząb Łódź Żółw|Příliš žluťoučký kůň|İstanbul ığdır|Tiếng Việt Đường|Åre Ærø Ørsted|Füße Öl Ärger|Ĝoja ŝaŭdo|Ţară ăâî|ÁVÁ TÝ VÝ
ΑΥΤΟ ΠΛΩΤΗΡΑΣ|Γα Τα Υα|Άνθρωπος Έλληνας|Ύδωρ ΐ ΰ|ΜΑΪΟΣ ΑΫΛΟΣ|Поплавок|ГРУЗ 8 г|Та Ту Ты|Р. Г, У.|Ёлка Йод|Київ Їжак|Ћуприја Ђак|Ѓорѓи Ќе|ўсё
No. 9KYA3C|HTTPS://F.EXAMPLE/9KYA3C|AV–AV—AV`, "|")

func texts() []string {
	var all []string
	for _, l := range lines {
		all = append(all, strings.Split(l, "\n")...)
	}
	return all
}

// Advances, kerning and places against an independent shaper, a port of
// HarfBuzz, on the same faces: glyph for glyph the same, every origin to 1/1000
// em. Left off there is what a mark has no use for: ligatures (fi as one glyph
// cannot be bent or searched letter by letter). Kerning is
// read from GPOS, and from the old kern table where a face has none.
func TestShapeAgainstHarfBuzz(t *testing.T) {
	all := texts()
	if len(all) < 50 {
		t.Fatalf("only %d lines", len(all))
	}
	s := set(t)
	for _, face := range []*fonts.Face{s.Bold, s.Regular, s.Fallback} {
		file, err := font.ParseTTF(bytes.NewReader(face.TTF()))
		if err != nil {
			t.Fatal(err)
		}
		other := harfbuzz.NewFont(file)
		em := float64(other.XScale)
		compared, kerned := 0, 0
		for _, text := range all {
			line, err := Shape(text, Font{Face: face, Cap: face.CapHeight()}) // 1 mm per em
			if err != nil {
				continue // the face lacks a letter: counted below
			}
			compared++
			b := harfbuzz.NewBuffer()
			b.AddRunes([]rune(line.Text), 0, -1)
			b.GuessSegmentProperties()
			off := func(tag string) harfbuzz.Feature {
				f, err := harfbuzz.ParseFeature("-" + tag)
				if err != nil {
					t.Fatal(err)
				}
				return f
			}
			b.Shape(other, []harfbuzz.Feature{off("liga"), off("clig")})
			if len(b.Info) != len(line.glyphs) {
				t.Errorf("%s, %q: %d glyphs, HarfBuzz %d", face.Name(), text, len(line.glyphs), len(b.Info))
				continue
			}
			x, plain := 0.0, 0.0
			for i, g := range line.glyphs {
				if uint32(g.id) != uint32(b.Info[i].Glyph) {
					t.Errorf("%s, %q: glyph %d is %d, HarfBuzz %d", face.Name(), text, i, g.id, b.Info[i].Glyph)
				}
				if math.Abs(g.x-x-float64(b.Pos[i].XOffset)/em) > 1e-3 {
					t.Errorf("%s, %q: %q stands at %.5f em, HarfBuzz %.5f", face.Name(), text, g.r, g.x, x)
					break
				}
				x += float64(b.Pos[i].XAdvance) / em
				plain += g.advance
			}
			if math.Abs(line.Width-x) > 1e-3 {
				t.Errorf("%s, %q: %.5f em wide, HarfBuzz %.5f", face.Name(), text, line.Width, x)
			}
			if math.Abs(plain-x) > 1e-3 {
				kerned++
			}
		}
		if compared < len(all)-3 || kerned < 10 {
			t.Errorf("%s: %d of %d lines compared, %d of them kerned", face.Name(), compared, len(all), kerned)
		}
		t.Logf("%s: %d of %d lines compared, %d of them kerned", face.Name(), compared, len(all), kerned)
	}
}
