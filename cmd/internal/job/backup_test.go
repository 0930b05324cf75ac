package job

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// readTree reads a folder: path below it to content.
func readTree(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, path))
		all[path] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// worked is a workshop in which something was noted of everything.
func worked(t *testing.T) (*Workshop, []string) {
	shop, ids := noted(t, 3)
	of := ofFloat(ids[0])
	set(t, shop, of, "status", "sold")
	set(t, shop, of, "notes/+", label.Note{Date: "2026-11-20", Text: "=1+1 <b>, \"two\"\nlines"})
	set(t, shop, of, "notes/1", nil)
	set(t, shop, of, "fields/+", label.Field{Name: "wood", Text: "balsa"})
	set(t, shop, of, "buyer", "=HYPERLINK(1)")
	set(t, shop, label.Subject{Kind: label.KindBatch, Key: "26-11"}, "coats/+", label.Coat{Date: "2026-11", Product: "sealer"})
	if _, err := shop.AddPhoto(t.Context(), of, bytes.NewReader(jpegFile(t, testPicture(60, 40), nil)), "on the bench", "2026-11-20", ByPhone, "k"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(shop.Dir, settingsFile), []byte("format = 1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return shop, ids
}

// Export, import into an empty workshop, export: equal files.
func TestExportImportExport(t *testing.T) {
	shop, ids := worked(t)
	a, b := filepath.Join(t.TempDir(), "a"), filepath.Join(t.TempDir(), "below", "b")
	out, err := shop.Export(t.Context(), a)
	if err != nil || out.Floats != 3 || out.Photos != 1 {
		t.Fatalf("%+v %v", out, err)
	}
	other, err := Open(filepath.Join(t.TempDir(), "new"))
	if err != nil {
		t.Fatal(err)
	}
	done, err := other.Import(t.Context(), a)
	if err != nil || done.Added == 0 || !done.Settings {
		t.Fatalf("%+v %v", done, err)
	}
	for range 2 { // over the first one, too
		if _, err := other.Export(t.Context(), b); err != nil {
			t.Fatal(err)
		}
	}
	want, got := readTree(t, a), readTree(t, b)
	if len(want) != 4 || len(got) != len(want) {
		t.Errorf("%d and %d files", len(want), len(got))
	}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s differs", name)
		}
	}
	if found, err := other.Search(t.Context(), "balsa", 5); err != nil || len(found.Found) != 1 || found.Found[0].Key != ids[0] {
		t.Errorf("%+v %v", found, err)
	}
	if done, err := other.Import(t.Context(), a); err != nil || done.Added != 0 || done.Settings {
		t.Errorf("%+v %v", done, err)
	}
	// Another workshop's record is not mixed in.
	mine, _ := noted(t, 1)
	set(t, mine, ofFloat(ids[0]), "status", "returned")
	before := readTree(t, mine.Dir)[recordsFile]
	if _, err := mine.Import(t.Context(), a); fault.ClassOf(err) != fault.Input || len(fault.List(err)) < 2 {
		t.Errorf("%v", err)
	}
	if readTree(t, mine.Dir)[recordsFile] != before {
		t.Error("something was imported")
	}
}

func TestSpreadsheetOfFloats(t *testing.T) {
	shop, ids := worked(t)
	name := filepath.Join(t.TempDir(), "list.csv")
	if out, err := shop.Export(t.Context(), name); err != nil || len(out.Files) != 1 {
		t.Fatalf("%+v %v", out, err)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatal(rows, err)
	}
	row := map[string]string{}
	for i, c := range rows[0] {
		row[c] = rows[1][i]
	}
	for c, want := range map[string]string{"id": ids[0], "number": "1", "rating_g": "4.5", "add_g": "0.8", "status": "sold", "fields": "wood: balsa", "coats": "2026-11, sealer", "notes": "", "photos": "1",
		"buyer": "'=HYPERLINK(1)", "link": "HTTPS://F.EXAMPLE/" + ids[0]} {
		if row[c] != want {
			t.Errorf("%s is %q, want %q", c, row[c], want)
		}
	}
}

