package job

import (
	"context"
	"testing"

	"floatmark/cmd/internal/batch"
)

func demoDraft(t testing.TB) (*Workshop, Draft) {
	t.Helper()
	shop := openIn(t, t.TempDir())
	shop.newKey = func() ([]byte, error) { return make([]byte, keyBytes), nil }
	if _, err := shop.OpenTankSource(context.Background(), "demo.toml", batch.Demo(), nil, ByBench); err != nil {
		t.Fatal(err)
	}
	d, err := shop.Draft("26-11")
	if err != nil || d.Err != nil {
		t.Fatal(err, d.Err)
	}
	return shop, d
}

func BenchmarkMarkPlan(b *testing.B) {
	shop, d := demoDraft(b)
	for b.Loop() {
		if _, err := shop.PlanMark(context.Background(), d, 0, true); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMarkPlanProved(b *testing.B) {
	shop, d := demoDraft(b)
	shop.Proofs = ""
	for b.Loop() {
		if _, err := shop.PlanMark(context.Background(), d, 0, false); err != nil {
			b.Fatal(err)
		}
	}
}

// A change of the mark: planned anew, its picture made ready and drawn.
func BenchmarkMarkChanged(b *testing.B) {
	shop, d := demoDraft(b)
	for b.Loop() {
		v, err := shop.PlanMark(context.Background(), d, 0, true)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := v.Picture(0, 960); err != nil {
			b.Fatal(err)
		}
	}
}

// The float turned under the finger by ten degrees.
func BenchmarkMarkTurned(b *testing.B) {
	shop, d := demoDraft(b)
	v, err := shop.PlanMark(context.Background(), d, 0, true)
	if err != nil {
		b.Fatal(err)
	}
	turn := 0.0
	for b.Loop() {
		turn += 10
		if _, err := v.Picture(turn, 960); err != nil {
			b.Fatal(err)
		}
	}
}
