package job

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// withSpares is a workshop of floats with one spare that is on the first and one
// that is on none.
func withSpares(t *testing.T) (shop *Workshop, ids []string, claimed, free string) {
	t.Helper()
	shop, ids = noted(t, 3)
	_, more := notedFloats(t, "spares", 2)
	claimed, free = more[0], more[1]
	s, err := record.Open(filepath.Join(shop.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	spare := func(id string, n int) record.Spare {
		return record.Spare{ID: id, Batch: "26-11", Number: n, Pattern: "reed", Figures: "f", Data: []byte(`{"format":1,"code":"HTTPS://F.EXAMPLE/` + id + `"}`)}
	}
	floats, err := s.Floats("26-11")
	if err == nil {
		p := record.Print{Key: "with spares", Batch: "26-11", Made: "2026-11-21T10:00:00Z", Data: []byte(`{"format":1,"floats":[]}`),
			Spares: []record.Spare{spare(claimed, 1), spare(free, 2)}}
		floats[0].Figures = "f"
		err = s.SavePrint(p, floats)
	}
	if err != nil {
		t.Fatal(err)
	}
	prints, err := s.AllPrints()
	if err == nil {
		err = s.ConfirmPrint(prints[len(prints)-1].Number, "2026-11-21T11:00:00Z")
	}
	if err == nil {
		err = s.ClaimSpare(claimed, "26-11", 1, "2026-11-21T12:00:00Z")
	}
	if err != nil {
		t.Fatal(err)
	}
	return shop, ids, claimed, free
}

func TestCheckFolder(t *testing.T) {
	shop, ids, claimed, free := withSpares(t)
	dir := t.TempDir()
	out, _ := publish(t, shop, dir, Publishing{})
	if out.Floats != 3 || out.Spares != 1 {
		t.Errorf("%+v", out)
	}
	if all := tree(t, dir); all[claimed+"/index.html"] != all[ids[0]+"/index.html"] || all[strings.ToLower(claimed)+"/index.html"] == "" || all[free+"/index.html"] != "" {
		t.Error("a spare does not lead to the float that it is on, or one leads somewhere that is on none")
	}
	got, err := shop.CheckFolder(t.Context(), dir)
	if err != nil || got.Err() != nil || len(got.Bad) > 0 || got.Found != got.Codes-1 || len(got.Spare) != 1 || got.Spare[0].ID != free {
		t.Fatalf("%+v %v", got, err)
	}
	if n := len(got.Hosts); n == 0 || got.Hosts[n-1].Host != "f.example" || got.Hosts[n-1].Codes != 5 {
		t.Errorf("%+v", got.Hosts)
	}
	for _, c := range []struct {
		name, state string
		spoil       func(path string) error
		path        string
	}{
		{"missing", LinkMissing, os.Remove, ids[1] + "/index.html"},
		{"missing in small letters", LinkMissing, os.Remove, strings.ToLower(ids[1]) + "/index.html"},
		{"another page", LinkWrong, func(p string) error { return os.WriteFile(p, []byte("closed"), 0o644) }, ids[1] + "/index.html"},
		{"a spare's", LinkMissing, os.Remove, claimed + "/index.html"},
	} {
		if err := c.spoil(filepath.Join(dir, c.path)); err != nil {
			t.Fatal(err)
		}
		got, err := shop.CheckFolder(t.Context(), dir)
		if err != nil || fault.ClassOf(got.Err()) != fault.NotFound || len(got.Bad) == 0 || got.Bad[0].State != c.state || got.Bad[0].Why == "" {
			t.Errorf("%s: %+v %v", c.name, got, err)
		}
		publish(t, shop, dir, Publishing{})
		if got, err := shop.CheckFolder(t.Context(), dir); err != nil || got.Err() != nil {
			t.Errorf("%s, published anew: %+v %v", c.name, got, err)
		}
	}
	if _, err := shop.CheckFolder(t.Context(), filepath.Join(dir, "none")); fault.ClassOf(err) != fault.NotFound {
		t.Error(err)
	}
}

func TestCheckServer(t *testing.T) {
	shop, ids, _, _ := withSpares(t)
	dir := t.TempDir()
	publish(t, shop, dir, Publishing{})
	busy := 1
	files := http.FileServer(http.Dir(dir))
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if busy > 0 && strings.Contains(r.URL.Path, ids[2]) {
			busy--
			w.Header().Set("Retry-After", "1")
			w.WriteHeader(http.StatusTooManyRequests)
			return
		}
		files.ServeHTTP(w, r)
	}))
	defer s.Close()
	if got, err := shop.CheckServer(t.Context(), s.URL); err != nil || got.Err() != nil || busy != 0 {
		t.Errorf("%+v %v", got, err)
	}
	if err := os.RemoveAll(filepath.Join(dir, ids[1])); err != nil {
		t.Fatal(err)
	}
	if got, err := shop.CheckServer(t.Context(), s.URL); err != nil || len(got.Bad) == 0 || got.Bad[0].ID != ids[1] || got.Bad[0].Why != "404 Not Found" {
		t.Errorf("%+v %v", got, err)
	}
	s.Close()
	if _, err := shop.CheckServer(t.Context(), s.URL); fault.ClassOf(err) != fault.Machine {
		t.Error(err)
	}
	for _, bad := range []string{"", "f.example", "ftp://f.example", "http://", "http://f.example/?a=b"} {
		if _, err := shop.CheckServer(t.Context(), bad); fault.ClassOf(err) != fault.Input {
			t.Errorf("%q: %v", bad, err)
		}
	}
}
