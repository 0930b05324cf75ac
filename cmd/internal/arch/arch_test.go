// Package arch holds the tests that keep the tree in its layers: what a package
// may import and touch, and what lies at the top of the repository. It has no
// code outside tests and nothing imports it.
//
// DEVELOPERS.md says which package may import which, in a table; the tests here
// compare it with the code, over all build tags. To write the table anew:
//
//	go test ./cmd/internal/arch -run Table -print
package arch

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

var printTable = flag.Bool("print", false, "print the import table as the code has it, and stop")

// root is the top of the repository as seen from this folder.
var root = filepath.Join("..", "..", "..")

// The table of DEVELOPERS.md is what the code does, no more and no less.
func TestTable(t *testing.T) {
	tr, err := readTree(root)
	if err != nil {
		t.Fatal(err)
	}
	if *printTable {
		fmt.Print(tr.table())
		// Output of a test that passes is not shown, so this one does not pass.
		t.Fatal("the table was printed, not compared")
	}
	doc, err := os.ReadFile(filepath.Join(root, tableFile))
	if err != nil {
		t.Fatal(err)
	}
	report(t, checkTable(tr, string(doc)))
}

// What the code may do beside importing: direction of the layers, clock, disc,
// network, init functions, package comments.
func TestCode(t *testing.T) {
	tr, err := readTree(root)
	if err != nil {
		t.Fatal(err)
	}
	report(t, checkCode(tr))
}

// The top level is fixed.
func TestTopLevel(t *testing.T) {
	findings, err := checkTopLevel(root)
	if err != nil {
		t.Fatal(err)
	}
	report(t, findings)
}

// The project speaks of itself alone.
func TestHouseWords(t *testing.T) {
	findings, err := checkHouseWords(root)
	if err != nil {
		t.Fatal(err)
	}
	report(t, findings)
}

func report(t *testing.T, findings []string) {
	t.Helper()
	for _, f := range findings {
		t.Error(f)
	}
}
