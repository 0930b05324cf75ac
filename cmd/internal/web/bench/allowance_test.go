package bench

import (
	"context"
	"strings"
	"testing"

	"floatmark/cmd/internal/job"
)

// What retests tell of the finish is offered, put into the pattern by a press,
// planned with, kept by the pattern's form, and taken back by undo. 0.03 g of lead
// less pull 0.027 g: the rest is the water that it displaces.
func TestUseWhatRetestsTell(t *testing.T) {
	a := untested(t)
	if p := a.page("tank"); strings.Contains(p, "What the finish takes") {
		t.Error("offered without a retest")
	}
	for i, e := range []job.TankEntry{{Number: 1, Reading: "0.85", Stage: "fitted"}, {Number: 1, Reading: "0.82", Stage: "varnished"}, {Number: 2, Reading: "0.85", Stage: "fitted"}} {
		e.Key = string(rune('a' + i))
		got, err := a.shop.AddTankReadings(context.Background(), "26-11", []job.TankEntry{e})
		if err != nil || got.Readings[0].State == job.TankRefused {
			t.Fatalf("%+v %v", got, err)
		}
	}
	page := a.page("tank")
	if p := text(page); !strings.Contains(p, "What the finish takes") || !strings.Contains(p, "0.027 g ± 0.027 g") || !strings.Contains(p, "Use it for this pattern") {
		t.Fatalf("%s", p)
	}
	key := a.draft().Doc.Text("pattern/0/key")
	a.post(303, "tank/allowance", "pattern", key)
	d := a.draft()
	stands := d.Doc.Text("pattern/0/allowance")
	if !strings.HasPrefix(stands, "0.027 g ± 0.027 g") || d.Err != nil {
		t.Fatalf("the pattern has %q, %v", stands, d.Err)
	}
	if p := text(a.page("tank")); strings.Contains(p, "Use it for this pattern") || !strings.Contains(p, "The pattern has it.") {
		t.Errorf("%s", p)
	}
	if got := d.File.Batch.Patterns; len(got) == 0 {
		t.Error("the batch lost its patterns")
	}
	if p := a.page("patterns/0"); !strings.Contains(p, `<option value="`+stands+`" selected="selected">`) {
		t.Error("the pattern's form would lose the allowance")
	}
	a.post(303, "undo")
	if got := a.draft().Doc.Text("pattern/0/allowance"); got == stands {
		t.Errorf("undo leaves %q", got)
	}
	a.post(404, "tank/allowance", "pattern", "nobody's")
}
