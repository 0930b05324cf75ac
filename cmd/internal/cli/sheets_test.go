package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"floatmark/cmd/internal/job"
)

// spareIDs DIR BATCH FIRST LAST sets two variables to the ids of a batch's first
// and last spare.
func spareIDs(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 4 || neg {
		ts.Fatalf("usage: spareids DIR BATCH FIRST LAST")
	}
	shop, err := job.Open(ts.MkAbs(args[0]))
	ts.Check(err)
	all, err := shop.SpareList()
	ts.Check(err)
	var ids []string
	for _, s := range all {
		if s.Batch == args[1] {
			ids = append(ids, s.ID)
		}
	}
	if len(ids) < 2 {
		ts.Fatalf("%d spares of %s", len(ids), args[1])
	}
	ts.Setenv(args[2], ids[0])
	ts.Setenv(args[3], ids[len(ids)-1])
}

// A ledger that a newer program wrote is refused by every command that reads or
// changes it, and left as it is.
func TestLedgerOfANewerProgram(t *testing.T) {
	dir := t.TempDir()
	run := func(args ...string) (code int, said string) {
		var errOut bytes.Buffer
		code = Run(context.Background(), append(args, "--workshop", filepath.Join(dir, "workshop")), nil, &bytes.Buffer{}, &errOut)
		return code, errOut.String()
	}
	if code := Run(context.Background(), []string{"demo", "--out", dir}, nil, &bytes.Buffer{}, os.Stderr); code != exitDone {
		t.Fatal(code)
	}
	path := filepath.Join(dir, "workshop", "workshop.db")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	data[63] = 99 // the last byte of the user version (sqlite.org/fileformat2.html, 1.3)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"sheets"}, {"sheets", "show", "1"}, {"sheets", "write-off", "1"}, {"sheets", "used", "1", "--all"},
		{"prints"}, {"prints", "confirm", "1"}, {"prints", "cancel", "1"}, {"spares"}, {"print", filepath.Join(dir, "demo.toml"), "--out", dir}} {
		code, said := run(args...)
		if code != exitInput || !strings.Contains(said, "newer floatmark: it has schema 99") {
			t.Errorf("%v: %d, %s", args, code, said)
		}
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(after, data) {
		t.Errorf("the record was changed, %v", err)
	}
}
