package batch

import (
	"fmt"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

// list writes findings one a line, with their remedies.
func list(err error) string {
	var b strings.Builder
	for _, e := range fault.List(err) {
		fmt.Fprintf(&b, "%s -> %s\n", e.Error(), e.Do)
	}
	return b.String()
}

// small is a batch file that is right; the bad ones are made from it.
const small = `format = 1
name = "t"
date = "2026-11-20"
[maker]
name = "Withy Sluice Floats"
host = "f.example"
currency = "GBP"
[print]
convention = "gb-modern"
film = "a4-film-white"
[tank]
metal = "lead"
[[rating]]
load = "8 g"
price = "6.50"
band = "#c8402f"
[[pattern]]
key = "sedge"
name = "Sedge"
kind = "loaded"
weight = "inside"
stations_mm = [[0, 3.4], [30, 16], [54, 13.4], [174, 3]]
waterline_mm = 158
tip_from_mm = 161
body = "#26262b"
tip = "#e4572e"
mark_from_mm = 30
mark_height_mm = 22
[[float]]
number = 1
pattern = "sedge"
rating = "8 g"
built_in = "7.2 g"
metal = "brass"
reading = "0.83 g"
`

func TestSmallIsRight(t *testing.T) {
	f, err := Parse("b.toml", []byte(small), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	// 8 g is a whole number of the largest ring, 1 g.
	if b := f.Batch; b.Ring != 1 || len(b.Cards) != 1 || b.Maker.Market != "" || f.DPI != DefaultDPI || string(f.Source) != small {
		t.Errorf("ring %v, %d cards, %+v", f.Batch.Ring, len(f.Batch.Cards), f)
	}
	if _, err := Parse("b.toml", []byte("\xef\xbb\xbf"+strings.ReplaceAll(small, "\n", "\r\n")), nil, nil); err != nil {
		t.Errorf("with a byte order mark and the line ends of Windows: %s", list(err))
	}
}

// bad are single slips of the pen: what is replaced in small, and the one
// finding and remedy that must come of it.
var bad = []struct{ name, old, new, want string }{
	{"unknown key", "waterline_mm", "waterlin_mm",
		"b.toml:17:3: [[pattern]] waterline_mm is missing -> add waterline_mm = 158\n" +
			"b.toml:23:1: unknown key [[pattern]] waterlin_mm -> write waterline_mm\n"},
	{"unknown key, far", `metal = "lead"`, "metal = \"lead\"\nzzzzzzzz = 1",
		"b.toml:13:1: unknown key [tank] zzzzzzzz -> remove it; the keys here are: metal, water_c, salinity, tip, read_to_mm, scale, with\n"},
	{"unknown table", "[tank]", "[tnk]",
		"b.toml:1:1: [tank] metal is missing -> add a table [tank] with metal = \"lead\"\n" +
			"b.toml:11:2: unknown key tnk -> write tank\n"},
	{"top key in a table", `currency = "GBP"`, "currency = \"GBP\"\nfloats = \"f.csv\"",
		"b.toml:8:1: unknown key [maker] floats -> move it up, above the first line that begins with [\n"},
	{"format missing", "format = 1\n", "", "b.toml:1:1: the first key is not format -> write format = 1 as the first line\n"},
	{"format later", "format = 1\nname = \"t\"", "name = \"t\"\nformat = 1", "b.toml:1:1: the first key is not format -> write format = 1 as the first line\n"},
	{"newer format", "format = 1", "format = 2", "b.toml:1:10: format 2 is not known here -> write format = 1; a file of a newer format needs a newer program\n"},
	{"no TOML", `reading = "0.83 g"`, `reading = 0.83 g`,
		"b.toml:35:16: expected newline but got U+0067 'g' -> mend this line: text and quantities stand in quotation marks, as in \"0.83 g\", and each key once in its table\n"},
	{"number without unit", `"0.83 g"`, "0.83", "b.toml:35:11: [[float]] reading: 0.83 has no unit -> write \"0.83 g\"\n"},
	{"text without unit", `"0.83 g"`, `"0.83"`, "b.toml:35:11: reading: \"0.83\" has no unit -> write \"0.83 g\"\n"},
	{"negative mass", `"7.2 g"`, `"-7.2 g"`, "b.toml:33:12: built_in: \"-7.2 g\" is negative -> write it without the minus sign\n"},
	{"absurd mass", `"7.2 g"`, `"7200 g"`, "b.toml:33:12: built_in: \"7200 g\" is more than 500 g -> check the decimal sign and the unit\n"},
	{"nothing built in", `"7.2 g"`, `"0 g"`, "b.toml:33:12: built_in: \"0 g\" is nothing -> write the mass, or remove the key\n"},
	{"unknown shot", `"0.83 g"`, `"3XYZ"`, "b.toml:35:11: reading: \"3XYZ\" is no size of the convention gb-modern -> " +
		"write shot as in \"3 No.3\"; sizes: 3SSG 2SSG LG LSG SSG AAA AB BB No.1 No.3 No.4 No.5 No.6 No.8 No.9 No.10 No.11 No.12 No.13\n"},
	{"shot of another metal", `"0.83 g"`, `"1 AAA"`, "b.toml:35:11: reading: \"1 AAA\" is shot of tin, and [tank] metal is lead -> weigh the shot together and write its grams\n"},
	{"negative length", "waterline_mm = 158", "waterline_mm = -158", "b.toml:23:16: [[pattern]] waterline_mm = -158 is out of range -> give a number from 0 to 600 mm\n"},
	{"length with unit", "waterline_mm = 158", `waterline_mm = "158 mm"`, "b.toml:23:16: [[pattern]] waterline_mm: \"158 mm\" is text, not a plain number of mm -> write 158\n"},
	{"waterline off the body", "waterline_mm = 158", "waterline_mm = 180",
		"b.toml:23:16: [[pattern]] waterline_mm: 180 mm is off the float, which is 174 mm long -> give a height over the base end, up to 174 mm\n"},
	{"mark zone too long", "mark_height_mm = 22", "mark_height_mm = 220",
		"b.toml:28:18: [[pattern]] mark_height_mm: the mark ends at 250 mm, and the float at 174 mm -> give at most 144 mm, or begin lower\n"},
	{"mark zone outside", "mark_from_mm = 30", "mark_from_mm = 175",
		"b.toml:27:16: [[pattern]] mark_from_mm: 175 mm is off the float, which is 174 mm long -> give the height of the mark's lower edge over the base end\n"},
	{"stations out of order", "[54, 13.4]", "[24, 13.4]",
		"b.toml:22:36: [[pattern]] stations_mm: station 3: height 24 mm does not lie above the station before it, 30 mm -> list the stations from the base end up, at least 0.01 mm apart\n"},
	{"one station", "[[0, 3.4], [30, 16], [54, 13.4], [174, 3]]", "[[0, 3.4]]",
		"b.toml:22:15: [[pattern]] stations_mm: a body needs two stations, and there are 1 -> give the height and the diameter at two places or more\n"},
	{"not from the base", "[[0, 3.4], ", "[[5, 3.4], ", "b.toml:22:16: [[pattern]] stations_mm: the first station is at 5 mm -> begin with the diameter at height 0, the base end\n"},
	{"kind of a run", "[30, 16]", `[30, 16, "curvd"]`, "b.toml:22:35: [[pattern]] stations_mm station 2: \"curvd\" is none of the words for it -> write \"curved\"\n"},
	{"half a station", "[30, 16]", "[30]",
		"b.toml:22:26: [[pattern]] stations_mm station 2 is not a height and a diameter -> write each as [height, diameter], as in [[0, 3.4], [30, 16], [54, 13.4]], or as [height, diameter, \"curved\"]\n"},
	{"unknown pattern", `pattern = "sedge"`, `pattern = "sege"`, "b.toml:31:11: there is no pattern \"sege\" -> write \"sedge\"\n"},
	{"unknown metal", `"brass"`, `"bras"`, "b.toml:34:9: metal: there is no metal \"bras\" -> write \"brass\"\n"},
	{"unknown convention", `"gb-modern"`, `"gb-moden"`, "b.toml:9:14: [print] convention: there is no convention \"gb-moden\" -> write \"gb-modern\"\n"},
	{"unknown stock", `"a4-film-white"`, `"a4-film-whit"`, "b.toml:10:8: [print] film: there is no stock \"a4-film-whit\" -> write \"a4-film-white\"\n"},
	{"unknown kind", `"loaded"`, `"laoded"`, "b.toml:20:8: [[pattern]] kind: \"laoded\" is none of the words for it -> write \"loaded\"\n"},
	{"unknown rating", `rating = "8 g"`, `rating = "9 g"`, "b.toml:32:10: the batch has no rating 9 g -> use one of the batch's ratings (8 g) or add a [[rating]] with load = \"9 g\"\n"},
	{"duplicate number", "[[float]]", "[[float]]\nnumber = 1\npattern = \"sedge\"\nrating = \"8 g\"\nbuilt_in = \"7.2 g\"\nmetal = \"brass\"\n[[float]]",
		"b.toml:36:10: float 1 stands twice, first at b.toml:30:10 -> give each float its own place on the drying board\n"},
	{"duplicate rating", "[[pattern]]", "[[rating]]\nload = \"8,0 g\"\n[[pattern]]", "b.toml:18:8: [[rating]] load: \"8,0 g\" stands twice -> keep one of them\n"},
	{"number", "number = 1", "number = 1.5", "b.toml:30:10: \"1.5\" is no float's number -> give its place on the drying board, from 1 up\n"},
	{"colour", `"#c8402f"`, `"red"`, "b.toml:16:8: [[rating]] band: \"red\" is no colour -> write it as six hexadecimal digits, as in \"#c8402f\"\n"},
	{"scheme", `"f.example"`, `"https://f.example/"`, "b.toml:6:8: [maker] host: \"https://f.example/\" is no host name -> write \"f.example\"\n"},
	{"host with a blank", `"f.example"`, `"f example"`, "b.toml:6:8: [maker] host: \"f example\" is no host name -> write the bare host, as in \"f.example\"\n"},
	{"price", `"6.50"`, `"£6.50"`, "b.toml:15:9: [[rating]] price: \"£6.50\" is no price -> write the number alone, as in \"6.50\"; the currency stands in [maker]\n"},
	{"currency", `"GBP"`, `"pounds"`, "b.toml:7:12: [maker] currency: \"pounds\" is none that is known -> write its three letters, as in \"GBP\"\n"},
	{"no currency", "currency = \"GBP\"\n", "", "b.toml:14:9: [[rating]] price: there is no currency for it -> add currency = \"GBP\" to [maker]\n"},
	{"date", `"2026-11-20"`, `"2026-11-31"`, "b.toml:3:8: date: \"2026-11-31\" is no day of the calendar -> write year, month and day as in \"2026-11-20\"\n"},
	{"maker's name", "name = \"Withy Sluice Floats\"\n", "", "b.toml:4:2: the maker has no name -> add a table [maker] with name = \"Withy Sluice Floats\"\n"},
	{"weight without metal", "metal = \"brass\"\n", "", "b.toml:33:12: a built-in weight without its metal -> add metal = \"brass\"\n"},
	{"loaded without weight", "built_in = \"7.2 g\"\nmetal = \"brass\"\n", "", "b.toml:29:3: the pattern \"sedge\" is loaded, and this float has no weight built in -> add built_in = \"7.2 g\", as weighed, and its metal\n"},
	{"weight in an unloaded float", `"loaded"`, `"unloaded"`, "b.toml:33:12: the pattern \"sedge\" is unloaded, and this float has a weight built in -> remove built_in, or write kind = \"loaded\" in the pattern \"sedge\"\n"},
	{"missing key", "rating = \"8 g\"\n", "", "b.toml:29:3: [[float]] rating is missing -> add rating = \"8 g\"\n"},
	{"tank's metal", "metal = \"lead\"\n", "", "b.toml:11:2: [tank] metal is missing -> add metal = \"lead\"\n"},
	{"no line breaks", `name = "Sedge"`, `name = "Se\ndge"`, "b.toml:19:8: [[pattern]] name has a line break or a control character -> write it on one line\n"},
	{"one bracket", "[[float]]", "[float]", "b.toml:29:2: float is not a list of tables -> write each as [[float]], with two brackets\n"},
	{"columns are characters", `band = "#c8402f"`, `band = "#c8402f" # £` + "\nlod = 1", "b.toml:17:1: unknown key [[rating]] lod -> write load\n"},
	{"water", `metal = "lead"`, "metal = \"lead\"\nwater_c = 60", "b.toml:13:11: [tank] water_c = 60 is out of range -> give a number from 0 to 40 degrees Celsius\n"},
	{"key twice", `host = "f.example"`, "host = \"f.example\"\nhost = \"g.example\"",
		"b.toml:7:1: key host is already defined -> mend this line: text and quantities stand in quotation marks, as in \"0.83 g\", and each key once in its table\n"},
}

func TestBadInput(t *testing.T) {
	for _, c := range bad {
		t.Run(c.name, func(t *testing.T) {
			if strings.Count(small, c.old) == 0 {
				t.Fatalf("%q is not in the file", c.old)
			}
			f, err := Parse("b.toml", []byte(strings.Replace(small, c.old, c.new, 1)), nil, nil)
			if got := list(err); got != c.want || f != nil {
				t.Errorf("got:\n%swant:\n%s", got, c.want)
			}
			for _, e := range fault.List(err) {
				if e.Class != fault.Input || e.Do == "" {
					t.Errorf("%v is of class %v, remedy %q", e, e.Class, e.Do)
				}
			}
		})
	}
}

// All findings come at once, in the order of the file, none twice.
func TestAllFindingsAtOnce(t *testing.T) {
	src := strings.NewReplacer(`"0.83 g"`, "0.83", `"#26262b"`, `"black"`, `"lead"`, `"led"`, `"f.example"`, `"http://f"`).Replace(small)
	_, err := Parse("b.toml", []byte(src), nil, nil)
	want := []string{"b.toml:6:8", "b.toml:12:9", "b.toml:25:8", "b.toml:35:11"}
	all := fault.List(err)
	if len(all) != len(want) {
		t.Fatalf("%d findings:\n%s", len(all), list(err))
	}
	for i, e := range all {
		if e.Where != want[i] {
			t.Errorf("finding %d stands at %s, not at %s", i, e.Where, want[i])
		}
	}
}

func TestTooManyFloats(t *testing.T) {
	var b strings.Builder
	b.WriteString(small)
	for i := 2; i <= maxFloats+1; i++ {
		fmt.Fprintf(&b, "[[float]]\nnumber = %d\npattern = \"sedge\"\nrating = \"8 g\"\nbuilt_in = \"7 g\"\nmetal = \"brass\"\n", i)
	}
	_, err := Parse("b.toml", []byte(b.String()), nil, nil)
	if got := list(err); !strings.Contains(got, "more than 2000 floats -> split the batch") || strings.Count(got, "\n") != 1 {
		t.Errorf("%s", got)
	}
	last := strings.LastIndex(b.String(), "[[float]]")
	if f, err := Parse("b.toml", []byte(b.String()[:last]), nil, nil); err != nil || len(f.Batch.Floats) != maxFloats {
		t.Errorf("as many as are allowed: %s", list(err))
	}
}

func TestWorkshopWins(t *testing.T) {
	w, err := ParseWorkshop("workshop.toml", []byte("format = 1\nconvention = \"continental\"\n[maker]\nname = \"Withy Sluice Floats, Upper Yard\"\nmarket = \"eu\"\nhost = \"w.example\"\n"))
	if err != nil {
		t.Fatal(list(err))
	}
	src := strings.Replace(small, "name = \"Withy Sluice Floats\"\n", "contact = \"bench@withysluice.example\"\n", 1)
	f, err := Parse("b.toml", []byte(src), nil, w)
	if err != nil {
		t.Fatal(list(err))
	}
	m := f.Batch.Maker
	if m.Name != "Withy Sluice Floats, Upper Yard" || m.Host != "w.example" || m.Market != "EU" || m.Contact != "bench@withysluice.example" || m.Currency != "GBP" {
		t.Errorf("%+v", m)
	}
	if f.Batch.Convention.Key != "gb-modern" {
		t.Errorf("the batch's own convention is %s", f.Batch.Convention.Key)
	}
	f, err = Parse("b.toml", []byte(strings.Replace(src, "convention = \"gb-modern\"\n", "", 1)), nil, w)
	if err != nil || f.Batch.Convention.Key != "continental" {
		t.Errorf("the default convention is not the workshop's: %s", list(err))
	}
	for _, c := range []struct{ src, want string }{
		{"[maker]\nname = \"x\"\n", "w:1:2: the first key is not format -> write format = 1 as the first line\n"},
		{"format = 1\n[maker]\nnam = \"x\"\nhost = \"a/b\"\n", "w:3:1: unknown key [maker] nam -> write name\nw:4:8: [maker] host: \"a/b\" is no host name -> write \"a\"\n"},
		{"format = 1\n[tank]\n", "w:2:2: unknown key tank -> remove it; the keys here are: format, convention, maker, own_convention, own_stock\n"},
		{"format = 1\n[maker]\nlanguage = \"tlh\"\nmarket = \"MOON\"\n", "w:3:12: [maker] language: there are no words for the language \"tlh\" -> use one of: \"en\", \"de\", \"fr\", \"it\", \"pl\"\n" +
			"w:4:10: [maker] market: \"MOON\" is none that is known -> use one of: \"GB\", \"EU\", \"US\", \"US-NH\", \"US-NY\", \"US-MA\", \"US-ME\", \"US-VT\", or leave the key out\n"},
		{"format = 1\n[maker]\nunits = \"cubits\"\n", "w:3:9: [maker] units: \"cubits\" is none that is known -> use one of: \"metric\", \"imperial\", or leave the key out\n"},
		{"format = 1\n[maker]\nunits = \"imperial\"\n", ""},
	} {
		if _, err := ParseWorkshop("w", []byte(c.src)); list(err) != c.want {
			t.Errorf("%q gives\n%swant\n%s", c.src, list(err), c.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(small))
	f.Add(Demo())
	for _, c := range bad {
		f.Add([]byte(strings.Replace(small, c.old, c.new, 1)))
	}
	f.Add([]byte("format = 1\nmaker.name = 'x'\nfloat = [{number=1}]\n[a.b]\n[[a.c]]\nd=[[[1]],[]]\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := Parse("b.toml", src, nil, nil)
		if (file == nil) != (err != nil) {
			t.Fatalf("file %v, error %v", file, err)
		}
		for _, e := range fault.List(err) {
			if e.Class != fault.Input || !strings.HasPrefix(e.Where, "b.toml:") || e.Do == "" {
				t.Fatalf("%+v", e)
			}
		}
		if file == nil {
			return
		}
		for _, fl := range file.Batch.Floats {
			if fl.Pattern == nil || fl.Number < 1 || !(fl.Nominal > 0) || !(fl.Pattern.Profile.Length() > 0) {
				t.Fatalf("%+v", fl)
			}
		}
	})
}
