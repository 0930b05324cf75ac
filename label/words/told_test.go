package words

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// formRows are the rows of the table, in its order.
func formRows() [][]string {
	var all [][]string
	for row := range strings.Lines(formTable) {
		all = append(all, strings.Split(strings.TrimSuffix(row, "\n"), "\t"))
	}
	return all
}

// places are what a form leaves open, by number, each once.
func places(s string) []int {
	var all []int
	for _, p := range fill(s) {
		if p.place >= 0 && !slices.Contains(all, p.place) {
			all = append(all, p.place)
		}
	}
	slices.Sort(all)
	return all
}

var strayVerb = regexp.MustCompile(`%(?:[^s%\[]|\[[^\d]|\[\d[^\]]|\[\d\][^s]|$)`)

// The table is whole: every form has each language and stands once, in order; what
// is filled in is filled in in each, or left out where the pages leave it out in
// English.
func TestFormTable(t *testing.T) {
	last := ""
	rows := formRows()
	for n, row := range rows {
		if len(row) != 1+len(formLanguages) {
			t.Errorf("line %d has %d fields: %s", n+1, len(row), row)
			continue
		}
		if row[0] <= last {
			t.Errorf("line %d: %q after %q", n+1, row[0], last)
		}
		last = row[0]
		bench := row[1]
		if bench == "=" {
			bench = row[0]
		}
		for i, one := range row {
			if one == "" {
				t.Errorf("line %d, %q: field %d is empty", n+1, row[0], i+1)
				continue
			}
			if one == "=" && i == 1 {
				continue
			}
			if strayVerb.MatchString(strings.ReplaceAll(one, "%%", "")) {
				t.Errorf("line %d: %q has another verb than %%s, %%[1]s and %%%%", n+1, one)
			}
			open := places(one)
			if i > 1 && !slices.Equal(open, places(bench)) && !slices.Equal(open, places(row[0])) || i == 1 && !within(open, places(row[0])) {
				t.Errorf("line %d: %q leaves other things open than %q", n+1, one, row[0])
			}
		}
	}
	if len(rows) < 1500 { // the program has more; the file was cut
		t.Errorf("%d forms", len(rows))
	}
}

func within(some, all []int) bool {
	return !slices.ContainsFunc(some, func(n int) bool { return !slices.Contains(all, n) })
}

// testForms are rows with every kind of form.
const testForms = "" +
	"%s is no %s\t=\t„%s“ ist kein %s\t%s n'est pas un %s\t%s non è un %s\t%s to nie %s\n" +
	"%s: there is no metal %s\tThere is no metal %[2]s\t%s: kein Metall %s\t%s : pas de métal %s\t%s: nessun metallo %s\t%s: brak metalu %s\n" +
	", cut at %s corners\t=\t, an %s Kanten geschnitten\t, %s\t, %s\t, %s\n" +
	"from %s to %s\t=\tvon %s bis %s\tde %s à %s\tda %s a %s\tod %s do %s\n" +
	"give a number %s\t=\tgib eine Zahl %s an\tdonnez un nombre %s\tdare un numero %s\tpodaj liczbę %s\n" +
	"laid out coarsely; \t=\tgrob angelegt; \tx; \tx; \tx; \n" +
	"left\t=\tlinks\tgauche\tsinistra\tlewo\n" +
	"the %s picture\t=\tdas Bild %s\tl'image %s\tl'immagine %s\tobraz %s\n" +
	"the float takes %s of %s, which is %s %%\t=\tdas sind %[3]s %% von %[2]s, nämlich %[1]s\t%s %s %s %%\t%s %s %s %%\t%s %s %s %%\n" +
	"the picture\t=\tdas Bild\tl'image\tl'immagine\tobraz\n"

