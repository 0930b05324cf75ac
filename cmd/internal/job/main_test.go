//go:build unix

package job

import (
	"fmt"
	"os"
	"testing"
)

// TestMain keeps the verdicts on codes in a folder of this run's own, so that a
// code is proved once for all tests and none is taken over from an earlier run.
func TestMain(m *testing.M) {
	const cache = "XDG_CACHE_HOME"
	if os.Getenv(childDir) != "" { // a child shares its parent's
		os.Exit(m.Run())
	}
	dir, err := os.MkdirTemp("", "floatmark-proofs")
	if err == nil {
		err = os.Setenv(cache, dir)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	_ = os.RemoveAll(dir) // a folder of verdicts left behind harms nobody
	os.Exit(code)
}
