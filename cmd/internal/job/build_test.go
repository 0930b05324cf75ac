package job

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/label/ident"
	"floatmark/label/record"
	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// noted is a workshop with a record of n floats of batch "26-11" and no files: ids
// are from a fixed key.
func noted(t testing.TB, n int) (*Workshop, []string) {
	t.Helper()
	dir := t.TempDir()
	s, err := record.Open(filepath.Join(dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	floats, ids := notedFloats(t, "26-11", n)
	data, err := json.Marshal(printed{Format: 1, Batch: "26-11", Convention: "uk-now", Revision: 2, Metal: "tin", Floats: []printedFloat{{Number: 1, ID: ids[0], Lines: []string{"8 g"}}},
		Codes: []CodeReport{{Floats: []int{1, 2}, On: "float", Reads: "anyhow", Dots: 8}}})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SavePrint(record.Print{Key: "k", Batch: "26-11", Made: "2026-11-20T10:00:00Z", Data: data,
		Regions: []record.Region{{Number: 1, Stock: "film", Feed: "top", Data: json.RawMessage(`{}`)}}}, floats,
		record.Setting{Name: keyName, Value: strings.Repeat("00", keyBytes)}); err != nil {
		t.Fatal(err)
	}
	shop, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return shop, ids
}

func notedFloats(t testing.TB, batch string, n int) ([]record.Float, []string) {
	t.Helper()
	floats := make([]record.Float, n)
	ids := make([]string, n)
	taken := map[string]bool{}
	for i := range floats {
		attempt := 0
		id := string(ident.Make(make([]byte, keyBytes), batch, i+1, attempt))
		for taken[id] {
			attempt++
			id = string(ident.Make(make([]byte, keyBytes), batch, i+1, attempt))
		}
		taken[id] = true
		load := []string{"4.5 g", "8 g", "10 g"}[i%3]
		e := label.Entry{Format: 1, ID: id, Batch: batch, Number: i + 1, Date: "2026-11-20", Maker: "Withy Sluice Floats", Pattern: []string{"Reed", "Sedge"}[i%2], Kind: "loaded",
			Rating: load, RatingG: unit.Gram([]float64{4.5, 8, 10}[i%3]), AddG: 0.8, Add: "0.8 g", Metal: "tin", Water: "fresh water", Convention: "uk-now", Code: "HTTPS://F.EXAMPLE/" + id}
		data, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		floats[i] = record.Float{ID: id, Batch: batch, Number: i + 1, Attempt: attempt, Pattern: strings.ToLower(e.Pattern), Data: data, Created: "2026-11-20T10:00:00Z"}
		ids[i] = id
	}
	return floats, ids
}

func ofFloat(id string) label.Subject { return label.Subject{Kind: label.KindFloat, Key: id} }

// set changes one field and fails the test if it cannot.
func set(t testing.TB, shop *Workshop, of label.Subject, path string, value any) BuildChanged {
	t.Helper()
	c, err := Set(of, path, value, Unseen)
	if err != nil {
		t.Fatal(err)
	}
	done, err := shop.Change(context.Background(), []BuildChange{c}, ByBench, "")
	if err != nil {
		t.Fatal(err)
	}
	return done
}

func TestBuildOfAFloat(t *testing.T) {
	shop, ids := noted(t, 2)
	set(t, shop, label.Subject{Kind: label.KindPattern, Key: "reed"}, "materials/+", label.Material{Part: "body", What: "balsa"})
	set(t, shop, label.Subject{Kind: label.KindBatch, Key: "26-11"}, "coats/+", label.Coat{Date: "2026-11-18", Product: "sealer"})
	done := set(t, shop, ofFloat(strings.ToLower(ids[0][:3])+" "+ids[0][3:]), "coats/+", label.Coat{Product: "satin varnish"})
	if done.Paths[0] != "coats/1" {
		t.Errorf("%+v", done)
	}
	set(t, shop, ofFloat(ids[0]), "status", "sold")
	b, ok, err := shop.Build(ids[0])
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	all := b.All()
	if all.Status != label.Sold || len(all.Coats) != 2 || all.Coats[0].Value.Product != "sealer" || all.Coats[1].From != label.KindFloat || len(all.Materials) != 1 {
		t.Errorf("%+v", all)
	}
	if other, _, _ := shop.Build(ids[1]); other.Float.Status != label.InWork || len(other.All().Coats) != 1 || len(other.All().Materials) != 0 {
		t.Errorf("its fellow: %+v", other.All())
	}
	set(t, shop, ofFloat(ids[0]), "coats/1", nil)
	past, err := shop.BuildHistory(ofFloat(ids[0]))
	if err != nil || len(past) != 3 || string(past[2].After) != "null" || !strings.Contains(string(past[2].Before), "satin") || past[2].By != ByBench || past[2].At == "" {
		t.Errorf("%+v %v", past, err)
	}
	if _, ok, err := shop.Build("AAAAAA"); ok || err != nil {
		t.Error(ok, err)
	}
}

func TestBuildRefused(t *testing.T) {
	shop, ids := noted(t, 1)
	for _, c := range []struct {
		of    label.Subject
		path  string
		value any
		class fault.Class
	}{
		{ofFloat("9KYA3D"), "status", "sold", fault.Input},
		{ofFloat("9KYA3C"), "status", "sold", fault.NotFound},
		{ofFloat(ids[0]), "status", "lost", fault.Input},
		{ofFloat(ids[0]), "coats/4", label.Coat{Product: "x"}, fault.NotFound},
		{ofFloat(ids[0]), "photos/1", label.Photo{Photo: 1, Width: 1, Height: 1, Bytes: 1}, fault.Input},
		{label.Subject{Kind: label.KindBatch, Key: "27-1"}, "made", "2026", fault.NotFound},
		{label.Subject{Kind: label.KindBatch, Key: "26-11"}, "status", "sold", fault.Input},
		{label.Subject{Kind: label.KindPattern, Key: "x"}, "made", "2026", fault.NotFound},
		{label.Subject{Kind: "shelf"}, "made", "2026", fault.Input},
	} {
		ch, err := Set(c.of, c.path, c.value, Unseen)
		if err != nil {
			t.Fatal(err)
		}
		good, _ := Set(ofFloat(ids[0]), "price", "6", Unseen)
		if _, err := shop.Change(t.Context(), []BuildChange{good, ch}, ByPhone, ""); err == nil || fault.ClassOf(err) != c.class {
			t.Errorf("%v %s: %v", c.of, c.path, err)
		}
	}
	if past, err := shop.BuildHistory(ofFloat(ids[0])); err != nil || len(past) != 0 {
		t.Errorf("something was changed: %+v %v", past, err)
	}
	if _, err := shop.Change(t.Context(), nil, ByPhone, ""); fault.ClassOf(err) != fault.Input {
		t.Error(err)
	}
	empty, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := empty.BuildOf(ofFloat(ids[0])); fault.ClassOf(err) != fault.NotFound {
		t.Error(err)
	}
}

// Of two who change one field, the second is told who was before him.
func TestTwoChangeOneField(t *testing.T) {
	shop, ids := noted(t, 1)
	b, _, err := shop.Build(ids[0])
	if err != nil {
		t.Fatal(err)
	}
	first, _ := Set(ofFloat(ids[0]), "status", "sold", b.Float.Version)
	second, _ := Set(ofFloat(ids[0]), "status", "returned", b.Float.Version)
	if _, err := shop.Change(t.Context(), []BuildChange{first}, ByPhone, "k1"); err != nil {
		t.Fatal(err)
	}
	if again, err := shop.Change(t.Context(), []BuildChange{first}, ByPhone, "k1"); err != nil || !again.Known {
		t.Errorf("sent again: %+v %v", again, err)
	}
	_, err = shop.Change(t.Context(), []BuildChange{second}, ByBench, "k2")
	if fault.ClassOf(err) != fault.Input || !errors.Is(err, record.ErrChanged) || !strings.Contains(fmt.Sprint(err), "through the phone") {
		t.Errorf("%v", err)
	}
}

func TestFloatPrints(t *testing.T) {
	shop, ids := noted(t, 2)
	got, err := shop.FloatPrints(ids[0])
	if err != nil || len(got) != 1 || got[0].Convention != "uk-now" || got[0].Revision != 2 || got[0].State != record.Pending || !slices.Equal(got[0].Sheets, []int{1}) || got[0].Lines[0] != "8 g" ||
		got[0].Proof == nil || got[0].Proof.Reads != "anyhow" || len(got[0].Proof.Floats) != 1 {
		t.Errorf("%+v %v", got, err)
	}
	if got, err := shop.FloatPrints(ids[1]); err != nil || len(got) != 0 {
		t.Errorf("%+v %v", got, err)
	}
}
