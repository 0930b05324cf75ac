package batch

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

// withCSV reads small with its floats in a CSV file.
func withCSV(csv string) (*File, error) {
	head, _, _ := strings.Cut(small, "[[float]]")
	src := strings.Replace(head, "[maker]", "floats = \"floats.csv\"\n[maker]", 1)
	return Parse("dir/b.toml", []byte(src), func(name string) ([]byte, error) {
		if name != "floats.csv" {
			return nil, errors.New("no such file")
		}
		return []byte(csv), nil
	}, nil)
}

// The same two floats as spreadsheets of different countries write them.
func TestSpreadsheets(t *testing.T) {
	for _, c := range []struct{ name, csv string }{
		{"points and commas", "number,pattern,rating,built_in,metal,reading,bare,note\n2,sedge,8 g,7.2 g,brass,0.83 g,,\n1,sedge,8 g,7.21 g,brass,0.8 g,8.65 g,first\n"},
		{"commas and semicolons", "number;pattern;rating g;built in g;metal;reading g;bare (g);note\n1;sedge;8;7,21;brass;0,8;8,65;first\n2;sedge;8,0;7,2;brass;0,83;;\n"},
		{"byte order mark, Windows", "\xef\xbb\xbfNumber;Pattern;Rating [g];Built-in g;Metal;Reading g;Bare g;Note\r\n1;sedge;8;7,21;brass;0,8;8,65;first\r\n;;;;;;;\r\n2;sedge;8;7,2;brass;0,83 g;;\r\n"},
		{"tabs", "note\tnumber\tpattern\trating\tbuilt_in\tmetal\treading\tbare\nfirst\t1\tsedge\t8g\t7,21g\tbrass\t0,8g\t8,65g\n\t2\tsedge\t8g\t7,2g\tbrass\t0,83g\n"},
		{"quoted decimal commas", "number,pattern,rating,built_in,metal,reading,bare,note\n1,sedge,\"8 g\",\"7,21 g\",brass,\"0,8 g\",\"8,65 g\",first\n2,sedge,8 g,\"7,2 g\",brass,\"0,83 g\",,\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := withCSV(c.csv)
			if err != nil {
				t.Fatal(list(err))
			}
			a := f.Batch.Floats
			if len(a) != 2 || string(f.Floats) != c.csv {
				t.Fatalf("%d floats", len(a))
			}
			got := fmt.Sprint(a[0].Number, a[0].Nominal, a[0].Weight.Mass, a[0].Reading.Hung, a[0].Bare.Hung, a[0].Note,
				a[1].Number, a[1].Nominal, a[1].Weight.Mass, a[1].Reading.Hung, a[1].Bare == nil, a[1].Note)
			if want := fmt.Sprint(1, 8, 7.21, 0.8, 8.65, "first", 2, 8, 7.2, 0.83, true, ""); got != want {
				t.Errorf("got  %s\nwant %s", got, want)
			}
		})
	}
}

func TestBadCSV(t *testing.T) {
	const head = "number,pattern,rating,built_in,metal,reading\n"
	for _, c := range []struct{ name, csv, want string }{
		{"missing unit", head + "1,sedge,8 g,7.2,brass,0.83 g\n", "dir/floats.csv:2: built_in: \"7.2\" has no unit -> write \"7.2 g\"\n"},
		{"decimal comma between commas", head + "1,sedge,8 g,7,2 g,brass,0.83 g\n",
			"dir/floats.csv:2: this line has 7 cells, the first one has 6 -> put a decimal comma in quotation marks, or use semicolons between the columns\n"},
		{"unknown column", "number,pattern,rating,buit_in,metal\n", "dir/floats.csv:1: unknown column \"buit_in\" -> write \"built_in\"\n"},
		{"column twice", "number,pattern,rating,rating\n", "dir/floats.csv:1: the column \"rating\" stands twice -> keep one of them\n"},
		{"column missing", "number,pattern\n", "dir/floats.csv:1: the column rating is missing -> add a column rating\n"},
		{"column without a name", "number,pattern,rating,built_in,metal,\n1,sedge,8 g,7.2 g,brass,x\n", "dir/floats.csv:2: \"x\" stands in a column without a name -> name the column in the first line\n"},
		{"cell empty", head + "1,,8 g,7.2 g,brass,0.83 g\n", "dir/floats.csv:2: the cell pattern is empty -> fill it in\n"},
		{"two findings", head + "1,sege,8 g,7.2 g,brass,0.83 g\n1,sedge,8 g,7.2 g,bras,0.83 g\n",
			"dir/floats.csv:2: there is no pattern \"sege\" -> write \"sedge\"\n" +
				"dir/floats.csv:3: float 1 stands twice, first at dir/floats.csv:2 -> give each float its own place on the drying board\n" +
				"dir/floats.csv:3: metal: there is no metal \"bras\" -> write \"brass\"\n"},
		{"thousands", head + "1,sedge,8 g,\"1,007.2 g\",brass,0.83 g\n", "dir/floats.csv:2: built_in: \"1,007.2 g\" is not a mass -> write a number and its unit, as in \"0.83 g\"\n"},
		{"open quotation mark", head + "1,\"sedge,8 g\n", "dir/floats.csv:2: this is no CSV: extraneous or missing \" in quoted-field -> mend the quotation marks of this line\n"},
		{"empty", "", "dir/floats.csv:1: the file is empty -> name the columns in its first line: number, pattern, rating, built_in, metal, reading, bare, note, dedication\n"},
		{"no floats", head, "dir/floats.csv:1: the file has no floats -> add a line for each float\n"},
		{"not UTF-8", "n\xff", "dir/floats.csv:1: the file is no CSV text -> save it as CSV in UTF-8, at most 4 MiB\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := withCSV(c.csv); list(err) != c.want {
				t.Errorf("got:\n%swant:\n%s", list(err), c.want)
			}
		})
	}
}

func TestFloatsFileElsewhere(t *testing.T) {
	head, floats, _ := strings.Cut(small, "[[float]]")
	read := func(string) ([]byte, error) { return []byte("number,pattern,rating\n"), nil }
	for _, c := range []struct{ src, want string }{
		{strings.Replace(head, "[maker]", "floats = \"../f.csv\"\n[maker]", 1), "b.toml:4:10: floats: \"../f.csv\" cannot be read -> name a CSV file that lies beside the batch file\n"},
		{strings.Replace(head, "[maker]", "floats = \"f.csv\"\n[maker]", 1) + "[[float]]" + floats, "b.toml:4:1: the batch has both floats = \"f.csv\" and [[float]] -> keep the one or the other\n"},
		{head, "b.toml:1:1: the batch has no floats -> add a [[float]] for each float, or floats = \"floats.csv\"\n"},
	} {
		if _, err := Parse("b.toml", []byte(c.src), read, nil); list(err) != c.want {
			t.Errorf("got:\n%swant:\n%s", list(err), c.want)
		}
	}
}

func FuzzCSV(f *testing.F) {
	f.Add("number;pattern;rating g;built in g;metal;reading g\n1;sedge;8;7,21;brass;0,8\n")
	f.Add("number,pattern,rating,built_in,metal\n1,sedge,\"8 g\",\"7,2 g\",brass\n")
	f.Add("\xef\xbb\xbf\"number\"\tpattern\trating\n")
	f.Fuzz(func(t *testing.T, csv string) {
		file, err := withCSV(csv)
		if (file == nil) != (err != nil) {
			t.Fatalf("file %v, error %v", file, err)
		}
		for _, e := range fault.List(err) {
			if e.Class != fault.Input || !strings.HasPrefix(e.Where, "dir/floats.csv:") || e.Do == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}
