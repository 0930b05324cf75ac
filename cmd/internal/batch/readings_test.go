package batch

import (
	"errors"
	"math"
	"strings"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/tank"
	"floatmark/loading/unit"
	"floatmark/loading/water"
)

// smallTank is how readings of the small batch are taken.
func smallTank(t testing.TB) Tank {
	t.Helper()
	f, err := Parse("b.toml", []byte(small), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	return f.Tank.For(&f.Batch.Floats[0])
}

func TestReadingsFromSpreadsheets(t *testing.T) {
	how := smallTank(t)
	if how.Stage != tank.Fitted || how.TipDiameter != 4 && math.Abs(float64(how.TipDiameter)-4.39) > 0.01 {
		t.Errorf("a loaded float is read %v at a tip of %v", how.Stage, how.TipDiameter)
	}
	for name, csv := range map[string]string{
		"semicolons": "Number;Reading g;Stage;Metal;Water C;Above mm;With;Date;By\n1;0,85;varnished;tin;12,5;-0,8;swivel 0,3 g brass;2026-11-20;M.\n",
		"commas":     "\xef\xbb\xbfnumber,reading,stage,metal,water_c,above_mm,with,date,by\r\n1,0.85 g,varnished,tin,12.5,-0.8,swivel 0.3 g brass,2026-11-20,M.\r\n",
	} {
		all, err := ParseReadings("r.csv", []byte(csv))
		if err != nil || len(all) != 1 {
			t.Fatalf("%s: %v", name, list(err))
		}
		d, err := all[0].Read(how)
		if err != nil {
			t.Fatalf("%s: %v", name, list(err))
		}
		if d.Hung != 0.85 || d.Metal.Key != "tin" || d.Stage != tank.Varnished || d.Water.TempC != 12.5 || d.Above != -0.8 ||
			len(d.With) != 1 || d.With[0].Name != "swivel" || d.With[0].Mass != 0.3 || d.With[0].Metal.Key != "brass" || all[0].By != "M." {
			t.Errorf("%s: %+v", name, d)
		}
	}
}

func TestBadReadings(t *testing.T) {
	how := smallTank(t)
	for _, c := range []struct{ name, csv, want string }{
		{"unknown column", "number,reeding\n", "r.csv:1: unknown column \"reeding\" -> write \"reading\"\nr.csv:1: the column reading is missing -> add a column reading\n"},
		{"no reading", "number,reading\n1,\n", "r.csv:2: the cell reading is empty -> fill it in\n"},
		{"no float", "number,reading\n,1 g\n", "r.csv:2: a reading needs the number or the id of its float, and not both -> fill in the one or the other\n"},
		{"both", "number,id,reading\n1,9KYA3C,1 g\n", "r.csv:2: a reading needs the number or the id of its float, and not both -> fill in the one or the other\n"},
		{"empty", "number,reading\n", "r.csv:1: the file has no readings -> add a line for each reading\n"},
		{"NaN", "number,reading g\n1,NaN\n", "r.csv:2: reading: \"NaN\" is no size"},
		{"negative", "number,reading\n1,-0.8 g\n", "r.csv:2: reading: \"-0.8 g\" is negative -> write it without the minus sign\n"},
		{"infinite", "number,reading,water_c\n1,1 g,Inf\n", "r.csv:2: water_c: \"Inf\" is not a number -> write a plain number, as in 15 or 0,5\n"},
		{"a thousand million shot", "number,reading,metal\n1,1000000000AAA,tin\n", "r.csv:2: reading: \"1000000000AAA\" is no count of shot -> give from 1 to 200 shot of a size\n"},
		{"too much", "number,reading\n1,501 g\n", "r.csv:2: reading: 501 g is no load of a float -> give what hung on the float, from 0 to 500 g\n"},
		{"another metal", "number,reading\n1,3AAA\n", "r.csv:2: reading: \"3AAA\" is shot of tin, and the metal that hung is lead -> weigh the shot together and write its grams\n"},
		{"two at once", "number,reading,stage,date\n1,1 g,paint,2026-13-01\n",
			"r.csv:2: stage: \"paint\" is no stage of a float -> write one of bare, beneath, fitted, varnished\n" +
				"r.csv:2: date: \"2026-13-01\" is no day of the calendar -> write year, month and day as in \"2026-11-20\"\n"},
		{"putty", "number,reading,metal\n1,1 g,putty\n", "r.csv:2: metal: there is no metal \"putty\" -> write it with the density its maker gives or you measured, in g/cm3, as in \"putty:9.0\"\n"},
		{"fitting", "number,reading,with\n1,1 g,swivel\n", "r.csv:2: with: \"swivel\" does not tell name, mass and metal -> write name, mass and metal, as in \"swivel 0.3 g brass\"\n"},
	} {
		all, err := ParseReadings("r.csv", []byte(c.csv))
		if err == nil {
			_, err = all[0].Read(how)
		}
		if got := list(err); !strings.HasPrefix(got, c.want) || strings.Count(got, "\n") != max(1, strings.Count(c.want, "\n")) {
			t.Errorf("%s: got\n%swant\n%s", c.name, got, c.want)
		}
	}
}

func TestTankWithAndAllowanceInTheBatchFile(t *testing.T) {
	src := strings.Replace(small, "[tank]\n", "[tank]\nwith = \"swivel 0.30 g brass + link 120 mg putty:9\"\n", 1)
	src = strings.Replace(src, `metal = "lead"`, `metal = "lead:11.2"`, 1)
	src = strings.Replace(src, "mark_height_mm = 22\n", "mark_height_mm = 22\nallowance = \"0.02 g\"\n", 1)
	f, err := Parse("b.toml", []byte(src), nil, nil)
	if err != nil {
		t.Fatal(list(err))
	}
	r := f.Batch.Floats[0].Reading
	if len(r.With) != 2 || r.With[0].Mass != 0.3 || r.With[1].Mass != 0.12 || r.With[1].Metal.Density != 9 || r.Metal.Density != 11.2 || !r.Metal.Lead {
		t.Errorf("%+v", r)
	}
	if r.ToCome == nil || *r.ToCome != (tank.Allowance{Pull: 0.02, U: 0.02, From: "the batch file"}) || *f.Tank.For(&f.Batch.Floats[0]).ToCome != *r.ToCome {
		t.Errorf("to come: %+v", r.ToCome)
	}
	known, err := Parse("b.toml", []byte(strings.Replace(src, `"0.02 g"`, `"0,012 g ± 0.005 g"`, 1)), nil, nil)
	if err != nil || *known.Batch.Floats[0].Reading.ToCome != (tank.Allowance{Pull: 0.012, U: 0.005, From: "the batch file"}) {
		t.Errorf("with its uncertainty: %v", list(err))
	}
	for _, c := range []struct{ from, to, want string }{
		{`allowance = "0.02 g"`, `allowance = "varnish and decal"`, ""},
		{`allowance = "0.02 g"`, `allowance = "full paint"`, ""},
		{`allowance = "0.02 g"`, `allowance = "0 g"`, ""},
		{`allowance = "0.02 g"`, `allowance = "0,012 g ± 0,005 g"`, ""},
		{`allowance = "0.02 g"`, `allowance = "0.012 g ±"`, "is empty"},
		{`allowance = "0.02 g"`, `allowance = "0.012 g ± 9 g"`, "is more than 1 g"},
		{`allowance = "0.02 g"`, `allowance = "2 g"`, "is more than 1 g"},
		{`allowance = "0.02 g"`, `allowance = "-1 g"`, "is negative"},
		{`allowance = "0.02 g"`, `allowance = 0.02`, "has no unit"},
		{`with = "swivel`, `with = "0.3 g swivel`, "does not tell name, mass and metal"},
		{`metal = "lead:11.2"`, `metal = "putty"`, "no metal \"putty\""},
	} {
		_, err := Parse("b.toml", []byte(strings.Replace(src, c.from, c.to, 1)), nil, nil)
		if got := list(err); (c.want == "") != (err == nil) || !strings.Contains(got, c.want) {
			t.Errorf("%s: %s", c.to, got)
		}
	}
}

// No file of readings makes anything but readings that Load takes, or findings
// of what is wrong with it.
func FuzzParseReadings(f *testing.F) {
	for _, s := range []string{"number,reading\n1,0.85 g\n", "id;reading g;with\n9KYA3C;0,8;swivel 0,3 g brass\n", "number\treading\tabove_mm\n1\t3AAA\t-1\n",
		"number,reading,scale,water_c,salinity\n1,1 1/2 oz,0.01 g,40,42\n", "number,reading\n1,\"", "reading\n", "\xef\xbb\xbf"} {
		f.Add([]byte(s))
	}
	lead, _ := water.MetalByKey("lead")
	how := Tank{Metal: lead, Water: water.Usual(), TipDiameter: 3}
	f.Fuzz(func(t *testing.T, src []byte) {
		all, err := ParseReadings("r.csv", src)
		for _, n := range all {
			d, e := n.Read(how)
			if e == nil {
				var l tank.Load
				if l, e = d.Load(); e == nil && !(l.U > 0 && math.Abs(float64(l.Pull)) <= 1000) {
					t.Fatalf("%+v pulls %v", d, l)
				}
				if e != nil {
					t.Fatalf("%+v is read and has no load: %v", d, e)
				}
			}
			err = errors.Join(err, e)
		}
		for _, e := range fault.List(err) {
			if e.Class != fault.Input || e.Where == "" || e.Do == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}

// What is read of a fitting weighs something and sinks.
func FuzzParseFittings(f *testing.F) {
	for _, s := range []string{"swivel 0.3 g brass", "a 1/8 oz tin + b 3mg putty 9", "ring 1g g", "+", "x 1 g", "a 9 g a:9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		all, err := parseFittings(s)
		if err != nil && fault.ClassOf(err) != fault.Input {
			t.Fatal(err)
		}
		for _, one := range all {
			if !(one.Mass > unit.Gram(0)) || one.Name == "" || one.Metal.Check() != nil {
				t.Fatalf("%q: %+v", s, one)
			}
		}
	})
}
