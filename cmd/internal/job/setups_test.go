package job

import (
	"context"
	"math"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
	"floatmark/loading/fault"
)

// exchangeable is the demo with its first float fitted two ways.
func exchangeable(t *testing.T) string {
	t.Helper()
	src := string(batch.Demo())
	const begins = "\n[[pattern]]\n" // comments name it too
	from := strings.Index(src, begins) + 1
	to := from + strings.Index(src[from:], begins) + 1
	pattern := strings.Replace(src[from:to], `kind = "loaded"`, `kind = "exchangeable"`, 1)
	pattern = strings.Replace(pattern, `key = "sedge"`, `key = "swap"`, 1)
	if !strings.Contains(pattern, "exchangeable") || !strings.Contains(pattern, `"swap"`) {
		t.Fatal("the demo's first pattern is not the loaded sedge")
	}
	return src[:from] + pattern + src[from:] + `
[[float]]
number = 27
pattern = "swap"
rating = "8 g"
[[float.setup]]
name = "7 g base"
built_in = "7.2 g"
metal = "brass"
reading = "0.76 g"
[[float.setup]]
name = "5 g base"
built_in = "5.2 g"
metal = "brass"
reading = "2.95 g"
rating = "8 g"
`
}

// The body bears one named set-up; card and record hold all of them, and each
// adds up as printed.
func TestExchangeableFloat(t *testing.T) {
	shop := &Workshop{Dir: t.TempDir(), newKey: randomKey}
	plan, err := shop.PlanSource(context.Background(), "swap.toml", []byte(exchangeable(t)), nil)
	if err != nil {
		t.Fatal(err)
	}
	f := plan.Floats[len(plan.Floats)-1]
	if f.Float.Number != 27 || len(f.Setups) != 2 || len(f.Card.Setups) != 2 || len(f.Entry.Setups) != 2 {
		t.Fatalf("float %d: %d set-ups, card %v", f.Float.Number, len(f.Setups), f.Card.Setups)
	}
	for _, r := range f.Setups {
		if math.Abs(float64(r.BuiltIn+r.Add-r.Printed)) > 1e-9 {
			t.Errorf("%v + %v is not %v as printed", r.BuiltIn, r.Add, r.Printed)
		}
	}
	if f.Rating.BuiltIn != f.Setups[0].BuiltIn || f.Card.Kind != "exchangeable" {
		t.Errorf("the body bears %v, kind %q", f.Rating.BuiltIn, f.Card.Kind)
	}
	on := ""
	for _, l := range f.Decal.Printed {
		on += l.Text + "|"
	}
	if !strings.Contains(on, "with 7 g base") || strings.Contains(on, "5 g base") {
		t.Errorf("the body says %q", on)
	}
	if f.Card.Setups[1].Name != "5 g base" || !strings.HasPrefix(f.Card.Setups[1].BuiltIn, "5.2") {
		t.Errorf("card %+v", f.Card.Setups[1])
	}
}

func TestExchangeableNeedsItsSetups(t *testing.T) {
	shop := &Workshop{Dir: t.TempDir(), newKey: randomKey}
	src := exchangeable(t)
	for _, c := range []struct{ old, new, want string }{
		{"[[float.setup]]\nname = \"7 g base\"", "built_in = \"7.2 g\"\n[[float.setup]]\nname = \"7 g base\"", "figures of its own"},
		{`name = "5 g base"`, `name = "7 g base"`, "stands twice"},
		{`reading = "2.95 g"`, `reading = "2.95"`, "no unit"},
	} {
		_, err := shop.PlanSource(context.Background(), "swap.toml", []byte(strings.Replace(src, c.old, c.new, 1)), nil)
		if fault.ClassOf(err) != fault.Input || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.want, err)
		}
	}
	one := src[:strings.LastIndex(src, "[[float.setup]]")]
	if _, err := shop.PlanSource(context.Background(), "swap.toml", []byte(one), nil); err == nil || !strings.Contains(err.Error(), "two set-ups") {
		t.Errorf("one set-up: %v", err)
	}
}
