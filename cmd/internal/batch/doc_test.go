package batch

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"floatmark/loading/fault"
)

// The demonstration read for writing and written says the same: every figure,
// pattern and float that Parse makes of it.
func TestDocKeepsTheDemo(t *testing.T) {
	d, err := ParseDoc(Demo())
	if err != nil {
		t.Fatal(err)
	}
	want, err := Parse("b.toml", Demo(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Parse("b.toml", d.Source(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Batch.Floats) != len(want.Batch.Floats) {
		t.Fatalf("%d floats, want %d", len(got.Batch.Floats), len(want.Batch.Floats))
	}
	for i := range want.Batch.Floats {
		g, w := got.Batch.Floats[i], want.Batch.Floats[i]
		gp, wp := *g.Pattern, *w.Pattern
		g.Where, w.Where, gp.Where, wp.Where, g.Pattern, w.Pattern = "", "", "", "", nil, nil // lines differ
		for j := range gp.Zones {
			gp.Zones[j].Where = ""
		}
		for j := range wp.Zones {
			wp.Zones[j].Where = ""
		}
		if !reflect.DeepEqual(g, w) || !reflect.DeepEqual(gp, wp) {
			t.Errorf("float %d: %+v of %+v, want %+v of %+v", i+1, g, gp, w, wp)
		}
	}
	g, w := *got, *want
	if !reflect.DeepEqual(g.Batch.Maker, w.Batch.Maker) || g.Film != w.Film || g.DPI != w.DPI || g.Overlap != w.Overlap || !reflect.DeepEqual(g.Batch.Ratings, w.Batch.Ratings) {
		t.Error("maker, film, printer or ratings differ")
	}
	again, err := ParseDoc(d.Source())
	if err != nil || !bytes.Equal(again.Source(), d.Source()) {
		t.Errorf("written twice it differs: %v", err)
	}
	if !bytes.HasPrefix(d.Source(), []byte("format = 1\nname = ")) {
		t.Errorf("it begins %.40q", d.Source())
	}
}

func TestDocGetAndSet(t *testing.T) {
	d, err := ParseDoc(nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path string
		v    any
	}{
		{"format", int64(1)}, {"name", `a "b" \ c`}, {"maker/name", "Withy Sluice Floats"}, {"pattern/0/key", "sedge"},
		{"pattern/0/stations_mm", []any{[]any{int64(0), 3.5}, []any{174.0, int64(3), "curved"}}}, {"pattern/1/key", "reed"},
		{"pattern/1/mark/0/show", []any{"rating", "id"}}, {"float/0/number", int64(1)}, {"float/1/number", int64(2)}, {"print/keep_together", true},
	} {
		if err := d.Set(c.path, c.v); err != nil {
			t.Fatalf("%s: %v", c.path, err)
		}
		if got, ok := d.Get(c.path); !ok || !reflect.DeepEqual(got, c.v) {
			t.Errorf("%s: %v, want %v", c.path, got, c.v)
		}
	}
	back, err := ParseDoc(d.Source())
	if err != nil || !reflect.DeepEqual(back.root, d.root) {
		t.Fatalf("%s\nread as %v, want %v: %v", d.Source(), back.root, d.root, err)
	}
	if d.Len("pattern") != 2 || d.Len("float") != 2 || d.Len("rating") != 0 || d.Len("maker/name") != 0 {
		t.Error("lengths")
	}
	before := d.Clone()
	if d.Set("float/0", nil) != nil || d.Len("float") != 1 || d.Text("float/0/number") != "2" {
		t.Errorf("an item taken out leaves %s", d.Source())
	}
	if d.Set("maker/name", nil) != nil || d.Text("maker/name") != "" {
		t.Error("a key is not taken out")
	}
	if before.Len("float") != 2 || before.Text("maker/name") == "" {
		t.Error("a copy changed with its original")
	}
	if d.Text("pattern/0/stations_mm") != `[[0, 3.5], [174.0, 3, "curved"]]` {
		t.Errorf("stations show as %s", d.Text("pattern/0/stations_mm"))
	}
	for _, bad := range []string{"name/x", "pattern/x", "pattern/7/key", "float/-1/number"} {
		if err := d.Set(bad, "v"); fault.ClassOf(err) != fault.Ours || err == nil {
			t.Errorf("%s: %v", bad, err)
		}
	}
	if _, err := ParseDoc([]byte("a = ")); fault.ClassOf(err) != fault.Input || err == nil {
		t.Errorf("no TOML: %v", err)
	}
}

// Whatever is TOML is written as TOML that says the same.
func FuzzDoc(f *testing.F) {
	f.Add(string(Demo()))
	f.Add("a = 1979-05-27T07:32:00Z\nb = 1979-05-27\nc = 07:32:00\nd = nan\n")
	f.Add("[[a]]\nb = [{c = 1}, 2]\n[a.\"x y\"]\nd = '\\'\n[a.\"x y\".e]\n")
	f.Add("a = []\nb = [[], [{}]]\n\"\" = \"\\u0000\\n\"")
	f.Fuzz(func(t *testing.T, src string) {
		d, err := ParseDoc([]byte(src))
		if err != nil {
			return
		}
		out := d.Source()
		back, err := ParseDoc(out)
		if err != nil {
			t.Fatalf("%q is written as %q: %v", src, out, err)
		}
		if again := back.Source(); !bytes.Equal(again, out) {
			t.Fatalf("%q is written as %q, then as %q", src, out, again)
		}
		var a, b map[string]any
		if toml.Unmarshal([]byte(src), &a) != nil || toml.Unmarshal(out, &b) != nil || strings.Contains(src, "nan") {
			return // nan is not itself
		}
		if !reflect.DeepEqual(plain(a), plain(b)) {
			t.Fatalf("%q says %v, written as %q %v", src, a, out, b)
		}
	})
}
