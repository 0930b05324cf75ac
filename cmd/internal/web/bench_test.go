package web

import (
	"testing"

	"floatmark/cmd/internal/job"
)

// One page in one's own choice, as the server makes it.
func BenchmarkPage(b *testing.B) {
	e := sample()
	for b.Loop() {
		if _, err := Page(e, View{Language: "de", Choice: job.Choice{Convention: "continental", Water: "sea"}}); err != nil {
			b.Fatal(err)
		}
	}
}
