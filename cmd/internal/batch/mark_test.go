package batch

import (
	"reflect"
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/loading/unit"
)

// marked is small with tables of marks in place of the short form.
func marked(tables string) string {
	return strings.Replace(small, "mark_from_mm = 30\nmark_height_mm = 22\n", tables, 1)
}

const ownMark = `[[pattern.mark]]
show = ["band", "rule", ["rating", "built in", "add"], ["code", "id"], ["shot", "metal", "text"], "rings"]
text = "made at the weir"
at_mm = 30
height_mm = 22
turn = "round"
fit = "butt"
seam_mm = 0.6
stretch = "shorten"
least_capitals_mm = 1.4
[[pattern.mark]]
show = ["maker", "dedication"]
from = "tip"
at_mm = 40
height_mm = 50
turn = "lengthwise"
repeat = 2
fit = "patch"
width_mm = 5
`

func TestMarksAsALayout(t *testing.T) {
	f, err := Parse("b.toml", []byte(marked(ownMark)+"dedication = \"for the fifty\"\n"), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	z := f.Batch.Patterns[0].Zones
	want := []label.Zone{
		{Style: "own", From: 30, Height: 22, Text: "made at the weir", Turn: label.Round, Fit: label.FitButt, Overlap: 0.6, Stretch: label.StretchShorten, Floor: 1.4, Where: "b.toml:27:11",
			Show: label.Show{Top: []label.Part{label.PartBand, label.PartRule}, Foot: []label.Part{label.PartRings}, Faces: [][]label.Part{
				{label.PartRating, label.PartBuiltIn, label.PartAdd}, {label.PartCode, label.PartID}, {label.PartShot, label.PartMetal, label.PartText}}}},
		{Style: "own", From: 84, Height: 50, AtTip: true, FromTip: 40, Turn: label.Lengthwise, Repeat: 2, Fit: label.FitPatch, Width: 5, Where: "b.toml:37:11",
			Show: label.Show{Row: []label.Part{label.PartMaker, label.PartDedication}}},
	}
	if !reflect.DeepEqual(z, want) {
		t.Errorf("got  %+v\nwant %+v", z, want)
	}
	if f.Batch.Floats[0].Dedication != "for the fifty" {
		t.Errorf("%+v", f.Batch.Floats[0])
	}
}

// The short forms: no key at all is the least mark where it suits the body.
func TestMarksByDefault(t *testing.T) {
	for _, c := range []struct {
		tables       string
		style        string
		show         label.Show
		from, height unit.Millimetre
	}{
		{"", "least", label.LeastShow(), 31, 22},
		{"mark = \"full\"\n", "full", label.FullShow(), 31, 22},
		{"mark = \"full\"\nmark_from_mm = 32\nmark_height_mm = 18\n", "full", label.FullShow(), 32, 18},
		{"[[pattern.mark]]\n", "least", label.LeastShow(), 31, 22},
		{"[[pattern.mark]]\nshow = \"full\"\nat_mm = 31\nheight_mm = 20\n", "full", label.FullShow(), 31, 20},
	} {
		f, err := Parse("b.toml", []byte(marked(c.tables)), nil, nil)
		if err != nil {
			t.Errorf("%q: %s", c.tables, list(err))
			continue
		}
		z := f.Batch.Patterns[0].Zones[0]
		if z.Style != c.style || !reflect.DeepEqual(z.Show, c.show) || z.From != c.from || z.Height != c.height {
			t.Errorf("%q: %+v", c.tables, z)
		}
	}
}

// A body without a straight run is marked across its thickest place.
func TestUsualPlaceOnABelly(t *testing.T) {
	src := strings.Replace(marked(""), "[[0, 3.4], [30, 16], [54, 13.4], [174, 3]]", `[[0, 4, "round"], [30, 16, "round"], [60, 4, "curved"], [100, 3, "curved"], [174, 2]]`, 1)
	f, err := Parse("b.toml", []byte(src), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	z := f.Batch.Patterns[0].Zones[0]
	if mid := z.From + z.Height/2; mid < 28 || mid > 32 {
		t.Errorf("the mark is about %v", mid)
	}
}

func TestBadMarks(t *testing.T) {
	const place = "at_mm = 30\nheight_mm = 22\n"
	for _, c := range []struct{ name, tables, want string }{
		{"no word", "mark = \"most\"\n", "b.toml:27:8: [[pattern]] mark: \"most\" is none of the words for it -> use one of: \"least\", \"full\"\n"},
		{"half a place", "mark_from_mm = 30\n", "b.toml:17:3: [[pattern]] mark_height_mm is missing -> add mark_height_mm = 22\n"},
		{"both forms", "turn = \"round\"\n[[pattern.mark]]\n" + place, "b.toml:27:1: [[pattern]] turn stands beside [[pattern.mark]] -> move it into the [[pattern.mark]] it belongs to\n"},
		{"unknown part", "[[pattern.mark]]\nshow = [\"ratng\"]\n" + place, "b.toml:28:9: [[pattern.mark]] show: \"ratng\" is nothing that a mark shows -> write \"rating\"\n"},
		{"twice", "[[pattern.mark]]\nshow = [\"rating\", \"rating\"]\n" + place, "b.toml:28:19: [[pattern.mark]] show: \"rating\" stands twice -> keep one of them\n"},
		{"mixed", "[[pattern.mark]]\nshow = [\"rating\", [\"add\"]]\n" + place, "b.toml:28:8: [[pattern.mark]] show mixes words in a row with faces -> put every word in a list of its own, or none\n"},
		{"strip between", "[[pattern.mark]]\nshow = [\"rating\", \"rings\", \"add\"]\n" + place, "b.toml:28:28: [[pattern.mark]] show: \"add\" stands below a strip that has words above it -> put bands, rings and rules first or last\n"},
		{"strip in a face", "[[pattern.mark]]\nshow = [[\"rating\", \"rings\"]]\n" + place, "b.toml:28:20: [[pattern.mark]] show: \"rings\" goes all round and has no face -> move it before or behind the faces\n"},
		{"nothing", "[[pattern.mark]]\nshow = []\n" + place, "b.toml:28:8: [[pattern.mark]] show is no list of what to show -> write it as in [\"rings\", [\"rating\", \"add\"], [\"code\", \"id\"]]\n"},
		{"no own mark", "[[pattern.mark]]\nshow = [\"own mark\"]\n" + place, "b.toml:28:8: [[pattern.mark]] show: the maker has no mark of his own -> add own_mark = \"mark.svg\" to [print]\n"},
		{"no text", "[[pattern.mark]]\nshow = [\"text\"]\n" + place, "b.toml:28:8: [[pattern.mark]] show: there is no text to show -> add text = \"…\"\n"},
		{"text not shown", "[[pattern.mark]]\nshow = [\"rating\"]\ntext = \"a\"\n" + place, "b.toml:29:1: [[pattern.mark]] text: the mark does not show it -> put \"text\" into show\n"},
		{"arc of a full wrap", "[[pattern.mark]]\narc_deg = 90\n" + place, "b.toml:28:1: [[pattern.mark]] arc_deg means nothing with fit = \"auto\" -> write fit = \"part\", or remove it\n"},
		{"two on one place", "[[pattern.mark]]\n" + place + "[[pattern.mark]]\nat_mm = 40\nheight_mm = 20\n", "b.toml:30:11: [[pattern.mark]]: it lies on the mark at b.toml:27:11 -> move one of them\n"},
		{"two codes", "[[pattern.mark]]\nshow = \"full\"\n" + place + "[[pattern.mark]]\nshow = [[\"code\"]]\nat_mm = 60\nheight_mm = 20\n", "b.toml:31:11: [[pattern.mark]]: the float has a code already -> keep the code in one of them\n"},
		{"below the base", "[[pattern.mark]]\nfrom = \"tip\"\nat_mm = 160\nheight_mm = 22\n", "b.toml:30:13: [[pattern.mark]] height_mm: the mark would begin 8 mm below the base end -> give at most 14 mm\n"},
		{"half a count", "[[pattern.mark]]\nrepeat = 1.5\n" + place, "b.toml:28:10: [[pattern.mark]] repeat: 1.5 is no count -> give a whole number\n"},
		{"key of the wrong table", "[[pattern.mark]]\nmark_from_mm = 3\n" + place, "b.toml:28:1: unknown key [[pattern.mark]] mark_from_mm -> remove it; the keys here are: show, from, at_mm, height_mm, turn, text, repeat, least_capitals_mm, fit, arc_deg, width_mm, seam_mm, stretch\n"},
	} {
		_, err := Parse("b.toml", []byte(marked(c.tables)), nil, nil)
		if got := list(err); got != c.want {
			t.Errorf("%s\ngot  %swant %s", c.name, got, c.want)
		}
	}
}

func TestOwnMark(t *testing.T) {
	with := func(line string) string { return strings.Replace(small, "[tank]", line+"\n[tank]", 1) }
	files := map[string]string{"mark.svg": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M0 0H10V10Z"/></svg>`, "bad.svg": "<svg", "bad.png": "no picture"}
	open := func(name string) ([]byte, error) {
		if s, ok := files[name]; ok {
			return []byte(s), nil
		}
		return nil, errNowhere
	}
	for _, line := range []string{`own_mark = "mark.svg"`, `own_mark = "M 0 0 H 10 V 10 Z"`} {
		f, err := Parse("b.toml", []byte(with(line)), open, nil)
		if err != nil {
			t.Fatal(list(err))
		}
		if a := f.OwnMark.Area(0.01); a < 49.9 && a > -49.9 {
			t.Errorf("%s: area %v, want 50", line, a)
		}
	}
	for line, want := range map[string]string{
		`own_mark = "none.svg"`:    "b.toml:11:12: [print] own_mark: \"none.svg\" cannot be read",
		`own_mark = "../mark.svg"`: "b.toml:11:12: [print] own_mark: \"../mark.svg\" cannot be read",
		`own_mark = "heron"`:       "b.toml:11:12: [print] own_mark: \"heron\" is neither a picture nor a path",
		`own_mark = "bad.svg"`:     "bad.svg:1: ",
		`own_mark = "bad.png"`:     "bad.png:1: ",
		`own_mark = "M 0 0 X"`:     "b.toml:11:12: [print] own_mark: ",
	} {
		if _, err := Parse("b.toml", []byte(with(line)), open, nil); err == nil || !strings.HasPrefix(list(err), want) {
			t.Errorf("%s\ngot  %swant %s…", line, list(err), want)
		}
	}
}