func TestTold(t *testing.T) {
	all := newForms(testForms)
	for _, c := range []struct{ language, text, want string }{
		{"de", "the picture", "das Bild"},
		{"en", "the picture", "the picture"},
		{"de", "the PNG picture", "das Bild PNG"},
		{"de", "give a number from 0.5 mm to 12 mm", "gib eine Zahl von 0,5 mm bis 12 mm an"},
		{"fr", "give a number from 0.5 mm to 12 mm", "donnez un nombre de 0,5 mm à 12 mm"},
		{"en", "give a number from 0.5 mm to 12 mm", "give a number from 0.5 mm to 12 mm"},
		// a metal has its name, a quotation stays; what is said in another order is filled in there
		{"de", `the float takes 0.25 g of lead, which is 12.5 %`, "das sind 12,5 % von Blei, nämlich 0,25 g"},
		{"de", `"a is no b" is no left`, `„"a is no b"“ ist kein links`},
		{"de", `"0.5" is no left`, `„"0.5"“ ist kein links`},
		// what a form goes on with, and begins with
		{"de", "the picture, cut at 3 corners", "das Bild, an 3 Kanten geschnitten"},
		{"de", "laid out coarsely; the picture", "grob angelegt; das Bild"},
		// lists, and what something is about
		{"de", "the picture; left", "das Bild; links"},
		{"de", "the left, 0.5 mm, own picture", "das Bild links, 0,5 mm, own"},
		{"de", "pattern 7: the picture", "pattern 7: das Bild"},
		// the pages' own English, which leaves something out
		{"en", `metal: there is no metal "led"`, `There is no metal "led"`},
		{"de", `metal: there is no metal "led"`, `metal: kein Metall "led"`},
		// no form
		{"de", "something else of 0.5 mm", "something else of 0.5 mm"},
		{"de", "", ""},
		{"xx", "the picture", "the picture"},
		// a quotation without its end
		{"de", `"x is no left`, `„"x“ ist kein links`},
	} {
		if got := toldBy(all, c.language)(c.text); got != c.want {
			t.Errorf("%s: %q is told as %q, want %q", c.language, c.text, got, c.want)
		}
	}
}

func TestFigure(t *testing.T) {
	for word, want := range map[string]string{"0.5": "0,5", "±0.05": "±0,05", "(1.25)": "(1,25)", "12.5,": "12,5,", "f.1": "f.1", "1.2.3": "1.2.3",
		"0.5mm": "0.5mm", "7": "7", "7.": "7.", ".5": ".5", "": "", "−0.3": "−0,3", "18.5%": "18,5%"} {
		if got := figure(word); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
}

// A form that is filled and told in the English of the program gives itself back,
// and in no language is anything lost that its row keeps.
func TestToldKeeps(t *testing.T) {
	rows := formRows()
	tellers := map[int]func(string) string{}
	for i, language := range formLanguages {
		tellers[i+1] = Told(language)
	}
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.SampledFrom(rows).Draw(t, "row")
		var fills []string
		text := ""
		for _, p := range fill(row[0]) {
			text += p.text
			if p.place >= 0 {
				fills = append(fills, rapid.StringMatching(`[XYZ]{1,3}[0-9]{4}|"[XYZ][a-z ,;:]{0,9}[0-9]{4}"`).Draw(t, "fill"))
				text += fills[len(fills)-1]
			}
		}
		column := rapid.IntRange(1, len(formLanguages)).Draw(t, "column")
		told := tellers[column](text)
		said := row[column]
		if said == "=" || said == "" {
			if told != text {
				t.Fatalf("%q is told as %q", text, told)
			}
			return
		}
		for _, n := range places(said) {
			if !strings.Contains(told, fills[n]) {
				t.Fatalf("%q is told as %q: %q is lost", text, told, fills[n])
			}
		}
	})
}

// A text of any kind is told without panic, and one without a form stays.
func FuzzTold(f *testing.F) {
	for _, row := range formRows()[:50] {
		f.Add(row[0])
	}
	f.Add(`"`)
	f.Add("a; b: c, d (e)")
	tell := Told("de")
	f.Fuzz(func(t *testing.T, s string) {
		if said := tell(s); s != "" && said == "" {
			t.Errorf("%q is told as nothing", s)
		}
	})
}

func BenchmarkTold(b *testing.B) {
	tell := Told("de")
	messages := []string{
		"the bands of 4.5 g (#18608e) and 6 g (#cb7818) look alike to eyes that lack red (protan): give one another colour, with band or [print] palette, or go by the rings, which need no colour",
		"take 0.12 g off, 0.4 mm of the 6 mm brass, then hang again; expect 0.68 g of tin",
		`colour: there is no metal "led"`,
		"float 7 stands twice, first at 26-11.toml:12:1",
		"a note of the maker's own, of which the program knows nothing; with a second part",
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		tell(messages[i%len(messages)])
		i++
	}
}
