package testsheet

import (
	"strings"
	"testing"

	"floatmark/label/words"
	"floatmark/layouts/draw"
	"floatmark/layouts/geom"
	"floatmark/layouts/stock"
)

// What the built-in stocks are called is there in every language.
func TestStocksHaveNames(t *testing.T) {
	for _, tag := range words.Tags()[1:] {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range stock.Stocks() {
			if !s.Sheetless() && w.Name(s.Name) == s.Name {
				t.Errorf("%s: %q is English", tag, s.Name)
			}
		}
	}
}

// In every language the sheets lie wherever they do in English, with nothing off
// the sheet, and what is typed stays English.
func TestEveryLanguageFits(t *testing.T) {
	sheets := []struct {
		name, says string
		stocks     []string
		lay        func(Spec) ([]*draw.Sheet, error)
	}{
		{"stretch", "floatmark testsheet stretch", []string{"a5-film-white", "a4-tissue", "a5-rub-on", "a5-skin-transfer", "a5-sticker"}, Stretch},
		{"ruler", "margin=__", []string{"a5-paper", "a4-paper"}, Ruler},
		{"gain", "gain=__", []string{"a5-paper", "a4-film-white"}, Gain},
		{"duplex", "top=0.5right", []string{"a5-paper", "a4-card"}, Duplex},
		{"codes", "--reads", []string{"a4-paper"}, CodeSize},
		{"proof", "floatmark testsheet ruler", []string{"a6-film-white", "a4-rub-on"}, func(s Spec) ([]*draw.Sheet, error) { return Proof(s, nil) }},
	}
	for _, tag := range words.Tags() {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range sheets {
			for _, key := range c.stocks {
				s := spec(t, key)
				s.Words = w
				all, err := c.lay(s)
				if err != nil {
					t.Errorf("%s: %s on %s: %v", tag, c.name, key, err)
					continue
				}
				if c.name == "proof" {
					one, whole, err := s.proof(&draw.Sheet{Size: s.Stock.Size}, proofWordsOf(t, s))
					if err != nil || !whole {
						t.Errorf("%s: proof on %s leaves something out: %v", tag, key, err)
						continue
					}
					all = append(all, one)
				}
				said := ""
				for _, sheet := range all {
					draw.Walk(sheet.Layers[draw.Guide], func(o draw.Op, at geom.Affine, _ bool) {
						g, ok := o.(*draw.Glyphs)
						if !ok {
							return
						}
						said += g.Text + " "
						if b := draw.Bounds([]draw.Op{&draw.Group{At: at, Ops: []draw.Op{g}}}); !geom.XYWH(0, 0, sheet.Size.W, sheet.Size.H).Contains(b) {
							t.Errorf("%s: %s on %s: %q lies at %v", tag, c.name, key, g.Text, b)
						}
					})
				}
				if !strings.Contains(said, c.says) {
					t.Errorf("%s: %s on %s does not say %q", tag, c.name, key, c.says)
				}
			}
		}
	}
}

func proofWordsOf(t *testing.T, s Spec) []block {
	t.Helper()
	b, err := s.proofWords()
	if err != nil {
		t.Fatal(err)
	}
	return b
}
