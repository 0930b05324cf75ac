// Package golden compares what a test made with a text that was looked at and
// kept. It is for tests alone; the flag -update writes the texts anew. It touches
// no disc itself: a test hands it os.ReadFile and os.WriteFile.
package golden

import (
	"flag"
	"io/fs"
	"testing"
)

var update = flag.Bool("update", false, "write the goldens anew; then read the diff")

// Check compares got with testdata/name beside the test, whose folder testdata
// must be there.
func Check(t testing.TB, name, got string, read func(string) ([]byte, error), write func(string, []byte, fs.FileMode) error) {
	t.Helper()
	path := "testdata/" + name
	if *update {
		if err := write(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := read(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs from what was made; look at it, then run the test with -update", path)
	}
}
