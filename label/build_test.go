package label

import (
	"encoding/json"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

func TestCheckField(t *testing.T) {
	for _, c := range []struct{ path, value, want string }{
		{"status", `"sold"`, `"sold"`},
		{"status", ` null `, `null`},
		{"made", `"2026-11"`, `"2026-11"`},
		{"price", `" £6.50 "`, `"£6.50"`},
		{"care", `"dry it\r\nbefore it is put away"`, `"dry it\nbefore it is put away"`},
		{"coats/+", `{"product":"  satin varnish ","date":"2026-11-20"}`, `{"date":"2026-11-20","product":"satin varnish"}`},
		{"coats/3", `null`, `null`},
		{"materials/+", `{"part":"body","what":"balsa","mass_g":3.25}`, `{"part":"body","what":"balsa","mass_g":3.25}`},
		{"notes/1", `{"date":"","text":"a\n\tb"}`, `{"date":"","text":"a\n\tb"}`},
		{"fields/+", `{"name":"wood","text":""}`, `{"name":"wood","text":""}`},
		{"publish/coats", `true`, `true`},
		{"photos/2", `{"photo":3,"caption":"c","date":"2026","width":4,"height":3,"bytes":9}`, `{"photo":3,"caption":"c","date":"2026","width":4,"height":3,"bytes":9}`},
	} {
		got, err := CheckField(c.path, json.RawMessage(c.value))
		if err != nil || string(got) != c.want {
			t.Errorf("%s %s: %s %v, want %s", c.path, c.value, got, err, c.want)
		}
	}
	long := strings.Repeat("x", lineMost+1)
	for _, c := range [][2]string{
		{"status", `"lost"`}, {"status", `1`}, {"made", `"20.11.2026"`}, {"made", `"2026-02-30"`}, {"coats", `{}`}, {"coats/0", `null`}, {"coats/01", `null`},
		{"coats/+", `null`}, {"coats/+", `{"date":"2026-11-20"}`}, {"coats/+", `{"product":"a","colour":"b"}`}, {"coats/+", `{"product":"a\u0007"}`},
		{"coats/+", `{"product":"a\u202eb"}`}, {"coats/+", `{"product":"a"} {}`}, {"coats/+", `{"product":"` + long + `"}`}, {"notes/+", `{"text":" "}`},
		{"materials/+", `{"part":"body","mass_g":-1}`}, {"materials/+", `{"part":"body","mass_g":1e9}`}, {"fields/+", `{"text":"a"}`}, {"publish/all", `true`},
		{"publish/coats", `"yes"`}, {"photos/+", `{"photo":1}`}, {"photos/1", `{"caption":"none"}`}, {"other/1", `1`}, {"", `1`}, {"status/1", `1`},
	} {
		if got, err := CheckField(c[0], json.RawMessage(c[1])); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%s %s: %s %v", c[0], c[1], got, err)
		}
	}
}

func build(t *testing.T, kind string, fields map[string]string) Build {
	t.Helper()
	raw := map[string]json.RawMessage{}
	for p, v := range fields {
		raw[p] = json.RawMessage(v)
	}
	return ReadBuild(Subject{kind, "k"}, 7, raw)
}

func TestReadBuild(t *testing.T) {
	b := build(t, KindFloat, map[string]string{"coats/10": `{"product":"j"}`, "coats/2": `{"product":"b"}`, "coats/1": "", "notes/1": "null",
		"price": `"6"`, "publish/price": "true", "fields/1": `{"name":`, "unheard/1": "1"})
	if len(b.Coats) != 2 || b.Coats[0].Number != 2 || b.Coats[1].Path != "coats/10" || b.Coats[1].Value.Product != "j" || b.Coats[0].From != KindFloat {
		t.Errorf("coats %+v", b.Coats)
	}
	if b.Status != InWork || b.Price != "6" || len(b.Notes)+len(b.Fields) != 0 || !b.Publish["price"] || b.Version != 7 {
		t.Errorf("%+v", b)
	}
	if s := build(t, KindBatch, nil).Status; s != "" {
		t.Errorf("a batch is %s", s)
	}
}

// What the maker has not chosen to publish is nowhere in what is public.
func TestPublished(t *testing.T) {
	all := map[string]string{"status": `"sold"`, "made": `"2026"`, "care": `"dry"`, "price": `"6"`, "buyer": `"a buyer"`, "materials/1": `{"part":"body"}`,
		"coats/1": `{"product":"satin","date":"2026"}`, "notes/1": `{"text":"private"}`, "fields/1": `{"name":"n","text":"t"}`, "photos/1": `{"photo":1}`}
	b := Builds{Float: build(t, KindFloat, all)}
	p := b.Public()
	if p.Made != "2026" || p.Care != "dry" || len(p.Materials) != 1 {
		t.Errorf("what is published of itself: %+v", p)
	}
	if p.Status+Status(p.Price+p.Buyer) != "" || len(p.Coats)+len(p.Notes)+len(p.Fields)+len(p.Photos) != 0 {
		t.Errorf("what is kept: %+v", p)
	}
	// The nearest choice counts.
	b.Workshop.Publish = map[string]bool{GroupCoats: true, GroupDates: false, GroupPrice: true}
	b.Batch.Publish = map[string]bool{GroupPrice: false}
	b.Batch.Coats = []Item[Coat]{{1, "coats/1", KindBatch, Coat{Product: "sealer"}}}
	p = b.Public()
	if len(p.Coats) != 2 || p.Coats[0].From != KindBatch || p.Coats[1].Value.Date != "" || p.Made != "" || p.Price != "" {
		t.Errorf("%+v", p)
	}
	if b.Float.Coats[0].Value.Date == "" || b.All().Made != "2026" {
		t.Error("what is public changed what is kept")
	}
	b.Float.Publish = map[string]bool{GroupPrice: true}
	if b.Public().Price != "6" {
		t.Error("the float's own choice does not count")
	}
	b.Float.Status = Retired
	if b.Public().Status != Retired {
		t.Error("that a float is retired is not told")
	}
	for _, c := range Choices() {
		if (Builds{}).Published(c.Group) != c.Default {
			t.Error(c)
		}
	}
	if (Builds{}).Published("all") {
		t.Error("what there is no group of is published")
	}
}

func FuzzCheckField(f *testing.F) {
	f.Add("coats/+", `{"product":"satin","date":"2026"}`)
	f.Add("materials/1", `{"part":"body","mass_g":1.5}`)
	f.Add("status", `"sold"`)
	f.Add("publish/coats", "true")
	f.Fuzz(func(t *testing.T, path, value string) {
		once, err := CheckField(path, json.RawMessage(value))
		if err != nil {
			if fault.ClassOf(err) != fault.Input {
				t.Fatal(err)
			}
			return
		}
		twice, err := CheckField(path, once)
		if err != nil || string(twice) != string(once) {
			t.Fatalf("%q %q -> %q -> %q %v", path, value, once, twice, err)
		}
		ReadBuild(Subject{KindFloat, "k"}, 1, map[string]json.RawMessage{path: once})
	})
}
