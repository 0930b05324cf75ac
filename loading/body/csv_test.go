package body

import (
	"slices"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

func TestParseCSV(t *testing.T) {
	want := []Station{{Z: 0, D: 4}, {Z: 20.5, D: 10.25, Kind: Round, Corner: true}, {Z: 30, D: 0}}
	for name, text := range map[string]string{
		"points":    "0,4\n20.5,10.25,round,yes\n30,0\n",
		"commas":    "0;4\n20,5;10,25;round;x\n30;0",
		"mixed":     "0;4,0\n20.5;10,25;round;1\n30;0",
		"both":      "0;\t4\n20,5;\t10,25;round;x\n30;\t0",
		"tabs":      "0\t4\r\n20,5\t10,25\tRound\tcorner\r\n30\t0\r\n",
		"quoted":    "0,4\n\"20,5\",\"10,25\",round,true\n30,0\n",
		"header":    "\ufeffheight mm;diameter mm;kind;corner\n0;4;straight;no\n20,5;10,25;round;yes\n30;0;;\n",
		"reordered": "d (mm),corner,z,kind\n4,,0,\n10.25,yes,20.5,round\n0,0,30\n",
		"names":     "Höhe;Breite\n0;4\n20,5;10,25;round;yes\n30;0\n",
		"notes":     "# measured over the last coat; dry\n\n0, 4 mm\n\n20.5 mm, 10.25mm, round, yes\n # \n30,0\n",
	} {
		got, err := ParseCSV(text)
		if name == "notes" { // a # behind a blank is no note
			if err == nil || !strings.Contains(err.Error(), "line 6") {
				t.Errorf("%s: %v, %v; want an error at line 6", name, got, err)
			}
			got, err = ParseCSV(strings.Replace(text, " # ", "#", 1))
		}
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
}

func TestParseCSVRefuses(t *testing.T) {
	for _, c := range []struct{ text, where, what string }{
		{"", "", "two stations"},
		{"height;diameter\n", "", "two stations"},
		{"0;4\n", "", "two stations"},
		{"0;4\n10\n", "line 2", "the diameter is missing"},
		{"0;4\n;5\n", "line 2", "the height is missing"},
		{"0;4\n1e1;5\n", "line 2", "not a number"},
		{"0;4\n10 in;5\n", "line 2", "not a number"},
		{"height in;diameter in\n0;4\n10;5\n", "line 1", "not in mm"},
		{"height (cm);d\n0;4\n10;5\n", "line 1", "not in mm"},
		{"0,5,4,5\n10,5,6,5\n", "line 1", "no kind"},
		{"0;4;straight;maybe\n10;5\n", "line 1", "corner"},
		{"0;4\n\n10;5\n10;6\n", "line 4: station 3", "does not lie above"},
		{"0;4\n10;0\n20;5\n", "line 2: station 2", "0 inside"},
		{"0;4\n10;81\n", "line 2: station 2", "not between"},
		{"0;-4\n10;8\n", "line 1: station 1", "not between"},
		{"0,4\n\"10,5\n", "line 2", "quotes"},
		{strings.Repeat("0;4\n", maxStations+1), "line 2001", "more than"},
	} {
		got, err := ParseCSV(c.text)
		list := fault.List(err)
		if len(list) != 1 || list[0].Class != fault.Input || list[0].Where != c.where || list[0].Do == "" || !strings.Contains(list[0].What, c.what) {
			t.Errorf("%.40q: %v, %v; want %q at %q", c.text, got, err, c.what, c.where)
		}
	}
}

func FuzzParseCSV(f *testing.F) {
	for _, s := range []string{"0;4\n10,5;6\n", "z\td\n0\t4\n9\t5\tround\tx\n", "0,\"4,5\"\n3,5\n", "#\n\"", "d,z\n1,2,3,4,5\n", "\ufeff0,0\n1,0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		st, err := ParseCSV(text)
		if err != nil {
			if c := fault.ClassOf(err); c != fault.Input {
				t.Fatalf("%q: %v is of class %v", text, err, c)
			}
			return
		}
		// What it lets through is a body, but for one without any thickness.
		if p, err := New(st); err != nil && !strings.Contains(err.Error(), "no thickness") || err == nil && !(p.Length() > 0) {
			t.Fatalf("%q: %v, %v", text, st, err)
		}
	})
}
