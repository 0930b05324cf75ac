package job

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Asking makes nothing; what was stored last is what is answered.
func TestFilmLimit(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, ok, err := w.FilmLimit("a4-film-white"); ok || err != nil {
		t.Fatal(ok, err)
	}
	if all, err := w.FilmLimits(); len(all) != 0 || err != nil {
		t.Fatal(all, err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Fatal("asking made a workshop")
	}
	// The closed form for a ball of 40 mm: (h/80)².
	for _, h := range []unit.Millimetre{30, 2, 12} {
		if _, err := w.SetFilmLimit(t.Context(), "a4-film-white", h); err != nil {
			t.Fatal(err)
		}
		limit, height, ok, err := w.FilmLimit("a4-film-white")
		if want := float64(h*h) / 6400; !ok || err != nil || height != h || math.Abs(limit-want) > 1e-6 {
			t.Errorf("%v mm: %v of %v mm, %v %v, want %v", h, limit, height, ok, err, want)
		}
	}
	if _, _, ok, err := w.FilmLimit("a4-film-clear"); ok || err != nil {
		t.Errorf("another film has one: %v %v", ok, err)
	}
}

func TestFilmLimitRefuses(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	w, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		key    string
		height unit.Millimetre
	}{
		{"a4-film-white", 200}, {"a4-film-white", 1.9}, {"a4-film-white", 30.1}, {"a4-film-white", -10},
		{"a4-film-white", unit.Millimetre(math.NaN())}, {"a4-film-white", unit.Millimetre(math.Inf(1))},
		{"a4-card", 10}, {"a4-paper", 10}, {"by-hand", 10}, {"", 10}, {"nosuch", 10},
	} {
		if _, err := w.SetFilmLimit(t.Context(), c.key, c.height); fault.ClassOf(err) != fault.Input || err == nil {
			t.Errorf("%q, %v mm: %v, want an input error", c.key, c.height, err)
		}
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := w.SetFilmLimit(stopped, "a4-film-white", 10); err == nil {
		t.Error("a stopped call stores")
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("a refusal made a workshop")
	}
}

// A stopped or failed write leaves neither file nor folder.
func TestWriteStretchSheetLeavesNoPart(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	w, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := w.WriteStretchSheet(stopped, "a5-film-white", 600, filepath.Join(dir, "s.pdf")); err == nil {
		t.Error("a stopped call writes")
	}
	if _, err := os.Stat(filepath.Dir(dir)); err == nil {
		t.Error("a folder is left")
	}
}
