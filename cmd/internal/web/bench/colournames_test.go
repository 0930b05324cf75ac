package bench

import (
	"strings"
	"testing"

	"floatmark/label"
)

// Colours are typed by name in each language of the pages, and kept as six digits.
func TestColourNames(t *testing.T) {
	for typed, want := range map[string]string{"Olive": "#808000", " crème ": "#fffdd0", "Weiß": "#ffffff", "weiss": "#ffffff", "zolty": "#ffff00", "żółty": "#ffff00",
		"rosso": "#ff0000", "Dark Red": "#8b0000", "gray": "#808080", "#C8402F": "#C8402F", "C8402F": "#c8402f", "#fff": "#ffffff", "#c8402f": "#c8402f",
		"": "", "as bought": "as bought", "#12345": "#12345"} {
		if got := colourTyped(typed); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
	seen := map[string]bool{}
	for line := range strings.Lines(strings.TrimSpace(colourNames)) {
		names := strings.Fields(line)
		if c, err := label.ParseColour(names[0]); err != nil || c.String() != names[0] || len(names) < 2 {
			t.Errorf("%q: %v", line, err)
		}
		for _, n := range names[1:] {
			if n = plainLetters.Replace(n); seen[n] && n != "creme" { // with its accent it is said in two languages
				t.Errorf("%s is two colours", n)
			}
			seen[n] = true
		}
	}
}

func TestColoursTypedOnPages(t *testing.T) {
	a := demo(t)
	load := a.draft().Doc.Text("rating/0/load")
	a.post(303, "floats/ratings", "rating.0.load", load, "rating.0.price", "", "rating.0.band", "niebieski")
	a.post(303, "cards", "card/ground", "cream", "card/ink", "#333", "card/accent", "")
	d := a.draft()
	if d.Err != nil || d.Doc.Text("rating/0/band") != "#0000ff" || d.Doc.Text("card/ground") != "#fffdd0" || d.Doc.Text("card/ink") != "#333333" {
		t.Errorf("%v %q %q", d.Err, d.Doc.Text("rating/0/band"), d.Doc.Text("card/ground"))
	}
	a.post(303, "patterns/0", "body", "olive", "tip", "rouge")
	if d := a.draft().Doc; d.Text("pattern/0/body") != "#808000" || d.Text("pattern/0/tip") != "#ff0000" {
		t.Errorf("%q %q", d.Text("pattern/0/body"), d.Text("pattern/0/tip"))
	}
	for path, of := range map[string]string{"floats": "rating.0.band", "cards": "card/ground"} {
		if p := a.page(path); !strings.Contains(p, `data-colour="`+of+`"`) {
			t.Errorf("%s: no picker beside %s", path, of)
		}
	}
	a.post(303, "floats/ratings", "rating.0.load", load, "rating.0.price", "", "rating.0.band", "mud")
	if p := text(a.page("floats")); !strings.Contains(p, `"mud" is no colour`) || !strings.Contains(p, "such as red or olive") {
		t.Errorf("%s", p)
	}
}
