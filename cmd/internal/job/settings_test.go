package job

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// What is set in the browser holds for every command, what workshop.toml says wins
// and is locked, and nobody overwrites another unseen.
func TestSettings(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	s, err := shop.Settings()
	if err != nil || len(s.Doc.Paths()) != 0 || s.Locked("maker/name") {
		t.Fatalf("%v %v", s.Doc.Paths(), err)
	}
	set := func(d *batch.Doc) error {
		for path, v := range map[string]any{"maker/name": "Withy Sluice Floats", "maker/host": "f.example", "maker/address": []any{"1 Lock Lane", "Withy"}} {
			if err := d.Set(path, v); err != nil {
				return err
			}
		}
		return nil
	}
	first, err := shop.EditSettings(ctx, s.Version, "name", ByBench, set)
	if err != nil || first.Doc.Text("maker/host") != "f.example" {
		t.Fatal(first.Doc, err)
	}
	again, err := Open(shop.Dir)
	if err != nil || again.settings == nil || again.settings.Maker.Name != "Withy Sluice Floats" || len(again.settings.Maker.Address) != 2 {
		t.Fatalf("opened again: %+v %v", again.settings, err)
	}
	if _, err := shop.EditSettings(ctx, s.Version, "name", ByPhone, setTo("maker/name", "Other")); !IsChanged(err) {
		t.Errorf("on an old version: %v", err)
	}
	if _, err := shop.EditSettings(ctx, first.Version, "name", ByBench, setTo("maker/host", "no host")); fault.ClassOf(err) != fault.Input {
		t.Errorf("a wrong host: %v", err)
	}
	file := "format = 1\n[maker]\nname = \"By Hand Floats\"\n"
	if err := os.WriteFile(filepath.Join(shop.Dir, settingsFile), []byte(file), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err = shop.Settings()
	if err != nil || s.Doc.Text("maker/name") != "By Hand Floats" || s.Doc.Text("maker/host") != "f.example" || !s.Locked("maker/name") || s.Locked("maker/host") {
		t.Errorf("%s %v", s.Doc.Source(), err)
	}
	if _, err := shop.EditSettings(ctx, s.Version, "name", ByBench, setTo("maker/name", "Mine")); fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "workshop.toml decides") {
		t.Errorf("a locked one: %v", err)
	}
	if _, err := shop.EditSettings(ctx, s.Version, "name", ByBench, setTo("maker/market", "GB")); err != nil {
		t.Errorf("another one: %v", err)
	}
	if got, _ := os.ReadFile(filepath.Join(shop.Dir, settingsFile)); string(got) != file {
		t.Error("workshop.toml was changed")
	}
	if again, err = Open(shop.Dir); err != nil || again.settings.Maker.Name != "By Hand Floats" || again.settings.Maker.Market != "GB" {
		t.Errorf("%+v %v", again.settings, err)
	}
}

// Changes of the settings are taken back one by one, down to none, and what was
// taken back is not in the way of what is set then.
func TestUndoSettings(t *testing.T) {
	ctx, shop := context.Background(), bench(t)
	now := func(name, undoes string) Settings {
		t.Helper()
		s, err := shop.Settings()
		if err != nil {
			t.Fatal(err)
		}
		if s.Doc.Text("maker/name") != name || s.Undoes != undoes {
			t.Errorf("%q, to undo: %q; want %q and %q", s.Doc.Text("maker/name"), s.Undoes, name, undoes)
		}
		return s
	}
	set := func(name string) {
		t.Helper()
		s, err := shop.Settings()
		if err == nil {
			_, err = shop.EditSettings(ctx, s.Version, "name "+name, ByBench, func(d *batch.Doc) error { return d.Set("maker/name", name) })
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	undo := func() {
		t.Helper()
		s, err := shop.Settings()
		if err == nil {
			_, err = shop.UndoSettings(ctx, s.Version, ByBench)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	now("", "")
	set("a")
	first := now("a", "name a")
	set("b")
	now("b", "name b")
	if _, err := shop.UndoSettings(ctx, first.Version, ByBench); !IsChanged(err) {
		t.Errorf("on an old version: %v", err)
	}
	undo()
	now("a", "name a")
	set("c")
	now("c", "name c")
	undo()
	now("a", "name a")
	undo()
	last := now("", "")
	if _, err := shop.UndoSettings(ctx, last.Version, ByBench); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("nothing is left: %v", err)
	}
	set("d")
	undo()
	now("", "")
}
