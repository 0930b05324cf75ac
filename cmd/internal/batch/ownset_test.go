package batch

import (
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

const bench = `format = 1
key = "bench-tin"
name = "Bench tin"
metal = "tin"
date = "2026-03-01"
sizes = ["BB = 0.4 g", "No.12 = 0.02 g"]
weighed = ["20 of AAA weigh 15.7 g", "2026-03-08: 20 of AAA weigh 15.9 g"]
`

func TestParseOwnSet(t *testing.T) {
	c, err := ParseOwnSet("bench.toml", []byte(bench))
	if err != nil {
		t.Fatal(err)
	}
	if c.Key != "bench-tin" || c.Name != "Bench tin" || c.Revision != 1 || c.Metal.Key != "tin" || len(c.Sizes) != 3 {
		t.Errorf("%+v", c)
	}
	if s := c.Sizes[0]; s.Name != "AAA" || math.Abs(float64(s.Mass)-0.79) > 1e-12 || s.Weighed.N != 40 || s.Weighed.Date != "2026-03-08" {
		t.Errorf("%+v", s)
	}
	for old, k := range map[string]struct{ new, want string }{
		`metal = "tin"`:                  {`metal = "tim"`, `bench.toml:4:9: metal: there is no metal "tim" -> write "tin"`},
		"metal = \"tin\"\n":              {"", `bench.toml:1:1: metal is missing -> add metal = "tin"`},
		`key = "bench-tin"`:              {`key = "gb-modern"`, `bench.toml:2:7: key: the key "gb-modern" belongs to a built-in convention`},
		`"BB = 0.4 g"`:                   {`"BB 0.4 g"`, `bench.toml:6:10: sizes: "BB 0.4 g" is no size with its mass`},
		`"20 of AAA weigh 15.7 g"`:       {`"some AAA weigh 15.7 g"`, `bench.toml:7:12: weighed: "some AAA weigh 15.7 g" is no weighing`},
		`"2026-03-01"`:                   {`"2026-02-30"`, `bench.toml:5:8: date`},
		`name = "Bench tin"`:             {`nane = "Bench tin"`, `bench.toml:3:1: unknown key nane -> write name`},
		`"No.12 = 0.02 g"`:               {`"AAA = 0.8 g"`, `two sizes named AAA`},
		"format = 1\nkey":                {"key", `first key is not format`},
		`name = "Bench tin"` + "\nmetal": {"revision = 1.5\nmetal", `bench.toml:3:12: revision is no whole number`},
	} {
		src := strings.Replace(bench, old, k.new, 1)
		if src == bench {
			t.Fatalf("%q is not in the file", old)
		}
		if _, err := ParseOwnSet("bench.toml", []byte(src)); !strings.Contains(list(err), k.want) {
			t.Errorf("%q:\n%swant %s", k.new, list(err), k.want)
		}
	}
}

// A set in the workshop file is named by its key in that file and in batch files.
func TestOwnSetOfTheWorkshop(t *testing.T) {
	w, err := ParseWorkshop("workshop.toml", []byte("format = 1\nconvention = \"bench-tin\"\n[[own_convention]]\n"+strings.TrimPrefix(bench, "format = 1\n")))
	if err != nil {
		t.Fatal(list(err))
	}
	if len(w.Own) != 1 || w.Convention != "bench-tin" {
		t.Fatalf("%+v", w)
	}
	f, err := Parse("b.toml", []byte(strings.Replace(small, "gb-modern", "bench-tin", 1)), nil, w)
	if err != nil || f.Batch.Convention.Key != "bench-tin" || len(f.Batch.Convention.Sizes) != 3 {
		t.Errorf("named: %s", list(err))
	}
	f, err = Parse("b.toml", []byte(strings.Replace(small, "convention = \"gb-modern\"\n", "", 1)), nil, w)
	if err != nil || f.Batch.Convention.Key != "bench-tin" {
		t.Errorf("by default: %s", list(err))
	}
	if _, err := Parse("b.toml", []byte(strings.Replace(small, "gb-modern", "bench-tn", 1)), nil, w); !strings.Contains(list(err), `write "bench-tin"`) {
		t.Errorf("misspelt: %s", list(err))
	}
	twice := "format = 1\n[[own_convention]]\n" + strings.TrimPrefix(bench, "format = 1\n")
	twice += twice[len("format = 1\n"):]
	if _, err := ParseWorkshop("workshop.toml", []byte(twice)); !strings.Contains(list(err), "stands twice") {
		t.Errorf("twice: %s", list(err))
	}
}

func FuzzParseOwnSet(f *testing.F) {
	f.Add([]byte(bench))
	f.Add([]byte("format = 1\nkey = 'a'\nmetal = 'tin'\nsizes = 'A = 1 g'\nrevision = 1e9"))
	f.Add([]byte("format = 1\n[key]\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		c, err := ParseOwnSet("s.toml", src)
		if err == nil {
			err = c.Check()
		}
		for _, e := range fault.List(err) {
			if e.Class != fault.Input || e.Where == "" {
				t.Errorf("%q: %v of class %v", src, e, e.Class)
			}
		}
	})
}
