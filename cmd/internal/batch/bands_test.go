package batch

import (
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/layouts/palette"
)

// batchOf is small with other ratings, "8 g #c8402f" or "8 g" without a band,
// and a line in [print].
func batchOf(print string, ratings ...string) string {
	const old = "[[rating]]\nload = \"8 g\"\nprice = \"6.50\"\nband = \"#c8402f\"\n"
	var b strings.Builder
	for _, one := range ratings {
		load, band, named := strings.Cut(one, " g")
		b.WriteString("[[rating]]\nload = \"" + load + " g\"\n")
		if named && band != "" {
			b.WriteString("band = \"" + strings.TrimSpace(band) + "\"\n")
		}
	}
	src := strings.Replace(small, old, b.String(), 1)
	return strings.Replace(src, "film = ", print+"\nfilm = ", 1)
}

func bandsOf(t *testing.T, src string) []string {
	t.Helper()
	f, err := Parse("b.toml", []byte(src), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	var all []string
	for _, one := range f.Batch.Ratings {
		all = append(all, one.Band.String())
	}
	return all
}

func TestBandsByRank(t *testing.T) {
	var p []string
	for _, c := range palette.Default() {
		p = append(p, c.Ink.String())
	}
	for _, c := range []struct {
		name, print string
		ratings     []string
		want        []string
	}{
		{"the lightest gets the first, whatever the order", "", []string{"8 g", "2.5 g", "4.5 g"}, []string{p[2], p[0], p[1]}},
		{"named ones stay, and what is near them is left out", "", []string{"2.5 g", "4.5 g #18608e", "6 g", "8 g #cc7a18"}, []string{p[2], "#18608e", p[3], "#cc7a18"}},
		{"all named", "", []string{"2.5 g #000000", "8 g #000000"}, []string{"#000000", "#000000"}},
		{"the maker's own", `palette = ["#112233", "#445566"]`, []string{"8 g", "2.5 g"}, []string{"#445566", "#112233"}},
		{"one alone", `palette = "#112233"`, []string{"8 g"}, []string{"#112233"}},
		{"more ratings than colours", `palette = ["#11aa33"]`, []string{"10 g", "8 g", "2.5 g"}, []string{"#404040", "#404040", "#11aa33"}},
	} {
		if got := bandsOf(t, batchOf(c.print, c.ratings...)); strings.Join(got, " ") != strings.Join(c.want, " ") {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	var nine []string
	for _, load := range []string{"1", "2", "3", "4", "5", "6", "7", "8", "9"} {
		nine = append(nine, load+" g")
	}
	if got := bandsOf(t, batchOf("", nine...)); strings.Join(got, " ") != strings.Join(append(p, label.Colour(palette.Spare()).String()), " ") {
		t.Errorf("nine ratings: %v", got)
	}
}

func TestBadPalette(t *testing.T) {
	for _, c := range []struct{ print, want string }{
		{`palette = ["#112233", "red", "#4455"]`,
			"b.toml:10:23: [print] palette: \"red\" is no colour -> write it as six hexadecimal digits, as in \"#c8402f\"\n" +
				"b.toml:10:30: [print] palette: \"#4455\" is no colour -> write it as six hexadecimal digits, as in \"#c8402f\"\n"},
		{`palette = ["#112233", 7]`, "b.toml:10:23: [print] palette is not a list of texts -> write it in quotation marks\n"},
		{`palette = ["#aa2233", "#AA2233"]`, "b.toml:10:23: [print] palette: \"#AA2233\" stands twice -> keep one of them\n"},
		{`palette = []`, "b.toml:10:11: [print] palette has no colours -> write colours as in palette = [\"#18608e\", \"#cb7818\"], or remove the key\n"},
		{`palette = 7`, "b.toml:10:11: [print] palette is not a list of texts -> write it as a list, as in [\"one\", \"two\"]\n"},
	} {
		_, err := Parse("b.toml", []byte(batchOf(c.print, "8 g")), nil, nil)
		if got := list(err); got != c.want {
			t.Errorf("%s:\n%s want\n%s", c.print, got, c.want)
		}
	}
}
