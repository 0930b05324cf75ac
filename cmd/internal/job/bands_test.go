package job

import (
	"slices"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/label"
	"floatmark/layouts/palette"
	"floatmark/loading/unit"
)

func bandsPlan(t *testing.T, bands ...string) *Plan {
	t.Helper()
	b := &label.Batch{}
	for i, text := range bands {
		c, err := label.ParseColour(text)
		if err != nil {
			t.Fatal(err)
		}
		b.Ratings = append(b.Ratings, label.Rating{Nominal: unit.Gram(i) + 2.5, Band: c})
	}
	return &Plan{File: &batch.File{Batch: b}}
}

func TestBandNotices(t *testing.T) {
	const red, green, blue, grey = "#c0402f", "#7a6a08", "#103090", "#404040"
	const remedy = ": give one another colour, with band or [print] palette, or go by the rings, which need no colour"
	for _, c := range []struct {
		name  string
		bands []string
		want  []string
	}{
		{"far apart", []string{red, blue}, nil},
		{"red and green", []string{red, blue, green}, []string{
			"the bands of 2.5 g (#c0402f) and 4.5 g (#7a6a08) look alike to eyes that lack green (deutan, the commonest)" + remedy}},
		{"one colour twice", []string{blue, blue}, []string{
			"the bands of 2.5 g (#103090) and 3.5 g (#103090) look alike to everyone" + remedy}},
		{"none left", []string{blue, grey, grey}, []string{
			"the bands of 3.5 g, 4.5 g are the dark grey of bands without a colour: name more colours in [print] palette, or go by the rings, which need no colour"}},
		{"dark red and black", []string{"#6a1410", "#1c1c14"}, []string{
			"the bands of 2.5 g (#6a1410) and 3.5 g (#1c1c14) look alike to eyes that lack red (protan)" + remedy}},
	} {
		var got []string
		for _, n := range bandsPlan(t, c.bands...).bandNotices() {
			if n.Code != "band-alike" || n.Float != 0 {
				t.Errorf("%s: %+v", c.name, n)
			}
			got = append(got, n.Text)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What the palette gives by itself is never told of, up to its last colour.
func TestOwnBandsAreNotTold(t *testing.T) {
	var bands []string
	for _, c := range palette.Default() {
		bands = append(bands, c.Ink.String())
	}
	if got := bandsPlan(t, bands...).bandNotices(); len(got) > 0 {
		t.Errorf("%v", got)
	}
	if got := bandsPlan(t, append(bands, palette.Spare().String())...).bandNotices(); len(got) != 1 || !strings.HasPrefix(got[0].Text, "the bands of 10.5 g are the dark grey") {
		t.Errorf("one rating more: %v", got)
	}
}

func TestEveryEyeHasItsWords(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range palette.Sights() {
		seen[eyes(s)] = true
	}
	if len(seen) != len(palette.Sights()) {
		t.Errorf("%v", seen)
	}
}
