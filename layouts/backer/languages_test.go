package backer

import (
	"os"
	"testing"

	"floatmark/label"
	"floatmark/label/words"
)

// inWords is a card with everything on it, in the words of a language.
func inWords(t *testing.T, w words.Words, kind, weight string) label.Card {
	t.Helper()
	c := sedge(t)
	price, err := w.Price("1234.50", "GBP")
	if err != nil {
		t.Fatal(err)
	}
	c.Kind, c.Length, c.Diameter = kind, "174 mm "+w.Long, w.Millimetre(15.5, 0.5)+" "+w.Body
	c.Rating, c.BuiltIn, c.Add = w.About+" "+w.Gram(10.25, 0.01), w.Gram(9.38, 0.01), w.About+" "+w.Gram(0.87, 0.01)
	c.Water = w.Sea
	c.Rows = []label.Row{
		{Convention: w.Name("British present-day") + ", " + w.Name("tin"), Shot: "1 AAA + 1 No.13", Gram: w.Gram(0.87, 0.01), Tip: w.Tip + " " + w.Millimetre(2.5, 0.5) + " " + w.High},
		{Convention: w.Name("British traditional") + ", " + w.Name("hard lead"), Shot: "1 BB + 2 No.4", Gram: w.Gram(0.82, 0.01), Note: "±" + w.Gram(0.005, 0.001) + " " + w.ByRounding},
		{Convention: w.Name("Japanese gan-dama, jintan and go") + ", " + w.Name("lead"), Shot: "1 B + 1 G2", Gram: w.Gram(0.82, 0.01), Note: w.WeighBeforeUse},
	}
	c.Price, c.Rings = price, label.RingsText(0.5, w)
	c.Cautions = []string{weight, w.Toy + " · " + w.SmallParts, w.Children}
	if kind == w.Exchangeable {
		c.Rows = nil
		c.Setups = []label.SetupRow{{Name: w.Millimetre(0.5, 0.1), Rating: w.Gram(10, 0.1), BuiltIn: w.Gram(9.4, 0.1), Add: w.Gram(0.6, 0.1)},
			{Name: w.Millimetre(1, 0.1), Rating: w.Gram(10.4, 0.1), BuiltIn: w.Gram(9.4, 0.1), Add: w.NothingToAdd}}
	}
	return c
}

// The fullest cards fit in every language, and nothing on them meets.
func TestEveryLanguageFits(t *testing.T) {
	for _, tag := range words.Tags() {
		w, err := words.For(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, kind := range []string{w.Loaded, w.SelfCocking, w.Exchangeable} {
			for metal, lead := range map[string]string{"hard lead": w.ContainsLead + ", " + w.WashHands, "stainless steel": w.NoLead} {
				s := spec(t, inWords(t, w, kind, w.BuiltInWeight+w.Colon+w.Name(metal)+", "+lead))
				s.Words = w
				if err := sound(s); err != nil {
					t.Errorf("%s, %s, %s: %v", tag, s.Card.Kind, metal, err)
				}
				if os.Getenv("LOOK") == "" {
					continue
				}
				if laid, err := Lay(s); err == nil {
					picture(t, tag+"-"+s.Card.Kind+"-"+metal, laid.Front)
				}
			}
		}
	}
}
