package job

import (
	"slices"
	"strings"
	"testing"

	"floatmark/label/words"
)

// The stickers count every float once for the batch, once for its pattern and, in a
// pattern of several ratings, once for its rating.
func TestBoxLabelsCountTheBatch(t *testing.T) {
	p := planned(t, "# boxes = ", "boxes = ", "number = 7\npattern = \"sedge\"\nrating = \"8 g\"\nbuilt_in = \"7.20 g\"", "number = 7\npattern = \"sedge\"\nrating = \"6 g\"\nbuilt_in = \"5.20 g\"")
	if len(p.Boxes) != 1 {
		t.Fatalf("%d sheets of stickers", len(p.Boxes))
	}
	var got []string
	for _, l := range p.boxLabels() {
		got = append(got, l.Pattern+": "+l.Count+", "+l.Rating+", "+l.Numbers)
	}
	want := []string{"4 patterns: 6 floats, 2.5–10 g, 1, 6, 7, 13, 17, 22", "Sedge waggler: 3 floats, 6–8 g, 1, 6, 7", "Sedge waggler: 1 float, 6 g, 7", "Sedge waggler: 2 floats, 8 g, 1, 6",
		"Sedge waggler, large: 1 float, 10 g, 13", "Reed insert waggler: 1 float, 4.5 g, 17", "Rush stick: 1 float, 2.5 g, 22"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if dump := p.Boxes[0].Dump(); !strings.Contains(dump, `"Withy Sluice Floats · 2026-11-20"`) || !strings.Contains(dump, `"batch 26-11 · no. 1, 6, 7, 13, 17, 22"`) {
		t.Error("maker or batch is on no sticker")
	}
	if none := planned(t, `film = "a4-film-white"`, `film = "a4-film-clear"`); none.Boxes != nil {
		t.Error("stickers that nobody asked for")
	}
}

// In every language the stickers lie on their sheets without a word on another.
func TestBoxLabelsInEveryLanguage(t *testing.T) {
	for _, tag := range words.Tags() {
		p := planned(t, "# boxes = ", "boxes = ", `language = "en"`, `language = "`+tag+`"`, `film = "a4-film-white"`, `film = "a4-film-clear"`)
		for _, s := range p.Boxes {
			if m := meeting(s); m != "" {
				t.Errorf("%s: %s meet", tag, m)
			}
		}
		if !strings.Contains(p.Boxes[0].Dump(), words.Filled(words.BenchSheetFor(tag).Floats.Of(6), "6")) {
			t.Errorf("%s: no count of six", tag)
		}
	}
}

func TestRuns(t *testing.T) {
	for _, c := range []struct {
		in   []int
		want string
	}{{nil, ""}, {[]int{4}, "4"}, {[]int{1, 2}, "1, 2"}, {[]int{1, 2, 3}, "1–3"}, {[]int{1, 2, 3, 5, 7, 8, 9, 10}, "1–3, 5, 7–10"}} {
		if got := runs(slices.Clone(c.in)); got != c.want {
			t.Errorf("%v: %q, want %q", c.in, got, c.want)
		}
	}
}
