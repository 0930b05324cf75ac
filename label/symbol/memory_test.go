package symbol

import (
	"reflect"
	"strings"
	"sync"
	"testing"

	"floatmark/loading/fault"
)

// What is remembered is what would be made, from however many sides it is asked.
func TestMemory(t *testing.T) {
	texts := []string{"HTTPS://F.EXAMPLE/9KYA3C", "8G ADD 0.8G 9KYA3C"}
	for _, m := range []*Memory{nil, {}} {
		var wait sync.WaitGroup
		for range 4 {
			wait.Go(func() {
				for _, s := range texts {
					got, err := m.QR(s)
					want, _ := QR(s)
					if err != nil || !reflect.DeepEqual(got, want) {
						t.Errorf("%q: %v", s, err)
					}
				}
			})
		}
		wait.Wait()
		for range 2 { // an error is no code and is not remembered as one
			if got, err := m.QR(strings.Repeat("A", 5000)); fault.ClassOf(err) != fault.NoFit || got.N != 0 {
				t.Errorf("a long text: %v", err)
			}
		}
	}
}
