package record

import (
	"fmt"
	"path/filepath"
	"sync"
	"testing"
)

// What is asked often is answered as what is asked once, by many at a time too, and
// tells of what was written since.
func TestAskedOften(t *testing.T) {
	s, err := Open(filepath.Join(t.TempDir(), "workshop.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for n := range 4 * often {
		if err := s.SetSetting(fmt.Sprint("setting ", n), fmt.Sprint(n)); err != nil {
			t.Fatal(err)
		}
		var wait sync.WaitGroup
		for range 2 * readers {
			wait.Go(func() {
				for i := range n + 2 {
					v, ok, err := s.Setting(fmt.Sprint("setting ", i))
					if err != nil || ok != (i <= n) || ok && v != fmt.Sprint(i) {
						t.Errorf("setting %d of %d: %q %v %v", i, n, v, ok, err)
					}
				}
			})
		}
		wait.Wait()
	}
	if len(s.asked.ready) == 0 {
		t.Error("no statement is kept")
	}
}