func TestExportImportRefused(t *testing.T) {
	shop, _ := worked(t)
	full := t.TempDir()
	file := filepath.Join(full, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for dir, want := range map[string]fault.Class{full: fault.Input, file: fault.Input} {
		if _, err := shop.Export(t.Context(), dir); err == nil || fault.ClassOf(err) != want {
			t.Errorf("%s: %v", dir, err)
		}
	}
	dir := filepath.Join(t.TempDir(), "out")
	if _, err := shop.Export(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
	fresh, err := Open(filepath.Join(t.TempDir(), "w"))
	if err != nil {
		t.Fatal(err)
	}
	for what, spoil := range map[string]func(name string) error{
		"gone":  os.Remove,
		"other": func(name string) error { return os.WriteFile(name, []byte("no picture"), 0o644) },
		"big":   func(name string) error { return os.Truncate(name, photoMostOut+1) },
	} {
		name := filepath.Join(dir, photoName(1))
		keep, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := spoil(name); err != nil {
			t.Fatal(err)
		}
		if _, err := fresh.Import(t.Context(), dir); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("%s: %v", what, err)
		}
		if err := os.WriteFile(name, keep, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := fresh.Import(t.Context(), full); fault.ClassOf(err) != fault.NotFound {
		t.Error(err)
	}
	if _, err := fresh.Export(t.Context(), dir); fault.ClassOf(err) != fault.NotFound {
		t.Error(err)
	}
	if _, err := os.Stat(fresh.Dir); err == nil {
		t.Error("what was refused left a folder")
	}
}

func TestBackupAndRestore(t *testing.T) {
	shop, ids := worked(t)
	file := filepath.Join(t.TempDir(), "copy.db")
	done, err := shop.Backup(t.Context(), file)
	if err != nil || done.Bytes < 1000 || done.Latest == "" {
		t.Fatalf("%+v %v", done, err)
	}
	if _, err := shop.Backup(t.Context(), file); err != nil { // the next day
		t.Error(err)
	}
	set(t, shop, ofFloat(ids[0]), "status", "returned")
	if _, err := shop.Restore(t.Context(), file, false); fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), "lacks") {
		t.Errorf("what came after the backup would be lost: %v", err)
	}
	back, err := shop.Restore(t.Context(), file, true)
	if err != nil || back.Kept == "" {
		t.Fatalf("%+v %v", back, err)
	}
	if b, _, err := shop.Build(ids[0]); err != nil || b.Float.Status != label.Sold {
		t.Errorf("%+v %v", b.Float, err)
	}
	if sum, err := record.Verify(back.Kept); err != nil || sum.Rows <= 5 {
		t.Errorf("the old record: %+v %v", sum, err)
	}
	// Into a folder that is not there yet, and again over the same.
	fresh, err := Open(filepath.Join(t.TempDir(), "w", "new"))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := fresh.Restore(t.Context(), file, false); err != nil {
			t.Error(err)
		}
	}
	if p, ok, err := fresh.Photo(1); err != nil || !ok || len(p) == 0 {
		t.Error(ok, err)
	}
}

func TestBackupAndRestoreRefused(t *testing.T) {
	shop, ids := worked(t)
	dir := t.TempDir()
	foreign, damaged := filepath.Join(dir, "letter.txt"), filepath.Join(dir, "damaged.db")
	if err := os.WriteFile(foreign, []byte("Dear customer, "), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{foreign, dir, filepath.Join(shop.Dir, recordsFile)} {
		if _, err := shop.Backup(t.Context(), name); err == nil || fault.ClassOf(err) != fault.Input {
			t.Errorf("backup to %s: %v", name, err)
		}
	}
	if _, err := shop.Backup(t.Context(), damaged); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(damaged)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(damaged, data[:len(data)/2], 0o644); err != nil {
		t.Fatal(err)
	}
	before := readTree(t, shop.Dir)
	for name, want := range map[string]fault.Class{foreign: fault.Input, dir: fault.Input, damaged: fault.Machine, filepath.Join(dir, "none"): fault.NotFound, filepath.Join(shop.Dir, recordsFile): fault.Input} {
		if _, err := shop.Restore(t.Context(), name, true); err == nil || fault.ClassOf(err) != want {
			t.Errorf("restore %s: %v", name, err)
		}
	}
	// While somebody else has it open.
	good := filepath.Join(dir, "good.db")
	if _, err := shop.Backup(t.Context(), good); err != nil {
		t.Fatal(err)
	}
	s, err := record.Open(filepath.Join(shop.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Restore(t.Context(), good, true); fault.ClassOf(err) != fault.Machine {
		t.Errorf("%v", err)
	}
	s.Close()
	if after := readTree(t, shop.Dir); len(after) != len(before) || after[recordsFile] != before[recordsFile] {
		t.Errorf("something was changed: %d files, were %d", len(after), len(before))
	}
	if b, _, err := shop.Build(ids[0]); err != nil || b.Float.Status != label.Sold {
		t.Errorf("%+v %v", b.Float, err)
	}
}
