package job

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
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

// What is looked at of a pattern is what is printed of its first float.
func TestMarkIsWhatIsPrinted(t *testing.T) {
	ctx := context.Background()
	shop, d := demoDraft(t)
	whole, err := shop.PlanDraft(ctx, d, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, fp := range whole.firsts() {
		v, err := shop.PlanMark(ctx, d, i, false)
		if err != nil || v.Err != nil {
			t.Fatal(err, v.Err)
		}
		if v.Number != fp.Float.Number || v.Placed != fp.sits() || strings.Contains(v.Placed, "code") || len(v.fp.Decal.Pieces) != len(fp.Decal.Pieces) || v.Sample || v.Open {
			t.Fatalf("float %d %s, of the batch %d %s", v.Number, v.Placed, fp.Float.Number, fp.sits())
		}
		for n := range fp.Decal.Pieces {
			if v.fp.Decal.Pieces[n].Drawing.Dump() != fp.Decal.Pieces[n].Drawing.Dump() {
				t.Errorf("float %d: piece %d differs", v.Number, n)
			}
		}
	}
}

// A float that was not tested, and a pattern without floats, show figures that
// stand in; a batch of which another pattern is half written shows what it can.
func TestMarkBeforeItIsWhole(t *testing.T) {
	ctx := context.Background()
	shop, d := demoDraft(t)
	var list changes
	for i := 21; i < 26; i++ { // the rush's
		list = append(list, struct {
			path string
			v    any
		}{fmt.Sprintf("float/%d/reading", i), nil})
	}
	d = changed(t, shop, d, append(list, struct {
		path string
		v    any
	}{"pattern/0/waterline_mm", "none yet"}))
	if d.Err == nil {
		t.Fatal("a waterline that is no number passes")
	}
	v, err := shop.PlanMark(ctx, d, 4, true)
	if err != nil || v.Err != nil || !v.Sample || v.Number != 22 {
		t.Fatalf("%+v, %v", v, err)
	}
	if v, err := shop.PlanMark(ctx, d, 3, true); err != nil || v.Sample || v.Number != 17 {
		t.Errorf("%+v, %v", v, err)
	}
	if _, err := shop.PlanMark(ctx, d, 0, true); fault.ClassOf(err) != fault.Input {
		t.Errorf("of the half-written pattern: %v", err)
	}
	if _, err := shop.PlanMark(ctx, d, 5, true); fault.ClassOf(err) != fault.NotFound {
		t.Errorf("of none: %v", err)
	}
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
		if _, err := v.Picture(0, 0, 720); err != nil {
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
		if _, err := v.Picture(turn, 0, 720); err != nil {
			b.Fatal(err)
		}
	}
}
