package job

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/label/record"
	"floatmark/loading/fault"
)

// packed is a folder packed under a name.
func packed(t *testing.T, dir, name string) []byte {
	t.Helper()
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for path, data := range readTree(t, dir) {
		in, err := z.Create(name + filepath.ToSlash(path))
		if err == nil {
			_, err = io.WriteString(in, data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// backedUp is a backup of a workshop.
func backedUp(t *testing.T, shop *Workshop) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "b.db")
	if _, err := shop.Backup(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// A backup that is sent is looked through, changes nothing by that, and restores
// what was there when it was made; what it replaced is kept.
func TestReceiveBackup(t *testing.T) {
	ctx := t.Context()
	shop, ids := worked(t)
	data := backedUp(t, shop)
	set(t, shop, ofFloat(ids[1]), "status", "retired")
	now, err := shop.Contents()
	if err != nil || now.Floats != 3 || len(now.Batches) != 1 || now.Batches[0].Batch != "26-11" {
		t.Fatalf("%+v %v", now, err)
	}
	got, err := shop.Receive(ctx, bytes.NewReader(data))
	if err != nil || got.Kind != BackupKind || got.Other || got.Holds.Floats != 3 || got.Holds.Rows >= now.Rows || got.Bytes != int64(len(data)) {
		t.Fatalf("%+v %v", got, err)
	}
	if again, ok, err := shop.Received(); !ok || err != nil || again.Sum != got.Sum || again.Holds.Latest != got.Holds.Latest {
		t.Errorf("%+v %v %v", again, ok, err)
	}
	_, err = shop.RestoreReceived(ctx, "other", now.Rows)
	faulty(t, err, fault.Input, "not here any more")
	_, err = shop.RestoreReceived(ctx, got.Sum, now.Rows-1)
	faulty(t, err, fault.Input, "was added to since")
	held, err := record.OpenReadOnly(filepath.Join(shop.Dir, recordsFile))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := held.Summary(); err != nil { // it has it open now
		t.Fatal(err)
	}
	if _, err := shop.RestoreReceived(ctx, got.Sum, now.Rows); !InUse(err) {
		t.Errorf("while it is open: %v", err)
	}
	held.Close()
	done, err := shop.RestoreReceived(ctx, got.Sum, now.Rows)
	if err != nil || done.Kept == "" {
		t.Fatalf("%+v %v", done, err)
	}
	if c, err := shop.Contents(); err != nil || c.Rows != got.Holds.Rows {
		t.Errorf("%+v %v", c, err)
	}
	if _, err := os.Stat(done.Kept); err != nil {
		t.Error("the record of before is lost")
	}
	if _, ok, err := shop.Received(); ok || err != nil {
		t.Error("the copy is still there", err)
	}
}

// An export that is sent packed is imported into another workshop.
func TestReceiveExport(t *testing.T) {
	ctx := t.Context()
	shop, _ := worked(t)
	dir := filepath.Join(t.TempDir(), "e")
	if _, err := shop.Export(ctx, dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", "floatmark-export/"} {
		empty, err := Open(t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		got, err := empty.Receive(ctx, bytes.NewReader(packed(t, dir, name)))
		if err != nil || got.Kind != ExportKind || got.Holds.Floats != 3 {
			t.Fatalf("%q: %+v %v", name, got, err)
		}
		if c, err := empty.Contents(); err != nil || c.Floats != 0 {
			t.Errorf("receiving it changed the record: %+v %v", c, err)
		}
		if done, err := empty.ImportReceived(ctx, got.Sum); err != nil || done.Added == 0 || !done.Settings {
			t.Errorf("%+v %v", done, err)
		}
		if c, err := empty.Contents(); err != nil || c.Floats != 3 {
			t.Errorf("%+v %v", c, err)
		}
	}
}

// What is neither, or damaged, is refused, and nothing of it stays.
func TestReceiveRefused(t *testing.T) {
	ctx := t.Context()
	shop, _ := worked(t)
	dir := filepath.Join(t.TempDir(), "e")
	if _, err := shop.Export(ctx, dir); err != nil {
		t.Fatal(err)
	}
	data := backedUp(t, shop)
	whole := packed(t, dir, "")
	if err := os.Remove(filepath.Join(dir, exportJSON)); err != nil {
		t.Fatal(err)
	}
	for name, bad := range map[string][]byte{"is empty": nil, "neither": []byte("a letter"), "half": data[:len(data)/2], "no workshop.json": packed(t, dir, "x/"), "opened": whole[:len(whole)/2]} {
		_, err := shop.Receive(ctx, bytes.NewReader(bad))
		if fault.ClassOf(err) != fault.Input || name != "half" && !strings.Contains(err.Error(), name) || strings.Contains(err.Error(), incoming) {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := os.Stat(filepath.Join(shop.Dir, incoming)); err == nil {
			t.Errorf("%s: it is kept", name)
		}
	}
	slip := packed(t, dir, "../../")
	if _, err := shop.Receive(ctx, bytes.NewReader(slip)); fault.ClassOf(err) != fault.Input {
		t.Errorf("names that lead out of the folder: %v", err)
	}
}

// A shelf lets go of the records while they are replaced, and reads the new ones.
func TestShelfApart(t *testing.T) {
	shop, ids := worked(t)
	shelf := shop.Shelf()
	defer shelf.Close()
	if _, ok, err := shelf.Entry(ids[0]); !ok || err != nil {
		t.Fatal(ok, err)
	}
	file := filepath.Join(t.TempDir(), "b.db")
	if _, err := shop.Backup(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Restore(t.Context(), file, true); !InUse(err) {
		t.Errorf("while the shelf is open: %v", err)
	}
	if err := shelf.Apart(func() error { _, err := shop.Restore(t.Context(), file, true); return err }); err != nil {
		t.Error(err)
	}
	if _, ok, err := shelf.Entry(ids[0]); !ok || err != nil {
		t.Error(ok, err)
	}
}
