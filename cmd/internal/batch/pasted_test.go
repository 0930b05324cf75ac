package batch

import (
	"strings"
	"testing"

	"floatmark/loading/fault"
)

// What is pasted and taken into the batch file says what the same text says as the
// CSV file beside it.
func TestPastedFloatsSayWhatTheFileSays(t *testing.T) {
	head, _, _ := strings.Cut(string(Demo()), "[[float]]")
	for name, text := range map[string]string{
		"tabs":       "number\tpattern\trating g\tbuilt in g\tmetal\treading g\tnote\tdiameter at 30 mm\n1\tsedge\t8\t7,21\tbrass\t0,74\tfirst\t16,1\n\n3\treed\t4.5\t\t\t4.26\t\t\n",
		"semicolons": "number;pattern;rating;built_in;metal;reading;dedication;girth at 30\n2;sedge;8 g;7.21 g;brass;0.74 g;\"for Ann; with thanks\";51,2\n",
		"commas":     "Number,Pattern,Rating g,Reading g\n17,reed,4.5,4.26\n18,reed,4.5,4.24\n",
	} {
		beside := func(string) ([]byte, error) { return []byte(text), nil }
		want, err := Parse("a.toml", []byte(strings.Replace(head, "\n[maker]", "\nfloats = \"pasted.csv\"\n[maker]", 1)), beside, nil)
		if err != nil {
			t.Fatal(name, err)
		}
		floats, lines, err := PastedFloats("pasted.csv", []byte(text))
		if err != nil || len(floats) != len(lines) || len(floats) != len(want.Batch.Floats) {
			t.Fatalf("%s: %d floats, %v", name, len(floats), err)
		}
		doc, err := ParseDoc([]byte(head))
		if err != nil {
			t.Fatal(err)
		}
		var list []any
		for _, f := range floats {
			list = append(list, f)
		}
		if err := doc.Set("float", list); err != nil {
			t.Fatal(err)
		}
		got, err := Parse("a.toml", doc.Source(), nil, nil)
		if err != nil {
			t.Fatal(name, err)
		}
		for i, w := range want.Batch.Floats {
			g := got.Batch.Floats[i]
			if g.Number != w.Number || g.Pattern.Key != w.Pattern.Key || g.Nominal != w.Nominal || g.Note != w.Note || g.Dedication != w.Dedication || g.Measured != w.Measured {
				t.Errorf("%s: %+v, want %+v", name, g, w)
			}
			if (g.Weight == nil) != (w.Weight == nil) || g.Weight != nil && *g.Weight != *w.Weight || g.Reading.Hung != w.Reading.Hung {
				t.Errorf("%s: float %d weighs %v and reads %v, want %v and %v", name, g.Number, g.Weight, g.Reading.Hung, w.Weight, w.Reading.Hung)
			}
			for z := w.Shape().Base(); z < w.Shape().Top(); z += 10 {
				if g.Shape().Diameter(z) != w.Shape().Diameter(z) {
					t.Errorf("%s: float %d is %v thick at %v, want %v", name, g.Number, g.Shape().Diameter(z), z, w.Shape().Diameter(z))
				}
			}
		}
	}
}

func TestPastedFloatsRefused(t *testing.T) {
	for text, where := range map[string]string{
		"":                                 "p:1",
		"number;colour\n1;red\n":           "p:1",
		"number;pattern;rating\n":          "p:1",
		"number;pattern;rating\n1;a;8;9\n": "p:2",
	} {
		_, _, err := PastedFloats("p", []byte(text))
		all := fault.List(err)
		if len(all) == 0 || all[0].Class != fault.Input || all[0].Where != where || all[0].Do == "" {
			t.Errorf("%q: %v", text, err)
		}
	}
}
